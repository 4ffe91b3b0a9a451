"""The subcommands of `burnsim`, those that belong together in one file.

Each module has texts of help and `add_to(commands)`, which declares them by `add_command` of `burnsim.cli.command`;
what all of them share is there. Modules load what they need inside their functions, so that `burnsim --help` is quick.
"""

from argparse import ArgumentParser, _SubParsersAction
from importlib import import_module

MODULES = (
    "commands.designs", "commands.burn", "commands.papers", "commands.compare", "commands.levers", "commands.predict",
    "commands.sweep", "commands.bench", "commands.calibrate", "commands.search", "commands.fill", "commands.pour",
    "commands.fuels", "commands.start", "cautions", "completion",
)  # fmt: skip
"""In the order of `burnsim --help`; those that study nothing have no design and stand beside this folder."""


def add_all(commands: "_SubParsersAction[ArgumentParser]") -> None:
    """Add every subcommand."""
    for name in MODULES:
        import_module(f"burnsim.cli.{name}").add_to(commands)
