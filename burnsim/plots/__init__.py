"""Pictures. Every plot takes `ax=` and returns it; lines differ in style and areas in hatching, to print in black."""

from burnsim.plots.burn_plot import hidden_series as hidden_series
from burnsim.plots.burn_plot import plot_burn as plot_burn
from burnsim.plots.fuels import plot_distillation as plot_distillation
from burnsim.plots.fuels import plot_fuels as plot_fuels
from burnsim.plots.start_map import plot_start_map as plot_start_map
