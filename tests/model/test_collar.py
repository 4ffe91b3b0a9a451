"""The collar, the ring of wall that side jets heat, and its two strips against the same wall solved point by point."""

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.optimize import fsolve

import burnsim
from burnsim.constants import DATUM
from burnsim.model.balances.chambers import liquid
from burnsim.model.balances.flows import Flows, balances, derivatives
from burnsim.model.balances.gas import superheating
from burnsim.model.balances.state import Regime, State, unpack
from burnsim.model.balances.walls import waterline
from burnsim.model.description.setup import Setup
from burnsim.model.parameters.derive import derive, first_state
from burnsim.model.parameters.flames import collar_below
from burnsim.model.parameters.record import Parameters

WEEKEND = Path(__file__).parents[2] / "examples" / "weekend_double_wall.toml"
FOOT, LICKED = 38.0, 6.0  # heat to the wall below the mouths, and above them [W]
SINK = 0.05  # of the rim, to the room [W/K]
LIT = Regime(0.0, 1.0, 0.0)
Row = NDArray[np.float64]


def chamber(metal: str, height: float) -> tuple[Setup, Parameters, State]:
    """A chamber with side jets at a height [m], its liquid at the boil, whose rim loses heat by one conductance."""
    weekend = burnsim.vary(WEEKEND, {"burner.jets.height": height, "charge.volume": 25e-6})
    burner = replace(
        weekend.burner, kind="sealed chamber", gallery_gap=None, feed_slots=None, metal=metal, wall_thickness=0.25e-3
    )
    setup = replace(weekend, burner=burner)
    p = derive(setup)
    p = replace(
        p,
        collar=replace(p.collar, loss=0.0, emission=0.0),
        walls=replace(
            p.walls, rim_loss=SINK, rim_emission=0.0, underside=0.0, plate=0.0, contact=0.0, pot_emission=0.0
        ),
    )
    first = first_state(setup, p)
    heat = first.gallery_heat
    for _ in range(12):
        body = liquid(first.gallery, heat, 0.0, p.gallery, p)
        heat -= (body.superheat + 0.5) * body.capacity
    return setup, p, replace(first, gallery_heat=heat, air=0.0)


def lumped(p: Parameters, state: State) -> tuple[Flows, State]:
    """The instant at which collar, rim and wall are steady under the flames' heat."""
    sizes = np.array([p.collar.capacity, p.walls.rim_capacity, p.walls.dry_capacity])

    def at(kelvins: Row) -> tuple[Flows, State, Row]:
        heats = sizes * (kelvins - DATUM)
        there = replace(state, collar_heat=heats[0], rim_heat=heats[1], wall_heat=heats[2])
        flows = balances(there, LIT, p)
        fire = replace(
            flows.fire, jets_to_rim=FOOT + LICKED, to_collar=FOOT + 0.5 * LICKED, wick_to_rim=0.0, edge_to_rim=0.0
        )
        rates = unpack(derivatives(replace(flows, fire=fire), p), p.components)
        return flows, there, np.array([rates.collar_heat, rates.rim_heat, rates.wall_heat])

    found = fsolve(lambda kelvins: at(kelvins)[2], np.array([500.0, 480.0, 420.0]), xtol=1e-12)
    flows, there, left = at(found)
    assert np.abs(left).max() < 1e-6
    return flows, there


@pytest.mark.parametrize("height", [39e-3, 30e-3, 22e-3])
@pytest.mark.parametrize("metal", ["copper", "aluminium", "brass", "steel", "stainless steel"])
def test_a_wall_that_is_heated_below_its_mouths_and_cooled_by_vapour_is_as_hot_as_point_by_point(
    metal: str, height: float
) -> None:
    """Fourier's law along the wall, with the heat of flames spread over it and vapour that rises to the mouths.

    The foot of the flames is a triangle below the mouths, what they lick an even band above. All heat at
    one place makes that place hotter than heat that is spread, by 7 % in stainless steel.
    """
    setup, p, state = chamber(metal, height)
    flows, _ = lumped(p, state)
    body, gas = flows.gallery, flows.gas
    burner = setup.burner
    top, mouth = burner.height, burner.jets.height if burner.jets and burner.jets.height else 0.0
    low = mouth - 2.0 * (mouth - (top - collar_below(setup)))
    sheet = p.walls.conductance * p.walls.outer_perimeter  # [W m/K]
    film = p.jets.superheat_coefficient * p.jets.superheat_perimeter  # [W/m/K]
    stream = gas.through_jets * superheating(body, gas.jet_temperature) / (gas.jet_temperature - body.temperature)
    foot = body.temperature + flows.walls.outer_hotter

    cells = 800
    start = waterline(body, p.gallery)
    step = (top - start) / cells
    middle = start + step * (np.arange(cells) + 0.5)
    triangle = np.clip(1.0 - np.abs(middle - 0.5 * (low + mouth)) / (0.5 * (mouth - low)), 0.0, None)
    heat = FOOT * triangle / triangle.sum() + LICKED * (middle > mouth) / (middle > mouth).sum()
    share = 1.0 - np.exp(-film * step / stream)  # of the difference to the wall that vapour makes up in a cell

    def left(walls: Row) -> Row:
        """What each cell gains beyond what it passes on [W]."""
        gained, vapour = heat.copy(), body.temperature
        for k in np.flatnonzero(middle < mouth):
            gained[k] -= stream * share * (walls[k] - vapour)
            vapour += share * (walls[k] - vapour)
        along = sheet / step * np.diff(walls)
        gained[:-1] += along
        gained[1:] -= along
        gained[0] -= 2.0 * sheet / step * (walls[0] - foot)
        gained[-1] -= SINK * (walls[-1] - p.site.temperature)
        return gained

    still = left(np.zeros(cells))
    matrix = np.array([left(row) - still for row in np.eye(cells)]).T
    walls = np.linalg.solve(matrix, -still)
    arrives = 2.0 * sheet / step * (walls[0] - foot)
    collar = walls[np.argmin(np.abs(middle - (top - collar_below(setup))))]
    assert flows.walls.outer_foot - gas.from_feet == pytest.approx(arrives, rel=0.01)
    assert flows.rim_temperature - foot == pytest.approx(walls[-1] - foot, rel=0.015)
    assert flows.collar_temperature - foot == pytest.approx(collar - foot, rel=0.08)


@pytest.mark.parametrize("rest", ["full ring", "bumps"])
def test_the_collar_rises_with_the_mouths(rest: str) -> None:
    """However near a pot is: a burner with its jets set higher has its liquid farther from the flames."""
    heights = [30e-3 + 0.5e-3 * k for k in range(29)]
    setups = [burnsim.vary(WEEKEND, {"pot.rest": rest, "burner.jets.height": height}) for height in heights]
    below = [collar_below(setup) for setup in setups]
    assert all(a > b for a, b in pairwise(below))
    assert all(collar <= 45e-3 - 0.5 * height for collar, height in zip(below, heights, strict=True))
