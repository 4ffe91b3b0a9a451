"""Pure fuels. Their curves come from sources that are independent of the equations of state of CoolProp.

CoolProp has no 2-propanol: there the handbooks count.
"""

from collections.abc import Callable, Iterator
from functools import partial

from validation_records.record import LIBRARY, MEMORY, Record

from burnsim.substances import equilibrium, fuel
from burnsim.substances.blend import blend, density, fuel_record
from burnsim.substances.catalogue import SUBSTANCES

ROOM = "fuels"
KELVIN = 273.15
P = 101325.0
COOLPROP = {"methanol": "Methanol", "ethanol": "Ethanol", "acetone": "Acetone", "water": "Water"}
EOS = "equations of state of CoolProp"
CRC = "CRC Handbook"
MAJER = "Majer and Svoboda 1985"


def reference(key: str, T: float, name: str, quality: int = 0) -> float:
    from CoolProp.CoolProp import PropsSI

    return float(PropsSI(key, "T", T, "Q", quality, COOLPROP[name]))


def boils(name: str, pressure: float = P) -> float:
    if name == "water":
        return 373.12
    return equilibrium.bubble_temperature((1.0,), pressure, fuel_record(blend(name)))


def psat(name: str, T: float) -> float:
    return equilibrium.vapour_pressure(SUBSTANCES[name].ln_vapour_pressure, T)


def latent(name: str, T: float) -> float:
    """[J/mol]."""
    s = SUBSTANCES[name]
    return fuel.vapour_enthalpy(s.vapour_heat, T) - fuel.liquid_enthalpy(s.liquid_heat, T)


def perry(T: float) -> float:
    """Vapour pressure of 2-propanol by another handbook than that of the tables."""
    import thermo

    curve = thermo.VaporPressure(CASRN="67-63-0", Tc=508.3, Pc=4.764e6, omega=0.665)
    return float(curve.calculate(T, "DIPPR_PERRY_8E"))


def clapeyron(name: str, T: float) -> float:
    """Latent heat of an ideal vapour from the slope of its pressure, R T^2 d ln p/dT [J/mol]."""
    slope = (psat(name, T + 0.1) - psat(name, T - 0.1)) / 0.2 / psat(name, T)
    return 8.314463 * T * T * slope


def rise(name: str, of: Callable[[float], float]) -> float:
    return 100.0 * (of(293.15) / of(boils(name)) - 1.0)


def at(celsius: float) -> str:
    return f"{celsius:g} degC"


def records() -> Iterator[Record]:  # noqa: PLR0912  (a list, not a course)
    for name, celsius in (("methanol", 64.5), ("ethanol", 78.4), ("2-propanol", 82.2), ("acetone", 56.1)):
        yield Record(
            ROOM,
            "boiling point at 1 atm",
            name,
            "degC",
            celsius,
            lambda n=name: boils(n) - KELVIN,
            0.2,
            "absolute",
            CRC,
            MEMORY,
        )
    for name in COOLPROP:
        for c in (20.0, 40.0, 60.0, 80.0):
            yield Record(
                ROOM,
                "vapour pressure",
                f"{name}, {at(c)}",
                "Pa",
                partial(reference, "P", KELVIN + c, name),
                partial(psat, name, KELVIN + c),
                0.01,
                "relative",
                EOS,
                LIBRARY,
            )
        if name != "water":
            for c in (-20.0, -10.0, 0.0):
                yield Record(
                    ROOM,
                    "vapour pressure in the cold",
                    f"{name}, {at(c)}",
                    "Pa",
                    partial(reference, "P", KELVIN + c, name),
                    partial(psat, name, KELVIN + c),
                    0.02,
                    "relative",
                    EOS,
                    LIBRARY,
                )
    for c, kpa in ((20.0, 4.21), (40.0, 13.92), (60.0, 38.66)):
        ours = partial(psat, "2-propanol", KELVIN + c)
        yield Record(
            ROOM,
            "vapour pressure of 2-propanol",
            at(c),
            "Pa",
            partial(perry, KELVIN + c),
            ours,
            0.04,
            "relative",
            "Perry's Handbook, 8th edition, as carried by thermo",
            LIBRARY,
        )
        yield Record(
            ROOM,
            "vapour pressure of 2-propanol",
            f"{at(c)}, table",
            "Pa",
            1e3 * kpa,
            ours,
            0.04,
            "relative",
            "handbooks, which differ by 4 %",
            MEMORY,
        )
    for name, value in (("methanol", 791.0), ("ethanol", 789.24), ("2-propanol", 785.5), ("acetone", 790.3)):
        yield Record(
            ROOM,
            "density at 20 degC",
            name,
            "kg/m3",
            value,
            lambda n=name: density(blend(n)),
            3e-3,
            "relative",
            f"{CRC}, alcohol tables",
            MEMORY,
        )
    for name in ("methanol", "ethanol", "acetone"):
        for c in (-10.0, 20.0, 50.0, 75.0):
            yield Record(
                ROOM,
                "density along temperature",
                f"{name}, {at(c)}",
                "kg/m3",
                partial(reference, "D", KELVIN + c, name),
                lambda n=name, c=c: density(blend(n), KELVIN + c),
                4e-3,
                "relative",
                EOS,
                LIBRARY,
            )
    for name in ("methanol", "ethanol"):
        yield Record(
            ROOM,
            "rise of volume from 20 degC to the boiling point",
            name,
            "%",
            lambda n=name: rise(n, lambda T: reference("D", T, n)),
            lambda n=name: rise(n, lambda T: density(blend(n), T)),
            0.5,
            "absolute",
            EOS,
            LIBRARY,
        )
    for name, value in (
        ("methanol", 2535.0),
        ("ethanol", 2434.0),
        ("2-propanol", 2582.0),
        ("acetone", 2143.0),
        ("water", 4181.0),
    ):
        yield Record(
            ROOM,
            "heat capacity of the liquid at 25 degC",
            name,
            "J/kg/K",
            value,
            lambda n=name: SUBSTANCES[n].liquid_heat[0] / SUBSTANCES[n].molar_mass,
            0.03,
            "relative",
            CRC,
            MEMORY,
        )
    # sources differ by 1.5 % for ethanol
    for name, value, accept in (
        ("methanol", 35.21, 0.01),
        ("ethanol", 38.56, 0.02),
        ("2-propanol", 39.85, 0.01),
        ("acetone", 29.10, 0.01),
        ("water", 40.65, 0.01),
    ):
        yield Record(
            ROOM,
            "latent heat at the boiling point",
            name,
            "kJ/mol",
            value,
            lambda n=name: 1e-3 * latent(n, boils(n)),
            accept,
            "relative",
            MAJER,
            MEMORY,
        )
    for name, value in (
        ("methanol", 37.43),
        ("ethanol", 42.32),
        ("2-propanol", 45.39),
        ("acetone", 30.99),
        ("water", 43.99),
    ):
        yield Record(
            ROOM,
            "latent heat at 25 degC",
            name,
            "kJ/mol",
            value,
            lambda n=name: 1e-3 * latent(n, 298.15),
            0.01,
            "relative",
            MAJER,
            MEMORY,
        )
    for name in COOLPROP:
        for T in (280.0, 300.0, 320.0, 340.0, 360.0, 380.0):
            yield Record(
                ROOM,
                "latent heat along temperature",
                f"{name}, {T:g} K",
                "J/mol",
                lambda n=name, T=T: (reference("H", T, n, 1) - reference("H", T, n)) * SUBSTANCES[n].molar_mass,
                partial(latent, name, T),
                0.01,
                "relative",
                EOS,
                LIBRARY,
            )
    for name in ("methanol", "ethanol", "2-propanol", "acetone"):
        yield Record(
            ROOM,
            "latent heat from the slope of our vapour pressure, at 0.3 atm",
            name,
            "J/mol",
            lambda n=name: clapeyron(n, boils(n, 3e4)),
            lambda n=name: latent(n, boils(n, 3e4)),
            0.05,
            "relative",
            "Clausius and Clapeyron; real vapours differ by some per cent",
            "published",
        )
    for name, value in (("methanol", 22.6), ("ethanol", 22.4), ("2-propanol", 21.3), ("acetone", 23.3)):
        yield Record(
            ROOM,
            "surface tension at 20 degC",
            name,
            "mN/m",
            value,
            lambda n=name: 1e3 * fuel.surface_tension(293.15, fuel_record(blend(n))),
            0.03,
            "relative",
            CRC,
            MEMORY,
        )
    for name, value in (("methanol", 0.585), ("ethanol", 1.19), ("2-propanol", 2.38), ("acetone", 0.331)):
        yield Record(
            ROOM,
            "viscosity at 20 degC",
            name,
            "mPa s",
            value,
            lambda n=name: 1e3 * fuel.viscosity(293.15, fuel_record(blend(n))),
            0.05,
            "relative",
            CRC,
            MEMORY,
        )
    for name in ("methanol", "ethanol"):
        for c in (20.0, 40.0, 60.0):
            yield Record(
                ROOM,
                "viscosity along temperature",
                f"{name}, {at(c)}",
                "Pa s",
                partial(reference, "V", KELVIN + c, name),
                lambda n=name, c=c: fuel.viscosity(KELVIN + c, fuel_record(blend(n))),
                0.06,
                "relative",
                EOS,
                LIBRARY,
            )
        for c in (20.0, 50.0, 80.0):
            yield Record(
                ROOM,
                "viscosity of the vapour",
                f"{name}, {at(c)}",
                "Pa s",
                partial(reference, "V", KELVIN + c, name, 1),
                lambda n=name, c=c: fuel.vapour_viscosity(KELVIN + c, fuel_record(blend(n))),
                0.05,
                "relative",
                EOS,
                LIBRARY,
            )
            yield Record(
                ROOM,
                "conductivity of the vapour",
                f"{name}, {at(c)}",
                "W/m/K",
                partial(reference, "L", KELVIN + c, name, 1),
                lambda n=name, c=c: fuel.vapour_conductivity(KELVIN + c, fuel_record(blend(n))),
                0.05,
                "relative",
                EOS,
                LIBRARY,
            )
        yield Record(
            ROOM,
            "boiling point at 3 km, 70.12 kPa",
            name,
            "degC",
            lambda n=name: saturated(70120.0, n) - KELVIN,
            lambda n=name: boils(n, 70120.0) - KELVIN,
            0.2,
            "absolute",
            EOS,
            LIBRARY,
        )
    for name, value in (("methanol", 15.9), ("ethanol", 11.9), ("2-propanol", 9.9), ("acetone", 10.5), ("water", 26.0)):
        yield Record(
            ROOM,
            "diffusivity in air at 25 degC",
            name,
            "mm2/s",
            value,
            lambda n=name: 1e6 * SUBSTANCES[n].diffusivity,
            0.10,
            "relative",
            "Perry's Handbook; Poling et al. 2001",
            MEMORY,
        )


def saturated(pressure: float, name: str) -> float:
    from CoolProp.CoolProp import PropsSI

    return float(PropsSI("T", "P", pressure, "Q", 0, COOLPROP[name]))
