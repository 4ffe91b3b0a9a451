"""Pictures: what their artists hold agrees with the burn, in either system of units, with and without colour."""

from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
import xarray
from burners import burnt
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import PathPatch, Polygon, Rectangle

import burnsim
from burnsim import Burn
from burnsim.errors import InputError
from burnsim.model.description import geometry
from burnsim.plots.drawing.outline import Roof, bent_spine, flame_outlines
from burnsim.plots.energy import PLACES, heat_flows, ledger_bands
from burnsim.plots.scales import readable
from burnsim.solve.results.ledger import EnergyLedger
from burnsim.studies.predict.sobol import Sensitivity
from burnsim.units import plain
from burnsim.units.drills import inches

EXAMPLES = [
    path
    for path in sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
    if "[burner]" in path.read_text(encoding="utf-8")  # designs only
]
MM = 1e3


def axes() -> Axes:
    return Figure(figsize=(7.0, 5.0)).subplots()


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda path: path.stem)
def burn(request: pytest.FixtureRequest) -> Burn:
    return burnt(burnsim.load(request.param))


def labelled(ax: Axes, label: str) -> list[Rectangle]:
    return [patch for patch in ax.patches if patch.get_label() == label and isinstance(patch, Rectangle)]


class TestSection:
    def test_it_is_to_scale(self, burn: Burn) -> None:
        setup = burn.setup
        pot = setup.pot
        assert pot is not None
        ax = axes()
        assert burnsim.plots.section(setup, ax) is ax
        assert ax.get_aspect() == 1.0
        [sides] = [line for line in ax.get_lines() if line.get_label() == "_pot"]
        x, y = np.asarray(sides.get_xdata()), np.asarray(sides.get_ydata())
        assert np.ptp(x) == pytest.approx(pot.diameter * MM)
        assert np.ptp(y) == pytest.approx(pot.height * MM)
        assert y.min() - setup.burner.height * MM == pytest.approx(pot.gap * MM)  # no example stands flat on the rim
        walls = np.concatenate([np.asarray(line.get_xdata()) for line in ax.get_lines() if line.get_label() == "_wall"])
        assert walls.max() == pytest.approx((setup.burner.outer_diameter - setup.burner.wall_thickness) / 2.0 * MM)
        [water] = labelled(ax, "_water")
        inside = pot.diameter - 2.0 * pot.wall_thickness
        assert water.get_height() / MM * geometry.disc(inside) == pytest.approx(pot.water)

    def test_levels_are_those_of_the_instant(self, burn: Burn) -> None:
        at = 0.4 * burn.duration
        ax = burnsim.plots.section(burn.setup, axes(), burn=burn, at=at)
        flows = burn.flows(at)
        for name, level in (("_well", flows.well.level), ("_gallery", flows.gallery.level)):
            drawn = labelled(ax, name)
            assert bool(drawn) == (level > 0.0)
            assert all(patch.get_height() == pytest.approx(level * MM) for patch in drawn)
        flames = [patch for patch in ax.patches if str(patch.get_label()).startswith("_flame")]
        assert bool(flames) == (flows.fire.jet_power + flows.fire.wick_power + flows.fire.vent_power > 1.0)
        water = f"water {flows.pot_temperature - 273.15:.0f} degC"
        assert water in [plain(text.get_text()) for text in ax.texts]

    def test_a_free_flame_has_the_length_and_reach_of_the_model(self, burn: Burn) -> None:
        at = 0.4 * burn.duration
        fire = burn.flows(at).fire
        jets = burn.setup.burner.jets
        for outline in flame_outlines(burn, at, None):
            if outline.what != "jet" or jets is None or outline.corners[0, 0] < 0.0:
                continue
            start, tip = outline.corners[0], outline.corners[len(outline.corners) // 2]
            assert np.hypot(*(tip - start)) == pytest.approx(fire.flame_length * MM, rel=0.02)
            if jets.direction == "side":
                assert tip[0] - start[0] == pytest.approx(fire.flame_reach * MM, abs=0.02 * fire.flame_length * MM)

    def test_dimensions_in_either_system(self, burn: Burn) -> None:
        outside = burn.setup.burner.outer_diameter
        texts = [plain(t.get_text()) for t in burnsim.plots.section(burn.setup, axes(), dimensions=True).texts]
        assert f"outside Ø {outside * MM:.4g}" in texts
        texts = [
            plain(t.get_text()) for t in burnsim.plots.section(burn.setup, axes(), dimensions=True, units="us").texts
        ]
        assert plain(f"outside Ø {inches(outside)}") in texts


def test_a_flame_under_a_pot_keeps_its_length() -> None:
    free = np.column_stack((np.full(50, 30.0), np.linspace(0.0, 80.0, 50)))
    for radius in (200.0, 60.0):
        bent = bent_spine(free, 80.0, Roof(height=41.0, radius=radius))
        length = np.hypot(*np.diff(bent, axis=0).T).sum()
        assert length == pytest.approx(80.0, abs=2.0)
        assert bent[:, 0].max() <= radius + 1.0 + 1e-9
        assert all(y <= 40.0 + 1e-9 for x, y in bent if x < radius)


def drawn_joules(ax: Axes, ledger: EnergyLedger) -> float:
    """Heat that the bands of a picture stand for, measured on their right edges."""
    bands = [np.asarray(patch.get_path().vertices) for patch in ax.patches if patch.get_gid() is not None]
    return sum(float(corners[3, 1] - corners[4, 1]) for corners in bands) * abs(ledger.charged)


class TestLedger:
    def test_bands_close_to_the_ledger(self, burn: Burn) -> None:
        energy = burn.energy
        bands = ledger_bands(energy)
        assert sum(band.joules for band in bands) == pytest.approx(energy.charged * (1.0 - energy.residual), rel=1e-12)
        ax = burnsim.plots.ledger(burn, axes())
        small = sum(abs(band.joules) for band in bands if band.width <= 1e-4)
        assert drawn_joules(ax, energy) == pytest.approx(energy.charged, abs=small + 1e-9 * abs(energy.charged))
        drawn = [patch for patch in ax.patches if isinstance(patch, PathPatch)]
        looks = {(patch.get_facecolor(), patch.get_hatch()) for patch in drawn}
        assert len(looks) == len(drawn)  # told apart without words, and by hatching without colour
        words = " ".join(plain(text.get_text()) for text in ax.texts)
        assert f"{energy.water / 1e3:.1f} kJ" in words

    def test_every_part_of_the_ledger_has_a_place(self) -> None:
        assert {place.field for place in PLACES} == set(EnergyLedger._fields) - {"charged", "residual"}

    def test_heat_taken_up_is_told_not_drawn(self) -> None:
        parts = dict.fromkeys(EnergyLedger._fields, 0.0)
        ledger = EnergyLedger(**{**parts, "charged": 1e5, "water": 6e4, "pot_loss": -5e3, "flue": 4.5e4})
        ax = burnsim.plots.ledger(SimpleNamespace(energy=ledger), axes(), title="")
        assert any("taken up from elsewhere: lost from the pot -5.0 kJ" in plain(text.get_text()) for text in ax.texts)


def test_curves_are_the_series_in_the_unit_that_was_asked_for(burn: Burn) -> None:
    water = burn.series("water_temperature")
    for units, zero, size in (("si", 273.15, 1.0), ("us", 273.15 - 160.0 / 9.0, 5.0 / 9.0)):
        ax = burnsim.plots.burn(burn, axes(), units=units)
        [line] = [line for line in ax.get_lines() if line.get_label() == "water"]
        assert np.asarray(line.get_ydata()) == pytest.approx((water - zero) / size)
    [fuel] = [line for axis in ax.figure.axes for line in axis.get_lines() if line.get_label() == "fuel left"]
    poured = burn.setup.charge.volume + min(burn.setup.charge.primer, 1.0)
    assert np.asarray(fuel.get_ydata())[0] * 29.5735 == pytest.approx(poured * 1e6, rel=0.01)
    with pytest.raises(InputError, match="units"):
        burnsim.plots.burn(burn, axes(), units="imperial")


def test_levels_show_where_the_jets_begin(burn: Burn) -> None:
    ax = burnsim.plots.levels(burn, axes())
    assert ("jets begin" in [plain(text.get_text()) for text in ax.texts]) == (burn.setup.burner.jets is not None)
    room = "chamber" if burn.setup.burner.kind == "sealed chamber" else "gallery"  # a sealed chamber has no gallery
    labels = [str(line.get_label()) for axis in ax.figure.axes for line in axis.get_lines()]
    assert all(("gallery" in label) == (room == "gallery") for label in labels if "gallery" in label or room in label)
    for name, label in (("gallery_level", f"liquid in the {room}"), ("well_level", "liquid in the well")):
        for line in ax.get_lines():
            if line.get_label() == label:
                assert np.asarray(line.get_ydata()) == pytest.approx(burn.series(name) * MM)


def test_flows_of_an_instant(burn: Burn) -> None:
    at = 0.4 * burn.duration
    flows = burn.flows(at)
    ax = burnsim.plots.flows(burn, axes(), at=at)
    found = heat_flows(flows)
    assert [bar.get_width() for bar in ax.patches] == pytest.approx([flow.watts for flow in found])
    assert [plain(text.get_text()) for text in ax.get_yticklabels()] == [flow.words for flow in found]
    to_pot = sum(flow.watts for flow in found if flow.group == "to the pot")
    index = int(np.searchsorted(burn.time, at))
    nearby = burn.series("heat_to_pot")[max(index - 2, 0) : index + 2]
    assert nearby.min() * 0.9 <= to_pot <= nearby.max() * 1.1


@pytest.mark.parametrize("at", [15.0, 150.0])
def test_flows_to_a_cold_pot_are_all_of_its_heat(at: float) -> None:
    """Dew on it, and vapour of the well that condenses, are among them."""
    burn = burnt(burnsim.load(Path(__file__).parents[2] / "examples" / "weekend_double_wall.toml"))
    flows = burn.flows(at)
    to_pot = sum(flow.watts for flow in heat_flows(flows) if flow.group == "to the pot")
    assert to_pot == pytest.approx(burn.at(at)["heat_to_pot"], abs=0.2)
    assert abs(flows.pot.dew_heat) + flows.gas.reflux > 2.0


def a_sweep() -> xarray.Dataset:
    dims = ("burner.jets.count", "burner.jets.diameter")
    boil = np.array([[600.0, 500.0, 400.0], [550.0, np.nan, 300.0], [np.nan, 450.0, 250.0]])
    verdicts = np.array([["", "", "spills"], ["", "no boil", "light-back; spills"], ["never blooms; no boil", "", ""]])
    return xarray.Dataset(
        {
            "boil": (dims, boil, {"units": "s", "long_name": "time until the water boils"}),
            "verdicts": (dims, verdicts.astype(object)),
            "status": (dims, np.full((3, 3), "solved", dtype=object)),
        },
        {
            dims[0]: (dims[0], [10, 20, 30], {"units": "1", "long_name": "number of jets"}),
            dims[1]: (dims[1], [0.8e-3, 1.0e-3, 1.2e-3], {"units": "m", "long_name": "diameter of a jet"}),
        },
    )


class TestMap:
    def test_axes_contours_and_hatches(self) -> None:
        ax = burnsim.plots.sweep_map(a_sweep(), "boil", axes())
        assert plain(ax.get_xlabel()) == "diameter of a jet [mm]"
        assert plain(ax.get_ylabel()) == "number of jets"
        bar = next(one for one in ax.figure.axes if one is not ax)
        assert plain(bar.get_ylabel()).replace("\n", " ") == "time until the water boils [min]"
        assert plain(ax.get_title()).startswith("best 4 min 10 s with jets count 30, jets diameter 1.2 mm")
        legend = ax.get_legend()
        assert legend is not None
        assert [plain(text.get_text()) for text in legend.get_texts()] == [
            "spills",
            "jets never light",
            "did not happen",
            "best",
        ]
        hatches = [patch.get_hatch() for patch in legend.get_patches()]
        assert len(set(hatches)) == 3
        assert (
            burnsim.plots.sweep_map(a_sweep(), "boil", axes(), x="burner.jets.count", units="us")
            .get_ylabel()
            .endswith("[in]")
        )

    def test_what_is_no_map(self) -> None:
        with pytest.raises(InputError, match="did you mean 'boil'"):
            burnsim.plots.sweep_map(a_sweep(), "boils", axes())
        with pytest.raises(InputError, match="a text"):
            burnsim.plots.sweep_map(a_sweep(), "verdicts", axes())
        with pytest.raises(InputError, match="two fields"):
            burnsim.plots.sweep_map(a_sweep().isel({"burner.jets.count": 0}), "boil", axes())

    def test_readable_units(self) -> None:
        assert readable(np.array([373.15]), "water_max", {"units": "K"})[0] == pytest.approx([100.0])
        assert readable(np.array([5.0]), "boil_margin", {"units": "K"})[0] == pytest.approx([5.0])  # a difference
        values, label = readable(np.array([1500.0]), "site.altitude", {"units": "m", "long_name": "height"}, "us")
        assert (round(float(values[0])), label) == (4921, "height [ft]")
        values, label = readable(np.array([0.44704]), "site.wind", {"units": "m/s", "long_name": "wind"}, "us")
        assert (values[0], plain(label)) == (pytest.approx(1.0, rel=1e-12), "wind [mph]")  # exact: 1609.344 m in 3600 s


class TestBands:
    def test_bands_hold_the_quantiles(self) -> None:
        quantiles = np.sort(np.random.default_rng(1).normal(50.0, 10.0, (5, 8)), axis=0)
        ax = burnsim.plots.bands(np.arange(8) * 60.0, quantiles, axes(), measured=([0.0, 60.0], [50.0, 51.0]))
        [median] = [line for line in ax.get_lines() if line.get_label() == "median"]
        assert np.asarray(median.get_ydata()) == pytest.approx(quantiles[2])
        labels = [plain(str(collection.get_label())) for collection in ax.collections]
        assert labels == ["central 90 %", "central 50 %"]
        outer = ax.collections[0].get_paths()[0].vertices
        assert outer[:, 1].min() == pytest.approx(quantiles[0].min())
        assert outer[:, 1].max() == pytest.approx(quantiles[4].max())
        with pytest.raises(InputError, match="levels"):
            burnsim.plots.bands([0.0, 1.0], quantiles, axes())


def test_flames_are_polygons_told_apart_by_their_line(burn: Burn) -> None:
    ax = burnsim.plots.section(burn.setup, axes(), burn=burn, at=min(5.0, burn.duration))
    styles = {
        (str(patch.get_label()) == "_flame jet", patch.get_linestyle())
        for patch in ax.patches
        if isinstance(patch, Polygon) and str(patch.get_label()).startswith("_flame")
    }
    assert all((style == "-") == is_jet for is_jet, style in styles)


def test_no_unknown_explains_more_than_all() -> None:
    """An estimate of a Sobol index may pass 1 by its sampling, the index itself does not."""
    total, band = np.array([[2.3, 0.1]]), np.array([[[0.8, 8.0], [-0.2, 0.3]]])
    found = Sensitivity(("wick_heat", "discharge"), ("boil",), 0.5 * total, total, band, band, 64, 0)
    ax = burnsim.plots.sensitivity(found)
    assert "100\u00a0%" in ax.get_title()
    assert ax.get_xlim()[1] < 110.0
    assert "230" not in found.summary()
    assert "(80 to 100)" in found.summary()
