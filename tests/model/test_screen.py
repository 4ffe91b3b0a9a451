"""A windscreen: signs and limits of what it does to wind, air and gas, and to a whole burn."""

from dataclasses import replace
from math import pi
from pathlib import Path

import pytest
from burners import burnt

import burnsim
from burnsim.closures.layer import SHEET_DRAWN
from burnsim.constants import AIR_MOLAR_MASS
from burnsim.errors import InputError
from burnsim.model.balances.flows import balances
from burnsim.model.description.screen import Screen
from burnsim.model.description.setup import Setup
from burnsim.model.parameters.derive import derive
from burnsim.model.parameters.shelter import UNLIMITED, air_limit, passages, slot_share, wind_at

EXAMPLES = Path(__file__).parents[2] / "examples"
WEEKEND = burnsim.load(EXAMPLES / "weekend_double_wall.toml")
NORMAL = 101325.0


def screened(height: float = 0.12, clearance: float = 15e-3, open_share: float = 0.1, wind: float = 0.0) -> Setup:
    setup = replace(WEEKEND, screen=Screen(height, clearance, open_share))
    return replace(setup, site=replace(setup.site, wind=wind))


def test_without_a_screen_all_air_and_all_wind_reach_the_flames() -> None:
    windy = replace(WEEKEND, site=replace(WEEKEND.site, wind=2.0))
    assert air_limit(WEEKEND, NORMAL) == UNLIMITED
    assert wind_at(windy, 0.0) == wind_at(windy, 1.0) == 2.0
    assert derive(windy).site.wind == 2.0


def test_a_screen_calms_the_wind_below_its_top_alone() -> None:
    setup = screened(wind=3.0)
    winds = [wind_at(setup, z) for z in (0.02, 0.06, 0.10, 0.115, 0.12, 0.2)]
    assert winds == sorted(winds)
    assert winds[0] < 0.5
    assert winds[-1] == 3.0


def test_air_grows_with_openings_room_and_wind_and_falls_with_friction() -> None:
    """Tenfold openings do not pass tenfold air: the slot round the pot is in series."""
    few, more, many = (air_limit(screened(open_share=s), NORMAL) for s in (0.01, 0.03, 0.3))
    assert few < more < many < 10.0 * more
    narrow, wide = (air_limit(screened(clearance=c), NORMAL) for c in (3e-3, 10e-3))
    assert narrow < wide / 3.3  # the slot's width, and friction on top of it
    assert air_limit(screened(wind=4.0), NORMAL) > air_limit(screened(), NORMAL)
    assert air_limit(screened(open_share=0.0), NORMAL) == 0.0
    assert air_limit(screened(height=0.04, open_share=0.0), NORMAL) > 0.0  # over its top


def test_flames_burn_no_more_than_the_air_that_reaches_them() -> None:
    """In a screen that lets in a part of the air needed, that part burns below the top of the pot's side."""
    setup = screened(open_share=0.002)
    p = derive(setup)
    limit = SHEET_DRAWN * p.way.most_spread**0.5
    assert limit == pytest.approx(air_limit(setup, NORMAL))
    run = burnt(setup)
    flows = run.flows(400.0)  # the pot is warm: all of the well's vapour burns, and none drips back
    assert limit < flows.fire.air_mass
    assert (1.0 - flows.pot.flame_beyond) * flows.fire.air_mass <= limit * (1.0 + 1e-9)
    assert (flows.pot.excess_air + 1.0) * flows.fire.air_mass <= limit * (1.0 + 1e-9)
    (verdict,) = [v for v in run.verdicts if v.code == "flames past the pot"]
    assert "windscreen" in str(verdict.text)


def test_a_screen_saves_minutes_in_wind_and_hardly_matters_without() -> None:
    calm, windy = (replace(WEEKEND, site=replace(WEEKEND.site, wind=u)) for u in (0.0, 1.0))
    bare = [burnt(s).milestones.boil.time for s in (calm, windy)]
    behind = [burnt(screened(wind=u)).milestones.boil.time for u in (0.0, 1.0)]
    assert None not in bare + behind
    assert behind[1] < bare[1] - 60.0
    assert abs(behind[0] - bare[0]) < 0.1 * bare[0]
    assert behind[0] < behind[1]


def test_the_screen_takes_heat_from_the_gas_and_the_slot_keeps_it_at_the_pot() -> None:
    """A wide slot changes nothing but the wind; a tight one with air enough gives the pot's side more."""
    warm = 400.0  # none of the well's vapour drips back from any of these pots
    sides = [burnt(screened(clearance=c)).flows(warm).pot.wall for c in (0.2, 6e-3)]
    bare = burnt(WEEKEND).flows(warm).pot.wall
    assert sides[0] == pytest.approx(bare, rel=0.02)
    assert sides[1] > bare


def test_ledgers_close_behind_a_screen() -> None:
    for setup in (screened(wind=2.0), screened(clearance=3e-3, open_share=0.01)):
        run = burnt(setup)
        assert run.energy.residual < 1e-6
        assert run.mass.residual < 1e-6


def test_a_screen_inside_the_burner_is_refused() -> None:
    assert WEEKEND.pot is not None
    narrow = replace(WEEKEND, pot=replace(WEEKEND.pot, diameter=0.058, height=0.25))
    with pytest.raises(InputError, match=r"screen.clearance = '1 mm' is less than the burner stands out"):
        replace(narrow, screen=Screen(0.1, 1e-3))
    with pytest.raises(InputError, match=r"screen\.open_share"):
        Screen(0.1, 1e-2, 1.5)


def test_a_screen_without_any_opening_starves_the_flames() -> None:
    """What finds no air heats neither rim nor pool nor pot, and so the burner gives next to nothing."""
    run = burnt(screened(open_share=0.0))
    assert run.milestones.boil.time is None
    assert "the windscreen lets in " in str(run.milestones.bloom.reason)
    flows = run.flows(20.0)
    assert flows.fire.content > 1.0
    assert flows.pot.flame_beyond > 0.99
    heated = flows.fire.jets_to_rim + flows.fire.wick_to_rim + flows.fire.edge_to_rim + flows.pool.heat
    assert heated + flows.pot.radiation + flows.pot.bottom + flows.pot.wall < 0.01 * flows.fire.content
    assert run.energy.radiated < 0.01 * run.energy.charged
    assert abs(run.energy.residual) < 1e-9


@pytest.mark.parametrize("name", ["porch_open_well", "garden_open_cup"])
def test_no_well_burns_behind_a_screen_without_any_opening(name: str) -> None:
    setup = burnsim.load(EXAMPLES / f"{name}.toml")
    run = burnt(replace(setup, screen=Screen(0.12, 15e-3, 0.0), site=replace(setup.site, wind=0.0)))
    assert run.ended == "never lit"
    assert "over the liquid would release" in str(run.milestones.burnout.reason)


def test_flames_give_no_more_heat_than_the_air_at_the_burner_makes() -> None:
    """Jets whose air a screen cuts by half heat the rim by half, less the fraction by which both ends are joined."""
    run = burnt(WEEKEND)
    at = run.flows(300.0)
    p = run.parameters
    need = at.fire.air_mass / AIR_MOLAR_MASS
    for share in (0.0, 0.1, 0.5, 1.0, 1e6):
        little = replace(p, site=replace(p.site, air=share * need + 1e-12))
        fire = balances(run.state(300.0)[0], at.regime, little).fire
        assert fire.jets_to_rim <= min(share + 1e-6, 1.0) * at.fire.jets_to_rim * (1.0 + 1e-9)
        assert fire.jets_to_rim >= 0.84 * min(share, 1.0) * at.fire.jets_to_rim
        assert 0.0 <= fire.radiated <= at.fire.radiated


def test_wind_makes_no_tight_screen_the_best() -> None:
    """Nothing goes through a slot of one millimetre; wind that blows through the openings takes the gas away."""
    breath, breeze = (burnt(screened(clearance=1e-3, wind=u)) for u in (0.3, 1.0))
    assert breath.milestones.boil.time is None
    bare = burnt(replace(WEEKEND, site=replace(WEEKEND.site, wind=1.0)))
    usual = burnt(screened(wind=1.0))
    assert breeze.efficiency < 0.8 * usual.efficiency
    assert bare.efficiency < usual.efficiency
    ways = passages(screened(clearance=1e-3, wind=1.0), NORMAL)
    assert ways is not None
    assert slot_share(screened(clearance=1e-3, wind=1.0), NORMAL) == pytest.approx(ways.up / ways.lee, rel=1e-3)


def test_a_tight_slot_passes_what_draught_and_wind_drive_against_its_friction() -> None:
    """Poiseuille between plates: 12 mu L u/s^2 is no more than draught and wind together, and nearly that."""
    slot, wind = 1e-3, 1.0
    ways = passages(screened(clearance=slot, wind=wind), NORMAL)
    assert ways is not None
    long, wide = 0.12 - 0.0465, 2.0 * pi * (0.07 + 0.5 * slot)
    room = WEEKEND.site.air_temperature
    cold, hot = (NORMAL / (287.05 * t) for t in (room, 900.0))
    speed = ways.up / (hot * wide * slot)
    loss = 12.0 * 3.9e-5 * long * speed / slot**2  # viscosity of air at 900 K
    drive = 9.80665 * (cold - hot) * (0.12 - 0.039) + 0.7 * 0.5 * cold * wind**2
    assert 0.95 * drive < loss < drive  # the rest is lost at the openings


def test_wind_presses_hot_gas_down_to_the_openings_or_lets_in_nothing() -> None:
    """2 x 0.7 of its dynamic pressure against the weight that 27 mm of hot gas lack: from half a metre a second on."""
    lee = []
    for wind in (0.3, 0.45, 0.6, 1.0):
        ways = passages(screened(clearance=1e-3, wind=wind), NORMAL)
        assert ways is not None
        lee.append(ways.lee)
    assert lee[:2] == [0.0, 0.0]
    assert 0.0 < lee[2] < lee[3]


def test_gas_of_a_screen_that_ends_below_the_pot_leaves_outside() -> None:
    """Its flames have air enough, the more the lower it ends, and none burn past the pot."""
    limits = [air_limit(screened(height=h), NORMAL) for h in (0.045, 0.04, 0.03, 0.02, 0.005)]
    assert limits == sorted(limits)
    edges = [air_limit(screened(height=0.0465 + dh), NORMAL) for dh in (-1e-7, 1e-7)]
    assert edges[0] == pytest.approx(edges[1], rel=1e-3)
    bare = burnt(WEEKEND)
    for height in (0.028, 0.038):
        run = burnt(screened(height=height))
        assert "flames past the pot" not in {verdict.code for verdict in run.verdicts}
        assert run.milestones.boil.time == pytest.approx(bare.milestones.boil.time, rel=0.03)
