"""A command's picture: drawn without a screen, saved whole or not at all."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from burnsim.cli.output import output, say

if TYPE_CHECKING:
    import argparse

    from matplotlib.figure import Figure


def save_picture(option: str, path: str, size: tuple[float, float] | None, draw: "Callable[[Figure], object]") -> None:
    """Draw a picture and save it where an option says.

    Parameters
    ----------
    option, path : the option and the file that it names
    size : width and height [in]; None: as `draw` sets it
    draw : draws on the empty figure
    """
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    from burnsim.plots.saving import save
    from burnsim.plots.style import in_style

    with output(option, path) as place, in_style():
        figure = Figure(figsize=size, layout="constrained")
        FigureCanvasAgg(figure)
        draw(figure)
        save(figure, place)
    say(f"picture saved to {path}")


def add_units(parser: "argparse.ArgumentParser", what: str = "of the picture") -> None:
    """Add `--units`, the one switch between SI and the units of the United States.

    Parameters
    ----------
    parser : of the command
    what : it decides
    """
    words = f"units {what}: degC and ml, or degF and fl oz; JSON is SI"
    parser.add_argument("--units", choices=("si", "us"), default="si", help=words)
