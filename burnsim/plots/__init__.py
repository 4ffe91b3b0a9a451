"""Pictures. Every plot takes `ax=` and returns it; lines differ in style and areas in hatching, to print in black."""

from typing import TYPE_CHECKING

from burnsim.plots.bands import plot_bands as plot_bands
from burnsim.plots.bands import plot_intervals as plot_intervals
from burnsim.plots.bands import plot_residuals as plot_residuals
from burnsim.plots.bench_plot import plot_bench as plot_bench
from burnsim.plots.burn_plot import hidden_series as hidden_series
from burnsim.plots.burn_plot import plot_burn as plot_burn
from burnsim.plots.calibration_plot import plot_calibration as plot_calibration
from burnsim.plots.fill_levels import plot_fill_levels as plot_fill_levels
from burnsim.plots.fill_levels import plot_head as plot_head
from burnsim.plots.flows import plot_flows as plot_flows
from burnsim.plots.fuels import plot_distillation as plot_distillation
from burnsim.plots.fuels import plot_fuels as plot_fuels
from burnsim.plots.ledger import plot_ledger as plot_ledger
from burnsim.plots.levels import plot_levels as plot_levels
from burnsim.plots.prediction_plot import plot_prediction as plot_prediction
from burnsim.plots.search_plot import plot_search as plot_search
from burnsim.plots.section import plot_section as plot_section
from burnsim.plots.spill_margin import plot_spill_map as plot_spill_map
from burnsim.plots.start_map import plot_start_map as plot_start_map
from burnsim.plots.sweep_map import plot_map as plot_map
from burnsim.plots.sweep_plot import plot_panels as plot_panels
from burnsim.plots.sweep_plot import plot_sweep as plot_sweep

if TYPE_CHECKING:
    from matplotlib.axes import Axes

DRAWINGS = {
    "Burn": "plot_burn",
    "FillLimits": "plot_fill_levels",
    "FuelComparison": "plot_fuels",
    "StartMap": "plot_start_map",
    "Prediction": "plot_prediction",
    "Search": "plot_search",
    "Calibration": "plot_calibration",
    "BenchResult": "plot_bench",
}
"""The picture that tells most of a result, by the name of its class."""


def draw(result: object, ax: "Axes | None" = None, units: str = "si") -> "Axes":
    """The picture that tells most of a result.

    Parameters
    ----------
    result : of a burn or a study
    ax : axes to draw on; default none: new ones
    units : "si" or "us"
    """
    axes: Axes = globals()[DRAWINGS[type(result).__name__]](result, ax, units=units)
    return axes
