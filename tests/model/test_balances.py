"""The balances as functions: pure, finite for any trial state, and conserving whatever the state."""

from collections.abc import Iterator
from dataclasses import astuple, is_dataclass, replace
from functools import cache
from math import cosh, exp, isfinite, sinh, tanh
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.integrate import solve_ivp

import burnsim
from burnsim.model.balances.chambers import Liquid, gas_held, liquid, liquid_under_vapour
from burnsim.model.balances.events import EVENTS, guards
from burnsim.model.balances.fire import fire_flows
from burnsim.model.balances.flows import Flows, balances, derivatives, known_of, near, settled, sloping
from burnsim.model.balances.gas import exposed, gas_flows, headspace, joined_gases, slot_head
from burnsim.model.balances.pot.reflux import Bottom, lid_over, refluxed
from burnsim.model.balances.pressure import blow_rate, outlet_pressure
from burnsim.model.balances.state import (
    IN_DEW,
    IN_GALLERY,
    IN_SLOTS,
    IN_WICK,
    Regime,
    State,
    entries,
    pack,
    state_size,
    tallies_size,
    unpack,
    unpack_tallies,
)
from burnsim.model.balances.walls import Supply, as_warm, foot_heat, strip, wall_flows
from burnsim.model.balances.wick import WickFlame
from burnsim.model.description.setup import Setup
from burnsim.model.description.vary import vary
from burnsim.model.parameters.derive import derive, first_state
from burnsim.model.parameters.record import Parameters
from burnsim.substances.fuel import vapour_viscosity
from burnsim.substances.metals import metal_of

EXAMPLES = Path(__file__).parents[2] / "examples"
NO_WICK = WickFlame(rate=0.0, tip=0.0, bound=0.0, heat_to_liquid=0.0, contact=0.0)
NO_POT = Bottom(0.0, 300.0, 0.0, 300.0)
NAMES = ("double wall", "covered well", "plain rim", "open well", "sealed chamber", "open cup")


@cache
def case(name: str) -> tuple[Setup, Parameters, State]:
    double = burnsim.load(EXAMPLES / "weekend_double_wall.toml")
    made = {
        "double wall": double,
        "covered well": vary(double, {"charge.fuel": "methylated spirit", "pot.lid": False, "site.wind": 2.0}),
        "plain rim": vary(double, {"charge.fuel": "2-propanol 70", "pot.rest": "full ring"}),
        "open well": burnsim.load(EXAMPLES / "porch_open_well.toml"),
        "sealed chamber": burnsim.load(EXAMPLES / "workshop_sealed_chamber.toml"),
        "open cup": burnsim.load(EXAMPLES / "garden_open_cup.toml"),
    }
    setup = made[name]
    p = derive(setup)
    return setup, p, first_state(setup, p)


def regime_of(draw: st.DrawFn, p: Parameters) -> Regime:
    """Any flames that the burner can have, over a pot that boils or not yet."""
    well = p.well.present * p.vent.open
    wick = 1.0 if p.wick.capacity > 0.0 else 0.0
    can = (wick, p.gallery.present, well, p.pot.present)
    return Regime(*[one * draw(st.sampled_from((0.0, 1.0))) for one in can])


def boiling(subcooling: float, volume: float, name: str, p: Parameters) -> Liquid:
    """A compartment's liquid of the charge's composition, so far below its boiling point."""
    _, _, first = case("plain rim")
    chamber = p.gallery if name == "gallery" else p.well
    moles = tuple(volume / liquid(first.gallery, 0.0, 0.0, p.gallery, p).volume * n for n in first.gallery)
    heat = 0.0
    body = liquid(moles, heat, 0.0, chamber, p)
    for _ in range(12):
        heat -= (body.superheat + subcooling) * body.capacity
        body = liquid(moles, heat, 0.0, chamber, p)
    assert body.superheat == pytest.approx(-subcooling, abs=1e-3)
    return body


@st.composite
def wild(draw: st.DrawFn) -> tuple[str, State, Regime]:
    """States that no burn has but a trial step may visit: negative moles, huge heats, absurd speeds."""
    name = draw(st.sampled_from(NAMES))
    n = case(name)[1].components

    def spread(low: float, high: float) -> float:
        return draw(st.one_of(st.floats(low, high), st.floats(-1e-3, 1e-3), st.just(0.0)))

    moles = [spread(-5.0, 50.0) for _ in range(2 * n)]
    heats = [spread(-1e7, 1e8) for _ in range(5)]
    heats[1:1] = [spread(-50.0, 500.0) for _ in range(2)]  # a gallery's liquid, colder in the mean than on top
    rest = [
        spread(-1.0, 1.0),
        spread(-1.0, 1.0),
        spread(-1.0, 5.0),
        spread(-1e7, 1e9),
        spread(-1.0, 5.0),
        spread(-1e3, 1e3),
    ]
    return name, unpack([*moles, *heats, *rest], n), regime_of(draw, case(name)[1])


@st.composite
def tame(draw: st.DrawFn) -> tuple[str, State, Regime]:
    """States that a burn may have: any filling, 260 to 370 K of the liquids, any rim."""
    name = draw(st.sampled_from(NAMES))
    _, p, first = case(name)
    share = [draw(st.floats(0.0, 1.0)) for _ in range(2 * p.components)]
    held = [*first.gallery, *first.well]
    moles = [s * amount for s, amount in zip(share, held, strict=True)]
    n = p.components

    def warm(amounts: list[float], metal: float) -> float:
        theta = draw(st.floats(-38.0, 72.0))
        return theta * (metal + sum(x * p.fuel.liquid_heat[i][0] for i, x in enumerate(amounts)))

    return (
        name,
        State(
            tuple(moles[:n]),
            tuple(moles[n:]),
            warm(moles[:n], p.gallery.metal),
            draw(st.floats(0.0, 30.0)),
            draw(st.floats(0.0, 40.0)),
            warm(moles[n:], p.well.metal),
            p.collar.capacity * draw(st.floats(-38.0, 700.0)),
            p.walls.rim_capacity * draw(st.floats(-38.0, 700.0)),
            p.walls.dry_capacity * draw(st.floats(-38.0, 700.0)),
            first.wick * draw(st.floats(0.0, 1.0)),
            first.air * draw(st.floats(0.0, 1.0)),
            first.water * draw(st.floats(0.0, 1.0)),
            first.pot_heat + draw(st.floats(0.0, 3e5)),
            draw(st.floats(0.0, 3e-3)),
            draw(st.floats(-0.5, 0.5)),
        ),
        regime_of(draw, p),
    )


def leaves(record: object) -> Iterator[object]:
    if is_dataclass(record) or isinstance(record, tuple):
        for item in record if isinstance(record, tuple) else astuple(record):
            yield from leaves(item)
    else:
        yield record


def check_numbers(flows: Flows, rates: list[float]) -> None:
    """Plain finite floats all through: no array face of a closure was called, and nothing broke."""
    for value in (*leaves(flows), *rates):
        assert type(value) is float, value
        assert isfinite(value)


def check_conserved(state: State, flows: Flows, p: Parameters) -> None:
    """Every mole and every joule that leaves one place is found in another, to rounding."""
    n = p.components
    rates = derivatives(flows, p)
    d = unpack(rates, n)
    q = unpack_tallies(rates[state_size(n) :], n)
    assert len(rates) == state_size(n) + tallies_size(n) == len(pack(state)) + tallies_size(n)
    chemical = 0.0
    turned = 0.0
    for i in range(n):
        wick = d.wick * p.wick.fractions[i]
        terms = (d.gallery[i], d.well[i], wick, q.burnt[i], q.unburnt[i], q.spilled[i])
        size = sum(map(abs, terms)) + abs(flows.slots.out) + abs(flows.slots.back)
        assert abs(sum(terms)) <= 1e-13 * size, i
        chemical += (d.gallery[i] + d.well[i] + wick) * p.fire.heating_value[i]
        turned += size * abs(p.fire.heating_value[i])
    heats = (
        d.gallery_heat,
        d.well_heat,
        d.collar_heat,
        d.rim_heat,
        d.wall_heat,
        d.wick * p.wick.enthalpy,
        d.pot_heat,
        q.unburnt_heat,
        q.spilled_heat,
        q.radiated,
        q.flue,
        q.burner_loss,
        q.pot_loss,
        q.steam,
    )
    walls, fire = flows.walls, flows.fire
    passed = (*astuple(walls), flows.pool.heat, fire.gas_heat, fire.jets_to_rim, fire.wick_to_rim, flows.slots.heat)
    size = turned + sum(map(abs, heats)) + sum(map(abs, passed))
    assert abs(chemical + sum(heats)) <= 1e-13 * size


@settings(max_examples=150, derandomize=True)
@given(drawn=wild())
def test_finite_and_pure_for_any_trial_state(drawn: tuple[str, State, Regime]) -> None:
    name, state, regime = drawn
    p = case(name)[1]
    flows = balances(state, regime, p)
    rates = derivatives(flows, p)
    check_numbers(flows, rates)
    again = balances(state, regime, p)
    assert again == flows
    assert derivatives(again, p) == rates
    for guard in guards(flows, p):
        assert isfinite(guard)
    check_numbers(settled(flows, p), derivatives(settled(flows, p), p))


@settings(max_examples=150, derandomize=True)
@given(drawn=wild())
def test_any_trial_state_conserves(drawn: tuple[str, State, Regime]) -> None:
    name, state, regime = drawn
    p = case(name)[1]
    check_conserved(state, balances(state, regime, p), p)


@settings(max_examples=200, derandomize=True)
@given(drawn=tame())
def test_any_plausible_state_conserves(drawn: tuple[str, State, Regime]) -> None:
    name, state, regime = drawn
    p = case(name)[1]
    flows = balances(state, regime, p)
    check_numbers(flows, derivatives(flows, p))
    check_conserved(state, flows, p)


@settings(max_examples=150, derandomize=True)
@given(drawn=wild(), share=st.floats(-0.2, 0.2))
def test_an_instant_near_a_known_one_is_the_same_to_the_last_bit_but_for_the_pot(
    drawn: tuple[str, State, Regime], share: float
) -> None:
    name, state, regime = drawn
    p = case(name)[1]
    known = balances(state, regime, p)
    told = known_of(known, state, p)
    flat = pack(state)
    for place, entry in enumerate(entries(p.components)):
        moved = list(flat)
        moved[place] = moved[place] * (1.0 + share) + 1e-7 * share
        there = unpack(moved, p.components)
        found, whole = near(known, told, there, entry.row.part, p), balances(there, regime, p)
        assert replace(found, pot=whole.pot) == whole
        assert all(isfinite(number) for number in leaves(found.pot))


@settings(max_examples=150, derandomize=True)
@given(drawn=tame(), part=st.sampled_from((IN_DEW, IN_SLOTS)))
def test_slopes_that_are_written_out_are_those_of_difference_quotients(
    drawn: tuple[str, State, Regime], part: int
) -> None:
    name, state, regime = drawn
    p = case(name)[1]
    place = next(k for k, entry in enumerate(entries(p.components)) if entry.row.part == part)
    state = replace(state, dew=max(state.dew, 0.01 * p.pot.thin_dew))  # at nothing the law of dew has a corner
    here = balances(state, regime, p)
    still = derivatives(here, p)
    found = [moved - rate for moved, rate in zip(derivatives(sloping(here, state, part, p), p), still, strict=True)]
    flat = pack(state)
    size = 1e-6 * (p.pot.thin_dew if part == IN_DEW else 0.1)
    sides = []
    for move in (-size, size):
        there = unpack([*flat[:place], flat[place] + move, *flat[place + 1 :]], p.components)
        sides.append(derivatives(balances(there, regime, p), p))
    for slope, low, high, rate in zip(found, *sides, still, strict=True):
        noise = 1e-13 * (abs(rate) + 1.0) / size
        assert slope == pytest.approx((high - low) / (2.0 * size), rel=1e-3, abs=1e-6 + noise)


@pytest.mark.parametrize("lit", [0.0, 1.0])
@pytest.mark.parametrize("subcooling", [40.0, 3.0])
def test_a_pool_near_a_known_one_boils_with_what_the_gallery_passes_it(lit: float, subcooling: float) -> None:
    """A hotter gallery makes a well near its boiling point boil harder, and leaves a cold one as it was."""
    _, p, first = case("open well")
    heat = -40.0 * first.well[0]
    for _ in range(12):
        well = liquid(first.well, heat, 0.0, p.well, p)
        heat -= (well.superheat + subcooling) * well.capacity
    gallery = liquid_under_vapour(first.gallery, first.gallery_heat, 0.0, first.air, p.gallery, p)
    warm = first.gallery_heat + (well.temperature + 2.0 - gallery.temperature) * gallery.capacity
    state = replace(first, well_heat=heat, gallery_heat=warm)
    regime = Regime(1.0, 1.0, lit)
    known = balances(state, regime, p)
    told = known_of(known, state, p)
    hotter = replace(state, gallery_heat=warm + 300.0)
    there, whole = near(known, told, hotter, IN_GALLERY, p), balances(hotter, regime, p)
    assert replace(there, pot=whole.pot) == whole
    assert (there.pool != known.pool) == (subcooling < known.well.onset)
    drier = replace(state, wick=0.5 * state.wick)
    there, whole = near(known, told, drier, IN_WICK, p), balances(drier, regime, p)
    assert replace(there, pot=whole.pot) == whole


@settings(max_examples=100, derandomize=True)
@given(drawn=tame())
def test_settled_speed_balances_the_slots(drawn: tuple[str, State, Regime]) -> None:
    name, state, regime = drawn
    p = case(name)[1]
    flows = settled(balances(state, regime, p), p)
    assert flows.slots.loss == pytest.approx(flows.slots.drive, rel=1e-9, abs=1e-9)
    assert flows.slots.drive * flows.slots.speed >= 0.0


@settings(max_examples=100, derandomize=True)
@given(drawn=tame(), size=st.floats(1e-9, 1e-7))
def test_pressures_are_smooth_enough_for_difference_quotients(drawn: tuple[str, State, Regime], size: float) -> None:
    """Chamber pressures are roots; they must follow a tiny change of the liquids, or difference quotients are noise.

    The liquid's head is the quickest way for a mole to act on a pressure: 10 kPa per metre and metres per mole, times
    the change, bounds what a pressure may move, with a thousandfold for the steepness of boiling and outlets.
    """
    name, state, regime = drawn
    p = case(name)[1]
    moved = replace(
        state, gallery=tuple(x * (1.0 + size) for x in state.gallery), well=tuple(x * (1.0 + size) for x in state.well)
    )
    here, there = balances(state, regime, p).gas, balances(moved, regime, p).gas
    for before, after in ((here.gallery_pressure, there.gallery_pressure), (here.well_pressure, there.well_pressure)):
        assert abs(after - before) <= 1e3 * size * (1.0 + abs(before))


@settings(max_examples=300, derandomize=True)
@given(
    subcooling=st.floats(0.0, 11.0),
    heating=st.floats(1.0, 60.0),
    level=st.floats(0.01, 0.99),
    head=st.floats(0.0, 0.03),
    slots=st.floats(1e-6, 3e-4),
    leak=st.floats(2e-14, 1e-11),
    pot=st.floats(280.0, 360.0),
)
def test_pressures_of_both_sides_are_roots_of_their_balances(
    subcooling: float, heating: float, level: float, head: float, slots: float, leak: float, pot: float
) -> None:
    """A nearly dry well boils under a pot on a plain rim: what boils leaves by the leak and by its bared slots, but for
    what condenses on the pot.

    The vapour lifts the gallery's liquid out of its way and goes out by the jets. All pressures are found to a part in
    1e9, or difference quotients of them are noise: each chamber's vapour leaves at its own pressure, and the slots pass
    what crosses at the difference of both, less the head.
    """
    _, p, _ = case("plain rim")
    slotted = replace(p.slots, area=slots)
    p = replace(p, slots=slotted, vent=replace(p.vent, outlet=replace(p.vent.outlet, leak=leak)))
    well = boiling(subcooling, level * p.slots.height * p.well.area, "well", p)
    gallery = boiling(11.0, head * p.gallery.area + 1e-7, "gallery", p)
    walls = replace(wall_flows(gallery, well, 450.0, 450.0, 400.0, NO_WICK, p), into_well=heating, into_gallery=0.0)
    space = headspace(gallery, 0.0, 450.0, walls, p)
    lid = lid_over(well, Bottom(1.0, pot, 0.0, 450.0), 0.0, p)
    gases = joined_gases(gallery, well, space, 450.0, walls, 0.0, lid, p)
    lead = gases.well_gauge - gases.gallery_gauge
    near = 1e-9 * gases.well_gauge + 1e-9
    assert gases.crossing >= 0.0
    if gases.well_gauge >= 0.0:  # below it the well draws gas in from outside, which crosses as well
        assert gases.crossing <= gases.well_vapour + 1e-12  # as near as the pressures are solved
    thin = vapour_viscosity(well.temperature, p.fuel)
    left = gases.well_vapour - gases.crossing
    back = refluxed(left, lid).back
    assert 0.0 <= back <= max(left, 0.0)
    left -= back
    outside = outlet_pressure(left, well.vapour_mass, well.temperature, thin, p.vent.outlet, p.site.pressure)
    assert outside == pytest.approx(gases.well_gauge, rel=1e-7, abs=1e-9)
    held = slot_head(gallery.level - p.slots.lift, gallery.density, p)
    bare = exposed(well, p)
    below = blow_rate(lead - held - near, bare, well.vapour_mass, well.temperature, thin, p)
    above = blow_rate(lead - held + near, bare, well.vapour_mass, well.temperature, thin, p)
    assert below <= gases.crossing <= above


def test_the_inside_of_a_cup_that_has_run_dry_loses_heat_to_the_room() -> None:
    """Laminar air along an upright plate, Nu = 0.68 + 0.515 Ra^(1/4) (Churchill and Chu 1975), and some radiation.

    Half of it all told, for the wall's temperature falls from the rim's to the floor's. Over fuel there is none of it:
    vapour stands there.
    """
    _, p, first = case("open cup")
    wet = liquid(first.well, 0.0, 0.0, p.well, p)
    dry = liquid(tuple(0.0 for _ in first.well), 0.0, 0.0, p.well, p)
    rim = 500.0

    def lost(body: Liquid) -> float:
        return wall_flows(body, body, rim, rim, 400.0, NO_WICK, p).rim_loss

    area = p.walls.outer_perimeter * p.walls.top
    height = 0.5 * p.walls.top
    rayleigh = 9.81 / 330.0 * 50.0 * height**3 / (1.88e-5 * 2.7e-5)  # air at 330 K, tables
    film = (0.68 + 0.515 * rayleigh**0.25) * 0.0285 / height
    assert 0.5 * film < (lost(dry) - lost(wet)) / (area * (rim - p.site.temperature)) < 0.6 * film + 2.0


@pytest.mark.parametrize("heating", [40.0, 150.0, 400.0])
def test_a_gallery_under_pressure_gives_the_gas_that_its_heat_makes(heating: float) -> None:
    """Gas that leaves is what is made and what swells out as the liquid warms or cools by what it really boils.

    Counted as if it boiled in the open, superheated liquid under bars would cool by kilowatts, and its gas shrink: the
    jets passed two thirds of what was made, at two thirds of the pressure.
    """
    _, p, first = case("sealed chamber")
    few = replace(p, jets=replace(p.jets, outlet=replace(p.jets.outlet, holes=1.0)))
    body = liquid(first.gallery, 0.0, 0.0, few.gallery, few)
    hot = liquid(first.gallery, (130.0 - body.superheat) * body.capacity, 0.0, few.gallery, few)
    walls = replace(
        wall_flows(hot, hot, 450.0, 450.0, 400.0, NO_WICK, few), into_gallery=heating, divider=0.0, gallery_loss=0.0
    )
    gases = gas_flows(hot, hot, 0.0, 450.0, 450.0, walls, 0.0, NO_POT, 0.0, few)
    assert gases.gallery_pressure > 5e4
    cooling = (heating - gases.gallery_vapour * hot.latent) / hot.capacity  # [K/s]
    held = gas_held(hot.temperature, hot.volume, few.gallery, few)
    swelling = held * cooling / hot.temperature
    assert gases.through_jets == pytest.approx(gases.gallery_vapour + swelling, rel=1e-6)


def glowing(name: str, rim: float) -> tuple[Flows, Parameters]:
    """Flows of a burner whose gallery boils, with no air left in it, below a rim of this temperature [K]."""
    _, p, first = case(name)
    cold = liquid(first.gallery, 0.0, 0.0, p.gallery, p)
    heat = -cold.superheat * cold.capacity
    for _ in range(8):
        body = liquid(first.gallery, heat, 0.0, p.gallery, p)
        heat -= (body.superheat - 1e-3) * body.capacity
    collar_heat = p.collar.capacity * (rim - 298.15)
    rim_heat = p.walls.rim_capacity * (rim - 298.15)
    wall_heat = p.walls.dry_capacity * (0.5 * (rim + body.temperature) - 298.15)
    state = replace(first, gallery_heat=heat, collar_heat=collar_heat, rim_heat=rim_heat, wall_heat=wall_heat, air=0.0)
    return balances(state, Regime(0.0, 1.0, 0.0), p), p


@pytest.mark.parametrize(("name", "spirit"), [("double wall", "CH3OH"), ("open well", "C2H5OH")])
@pytest.mark.parametrize("rim", [420.0, 550.0, 650.0])
def test_dry_vapour_takes_up_its_gas_heat_from_the_hot_walls(name: str, spirit: str, rim: float) -> None:
    """The heat of NASA's polynomials for the same warming, and what a wall that grows hotter upwards can give.

    The second is integrated step by step with the heat capacity of each step: dT/dz = U A (T_wall - T)/(n cp). The
    burner takes one mean capacity for how far the vapour warms.
    """
    cantera = pytest.importorskip("cantera")
    flows, p = glowing(name, rim)
    gas, body = flows.gas, flows.gallery
    assert gas.through_jets > 1e-5
    assert gas.blow_back == gas.blow == gas.jet_air == 0.0
    wanted = {"CH3OH": "methanol", "C2H5OH": "ethanol", "H2O": "water"}
    by_name = {s.name: s.thermo for s in cantera.Species.list_from_file("nasa_gas.yaml") if s.name in wanted}
    names = case(name)[0].charge.fuel.components
    shares = {k: body.vapour[names.index(n)] for k, n in wanted.items() if n in names}
    assert spirit in shares
    assert sum(shares.values()) == pytest.approx(1.0)

    def enthalpy(temperature: float) -> float:
        return 1e-3 * sum(y * by_name[k].h(temperature) for k, y in shares.items())

    published = gas.through_jets * (enthalpy(gas.jet_temperature) - enthalpy(body.temperature))
    assert gas.jet_superheat == pytest.approx(published, rel=0.01)

    jets = p.jets
    transfer = jets.superheat_coefficient * jets.superheat_perimeter * (jets.mouth - body.level)
    steps, warm = 4000, body.temperature
    for k in range(steps):
        wall = body.temperature + (rim - body.temperature) * (k + 0.5) / steps
        capacity = 1e-3 * sum(y * by_name[s].cp(warm) for s, y in shares.items())
        warm += transfer / steps * (wall - warm) / (gas.through_jets * capacity)
    given = gas.through_jets * (enthalpy(warm) - enthalpy(body.temperature))
    assert gas.jet_superheat == pytest.approx(given, rel=0.03)


@pytest.mark.parametrize("taken", ["jet_superheat", "crossing_heat"])
@pytest.mark.parametrize("lit", [0.0, 1.0])
def test_the_rim_gives_what_the_vapour_takes_and_the_flame_has_it(taken: str, lit: float) -> None:
    """Ten watts more for the vapour are ten watts less for the rim and ten more in the flame's gas, or unburnt."""
    flows, p = glowing("open well", 550.0)
    regime = Regime(0.0, lit, lit)

    def given(more: float) -> tuple[float, float, float]:
        gas = replace(flows.gas, **{taken: getattr(flows.gas, taken) + more})
        fire = fire_flows(gas, flows.pool, flows.gallery, flows.well, 550.0, 550.0, NO_WICK, 0.0, regime, p)
        rates = derivatives(replace(flows, gas=gas, fire=fire), p)
        n = p.components
        return (
            unpack(rates, n).rim_heat + unpack(rates, n).collar_heat,
            fire.gas_heat,
            unpack_tallies(rates[state_size(n) :], n).unburnt_heat,
        )

    rim, burnt, unburnt = [b - a for a, b in zip(given(0.0), given(10.0), strict=True)]
    assert rim == pytest.approx(-10.0, rel=1e-9)
    assert burnt == pytest.approx(10.0 * lit, rel=1e-9, abs=1e-9)
    assert unburnt == pytest.approx(10.0 * (1.0 - lit), rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("name", NAMES)
def test_nothing_moves_before_the_match(name: str) -> None:
    """Levels stand even and no temperatures differ but the pot's: nothing but evaporation and the pot's heat."""
    setup, p, first = case(name)
    out = Regime(0.0, 0.0, 0.0)
    flows = settled(balances(first, out, p), p)
    assert abs(flows.slots.drive) < 1e-6
    assert flows.gallery.temperature == pytest.approx(setup.charge.temperature or setup.site.air_temperature, abs=1e-6)
    for heat in (flows.walls.outer_foot, flows.walls.divider, flows.walls.gallery_loss, flows.walls.rim_loss):
        assert abs(heat) < 1e-6
    assert flows.fire.jet_power == flows.fire.vent_power == flows.fire.wick_power == 0.0
    assert flows.fire.radiated == flows.pot.flue == 0.0
    assert all(guard < 0.0 for guard, event in zip(guards(flows, p), EVENTS, strict=True) if event != "spill")


@pytest.mark.parametrize(
    ("metal", "thickness"), [("aluminium", 0.1e-3), ("brass", 0.3e-3), ("steel", 0.4e-3), ("stainless steel", 0.3e-3)]
)
@pytest.mark.parametrize("film", [30.0, 80.0])
def test_a_dry_wall_warms_as_a_marched_fin(metal: str, thickness: float, film: float) -> None:
    """Cold wall between cold liquid and a warming rim, bathed by a flame: c t T_t = k t T_xx + h (T_f - T).

    200 cells, each between its neighbours, by SciPy. What has reached the liquid after 5 to 80 s is within a tenth of
    what a steady wall would pass in that time.
    """
    made = metal_of(metal)
    length, width, flame, cold = 0.027, 0.19, 1900.0, 293.0
    conductance = made.conductivity * thickness
    inertia = made.density * made.heat_capacity * thickness

    def rim(time: float) -> float:
        return 450.0 - 157.0 * exp(-time / 20.0)

    n = 200
    step = length / n

    def marched(time: float, y: NDArray[np.float64]) -> NDArray[np.float64]:
        whole = np.concatenate(([2.0 * cold - y[0]], y[:n], [2.0 * rim(time) - y[n - 1]]))
        slope = (conductance * np.diff(whole, 2) / step**2 + film * (flame - y[:n])) / inertia
        return np.append(slope, width * conductance * (y[0] - cold) / (0.5 * step))

    def ours(time: float, y: NDArray[np.float64]) -> list[float]:
        steady = strip(rim(time), flame, film, conductance, width, length)
        warm = as_warm(steady, y[0], rim(time), flame)
        into = warm.conductance * (warm.source - cold)
        out = steady.conductance * (rim(time) - flame) - steady.through * (cold - flame)
        more = y[0] - flame - steady.mean * (rim(time) + cold - 2.0 * flame)
        bathed = film * width * length * (flame - y[0])
        return [(bathed + out - steady.bent * more - into) / (inertia * width * length), into]

    times = [5.0, 20.0, 80.0]
    with np.errstate(invalid="ignore"):  # SciPy's BDF subtracts rows of its table before they are filled
        true = solve_ivp(marched, (0.0, 80.0), [*[cold] * n, 0.0], "BDF", times, rtol=1e-7, atol=1e-6).y[n]
        found = solve_ivp(ours, (0.0, 80.0), [cold, 0.0], "BDF", times, rtol=1e-8, atol=1e-6).y[1]
    for k, time in enumerate(times):
        steady = strip(rim(time), flame, film, conductance, width, length)
        at_once = steady.conductance * (steady.source - cold) * time
        assert found[k] == pytest.approx(true[k], abs=0.1 * at_once), time


@pytest.mark.parametrize("reach", [0.5e-3, 2e-3, 0.1])
def test_a_strip_is_the_exact_fin_however_little_gas_reaches_it(reach: float) -> None:
    """Without cancellation, 1 - 1/cosh r = 2 sinh^2(r/2)/cosh r: the heat must not jump where the gas begins to act."""
    conductance, perimeter, length = 0.02, 0.2, 0.02
    found = strip(400.0, 1500.0, (reach / length) ** 2 * conductance, conductance, perimeter, length)
    plain = conductance * perimeter / length
    assert found.conductance == pytest.approx(plain * reach / tanh(reach), rel=1e-12)
    assert found.through == pytest.approx(plain * reach / sinh(reach), rel=1e-12)
    assert found.source - 400.0 == pytest.approx(2200.0 * sinh(0.5 * reach) ** 2 / cosh(reach), rel=1e-6)


def test_a_wall_boils_by_its_own_excess_over_a_bulk_that_boils_under_pressure() -> None:
    """Chamber at 1 bar above the room: the bulk, far above its bubble point there, is at that of its chamber.

    The heat into it goes to 0 with the wall's excess, from both sides alike.
    """
    _, p, _ = case("plain rim")
    body = boiling(-30.0, 5e-6, "gallery", p)
    assert body.superheat == pytest.approx(30.0, abs=0.1)
    heats = []
    for excess in (-1e-3, 1e-3):
        source = Supply(0.5, body.temperature + excess)
        heats.append(foot_heat(source, body, p.gallery, p.walls.conductance, p.walls.outer_perimeter, p))
    assert heats[1] == pytest.approx(-heats[0], rel=1e-2)
    assert 0.0 < heats[1] < 0.5 * 1e-3


def test_the_first_drop_in_a_dry_well_moves_no_liquid_in_the_slots() -> None:
    """An empty well has no composition: with half the say in the slots' density, a picomole would shift it."""
    setup = vary(case("double wall")[0], {"charge.fuel": {"acetone": 0.5, "water": 0.5}})
    p = derive(setup)
    first = replace(first_state(setup, p), well=(0.0, 0.0))
    drops = [(0.0, 0.0), (1e-12, 0.0), (0.0, 1e-12)]
    speeds = [settled(balances(replace(first, well=drop), Regime(1.0, 0.0, 0.0), p), p).slots.speed for drop in drops]
    assert speeds[1:] == pytest.approx([speeds[0]] * 2, rel=1e-9)
    assert abs(speeds[0]) > 0.01
