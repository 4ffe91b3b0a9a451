"""The subcommands of `burnsim`, one a room.

Each room has `add_to(commands)`: it adds its parser, with `set_defaults(run=...)`, to the subparsers. Rooms load what
they need inside their functions, so that `burnsim --help` stays quick.
"""

from argparse import ArgumentParser, _SubParsersAction
from importlib import import_module

ROOMS = (
    "new",
    "check",
    "burn",
    "sheet",
    "template",
    "predict",
    "sweep",
    "bench",
    "calibrate",
    "search",
    "fill",
    "fuels",
    "start",
    "completion",
)
"""In the order of `burnsim --help`."""


def add_all(commands: "_SubParsersAction[ArgumentParser]") -> None:
    """Add every subcommand."""
    for room in ROOMS:
        import_module(f"burnsim.cli.commands.{room}").add_to(commands)
