"""The open water of a pot in a wind."""

from pathlib import Path

import burners
import pytest

import burnsim
from burnsim.closures.radiation import linear_coefficient
from burnsim.model.balances.pot.flows import surface_evaporation
from burnsim.model.description.vary import vary
from burnsim.model.parameters.derive import derive
from burnsim.model.parameters.pot import heat_by_vapour
from burnsim.model.parameters.record import Parameters
from burnsim.substances import air

OPEN = vary(burnsim.load(Path(__file__).parents[2] / "examples" / "weekend_double_wall.toml"), {"pot.lid": False})
WARM = 350.0


def parameters(**changes: object) -> Parameters:
    return derive(vary(OPEN, {name.replace("__", "."): value for name, value in changes.items()}))


def test_a_wind_carries_vapour_off_open_water_and_none_from_under_a_lid() -> None:
    given = [surface_evaporation(WARM, parameters(site__wind=wind)) for wind in (0.0, 0.5, 1.0, 2.0, 5.0)]
    assert given == sorted(given)
    assert 1.05 < given[3] / given[0] < 1.5  # half-way down in a pot of 14 cm
    full = [surface_evaporation(WARM, parameters(site__wind=wind, pot__height="41 mm")) for wind in (0.0, 2.0)]
    assert 1.3 < full[1] / full[0] < 2.5
    assert surface_evaporation(WARM, parameters(site__wind=5.0, pot__lid=True)) == 0.0


def test_still_air_is_as_before() -> None:
    p = parameters()
    assert p.pot.wind_transfer == 0.0


def test_water_deep_in_its_pot_is_sheltered() -> None:
    """Full to the brim it takes the whole wind, and deep down in a narrow pot next to none."""
    full, half, deep = (
        parameters(site__wind=2.0, pot__height=height).pot.wind_transfer for height in ("41 mm", "80 mm", "30 cm")
    )
    assert full > half > deep
    assert deep < 0.05 * full


def test_a_screen_that_tops_the_pot_keeps_its_water_still() -> None:
    bare, behind = (
        parameters(site__wind=2.0, screen=screen).pot.wind_transfer
        for screen in (None, {"height": "18 cm", "clearance": "15 mm", "open_share": "0 %"})
    )
    assert behind < 0.1 * bare


def test_heat_and_vapour_leave_open_water_by_one_film() -> None:
    """The psychrometer's ratio h/(k rho c) of water and air, 0.85 to 0.95 (handbooks, from memory)."""
    density, heat = air.density(310.0, 101325.0), air.heat_capacity(310.0)
    assert 0.85 < heat_by_vapour(310.0, 101325.0) / (density * heat) < 0.95
    calm, windy = (parameters(site__wind=wind, pot__height="41 mm").pot for wind in (0.0, 8.0))
    added = heat_by_vapour(0.5 * (350.0 + 293.15), 101325.0) * windy.wind_transfer
    still, stirred = (pot.lid_loss - linear_coefficient(0.95, 350.0, 293.15) for pot in (calm, windy))
    assert stirred**3 - still**3 == pytest.approx(added**3, rel=1e-6)


def test_an_open_pot_boils_later_in_a_wind_that_spares_the_flames() -> None:
    """Behind a screen up to the pot's bottom alone the wind meets the water, not the flames."""
    screen = {"height": "48 mm", "clearance": "25 mm", "open_share": "10 %"}
    calm, windy = (burners.burnt(vary(OPEN, {"screen": screen, "site.wind": wind})) for wind in (0.0, 1.0))
    assert max(abs(windy.mass.residual), abs(windy.energy.residual)) < 1e-6
    assert calm.boil.time is None or windy.boil.time is None or windy.boil.time > calm.boil.time
    assert windy.energy.steam > 0.0
