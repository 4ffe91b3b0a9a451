"""Cells of a map of designs: where each stands, what it shows, and why it does not work."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from burnsim.plots.style import INK, PALE
from burnsim.solve.results.verdicts import CODES
from burnsim.studies.sweep.columns import FAILED, IMPOSSIBLE
from burnsim.studies.sweep.ranking import UNFIT, has_verdict

if TYPE_CHECKING:
    import xarray
    from matplotlib.axes import Axes
    from matplotlib.patches import Patch

BAD = {
    IMPOSSIBLE: ("cannot be built", "xxx"),
    FAILED: ("run failed", "+++"),
    "spills": ("spills", "\\\\\\"),
    "quenched": ("goes out", "///"),
    "never lit": ("does not light", "|||"),
    "never blooms": ("jets never light", "---"),
    "pressure": ("pressure above the limit", "oo"),
    "light-back": ("may light back", "**"),
    "rim melts": ("its rim melts", "\\\\//"),
    "pot melts": ("the pot melts", "||--"),
}
"""Statuses and verdicts with which a design does not work, with words and hatching; a design shows the first it has."""
MISSING = ("did not happen", "...")
GREY = "0.93"
assert set(BAD) == {IMPOSSIBLE, FAILED, *UNFIT}


class Side(NamedTuple):
    """An axis of a map: where its values stand, its words if it has no numbers, its label, and whether it counts."""

    places: NDArray[np.float64]
    words: list[str] | None
    label: str
    whole: bool

    @property
    def edges(self) -> NDArray[np.float64]:
        """Ends of the cells: half-way between neighbours."""
        places = self.places
        if len(places) == 1:
            half = 0.5 if self.words is not None or self.whole else max(0.05 * abs(float(places[0])), 1e-9)
            return np.array([places[0] - half, places[0] + half])
        middle = 0.5 * (places[1:] + places[:-1])
        return np.concatenate([[2.0 * places[0] - middle[0]], middle, [2.0 * places[-1] - middle[-1]]])


def reasons(
    dataset: "xarray.Dataset", up: str, along: str, codes: tuple[str, ...]
) -> Iterator[tuple[str, str, NDArray[np.bool_]]]:
    """What of some verdicts and statuses does not work over two fields, the only ones of a dataset.

    Words, hatching and which designs; each shows under the first that it has.
    """
    taken = np.zeros((dataset.sizes[up], dataset.sizes[along]), dtype=np.bool_)
    for code in sorted(codes, key=lambda code: list(BAD).index(code) if code in BAD else len(BAD)):
        words, hatch = BAD.get(code, (code, "..."))
        came = has_verdict(dataset, code) if code in CODES else dataset["status"] == code
        mask = came.transpose(up, along).values & ~taken
        taken |= mask
        if mask.any():
            yield words, hatch, mask


def hatched(ax: "Axes", across: Side, up: Side, mask: NDArray[np.bool_], words: str, hatch: str) -> "Patch":
    """Hatch the cells of a mask, shape (up, across), by what they have in common; returns what a legend needs."""
    from matplotlib.collections import PolyCollection
    from matplotlib.patches import Patch

    x, y = across.edges, up.edges
    cells = [
        [(x[j], y[i]), (x[j + 1], y[i]), (x[j + 1], y[i + 1]), (x[j], y[i + 1])] for i, j in np.argwhere(mask).tolist()
    ]
    look: dict[str, Any] = {"facecolor": GREY, "edgecolor": PALE, "hatch": hatch}
    ax.add_collection(PolyCollection(cells, linewidth=0.0, label=f"_{words}", zorder=2.0, **look))
    _outline(ax, x, y, mask)
    return Patch(label=words, **look)


def _outline(ax: "Axes", x: NDArray[np.float64], y: NDArray[np.float64], mask: NDArray[np.bool_]) -> None:
    """A line round each region of a mask."""
    from matplotlib.collections import LineCollection

    framed = np.pad(mask, 1)
    upright = np.argwhere(framed[1:-1, 1:] != framed[1:-1, :-1]).tolist()
    level = np.argwhere(framed[1:, 1:-1] != framed[:-1, 1:-1]).tolist()
    lines = [[(x[j], y[i]), (x[j], y[i + 1])] for i, j in upright]
    lines += [[(x[j], y[i]), (x[j + 1], y[i])] for i, j in level]
    ax.add_collection(LineCollection(lines, colors=INK, linewidths=0.8, label="_outline", zorder=2.1))
