"""Limits with exact answers, on the real balances and the real march.

A test alters the parameter record of a real setup (`_replace`) until only one law is left, and compares the march with
the answer by hand or with SciPy's integration of that law alone.
"""

from dataclasses import replace
from math import exp, sqrt, tanh

import numpy as np
import pytest
from burners import PALM, burnt
from numpy.typing import NDArray
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

import burnsim.solve.march as march_room
from burnsim.closures.boiling import COOPER_EXPONENT
from burnsim.constants import DATUM
from burnsim.model.balances.chambers import GAS_CONSTANT
from burnsim.model.balances.flows import balances
from burnsim.model.balances.state import Regime, State, Tallies, state_size, unpack, unpack_tallies
from burnsim.model.description.burner import Burner
from burnsim.model.description.conditions import Charge, Pot
from burnsim.model.description.parts import FeedSlots, Jets, Wick
from burnsim.model.description.setup import Setup
from burnsim.model.parameters.derive import derive, first_state
from burnsim.model.parameters.record import Parameters
from burnsim.solve.run import March, march
from burnsim.substances.blend import blend
from burnsim.substances.equilibrium import bubble_temperature, vapour_composition
from burnsim.substances.fuel import liquid_enthalpy, liquid_volume, viscosity

GRAVITY = 9.80665
ML = 1e-6
NO_FLAME = Regime(0.0, 0.0, 0.0)
COLD_WICK = Regime(1.0, 0.0, 0.0)
TIGHT = 1e-6

DOUBLE = Setup(
    replace(PALM, wick=Wick()),
    Charge(blend("methanol"), volume=37 * ML, primer=3 * ML),
    Pot(diameter=0.14, height=0.09, water=0.5e-3, water_temperature=350.0),
)
STAND = replace(DOUBLE, pot=Pot(0.14, 0.09, water=0.5e-3, water_temperature=350.0, rest="stand", gap=25e-3))
SEALED = Setup(
    Burner(
        "sealed chamber",
        outer_diameter=70e-3,
        height=40e-3,
        wall_thickness=0.3e-3,
        jets=Jets(16, 2.0e-3, direction="top", ring_diameter=50e-3),
    ),
    Charge(blend("2-propanol 70"), volume=45 * ML),
)


def quiet(p: Parameters) -> Parameters:
    """Nothing evaporates and nothing can be lit; see `airy` for the state to start from."""
    limits = tuple([1e9] * p.components)
    return replace(p, fuel=replace(p.fuel, diffusivity=0.0), fire=replace(p.fire, lower_limit=limits))


def airy(state: State) -> State:
    """The state with no vapour in the gallery's headspace: more air than it holds."""
    return replace(state, air=1.0)


def insulated(p: Parameters) -> Parameters:
    """No heat is lost to the room and none to the pot."""
    return replace(
        p,
        gallery=replace(p.gallery, loss=0.0),
        well=replace(p.well, loss=0.0),
        collar=replace(p.collar, loss=0.0, emission=0.0),
        walls=replace(p.walls, rim_loss=0.0, rim_emission=0.0, contact=0.0, pot_emission=0.0),
    )


def at(course: March, time: float, n: int) -> tuple[State, Tallies]:
    for phase in course.phases:
        for step in phase.steps:
            if step.start <= time <= step.start + step.length + 1e-9:
                y = step.at(time).tolist()
                return unpack(y, n), unpack_tallies(y[state_size(n) :], n)
    raise AssertionError(f"{time} s is not in the march")


def cold_wick(p: Parameters) -> Parameters:
    """A pilot that gives no heat and lasts: it only keeps the march going past the events of liquids."""
    return replace(
        p,
        wick=replace(
            p.wick, heating_value=0.0, film_rate=1e-12, supply_rate=1e-3, hold_rate=1e-18, conduction=0.0, chill=0.0
        ),
    )


def warmed(p: Parameters, state: State, gallery: float, well: float, rim: float) -> State:
    """The state with its compartments at other temperatures, and no vapour in the headspace."""

    def heat(moles: tuple[float, ...], metal: float, temperature: float) -> float:
        warm = sum(n * liquid_enthalpy(p.fuel.liquid_heat[i], temperature) for i, n in enumerate(moles))
        return warm + metal * (temperature - DATUM)

    return replace(
        airy(state),
        gallery_heat=heat(state.gallery, p.gallery.metal, gallery),
        well_heat=heat(state.well, p.well.metal, well),
        collar_heat=p.collar.capacity * (rim - DATUM),
        rim_heat=p.walls.rim_capacity * (rim - DATUM),
        wall_heat=p.walls.dry_capacity * (0.5 * (rim + gallery) - DATUM),
    )


def test_hot_pot_cools_as_the_exponential() -> None:
    """Under a lid nothing evaporates: (m c + C) dT/dt = -G (T - T_room), here without any change of a parameter."""
    p = derive(DOUBLE)
    p = replace(p, walls=replace(p.walls, contact=0.0, pot_emission=0.0), vent=replace(p.vent, open=1.0))
    first = first_state(DOUBLE, p)
    course = march(p, first, (3600.0, NO_FLAME), TIGHT)
    capacity = first.water * p.pot.water_heat + p.pot.metal
    loss = p.pot.lid_loss * p.pot.disc_area
    loss += p.pot.side_loss * p.pot.wet_wall_area_per_kg * first.water
    dry = p.pot.height - p.pot.wet_wall_area_per_kg * first.water / p.way.edge
    decay = sqrt(p.pot.side_loss / p.pot.wall_conductance)
    loss += p.pot.side_loss * p.way.edge * tanh(decay * dry) / decay  # the dry wall above, as a straight fin
    for time in (10.0, 600.0, 3600.0):
        state, _ = at(course, time, p.components)
        wanted = 293.15 + (350.0 - 293.15) * exp(-loss * time / capacity)
        assert DATUM + state.pot_heat / capacity == pytest.approx(wanted, abs=1e-5)
    assert wanted < 345.0


def test_warm_burner_cools_as_four_exponentials() -> None:
    """Gallery, well, collar and rim parted from each other: each loses its heat to the room by itself."""
    p = quiet(derive(DOUBLE))
    p = replace(
        p,
        fuel=replace(p.fuel, liquid_heat=tuple((a, 0.0) for a, _ in p.fuel.liquid_heat)),
        slots=replace(p.slots, area=0.0),
        gallery=replace(p.gallery, loss=0.02),
        well=replace(p.well, loss=0.01),
        collar=replace(p.collar, rise=0.0, loss=0.005, emission=0.0),
        walls=replace(
            p.walls,
            divider=0.0,
            bridge=0.0,
            contact=0.0,
            rim_loss=0.03,
            rim_emission=0.0,
            pot_emission=0.0,
            underside=0.0,
            conductance=1e-14,
        ),
    )
    first = warmed(p, first_state(DOUBLE, p), 320.0, 310.0, 420.0)
    course = march(p, first, (2000.0, NO_FLAME), TIGHT)
    own = p.fuel.liquid_heat[0][0]
    nodes = (
        (320.0, 0.02, first.gallery[0] * own + p.gallery.metal),
        (310.0, 0.01, first.well[0] * own + p.well.metal),
        (420.0, 0.005, p.collar.capacity),
        (420.0, 0.03, p.walls.rim_capacity),
    )
    for time in (20.0, 300.0, 2000.0):
        flows = balances(at(course, time, 1)[0], NO_FLAME, p)
        found = (flows.gallery.temperature, flows.well.temperature, flows.collar_temperature, flows.rim_temperature)
        for (start, loss, capacity), temperature in zip(nodes, found, strict=True):
            wanted = 293.15 + (start - 293.15) * exp(-loss * time / capacity)
            assert temperature == pytest.approx(wanted, abs=2e-4), time


def test_hot_rim_cools_as_the_fourth_power() -> None:
    """Nothing but radiation: C dT/dt = -eps sigma A (T^4 - T_room^4), and the same to the pot, with SciPy."""
    p = derive(DOUBLE)
    first = first_state(DOUBLE, p)
    pot = replace(p.pot, lid_loss=0.0, side_loss=0.0, metal=1e9)  # it stays as warm as it is
    p = replace(
        p,
        slots=replace(p.slots, area=0.0),
        collar=replace(p.collar, rise=0.0),
        walls=replace(
            p.walls,
            divider=0.0,
            bridge=0.0,
            contact=0.0,
            rim_loss=0.0,
            underside=0.0,
            conductance=1e-14,
            pot_emission=2e-12,
        ),
        pot=pot,
    )
    first = replace(warmed(p, first, 293.15, 293.15, 1100.0), pot_heat=(350.0 - DATUM) * 1e9)
    course = march(p, first, (600.0, NO_FLAME), TIGHT)

    def slope(_: float, y: NDArray[np.float64]) -> list[float]:
        to_room = p.walls.rim_emission * (y[0] ** 4 - 293.15**4)
        return [-(to_room + p.walls.pot_emission * (y[0] ** 4 - 350.0**4)) / p.walls.rim_capacity]

    truth = solve_ivp(slope, (0.0, 600.0), [1100.0], rtol=1e-10, dense_output=True)
    for time in (20.0, 200.0, 600.0):
        found = balances(at(course, time, 1)[0], NO_FLAME, p).rim_temperature
        assert found == pytest.approx(truth.sol(time)[0], abs=1e-3), time
    assert found < 900.0


def radiated_only(setup: Setup) -> tuple[Parameters, State, float]:
    """A wick that burns evenly and heats the pot by radiation alone, and that constant power [W]."""
    p = insulated(quiet(derive(setup)))
    wick = replace(
        p.wick,
        capacity=1e-4,
        supply_rate=p.wick.film_rate,
        conduction=0.0,
        chill=0.0,
        wall_coefficient=0.0,
        rim_coefficient=0.0,
        overflow_rate=0.0,
    )
    p = replace(p, flame_to_pot=0.0, wick=wick)
    first = replace(first_state(setup, p), wick=10.0)
    rate = 0.5 * p.wick.film_rate  # film and supply in series, both alike
    power = rate * p.wick.heating_value * p.radiant_fraction * p.pot.view_factor * p.pot.absorptivity
    return p, first, power


def test_constant_power_heats_the_water_linearly(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(march_room, "HORIZON", 300.0)
    p, first, power = radiated_only(STAND)
    p = replace(p, pot=replace(p.pot, lid_loss=0.0))
    course = march(p, first, (0.0, COLD_WICK), TIGHT)
    assert power > 1.0
    capacity = first.water * p.pot.water_heat + p.pot.metal
    for time in (50.0, 150.0, 300.0):
        state, _ = at(course, time, 1)
        assert state.pot_heat / capacity == pytest.approx(350.0 - DATUM + power * time / capacity, abs=1e-9)


def test_constant_power_and_linear_loss_give_the_exponential(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(march_room, "HORIZON", 5000.0)
    p, first, power = radiated_only(STAND)
    loss = p.pot.lid_loss * p.pot.disc_area
    level = 293.15 + power / loss
    capacity = first.water * p.pot.water_heat + p.pot.metal
    course = march(p, first, (0.0, COLD_WICK), TIGHT)
    for time in (50.0, 1000.0, 5000.0):
        state, _ = at(course, time, 1)
        wanted = level + (350.0 - level) * exp(-loss * time / capacity)
        assert DATUM + state.pot_heat / capacity == pytest.approx(wanted, abs=1e-5)
    assert abs(wanted - 350.0) > 1.0


def test_constant_power_boils_water_off_linearly(monkeypatch: pytest.MonkeyPatch) -> None:
    """At the boil every watt leaves as steam, within 0.2 K of the boiling point: -dm/dt = P/h_fg."""
    monkeypatch.setattr(march_room, "HORIZON", 3000.0)
    p, first, power = radiated_only(STAND)
    p = replace(p, pot=replace(p.pot, lid_loss=0.0))
    capacity = first.water * p.pot.water_heat + p.pot.metal
    boiling = p.pot.boiling_point
    first = replace(first, pot_heat=capacity * (boiling - 0.01 - DATUM))
    course = march(p, first, (0.0, COLD_WICK), TIGHT)
    assert [event.name for event in course.events] == ["lit", "boil"]
    assert course.events[1].time == pytest.approx(0.01 * capacity / power, abs=1e-3)
    (early, _), (late, _) = at(course, 1500.0, 1), at(course, 3000.0, 1)
    hot = DATUM + late.pot_heat / (late.water * p.pot.water_heat + p.pot.metal)
    assert boiling <= hot <= boiling + 0.2 + 1e-6
    h0, slope = p.pot.steam_heat
    steam = h0 + slope * (hot - DATUM)
    latent = steam - p.pot.water_heat * (hot - DATUM)
    assert latent == pytest.approx(2.2564e6, rel=0.005)  # IAPWS, 100 degC, from memory
    gone = early.water - late.water
    assert gone == pytest.approx(power * 1500.0 / latent, rel=1e-3)  # the last hundredths of a kelvin still come in
    assert gone * steam + late.pot_heat - early.pot_heat == pytest.approx(power * 1500.0, rel=1e-6)


def test_closed_burner_without_flame_comes_to_rest() -> None:
    """Liquids and metal reach the one temperature that their enthalpy fixes; levels differ by the capillary lift."""
    narrow = Setup(
        Burner(
            "double wall",
            outer_diameter=62e-3,
            height=45e-3,
            gallery_gap=1.0e-3,
            jets=Jets(26, 0.6e-3, 39e-3),
            feed_slots=FeedSlots(),
        ),
        Charge(blend("ethanol 95"), volume=37 * ML),
        Pot(diameter=0.14, height=0.09, water=0.5e-3),
    )
    p = insulated(quiet(derive(narrow)))
    even = first_state(narrow, p)
    moved = 0.3
    first = replace(
        even,
        gallery=tuple((1.0 - moved) * n for n in even.gallery),
        well=tuple(w + moved * g for g, w in zip(even.gallery, even.well, strict=True)),
    )
    first = warmed(p, first, 315.0, 295.0, 350.0)
    course = march(p, first, (40000.0, NO_FLAME), 1e-5)
    end, tallies = at(course, 40000.0, 2)
    flows = balances(end, NO_FLAME, p)

    heats = (first.gallery_heat, first.well_heat, first.collar_heat, first.rim_heat, first.wall_heat)
    total = sum(heats)
    left = end.gallery_heat + end.well_heat + end.collar_heat + end.rim_heat + end.wall_heat
    assert left == pytest.approx(total, abs=1e-12 * sum(map(abs, heats)))
    metal = p.gallery.metal + p.well.metal + p.collar.capacity + p.walls.rim_capacity + p.walls.dry_capacity
    moles = [first.gallery[i] + first.well[i] for i in range(2)]

    def spare(temperature: float) -> float:
        liquid = sum(n * liquid_enthalpy(p.fuel.liquid_heat[i], temperature) for i, n in enumerate(moles))
        return liquid + metal * (temperature - DATUM) - total

    rest = brentq(spare, 280.0, 350.0, xtol=1e-12)
    assert flows.gallery.temperature == pytest.approx(rest, abs=1e-4)
    assert flows.well.temperature == pytest.approx(rest, abs=1e-4)
    assert flows.rim_temperature == pytest.approx(rest, abs=1e-4)

    # Jurin between wetted plates, 2 sigma/(rho g gap): 22.4 mN/m and 808 kg/m3 near 20 degC, from memory
    assert p.slots.lift == pytest.approx(2 * 22.4e-3 / (808.0 * GRAVITY * 1.0e-3), rel=0.05)
    assert flows.gallery.level - flows.well.level == pytest.approx(p.slots.lift, abs=1e-6)
    for i in range(2):
        assert end.gallery[i] + end.well[i] == pytest.approx(moles[i], rel=1e-12)
    assert sum(tallies.burnt) + sum(tallies.unburnt) + sum(tallies.spilled) == 0.0


def isothermal(setup: Setup) -> tuple[Parameters, State]:
    p = insulated(quiet(derive(setup)))
    p = replace(p, walls=replace(p.walls, conductance=1e-14, divider=0.0, bridge=0.0))
    first = first_state(setup, p)
    temperature = setup.charge.temperature or setup.site.air_temperature
    return p, warmed(p, first, temperature, temperature, temperature)


def test_levels_even_out_by_torricelli_and_poiseuille() -> None:
    """Gallery and well through the feed slots at one temperature: SciPy on dp = rho/2 (K u |u| + k nu/d u) alone."""
    p, even = isothermal(DOUBLE)
    total = even.gallery[0] + even.well[0]
    first = replace(even, gallery=(0.6 * total,), well=(0.4 * total,))
    first = warmed(p, first, 293.15, 293.15, 293.15)
    molar = liquid_volume((1.0,), 293.15, p.fuel)
    density = p.fuel.molar_mass[0] / molar
    nu = viscosity(293.15, p.fuel) / density
    slots = p.slots

    def slope(_: float, y: NDArray[np.float64]) -> list[float]:
        head = GRAVITY * (y[0] * molar / p.gallery.area - y[1] * molar / p.well.area - slots.lift)
        drag = slots.laminar_loss * nu / slots.diameter
        # positive root of K u^2/2 + drag u/2 = |head|
        speed = (-drag + sqrt(drag**2 + 8.0 * slots.inertial_loss * abs(head))) / (2.0 * slots.inertial_loss)
        flow = np.copysign(speed, head) * slots.area / molar
        return [-flow, flow]

    truth = solve_ivp(
        slope, (0.0, 8.0), [first.gallery[0], first.well[0]], method="Radau", rtol=1e-10, atol=1e-12, dense_output=True
    )
    course = march(p, first, (8.0, NO_FLAME), TIGHT)
    started = first.gallery[0] * molar / p.gallery.area - first.well[0] * molar / p.well.area
    assert started > 10e-3
    for time in (0.1, 0.3, 1.0, 2.0, 8.0):
        found = at(course, time, 1)[0].gallery[0]
        assert found == pytest.approx(truth.sol(time)[0], abs=2e-5 * total), time
    assert molar * (found / p.gallery.area - (total - found) / p.well.area) == pytest.approx(slots.lift, abs=2e-5)


def test_liquid_above_the_jets_runs_out_by_torricelli(monkeypatch: pytest.MonkeyPatch) -> None:
    """sqrt(h) falls linearly while h is above one jet diameter: d sqrt(h)/dt = -N a/(2 A) sqrt(2 g/K)."""
    monkeypatch.setattr(march_room, "HORIZON", 30.0)
    setup = Setup(
        Burner("sealed chamber", outer_diameter=70e-3, height=40e-3, jets=Jets(4, 1.0e-3, 20e-3), wick=Wick()),
        Charge(blend("ethanol"), volume=100 * ML, primer=1 * ML),
    )
    p, first = isothermal(setup)
    course = march(cold_wick(p), first, (0.0, COLD_WICK), TIGHT)
    holes = 4.0 * np.pi / 4.0 * 1.0e-3**2
    area = np.pi / 4.0 * (70e-3 - 0.2e-3) ** 2
    edge = 20e-3 - 0.5e-3
    started = balances(first, NO_FLAME, p).gallery.level - edge
    fall = holes / (2.0 * area) * sqrt(2.0 * GRAVITY / p.jets.outlet.inertial_loss)
    assert p.jets.outlet.inertial_loss == pytest.approx(1.0 / 0.61**2, rel=0.05)  # thin plate: 0.61
    assert "spill" in [event.name for event in course.events]
    for time in (5.0, 15.0, 30.0):
        state, tallies = at(course, time, 1)
        head = balances(state, NO_FLAME, p).gallery.level - edge
        assert head > 1.0e-3
        assert sqrt(head) == pytest.approx(sqrt(started) - fall * time, abs=1e-6)
        assert tallies.spilled[0] + state.gallery[0] == pytest.approx(first.gallery[0], rel=1e-13)
    assert started - head > 2e-3


def test_manometer_of_a_covered_well() -> None:
    """A boiling well under a pot on a plain rim: its pressure stands against the gallery's liquid, 13.7 mm/100 Pa.

    The figure is 100 Pa/(rho g) for alcohol of 745 kg/m3, near its boiling point.
    """
    result = burnt(DOUBLE, 1e-4)
    p = result.parameters
    seen = 0
    for flows in map(result.flows, result.time.tolist()):
        pressure = flows.gas.well_pressure - flows.gas.gallery_pressure
        shallow = min(flows.gallery.level, flows.well.level) < 2.0 * p.slots.height
        if shallow or pressure < 20.0 or flows.gas.spill_flow > 0.0:
            continue
        seen += 1
        difference = flows.gallery.level - flows.well.level - p.slots.lift
        density = 0.5 * (flows.gallery.density + flows.well.density)
        lag = abs(flows.slots.loss)  # what the slots themselves take at this instant's flow
        assert GRAVITY * density * difference == pytest.approx(pressure, abs=lag + 1e-3 * pressure + 0.05)
        if lag < 0.01 * pressure:
            assert difference * 100.0 / pressure == pytest.approx(13.7e-3, rel=0.05)
    assert seen > 5


def test_blend_distils_as_rayleigh() -> None:
    """Lord Rayleigh (1902), Phil. Mag. 4, 521: dx/d ln n = y - x while a still boils; here 2-propanol and water.

    The rim is held hot and no flame stands; boiling is made easy so that the liquid stays at its bubble point.
    """
    p = derive(SEALED)
    p = replace(
        p,
        fuel=replace(p.fuel, diffusivity=0.0),
        boil_coefficient=5.0 * p.boil_coefficient,
        boil_power=5.0**COOPER_EXPONENT * p.boil_power,
        bubble_subcooling=0.5,
        hot_top=0.0,
        walls=replace(p.walls, rim_capacity=1e9, rim_loss=0.0, rim_emission=0.0),
        gallery=replace(p.gallery, loss=0.0),
    )
    start = first_state(SEALED, p)
    boiling = bubble_temperature(SEALED.charge.fuel.mole_fractions, p.site.pressure, p.fuel)
    first = replace(warmed(p, start, boiling - 0.5, 293.15, 450.0), air=start.air)
    course = march(p, first, (20000.0, NO_FLAME), 1e-5)
    had = np.array(first.gallery)
    total = had.sum()

    def slope(_: float, n: NDArray[np.float64]) -> NDArray[np.float64]:
        x = n / n.sum()
        y = x
        for _ in range(20):  # the headspace holds vapour: P V/(R T) of what is not liquid
            at_bubble = bubble_temperature((float(x[0]), float(x[1])), p.site.pressure, p.fuel)
            y = np.array(vapour_composition((float(x[0]), float(x[1])), at_bubble, p.fuel))
            free = p.gallery.area * p.gallery.height - liquid_volume((float(n[0]), float(n[1])), at_bubble, p.fuel)
            wet = n / (1.0 + p.site.pressure * free / (GAS_CONSTANT * at_bubble) / n.sum() * y / x)
            x = wet / wet.sum()
        return -y

    truth = solve_ivp(slope, (0.0, 0.93 * total), had, rtol=1e-8, atol=1e-10, dense_output=True)
    compared = 0
    for step in course.phases[0].steps:
        state = unpack(step.after.tolist(), 2)
        left = sum(state.gallery)
        if not 0.08 < left / total < 0.98:
            continue
        compared += 1
        assert state.gallery[0] / left == pytest.approx(truth.sol(total - left)[0] / left, abs=1e-3)
    assert compared > 10
    assert state.gallery[0] < 0.5 * left < 0.5 * had[0]


@pytest.mark.parametrize("setup", [DOUBLE, SEALED], ids=["double wall", "sealed chamber"])
def test_without_wick_and_flame_everything_is_conserved(setup: Setup) -> None:
    """A warm burner left alone for an hour, losses and evaporation at work: moles and joules are all found again."""
    p = derive(setup)
    n = p.components
    cold = first_state(setup, p)
    first = replace(warmed(p, cold, 330.0, 325.0, 360.0), air=cold.air)
    course = march(p, first, (3600.0, NO_FLAME), 1e-4)
    end, tallies = at(course, 3600.0, n)
    for i in range(n):
        had = first.gallery[i] + first.well[i]
        has = end.gallery[i] + end.well[i] + tallies.unburnt[i] + tallies.spilled[i] + tallies.burnt[i]
        assert has == pytest.approx(had, rel=1e-12)
        assert tallies.burnt[i] == 0.0 < tallies.unburnt[i]
    before = sum((first.gallery[i] + first.well[i]) * p.fire.heating_value[i] for i in range(n))
    before += (
        first.gallery_heat + first.well_heat + first.collar_heat + first.rim_heat + first.wall_heat + first.pot_heat
    )
    after = sum((end.gallery[i] + end.well[i]) * p.fire.heating_value[i] for i in range(n))
    after += end.gallery_heat + end.well_heat + end.collar_heat + end.rim_heat + end.wall_heat + end.pot_heat
    after += tallies.unburnt_heat + tallies.spilled_heat + tallies.burner_loss + tallies.pot_loss + tallies.steam
    after += tallies.flue + tallies.radiated
    assert after == pytest.approx(before, rel=1e-12)
    assert tallies.burner_loss > 1.0
