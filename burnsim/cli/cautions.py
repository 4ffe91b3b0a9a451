"""Cautions on paper and on a terminal, and `burnsim cautions`, which prints them all.

They go in full with every output that is kept (a file, a pipe). A terminal shows each of them in full once in its
session; afterwards one line points to them.
"""

import argparse
import os
import sys
from time import time
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from burnsim.model import Setup

POINTER = (
    "Cautions: as told before in this terminal; `burnsim cautions` tells them again. "
    "Treat a burner as lit until it is cold."
)
SESSION = 12 * 3600.0  # for so long a terminal is taken to be the same [s]


def add_to(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    parser = commands.add_parser(
        "cautions",
        help="print what to mind before lighting anything",
        description="Print all cautions, those of closed chambers, of glass and of methanol included.",
        epilog="examples:\n  burnsim cautions\n",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.set_defaults(run=_cautions)


def _cautions(options: argparse.Namespace) -> None:
    from burnsim.report.cautions import ALL_CAUTIONS

    for caution in ALL_CAUTIONS:
        print(f"- {caution}")


def print_cautions(setups: "Sequence[Setup]", components: "Iterable[str] | None", heading: str = "Cautions") -> None:
    """Print the cautions for setups and the components of what burns in them, by default theirs, below a blank line."""
    from burnsim.report.cautions import cautions

    needed = cautions(setups, components)
    if sys.stdout.isatty() and _known_here(needed):
        print("\n" + POINTER)
        return
    print("\n" + heading)
    for caution in needed:
        print(f"- {caution}")


def _known_here(needed: tuple[str, ...]) -> bool:
    """Whether this terminal has shown all these cautions; from now on it has. Where that cannot be kept, it has not."""
    from burnsim.io.cache import NoFolder, private_folder

    try:
        note = private_folder("terminals") / str(os.getsid(0))
        fresh = note.exists() and time() - note.stat().st_mtime < SESSION
        shown = set(note.read_text(encoding="utf-8").splitlines()) if fresh else set()
        note.write_text("\n".join(sorted(shown.union(needed))), encoding="utf-8")
    except (NoFolder, OSError, ValueError, AttributeError):  # no sessions on this system
        return False
    return shown.issuperset(needed)
