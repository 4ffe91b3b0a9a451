"""What the subcommands share: how one is declared, its bar, its picture, and how it ends."""

import argparse
import contextlib
import json
import os
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from burnsim.cli.cautions import print_cautions
from burnsim.cli.output import PAGE_SUFFIXES, PICTURE_SUFFIXES, say
from burnsim.errors import InputError
from burnsim.io.text_file import output

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from burnsim.answers import Drawn, Told
    from burnsim.model.description.setup import Setup

Commands = argparse._SubParsersAction


def add_command(
    commands: "Commands[argparse.ArgumentParser]",
    run: Callable[[argparse.Namespace], None],
    text: str,
    file: str | None = "design file (TOML)",
) -> argparse.ArgumentParser:
    """Add a subcommand and give back its parser.

    Its name is that of `run` without its underscore. The text is its help in paragraphs: what the list of commands says
    of it, what it does, and the rest with its examples. `file` is what its one file is; None where its files are
    declared apart.
    """
    words, description, rest = text.split("\n\n", 2)
    parser = commands.add_parser(
        run.__name__[1:],
        help=words,
        description=description,
        epilog=rest,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    if file is not None:
        parser.add_argument("file", metavar="FILE", help=file)
    parser.set_defaults(run=run)
    return parser


def add_output(
    parser: argparse.ArgumentParser,
    *names: str,
    suffixes: tuple[str, ...] = (),
    words: str,
    metavar: str = "FILE",
    required: bool = False,
) -> None:
    """Add an option that names a file to write, which ends in one of the suffixes if there are any ("": in none).

    The command refuses one that could not be written, or that it reads, before it does anything else.
    """
    option = parser.add_argument(*names, metavar=metavar, required=required, help=words)
    parser.set_defaults(outputs={**(parser.get_default("outputs") or {}), option.dest: suffixes})


def add_page(
    parser: argparse.ArgumentParser, words: str, suffixes: tuple[str, ...] = PAGE_SUFFIXES, *, required: bool = True
) -> None:
    """Add `--output` and the size of the paper, for a command that writes a page."""
    add_output(parser, "-o", "--output", suffixes=suffixes, words=words, metavar="OUT", required=required)
    parser.add_argument("--paper", choices=("a4", "letter"), default="a4", help="size of the pages of a PDF")


def add_answers(parser: argparse.ArgumentParser, words: str, picture: str = "", units: str = "") -> None:
    """Add `--json`, which replaces the words, `--plot` where there is a picture, and `--units`."""
    parser.add_argument("--json", action="store_true", help=f"print one JSON object instead of {words}")
    if picture:
        add_output(parser, "--plot", suffixes=PICTURE_SUFFIXES, words=f"save {picture} (png, pdf, svg, ...)")
    add_units(parser, f"degC and ml, or degF and fl oz, {units or 'of text and picture'}; JSON is SI")


def add_draws(parser: argparse.ArgumentParser, default: int, words: str, name: str = "draws") -> None:
    """Add how many draws or burns, and `--seed`."""
    parser.add_argument("-n", f"--{name}", metavar="N", default=str(default), help=f"{words} (default {default})")
    parser.add_argument("--seed", metavar="N", default="0", help="seed of the draws (default 0)")


def add_force(parser: argparse.ArgumentParser) -> None:
    """Add `--force`, without which `refuse_without_force` refuses to write over a file."""
    parser.add_argument("--force", action="store_true", help="write over a file that is there")


def refuse_without_force(options: argparse.Namespace, path: str | Path) -> None:
    """Refuse to write over a file that is there unless the user said so."""
    if os.path.exists(path) and not options.force:
        raise InputError("--force", None, f"is needed to write over {path}", "choose another name, or add --force")


def add_units(parser: argparse.ArgumentParser, words: str = "degC and ml, or degF and fl oz") -> None:
    """Add `--units`, the one switch between SI and the units of the United States."""
    parser.add_argument("--units", choices=("si", "us"), default="si", help=words)


@contextlib.contextmanager
def bar(work: str) -> Iterator[None]:
    """Name on stderr the work that the block does and, if a terminal shows it, how many burns are done."""
    from burnsim.io.progress import reporter
    from burnsim.studies.counting import watched

    say(work)
    with watched(reporter(None, "burns", at_most=True)):
        yield


def save_picture(
    path: str | None, draw: "Callable[[Figure], object]", size: tuple[float, float] | None, option: str = "--plot"
) -> None:
    """Draw a picture of a size [in] without a screen, and save it whole or not at all; no path saves nothing.

    Without a size, the drawing sets it.
    """
    if path is None:
        return
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    from burnsim.plots.style import in_style, save

    with output(option, path) as place, in_style():
        figure = Figure(figsize=size, layout="constrained")
        FigureCanvasAgg(figure)
        draw(figure)
        save(figure, place)
    say(f"picture saved to {path}")


def save_plot(options: argparse.Namespace, found: "Drawn", size: tuple[float, float]) -> None:
    """Save what an answer draws of itself where `--plot` says, on a figure of a size [in]."""
    save_picture(options.plot, lambda figure: found.plot(ax=figure.subplots(), units=options.units), size)


def print_json(found: object) -> None:
    """Print plain values as one JSON object."""
    print(json.dumps(found, indent=2, allow_nan=False))


def tell(options: argparse.Namespace, found: "Told", *setups: "Setup") -> None:
    """Print an answer, in words with the cautions of what burnt, or as JSON."""
    if options.json:
        print_json(found.to_dict())
    else:
        tell_words(options, [found.summary(options.units)], *setups)


def tell_words(
    options: argparse.Namespace,
    texts: Sequence[str],
    *setups: "Setup",
    components: Mapping[str, None] | None = None,
) -> None:
    """Print texts, a blank line between them, and below them whence the factors are, and the cautions for what burnt.

    Headings are bold where the terminal shows it. The components are those of all spirits, by default of the setups.
    """
    from burnsim.cli.colour import painted, with_headings

    learnt = [text] if (text := getattr(options, "learnt", "")) else []
    print(with_headings("\n\n".join([*texts, *learnt]), sys.stdout))
    print_cautions(setups, components, painted("Cautions", "bold", sys.stdout))
