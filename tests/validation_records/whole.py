"""The whole model where figures were published: small pools of alcohol, a ring of flames under a pan."""

from collections.abc import Iterator
from functools import cache

from burners import BRASS, burnt
from scipy.optimize import brentq
from validation_records.record import MEMORY, PRACTICE, PUBLISHED, Record

import burnsim
from burnsim.model.description import geometry
from burnsim.model.description.burner import Burner
from burnsim.model.description.conditions import Charge, Pot, Site
from burnsim.model.description.parts import Jets
from burnsim.model.description.setup import Setup
from burnsim.model.description.vary import vary
from burnsim.model.parameters.derive import derive
from burnsim.solve.results.result import Burn
from burnsim.substances.blend import blend

ROOM = "whole burns"
FREEZING = 273.15
LOWER_HEATING = 26.8e6  # of ethanol, published [J/kg]
POOLS = (0.03, 0.05, 0.065, 0.10)

RING = Setup(
    BRASS,
    Charge(blend("ethanol"), volume=40e-6, primer=4e-6),
    Pot(diameter=0.20, height=0.10, water=1.5e-3, water_temperature=FREEZING + 15.0, rest="stand", gap=25e-3),
)

PAN = vary(
    Setup(
        BRASS,
        Charge(blend("ethanol"), volume=40e-6, primer=3e-6),
        Pot(
            diameter=0.21,
            height=0.08,
            water=0.363e-3,
            water_temperature=FREEZING + 20.0,
            wall_thickness=0.5e-3,
            metal="stainless steel",
            lid=False,
            rest="stand",
            gap=50e-3,
        ),
    ),
    {"burner.outer_diameter": 60e-3, "burner.jets.ring_diameter": 50e-3, "burner.jets.diameter": 0.7e-3},
)
"""A ring 5 cm across of 1 kW under a thin pan 21 cm wide, 5 cm above it, with 363 g of water."""


@cache
def run(setup: Setup) -> Burn:
    """Burn, with ledgers that close."""
    result = burnt(setup)
    if not max(abs(result.mass.residual), abs(result.energy.residual)) < 1e-6:
        raise AssertionError("a ledger is open")
    return result


def cup(
    diameter: float,
    height: float = 15e-3,
    depth: float = 13.5e-3,
    fuel: str = "methanol",
    metal: str = "steel",
    wall: float = 0.3e-3,
    site: Site | None = None,
) -> Setup:
    """An open cup without a pot, filled to a depth [m]."""
    burner = Burner("open cup", outer_diameter=diameter, height=height, wall_thickness=wall, metal=metal)
    charge = Charge(blend(fuel), volume=geometry.capacity(burner) * depth / height)
    return Setup(burner, charge, None, site or Site())


def flux(result: Burn, ullage: float | None = None) -> float:
    """Burning flux [g/m2/s] at half the burn, or when the surface has sunk to `ullage` below the rim [m]."""
    burner = result.setup.burner
    end = result.milestones.burnout.time
    if end is None:
        raise AssertionError("it does not burn out")
    time = 0.5 * end
    if ullage is not None:
        time = when_sunk(result, ullage)
    return 1e3 * result.flows(time).fire.fuel_mass / geometry.well_area(burner)


def when_sunk(result: Burn, ullage: float) -> float:
    """When a cup's surface has sunk so far below the rim [s]."""
    sunk = result.setup.burner.height - ullage
    return float(brentq(lambda t: result.flows(t).well.level - sunk, 20.0, 0.95 * float(result.time[-1])))


def share(setup: Setup) -> float:
    """Efficiency [%]."""
    found = run(setup).efficiency
    if found is None:
        raise AssertionError("no efficiency")
    return 100.0 * found


def warmed(setup: Setup) -> float:
    """Heat that warms the water to the boil, of what the fuel burnt by then gives [%]; steam left out."""
    burn = run(setup)
    boil = burn.milestones.boil
    if boil.time is None or boil.fuel is None or setup.pot is None or setup.pot.water_temperature is None:
        raise AssertionError("it does not boil")
    rise = burn.flows(boil.time).pot_temperature - setup.pot.water_temperature
    return 100.0 * 998.2 * setup.pot.water * 4184.0 * rise / (boil.fuel * LOWER_HEATING)


def pool_temperature(fuel: str) -> float:
    """Mean of the liquid of a 5 cm pool, half-way through [degC]."""
    result = run(cup(0.05, fuel=fuel))
    return result.flows(0.5 * float(result.time[-1])).well.temperature - FREEZING


@cache
def example(name: str) -> Burn:
    from pathlib import Path

    return run(burnsim.load(Path(__file__).parents[2] / "examples" / f"{name}.toml"))


def records() -> Iterator[Record]:
    for fuel in ("methanol", "ethanol"):
        for d in POOLS:
            yield Record(
                ROOM,
                f"burning flux of small pools of {fuel}",
                f"{100.0 * d:g} cm",
                "g/m2/s",
                10.0,
                lambda f=fuel, d=d: flux(run(cup(d, fuel=f)), 3e-3),
                30.0,
                "range",
                "Blinov and Khudyakov 1957 and later: 10 to 30",
                MEMORY,
            )
    for fuel, large in (("methanol", 13.1), ("ethanol", 14.8)):
        yield Record(
            ROOM,
            "burning flux at 10 cm, near that of large pools",
            fuel,
            "g/m2/s",
            0.85 * 10.0,
            lambda f=fuel: flux(run(cup(0.10, fuel=f)), 3e-3),
            1.15 * max(15.0, large),
            "range",
            "NIST MaCFP, 0.3 m: 13.1 and 14.8; 10 to 15 usual at 10 cm; each within 15 %",
            MEMORY,
        )
    for fuel, boils in (("methanol", 64.5), ("ethanol", 78.3)):
        yield Record(
            ROOM,
            "a burning pool is near its boiling point (mean of the liquid)",
            fuel,
            "degC",
            boils - 8.0,
            lambda f=fuel: pool_temperature(f),
            boils + 1.0,
            "range",
            "NIST MaCFP: surface 64.5 and 78.3",
            PUBLISHED,
        )
    for fuel in ("methanol", "ethanol", "2-propanol"):
        yield Record(
            ROOM,
            "least flow that holds a flame on a jet",
            fuel,
            "mg/s",
            0.05,
            lambda f=fuel: least_flow(f),
            1.8,
            "range",
            "micro-jets go out at 0.1 to 0.9 mg/s each; within a factor of 2",
            PUBLISHED,
        )
    yield Record(
        ROOM,
        "efficiency of a ring of flames under a wide pan",
        "",
        "%",
        36.0,
        lambda: share(RING),
        70.0,
        "range",
        "gas rings 42 to 64 %, EN 30-2-1 asks 52 %; within 6 points",
        MEMORY,
    )
    yield Record(
        ROOM,
        "heat that warms a little water in a wide open pan",
        "",
        "%",
        36.0,
        lambda: warmed(PAN),
        48.0,
        "range",
        "42 % of a ring 5 cm across, 5 cm below 363 g in a thin pan of 21 cm, on a hob; within 6 points; steel, no lid "
        "and 1 kW taken",
        PUBLISHED,
    )
    yield Record(
        ROOM,
        "power of a palm-sized burner",
        "",
        "W",
        300.0,
        lambda: example("weekend_double_wall").power_median or 0.0,
        1000.0,
        "range",
        "300 to 1000 W",
        PRACTICE,
    )
    yield Record(
        ROOM,
        "spirit that brings half a litre to the boil, scaled from 0.6 l",
        "",
        "ml",
        20.0,
        spirit_for_half_a_litre,
        40.0,
        "range",
        "about 30 ml, taken as 20 to 40",
        PRACTICE,
        fails="a burner and a pot in still air, laminar gas: practice spills, shields badly and warms a cold stand",
    )
    yield Record(
        ROOM,
        "bloom after priming from outside",
        "",
        "s",
        15.0,
        lambda: example("weekend_double_wall").milestones.bloom.time or 0.0,
        60.0,
        "range",
        "15 to 60 s",
        PRACTICE,
    )


def least_flow(fuel: str) -> float:
    """Of vapour on one jet [mg/s]."""
    burner = Burner("sealed chamber", 60e-3, 40e-3, jets=Jets(count=20, diameter=1e-3, height=35e-3))
    p = derive(Setup(burner, Charge(blend(fuel), volume=20e-6)))
    return 1e6 * p.jets.hold_power / p.fire.heating_value[0] * p.fuel.molar_mass[0]


def spirit_for_half_a_litre() -> float:
    """The weekend burner boils 0.6 l: five sixths of its fuel [ml]."""
    burnt = example("weekend_double_wall").milestones.boil.fuel
    if burnt is None:
        raise AssertionError("it does not boil")
    return 1e6 * burnt / 791.0 * 5.0 / 6.0
