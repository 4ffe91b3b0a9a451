"""Resolved flames: the table is sound, and the library is asked what the flames were asked."""

import math
from dataclasses import replace
from itertools import combinations, pairwise
from math import pi
from pathlib import Path
from statistics import linear_regression

import pytest
from resolved.asked import ASKED, asked
from resolved.cases import TABLE, case, once, read
from resolved.generator.chemistry import reaction
from resolved.ours import DIAMETER, ROOM, WICK_VAPOUR, as_vapour, flows_of, hot_sheet, ours, setup_of
from resolved.table import WALL_PART, judge
from scipy.stats import pearsonr

from burnsim.closures.evaporation import spalding_number
from burnsim.closures.wall_fire import wall_fire_flux
from burnsim.constants import ATMOSPHERE
from burnsim.model.balances.pool import pool_film
from burnsim.model.description.factors import BANDS, CORRELATIONS
from burnsim.model.parameters.flames import ON_TABLE
from burnsim.model.parameters.pot import plate_conduction

CASES = read()


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_a_resolved_case_spends_no_more_than_it_releases(case):
    spent = [case.bottom, case.side, case.wall_heat, case.surface, case.flue]
    hot = [case.rim_top, case.rim_side, case.below]  # gives heat to a pot just above it, or to cold air
    given = case.power - sum(min(part or 0.0, 0.0) for part in hot)
    assert sum(part for part in spent if part is not None) <= 1.05 * given


def has_watts(case) -> bool:
    return case.share is not None and case.bottom is not None and (case.of == "fuel" or case.released is not None)


@pytest.mark.parametrize("case", [case for case in CASES if has_watts(case)], ids=lambda case: case.name)
def test_share_and_watts_of_a_resolved_case_are_the_same(case):
    assert 100.0 * (case.bottom + case.side) / case.power == pytest.approx(case.share, abs=0.7)  # both were rounded


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_the_library_is_asked_at_the_powers_and_temperatures_of_the_case(case):
    _, p, flows = flows_of(case)
    fire = flows.fire
    burnt = fire.jet_power + fire.wick_power + fire.vent_power
    assert as_vapour(p) * burnt == pytest.approx(case.power, rel=1e-6)
    assert flows.rim_temperature == pytest.approx(case.rim_temperature, abs=1e-6)
    assert fire.radiated == 0.0
    if case.gap is not None:
        assert flows.pot_temperature == pytest.approx(case.pot_temperature, abs=1e-6)
        assert p.way.edge == pytest.approx(pi * case.pot_diameter)


NEAR = [
    case for case in CASES if case.rim_top is not None and case.gap is not None and case.gap < 2e-3 and not case.pool
]


@pytest.mark.parametrize("case", NEAR, ids=lambda case: case.name)
def test_a_closed_top_passes_heat_to_a_near_pot_through_the_gas_between(case):
    """Resolved: 8 to 16 W, as conduction; its air is as hot as plate and pot, and its top conducts well."""
    setup = setup_of(case)
    setup = replace(setup, burner=replace(setup.burner, metal="copper", wall_thickness=1e-3, rim_width=0.1e-3))
    found = plate_conduction(setup, ATMOSPHERE) * (case.rim_temperature - case.pot_temperature)
    assert found == pytest.approx(-case.rim_top, rel=0.2, abs=1.0)


SIDE_JETS = [case for case in CASES if case.judged and case.rim_top is not None and case.flame in ("slot", "jets")]


@pytest.mark.parametrize("case", SIDE_JETS, ids=lambda case: case.name)
def test_side_jets_heat_the_burner_with_its_closed_top_as_resolved_flames_do(case):
    """Wall and top together within 30 %, the bound of the wall alone; a top under a near pot loses heat."""
    found = ours(case)
    assert found.wall_heat + found.top == pytest.approx(case.wall_heat + case.rim_top, rel=WALL_PART)


@pytest.mark.parametrize(("power", "gaps"), [(500, (1.5, 5, 10, 25, 35, 50)), (1000, (1.5, 5, 10, 25, 50))])
def test_a_closed_top_gains_the_more_the_higher_its_pot_stands(power, gaps):
    """Resolved: it loses 12 W at 1.5 mm and gains 3 to 65 W at 5 to 50 mm, ours within 30 % or 4 W."""
    asked = [case(f"slot {power} W, {gap} mm") for gap in gaps]
    found = [ours(one).top for one in asked]
    assert found == sorted(found)
    assert found[0] < 0.0
    assert found[1:] == pytest.approx([one.rim_top for one in asked[1:]], rel=WALL_PART, abs=4.0)


def test_a_well_inside_the_sheet_of_lit_jets_gets_next_to_nothing():
    """Resolved: no air comes through to its flame, which goes out; wall and top take what the jets give them."""
    one = case("well 400 W, 25 mm below the rim, and slot 1000 W, gap 30 mm")
    found = ours(one)
    assert found.surface == pytest.approx(one.surface, abs=5.0)
    assert found.wall_heat + found.top == pytest.approx(one.wall_heat, rel=WALL_PART)


def test_what_is_not_settled_is_not_judged():
    found = judge(case("slot 300 W, 25 mm"))
    assert set(found.within.values()) == {None}


def test_a_field_that_no_case_has_is_refused(tmp_path: Path):
    path = tmp_path / "cases.toml"
    path.write_text(TABLE.read_text().replace("courant = 0.6", "courrant = 0.6"))
    with pytest.raises(ValueError, match="courrant"):
        read(path)


WICKS = [one for one in CASES if one.flame == "wick" and one.wall_heat is not None]


@pytest.mark.parametrize("case", WICKS, ids=lambda case: case.name)
def test_a_wick_heats_the_wall_above_it_as_resolved_flames_do(case):
    """Within 30 %: the law gives three quarters and more of flames that neither radiate nor dissociate."""
    _, _, flows = flows_of(case)
    heat = flows.walls.wick_to_wall + flows.walls.wick_to_liquid + flows.fire.wick_to_rim
    assert heat == pytest.approx(case.wall_heat, rel=0.30)


def test_a_wick_on_a_table_burns_as_its_resolved_flame_could():
    """Resolved flames give the band the less the more it burns; where that heat evaporates what burns, it burns by
    itself. The law of a free plane wall is an eighth above it, whence `ON_TABLE`. The same flame far above a table
    gives the band half as much again.
    """
    on_table = [case(f"wick {power} W, gap 1.5 mm") for power in (690, 950, 1150)]
    slope, start = linear_regression(
        [math.log(one.wick) for one in on_table], [math.log(one.surface / one.wick) for one in on_table]
    )
    made = reaction("methanol")
    gasify = 1.09e6 + 2.6e3 * (WICK_VAPOUR - ROOM)  # latent heat, and warming from the room [J/kg]
    balanced = math.exp((math.log(gasify / made.heating_value) - start) / slope)
    transfer = spalding_number(made.heating_value, made.air_mass, gasify, 1300.0, ROOM, WICK_VAPOUR, 0.0)
    height = 12e-3
    flux = wall_fire_flux(height, transfer, hot_sheet("methanol"), ROOM, ATMOSPHERE)
    assert ON_TABLE * flux * pi * DIAMETER * height * made.heating_value == pytest.approx(balanced, rel=0.05)
    assert case("wick 950 W, gap 1.5 mm, no table").surface > 1.4 * on_table[1].surface


def test_the_band_of_the_wicks_heat_is_what_the_resolved_flames_ask_for():
    """With the scatter of measured wall fires, and what is not known of a pot near above; each flame lies inside."""
    logs = []
    for one in WICKS:
        _, _, flows = flows_of(one)
        heat = flows.walls.wick_to_wall + flows.walls.wick_to_liquid + flows.fire.wick_to_rim
        logs.append(math.log(one.wall_heat / heat))
    own = math.sqrt(sum(log * log for log in logs) / len(logs))
    assert own == pytest.approx(0.05, abs=0.005)
    band = BANDS["wick_heat"]
    scatter = math.hypot(own, 0.08, 0.10)
    assert math.log(band.high) == pytest.approx(1.645 * scatter, rel=0.03, abs=0.006)
    assert math.log(band.low) == pytest.approx(-1.645 * scatter, rel=0.03, abs=0.006)
    assert all(math.log(band.low) < log < math.log(band.high) for log in logs)


JETS = [case for case in CASES if case.judged and case.wick == 0.0 and case.pool == 0.0 and case.wall_heat is not None]


@pytest.mark.parametrize("case", JETS, ids=lambda case: case.name)
def test_jets_heat_the_wall_or_the_top_that_they_stand_on_as_resolved(case):
    assert judge(case).within["burner's wall"]


@pytest.mark.parametrize("gap", [10, 30])
def test_a_pot_close_above_a_pool_keeps_flames_off_its_surface(gap):
    """Resolved: 10 W at 10 mm, 95 W at 30 mm, of flames of 300 W; within a factor of two."""
    one = case(f"pool 300 W, gap {gap} mm")
    assert one.surface / 2.0 < judge(one).ours.surface < 2.0 * one.surface


WELLS = [case for case in CASES if case.set == "square well"]


@pytest.mark.parametrize("case", WELLS, ids=lambda case: case.name)
def test_a_flame_down_in_a_well_heats_its_wall_as_resolved(case):
    """Within 30 %: the wall was steady, the surface swung by half of its mean. That one: factor of two."""
    ours = judge(case).ours
    assert ours.wall_heat == pytest.approx(case.inner_wall, rel=0.30)
    assert case.surface / 2.0 < ours.surface < 2.0 * case.surface


def test_as_much_air_comes_down_into_a_well_as_resolved():
    """In a square well of 46 mm, 25 mm deep, under 500 and 800 W: the air of 260 to 317 W passes the mouth."""
    _, p, flows = flows_of(case("well 500 W, 25 mm below the rim, no pot"))
    air = pool_film(flows.well, 0.0, p).air / flows.well.air_need * flows.well.heating_value
    assert 0.9 * 260.0 < air < 1.1 * 317.0


def test_strong_flames_give_the_wall_less_than_weak_ones_and_a_near_pot_takes_them_off_it():
    heat = {power: judge(case(f"slot {power} W, 10 mm")).ours.wall_heat for power in (300, 500, 1000)}
    assert heat[300] > heat[500] > heat[1000]
    assert judge(case("slot 300 W, 1.5 mm")).ours.wall_heat < 0.8 * heat[300]


@pytest.mark.parametrize("power", [300, 500])
def test_the_higher_a_pot_stands_the_more_of_the_flames_meet_the_wall(power):
    """Without a step: as resolved flames of 500 W under pots 1.5, 3, 5, 10, 25 and 50 mm above the rim."""
    resolved = [case(f"slot 500 W, {gap} mm").wall_heat for gap in ("1.5", "3", "5", "10", "25", "50")]
    assert resolved == sorted(resolved)
    one = case(f"slot {power} W, 10 mm")
    gaps = [1e-3 * gap for gap in (0.5, 1.0, 1.5, 2.0, 3.0, 5.0, 8.0, 12.0, 25.0, 50.0)]
    ours = [judge(replace(one, gap=gap)).ours.wall_heat for gap in gaps]
    assert ours == sorted(ours)
    assert max(later / earlier for earlier, later in pairwise(ours)) < 1.25


def logs_of(*names):
    """Logarithms of the factors that the settled flames ask for, where a case asks for all of these."""
    found = [asked(case) for case in once(CASES)]
    return [[math.log(one[name]) for one in found if all(other in one for other in names)] for name in names]


PARTS = {"flame_to_rim": (2.0, 0.10), "entrainment": (1.0, 0.0), "flame_to_pot": (1.0, 0.07)}
"""How often the variance that resolved flames ask for counts, and what they leave out."""


def scatter(name):
    """What the resolved flames ask for, and with what they leave out: standard deviations about our law."""
    (logs,) = logs_of(name)
    times, besides = PARTS[name]
    resolved = math.sqrt(times * sum(log * log for log in logs) / len(logs))
    return resolved, math.hypot(resolved, besides)


@pytest.mark.parametrize("name", PARTS)
def test_a_band_is_what_the_resolved_flames_ask_for(name):
    """Central 90 % of a lognormal factor: 1.645 standard deviations about our law.

    What the flames leave out adds a part of its own. The rim's variance counts twice: all of them stand on one burner,
    and none is weaker than 200 W.
    """
    band = BANDS[name]
    _, whole = scatter(name)
    assert math.log(band.high) == pytest.approx(1.645 * whole, rel=0.03, abs=0.006)  # rounded to a hundredth
    assert math.log(band.low) == pytest.approx(-1.645 * whole, rel=0.03, abs=0.006)
    assert f"{len(logs_of(name)[0])} cases" in band.why


@pytest.mark.parametrize("pair", CORRELATIONS, ids=" and ".join)
def test_a_correlation_is_that_of_the_resolved_flames(pair):
    """But for what they leave out, which is drawn on its own; what is left lies within the interval of theirs."""
    one, other = logs_of(*pair)
    own = pearsonr(one, other)
    low, high = own.confidence_interval(0.95)
    told = CORRELATIONS[pair]
    shares = [resolved / whole for resolved, whole in map(scatter, pair)]
    assert told.value == pytest.approx(own.statistic * math.prod(shares), abs=0.01)  # rounded to a hundredth
    assert low < told.value < high
    assert own.pvalue < 0.05 / math.comb(len(ASKED), 2)
    assert f"{own.statistic:.2f} ({len(one)} cases, 95 % interval {low:.2f} to {high:.2f})" in told.why


APART = [pair for pair in combinations(ASKED, 2) if pair not in CORRELATIONS and pair[::-1] not in CORRELATIONS]


@pytest.mark.parametrize("pair", APART, ids=" and ".join)
def test_other_factors_from_the_same_flames_do_not_hang_together(pair):
    """So they are drawn one by one: no correlation that chance would not bring one time in twenty."""
    one, other = logs_of(*pair)
    assert len(one) > 20
    assert pearsonr(one, other).pvalue > 0.05
