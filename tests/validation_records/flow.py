"""Flow through holes, capillarity, boiling and swell."""

import math
from collections.abc import Iterator
from functools import partial

from validation_records.record import LIBRARY, MEMORY, PUBLISHED, Record

from burnsim.closures import boiling, capillarity, orifice, swell

ROOM = "flow"


def creeping() -> float:
    """Flow through a 1 mm hole in an infinitely thin wall at 1e-9 Pa [pl/s]."""
    u = orifice.velocity(1e-9, 1.2, 1e-5, 1e-3, orifice.inertial_loss(0.0), orifice.laminar_loss(0.0))
    return 1e15 * u * math.pi / 4.0 * 1e-6


def lichtarowicz(reynolds: float) -> float:
    """At the Reynolds number of the real velocity; their own has the theoretical one, the real one over Cd."""
    found = 0.6
    for _ in range(200):
        found = 0.5 * (found + orifice.lichtarowicz_discharge(reynolds / found, 4.0))
    return found


def reader_harris() -> float:
    from fluids import C_Reader_Harris_Gallagher

    bore, pipe, re = 0.04, 0.4, 1e6
    flow = re * math.pi * pipe * 1e-3 / 4.0
    return float(C_Reader_Harris_Gallagher(D=pipe, Do=bore, rho=1000.0, mu=1e-3, m=flow))


def saturated(key: str, fluid: str = "Ethanol", quality: int = 0, pressure: float = 101325.0) -> float:
    from CoolProp.CoolProp import PropsSI

    return float(PropsSI(key, "P", pressure, "Q", quality, fluid))


def vapour_flow() -> float:
    """Boiling ethanol's vapour through 1 mm at 20 Pa [mg/s]."""
    rho, mu = saturated("D", quality=1), saturated("V", quality=1)
    u = orifice.velocity(20.0, rho, mu, 1e-3, orifice.inertial_loss(0.1), orifice.laminar_loss(0.1))
    return 1e6 * rho * u * math.pi / 4.0 * 1e-6


def vapour_pressure_back() -> float:
    """The pressure that drives that flow by the compressible law [Pa]; an ideal gas is 3 % lighter than the vapour."""
    losses = orifice.inertial_loss(0.1), orifice.laminar_loss(0.1)
    mu = saturated("V", quality=1)
    return orifice.gas_pressure(
        1e-6 * vapour_flow(), 1e-3, *losses, saturated("T", quality=1), 0.046069, 1.13, mu, 101325.0
    )


def superheat() -> float:
    return boiling.superheat(101425.0, 101325.0, saturated("T"), 39.1e3)


def drift(fluid: str) -> float:
    """CoolProp has no surface tension of methanol: 18.9 mN/m at 338 K, Jasper 1972, from memory."""
    sigma = 18.9e-3 if fluid == "Methanol" else saturated("I", fluid)
    return swell.drift_velocity(sigma, saturated("D", fluid), saturated("D", fluid, 1))


def records() -> Iterator[Record]:
    yield Record(
        ROOM,
        "creeping flow through a hole in a thin wall",
        "",
        "pl/s",
        1e15 * 1e-9 * 1e-9 / (24.0 * 1e-5),
        creeping,
        1e-6,
        "relative",
        "Sampson 1891, exact",
        PUBLISHED,
    )
    for ratio, value in ((0.10, 41.8), (0.37, 57.7)):
        yield Record(
            ROOM,
            "K Re of creeping flow through a short hole",
            f"L/d {ratio:g}",
            "-",
            value,
            lambda r=ratio: orifice.loss_coefficient(1e-6, r) * 1e-6,
            0.08,
            "relative",
            "Finlayson, computed flow fields",
            PUBLISHED,
        )
    for re, value in ((20.0, 0.259), (100.0, 0.459), (500.0, 0.657), (2000.0, 0.753)):
        yield Record(
            ROOM,
            "discharge of a long orifice, L/d 4",
            f"Re {re:g}",
            "-",
            partial(lichtarowicz, re),
            lambda re=re: orifice.discharge_coefficient(re, 4.0),
            0.06,
            "relative",
            "Lichtarowicz, Duggins and Markland 1965",
            PUBLISHED,
        )
        yield Record(
            ROOM,
            "formula of the long orifice, at the theoretical Re",
            f"Re {re:g}",
            "-",
            value,
            lambda re=re, v=value: orifice.lichtarowicz_discharge(re / v, 4.0),
            0.005,
            "relative",
            "the same formula as evaluated by others",
            PUBLISHED,
        )
    yield Record(
        ROOM,
        "discharge of a sharp thin plate",
        "Re 1e5",
        "-",
        0.61,
        lambda: orifice.discharge_coefficient(1e5, 0.0),
        0.02,
        "relative",
        "standard value",
        MEMORY,
    )
    yield Record(
        ROOM,
        "discharge of a sharp thin plate",
        "Re 1e6",
        "-",
        reader_harris,
        lambda: orifice.discharge_coefficient(1e6, 0.0),
        0.03,
        "relative",
        "Reader-Harris and Gallagher, by fluids",
        LIBRARY,
    )
    yield Record(
        ROOM,
        "ethanol vapour through 1 mm at 20 Pa",
        "",
        "mg/s",
        3.8,
        vapour_flow,
        0.10,
        "relative",
        "CoolProp's density and viscosity, by hand",
        LIBRARY,
    )
    yield Record(
        ROOM,
        "power of ethanol vapour through 1 mm at 20 Pa",
        "",
        "W",
        100.0,
        lambda: vapour_flow() * 26.82,
        0.10,
        "relative",
        "CoolProp's density and viscosity, by hand",
        LIBRARY,
    )
    yield Record(
        ROOM,
        "pressure that drives that flow, by the compressible law",
        "",
        "Pa",
        20.0,
        vapour_pressure_back,
        0.05,
        "relative",
        "the incompressible law",
        LIBRARY,
    )
    yield Record(
        ROOM,
        "superheat that makes 100 Pa in ethanol",
        "",
        "K",
        lambda: saturated("T", pressure=101425.0) - saturated("T"),
        superheat,
        0.10,
        "relative",
        "CoolProp",
        LIBRARY,
    )
    yield Record(
        ROOM,
        "hold-off of a dry 1 mm hole, ethanol",
        "",
        "Pa",
        90.0,
        lambda: capillarity.hold_off_pressure(0.0224, 1e-3),
        0.10,
        "relative",
        "Laplace, 4 sigma/d",
        PUBLISHED,
    )
    for radius, height in ((20e-6, 289.0), (50e-6, 116.0)):
        yield Record(
            ROOM,
            "capillary rise of ethanol",
            f"radius {1e6 * radius:g} um",
            "mm",
            height,
            lambda r=radius: 1e3 * capillarity.capillary_rise(0.0224, 1.0, 789.4, r),
            0.05,
            "relative",
            "Jurin",
            PUBLISHED,
        )
    for fluid, value in (("Ethanol", 0.189), ("Methanol", 0.192), ("Water", 0.240)):
        yield Record(
            ROOM,
            "drift velocity of bubbles at the boiling point",
            fluid.lower(),
            "m/s",
            value,
            partial(drift, fluid),
            0.10,
            "relative",
            "the 1.53 form with CoolProp's properties",
            LIBRARY,
        )
    for flux, value in ((0.02, 1.10), (0.05, 1.25), (0.10, 1.48)):
        yield Record(
            ROOM,
            "swell of ethanol, rise of its level",
            f"vapour {flux:g} m/s",
            "%",
            100.0 * (value - 1.0),
            lambda f=flux: 100.0 * (swell.uniform_swell(f, 0.189) - 1.0),
            0.15,
            "relative",
            "Zuber and Findlay 1965",
            PUBLISHED,
        )
