"""The guide's table of all that burnsim can do: each command, public function and picture stands in it."""

import argparse
import inspect
import re
from pathlib import Path
from types import ModuleType

import burnsim
from burnsim import cli

GUIDE = (Path(__file__).parents[1] / "examples" / "README.md").read_text(encoding="utf-8")
TABLE = GUIDE.partition("\n## What burnsim can do\n")[2].partition("\n## ")[0]
ROWS = [[cell.strip() for cell in line.strip("|").split("|")] for line in TABLE.splitlines() if line.startswith("| ")][
    2:
]


def named(*columns: int) -> list[str]:
    """What stands between backticks in some columns."""
    return [name for row in ROWS for k in columns for name in re.findall(r"`([^`]+)`", row[k])]


def thing(path: str) -> object:
    found: object = burnsim
    for name in path.split("."):
        found = getattr(found, name)
    return found


def test_every_command_stands_in_it() -> None:
    [choices] = [one.choices for one in cli.build_parser()._actions if isinstance(one, argparse._SubParsersAction)]
    assert {words.split()[0] for words in named(1)} == set(choices)
    for words in named(1):
        command, *options = words.split()
        known = {option for action in choices[command]._actions for option in action.option_strings}
        assert set(options) <= known, words


def test_every_function_and_picture_stands_in_it() -> None:
    spaces = [one for one in (getattr(burnsim, name) for name in burnsim.__all__) if isinstance(one, ModuleType)]
    public = [getattr(burnsim, name) for name in burnsim.__all__]
    public += [getattr(one, name) for one in spaces if one is not burnsim.closures for name in one.__all__]
    functions = {one for one in public if inspect.isfunction(one)}
    assert {thing(name) for name in named(2, 3)} == functions
    assert all(name.startswith("plots.") for name in named(3))


def test_every_page_is_there() -> None:
    titles = [line[3:].lower() for line in GUIDE.splitlines() if line[:3] == "## "]
    headings = {re.sub(r"[^\w -]", "", title).replace(" ", "-") for title in titles}
    assert set(re.findall(r"\(#([^)]+)\)", GUIDE)) <= headings
