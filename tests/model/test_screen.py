"""A windscreen: signs and limits of what it does to wind, air and gas, and to a whole burn."""

from dataclasses import replace
from pathlib import Path

import pytest
from burners import burnt

import burnsim
from burnsim.closures.layer import SHEET_DRAWN
from burnsim.errors import InputError
from burnsim.model.description.screen import Screen
from burnsim.model.description.setup import Setup
from burnsim.model.parameters.derive import derive
from burnsim.model.parameters.shelter import UNLIMITED, air_limit, wind_at

WEEKEND = burnsim.load(Path(__file__).parents[2] / "examples" / "weekend_double_wall.toml")
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
    setup = screened(clearance=3e-3, open_share=0.01)
    p = derive(setup)
    limit = SHEET_DRAWN * p.way.most_spread**0.5
    assert limit == pytest.approx(air_limit(setup, NORMAL))
    run = burnt(setup)
    flows = run.flows(300.0)
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
    sides = [burnt(screened(clearance=c)).flows(300.0).pot.wall for c in (0.2, 6e-3)]
    bare = burnt(WEEKEND).flows(300.0).pot.wall
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
    run = burnt(screened(open_share=0.0))
    assert run.milestones.boil.time is None
    assert run.flows(200.0).pot.flame_beyond > 0.99
    assert "flames past the pot" in {verdict.code for verdict in run.verdicts}
    assert abs(run.energy.residual) < 1e-9
