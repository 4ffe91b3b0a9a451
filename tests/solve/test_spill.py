"""What lifts the liquid to the jets: sums that close, heads by the manometer, and what leads."""

import math
from functools import cache
from pathlib import Path

import pytest
from burners import burnt

import burnsim
from burnsim.model.balances.chambers import GAS_CONSTANT
from burnsim.model.balances.events import froth_level
from burnsim.model.description import geometry
from burnsim.model.description.parts import Notches
from burnsim.model.description.vary import vary
from burnsim.solve.results.result import Burn
from burnsim.solve.results.spill import Levels, in_words, levels, spill_sentence
from burnsim.studies.fill.cold import cold_fill, gallery_holds
from burnsim.studies.fill.spill_runs import closed, poor_contact
from burnsim.substances.blend import blend, density, fuel_record
from burnsim.substances.equilibrium import bubble_temperature
from burnsim.substances.fuel import liquid_volume
from burnsim.units import plain

WEEKEND = burnsim.load(Path(__file__).parents[2] / "examples" / "weekend_double_wall.toml")
ML = 1e-6
GRAVITY = 9.80665


@cache
def pressed() -> Burn:
    """A load that fits into the gallery below the jets, the well sealed and the pot warm."""
    held = gallery_holds(WEEKEND)
    assert held is not None
    return sealed(0.97 * held)


@cache
def sealed(load: float) -> Burn:
    shut = closed(vary(WEEKEND, {"charge.volume": load, "charge.primer": 4 * ML}))  # more spirit, more primer
    assert not isinstance(shut, str)
    return burnt(poor_contact(shut))


@cache
def overfilled() -> Burn:
    return burnt(vary(WEEKEND, {"charge.volume": 116 * ML, "site.tilt": "2 deg"}))


@pytest.mark.parametrize("fuel", ["methanol", "ethanol"])
def test_a_hundred_pascals_lift_alcohol_by_13_7_mm(fuel):
    """Within 2 % for alcohol near its boiling point."""
    spirit = blend(fuel)
    boiling = bubble_temperature(spirit.mole_fractions, 101325.0, fuel_record(spirit))
    assert 100.0 / (density(spirit, boiling) * GRAVITY) == pytest.approx(13.7e-3, rel=0.02)


def test_the_sealed_well_is_a_manometer():
    """Gallery over well, but for the capillary lift, is the difference of their pressures over rho g: within 2 %."""
    run = sealed(60 * ML)
    lift = run.parameters.slots.lift
    seen = 0
    for time in run.time.tolist():
        flows = run.flows(time)
        head = (flows.gas.well_pressure - flows.gas.gallery_pressure) / (flows.gallery.density * GRAVITY)
        if head > 5e-3 and flows.well.level > 2.5e-3 and abs(flows.slots.speed) < 5e-3:
            assert flows.gallery.level - flows.well.level - lift == pytest.approx(head, rel=0.02)
            seen += 1
    assert seen > 3


def test_what_fits_into_the_gallery_is_never_pressed_out():
    run = pressed()
    assert run.well_pressure_max > 100.0  # enough to lift it by half an inch
    assert run.milestones.spill.time is None
    assert run.spill_levels is None
    assert run.mass.spilled == 0.0


def test_the_breakdown_adds_up_to_the_froth():
    run = pressed()
    for share in (0.0, 0.02, 0.1, 0.5, 0.9):
        time = share * float(run.time[-1])
        flows = run.flows(time)
        found = levels(run.setup, run.parameters, run.state(time)[0], froth_level(flows, run.parameters))
        parts = found.cold + found.expansion + found.capillary + found.pressure + found.swell
        assert parts == pytest.approx(found.froth, abs=1e-12)
        assert found.froth == pytest.approx(froth_level(flows, run.parameters), abs=1e-12)
        assert found.clearance == pytest.approx(38.5e-3 - found.froth, abs=1e-12)


def test_a_cold_breakdown_by_hand():
    """As poured: no expansion, no pressure, no swell; the lift shared between gallery and well by their areas."""
    run = pressed()
    found = levels(run.setup, run.parameters, run.state(0.0)[0], run.flows(0.0).gallery.level)
    gallery = math.pi / 4.0 * (61.8e-3**2 - 52.8e-3**2)
    well = math.pi / 4.0 * 52.6e-3**2
    free = (
        gallery * run.parameters.gallery.height - (found.cold + found.capillary) * gallery
    )  # its air holds vapour of what was poured
    cool = run.setup.site.air_temperature
    saturated = run.flows(0.0).gallery.bubble_pressure * free / (GAS_CONSTANT * cool)
    gone = liquid_volume((saturated,), cool, run.parameters.fuel)
    wanted = (run.setup.charge.volume - gone) / (gallery + well)
    assert found.cold == pytest.approx(wanted, abs=0.02 * gone / (gallery + well))  # right to first order in it
    assert found.capillary == pytest.approx(run.parameters.slots.lift * well / (gallery + well), rel=1e-6)
    assert abs(found.expansion) < 1e-9
    assert abs(found.pressure) < 1e-6
    assert found.swell == 0.0


def test_an_overfilled_burner_loses_what_stands_above_its_jets_and_goes_on():
    """On a stand that leans 2 degrees: at least what the cold limit leaves over, and all of it in the ledgers.

    No more than that and what expansion and froth can push past the jets besides.
    """
    run = overfilled()
    assert run.milestones.spill.time == 0.0
    found = run.spill_levels
    assert found is not None
    assert found.lead == "overfill" if found.cold + found.capillary >= 38.5e-3 else "tilt"
    assert found.tilt == pytest.approx(30.9e-3 * math.tan(math.radians(2.0)), rel=1e-9)
    fuel = run.setup.charge.fuel
    cold_limit = cold_fill(run.setup, run.setup.site.tilt).volume
    spilled = run.mass.spilled / density(fuel, 293.15)
    surplus = 116 * ML - cold_limit
    boiling = bubble_temperature(fuel.mole_fractions, 101325.0, fuel_record(fuel))
    expands = density(fuel, 293.15) / density(fuel, boiling) - 1.0  # from first to last of it, at most
    rises = [
        froth_level(flows, run.parameters) - flows.gallery.level
        for flows in map(run.flows, run.time.tolist())
        if flows.gas.spill_flow > 0.0
    ]
    swells = max(rises) * (run.parameters.gallery.area + run.parameters.well.area)
    assert surplus < spilled < surplus + expands * cold_limit + swells
    assert run.ended == "burnt out"
    assert abs(run.mass.residual) < 1e-9
    assert abs(run.energy.residual) < 1e-6
    text = next(plain(verdict.text) for verdict in run.verdicts if verdict.code == "spills")
    assert f"{spilled / ML:.1f} ml run out" in text
    assert "Dry faces" in text


def test_tilt_brings_the_spill_nearer_by_the_radius_times_its_tangent():
    run = overfilled()
    upright = WEEKEND.burner.jets
    assert upright is not None
    assert run.parameters.jets.lower_edge == pytest.approx(
        upright.height - upright.diameter / 2.0 - 30.9e-3 * math.tan(math.radians(2.0)), rel=1e-9
    )
    lip = 45e-3 - 26.3e-3 * math.tan(math.radians(2.0))
    assert run.parameters.well.lip == pytest.approx(lip, rel=1e-9)


def test_a_full_cup_runs_over_as_it_is_tilted():
    cup = burnsim.load(Path(__file__).parents[2] / "examples" / "garden_open_cup.toml")
    run = burnt(vary(cup, {"charge.volume": 78 * ML, "site.tilt": "5 deg"}))
    assert run.milestones.spill.time == 0.0
    found = run.spill_levels
    assert found is not None
    assert found.lead == "tilt"
    spilled = run.mass.spilled / density(cup.charge.fuel, cup.site.air_temperature)
    assert spilled == pytest.approx(78 * ML - cold_fill(cup, math.radians(5.0)).volume, abs=1.0 * ML)
    assert "reaches the rim" in next(plain(verdict.text) for verdict in run.verdicts if verdict.code == "spills")


def made(**changes: float) -> Levels:
    even = Levels(20e-3, 1e-3, 0.5e-3, 2e-3, 1e-3, 24.5e-3, 24.5e-3, 0.0, 10e-3, 45e-3, 11e-3, 3e-3)
    return even._replace(**changes)


@pytest.mark.parametrize(
    ("changes", "lead"),
    [
        ({}, "pressure"),
        ({"swell": 5e-3}, "swell"),
        ({"expansion": 4e-3}, "expansion"),
        ({"cold": 24.2e-3}, "overfill"),
        ({"cold": 15e-3, "capillary": 10e-3}, "capillary"),
        ({"tilt": 4.5e-3}, "tilt"),
        ({"froth": 12e-3, "well": 45e-3}, "rim"),
        ({"froth": 12e-3, "well": 45e-3, "well_rest": 45e-3}, "notch"),
        ({"froth": 12e-3, "well": 45e-3, "well_rest": 44e-3}, "rim"),
    ],
)
def test_what_leads(changes, lead):
    assert made(**changes).lead == lead


def test_what_is_poured_above_a_notch_is_told_as_that():
    """Three notches 16 mm deep, and liquid that stands 1 mm above their foot at rest: no pressure has a part in it."""
    notched = vary(WEEKEND, {"burner.relief": Notches(3, 3e-3, 16e-3)})
    brim = cold_fill(notched, 0.0)
    assert brim.binding == "rim"
    area = geometry.gallery_area(notched.burner) + geometry.well_area(notched.burner)
    run = burnt(vary(notched, {"charge.volume": brim.volume + 1e-3 * area}))
    found = run.spill_levels
    assert run.milestones.spill.time == 0.0
    assert found is not None
    assert found.lead == "notch"
    assert found.well_rest == pytest.approx(brim.well + 1e-3, abs=0.05e-3)
    text = next(plain(verdict.text) for verdict in run.verdicts if verdict.code == "spills")
    assert text.startswith("Liquid reaches the rim before the match: it is filled above the lip of the well")
    assert "pressure" not in text
    lip = brim.well * 1e3
    assert f"as it is poured the well stands at {lip + 1.0:.1f} mm, its lip at {lip:.1f} mm" in text


def test_a_spill_beside_a_flame_is_a_fire_at_the_foot():
    """What left is told with its share of all the fuel, and before all else; a burn that does not spill has no such."""
    run = overfilled()
    assert run.verdicts[0].code == "fire at the foot"
    share = run.mass.spilled / run.mass.charged
    assert f"({100.0 * share:.0f} % of the fuel)" in plain(run.verdicts[0].text)
    assert "Do not light it" in plain(run.verdicts[0].text)
    calm = burnt(WEEKEND)
    assert calm.milestones.spill.time is None
    assert not any(verdict.code == "fire at the foot" for verdict in calm.verdicts)


def test_the_breakdown_in_words():
    assert "less 2.0 mm for the tilt" in plain(in_words(made(tilt=2e-3)))
    assert "swell +1.0" in plain(in_words(made()))
    assert "swell" not in plain(in_words(made(swell=0.0)))
    cup = Levels(20e-3, 0.0, 0.0, 0.0, 0.0, 20e-3, 25e-3, 5e-3, 20e-3, 25e-3, 0.0, 3e-3)
    assert plain(in_words(cup)) == "cold level 20.0 mm, edge at 25.0 mm less 5.0 mm for the tilt"  # no sum of one


def test_what_pressure_pushes_out_needs_relief():
    """4 ml left; the froth rose 20 mm above the edge in the end, and dry jets hold back 11 mm."""
    mass = 4 * ML * density(WEEKEND.charge.fuel, WEEKEND.site.air_temperature)
    text = plain(spill_sentence(WEEKEND, 61.2, made(), 44.5e-3, mass))
    assert text.startswith("Liquid or froth reaches the jets at 1 min 1 s: the well's pressure pushes the liquid over")
    assert "4.0 ml run out. Dry faces of the jets hold back 11.0 mm more" in text
    assert "it rises higher even than that." in text
    assert text.endswith(" The burner needs relief notches, or a pot on bumps.")
    swollen = plain(spill_sentence(WEEKEND, 61.2, made(swell=5e-3), 26e-3, mass))
    assert "relief" not in swollen
    assert swollen.endswith("and wetted ones nothing.")
