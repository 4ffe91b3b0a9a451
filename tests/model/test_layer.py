"""Cold liquid that comes in through the feed slots stays below; vapour is made on top."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import burnsim
from burnsim.model.balances.chambers import Liquid, liquid, stratified
from burnsim.model.balances.pressure import boil_rate
from burnsim.model.balances.slots import slot_flows, turnover
from burnsim.model.parameters.derive import derive, first_state
from burnsim.model.parameters.record import Parameters
from burnsim.solve.compile.engine import march_compiled
from burnsim.solve.run import DEFAULT_RTOL, ready
from burnsim.substances.fuel import liquid_heat_capacity

WEEKEND = burnsim.load(Path(__file__).parents[2] / "examples" / "weekend_double_wall.toml")
P = derive(WEEKEND)
FIRST = first_state(WEEKEND, P)


def at(temperature: float, chill: float = 0.0, share: float = 1.0) -> Liquid:
    """The gallery's liquid at a temperature [K]."""
    moles = tuple(share * n for n in FIRST.gallery)
    low, high = -1e5, 1e5
    for _ in range(80):
        heat = 0.5 * (low + high)
        if liquid(moles, heat, chill, P.gallery, P).temperature < temperature:
            low = heat
        else:
            high = heat
    return liquid(moles, low, chill, P.gallery, P)


def well(temperature: float) -> Liquid:
    """The well's liquid at a temperature [K]."""
    heat = (temperature - 298.15) * (P.well.metal + at(temperature).molar_heat * sum(FIRST.well))
    return liquid(FIRST.well, heat, 0.0, P.well, P)


@given(
    hot=st.floats(305.0, 337.0), cold=st.floats(280.0, 304.0), chill=st.floats(0.0, 20.0), speed=st.floats(-0.2, 0.2)
)
def test_what_passes_the_slots_leaves_the_top_as_hot_as_it_was(
    hot: float, cold: float, chill: float, speed: float
) -> None:
    """The mean falls by what comes in cold, and `chill` rises by as much."""
    gallery = at(hot, chill)
    slots = slot_flows(gallery, well(cold), 5.0, speed, P)
    of_mean = -(slots.heat - (slots.out - slots.back) * gallery.enthalpy) / gallery.capacity
    assert of_mean + slots.chill == pytest.approx(0.0, abs=1e-9 * (1.0 + abs(of_mean)))


def distilled(chill: float, warmer: float) -> tuple[Liquid, Liquid, Parameters]:
    """A gallery that has lost half of its alcohol, so much warmer than its well [K]."""
    setup = burnsim.vary(WEEKEND, {"charge.fuel": "ethanol 70 %"})
    p = derive(setup)
    first = first_state(setup, p)
    k = 1 - p.fuel.water_index
    moles = tuple(0.5 * n if i == k else n for i, n in enumerate(first.gallery))
    warmth = [335.0 - 298.15, 335.0 - warmer - 298.15]
    heats = [
        theta * (c.metal + liquid_heat_capacity(n, 298.15 + 0.5 * theta, p.fuel))
        for theta, c, n in zip(warmth, (p.gallery, p.well), (moles, first.well), strict=True)
    ]
    return liquid(moles, heats[0], chill, p.gallery, p), liquid(first.well, heats[1], 0.0, p.well, p), p


def test_a_watery_gallery_is_chilled_by_a_colder_well() -> None:
    """What counts is the temperature: water has less enthalpy a mole than ethanol has."""
    gallery, below, p = distilled(0.0, 0.5)
    assert gallery.enthalpy < below.enthalpy
    assert slot_flows(gallery, below, 0.0, -0.01, p).chill > 0.0


@pytest.mark.parametrize("warmer", [0.0, 0.5, -0.5])
def test_a_trace_of_cold_liquid_stops_no_counterflow(warmer: float) -> None:
    clear, below, p = distilled(0.0, warmer)
    chilled, _, _ = distilled(1e-3, warmer)
    without, with_trace = (slot_flows(body, below, 0.0, 0.0, p) for body in (clear, chilled))
    assert without.out > 1e-4
    assert with_trace.out == pytest.approx(without.out, rel=0.05)


def test_what_has_come_in_leaves_first_and_as_cold_as_it_came() -> None:
    """With a third of the gallery cold, what is pressed out of the slots is the well's own liquid."""
    below = well(300.0)
    clear = slot_flows(at(328.0), below, 5.0, 0.05, P)
    chilled = slot_flows(at(328.0, 15.0), below, 5.0, 0.05, P)
    assert clear.heat > 0.0
    assert chilled.heat == pytest.approx((chilled.out - chilled.back) * below.enthalpy, abs=0.05 * clear.heat)


def test_vapour_is_made_on_top() -> None:
    """A mean 6 K below its bubble point boils nothing by itself; one with 3 K of it below the top does."""
    assert boil_rate(at(331.5), 80.0, 0.0, P) == 0.0
    assert boil_rate(at(331.5, 3.0), 80.0, 0.0, P) == pytest.approx(boil_rate(at(334.5), 80.0, 0.0, P), rel=0.05)


def test_hot_walls_let_a_colder_liquid_boil() -> None:
    """A mean 15 K below its bubble point boils nothing at an even temperature; with a top 20 K hotter, it does."""
    body = at(322.0)
    assert boil_rate(body, 80.0, 0.0, P) == 0.0
    rates = [boil_rate(stratified(body, top, P), 80.0, 0.0, P) for top in (5.0, 20.0, 40.0)]
    assert rates[0] == 0.0 < rates[1] < rates[2] < 80.0 / body.latent


def test_a_heated_wall_turns_a_gallery_over_in_seconds() -> None:
    body = at(325.0)
    assert 2.0 < 1.0 / turnover(body, 100.0, P) < 6.0
    assert turnover(body, 3200.0, P) == pytest.approx(2.0 * turnover(body, 100.0, P), rel=1e-3)
    assert 0.0 < turnover(body, 0.0, P) < turnover(body, 1.0, P)


def test_a_burner_does_not_breathe_before_it_blooms() -> None:
    """Stirred in at once, what came in cold let this one's pressure fall to a tenth and rise again, four times."""
    setup = burnsim.vary(WEEKEND, {"burner.jets.count": 22, "burner.jets.diameter": "0.84 mm"})
    account = march_compiled(ready(setup), DEFAULT_RTOL).account
    bloom = next(moment.time for moment in account.moments if moment.name == "jets_lit")
    pressure = account.column("gallery_pressure")[account.time < bloom - 1.0]
    risen = pressure[np.argmax(pressure > 0.8 * pressure.max()) :]
    assert pressure.max() > 20.0
    assert risen.min() > 0.6 * pressure.max()
