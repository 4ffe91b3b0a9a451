"""Records: built in order, compared by value, closed to new names, and able to travel between processes."""

import ast
import pickle
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from traceback import extract_tb
from typing import NamedTuple

import pytest
from sources import FILES, module_name, parsed

from burnsim.model.balances.spilling import Spill
from burnsim.records import by_slots, record

FEW = 4  # fields that may be given in order


@record
class Spot:
    x: float
    y: float


def test_a_record_is_its_values() -> None:
    assert Spot(1.0, 2.0) == Spot(1.0, 2.0) != Spot(1.0, 3.0)
    assert replace(Spot(1.0, 2.0), y=3.0) == Spot(1.0, 3.0)


def test_a_record_has_all_its_values_and_no_others() -> None:
    with pytest.raises(TypeError, match="missing 1 required"):
        Spot(1.0)  # type: ignore[call-arg]  # what is tried
    with pytest.raises(AttributeError, match="z"):
        Spot(1.0, 2.0).z = 3.0  # type: ignore[attr-defined]  # what is tried


def test_a_record_travels() -> None:
    spill = Spill(1.0, 2.0, 3.0)
    assert pickle.loads(pickle.dumps(spill)) == spill


class Pair(NamedTuple):
    low: float
    high: float


@by_slots
def reciprocal(x: float) -> Spot:
    """A spot at the reciprocals, seen through a pair."""
    pair = Pair(low=1.0 / x, high=2.0 / x)
    return Spot(
        x=pair.low,
        y=1.0
        / (x - 1.0),
    )  # fmt: skip


def test_a_function_that_fills_slots_makes_the_same_record() -> None:
    assert reciprocal(2.0) == Spot(0.5, 1.0)
    assert reciprocal.__doc__ == "A spot at the reciprocals, seen through a pair."
    assert reciprocal.__module__ == __name__


def test_a_function_that_fills_slots_keeps_its_lines() -> None:
    lines = Path(__file__).read_text(encoding="utf-8").splitlines()
    with pytest.raises(ZeroDivisionError) as first:
        reciprocal(0.0)
    assert "1.0 / x" in lines[(extract_tb(first.value.__traceback__)[-1].lineno or 0) - 1]
    with pytest.raises(ZeroDivisionError) as second:
        reciprocal(1.0)
    assert "y=1.0" in lines[(extract_tb(second.value.__traceback__)[-1].lineno or 0) - 1]


def test_slots_are_filled_in_order_and_all() -> None:
    assert _swapped() == Spot(2.0, 1.0)
    for function, name in ((_swapped, "Spot"), (_skipped, "Pair")):
        with pytest.raises(TypeError, match=f"{name} is made with"):
            by_slots(function)


def _swapped() -> Spot:
    return Spot(y=1.0, x=2.0)


def _skipped() -> Pair:
    return Pair(high=2.0)  # type: ignore[call-arg]  # what is tried


def test_only_plain_functions_fill_slots() -> None:
    with pytest.raises(TypeError, match="plain function"):
        by_slots(len)


def _is_record(found: ast.ClassDef) -> bool:
    worn = {ast.unparse(one).partition("(")[0] for one in found.decorator_list + found.bases}
    return bool(worn & {"record", "dataclass", "NamedTuple"})


def _in_order() -> Iterator[str]:
    """Calls that make a record of more than a few fields with values in order, where the physics and its solver are."""
    fields = {
        (module_name(file), found.name): sum(isinstance(line, ast.AnnAssign) for line in found.body)
        for file in FILES
        for found in parsed(file).body
        if isinstance(found, ast.ClassDef) and _is_record(found)
    }
    for file in FILES:
        if not {"model", "solve"} & set(file.parts) or "description" in file.parts:
            continue
        tree = parsed(file)
        names = {found.name: (module_name(file), found.name) for found in tree.body if isinstance(found, ast.ClassDef)}
        for line in ast.walk(tree):
            if isinstance(line, ast.ImportFrom):
                names.update({one.asname or one.name: (line.module or "", one.name) for one in line.names})
        for call in ast.walk(tree):
            if isinstance(call, ast.Call) and isinstance(call.func, ast.Name) and call.args:
                known = fields.get(names.get(call.func.id, ("", "")), 0)
                if known > FEW and not isinstance(call.args[0], ast.Starred):
                    yield f"{file.name}, line {call.lineno}: {call.func.id} of {known} fields"


def test_records_of_many_fields_are_made_with_keywords() -> None:
    assert list(_in_order()) == []
