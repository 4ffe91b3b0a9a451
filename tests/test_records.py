"""Records: built in order, compared by value, closed to new names, and able to travel between processes."""

import pickle
from dataclasses import replace

import pytest

from burnsim.model.balances.spilling import Spill
from burnsim.records import record


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
