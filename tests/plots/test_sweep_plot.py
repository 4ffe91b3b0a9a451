"""Pictures of sweeps show the numbers of the dataset, and say which designs do not work."""

import warnings

import numpy as np
import pytest
import xarray as xr
from matplotlib.axes import Axes
from matplotlib.collections import PathCollection, PolyCollection, QuadMesh
from matplotlib.contour import ContourSet
from matplotlib.figure import Figure

from burnsim import InputError, Setup, plots, sweep
from burnsim.units import plain

CUP = {"kind": "open cup", "outer_diameter": "60 mm", "height": "30 mm"}
HEIGHT, VOLUME, FUEL = "burner.height", "charge.volume", "charge.fuel"


def dataset(values: dict[str, list[object]]) -> xr.Dataset:
    """A sweep whose designs cannot be built, with results made up for the picture."""
    base = Setup.from_dict({"name": "cup", "burner": CUP, "charge": {"fuel": "ethanol", "volume": "20 ml"}})
    with warnings.catch_warnings():
        warnings.filterwarnings("ignore", "none of the")
        made = sweep(base, values, workers=1)
    made["status"] = xr.full_like(made.status, "solved")
    made["boil"] = (made.boil.dims, 300.0 + 60.0 * np.arange(made.boil.size).reshape(made.boil.shape), made.boil.attrs)
    return made


def test_a_curve_shows_minutes_and_marks_what_does_not_work() -> None:
    made = dataset({HEIGHT: [0.9, 0.91, 0.92, 0.93]})
    made["boil"][1] = np.nan
    made["verdicts"][2] = "lift-off; spills"
    ax = plots.sweep(made, "boil")
    drawn = {str(line.get_label()): line.get_xydata() for line in ax.get_lines()}
    np.testing.assert_allclose(drawn["works"], [[900.0, 5.0], [930.0, 8.0]])
    np.testing.assert_allclose(drawn["does not work, or spills"], [[920.0, 7.0]])
    np.testing.assert_allclose(drawn["did not happen, or cannot be built"][:, 0], [910.0])
    assert plain(ax.get_ylabel()).endswith("[min]")
    assert plain(ax.get_xlabel()).endswith("[mm]")


def cells(ax: Axes) -> QuadMesh:
    [found] = [one for one in ax.collections if isinstance(one, QuadMesh)]
    return found


def contours(ax: Axes) -> list[np.ndarray]:
    """Every line of equal values, as it is drawn."""
    drawn = [one for one in ax.collections if isinstance(one, ContourSet)]
    paths = [path for one in drawn for path in one.get_paths()]
    return [np.asarray(line) for path in paths for line in path.to_polygons(closed_only=False) if len(line) > 1]


def test_a_panel_for_each_of_the_other_values() -> None:
    made = dataset({FUEL: ["methanol", "ethanol", "acetone"], HEIGHT: [0.9, 0.91], VOLUME: [1.0, 1.1]})
    panels = plots.sweep_panels(made, "boil", Figure())
    assert [plain(ax.get_title()).split(";")[0] for ax in panels] == ["methanol", "ethanol", "acetone"]
    assert len({(plain(ax.get_xlabel()), plain(ax.get_ylabel())) for ax in panels}) == 1


def test_panels_beside_each_other_have_one_scale() -> None:
    made = dataset({FUEL: ["methanol", "ethanol"], HEIGHT: [0.9, 0.91], VOLUME: [1.0, 1.1]})
    made["boil"][0] /= 10.0  # seconds alone, but minutes beside the other
    one, other = (cells(ax).norm.boundaries for ax in plots.sweep_panels(made, "boil", Figure()))
    assert one.tolist() == other.tolist()
    assert one[0] <= 0.5
    assert one[-1] >= 11.0


def test_a_cell_for_each_design_and_nothing_between() -> None:
    made = dataset({HEIGHT: [0.9, 0.91, 0.95], VOLUME: [1.0, 1.1, 1.2, 1.3]})
    ax = plots.sweep_map(made, "boil", Figure().subplots())
    drawn = cells(ax)
    np.testing.assert_allclose(np.asarray(drawn.get_array()).ravel(), made.boil.values.ravel() / 60.0)
    edges = drawn.get_coordinates()
    np.testing.assert_allclose(np.asarray(edges[:, 0, 1]), [895.0, 905.0, 930.0, 970.0])  # half-way between neighbours


def test_lines_run_among_working_neighbours_only_at_the_steps_of_the_colours() -> None:
    made = dataset({HEIGHT: [0.90, 0.91, 0.92, 0.93], VOLUME: [1.0, 1.1, 1.2, 1.3]})
    before = contours(plots.sweep_map(made, "boil", Figure().subplots()))
    made["verdicts"][0, 0] = "never blooms; no boil"
    made["status"][3, 3] = "impossible"
    made["verdicts"][1, 1] = "lift-off"  # a warning, not a failure
    ax = plots.sweep_map(made, "boil", Figure().subplots())
    after = contours(ax)
    assert before
    for line in after:
        for x, y in line:  # volumes along in ml, heights up in mm
            assert not (x < 1.099e6 and y < 909.0)
            assert not (x > 1.201e6 and y > 921.0)
    levels = {level for one in ax.collections if isinstance(one, ContourSet) for level in one.levels}
    assert levels <= set(cells(ax).norm.boundaries)
    assert sum(map(len, after)) < sum(map(len, before))


def test_failures_are_hatched_by_their_reason() -> None:
    made = dataset({HEIGHT: [0.9, 0.91, 0.92], VOLUME: [1.0, 1.1, 1.2]})
    made["verdicts"][0, 1] = "light-back"
    made["verdicts"][1, 1] = "spills; light-back"
    made["verdicts"][2, 1] = "rim melts"
    made["boil"][2, 2] = np.nan
    ax = plots.sweep_map(made, "boil", Figure().subplots())
    hatched = {
        str(one.get_label()): one for one in ax.collections if isinstance(one, PolyCollection) and one.get_hatch()
    }
    assert set(hatched) == {"_may light back", "_spills", "_its rim melts", "_did not happen"}
    assert len({one.get_hatch() for one in hatched.values()}) == 4
    assert all(len(one.get_paths()) == 1 for one in hatched.values())
    assert np.ma.getmaskarray(cells(ax).get_array()).sum() == 4
    with pytest.raises(InputError, match="did you mean 'spills'"):
        plots.sweep_map(made, "boil", infeasible=("spill",))


def test_the_base_and_the_best_design_are_marked() -> None:
    made = dataset({HEIGHT: [0.02, 0.04], VOLUME: [10e-6, 15e-6, 30e-6]})  # the base: 30 mm, 20 ml
    marks = {
        str(line.get_label()): line.get_xydata()
        for line in plots.sweep_map(made, "boil", Figure().subplots()).get_lines()
    }
    assert marks["base design"] == pytest.approx(np.array([[20.0, 30.0]]))
    assert marks["best"] == pytest.approx(np.array([[10.0, 20.0]]))
    made["verdicts"][0, 0] = "spills"
    marks = {
        str(line.get_label()): line.get_xydata()
        for line in plots.sweep_map(made, "boil", Figure().subplots()).get_lines()
    }
    assert marks["best"] == pytest.approx(np.array([[15.0, 20.0]]))
    far = plots.sweep_map(dataset({HEIGHT: [0.9, 0.91], VOLUME: [1.0, 1.1]}), "boil", Figure().subplots())
    assert "base design" not in {str(line.get_label()) for line in far.get_lines()}


def test_nothing_lies_between_two_words() -> None:
    made = dataset({VOLUME: [1.0, 1.1, 1.2], FUEL: ["methanol", "ethanol", "acetone"]})
    ax = plots.sweep_map(made, "boil", Figure().subplots())
    assert [plain(label.get_text()) for label in ax.get_xticklabels()] == ["methanol", "ethanol", "acetone"]
    assert not contours(ax)
    gaps = [line.get_xdata()[0] for line in ax.get_lines() if line.get_label() == "_between"]
    assert gaps == [0.5, 1.5]


def test_whole_numbers_have_whole_ticks() -> None:
    made = dataset({HEIGHT: [0.9, 0.91]}).rename({HEIGHT: "burner.feed_slots.count"})
    made = made.assign_coords({"burner.feed_slots.count": [3, 4]})
    for picture in (
        plots.sweep(part, "boil", Figure().subplots()) for part in (made, made.isel({"burner.feed_slots.count": [0]}))
    ):
        assert all("." not in plain(label.get_text()) for label in picture.get_xticklabels())


def test_a_span_holds_values_beyond_it_at_its_ends() -> None:
    made = dataset({HEIGHT: [0.9, 0.91], VOLUME: [1.0, 1.1]})  # boils after 5 to 8 min
    wide, narrow = (
        cells(plots.sweep_map(made, "boil", Figure().subplots(), span=span)).norm
        for span in ((0.0, 1200.0), (330.0, 450.0))
    )
    assert (wide.boundaries[0], wide.extend) == (0.0, "neither")
    assert wide.boundaries[-1] >= 18.0
    assert 5.0 < narrow.boundaries[0] <= 5.5
    assert narrow.extend == "both"
    for span in ((1.0, 1.0), (2.0, 1.0), (0.0, np.nan), (1.0,)):
        with pytest.raises(InputError, match="rising"):
            plots.sweep_map(made, "boil", span=span)  # type: ignore[arg-type]


def test_slices_and_single_values_are_drawn() -> None:
    made = dataset({HEIGHT: [0.9, 0.91, 0.92], VOLUME: [1.0, 1.1, 1.2]})
    for part in (made.isel({HEIGHT: 0}), made.isel({HEIGHT: [0]}), made.isel({HEIGHT: 0, VOLUME: 0}),
                 made.isel({HEIGHT: [0], VOLUME: [0]})):  # fmt: skip
        ax = plots.sweep(part, "boil", Figure().subplots())
        assert sum(len(line.get_xdata()) for line in ax.get_lines() if line.get_label() == "works") == part.boil.size
    row = plots.sweep_map(made.isel({HEIGHT: [0]}), "boil", Figure().subplots())
    assert cells(row).get_array().shape == (1, 3)


def test_a_curve_for_each_value_of_another_field() -> None:
    made = dataset({HEIGHT: [0.9, 0.91, 0.92], VOLUME: [1.0, 1.1]})
    ax = plots.sweep(made, "boil", x=HEIGHT, colour=VOLUME)
    curves = [line.get_ydata() for line in ax.get_lines() if line.get_label() == "_works"]
    assert np.array(curves) == pytest.approx(made.boil.values.T / 60.0)
    assert {plain(text.get_text()) for text in ax.texts} == {"volume 1000000 ml", "volume 1100000 ml"}
    with pytest.raises(InputError, match="colour"):
        plots.sweep(made, "boil", colour="burner.jets.count")
    with pytest.raises(InputError, match=r"lies along the picture already; allowed: no field here"):
        plots.sweep(made.isel({VOLUME: 0}, drop=True), "boil", colour=HEIGHT)


def test_counts_of_sampled_designs_have_whole_ticks() -> None:
    """Twelve and a half jets cannot be drilled."""
    count = "burner.feed_slots.count"
    made = dataset({HEIGHT: [0.9, 0.91], VOLUME: [1.0, 1.1]}).rename({HEIGHT: count}).assign_coords({count: [12, 15]})
    ax = plots.sweep(made.stack(design=(count, VOLUME)).reset_index("design"), "boil", Figure().subplots(), x=count)
    assert ax.get_xticks() == pytest.approx(np.round(ax.get_xticks()))


def test_what_lies_along_and_what_colours_sampled_designs_can_be_chosen() -> None:
    made = dataset({HEIGHT: [0.9, 0.91], VOLUME: [1.0, 1.1]})
    rows = made.stack(design=(HEIGHT, VOLUME)).reset_index("design")
    for name in (HEIGHT, VOLUME):
        rows[name].attrs.update(made[name].attrs)
    ax = plots.sweep(rows, "boil", Figure().subplots(), x=VOLUME, colour=HEIGHT)
    [dots] = [one for one in ax.collections if isinstance(one, PathCollection)]
    assert np.asarray(dots.get_offsets())[:, 0] == pytest.approx([1e6, 1.1e6, 1e6, 1.1e6])
    assert np.asarray(dots.get_array()) == pytest.approx([900.0, 900.0, 910.0, 910.0])
    assert "floor to rim" in ax.figure.axes[1].get_ylabel()
    ax = plots.sweep(rows, "boil", Figure().subplots(), x="boil")
    assert ax.get_xlabel() == ax.get_ylabel()
    for option in ({"x": "boill"}, {"colour": "verdicts"}):
        with pytest.raises(InputError, match="is neither a field nor a numeric result"):
            plots.sweep(rows, "boil", Figure().subplots(), **option)


def test_what_cannot_be_drawn_is_refused() -> None:
    made = dataset({HEIGHT: [0.9, 0.91, 0.92], VOLUME: [1.0, 1.1, 1.2], "burner.wall_thickness": [0.01, 0.02, 0.03]})
    with pytest.raises(InputError, match="not a numeric result"):
        plots.sweep(made, "boil_reason")
    made = made.expand_dims({"copy": 3}).assign_coords(copy=range(3))
    with pytest.raises(InputError, match="panels"):
        plots.sweep_panels(made, "boil", Figure())


def test_a_picture_leaves_the_sweep_as_it_is() -> None:
    """Its fields keep their units; some versions of xarray share attributes between what is drawn and what is kept."""
    made = dataset({HEIGHT: [0.02, 0.04], VOLUME: [10e-6, 15e-6, 30e-6]})
    before = {name: dict(one.attrs) for name, one in made.variables.items()}
    plots.sweep_map(made, "boil", Figure().subplots())
    assert {name: dict(one.attrs) for name, one in made.variables.items()} == before
    assert before[HEIGHT]["units"] == "m"
