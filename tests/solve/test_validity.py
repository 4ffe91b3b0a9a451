"""Notes on laws used outside their range."""

import sys
from pathlib import Path

import pytest

import burnsim
from burnsim.closures.flame import flame_width, roper_length
from burnsim.model.description.vary import vary
from burnsim.solve.results.validity import CAUSES, DOUBTFUL, rooms
from burnsim.units import plain

SETUP = burnsim.load(Path(__file__).parents[2] / "examples" / "weekend_double_wall.toml")


def notes() -> tuple[str, ...]:
    """Of a burn of 15 ml; its jets' gas is between 293 and 590 K."""
    return burnsim.burn(vary(SETUP, {"charge.volume": "15 ml"})).warnings


def narrow(monkeypatch: pytest.MonkeyPatch, high: float) -> None:
    for law in (roper_length, flame_width):
        monkeypatch.setitem(vars(law)["validity"], "T_fuel", (250.0, high))


def test_an_ordinary_burn_stays_inside_every_range() -> None:
    assert notes() == ()


def test_one_cause_gives_one_note_in_plain_words(monkeypatch: pytest.MonkeyPatch) -> None:
    narrow(monkeypatch, 330.0)
    (note,) = notes()
    assert note.startswith("The gas in the jets: ")
    assert "up to 56.9 degC" in plain(note)  # 330 K
    assert "the length of a jet's flame" in note
    assert "its width" in note
    assert "T_fuel" not in note


def test_a_law_may_be_left_on_both_sides(monkeypatch: pytest.MonkeyPatch) -> None:
    for law in (roper_length, flame_width):
        monkeypatch.setitem(vars(law)["validity"], "T_fuel", (353.15, 393.15))
    (note,) = notes()
    assert "the laws hold from 80 degC to 120 degC, so the length of a jet's flame" in plain(note)
    monkeypatch.setitem(vars(roper_length)["validity"], "T_fuel", (493.15, 900.0))
    monkeypatch.setitem(vars(flame_width)["validity"], "T_fuel", (493.15, 900.0))
    (note,) = notes()
    assert "the laws hold from 220 degC, so " in plain(note)


def test_what_is_barely_outside_is_left_out(monkeypatch: pytest.MonkeyPatch) -> None:
    narrow(monkeypatch, 330.0)
    assert notes()
    monkeypatch.setattr("burnsim.solve.results.validity.SLIGHT", 2.0)
    assert notes() == ()


def test_what_is_soon_over_is_left_out(monkeypatch: pytest.MonkeyPatch) -> None:
    narrow(monkeypatch, 330.0)
    monkeypatch.setattr("burnsim.solve.results.validity.BRIEF", 1e4)
    assert notes() == ()


def test_every_cause_names_a_law_and_an_argument_of_the_balances() -> None:
    laws = {
        name: vars(item)["validity"]
        for room in rooms()
        for name, item in vars(sys.modules[room]).items()
        if callable(item) and "validity" in getattr(item, "__dict__", {})
    }
    for law, argument in CAUSES:
        assert argument in laws[law]
    assert set(DOUBTFUL) <= set(laws)
