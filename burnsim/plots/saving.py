"""A picture as a file, with its title and the day in it."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from burnsim.plots.style import in_style

if TYPE_CHECKING:
    from os import PathLike

    from matplotlib.axes import Axes
    from matplotlib.figure import Figure


def save(drawn: "Axes | Sequence[Axes] | Figure", path: "str | PathLike[str]", *, dpi: float = 150.0) -> None:
    """Save a picture: letters as TrueType in PDF and as words in SVG, with its title and the day in the file.

    Parameters
    ----------
    drawn : what a picture's function returned, or a figure
    path : file to write; its ending says which kind (png, pdf, svg, ...)
    dpi : dots per inch of a raster
    """
    from pathlib import Path

    first: Any = drawn[0] if isinstance(drawn, Sequence) else drawn
    figure = first.get_figure(root=True)
    titles = [figure.get_suptitle(), *(ax.get_title() for ax in figure.axes)]
    title = next((" ".join(text.split("\n")) for text in titles if text), "")
    with in_style():
        figure.savefig(path, dpi=dpi, metadata=_metadata(Path(path).suffix.lower(), title))


def _metadata(suffix: str, title: str) -> dict[str, Any] | None:
    """Title and day, as the kind of file has them."""
    from datetime import UTC, datetime

    now = datetime.now(UTC).replace(microsecond=0)
    known: dict[str, dict[str, Any]] = {
        ".pdf": {"Title": title, "Creator": "burnsim", "CreationDate": now},
        ".svg": {"Title": title, "Creator": "burnsim", "Date": now.isoformat()},
        ".png": {"Title": title, "Software": "burnsim", "Creation Time": now.isoformat()},
    }
    return known.get(suffix)
