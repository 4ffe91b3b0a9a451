"""Vapour of a covered well that condenses on a cold pot and drips back."""

from dataclasses import replace
from functools import cache
from itertools import pairwise
from math import log
from pathlib import Path
from typing import Any

import pytest
from burners import burnt
from scipy.optimize import brentq
from scipy.special import i1, k1
from well_gas import Well, solved

import burnsim
from burnsim.closures.convection import layer_transfer
from burnsim.model.balances.chambers import Liquid, liquid
from burnsim.model.balances.flows import Flows, balances, derivatives
from burnsim.model.balances.pot import reflux
from burnsim.model.balances.pot.reflux import Bottom, Condensing, condensing, lid_over, refluxed, stirring_buoyancy
from burnsim.model.balances.pressure import boil_rate
from burnsim.model.balances.state import Regime, State, place
from burnsim.model.description.setup import Setup
from burnsim.model.description.vary import vary
from burnsim.model.parameters.derive import derive, first_state
from burnsim.model.parameters.record import Parameters
from burnsim.substances.equilibrium import partial_pressures
from burnsim.substances.fuel import diffusivity, vapour_viscosity
from burnsim.substances.metals import metal_of

WEEKEND = Path(__file__).parents[2] / "examples" / "weekend_double_wall.toml"
LIT = Regime(0.0, 1.0, 0.0)
ATMOSPHERE = 101325.0


def design(**changes: Any) -> Setup:
    return vary(burnsim.load(WEEKEND), {name.replace("__", "."): value for name, value in changes.items()})


@cache
def parameters(fuel: str = "methanol") -> Parameters:
    return derive(design(charge__fuel=fuel))


def well_at(temperature: float, p: Parameters) -> Liquid:
    """The well's liquid, 9 mm deep, at a temperature [K]."""
    moles = (0.45,)
    heat = 0.0
    for _ in range(6):
        body = liquid(moles, heat, 0.0, p.well, p)
        heat += (temperature - body.temperature) * body.capacity
    return liquid(moles, heat, 0.0, p.well, p)


def condensing_on(well: Liquid, boiled: float, wall: float, rim: float, p: Parameters) -> Condensing:
    """What condenses on a bottom at one temperature over a rim at another [K]."""
    return condensing(boiled, lid_over(well, Bottom(1.0, wall, 0.0, rim), 0.0, p))


def share(temperature: float, p: Parameters) -> float:
    """Mole fraction of a pure spirit's vapour over it."""
    return sum(partial_pressures((1.0,), temperature, p.fuel)) / ATMOSPHERE


def flows_with(well: float, pot: float, setup: Setup, regime: Regime = LIT) -> tuple[Flows, Parameters, State]:
    """Flows with the liquids at one temperature and the pot at another [K]."""
    p = derive(setup)
    first = first_state(setup, p)
    body = liquid(first.well, 0.0, 0.0, p.well, p)
    gallery = liquid(first.gallery, 0.0, 0.0, p.gallery, p)
    state = replace(
        first,
        well_heat=(well - body.temperature) * body.capacity,
        gallery_heat=(well - gallery.temperature) * gallery.capacity,
        collar_heat=200.0 * p.collar.capacity,
        rim_heat=200.0 * p.walls.rim_capacity,
        pot_heat=(pot - 298.15) * (first.water * p.pot.water_heat + p.pot.metal),
    )
    return balances(state, regime, p), p, state


def test_still_gas_without_a_gap_carries_stefan_flow(monkeypatch: pytest.MonkeyPatch) -> None:
    """R. B. Bird, W. E. Stewart, E. N. Lightfoot, Transport Phenomena, 18.2: N = cD/L ln((1 - y_2)/(1 - y_1))."""
    monkeypatch.setattr(reflux, "layer_transfer", lambda rayleigh, schmidt: 1.0)
    p = parameters()
    p = replace(p, vent=replace(p.vent, mouth=0.0))
    well = well_at(330.0, p)
    depth = 45e-3 - well.level + 1.5e-3
    by_hand = ATMOSPHERE / (8.314 * 319.0) * diffusivity(319.0, ATMOSPHERE, p.fuel) * p.well.area / depth
    by_hand *= log((1.0 - share(308.0, p)) / (1.0 - share(330.0, p)))
    assert condensing_on(well, 0.0, 308.0, 500.0, p).condensed == pytest.approx(by_hand, rel=1e-3)
    # vapour pressures of 27.6 and 73 kPa and 0.16 cm2/s at 25 degC, from memory
    published = 38.2 * 1.80e-5 * 2.17e-3 / 37.6e-3 * log((1.0 - 27.6 / 101.3) / (1.0 - 73.0 / 101.3))
    assert by_hand == pytest.approx(published, rel=0.08)


def test_stirred_gas_carries_what_globe_and_dropkin_measured() -> None:
    """By hand for methanol of 330 K under a pot of 308 K and a rim of 500 K: Ra 4e5, Sh 5."""
    p = parameters()
    p = replace(p, vent=replace(p.vent, mouth=0.0))
    well = well_at(330.0, p)
    at_well, at_pot = 0.732, 0.274
    below, above = (29.0 + 3.0 * at_well) / 330.0, (29.0 + 3.0 * at_pot) / 308.0
    difference = 2.0 * (above - below) / (above + below) + 0.5 * (500.0 - 330.0) / 415.0
    assert stirring_buoyancy(well, at_well, at_pot, 308.0, 500.0) == pytest.approx(difference, rel=0.05)
    depth = 46.5e-3 - well.level
    rayleigh = 9.81 * difference * depth**3 / (1.35e-5 * 1.8e-5)
    by_hand = 0.069 * rayleigh ** (1.0 / 3.0) * 0.75**0.074
    still = 101325.0 / (8.314 * 319.0) * 1.8e-5 * p.well.area / depth * log((1.0 - at_pot) / (1.0 - at_well))
    assert condensing_on(well, 0.0, 308.0, 500.0, p).condensed == pytest.approx(still * by_hand, rel=0.1)


@pytest.mark.parametrize("fuel", ["ethanol", "2-propanol"])
def test_rich_vapour_of_heavy_spirits_lies_still_but_for_a_hot_wall(fuel: str) -> None:
    """Ideal gas: 1.46 and 1.69 kg/m3 over them at 70 degC, 1.24 and 1.26 at a pot of 30 degC."""
    p = parameters(fuel)
    well = well_at(343.15, p)
    at_well, at_pot = share(343.15, p), share(303.15, p)
    lying = stirring_buoyancy(well, at_well, at_pot, 303.15, 343.15)
    assert lying < 0.003
    assert stirring_buoyancy(well, at_well, at_pot, 303.15, 600.0) > 3.0 * lying


@pytest.mark.parametrize("pot", [285.0, 308.0, 325.0])
@pytest.mark.parametrize("boiled", [0.0, 3e-5, 2e-4])
def test_the_ways_of_the_vapour_close(pot: float, boiled: float, monkeypatch: pytest.MonkeyPatch) -> None:
    """The gas's share of air, by search: what boils and evaporates condenses or leaves by the gap."""
    monkeypatch.setattr(reflux, "layer_transfer", lambda rayleigh, schmidt: 4.0)
    p = parameters()
    well = well_at(330.0, p)
    film = 0.5 * (330.0 + pot)
    exchange = ATMOSPHERE / (8.314462618 * film) * diffusivity(film, ATMOSPHERE, p.fuel)
    through = 4.0 * exchange * p.well.area / (p.well.height + p.vent.clearance - well.level)
    at_liquid, to_pot, gap = through / reflux.AT_LIQUID, through / (1.0 - reflux.AT_LIQUID), exchange * p.vent.mouth
    x_liquid, x_pot = 1.0 - share(well.temperature, p), 1.0 - share(pot, p)

    def open_by(air: float) -> float:
        gain = boiled + max(at_liquid * log(air / x_liquid), 0.0)
        return gain - max(to_pot * log(x_pot / air), 0.0) + 0.5 * gap * log(air * x_pot)

    air = brentq(open_by, 1e-6, 1.0)
    found = condensing_on(well, boiled, pot, 500.0, p)
    assert found.condensed == pytest.approx(to_pot * log(x_pot / air), rel=1e-5)
    assert found.evaporated == pytest.approx(max(at_liquid * log(air / x_liquid), 0.0), rel=1e-5)
    assert found.condensed <= boiled + found.evaporated


def test_no_vapour_condenses_on_a_pot_above_the_boiling_point() -> None:
    p = parameters()
    well = well_at(337.0, p)
    for boiled in (0.0, 1e-4, 1e-2):
        assert condensing_on(well, boiled, 345.0, 500.0, p).condensed == 0.0
    assert condensing_on(well, 1e-4, 330.0, 500.0, p).condensed > 1e-5


def test_condensing_begins_gently_at_the_dew_point() -> None:
    p = parameters()
    well = well_at(330.0, p)
    found = [condensing_on(well, 0.0, 325.0 + 0.05 * k, 500.0, p).condensed for k in range(140)]
    assert found[0] > 0.0 == found[-1]
    assert all(before >= after for before, after in pairwise(found))
    falls = [before - after for before, after in pairwise(found)]
    assert max(abs(b - a) for a, b in pairwise(falls)) < 0.2 * max(falls)


@pytest.mark.parametrize(
    ("change", "regime"),
    [({"pot": None}, LIT), ({"pot__gap": "12 mm"}, LIT), ({"pot__gap": "12 mm"}, Regime(0.0, 1.0, 1.0))],
    ids=["no pot", "an open well", "a well that burns"],
)
def test_nothing_condenses_where_nothing_covers_the_well(change: dict[str, Any], regime: Regime) -> None:
    found, _, _ = flows_with(330.0, 290.0, design(**change), regime)
    assert found.gas.reflux == 0.0


def test_only_heat_moves_and_the_flame_at_the_gap_has_less() -> None:
    """What drips back is no loss of fuel: well and pot together lose nothing by it but the vapour that stays."""
    found, p, _ = flows_with(333.0, 290.0, design())
    assert found.gas.reflux > 1.0
    hot, _, _ = flows_with(333.0, 340.0, design())
    assert hot.gas.reflux == 0.0
    back = hot.gas.well_vapour - found.gas.well_vapour
    assert back > 0.0
    assert found.fire.vent_power < hot.fire.vent_power
    with_it, without = derivatives(found, p), derivatives(hot, p)
    at = place("well", 1)
    assert with_it[at] - without[at] == pytest.approx(back, rel=1e-9)
    heat = place("well_heat", 1)
    assert with_it[heat] - without[heat] == pytest.approx(back * found.well.vapour_heat - found.gas.reflux, rel=1e-9)


def test_bottom_over_the_well_is_a_fin_in_what_flames_heat() -> None:
    """A disc without flux in an even plate with it: 2 I1(x) K1(x) of the excess far away; T. Bessel's functions."""
    for metal, thickness in (("aluminium", 0.6e-3), ("aluminium", 3e-3), ("stainless steel", 0.5e-3)):
        setup = design(pot__metal=metal, pot__wall_thickness=thickness)
        p = derive(setup)
        length = (metal_of(metal).conductivity * thickness / p.pot.inside_coefficient) ** 0.5
        x = 0.5 * (p.well.area / 0.7853981634) ** 0.5 / length
        whole = p.pot.disc_area / (p.pot.disc_area - p.well.area)
        assert p.pot.over_well == pytest.approx(whole * 2.0 * i1(x) * k1(x), rel=0.06)


def test_a_cold_pot_takes_heat_from_the_well_and_the_ledgers_close() -> None:
    burn = burnt(design())
    cold, hot = burn.flows(150.0), burn.flows(450.0)
    assert 3.0 < cold.gas.reflux < cold.walls.into_well + abs(cold.walls.divider)
    assert hot.gas.reflux == 0.0
    assert cold.fire.vent_power < 0.5 * hot.fire.vent_power
    assert abs(burn.energy.residual) < 1e-9
    assert abs(burn.mass.residual) < 1e-9


@pytest.mark.parametrize("pot", [300.0, 325.0, 340.0])
def test_the_pressure_of_a_closed_well_is_that_of_what_leaves(pot: float) -> None:
    """Leak's own law, by hand: laminar flow, Q = leak p/viscosity. Condensed vapour takes no part in it."""
    found, p, _ = flows_with(336.0, pot, design(pot__rest="full ring"))
    gas, well = found.gas, found.well
    outlet = p.vent.outlet
    assert outlet.holes == 0.0
    made = boil_rate(well, found.walls.into_well, gas.well_pressure, p)
    assert made > 2e-5
    by_hand = gas.well_vapour * 8.314462618 * well.temperature / p.site.pressure
    by_hand *= vapour_viscosity(well.temperature, p.fuel) / outlet.leak
    assert gas.well_pressure == pytest.approx(by_hand, rel=1e-6)
    if pot < 330.0:
        assert gas.well_vapour < 0.2 * made
    else:
        assert gas.well_vapour == pytest.approx(made, rel=1e-6)


def test_a_colder_pot_never_raises_the_pressure_of_a_closed_well_and_no_step_does() -> None:
    setup = design(pot__rest="full ring")
    pressures = [flows_with(336.0, 300.0 + 0.05 * k, setup)[0].gas.well_pressure for k in range(801)]
    assert all(cold <= hot * (1.0 + 1e-9) for cold, hot in pairwise(pressures))
    assert pressures[0] < 0.2 * pressures[-1]
    finer = [flows_with(336.0, 300.0 + 0.025 * k, setup)[0].gas.well_pressure for k in range(1601)]
    steepest = max(b - a for a, b in pairwise(pressures))
    assert max(b - a for a, b in pairwise(finer)) < 0.6 * steepest


def test_what_is_left_to_leave_never_falls_as_more_is_made() -> None:
    """Else a pressure would have more than one root."""
    p = parameters()
    for well in (320.0, 334.0, 337.0):
        for pot in (285.0, 320.0, 335.0, 337.5, 345.0):
            lid = lid_over(well_at(well, p), Bottom(1.0, pot, 0.0, 500.0), 0.0, p)
            left = [made - refluxed(made, lid).back for made in (1e-7 * 1.05**k for k in range(200))]
            assert all(0.0 <= before <= after * (1.0 + 1e-12) for before, after in pairwise(left))


def test_a_cold_pot_that_closes_the_well_keeps_the_levels_as_they_were() -> None:
    """The pressure that held the gallery's liquid up was that of vapour which had dripped back."""
    burn = burnt(design(pot__rest="full ring"))
    cold, hot = burn.flows(250.0), burn.flows(600.0)
    assert cold.gas.reflux > 3.0
    assert hot.gas.reflux == 0.0
    assert cold.gas.well_pressure < 0.1 * hot.gas.well_pressure
    assert cold.gallery.level - cold.well.level < 0.2 * (hot.gallery.level - hot.well.level)
    assert abs(burn.energy.residual) < 1e-9
    assert abs(burn.mass.residual) < 1e-9


def test_resolved_gas_without_gravity_diffuses() -> None:
    """Exact between two films without a gap: Stefan's flow."""
    case = Well(gravity=0.0, heated=False, gap=1e-9)
    found = solved(case, lasting=60.0, step=12e-3)
    exact = case.still * log((1.0 - case.at_pot) / (1.0 - case.at_liquid))
    assert found.condensed == pytest.approx(exact, rel=0.02)


@pytest.mark.parametrize(("fuel", "boiling"), [("methanol", 0.0), ("methanol", 1e-4), ("ethanol", 0.0)])
def test_resolved_gas_beside_a_hot_wall_carries_what_the_law_says(fuel: str, boiling: float) -> None:
    """On this coarse mesh methanol passes a fifth more than on a fine one."""
    case = Well(boiling=boiling)
    if fuel == "ethanol":
        case = Well(
            boiling=boiling, liquid=345.0, pot=320.0, at_liquid=0.77, at_pot=0.25, mass=46.07e-3,
            diffusivity=1.6e-5, viscosity=1.0e-5, warming=1.4e-5,
        )  # fmt: skip
    found = solved(case)
    p = parameters(fuel)
    buoyancy = stirring_buoyancy(well_at(case.liquid, p), case.at_liquid, case.at_pot, case.pot, case.rim)
    rayleigh = 9.81 * buoyancy * case.depth**3 / (case.viscosity * case.diffusivity)
    through = case.still * layer_transfer(rayleigh, case.viscosity / case.diffusivity)
    at_liquid, to_pot = through / reflux.AT_LIQUID, through / (1.0 - reflux.AT_LIQUID)
    q, w = log(1.0 - case.at_pot), log(1.0 - case.at_liquid)
    air = (at_liquid * w + (to_pot - 0.5 * case.gap) * q - boiling) / (at_liquid + to_pot + 0.5 * case.gap)
    assert 0.78 / 1.2 < to_pot * (q - air) / found.condensed < 1.67 * 1.2  # the mesh here is coarse
    assert -0.5 * case.gap * (air + q) == pytest.approx(found.vented, rel=0.3)
    assert found.condensed > 2.0 * case.still * (q - w)  # far more than still gas
