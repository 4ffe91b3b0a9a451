"""The table of states: what is written from it, and how few places know more of a state than its row."""

import ast
from collections.abc import Iterator
from dataclasses import fields
from pathlib import Path

import pytest
from burners import burnt
from sources import FILES, parsed

import burnsim
from burnsim.model.balances.state import (
    NOWHERE,
    State,
    Tallies,
    at_the_match,
    booked,
    entries,
    flat,
    of_each,
    pack,
    place,
    state_size,
    tallies_size,
    tally_entries,
    unpack,
    unpack_tallies,
)
from burnsim.solve.results.ledger import EnergyLedger, MassLedger


@pytest.mark.parametrize("components", [1, 2, 3, 5])
def test_a_flat_vector_and_its_records_are_the_same_numbers(components: int) -> None:
    size, whole = state_size(components), state_size(components) + tallies_size(components)
    numbers = [float(k) for k in range(whole)]
    state, tallies = unpack(numbers, components), unpack_tallies(numbers[size:], components)
    assert pack(state) == numbers[:size]
    assert flat(state, tallies) == numbers
    assert at_the_match(state, components) == numbers[:size] + [0.0] * (whole - size)
    for k, entry in enumerate(entries(components)):
        value = getattr(state, entry.name)
        place_in = k - place(entry.name, components)
        assert numbers[k] == (value[place_in] if isinstance(value, tuple) else value)


def test_every_state_lies_in_a_part_and_has_a_size() -> None:
    setup = burnsim.load(Path(burnsim.__file__).parents[1] / "examples" / "weekend_double_wall.toml")
    p = burnt(setup, 1e-2).parameters
    first = burnt(setup, 1e-2).state(0.0)[0]
    for entry in entries(p.components):
        assert entry.row.part != NOWHERE, entry.name
        assert entry.row.scale(first, p) > 0.0, entry.name
    for entry in tally_entries(p.components):
        assert entry.row.part == NOWHERE, entry.name
        assert entry.row.scale(first, p) == 0.0, entry.name


def test_every_joule_has_a_place_in_the_energy_ledger() -> None:
    """But for the pot's: what warms water and what warms metal stand apart there."""
    for kind in (State, Tallies):
        places = dict(booked(kind))
        for one in fields(kind):
            if one.metadata["row"].unit == "J" and one.name != "pot_heat":
                assert places[one.name] in EnergyLedger._fields
    assert set(of_each(Tallies)) <= set(MassLedger._fields)


def _makers() -> Iterator[tuple[str, str]]:
    """Each record that a function of the package makes, and the function with its file."""
    for file in FILES:
        for function in ast.walk(parsed(file)):
            if isinstance(function, ast.FunctionDef):
                for call in ast.walk(function):
                    if isinstance(call, ast.Call) and isinstance(call.func, ast.Name):
                        yield call.func.id, f"{file.stem}.{function.name}"


def test_a_new_state_is_asked_for_in_two_places_beside_its_row() -> None:
    """Its first value and its rate; with the row, and the law that reads it, four files at most."""
    made = set(_makers())
    assert {where for name, where in made if name == "State"} == {"derive.first_state", "flows.derivatives"}
    assert {where for name, where in made if name == "Tallies"} == {"flows.derivatives"}
