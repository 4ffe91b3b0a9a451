"""Pictures. Every plot takes `ax=` and returns it; lines differ in style and areas in hatching, to print in black."""

from burnsim.plots.burn_plot import hidden_series as hidden_series
from burnsim.plots.burn_plot import plot_burn as plot_burn
