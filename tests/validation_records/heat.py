"""Flames, convection, boiling, evaporation and contact."""

import math
from collections.abc import Iterator

from validation_records.record import LIBRARY, MEMORY, PRACTICE, PUBLISHED, Record

from burnsim.closures import boiling, contact, convection, evaporation, flame, plume

ROOM = "fire and heat"
GAS_CONSTANT = 8.314462618


def length_per_watt(air: float, heat: float, temperature: float) -> float:
    """[mm/W]."""
    return 1e3 * flame.roper_length(GAS_CONSTANT * temperature / 101325.0 / heat, air, temperature, 293.15)


def propane() -> float:
    """Flow of a 50 mm flame [cm3/s]."""
    return 1e6 * 0.05 / flame.roper_length(1.0, 23.8, 300.0, 300.0)


def spalding(heat: float, ratio: float, latent: float, cp: float, boils: float) -> float:
    return evaporation.spalding_number(heat, ratio, latent + cp * (boils - 298.15), 1000.0, 298.15, boils, 0.0)


def band_of_methanol() -> float:
    b = evaporation.spalding_number(19.94e6, 6.47, 1.2e6, 1200.0, 293.0, 337.7, 0.1)
    return 1e3 * evaporation.film_burning_flux(convection.vertical_wall(0.012, 337.7, 1500.0), 1200.0, b)


def churchill_chu() -> tuple[float, float]:
    """(Nusselt number, coefficient [W/m2/K]) of a wall of 100 degC, 0.1 m high, in air of 20 degC."""
    from CoolProp.CoolProp import PropsSI
    from ht import Nu_vertical_plate_Churchill

    film = 333.15
    k, pr, mu, rho = (PropsSI(x, "T", film, "P", 101325.0, "Air") for x in ("L", "PRANDTL", "V", "D"))
    nusselt = Nu_vertical_plate_Churchill(Pr=pr, Gr=9.80665 / film * 80.0 * 0.1**3 * (rho / mu) ** 2)
    return float(nusselt), float(nusselt * k / 0.1)


def open_water(celsius: float) -> float:
    """[kg/m2/h]."""
    from CoolProp.CoolProp import PropsSI

    surface = celsius + 273.15
    y = PropsSI("P", "T", surface, "Q", 0, "Water") / 101325.0
    y_air = 0.5 * PropsSI("P", "T", 293.15, "Q", 0, "Water") / 101325.0
    return 3600.0 * evaporation.water_evaporation(surface, y, 293.15, y_air, 101325.0)


def cooper() -> tuple[float, float]:
    """(superheat at 10 kW/m2 by `ht`, ours) of boiling ethanol [K]."""
    from ht import Cooper

    c = boiling.cooper_coefficient(101325.0 / 6.268e6, 46.069)
    return 1e4 / float(Cooper(P=101325.0, Pc=6.268e6, MW=46.069, q=1e4)), 1e4**0.33 / c


def bathed(gas: float, standoff: float) -> float:
    film = convection.air_conductivity(0.5 * (gas + 450.0))
    return convection.mixed_coefficient(film / standoff, convection.vertical_wall(0.010, 450.0, gas))


SPALDING = [
    ("methanol", 19.94e6, 6.47, 1101e3, 2535.0, 337.7, 2.5),
    ("ethanol", 26.82e6, 9.00, 849.6e3, 2434.0, 351.5, 2.9),
    ("2-propanol", 30.45e6, 10.35, 665e3, 2582.0, 355.4, 3.4),
    ("acetone", 28.54e6, 9.52, 501e3, 2143.0, 329.2, 5.1),
]


def records() -> Iterator[Record]:
    for name, air, heat, boils in (("methanol", 7.14, 676.2e3, 337.7), ("ethanol", 14.28, 1277.6e3, 351.4)):
        yield Record(
            ROOM,
            "length of a laminar flame, round port",
            name,
            "mm/W",
            0.375,
            lambda a=air, h=heat, t=boils: length_per_watt(a, h, t),
            0.05,
            "relative",
            "Roper 1977: 0.37 to 0.38",
            PUBLISHED,
        )
    yield Record(
        ROOM,
        "propane flame of 50 mm, square port",
        "",
        "cm3/s",
        1.55,
        propane,
        0.03,
        "relative",
        "Turns, worked example",
        MEMORY,
    )
    yield Record(
        ROOM,
        "power of a propane flame of 50 mm",
        "",
        "W",
        133.0,
        lambda: 1e-6 * propane() * 101325.0 * 44.1e-3 / (GAS_CONSTANT * 300.0) * 46.36e6,
        0.06,
        "relative",
        "Turns; his density is rounded by 3 %",
        MEMORY,
    )
    for name, *numbers, value in SPALDING:
        yield Record(
            ROOM,
            "Spalding's transfer number, no radiation",
            str(name),
            "-",
            value,
            lambda n=numbers: spalding(*n),
            0.06,
            "relative",
            "Quintiere, Fundamentals of Fire Phenomena",
            MEMORY,
        )
    yield Record(
        ROOM,
        "burning of a wick band, methanol",
        "",
        "g/m2/s",
        15.0,
        band_of_methanol,
        0.30,
        "relative",
        "12 to 18 g/m2/s",
        PRACTICE,
    )
    yield Record(
        ROOM,
        "side wall of a pot, against ht",
        "",
        "W/m2/K",
        lambda: churchill_chu()[1],
        lambda: convection.vertical_wall(0.1, 373.15, 293.15),
        0.01,
        "relative",
        "Churchill and Chu, by ht and CoolProp",
        LIBRARY,
    )
    for celsius, value in ((60.0, 3.0), (80.0, 8.7), (90.0, 14.0), (95.0, 17.6)):
        yield Record(
            ROOM,
            "evaporation from open water",
            f"{celsius:g} degC",
            "kg/m2/h",
            value,
            lambda c=celsius: open_water(c),
            1.5,
            "factor",
            "Shah 2002",
            PUBLISHED,
        )
    for gap, value in ((10e-6, 3600.0), (25e-6, 1100.0), (100e-6, 275.0)):
        source = "Incropera and DeWitt, table 3.1" if gap == 10e-6 else "conduction through air"
        yield Record(
            ROOM,
            "joint of aluminium in air",
            f"gap {1e6 * gap:g} um",
            "W/m2/K",
            value,
            lambda g=gap: contact.gap_conductance(g, 0.0263),
            2.0,
            "factor",
            source,
            MEMORY,
        )
    yield Record(
        ROOM,
        "superheat of boiling ethanol, 10 kW/m2",
        "",
        "K",
        lambda: cooper()[0],
        lambda: cooper()[1],
        0.02,
        "relative",
        "Cooper 1984, by ht",
        LIBRARY,
    )
    for hot in (900.0, 1200.0, 1500.0):
        yield Record(
            ROOM,
            "draught through an opening over area and root of height",
            f"{hot:g} K",
            "kg/s/m^(5/2)",
            0.5,
            lambda t=hot: plume.opening_draught(2.0, 1.5, 1.2, t, 293.15) / (2.0 * math.sqrt(1.5)),
            0.06,
            "relative",
            "Kawagoe 1958",
            MEMORY,
        )
    for gas in (1200.0, 1500.0):
        for standoff in (1.5e-3, 2e-3, 3e-3):
            yield Record(
                ROOM,
                "flame-bathed thin wall",
                f"{gas:g} K, {1e3 * standoff:g} mm",
                "W/m2/K",
                20.0,
                lambda g=gas, s=standoff: bathed(g, s),
                60.0,
                "range",
                "20 to 60 W/m2/K",
                PRACTICE,
            )
    for speed in (0.7, 1.0, 1.5):
        yield Record(
            ROOM,
            "gas under a pot's bottom",
            f"{speed:g} m/s",
            "W/m2/K",
            10.0,
            lambda v=speed: convection.stagnation_disc(v, 0.062, 800.0),
            30.0,
            "range",
            "10 to 30 W/m2/K",
            PRACTICE,
        )
