"""What fuel and water are at the site of a setup: as warm and dense as poured, and where they boil."""

from burnsim.model.description.setup import Setup
from burnsim.substances.air import pressure_at_altitude
from burnsim.substances.blend import density, fuel_record
from burnsim.substances.equilibrium import bubble_temperature
from burnsim.substances.water import boiling_point


def charge_temperature(setup: Setup) -> float:
    """Temperature at which the fuel is poured in [K]."""
    return setup.charge.temperature or setup.site.air_temperature


def poured_density(setup: Setup) -> float:
    """Density of the fuel as it is poured in [kg/m3]."""
    return density(setup.charge.fuel, charge_temperature(setup))


def fuel_boils(setup: Setup) -> float:
    """Bubble point of the fuel [K]."""
    fuel = setup.charge.fuel
    return bubble_temperature(fuel.mole_fractions, pressure_at_altitude(setup.site.altitude), fuel_record(fuel))


def water_boils(setup: Setup) -> float:
    """Boiling point of water [K]."""
    return boiling_point(pressure_at_altitude(setup.site.altitude))
