"""The command `burnsim`: its parser, its subcommands, and what they share."""

from burnsim.cli.parser import build_parser as build_parser
from burnsim.cli.parser import main as main
