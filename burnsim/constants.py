"""Physical constants, each written down once; SI."""

GAS_CONSTANT = 8.31446261815324
"""Molar gas constant [J/mol/K]; exact since the SI of 2019 (CODATA 2018)."""

STEFAN_BOLTZMANN = 5.670374419e-8
"""Stefan-Boltzmann constant [W/m2/K4]; exact since the SI of 2019, here to ten digits (CODATA 2018)."""

GRAVITY = 9.80665
"""Standard acceleration of free fall [m/s2]; 3rd General Conference on Weights and Measures, 1901."""

ATMOSPHERE = 101325.0
"""Standard atmosphere [Pa]; 10th General Conference on Weights and Measures, 1954."""

ZERO_CELSIUS = 273.15
"""0 degC [K]; exact by the definition of the degree Celsius."""

DATUM = 298.15
"""Temperature at which the liquid of every component, and every metal, has zero enthalpy [K]: 25 degC, to which
tables of formation enthalpies refer."""

AIR_MOLAR_MASS = 28.96546e-3
"""Molar mass of dry air [kg/mol]; CIPM-2007: Picard, Davis, Glaeser and Fujii (2008), Metrologia 45, 149,
doi:10.1088/0026-1394/45/2/004, with 0.04 % of carbon dioxide."""

OXYGEN, ARGON, CARBON_DIOXIDE = 0.20939, 0.009332, 0.0004
NITROGEN = 1.0 - OXYGEN - ARGON - CARBON_DIOXIDE
"""Dry air by moles; the same source, table 1. Its neon and other traces, 0.003 %, count as nitrogen."""
