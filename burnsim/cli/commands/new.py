"""`burnsim new FILE`: write a commented design file to edit."""

import argparse
from pathlib import Path

from burnsim.cli.command import Commands, add_command
from burnsim.cli.output import output, say
from burnsim.errors import InputError
from burnsim.io.designs import DESIGNS, design_text

HELP = """\
write a commented design file to edit

Write a design file that runs as it stands, with a remark beside every field.

examples:
  burnsim new my.toml                            a double wall, the pot on bumps of its rim
  burnsim new cup.toml --kind "open cup"
  burnsim new my.toml --force                    over a file that is there
"""


def add_to(commands: "Commands[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    new = add_command(commands, _new, HELP, "design file to write (TOML)")
    new.add_argument("--kind", choices=tuple(DESIGNS), default=next(iter(DESIGNS)), help="how the burner is built")
    new.add_argument("--force", action="store_true", help="write over a file that is there")


def _new(options: argparse.Namespace) -> None:
    target = Path(options.file)
    if target.exists() and not options.force:
        raise InputError("--force", None, f"is needed to write over {target}", "choose another name, or add --force")
    if not target.parent.is_dir():
        missing = f"cannot be written: there is no directory {target.parent}"
        raise InputError("file", options.file, missing, "make it first")
    with output("file", options.file) as place:
        Path(place).write_text(design_text(options.kind, target.stem.replace("_", " ")), encoding="utf-8")
    say(f"{options.kind} written to {target}; edit it, then: burnsim check {target}")
