"""Fill limits at rest against hand calculations, in millilitres."""

import math
from dataclasses import replace
from pathlib import Path

import pytest
from scipy.integrate import quad

import burnsim
from burnsim import Setup, blend, find_fill_limit, vary
from burnsim.studies.fill.cold import cold_capillarity, cold_fill, cold_fill_at, gallery_holds
from burnsim.studies.fill.record import Margin
from burnsim.substances.blend import density

EXAMPLES = Path(__file__).parents[3] / "examples"
ML = 1e-6
DEGREE = math.pi / 180.0
TENTH = 0.1 * ML


def double_wall(changes: dict[str, object] | None = None) -> Setup:
    return vary(burnsim.load(EXAMPLES / "weekend_double_wall.toml"), changes or {})


def chamber(changes: dict[str, object] | None = None) -> Setup:
    """A sealed chamber of 70 mm by 30 mm (0.3 mm wall), 16 side jets of 1 mm, their centres 24 mm up."""
    setup = burnsim.load(EXAMPLES / "workshop_sealed_chamber.toml")
    jets = burnsim.Jets(16, 1e-3, 24e-3)
    return vary(replace(setup, burner=replace(setup.burner, jets=jets)), changes or {})


def wedge(outer: float, inner: float, level: float, slope: float, height: float) -> float:
    """Volume under a plane over a ring, by quadrature over chords."""

    def chord(x: float, radius: float) -> float:
        return 2.0 * math.sqrt(max(radius**2 - x**2, 0.0))

    def slice_of(x: float) -> float:
        return min(max(level + slope * x, 0.0), height) * (chord(x, outer) - chord(x, inner))

    marks = [-level / slope, (height - level) / slope, -inner, inner]
    breaks = sorted(x for x in marks if -outer < x < outer)
    return float(quad(slice_of, -outer, outer, points=breaks, limit=400, epsabs=1e-13, epsrel=1e-9)[0])


def test_a_level_chamber_by_hand():
    """pi/4 (69.4 mm)^2 x 23.5 mm = 88.89 ml: inside 70 - 0.6 mm, the edge at 24 - 0.5 mm."""
    by_hand = math.pi / 4.0 * 69.4**2 * 23.5 / 1000.0
    assert by_hand == pytest.approx(88.89, abs=0.01)
    assert cold_fill(chamber(), 0.0).volume / ML == pytest.approx(by_hand, abs=1e-6)


def test_a_level_double_wall_by_hand():
    """Gallery to the jets, the well lower by the lift 2 sigma/(rho g gap), each with its own area."""
    found = cold_fill(double_wall(), 0.0)
    lift = 2.0 * 0.0226 / (791.0 * 9.80665 * 4.5e-3) * 1e3  # methanol: sigma 22.6 mN/m and 791 kg/m3 (handbook) [mm]
    gallery = math.pi / 4.0 * (61.8**2 - 52.8**2) * 38.5 / 1000.0
    well = math.pi / 4.0 * 52.6**2 * (38.5 - lift) / 1000.0
    assert found.volume / ML == pytest.approx(gallery + well, abs=0.1)
    assert found.binding == "jets"


@pytest.mark.parametrize("degrees", [1.0, 5.0, 12.0])
def test_a_tilted_chamber_by_hand(degrees):
    """The surface leans through the low jet: lower on the axis by R tan(tilt), its volume a slanted cylinder."""
    slope = math.tan(degrees * DEGREE)
    on_axis = 23.5e-3 - 34.7e-3 * slope
    found = cold_fill(chamber(), degrees * DEGREE)
    assert found.volume == pytest.approx(math.pi * 34.7e-3**2 * on_axis, abs=0.1 * TENTH)
    assert found.volume == pytest.approx(wedge(34.7e-3, 0.0, on_axis, slope, 30e-3), abs=TENTH)


def test_a_wedge_that_leaves_the_floor_dry():
    """Jets 4 mm up and 20 degrees: only a hoof of liquid is left on the low side."""
    setup = chamber({"burner.jets": burnsim.Jets(16, 1e-3, 4e-3), "charge.volume": 1e-6})
    slope = math.tan(20.0 * DEGREE)
    on_axis = 3.5e-3 - 34.7e-3 * slope
    assert on_axis < 0.0
    found = cold_fill(setup, 20.0 * DEGREE)
    assert found.volume == pytest.approx(wedge(34.7e-3, 0.0, on_axis, slope, 30e-3), abs=0.1 * TENTH)
    assert 0.0 < found.volume < 1e-6


@pytest.mark.parametrize("degrees", [2.0, 5.0, 25.0])
def test_a_tilted_double_wall_by_integration(degrees):
    setup = double_wall()
    slope = math.tan(degrees * DEGREE)
    lift = cold_capillarity(setup).lift
    on_axis = 38.5e-3 - 30.9e-3 * slope
    by_hand = wedge(30.9e-3, 26.4e-3, on_axis, slope, 45e-3) + wedge(26.3e-3, 0.0, on_axis - lift, slope, 45e-3)
    assert cold_fill(setup, degrees * DEGREE).volume == pytest.approx(by_hand, abs=0.1 * TENTH)


def test_an_open_cup_runs_over_its_rim():
    setup = burnsim.load(EXAMPLES / "garden_open_cup.toml")
    level = cold_fill(setup, 0.0)
    tilted = cold_fill(setup, 5.0 * DEGREE)
    area = math.pi / 4.0 * 64.4e-3**2
    assert level.binding == tilted.binding == "rim"
    assert level.volume == pytest.approx(area * 25e-3, rel=1e-9)
    assert tilted.volume == pytest.approx(area * (25e-3 - 32.2e-3 * math.tan(5.0 * DEGREE)), rel=1e-9)


def test_dry_jets_hold_back_their_head_until_the_rim_binds():
    """4 sigma/d of methanol and 1 mm jets: 90.4 Pa = 11.7 mm, by handbook values; here the well's lip comes first."""
    setup = double_wall()
    hold = cold_capillarity(setup).hold_off
    assert hold == pytest.approx(4.0 * 0.0226 / 1e-3 / (791.0 * 9.80665), rel=0.02)
    assert cold_fill(setup, 0.0, 0.0, dry=True).binding == "rim"
    taller = vary(setup, {"burner.height": 60e-3})
    dry, wetted = cold_fill(taller, 0.0, 0.0, dry=True), cold_fill(taller, 0.0)
    assert dry.binding == "jets"
    well = math.pi / 4.0 * 52.6e-3**2 * hold
    gallery = (
        math.pi / 4.0 * (61.8e-3**2 - 52.8e-3**2) * 1e-3
    )  # up to the upper edge of the jets, which shut the air in
    assert dry.volume - wetted.volume == pytest.approx(well + gallery, abs=TENTH)


def test_notches_lower_the_rim_of_the_well():
    setup = vary(double_wall(), {"burner.relief": burnsim.Notches(3, 3e-3, 5e-3)})
    dry = cold_fill(setup, 0.0, 0.0, dry=True)
    assert dry.binding == "rim"
    assert dry.well == pytest.approx(40e-3)


def test_levels_of_a_load_at_rest():
    setup = double_wall()
    area = math.pi / 4.0 * (61.8**2 - 52.8**2 + 52.6**2)  # mm2
    found = cold_fill_at(setup, 60 * ML, 0.0)
    lift = cold_capillarity(setup).lift * 1e3
    share = math.pi / 4.0 * 52.6**2 / area
    assert found.gallery * 1e3 == pytest.approx(60e3 / area + share * lift, abs=1e-6)
    assert found.volume == pytest.approx(60 * ML, abs=1e-12)


@pytest.mark.parametrize(("fuel", "percent"), [("methanol", 5.7), ("ethanol", 7.2), ("2-propanol", 9.1)])
def test_expansion_from_the_bottle_to_the_boil(fuel, percent):
    """Volume rise from 20 degC to the boiling point; CoolProp, `thermo`: within half a point."""
    from burnsim.substances.blend import fuel_record
    from burnsim.substances.equilibrium import bubble_temperature

    spirit = blend(fuel)
    boiling = bubble_temperature(spirit.mole_fractions, 101325.0, fuel_record(spirit))
    rise = density(spirit, 293.15) / density(spirit, boiling) - 1.0
    assert 100.0 * rise == pytest.approx(percent, abs=0.5)
    setup = double_wall({"charge.fuel": fuel})
    room = math.pi / 4.0 * (61.8e-3**2 - 52.8e-3**2) * 38.5e-3
    held = gallery_holds(setup)
    assert held is not None
    assert room / held - 1.0 == pytest.approx(percent / 100.0, abs=0.005)


def test_margins_of_head_and_of_volume(monkeypatch):
    """At rest the margin is exact: 3 mm of head on every area, or a tenth of the volume, whichever allows less."""
    from burnsim.studies.fill import limit as fill

    monkeypatch.setattr(fill, "burning_limits", lambda *args, **options: [fill.Limit(None, None, None, "not asked")])
    setup = chamber()
    area = math.pi / 4.0 * 69.4e-3**2
    full = area * 23.5e-3
    found = find_fill_limit(setup, margin=Margin(3e-3, 0.0)).cold_level
    assert found.volume == pytest.approx(full - area * 3e-3, abs=0.01 * TENTH)
    assert (found.kept, found.binding) == ("head", "overfill")
    found = find_fill_limit(setup, margin=Margin(0.0, 0.2)).cold_level
    assert found.volume == pytest.approx(0.8 * full, rel=1e-9)
    assert found.kept == "share"
    both = find_fill_limit(setup, tilt=5.0 * DEGREE)
    assert both.cold_level.volume == pytest.approx(min(full - area * 3e-3, 0.9 * full), rel=1e-9)
    assert both.cold_tilted.volume < both.cold_level.volume
    assert both.cold_tilted.binding == "tilt"


@pytest.mark.parametrize("changes", [{"head": -1e-3}, {"share": 1.0}, {"head": True}, {"share": float("nan")}])
def test_a_margin_out_of_range_is_refused(changes):
    with pytest.raises(burnsim.InputError, match="margin"):
        Margin(**changes)


def test_a_tilt_out_of_range_is_refused():
    with pytest.raises(burnsim.InputError, match="tilt"):
        find_fill_limit(chamber(), tilt=5.0)
