"""No number moves silently: the figures of reference burns stand in a ledger, and every edition of it is declared."""

import pytest
from reference.ledger import CHANGES, declared, figures, moved, read, setups

import burnsim


@pytest.mark.parametrize("name", CHANGES)
def test_reference_burn(name: str) -> None:
    """A figure that had to move: see how to declare it in tests/reference/ledger.py."""
    assert moved(name, read()["burns"][name], figures(burnsim.burn(setups()[name]))) == []


def test_ledger_holds_every_design() -> None:
    assert set(read()["burns"]) == set(CHANGES)


def test_newest_edition_is_declared_with_a_reason() -> None:
    editions = declared()
    assert editions, "EDITIONS.md declares none"
    assert list(editions) == sorted(editions, reverse=True)
    assert editions[0] == read()["edition"]


def test_a_move_is_seen() -> None:
    kept = {"boil_s": 600.0, "spill_s": None, "power_W": 500.0}
    assert moved("x", kept, dict(kept)) == []
    assert moved("x", kept, {**kept, "boil_s": 607.0}) == ["x: boil_s was 600, is 607"]
    assert moved("x", kept, {**kept, "spill_s": 30.0}) == ["x: spill_s was None, is 30.0"]
    assert moved("x", kept, {**kept, "boil_s": None}) == ["x: boil_s was 600.0, is None"]
