"""Pictures of fill limits by what their artists hold."""

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from matplotlib.figure import Figure

import burnsim
from burnsim import plots
from burnsim.solve.results.spill import Levels
from burnsim.studies.fill import limit as fill
from burnsim.studies.fill import margins
from burnsim.studies.fill.cold import cold_fill, cold_fill_at
from burnsim.studies.fill.margins import SpillMap
from burnsim.studies.fill.record import FillLimits, Limit, Margin
from burnsim.studies.fill.relief import notched_square
from burnsim.studies.fill.spill_runs import Seen
from burnsim.substances.blend import density, fuel_record
from burnsim.substances.equilibrium import bubble_temperature
from burnsim.units import plain

EXAMPLES = Path(__file__).parents[2] / "examples"
WEEKEND = burnsim.load(EXAMPLES / "weekend_double_wall.toml")
LIFTED = Levels(23e-3, 1.2e-3, 0.9e-3, 11.4e-3, 2e-3, 38.5e-3, 38.5e-3, 0.0, 18.8e-3, 45e-3, 10.4e-3, 3.2e-3)


@pytest.fixture
def limits(monkeypatch) -> FillLimits:
    pressed = Limit(62e-6, 75e-6, "pressure", "why", "head", LIFTED, cold_fill_at(WEEKEND, 62e-6, 0.0))
    monkeypatch.setattr(fill, "burning_limits", lambda *args, **options: [pressed])
    return burnsim.find_fill_limit(WEEKEND, margin=Margin())


@pytest.fixture
def leaning(limits) -> FillLimits:
    return burnsim.find_fill_limit(WEEKEND, tilt=math.radians(5.0), margin=Margin())


def axes():
    return Figure(layout="constrained").subplots()


def boxes(ax, label: str):
    return [patch for patch in ax.patches if patch.get_label() == label]


def test_levels_are_drawn_to_scale(limits):
    ax = axes()
    assert plots.fill_levels(limits, ax=ax) is ax
    assert ax.get_aspect() == 1.0
    gallery = boxes(ax, "_hot gallery")[0]
    assert gallery.get_width() == pytest.approx(4.5)
    assert gallery.get_height() == pytest.approx(36.5)
    froth = boxes(ax, "_froth gallery")[0]
    assert froth.get_y() == pytest.approx(36.5)
    assert froth.get_height() == pytest.approx(2.0)
    assert boxes(ax, "_hot well")[0].get_height() == pytest.approx(18.8)
    safe = boxes(ax, "_safe load gallery")[0]
    assert safe.get_height() == pytest.approx(limits.burning_vented.rest.gallery * 1e3)


def test_on_a_tilted_site_both_edges_are_named(limits):
    ax = axes()
    plots.fill_levels(limits, ax=ax)
    assert not any("tilted" in plain(text.get_text()) for text in ax.texts)
    tilted = replace(limits, setup=burnsim.vary(WEEKEND, {"site.tilt": "4 deg"}))
    ax, head = axes(), axes()
    plots.fill_levels(tilted, ax=ax)
    plots.head(tilted, ax=head)
    heights = {plain(str(line.get_label())): line.get_ydata()[0] for line in ax.get_lines()}
    assert heights["_jets, 38.5 mm"] == pytest.approx(38.5)
    [reached] = [height for label, height in heights.items() if "reaches" in str(label)]
    radius = 0.5 * WEEKEND.burner.outer_diameter - WEEKEND.burner.wall_thickness
    assert reached == pytest.approx(38.5 - 1e3 * radius * math.tan(math.radians(4.0)))  # no corner of it is dry
    [line] = [line for line in head.get_lines() if line.get_label() == "reaches the lowest jet on this tilt"]
    assert line.get_ydata()[0] == pytest.approx(reached)


def test_the_tilted_surface_meets_the_low_jet(leaning):
    ax = axes()
    plots.fill_levels(leaning, ax=ax)
    line = next(line for line in ax.get_lines() if line.get_label() == "_tilted")
    x, y = line.get_data()
    assert y[1] == pytest.approx(38.5, abs=1e-6)  # the low side's jets, at the outer wall
    assert (y[1] - y[0]) / (x[1] - x[0]) == pytest.approx(math.tan(math.radians(5.0)))


def test_labels_do_not_touch(limits):
    ax = axes()
    plots.fill_levels(limits, ax=ax)
    ax.figure.canvas.draw()
    places = sorted(
        text.xyann[1]
        for text in ax.texts
        if plain(text.get_text()).endswith("mm") and "safe" not in plain(text.get_text())
    )
    assert len(places) == 4
    assert min(np.diff(places)) > 2.5


def test_head_over_pressure_is_the_manometer(limits):
    ax = axes()
    assert plots.head(limits, ax=ax) is ax
    fuel = WEEKEND.charge.fuel
    boiling = bubble_temperature(fuel.mole_fractions, 101325.0, fuel_record(fuel))
    weight = density(fuel, boiling) * 9.80665
    line = next(line for line in ax.get_lines() if str(line.get_label()).startswith("spills"))
    x, y = line.get_data()
    gallery, well = 61.8**2 - 52.8**2, 52.6**2
    assert (y[1] - y[0]) / (x[1] - x[0]) == pytest.approx(1e3 * well / (gallery + well) / weight, rel=1e-9)
    words = " ".join(plain(ax.get_title()).split())
    assert f"100 Pa: levels {1e5 / weight:.1f} mm apart" in words
    assert f"gallery {1e5 / weight * well / (gallery + well):.1f} mm higher" in words


def test_a_load_that_fits_into_the_gallery_stops_rising_and_another_runs_out(limits):
    """20 ml, hot, fill the gallery to 26 mm and no more; 37 ml would fill it to 48 mm, but leave by the jets before."""
    fuel = WEEKEND.charge.fuel
    boiling = bubble_temperature(fuel.mole_fractions, 101325.0, fuel_record(fuel))
    area = math.pi / 4.0 * (61.8**2 - 52.8**2) * 1e-6
    tops = {}
    for load in (20e-6, 37e-6):
        ax = axes()
        plots.head(replace(limits, setup=burnsim.vary(WEEKEND, {"charge.volume": load})), ax=ax)
        [line] = [line for line in ax.get_lines() if str(line.get_label()).startswith("this load")]
        tops[load] = np.nanmax(line.get_ydata())
        drawn = [line.get_ydata() for line in ax.get_lines() if len(line.get_ydata()) > 2]
        assert max(np.nanmax(level) for level in drawn) <= 45.0
    hot = 20e-6 * density(fuel, 293.15) / density(fuel, boiling)
    assert tops[20e-6] == pytest.approx(hot / area * 1e3, rel=1e-9)
    assert 38.5 < tops[37e-6] <= 45.0


def test_the_head_in_us_units(limits):
    ax = axes()
    plots.head(limits, ax=ax, units="us")
    words = [
        plain(ax.get_title()),
        plain(ax.get_xlabel()),
        plain(ax.get_ylabel()),
        *(str(line.get_label()) for line in ax.get_lines()),
    ]
    assert not any(unit in text for text in words for unit in (" Pa", "mm", " ml"))
    assert "0.5 inH2O" in plain(ax.get_title())


def test_the_picture_calls_safe_what_the_note_does(limits):
    """The load that is safe in each limit, the tilted one too, not the least of those of burns."""
    tilted = replace(limits, cold_tilted=replace(limits.cold_tilted, volume=50e-6))
    assert tilted.safe == 50e-6
    ax = axes()
    plots.fill_levels(tilted, ax=ax)
    assert any(plain(text.get_text()).startswith("50.0 ml is safe") for text in ax.texts)
    level = cold_fill_at(WEEKEND, 50e-6, 0.0).gallery * 1e3
    assert boxes(ax, "_safe load gallery")[0].get_height() == pytest.approx(level)
    head = axes()
    plots.head(tilted, ax=head)
    assert any("safe load, 50.0 ml" in plain(str(line.get_label())) for line in head.get_lines())


def test_the_picture_says_what_is_not_proven(limits):
    dark = replace(limits.burning_vented, dark="its jets go out", stayed_lit=40e-6, proven_to=36e-6)
    ax = axes()
    plots.fill_levels(replace(limits, burning_vented=dark), ax=ax)
    [words] = [plain(text.get_text()) for text in ax.texts if "is safe" in plain(text.get_text())]
    assert words.startswith("36.0 ml is safe")
    assert "more is unproven:\nits jets go out" in words
    ax = axes()
    plots.fill_levels(replace(limits, burning_vented=replace(dark, stayed_lit=None, proven_to=None)), ax=ax)
    assert any("no load is\nknown to be safe" in plain(text.get_text()) for text in ax.texts)
    assert boxes(ax, "_safe load gallery") == []


def test_head_needs_a_well_beside_a_gallery(limits):
    from dataclasses import replace

    chamber = burnsim.load(EXAMPLES / "workshop_sealed_chamber.toml")
    with pytest.raises(burnsim.InputError, match="no well"):
        plots.head(replace(limits, setup=chamber), ax=axes())


def test_the_map_shows_spills_margin_and_failures():
    loads, areas = np.linspace(20e-6, 110e-6, 7), np.array([0.0, 0.3e-6, 1e-6, 2e-6])
    clearance = 30e-3 - np.outer(1.0 / (1.0 + areas / 0.5e-6), loads) * 500.0
    clearance[0, 2] = math.nan
    spills = np.array([60e-6, 96e-6, math.nan, math.nan])
    keeps = np.array([math.nan, 86e-6, 100e-6, 101e-6])
    ax = axes()
    drawn = SpillMap(WEEKEND, Margin(), loads, areas, clearance, spills, keeps, True)
    assert plots.spill_map(drawn, ax=ax) is ax
    words = {plain(text.get_text()) for text in ax.get_legend().get_texts()}
    assert words == {"spills", "most that is known to keep the margin", "x  not solved"}
    lines = {line.get_label(): line.get_xdata() for line in ax.get_lines()}
    assert lines["_just spills"] == pytest.approx([60.0, 60.0, 96.0, 96.0, 110.0, 110.0, 110.0, 110.0])
    assert lines["_margin kept"] == pytest.approx([20.0, 20.0, 86.0, 86.0, 100.0, 100.0, 101.0, 101.0])
    assert not any("proves nothing" in str(line.get_label()) for line in ax.get_lines())
    ax = axes()
    dark = np.zeros(clearance.shape, dtype=bool)
    dark[1, 3:5] = True
    plots.spill_map(replace(drawn, dark=dark), ax=ax)
    rings = next(line for line in ax.get_lines() if "proves nothing" in str(line.get_label()))
    assert rings.get_xdata() == pytest.approx(loads[3:5] * 1e6)
    assert rings.get_ydata() == pytest.approx([1.0, 1.0])
    failed = next(line for line in ax.get_lines() if line.get_label() == "_not solved")
    assert failed.get_xdata() == pytest.approx([loads[2] * 1e6])
    assert [plain(label.get_text()) for label in ax.get_yticklabels()] == ["none", "0.3", "1", "2"]


def test_the_map_asks_every_pair_once(monkeypatch):
    asked = []

    def law(setups, engine="auto"):
        asked.extend(setups)
        return [Seen(5e-3, None, False, True, "") for _ in setups]

    monkeypatch.setattr(margins, "look", law)
    monkeypatch.setattr(fill, "look", law)
    found = burnsim.fill.map_spills(WEEKEND, areas=(0.0, 1e-6))
    assert found.clearance.shape == (2, len(found.loads))
    assert found.warm
    assert found.loads[-1] == pytest.approx(cold_fill(WEEKEND, 0.0).volume)
    assert len(asked) == found.clearance.size + 2  # the design's own load besides, with either relief
    assert np.isnan(found.spills).all()
    assert {setup.pot.rest for setup in asked} == {"full ring"}
    assert asked[0].burner.relief is None
    assert asked[-1].burner.relief.count == 3


def test_the_hatch_begins_where_the_limit_says_that_it_spills(monkeypatch):
    """Clearance falls from 10 mm to none at 63.6 ml at once, as where a spill sets in: nothing is drawn across it."""

    def law(setups, engine="auto"):
        edges = [63.6e-6 if setup.burner.relief is None else 90.3e-6 for setup in setups]
        rooms = [10e-3 if setup.charge.volume < edge else 0.0 for setup, edge in zip(setups, edges, strict=True)]
        return [Seen(room, LIFTED if room <= 0.0 else None, False, True, "") for room in rooms]

    monkeypatch.setattr(margins, "look", law)
    monkeypatch.setattr(fill, "look", law)
    margin = Margin(2e-3, 0.2)
    found = burnsim.fill.map_spills(WEEKEND, areas=(0.0, 1e-6), margin=margin)
    ax = axes()
    plots.spill_map(found, ax=ax)
    hatches = [patch for patch in ax.patches if patch.get_hatch()]
    lines = {line.get_label(): line.get_xdata() for line in ax.get_lines()}
    for row, edge in enumerate((63.6, 90.3)):
        shut = burnsim.vary(WEEKEND, {"pot.rest": "full ring"})
        limit = fill.burning_limit(notched_square(shut, found.areas[row]), margin=margin)
        assert hatches[row].get_x() == pytest.approx(limit.spills * 1e6, rel=1e-12)
        assert 0.0 <= hatches[row].get_x() - edge < 0.1
        assert hatches[row].get_x() + hatches[row].get_width() == pytest.approx(found.loads[-1] * 1e6)
        assert lines["_margin kept"][2 * row] == pytest.approx(limit.volume * 1e6, rel=1e-12)
    shown = ax.collections[0].get_array()
    middles = 0.5 * (np.linspace(*found.loads[[0, -1]], 401)[1:] + np.linspace(*found.loads[[0, -1]], 401)[:-1])
    assert np.ma.getmaskarray(shown)[0].tolist() == (middles > found.spills[0]).tolist()


def test_no_map_of_what_never_lights(monkeypatch):
    monkeypatch.setattr(
        margins, "look", lambda setups, engine="auto": [Seen(1e-3, None, False, False, "") for _ in setups]
    )
    with pytest.raises(burnsim.InputError, match="never lights"):
        burnsim.fill.map_spills(WEEKEND)


def test_where_no_burn_spills_the_right_half_holds_the_cold_load_that_runs_over(monkeypatch):
    cup = burnsim.load(EXAMPLES / "garden_open_cup.toml")
    dry = Limit(60e-6, None, "rim", "it runs over the rim", "head")
    monkeypatch.setattr(fill, "burning_limits", lambda *args, **options: [dry])
    limits = burnsim.find_fill_limit(cup)
    ax = axes()
    plots.fill_levels(limits, ax=ax)
    [right] = boxes(ax, "_cold well")
    assert right.get_x() == 0.0
    assert right.get_height() == pytest.approx(cup.burner.height * 1e3)
    words = [plain(text.get_text()) for text in ax.texts]
    assert f"{limits.cold_level.spills * 1e6:.1f} ml just spills:\nit runs over the rim" in words
    assert "cold, 25.0 mm" in words


def test_on_a_slope_the_cold_load_that_runs_over_is_that_of_the_slope(monkeypatch):
    cup = burnsim.load(EXAMPLES / "garden_open_cup.toml")
    monkeypatch.setattr(fill, "burning_limits", lambda *args, **options: [Limit(60e-6, None, "rim", "over", "head")])
    limits = burnsim.find_fill_limit(cup, tilt=math.radians(5.0))
    ax = axes()
    plots.fill_levels(limits, ax=ax)
    [right] = boxes(ax, "_cold well")
    inside = 0.5 * (cup.burner.outer_diameter - 2.0 * cup.burner.wall_thickness)
    assert right.get_height() == pytest.approx(1e3 * (cup.burner.height - inside * math.tan(math.radians(5.0))))
    assert any(plain(text.get_text()).startswith(f"{limits.cold_tilted.spills * 1e6:.1f} ml just") for text in ax.texts)


def test_the_angle_stands_clear_of_its_line(leaning):
    figure = Figure(figsize=(9.0, 5.2), layout="constrained")
    ax = figure.subplots()
    plots.fill_levels(leaning, ax=ax)
    figure.draw_without_rendering()
    box = next(text for text in ax.texts if plain(text.get_text()) == "5deg").get_window_extent()
    line = next(line for line in ax.get_lines() if line.get_label() == "_tilted")
    (x0, y0), (x1, y1) = ax.transData.transform(np.column_stack(line.get_data()))
    for corner in (box.x0, box.x1):
        assert y0 + (y1 - y0) * (corner - x0) / (x1 - x0) < box.y0


def test_no_screen_stands_through_the_words_of_the_levels(leaning):
    """It has nothing to do with levels, and its wall would run through what is written beside the burner."""
    screen = {"height": "10 cm", "clearance": "15 mm", "open_share": "10 %"}
    pot = {"diameter": "9 cm", "height": "8 cm", "water": "0.2 l", "rest": "bumps"}
    ax = axes()
    plots.fill_levels(replace(leaning, setup=burnsim.vary(leaning.setup, {"pot": pot, "screen": screen})), ax=ax)
    assert all(line.get_label() != "_screen" for line in ax.get_lines())


def test_the_map_of_the_relief_in_us_units():
    """Three notches of ten thousandths of an inch: their area is no number that a builder measures."""
    area = 3.0 * (0.010 * 0.0254) ** 2
    none = np.array([math.nan, math.nan])
    clearance = np.array([[2e-3, 1e-3], [9e-3, 5e-3]])
    found = SpillMap(WEEKEND, Margin(), np.array([30e-6, 60e-6]), np.array([0.0, area]), clearance, none, none, True)
    ax = axes()
    plots.spill_map(found, ax=ax, units="us")
    assert plain(ax.get_ylabel()) == "relief, three square notches of this side [in]"
    assert [plain(label.get_text()) for label in ax.get_yticklabels()] == ["none", "0.010"]
    assert "0.010 in" in plain(found.summary("us"))
