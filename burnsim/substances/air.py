"""Air: the atmosphere by height, dry air at film temperature, water vapour in room air; scalar floats."""

from math import exp, log, pow

from burnsim.bounds import within
from burnsim.constants import AIR_MOLAR_MASS, ATMOSPHERE, GAS_CONSTANT
from burnsim.substances import water
from burnsim.substances.data_file import DATA, read_data

_FITTED = read_data(DATA / "air.toml").sub_table("fitted", "run python -m burnsim.substances.fitting.generate")
_MU = _FITTED.coefficients("ln_viscosity", 4)
_K = _FITTED.coefficients("ln_conductivity", 4)
_CP = _FITTED.coefficients("heat_capacity", 6)


def pressure_at_altitude(z: float) -> float:
    """Pressure of the standard atmosphere [Pa] at geometric height z [m], -500 to 11000 (held inside).

    p = 101325 (1 - 0.0065 H / 288.15)^5.25588, H = z r / (r + z), r = 6356766 m.

    Sources: U.S. Standard Atmosphere (1976), equations 18 and 33a.

    >>> round(pressure_at_altitude(3000.0) / 1e3, 2)  # table I of the source: 70.12 kPa
    70.12
    """
    z = within(z, -500.0, 11000.0)
    height = z * 6356766.0 / (6356766.0 + z)
    exponent = 9.80665 * 0.0289644 / (8.31432 * 0.0065)  # all four as that standard defines them
    return ATMOSPHERE * pow(1.0 - 0.0065 * height / 288.15, exponent)


def density(T: float, p: float) -> float:
    """Density of dry air, p M / (R T) [kg/m3] at T [K], 250 to 2000, and p [Pa].

    >>> round(density(300.0, 101325.0), 3)  # M p / (R T) by hand
    1.177
    """
    return p * AIR_MOLAR_MASS / (GAS_CONSTANT * (T if T > 100.0 else 100.0))


def viscosity(T: float) -> float:
    """Viscosity of dry air [Pa s] at T [K], 250 to 2000 (held inside 200 to 2500).

    Sources: Lemmon and Jacobsen (2004), Int. J. Thermophys. 25, 21, refitted within 0.11 %.

    >>> round(1e7 * viscosity(300.0), 0)  # Incropera table A.4: 184.6 (from memory)
    185.0
    """
    y = log(within(T, 200.0, 2500.0) / 300.0)
    return exp(_MU[0] + y * (_MU[1] + y * (_MU[2] + y * _MU[3])))


def conductivity(T: float) -> float:
    """Thermal conductivity of dry air [W/m/K] at T [K], 250 to 2000 (held inside 200 to 2500).

    Sources: Lemmon and Jacobsen (2004), Int. J. Thermophys. 25, 21, refitted within 0.07 %.

    >>> round(1e3 * conductivity(300.0), 1)  # Incropera table A.4: 26.3 (from memory)
    26.4
    """
    y = log(within(T, 200.0, 2500.0) / 300.0)
    return exp(_K[0] + y * (_K[1] + y * (_K[2] + y * _K[3])))


def heat_capacity(T: float) -> float:
    """Heat capacity of dry air at constant pressure [J/kg/K] at T [K], 250 to 2000 (held inside 200 to 2500).

    >>> round(heat_capacity(300.0) / 1007.0, 2)  # Incropera table A.4: 1007 (from memory)
    1.0
    """
    t = within(T, 200.0, 2500.0) / 1000.0
    return _CP[0] + t * (_CP[1] + t * (_CP[2] + t * (_CP[3] + t * (_CP[4] + t * _CP[5]))))


def prandtl(T: float) -> float:
    """Prandtl number of dry air, mu cp / k [-], at T [K], 250 to 2000.

    >>> round(prandtl(300.0), 2)  # Incropera table A.4: 0.707 (from memory)
    0.71
    """
    return viscosity(T) * heat_capacity(T) / conductivity(T)


def thermal_diffusivity(T: float, p: float) -> float:
    """Thermal diffusivity of dry air, k / (rho cp) [m2/s] at T [K], 250 to 2000, and p [Pa].

    >>> round(thermal_diffusivity(300.0, 101325.0) / 22.5e-6, 1)  # Incropera table A.4: 22.5 (from memory)
    1.0
    """
    return conductivity(T) / (density(T, p) * heat_capacity(T))


def vapour_mole_fraction(T: float, humidity: float, p: float) -> float:
    """Mole fraction of water vapour in air [-] at T [K], 250 to 330, relative humidity 0 to 1 and p [Pa].

    humidity * p_sat(T) / p, never above 1.

    >>> round(vapour_mole_fraction(293.15, 0.5, 101325.0), 4)  # p_sat 2339 Pa at 20 degC
    0.0115
    """
    y = humidity * water.vapour_pressure(T) / p
    return 1.0 if y > 1.0 else y


def moisture_by_mass(fraction: float) -> float:
    """Mass fraction of water vapour of a mole fraction in air.

    >>> round(moisture_by_mass(0.1), 4)
    0.0646
    """
    return fraction * water.MOLAR_MASS / (AIR_MOLAR_MASS + fraction * (water.MOLAR_MASS - AIR_MOLAR_MASS))
