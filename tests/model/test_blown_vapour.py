"""Vapour of the gallery that blows through the feed slots into the well, and condenses in its liquid."""

from dataclasses import replace
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest
from burners import burnt

import burnsim
from burnsim.model.balances import gas as gases_of
from burnsim.model.balances.chambers import Liquid, liquid
from burnsim.model.balances.flows import Flows, derivatives
from burnsim.model.balances.gas import caught, headspace, joined_gases, own_vapour, slot_head
from burnsim.model.balances.pot.reflux import no_lid
from burnsim.model.balances.pressure import outlet_pressure
from burnsim.model.balances.state import state_size, unpack, unpack_tallies
from burnsim.model.balances.walls import wall_flows
from burnsim.model.balances.wick import WickFlame
from burnsim.model.description.setup import Setup
from burnsim.model.parameters.derive import derive
from burnsim.model.parameters.record import Parameters
from burnsim.substances.fuel import vapour_viscosity

EXAMPLES = Path(__file__).parents[2] / "examples"
NO_WICK = WickFlame(rate=0.0, tip=0.0, bound=0.0, heat_to_liquid=0.0, contact=0.0)


@cache
def choked() -> Setup:
    """The weekend's double wall with jets too narrow for what its gallery makes."""
    weekend = burnsim.load(EXAMPLES / "weekend_double_wall.toml")
    return burnsim.vary(weekend, {"burner.jets.count": 16, "burner.jets.diameter": 0.5e-3})


def filled(name: str, level: float, subcooling: float, p: Parameters) -> Liquid:
    """A compartment's liquid so deep [m] and so far below its boiling point [K]."""
    chamber = getattr(p, name)
    moles = (level * chamber.area * 19.0e3,)
    heat = 0.0
    for _ in range(12):
        body = liquid(moles, heat, 0.0, chamber, p)
        heat -= (body.superheat + subcooling) * body.capacity
        moles = (moles[0] * level / body.level,)
    return liquid(moles, heat, 0.0, chamber, p)


def blowing() -> Flows:
    """An instant at which vapour blows into the cold well of a choked burner."""
    burn = burnt(choked())
    for k in range(10, 120):
        flows = burn.flows(float(k))
        if flows.gas.blow_caught > 1e-5:
            return flows
    raise AssertionError("no vapour has blown into the well")


def test_a_covered_well_passes_what_blows_in_at_the_pressure_of_all_that_leaves() -> None:
    """Few narrow jets under a flat pot: its cold bottom condenses the well's own vapour, and not what blows through."""
    few = {"burner.jets.count": 8, "burner.jets.diameter": 0.6e-3, "pot.rest": "full ring", "charge.volume": 20e-6}
    burn = burnt(burnsim.vary(choked(), few))
    p = burn.parameters
    blown = []
    for k in range(10, 60):
        flows = burn.flows(float(k))
        well, gas = flows.well, flows.gas
        thickness = vapour_viscosity(well.temperature, p.fuel)
        leaving = own_vapour(gas) + gas.blow
        passed = outlet_pressure(leaving, well.vapour_mass, well.temperature, thickness, p.vent.outlet, p.site.pressure)
        assert gas.well_pressure == pytest.approx(passed, rel=1e-6, abs=1e-6)
        blown.append(gas.blow)
    assert max(blown) > 1e-4


def test_none_condenses_in_a_boiling_or_an_empty_well_and_all_in_a_deep_cold_one() -> None:
    p = derive(choked())
    gallery = filled("gallery", 1e-3, 0.0, p)
    assert caught(gallery, filled("well", 16e-3, -0.5, p), p) == 0.0
    assert caught(gallery, filled("well", 0.4 * p.slots.height, 40.0, p), p) == 0.0
    assert caught(gallery, filled("well", 16e-3, 35.0, p), p) == 1.0


def test_by_hand_for_methanol_of_30_degrees() -> None:
    """Tables: 782 kg/m3, 0.0218 N/m; vapour at 338 K 1.16 kg/m3. Tate's bubble, Harmathy's rise, a slot of 4 x 2 mm.

    A bubble of 3.6 mm needs 9 ms for its heat, and 80 ms to rise 16 mm.
    """
    p = derive(choked())
    slots = p.slots
    by_hand = (6.0 * 0.0218 * slots.diameter / (782.0 * 9.81)) ** (1.0 / 3.0)
    assert slots.bubble_size == pytest.approx(by_hand, rel=0.03)
    assert slots.bubble_rise == pytest.approx(1.53 * (0.0218 * 9.81 / 782.0) ** 0.25, rel=0.03)
    jakob, spread = 54.0, 0.19 / (782.0 * 2540.0)
    assert slots.diffusivity == pytest.approx(spread, rel=0.15)
    collapse = 3.14159 * by_hand**2 / (16.0 * jakob**2 * spread)
    assert collapse < 0.15 * 16e-3 / slots.bubble_rise
    gallery = filled("gallery", 1e-3, 0.0, p)
    warm = 4.0  # [K] below its boiling point: a Jakob number of 6.2
    shrunk = (4.0 * 6.2 / by_hand) * (spread * 16e-3 / slots.bubble_rise / 3.14159) ** 0.5
    level = 16e-3 + 0.5 * slots.height
    assert caught(gallery, filled("well", level, warm, p), p) == pytest.approx(1.0 - (1.0 - shrunk) ** 3, rel=0.12)


def test_more_condenses_the_colder_and_the_deeper_the_well_without_a_step() -> None:
    p = derive(choked())
    gallery = filled("gallery", 1e-3, 0.0, p)
    for shares in (
        [caught(gallery, filled("well", 12e-3, 0.1 * k - 1.0, p), p) for k in range(300)],
        [caught(gallery, filled("well", 5e-5 * (k + 1), 10.0, p), p) for k in range(300)],
    ):
        assert shares[0] == 0.0
        assert shares[-1] > 0.95
        assert all(before <= after + 1e-9 for before, after in pairwise(shares))
        assert max(after - before for before, after in pairwise(shares)) < 0.05


def test_its_moles_and_its_heat_stay_in_the_well() -> None:
    """Against the same instant with the vapour sent through the well instead, joule by joule."""
    flows = blowing()
    p = derive(choked())
    gas = flows.gas
    through = replace(flows, gas=replace(gas, blow=gas.blow + gas.blow_caught, blow_caught=0.0))
    n = p.components
    kept, lost = derivatives(flows, p), derivatives(through, p)
    here, there = unpack(kept, n), unpack(lost, n)
    assert here.gallery == there.gallery
    assert here.gallery_heat == there.gallery_heat
    assert here.well[0] - there.well[0] == pytest.approx(gas.blow_caught, rel=1e-9)
    given = gas.blow_caught * flows.gallery.vapour_heat
    assert here.well_heat - there.well_heat == pytest.approx(given, rel=1e-9)
    burns, unburnt = (unpack_tallies(rates[state_size(n) :], n) for rates in (kept, lost))
    gone = sum(unburnt.burnt) + sum(unburnt.unburnt) - sum(burns.burnt) - sum(burns.unburnt)
    assert gone == pytest.approx(gas.blow_caught, rel=1e-9)


def test_a_cold_well_keeps_the_vapour_that_a_choked_gallery_blows_into_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """The well is warmer for it; whether the vapour condenses or leaves, both ledgers close."""
    setup = choked()
    kept = burnsim.burn(setup)
    monkeypatch.setattr(gases_of, "caught", lambda gallery, well, p: 0.0)
    lost = burnsim.burn(setup)
    assert any(lost.flows(float(at)).gas.blow > 1e-5 for at in range(20, 60, 2))
    at = 55.0
    assert kept.flows(at).well.temperature > lost.flows(at).well.temperature + 1.0
    for burn in (kept, lost):
        assert abs(burn.mass.residual) < 1e-9
        assert abs(burn.energy.residual) < 1e-9


@pytest.mark.parametrize("subcooling", [0.5, 4.0, 9.0, 30.0])
@pytest.mark.parametrize("leak", [1e-12, 1e-11])
def test_what_condenses_does_not_press_on_the_well(subcooling: float, leak: float) -> None:
    """A nearly dry gallery boils hard behind choked jets: the leak of the well passes what has come through alive."""
    p = derive(burnsim.vary(choked(), {"pot.rest": "full ring", "burner.jets.count": 1}))
    p = replace(p, vent=replace(p.vent, outlet=replace(p.vent.outlet, leak=leak)))
    gallery, well = filled("gallery", 0.3e-3, 0.0, p), filled("well", 6e-3, subcooling, p)
    walls = replace(wall_flows(gallery, well, 450.0, 450.0, 400.0, NO_WICK, p), into_gallery=80.0, into_well=2.0)
    space = headspace(gallery, 0.0, 450.0, walls, p)
    found = joined_gases(gallery, well, space, 450.0, walls, 0.0, no_lid(), p)
    assert found.crossing < -1e-5
    assert found.caught == caught(gallery, well, p)
    left = found.well_vapour - (1.0 - found.caught) * found.crossing
    thin = vapour_viscosity(well.temperature, p.fuel)
    outside = outlet_pressure(left, well.vapour_mass, well.temperature, thin, p.vent.outlet, p.site.pressure)
    assert outside == pytest.approx(found.well_gauge, rel=1e-7, abs=1e-9)
    assert found.gallery_gauge > found.well_gauge + slot_head(well.level, well.density, p)
