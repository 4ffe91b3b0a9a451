"""Pictures of sweeps show the numbers of the dataset, and say which designs do not work."""

import numpy as np
import pytest
import xarray as xr
from matplotlib.axes import Axes
from matplotlib.contour import ContourSet
from matplotlib.figure import Figure

from burnsim import InputError, Setup, plots, sweep
from burnsim.units import plain

CUP = {"kind": "open cup", "outer_diameter": "60 mm", "height": "30 mm"}
HEIGHT, VOLUME, FUEL = "burner.height", "charge.volume", "charge.fuel"


def dataset(values: dict[str, list[object]]) -> xr.Dataset:
    """A sweep whose designs cannot be built, with results made up for the picture."""
    base = Setup.from_dict({"burner": CUP, "charge": {"fuel": "ethanol", "volume": "20 ml"}})
    made = sweep(base, {**values, "pot": [None]}, workers=1)
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
    np.testing.assert_allclose(drawn["did not happen"][:, 0], [910.0])
    assert plain(ax.get_ylabel()).endswith("[min]")
    assert plain(ax.get_xlabel()).endswith("[mm]")


def test_a_panel_for_each_of_the_other_values() -> None:
    made = dataset({FUEL: ["methanol", "ethanol", "acetone"], HEIGHT: [0.9, 0.91], VOLUME: [1.0, 1.1]})
    panels = plots.sweep_panels(made, "boil", Figure())
    assert [plain(ax.get_title()) for ax in panels] == ["methanol", "ethanol", "acetone"]
    assert len({(plain(ax.get_xlabel()), plain(ax.get_ylabel())) for ax in panels}) == 1


def colours(ax: Axes) -> dict[float, tuple[float, ...]]:
    """The colour of each step of a map's scale, by the step's lower end."""
    shades = next(one for one in ax.collections if isinstance(one, ContourSet) and one.filled)
    return dict(zip(shades.levels.tolist(), map(tuple, shades.to_rgba(shades.layers).tolist()), strict=False))


def test_panels_beside_each_other_have_one_scale() -> None:
    made = dataset({FUEL: ["methanol", "ethanol"], HEIGHT: [0.9, 0.91], VOLUME: [1.0, 1.1]})
    made["boil"][0] /= 10.0  # seconds alone, but minutes beside the other
    one, other = (colours(ax) for ax in plots.sweep_panels(made, "boil", Figure()))
    assert one == other
    assert min(one) <= 0.5
    assert len(set(one.values())) > 5


def test_nothing_lies_between_two_words() -> None:
    made = dataset({VOLUME: [1.0, 1.1, 1.2], FUEL: ["methanol", "ethanol"]})
    ax = plots.sweep_map(made, "boil", Figure().subplots())
    assert [plain(label.get_text()) for label in ax.get_xticklabels()] == ["methanol", "ethanol"]
    for drawn in (one for one in ax.collections if isinstance(one, ContourSet) and not one.filled):
        for path in drawn.get_paths():
            columns = np.round(path.vertices[:, 0])
            assert set(columns) <= {0.0, 1.0}
            assert np.ptp(columns) == 0.0  # a line stays in its band
            assert np.abs(path.vertices[:, 0] - columns).max() <= 0.49 + 1e-9
    assert ax.get_xlim() == pytest.approx((-0.49, 1.49))


def test_a_span_holds_values_beyond_it_at_its_ends() -> None:
    made = dataset({HEIGHT: [0.9, 0.91], VOLUME: [1.0, 1.1]})  # boils after 5 to 8 min
    wide, narrow = (plots.sweep_map(made, "boil", span=span) for span in ((0.0, 1200.0), (330.0, 450.0)))
    assert min(colours(wide)) <= 0.0
    assert max(colours(wide)) >= 18.0
    assert 5.0 < min(colours(narrow)) <= 5.5
    shades = next(one for one in narrow.collections if isinstance(one, ContourSet) and one.filled)
    assert shades.extend == "both"
    for span in ((1.0, 1.0), (2.0, 1.0), (0.0, np.nan), (1.0,)):
        with pytest.raises(InputError, match="rising"):
            plots.sweep_map(made, "boil", span=span)  # type: ignore[arg-type]


def test_what_cannot_be_drawn_is_refused() -> None:
    made = dataset({HEIGHT: [0.9, 0.91, 0.92], VOLUME: [1.0, 1.1, 1.2], "burner.wall_thickness": [0.01, 0.02, 0.03]})
    with pytest.raises(InputError, match="not a numeric result"):
        plots.sweep(made, "boil_reason")
    made = made.expand_dims({"copy": 3}).assign_coords(copy=range(3))
    with pytest.raises(InputError, match="panels"):
        plots.sweep_panels(made, "boil", Figure())
