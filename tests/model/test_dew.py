"""Water vapour of the flames on a cold pot: dew points of burnt gas, limits, and what a burn does with it."""

from dataclasses import replace
from itertools import pairwise

import pytest
from burners import PALM, burnt
from jet_flames import LIT, fire_of, parameters, pot_of

from burnsim.closures.stoichiometry import products
from burnsim.model.balances.fire import FireFlows
from burnsim.model.balances.pot.dew import dew_rate
from burnsim.model.balances.pot.flows import pot_flows
from burnsim.model.balances.pot.layer import Film
from burnsim.model.balances.pot.way import heating_of, hot_gas
from burnsim.model.description.conditions import Charge, Pot
from burnsim.model.description.setup import Setup
from burnsim.substances.air import moisture_by_mass
from burnsim.substances.blend import blend

LATENT = 2.42e6  # of water near 30 degC [J/kg], steam tables
WATER = 0.6


def rate(power: float, temperature: float, dew: float = 1e-3, pot: Pot | None = None) -> float:
    """Dew that forms from jets of methanol of so much power [kg/s]."""
    p = parameters(pot or pot_of())
    return pot_flows(fire_of(power, 0.1 * power), WATER, dew, temperature, 400.0, LIT, p).dew


@pytest.mark.parametrize(("fuel", "air_ratio"), [("methanol", 1.0), ("methanol", 1.8), ("ethanol", 1.3)])
def test_nothing_condenses_on_a_wall_at_the_dew_point_of_burnt_gas(fuel: str, air_ratio: float) -> None:
    """The dew point from the composition of complete combustion and CoolProp's saturation line."""
    from CoolProp.CoolProp import PropsSI

    p = parameters(pot_of())
    gas = products((fuel,), (1.0,), air_ratio)
    saturated = PropsSI("T", "P", gas.water * p.site.pressure, "Q", 1, "Water")
    content = gas.water * 18.015e-3 / gas.molar_mass

    def forming(wall: float) -> float:
        return dew_rate(Film(exchange=1e-4, moisture=1e-4 * content), 0.0, 0.01, wall, LATENT, p)

    assert forming(saturated - 2.0) > 0.0 > forming(saturated + 2.0)


def test_moisture_of_air_by_mass() -> None:
    """20 degC and 50 %: 7.3 g in a kilogram of dry air (psychrometric charts)."""
    from CoolProp.CoolProp import PropsSI

    assert moisture_by_mass(0.5 * PropsSI("P", "T", 293.15, "Q", 1, "Water") / 101325.0) == pytest.approx(
        7.3e-3, rel=0.02
    )


@pytest.mark.parametrize("power", [50.0, 100.0, 200.0])
def test_heat_and_vapour_are_one_field_where_all_of_it_has_found_air(power: float) -> None:
    """Lewis number 1, dry air, a pot as warm as the room: bottom and side each take the same share of both."""
    p = parameters(pot_of(gap=30e-3))
    p = replace(p, way=replace(p.way, moisture=0.0), pot=replace(p.pot, inside_coefficient=1e9))
    h = heating_of(fire_of(power), WATER, p.site.temperature, p)
    found = hot_gas(h, p)
    assert found.excess_air > 0.5
    under = found.under.moisture / h.moisture
    assert under == pytest.approx(found.bottom / h.heat, rel=1e-6)
    beside = (1.0 - under) * found.beside.moisture / h.moisture  # what the bottom has taken is missing all across
    assert beside == pytest.approx(found.wall / h.heat, rel=1e-6)


def test_a_cold_pot_sweats_and_a_warm_one_dries() -> None:
    rates = [rate(500.0, celsius + 273.15) for celsius in (2.0, 20.0, 35.0, 60.0, 90.0)]
    assert rates == sorted(rates, reverse=True)
    assert rates[1] > 0.0 > rates[3]
    assert rate(500.0, 363.15, dew=0.0) == 0.0
    assert rate(500.0, 333.15) < rate(500.0, 333.15, dew=1e-5) < 0.0


def test_no_more_condenses_than_the_flames_make() -> None:
    """At 2 degC most of the room's own vapour stays in the air, which is saturated at 9 degC."""
    for power in (30.0, 100.0, 500.0, 1500.0):
        assert 0.0 < rate(power, 275.15) < fire_of(power).moisture


def test_methanol_makes_more_water_for_its_heat_than_ethanol() -> None:
    """1.12 and 1.17 kg of water a kilogram, 19.9 and 26.8 MJ: 1.29 times as much for each joule."""

    def moisture(fuel: str) -> float:
        made = burnt(Setup(PALM, Charge(blend(fuel), volume=20e-6, primer=3e-6), pot_of()))
        flows = made.flows(made.milestones.burnout.time - 60.0)
        return flows.fire.moisture / (flows.fire.jet_power + flows.fire.vent_power)

    assert moisture("methanol") / moisture("ethanol") == pytest.approx((1.124 / 19.9) / (1.173 / 26.8), rel=0.04)


def test_dew_forms_and_dries_before_the_boil_and_its_heat_comes_back() -> None:
    setup = Setup(
        PALM, Charge(blend("methanol"), volume=30e-6, primer=3e-6), pot_of(water=0.6e-3, water_temperature=283.15)
    )
    result = burnt(setup)
    held, boil = result.series("dew"), result.milestones.boil.time
    assert 0.2e-3 < held.max() < 5e-3
    assert result.state(boil)[0].dew < 0.1 * held.max()
    assert abs(result.energy.residual) < 1e-9


def test_warm_water_gathers_no_dew() -> None:
    setup = Setup(
        PALM, Charge(blend("methanol"), volume=30e-6, primer=3e-6), pot_of(water=0.6e-3, water_temperature=343.15)
    )
    assert burnt(setup).series("dew").max() < 1e-6


def test_flames_without_moisture_are_dry() -> None:
    p = parameters(pot_of())
    p = replace(p, way=replace(p.way, moisture=0.0))
    fire: FireFlows = replace(fire_of(500.0), moisture=0.0)
    assert pot_flows(fire, WATER, 0.0, 283.15, 400.0, LIT, p).dew == 0.0


def test_dew_dries_without_a_jump_where_the_gas_grows_colder_than_the_pot() -> None:
    """A flame of 5 W under a pot of 300 to 360 K: no two rates a tenth of a kelvin apart differ by a tenth."""
    rates = [rate(5.0, 300.0 + 0.1 * k) for k in range(600)]
    largest = max(abs(one) for one in rates)
    assert rates[-1] == 0.0 < largest
    assert max(abs(b - a) for a, b in pairwise(rates)) < 0.1 * largest
