"""Handbook data of aqueous mixtures, used only when the tables are regenerated.

Every number here is from memory and unverified, except where a test compares it with an independent source.
"""

# Twelve coefficients A_k of the density of ethanol and water at 20 degC [kg/m3], as a polynomial in the mass
# fraction of ethanol. OIML R 22 (1973), International alcoholometric tables. From memory; their sum must give
# pure ethanol (789.24) and the first pure water (998.20).
OIML_DENSITY_20C = (
    998.20123, -192.9769495, 389.1238958, -1668.103923, 13522.15441, -88292.78388,
    306287.4042, -613838.1234, 747017.2998, -547846.1354, 223446.0334, -39032.85426,
)  # fmt: skip

MASS_PERCENT = (0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 100)

# Densities at 20 degC [g/cm3] for each mass per cent of the organic in MASS_PERCENT.
# Methanol: Perry's Chemical Engineers' Handbook, table of aqueous methanol. 2-propanol and acetone: the
# same handbook and the CRC Handbook (concentrative properties). From memory, unverified.
DENSITY_20C = {
    "methanol": (0.9982, 0.9815, 0.9666, 0.9515, 0.9345, 0.9156, 0.8946, 0.8715, 0.8469, 0.8202, 0.7917),
    "2-propanol": (0.9982, 0.9835, 0.9696, 0.9530, 0.9307, 0.9076, 0.8842, 0.8606, 0.8368, 0.8121, 0.7855),
    "acetone": (0.9982, 0.9848, 0.9722, 0.9573, 0.9394, 0.9185, 0.8950, 0.8706, 0.8449, 0.8180, 0.7905),
}

# Viscosities [mPa s] for each mass per cent of the organic in MASS_PERCENT.
# Ethanol: Bingham (1922), Fluidity and Plasticity, and the International Critical Tables. The others:
# values of the order given by Mikhail and Kimel (1961, 1963) and by Howard and McAllister (1958). From
# memory, unverified.
ETHANOL_VISCOSITY = {
    293.15: (1.005, 1.538, 2.183, 2.71, 2.91, 2.87, 2.67, 2.370, 2.008, 1.610, 1.200),
    313.15: (0.656, 0.907, 1.160, 1.368, 1.482, 1.499, 1.447, 1.344, 1.203, 1.035, 0.834),
    333.15: (0.469, 0.609, 0.736, 0.834, 0.893, 0.913, 0.902, 0.856, 0.789, 0.704, 0.592),
}
VISCOSITY_25C = {
    "methanol": (0.890, 1.158, 1.400, 1.531, 1.593, 1.510, 1.403, 1.207, 0.999, 0.767, 0.544),
    "2-propanol": (0.890, 1.41, 2.02, 2.63, 2.97, 3.10, 3.01, 2.82, 2.55, 2.26, 2.04),
    "acetone": (0.890, 1.09, 1.26, 1.33, 1.30, 1.17, 0.99, 0.78, 0.59, 0.44, 0.306),
}

# Surface tensions at 25 degC [mN/m] by mass per cent of the organic. Alcohols: Vazquez, Alvarez and Navaza
# (1995), J. Chem. Eng. Data 40, 611. Acetone: International Critical Tables. From memory, unverified.
SURFACE_TENSION_25C = {
    "methanol": ((0, 72.01), (10, 56.18), (20, 47.21), (30, 41.09), (40, 36.51), (50, 32.86), (60, 29.83),
                 (70, 27.48), (80, 25.54), (90, 23.93), (100, 22.51)),
    "ethanol": ((0, 72.01), (5, 55.73), (10, 47.53), (20, 37.97), (30, 32.98), (40, 30.16), (50, 27.96),
                (60, 26.23), (70, 25.01), (80, 23.82), (90, 22.72), (100, 21.82)),
    "2-propanol": ((0, 72.01), (5, 49.58), (10, 40.42), (20, 30.57), (30, 26.82), (40, 25.27), (50, 24.26),
                   (60, 23.51), (70, 22.68), (80, 22.14), (90, 21.69), (100, 21.22)),
    "acetone": ((0, 72.01), (5, 55.5), (10, 48.9), (20, 41.1), (50, 30.4), (75, 26.8), (95, 24.2),
                (100, 23.0)),
}  # fmt: skip
