"""What all pictures share: new axes, lines and areas that can be told apart in black and white."""

import re
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from datetime import UTC, datetime
from functools import wraps
from importlib import import_module
from inspect import signature
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from burnsim.errors import InputError
from burnsim.plots.letters import FAMILY, known_to_matplotlib

if TYPE_CHECKING:
    from os import PathLike

    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

F = TypeVar("F", bound=Callable[..., Any])

INK, PALE, FAINT = "0.1", "0.45", "0.75"
BLUE, VERMILION, GREEN, ORANGE, SKY = "#005A9C", "#C04A00", "#009E73", "#E69F00", "#8ECDF2"
"""Colours that the colour-blind can tell apart: after M. Okabe, K. Ito 2008, Color Universal Design, with steps of
lightness between them, so that grey paper tells them apart too. Each comes with a line style or a hatching of its own.
Words are written in ink, pale, blue or vermilion: these stand out from white paper."""

SPIRIT_FILL, WATER_FILL, WICK_FILL, FLAME_FILL = "#cfe6f5", "#e4eef2", "#e6dcc8", "#fff3d6"
BAR: dict[str, Any] = {"edgecolor": INK, "linewidth": 0.8}  # the outline of a bar
MEASURED: dict[str, Any] = {
    "linestyle": "", "marker": "o", "markersize": 4.0, "markerfacecolor": "white", "markeredgecolor": VERMILION,
}  # fmt: skip
"""Readings of a bench."""
SEEN: dict[str, Any] = {
    "linestyle": "", "marker": "X", "markersize": 8.0, "markerfacecolor": VERMILION, "markeredgecolor": "white",
    "zorder": 5.0,
}  # fmt: skip
"""Milestones as a bench saw them."""
GROUND = {"boxstyle": "square,pad=0.12", "facecolor": "white", "edgecolor": "none"}  # under words that a line may pass


STYLE = {
    "font.family": [FAMILY, "DejaVu Sans"],
    "mathtext.fontset": "custom",
    "mathtext.rm": FAMILY,
    "axes.titlesize": "medium",
    "axes.unicode_minus": True,
    "hatch.linewidth": 0.6,
    "legend.frameon": False,
    "legend.fontsize": "small",
    "pdf.fonttype": 42,
}
"""Settings of matplotlib that all pictures share; letters go into PDF as TrueType, only those that are shown."""


@contextmanager
def in_style() -> Iterator[None]:
    """Draw in the house's style: `with in_style():` or, over a picture's function, `@in_style()`.

    The user's own settings hold again afterwards.

    Returns
    -------
    A context, which is a decorator too.
    """
    from matplotlib import rc_context

    known_to_matplotlib()
    with rc_context(STYLE):
        yield


def picture(function: F) -> F:
    """Make a function a picture's: it draws in the house's style, and refuses what lacks something that it draws.

    What is given is judged by what is missing, not by its class: anything that has what is drawn will do. A picture
    that is refused leaves no figure open.
    """

    @wraps(function)
    def drawn(*given: Any, **named: Any) -> Any:
        with in_style(), _closed_if_refused():
            try:
                return function(*given, **named)
            except AttributeError as error:
                arguments = signature(function).bind(*given, **named).arguments
                for name, value in arguments.items():
                    if _lacks(value, error):
                        problem = f"cannot be drawn{' on' if name == 'ax' else ''}: it has no {error.name!r}"
                        raise InputError(name, value, problem, f"give {_wanted(function, name)}") from error
                raise

    return drawn  # type: ignore[return-value]  # it has the type of the one that it wraps


@contextmanager
def _closed_if_refused() -> Iterator[None]:
    """Close the figures that were opened within, should an error end it."""
    before = _open_figures()
    try:
        yield
    except Exception:
        for number in _open_figures() - before:
            sys.modules["matplotlib.pyplot"].close(number)
        raise


def _open_figures() -> frozenset[int]:
    """Numbers of the figures that pyplot holds; none before anything has loaded it."""
    pyplot = sys.modules.get("matplotlib.pyplot")
    return frozenset() if pyplot is None else frozenset(pyplot.get_fignums())


def _lacks(value: object, error: AttributeError) -> bool:
    """Whether it was an argument, or one of those in it, that lacked an attribute."""
    return value is error.obj or (isinstance(value, Sequence) and any(one is error.obj for one in value))


def _wanted(function: Callable[..., Any], name: str) -> str:
    """What a picture takes as one of its arguments: axes, or what the function that its docstring names returns."""
    if name == "ax":
        return "axes, such as 'figure.subplots()' returns"
    told = rf"^ *(?:\w+, )*{name}(?:, \w+)* : (one )?of `([\w.]+)`"
    source = re.search(told, function.__doc__ or "", re.MULTILINE)
    kind = str(signature(function).parameters[name].annotation).removesuffix(" | None")
    return f"{'one of ' if source[1] else ''}what {source[2]!r} returns" if source else kind


def new_axes(ax: "Axes | None", width: float = 7.0, height: float = 4.4) -> "Axes":
    """The axes that were given, or new ones of a size [in], in the house's style."""
    if ax is None:
        from matplotlib import pyplot

        ax = pyplot.subplots(figsize=(width, height), layout="constrained")[1]
    dress(ax)
    return ax


def new_pair(ax: "Sequence[Axes] | None", width: float, height: float, *, sharex: bool = False) -> "tuple[Axes, Axes]":
    """The two axes that were given, or new ones, one above the other, on a figure of a size [in]."""
    if ax is None:
        from matplotlib import pyplot

        ax = pyplot.subplots(2, 1, figsize=(width, height), layout="constrained", sharex=sharex)[1]
    try:
        upper, lower = ax
    except (TypeError, ValueError):
        raise InputError("ax", ax, "is not two axes", "give two, such as 'figure.subplots(2)' returns") from None
    dress(upper)
    dress(lower)
    return upper, lower


def stacked(ax: "Axes | None", ratios: Sequence[float], width: float, height: float) -> "list[Axes]":
    """Panels one below the other with one axis along, from the top down.

    They share the place of the axes that were given, which become the first panel, or a new figure of a size [in].
    Ratios are heights of the panels, one against the other.
    """
    top = new_axes(ax, width, height)
    spec, figure = top.get_subplotspec(), top.figure
    places: Sequence[Any]
    if spec is not None:
        grid = spec.subgridspec(len(ratios), 1, height_ratios=ratios, hspace=0.08)
        places = [grid[k] for k in range(len(ratios))]
        top.set_subplotspec(places[0])
    else:
        whole = top.get_position()
        ends = [sum(ratios[:k]) / sum(ratios) for k in range(len(ratios) + 1)]
        places = [
            (whole.x0, whole.y1 - end * whole.height, whole.width, 0.94 * (end - start) * whole.height)
            for start, end in pairwise(ends)
        ]
        top.set_position(places[0])
    add = figure.add_subplot if spec is not None else figure.add_axes
    panels = [top, *(add(place, sharex=top) for place in places[1:])]
    for panel in panels[1:]:
        dress(panel)
    for panel in panels[:-1]:
        panel.tick_params(labelbottom=False)
    return panels


def dress(ax: "Axes") -> None:
    """Put axes into the house's style: its letters, and a frame at the left and below only.

    Figures of ticks that are made later, while saving, keep the letters that hold now.
    """
    from matplotlib import rcParams

    family = rcParams["font.family"]
    ax.tick_params(labelfontfamily=family)
    for words in (ax.xaxis.label, ax.yaxis.label):
        words.set_fontfamily(family)
    for side in ("top", "right"):
        ax.spines[side].set_visible(False)


def save(drawn: "Axes | Sequence[Axes] | Figure", path: "str | PathLike[str]", *, dpi: float = 150.0) -> None:
    """Save a picture: letters as TrueType in PDF and as words in SVG, with its title and the day in the file.

    Parameters
    ----------
    drawn : what a picture's function returned, or a figure
    path : file to write; its ending says which kind (png, pdf, svg, ...)
    dpi : dots per inch of a raster
    """
    first: Any = drawn[0] if isinstance(drawn, Sequence) else drawn
    figure = first.get_figure(root=True)
    titles = [figure.get_suptitle(), *(ax.get_title() for ax in figure.axes)]
    title = next((" ".join(text.split("\n")) for text in titles if text), "")
    now = datetime.now(UTC).replace(microsecond=0)
    known: dict[str, dict[str, Any]] = {
        ".pdf": {"Title": title, "Creator": "burnsim", "CreationDate": now},
        ".svg": {"Title": title, "Creator": "burnsim", "Date": now.isoformat()},
        ".png": {"Title": title, "Software": "burnsim", "Creation Time": now.isoformat()},
    }
    with in_style():
        figure.savefig(path, dpi=dpi, metadata=known.get(Path(path).suffix.lower()))


PICTURES = {
    "Setup": ("drawing.cross_section", "section"),
    "Burn": ("curves", "burn"),
    "Outcome": ("energy", "ledger"),
    "FillLimits": ("filling", "fill_levels"),
    "SpillMap": ("filling", "spill_map"),
    "Relief": ("designs.answers", "relief"),
    "SpillOdds": ("designs.answers", "spill_odds"),
    "PourCard": ("designs.answers", "pour_card"),
    "LeastCharge": ("designs.answers", "least_charge"),
    "WaterLimit": ("designs.answers", "water_limit"),
    "Primer": ("designs.answers", "primer"),
    "NextBurns": ("designs.answers", "next_burns"),
    "DesignComparison": ("designs.comparing", "compare"),
    "Levers": ("designs.levers", "levers"),
    "FuelComparison": ("spirits", "fuels"),
    "Distillation": ("spirits", "distillation"),
    "StartMap": ("starting", "start_map"),
    "Prediction": ("learning", "prediction"),
    "Sensitivity": ("learning", "sensitivity"),
    "Search": ("designs.searches", "search"),
    "Calibration": ("learning", "calibration"),
    "BenchResult": ("learning", "bench"),
}
"""Module and function, by the name of the result's class."""


def draw(result: object, ax: Any = None, units: str = "si") -> Any:
    """Draw a result.

    Parameters
    ----------
    result : of a burn or a study
    ax : axes to draw on, two of them for a picture with two panels; default none: new ones
    units : "si" or "us"

    Returns
    -------
    Axes, or a tuple of two
        That it was drawn on.
    """
    if type(result).__name__ not in PICTURES:
        raise InputError("result", result, "has no picture", "give a setup, or the result of a burn or a study")
    module, function = PICTURES[type(result).__name__]
    return getattr(import_module(f"burnsim.plots.{module}"), function)(result, ax, units=units)
