"""`burnsim check FILE`: print what was understood of a design."""

import argparse


def add_to(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    check = commands.add_parser("check", help="read a design file and print what was understood")
    check.add_argument("file", metavar="FILE", help="design file (TOML)")
    check.set_defaults(run=_check)


def _check(options: argparse.Namespace) -> None:
    from burnsim.files import load
    from burnsim.sheet import understood

    print(understood(load(options.file)))
