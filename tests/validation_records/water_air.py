"""Water and air."""

from collections.abc import Iterator

from validation_records.record import LIBRARY, MEMORY, PUBLISHED, Record

from burnsim.substances import air, water

ROOM = "water and air"
# Incropera and DeWitt, table A.4: T, viscosity e-7, conductivity e-3, cp
AIR_TABLE = [
    (250.0, 159.6, 22.3, 1006.0),
    (300.0, 184.6, 26.3, 1007.0),
    (400.0, 230.1, 33.8, 1014.0),
    (600.0, 305.8, 46.9, 1051.0),
    (800.0, 369.8, 57.3, 1099.0),
    (1000.0, 424.4, 66.7, 1141.0),
]


def saturated(key: str, T: float) -> float:
    from CoolProp.CoolProp import PropsSI

    if key == "L":
        return float(PropsSI("H", "T", T, "Q", 1, "Water") - PropsSI("H", "T", T, "Q", 0, "Water"))
    return float(PropsSI(key, "T", T, "Q", 0, "Water"))


def dry(key: str, T: float) -> float:
    from CoolProp.CoolProp import PropsSI

    return float(PropsSI(key, "T", T, "P", 101325.0, "Air"))


WATER = [
    ("vapour pressure of water", "P", "Pa", water.vapour_pressure, 1e-3),
    ("density of water", "D", "kg/m3", water.liquid_density, 1e-3),
    ("latent heat of water", "L", "J/kg", water.latent_heat, 5e-3),
    ("heat capacity of water", "C", "J/kg/K", water.liquid_heat_capacity, 1e-2),
    ("viscosity of water", "V", "Pa s", water.viscosity, 5e-2),
    ("surface tension of water", "I", "N/m", water.surface_tension, 5e-3),
]
AIR = [
    ("heat capacity of air", "C", "J/kg/K", air.heat_capacity, 5e-3, "CoolProp"),
    ("density of air", "D", "kg/m3", lambda T: air.density(T, 101325.0), 2e-3, "CoolProp"),
    ("viscosity of air", "V", "Pa s", air.viscosity, 2e-3, "CoolProp, to which ours is fitted"),
    ("conductivity of air", "L", "W/m/K", air.conductivity, 2e-3, "CoolProp, to which ours is fitted"),
]


def records() -> Iterator[Record]:
    for T, p in ((300.0, 0.353658941e-2), (500.0, 0.263889776e1), (600.0, 0.123443146e2)):
        yield Record(
            ROOM,
            "vapour pressure of water, verification values",
            f"{T:g} K",
            "MPa",
            p,
            lambda T=T: 1e-6 * water.vapour_pressure(T),
            1e-8,
            "relative",
            "IAPWS-IF97, table 35",
            PUBLISHED,
        )
    for p, T in ((0.1, 0.372755919e3), (1.0, 0.453035632e3), (10.0, 0.584149488e3)):
        yield Record(
            ROOM,
            "boiling point of water, verification values",
            f"{p:g} MPa",
            "K",
            T,
            lambda p=p: water.boiling_point(1e6 * p),
            1e-8,
            "relative",
            "IAPWS-IF97, table 36",
            PUBLISHED,
        )
    for T in (275.0, 293.15, 313.15, 333.15, 353.15, 373.12):
        for quantity, key, unit, law, accept in WATER:
            yield Record(
                ROOM,
                quantity,
                f"{T:g} K",
                unit,
                lambda k=key, T=T: saturated(k, T),
                lambda f=law, T=T: f(T),
                accept,
                "relative",
                "IAPWS-95 in CoolProp",
                LIBRARY,
            )
    for t, sigma in ((20.0, 72.75), (60.0, 66.24), (100.0, 58.91)):
        yield Record(
            ROOM,
            "surface tension of water, table",
            f"{t:g} degC",
            "mN/m",
            sigma,
            lambda t=t: 1e3 * water.surface_tension(273.15 + t),
            2e-3,
            "relative",
            "IAPWS R1-76",
            MEMORY,
        )
    yield Record(
        ROOM,
        "heat to bring 1 kg of water from 20 degC to the boil",
        "",
        "kJ",
        335.2,
        lambda: 1e-3 * (water.liquid_enthalpy(373.12) - water.liquid_enthalpy(293.15)),
        0.01,
        "relative",
        "steam tables",
        MEMORY,
    )
    for z, p, boils in ((1000.0, 89.88, 96.7), (2000.0, 79.50, 93.3), (3000.0, 70.12, 90.0), (4000.0, 61.66, 86.6)):
        yield Record(
            ROOM,
            "pressure on a mountain",
            f"{z:g} m",
            "kPa",
            p,
            lambda z=z: 1e-3 * air.pressure_at_altitude(z),
            2e-4,
            "relative",
            "U.S. Standard Atmosphere 1976",
            PUBLISHED,
        )
        yield Record(
            ROOM,
            "water boils on a mountain",
            f"{z:g} m",
            "degC",
            boils,
            lambda z=z: water.boiling_point(air.pressure_at_altitude(z)) - 273.15,
            0.1,
            "absolute",
            "steam tables",
            MEMORY,
        )
    for T, mu, k, cp in AIR_TABLE:
        for what, unit, value, law, accept in (
            ("viscosity", "Pa s", 1e-7 * mu, air.viscosity, 0.03),
            ("conductivity", "W/m/K", 1e-3 * k, air.conductivity, 0.03),
            ("heat capacity", "J/kg/K", cp, air.heat_capacity, 0.01),
        ):
            yield Record(
                ROOM,
                f"{what} of air, textbook",
                f"{T:g} K",
                unit,
                value,
                lambda f=law, T=T: f(T),
                accept,
                "relative",
                "Incropera and DeWitt, table A.4",
                MEMORY,
            )
    for T in (250.0, 300.0, 500.0, 800.0, 1200.0, 1600.0, 2000.0):
        for quantity, key, unit, law, accept, source in AIR:
            yield Record(
                ROOM,
                quantity,
                f"{T:g} K",
                unit,
                lambda k=key, T=T: dry(k, T),
                lambda f=law, T=T: f(T),
                accept,
                "relative",
                source,
                LIBRARY,
            )
