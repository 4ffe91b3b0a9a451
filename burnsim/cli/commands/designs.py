"""`burnsim new FILE` and `burnsim check FILE`: write a commented design file to edit, and print what is understood."""

import argparse
import sys
from pathlib import Path

from burnsim.cli.command import Commands, add_command, add_force, add_units, print_json, refuse_without_force
from burnsim.cli.design import add_set, read_design
from burnsim.cli.output import say
from burnsim.errors import InputError
from burnsim.io.designs import DESIGNS, design_text
from burnsim.io.text_file import write_atomically

NEW = """\
write a commented design file to edit

Write a design file that runs as it stands, with a remark beside every field.

examples:
  burnsim new my.toml                            a double wall, the pot on bumps of its rim
  burnsim new cup.toml --kind "open cup"
  burnsim new my.toml --force                    over a file that is there
"""
CHECK = """\
read a design file and print what was understood

Read a design file without burning it, and print every field as it was understood.

examples:
  burnsim check my.toml                what was understood, and what follows from the drawing
  burnsim check my.toml --units us     the same in degF, fl oz and inches
  burnsim check my.toml --json         the design with every default, in SI, as one JSON object
"""


def add_to(commands: "Commands[argparse.ArgumentParser]") -> None:
    """Add the parsers of these commands."""
    new = add_command(commands, _new, NEW, "design file to write (TOML)")
    new.add_argument("--kind", choices=tuple(DESIGNS), default=next(iter(DESIGNS)), help="how the burner is built")
    add_force(new)
    check = add_command(commands, _check, CHECK)
    add_units(check)
    check.add_argument("--json", action="store_true", help="print one JSON object in SI instead")
    add_set(check)


def _new(options: argparse.Namespace) -> None:
    target = Path(options.file)
    refuse_without_force(options, target)
    if not target.parent.is_dir():
        missing = f"cannot be written: there is no directory {target.parent}"
        raise InputError("file", options.file, missing, "make it first")
    write_atomically(target, design_text(options.kind, target.stem.replace("_", " ")))
    say(f"{options.kind} written to {target}; edit it, then: burnsim check {target}")


def _check(options: argparse.Namespace) -> None:
    setup = read_design(options)
    if options.json:
        print_json(setup.to_dict())
        return
    from burnsim.cli.colour import with_headings

    print(with_headings(setup.summary(options.units), sys.stdout))
