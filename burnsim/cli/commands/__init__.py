"""The subcommands of `burnsim`, one a file.

Each module has a text of help and `add_to(commands)`, which declares it by `add_command` of `burnsim.cli.command`; what
all of them share is there. Modules load what they need inside their functions, so that `burnsim --help` stays quick.
"""

from argparse import ArgumentParser, _SubParsersAction
from importlib import import_module

COMMANDS = (
    "new",
    "check",
    "burn",
    "sheet",
    "template",
    "plan",
    "compare",
    "levers",
    "predict",
    "sweep",
    "log",
    "bench",
    "calibrate",
    "search",
    "fill",
    "pour",
    "fuels",
    "start",
    "cautions",
    "completion",
)
"""In the order of `burnsim --help`."""

BESIDE = ("plan", "log", "cautions", "completion")
"""Commands that study nothing and have their modules beside this folder."""

ROOMS = dict.fromkeys(("compare", "levers"), "burnsim.cli.commands.designs")
"""Of commands whose modules stand in a folder of their own."""


def add_all(commands: "_SubParsersAction[ArgumentParser]") -> None:
    """Add every subcommand."""
    for name in COMMANDS:
        room = "burnsim.cli" if name in BESIDE else ROOMS.get(name, "burnsim.cli.commands")
        import_module(f"{room}.{name}").add_to(commands)
