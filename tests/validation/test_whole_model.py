"""The whole model against published orders of magnitude and trends; the source stands beside each."""

import math
from dataclasses import replace
from functools import cache

import pytest
from validation_records.whole import PAN, POOLS, RING, cup, flux, run, share, warmed, when_sunk

from burnsim.model.description import geometry
from burnsim.model.description.conditions import Site
from burnsim.model.description.vary import vary
from burnsim.solve.results.result import Burn

# open cup as a pool fire


def test_burning_flux_falls_with_diameter():
    """Conduction at the rim adds less and less to it: small pools of 3 to 10 cm (from memory, unverified)."""
    for fuel in ("methanol", "ethanol"):
        fluxes = [flux(run(cup(d, fuel=fuel)), 3e-3) for d in POOLS]
        assert fluxes == sorted(fluxes, reverse=True)


def test_deeper_ullage_burns_slower_in_glass():
    """Dlugogorski and Wilson, Effect of ullage on properties of small-scale pool fires (abstract): ethanol in glass.

    In copper and steel the fuel boils beyond a certain ullage, and burns faster (the tests below).
    """
    fluxes = [
        flux(run(cup(0.05, height=h, depth=12e-3, fuel="ethanol", metal="glass", wall=1.5e-3)))
        for h in (14e-3, 25e-3, 50e-3)
    ]
    assert fluxes == sorted(fluxes, reverse=True)


def test_metal_cup_makes_the_fuel_boil():
    """A wall that conducts carries the flame's heat down, and the fuel boils on it; glass does not (source below)."""
    good = run(cup(0.05, height=30e-3, depth=24e-3, fuel="ethanol", metal="copper", wall=1e-3))
    poor = run(cup(0.05, height=30e-3, depth=24e-3, fuel="ethanol", metal="glass", wall=1.5e-3))
    assert flux(good, 15e-3) > 1.5 * flux(poor, 15e-3)
    middle = good.flows(0.5 * good.time[-1])
    assert middle.well.superheat > poor.flows(0.5 * poor.time[-1]).well.superheat
    assert middle.walls.into_well > middle.pool.heat


def boiling_share(result: Burn, ullage: float) -> float:
    """Of a cup's vapour, what bubbles up when its surface has sunk so far below the rim [m]."""
    flows = result.flows(when_sunk(result, ullage))
    return flows.pool.boiling / flows.pool.vapour


@pytest.mark.parametrize("metal", ["copper", "steel"])
def test_ethanol_in_copper_and_steel_boils_beyond_a_certain_ullage(metal):
    """Dlugogorski and Wilson, Effect of ullage on properties of small-scale pool fires: tubes below 7 cm."""
    result = run(cup(0.05, height=45e-3, depth=42e-3, fuel="ethanol", metal=metal, wall=1e-3))
    shares = [boiling_share(result, ullage) for ullage in (4e-3, 8e-3, 15e-3, 25e-3)]
    assert shares[0] < 0.05
    assert shares == sorted(shares)
    assert shares[-1] > 0.5
    hot = result.flows(when_sunk(result, 25e-3)).well
    assert hot.superheat > -4.0  # the mean, of which the top is the hottest


@cache
def glass() -> Burn:
    return run(cup(0.05, height=45e-3, depth=42e-3, fuel="ethanol", metal="glass", wall=1.5e-3))


def critical_flux() -> float:
    """Least flux of ethanol in glass, where its flame comes down [g/m2/s]."""
    return min(flux(glass(), 1e-3 * ullage) for ullage in range(5, 26))


def test_ethanol_in_glass_burns_slower_until_its_flame_comes_down():
    """The same source: slower and slower until, at a critical ullage, it burns inside; then the rate rises."""
    falling = [flux(glass(), ullage) for ullage in (4e-3, 5e-3, 6e-3, 7e-3)]
    assert falling == sorted(falling, reverse=True)
    assert falling[-1] < 0.85 * falling[0]
    assert critical_flux() < flux(glass(), 30e-3)


@pytest.mark.xfail(
    strict=True,
    reason="how much air comes down into a vessel less than half as deep as wide is an estimate (a doorway); what more "
    "vapour leaves in a deeper one stands above the fuel as resolved in one well alone: the rate rises by a quarter",
)
def test_ethanol_in_glass_burns_hardly_quicker_once_its_flame_is_down():
    """The same source: the rate rises slightly."""
    assert flux(glass(), 30e-3) < 1.1 * critical_flux()


def test_ethanol_in_glass_does_not_boil():
    """The same source."""
    assert max(boiling_share(glass(), ullage) for ullage in (4e-3, 8e-3, 15e-3, 25e-3, 35e-3)) < 0.05


def pressure_exponent(diameter: float) -> float:
    """n of rate ~ p^n between 0 and 3650 m, of a shallow cup's mean burning rate."""
    sea, high = (
        run(cup(diameter, depth=14e-3, fuel="ethanol", wall=1e-3, site=Site(altitude=altitude)))
        for altitude in (0.0, 3650.0)
    )
    return math.log(float(sea.time[-1] / high.time[-1])) / math.log(
        high.parameters.site.pressure / sea.parameters.site.pressure
    )


def test_thin_air_hardly_slows_the_smallest_pools():
    """Fang et al. 2011, Fuel 90, 2760, ethanol in Hefei and Lhasa: n < 0 below 7 cm, 0 to 1 from 7 to 10 cm."""
    small, middle, large = (pressure_exponent(d) for d in (0.03, 0.085, 0.10))
    assert small < 0.0 < middle < large < 1.0


def test_thin_air_quickens_a_pool_of_5_cm():
    """The same source. What sinks below the rim burns by the air that comes down to it."""
    assert pressure_exponent(0.05) < 0.0


def test_wind_fans_a_small_methanol_pool():
    """0 to 3 m/s on a methanol pool of 5 cm: the burning rate rises (Hu 2009)."""
    fluxes = [flux(run(cup(0.05, site=Site(wind=w))), 3e-3) for w in (0.0, 1.0, 2.0, 3.0)]
    assert fluxes == sorted(fluxes)
    assert fluxes[-1] > 1.05 * fluxes[0]


def test_thin_air_burns_a_pool_slower():
    """Convection slackens with pressure (published for pools of 10 cm and more; from memory, unverified)."""
    fluxes = [flux(run(cup(0.10, site=Site(altitude=z)))) for z in (0.0, 2000.0, 4000.0)]
    assert fluxes == sorted(fluxes, reverse=True)


def test_a_cup_burns_hot_within_two_minutes():
    """Thin layers of alcohol reach their steady burning rate within one to two minutes (from memory, unverified)."""
    result = run(cup(0.065))
    late = flux(result, 4e-3)
    early = 1e3 * result.flows(120.0).fire.fuel_mass / geometry.well_area(result.setup.burner)
    assert early > 0.8 * late


# ring of flames under a pan


def test_efficiency_falls_with_power():
    """Published for gas rings (from memory, unverified)."""
    results = [run(vary(RING, {"burner.jets.diameter": d * 1e-3})) for d in (0.6, 0.9, 1.3)]
    powers = [r.power_median or 0.0 for r in results]
    assert powers == sorted(powers)
    shares = [r.efficiency or 0.0 for r in results]
    assert shares == sorted(shares, reverse=True)


def test_efficiency_rises_with_the_pan():
    """Published for gas rings (from memory, unverified)."""
    shares = [share(vary(RING, {"pot.diameter": d})) for d in (0.15, 0.20, 0.25)]
    assert shares == sorted(shares)


def test_a_pan_takes_less_the_higher_it_stands():
    """Measured on hobs (Saad 2019, the trend)."""
    shares = [warmed(vary(PAN, {"pot.gap": gap})) for gap in (30e-3, 50e-3, 70e-3, 90e-3)]
    assert shares == sorted(shares, reverse=True)


def test_calm_beats_wind_under_a_pan():
    assert share(RING) > share(replace(RING, site=Site(wind=1.0)))
