"""Put small faults into a room of laws and see whether its tests notice.

    python tests/mutation/mutate.py ROOM [NAME ...] [--share X] [--seed N] [--also TEST ...]

ROOM is a file of burnsim/closures, NAME a function or constant in it (all, if none is named). Faults: an operator, a
comparison or two bounds exchanged, a guard or a minus left out, a number 10 % larger. The tests: those of
tests/closures/test_ROOM.py, the doctests of the room, any that --also names, and last the trials of test_validity.py.
Each fault that no test notices is shown: either a test is missing, or the fault changes nothing. The size of a guard
against what cannot be, as the 1e-6 of at_least(thickness, 1e-6), lives: it decides nothing within the range.
--share takes a random part of the faults. Works on a copy; exit 1 if any lived. About half a second a fault.
"""

import argparse
import ast
import copy
import importlib
import json
import os
import random
import shutil
import signal
import sys
import tempfile
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).parents[2]
LONGEST = 120
"""Processor seconds that the tests of a mutant may take [s]; one that takes longer has been noticed."""


SIZE = 1.1
"""What a number is multiplied by; nought becomes one, and a whole number one more."""

_OPERATORS: dict[type[ast.operator], tuple[type[ast.operator], ...]] = {
    ast.Add: (ast.Sub,),
    ast.Sub: (ast.Add,),
    ast.Mult: (ast.Div,),
    ast.Div: (ast.Mult,),
    ast.Pow: (ast.Mult,),
}
_COMPARISONS: dict[type[ast.cmpop], tuple[type[ast.cmpop], ...]] = {
    ast.Lt: (ast.GtE,),
    ast.LtE: (ast.Gt,),
    ast.Gt: (ast.LtE,),
    ast.GtE: (ast.Lt,),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
}
_EXTREMES = {"min": "max", "max": "min", "at_least": "at_most", "at_most": "at_least"}
EVERY_BOUND = "\nfrom burnsim.bounds import at_least, at_most, within\n"
"""Behind a mutant: one that takes another bound must not be noticed because the room does not know it."""


class Mutant(NamedTuple):
    """One fault."""

    line: int
    where: str
    """The function, or the name that the module gives a value."""
    before: str
    after: str
    text: str
    """Of the whole room."""


def _bounds(name: str, arguments: list[ast.expr]) -> Iterator[ast.expr]:
    """What may stand wrongly in the place of a call that keeps a number within bounds."""
    if name in _EXTREMES:
        yield ast.Call(ast.Name(_EXTREMES[name]), arguments, [])
        if len(arguments) == 2:  # without the guard
            yield from (one for one in arguments if not isinstance(one, ast.Constant))
    if name == "within":
        value, low, high = arguments
        yield from (value, _one_bound("at_least", value, low), _one_bound("at_most", value, high))


def _one_bound(name: str, value: ast.expr, bound: ast.expr) -> ast.expr:
    return ast.Call(ast.Name(name), [value, bound], [])


def _replacements(node: ast.AST) -> Iterator[ast.expr]:
    """What may stand wrongly in the place of `node`."""
    match node:
        case ast.BinOp(left, operator, right):
            for other in _OPERATORS.get(type(operator), ()):
                yield ast.BinOp(left, other(), right)
        case ast.UnaryOp(ast.USub(), operand) if not isinstance(operand, ast.Constant):
            yield operand
        case ast.Compare(left, [comparison], right):
            for change in _COMPARISONS.get(type(comparison), ()):
                yield ast.Compare(left, [change()], right)
        case ast.BoolOp(operator, values):
            yield ast.BoolOp(ast.Or() if isinstance(operator, ast.And) else ast.And(), values)
        case ast.Call(ast.Name(name), arguments, []):
            yield from _bounds(name, arguments)
        case ast.Constant(bool()):
            pass
        case ast.Constant(int() as value):
            yield ast.Constant(value + 1)
        case ast.Constant(float() as value):
            yield ast.Constant(value * SIZE if value else 1.0)


def _fields(node: ast.AST) -> Iterator[tuple[ast.AST, str, int | None, ast.AST]]:
    """Every place below `node` that may be changed: owner, field, index in it, what stands there."""
    for field, value in ast.iter_fields(node):
        if field in {"decorator_list", "annotation", "returns", "type_comment"}:
            continue  # ranges and types are notes, not physics
        for k, one in enumerate(value) if isinstance(value, list) else [(None, value)]:
            if isinstance(one, ast.AST) and not isinstance(one, ast.Import | ast.ImportFrom | ast.JoinedStr):
                yield node, field, k, one
                yield from _fields(one)


def _put(owner: ast.AST, field: str, k: int | None, node: ast.AST) -> None:
    if k is None:
        setattr(owner, field, node)
    else:
        getattr(owner, field)[k] = node


def _name(part: ast.stmt) -> str:
    match part:
        case ast.FunctionDef(name) | ast.ClassDef(name) | ast.Assign([ast.Name(name)]) | ast.AnnAssign(ast.Name(name)):
            return name
    return ""


def mutants(source: str, only: tuple[str, ...] = ()) -> Iterator[Mutant]:
    """Every fault of a room's text; of the functions and values named in `only`, if any are."""
    tree = ast.parse(source)
    for part in tree.body:
        where = _name(part)
        if only and where not in only:
            continue
        for owner, field, k, node in list(_fields(part)):
            for other in _replacements(node):
                new = ast.copy_location(copy.deepcopy(other), node)
                _put(owner, field, k, ast.fix_missing_locations(new))
                text = ast.unparse(tree)
                _put(owner, field, k, node)
                yield Mutant(getattr(node, "lineno", 0), where, ast.unparse(node), ast.unparse(new), text)


def run(place: Path, tests: list[str], loaded: Path | None = None) -> bool:
    """Whether the tests pass on the copy, in a process of its own; `loaded` gets the modules that they loaded."""
    child = os.fork()
    if child:
        return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 0
    signal.setitimer(signal.ITIMER_PROF, LONGEST)  # ends the process
    with Path(os.devnull).open("w") as nowhere:
        os.dup2(nowhere.fileno(), 1)
        os.dup2(nowhere.fileno(), 2)
    code: int = 1
    try:
        import pytest

        os.chdir(place)
        sys.path.insert(0, str(place))
        options = ["-p", "no:cacheprovider", "--assert=plain", "-o", "addopts=", "--doctest-modules", "-x", "-q"]
        code = pytest.main([*options, "--import-mode=importlib", *tests])
        if loaded is not None:
            loaded.write_text(json.dumps(sorted(sys.modules)), encoding="utf-8")
    finally:
        os._exit(code)


def warm(names: list[str], own: set[str]) -> None:
    """Load what the tests load from elsewhere, once for all mutants."""
    for name in names:
        if name.split(".")[0] not in own and name not in sys.modules:
            with suppress(Exception):
                importlib.import_module(name)


def survivors(room: str, only: tuple[str, ...], share: float, seed: int, also: list[str]) -> tuple[list[Mutant], int]:
    """The mutants that pass all tests, and how many there were."""
    source = (ROOT / "burnsim" / "closures" / f"{room}.py").read_text(encoding="utf-8")
    found = list(mutants(source, only))
    if share < 1.0:
        found = random.Random(seed).sample(found, max(1, round(share * len(found))))
    own = {"burnsim", "burners", "conftest", "tests", "validation_records"}
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        for name in ("burnsim", "tests"):
            shutil.copytree(ROOT / name, place / name, ignore=shutil.ignore_patterns("__pycache__"))
        shutil.copy(ROOT / "pyproject.toml", place)
        tests = [f"tests/closures/test_{room}.py", f"burnsim/closures/{room}.py", *also]
        trials = ["tests/closures/test_validity.py", "-k", f"any_finite_input and {room}"]
        names = place / "loaded.json"
        if not run(place, tests, names):
            sys.exit(f"the tests of {room} fail before anything is changed")
        warm(json.loads(names.read_text(encoding="utf-8")), own)
        if not (run(place, tests) and run(place, trials)):
            sys.exit(f"the tests of {room} fail where their libraries are loaded beforehand")
        text = place / "burnsim" / "closures" / f"{room}.py"
        alive = []
        for mutant in found:
            text.write_text(mutant.text + EVERY_BOUND, encoding="utf-8")
            if run(place, tests) and run(place, trials):
                alive.append(mutant)
                print(f"lived: {room}.py:{mutant.line} {mutant.where}: {mutant.before}  ->  {mutant.after}", flush=True)
    return alive, len(found)


def main() -> int:
    """Read the command line, try the faults, tell how many lived."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("room")
    parser.add_argument("names", nargs="*")
    parser.add_argument("--share", type=float, default=1.0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--also", nargs="*", default=[])
    asked = parser.parse_args()
    sys.dont_write_bytecode = True
    os.environ["MPLBACKEND"] = "Agg"
    alive, tried = survivors(asked.room, tuple(asked.names), asked.share, asked.seed, asked.also)
    print(f"{asked.room}: {tried} faults, {len(alive)} lived")
    return 1 if alive else 0


if __name__ == "__main__":
    sys.exit(main())
