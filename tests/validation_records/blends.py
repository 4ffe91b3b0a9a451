"""Blends: equilibrium, density, viscosity, surface tension, flash points."""

from collections.abc import Iterator
from functools import cache, partial

from validation_records.record import LIBRARY, MEMORY, PRACTICE, PUBLISHED, Record

from burnsim.studies.fuels.spirit import closed_cup
from burnsim.substances import fuel
from burnsim.substances.blend import blend, density, fuel_record
from burnsim.substances.equilibrium import bubble_temperature, partial_pressures, vapour_composition

ROOM = "blends"
P = 101325.0
KELVIN = 273.15

# OIML R 22 (1973), density of ethanol and water at 20 degC [kg/m3], powers of the mass fraction. The tables use the
# same formula for their fit: this checks the fit and its ends.
OIML = (998.20123, -192.9769495, 389.1238958, -1668.103923, 13522.15441, -88292.78388,
        306287.4042, -613838.1234, 747017.2998, -547846.1354, 223446.0334, -39032.85426)  # fmt: skip


@cache
def azeotrope(first: str, second: str, low: float, high: float) -> tuple[float, float]:
    """Mole fraction of the first and temperature [K] where vapour and liquid agree, by bisection."""
    made = blend({first: 0.5, second: 0.5}, "mole")
    rec, index = fuel_record(made), made.components.index(first)

    def state(x: float) -> tuple[float, float]:
        z = (x, 1.0 - x) if index == 0 else (1.0 - x, x)
        T = bubble_temperature(z, P, rec)
        return vapour_composition(z, T, rec)[index] - x, T

    if not state(low)[0] > 0.0 > state(high)[0]:
        raise AssertionError(f"no azeotrope of {first} and {second}")
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if state(middle)[0] > 0.0 else (low, middle)
    return middle, state(middle)[1] - KELVIN


def by_mass(x: float, first: str) -> float:
    """Mass per cent of a first component in water."""
    a, b = fuel_record(blend(first)).molar_mass[0], 0.0180153
    return 100.0 * x * a / (x * a + (1.0 - x) * b)


def in_water(name: str, percent: float, basis: str = "mass"):  # type: ignore[no-untyped-def]
    w = percent / 100.0
    return blend({name: w, "water": 1.0 - w}, basis) if percent < 100.0 else blend(name)  # type: ignore[arg-type]


def over(spirit: str, x: float) -> tuple[float, float]:
    """Vapour's mole fraction and boiling point [degC] of a liquid."""
    rec = fuel_record(blend(spirit))
    T = bubble_temperature((x, 1.0 - x), P, rec)
    return vapour_composition((x, 1.0 - x), T, rec)[0], T - KELVIN


def unifac(name: str) -> float:
    """Bubble point by Dortmund UNIFAC and library vapour pressures, not those of the tables [degC]."""
    import thermo
    from thermo.unifac import DOUFIP2016, DOUFSG, UNIFAC

    groups = {"methanol": {15: 1}, "ethanol": {1: 1, 2: 1, 14: 1}, "2-propanol": {1: 2, 3: 1, 81: 1}, "water": {16: 1}}
    cas = {"methanol": "67-56-1", "ethanol": "64-17-5", "2-propanol": "67-63-0", "water": "7732-18-5"}
    made = blend(name)
    curves = [thermo.VaporPressure(CASRN=cas[n]) for n in made.components]

    def total(T: float) -> float:
        model = UNIFAC.from_subgroups(
            T, list(made.mole_fractions), [groups[n] for n in made.components], version=1,
            interaction_data=DOUFIP2016, subgroups=DOUFSG,
        )  # fmt: skip
        parts = zip(made.mole_fractions, model.gammas(), curves, strict=True)
        return float(sum(x * g * c.calculate(T, "DIPPR_PERRY_8E") for x, g, c in parts))

    low, high = 320.0, 380.0
    for _ in range(50):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if total(middle) < P else (low, middle)
    return low - KELVIN


def coolant(key: str, code: str, w: float, T: float) -> float:
    from CoolProp.CoolProp import PropsSI

    return float(PropsSI(key, "T", T, "P", 1e6, f"INCOMP::{code}[{w}]"))


def henry() -> float:
    """Amount of ethanol in a volume of water over its partial pressure, as there is ever less of it."""
    rec, x = fuel_record(blend({"ethanol": 0.5, "water": 0.5}, "mole")), 1e-7
    return 55345.0 * x / partial_pressures((x, 1.0 - x), 298.15, rec)[0]


def flash(made) -> float:  # type: ignore[no-untyped-def]
    found = closed_cup(made)
    if found is None:
        raise AssertionError("no flash point")
    return found - KELVIN


AZEOTROPES = [
    ("ethanol", "water", (0.6, 0.98), 95.6, 0.3, 78.17, 0.2, "Evans 1916, as quoted by handbooks", PUBLISHED),
    ("2-propanol", "water", (0.4, 0.95), 87.8, 0.6, 80.4, 0.3, "CRC Handbook, Lange's Handbook", MEMORY),
]
CAREY = [(0.0721, 0.3891, 89.0), (0.1238, 0.4704, 85.3), (0.2337, 0.5445, 82.7), (0.3273, 0.5826, 81.5),
         (0.5079, 0.6564, 79.8), (0.6763, 0.7385, 78.74)]  # fmt: skip
PERRY = [(0.10, 0.418, 87.7), (0.20, 0.579, 81.7), (0.40, 0.729, 75.3), (0.60, 0.825, 71.2), (0.80, 0.915, 67.6)]
VAZQUEZ = [("ethanol", 40, 30.16), ("ethanol", 80, 23.82), ("ethanol", 90, 22.72), ("2-propanol", 50, 24.26),
           ("2-propanol", 90, 21.69), ("methanol", 50, 32.86), ("methanol", 90, 23.93)]  # fmt: skip
# NFPA, Fire Protection Guide to Hazardous Materials, by mass, closed cup. D.-M. Ha, S. H. Park, S. Lee 2015, Fire Sci.
# Eng. 29(2), 39, is quoted with the same figures.
NFPA = {96: 17, 95: 17, 90: 17, 80: 20, 70: 21, 60: 22, 50: 24, 40: 26, 30: 29, 20: 36, 10: 49, 5: 62}
STEAM = (
    "steam and warmth move the limit of constant flame temperature by 0.3 K only, each against the other; "
    "steam as a third body that ends chains is left out"
)


def records() -> Iterator[Record]:
    for first, second, span, percent, near, celsius, close, source, status in AZEOTROPES:
        case = f"{first} and {second}"
        yield Record(
            ROOM,
            "strength of the azeotrope",
            case,
            "mass %",
            percent,
            lambda f=first, s=second, r=span: by_mass(azeotrope(f, s, *r)[0], f),
            near,
            "absolute",
            source,
            status,
        )
        yield Record(
            ROOM,
            "boiling point of the azeotrope",
            case,
            "degC",
            celsius,
            lambda f=first, s=second, r=span: azeotrope(f, s, *r)[1],
            close,
            "absolute",
            source,
            status,
        )
    yield Record(
        ROOM,
        "azeotrope of acetone and methanol",
        "",
        "mol/mol",
        0.80,
        lambda: azeotrope("acetone", "methanol", 0.3, 0.98)[0],
        0.03,
        "absolute",
        "handbooks",
        MEMORY,
    )
    yield Record(
        ROOM,
        "boiling point of the azeotrope",
        "acetone and methanol",
        "degC",
        55.5,
        lambda: azeotrope("acetone", "methanol", 0.3, 0.98)[1],
        0.5,
        "absolute",
        "handbooks",
        MEMORY,
    )
    for spirit, table, source in (
        ("ethanol 95", CAREY, "Carey and Lewis 1932 (first point read, others from memory)"),
        ("methanol 90", PERRY, "Perry's Handbook"),
    ):
        name = spirit.split()[0]
        for x, y, celsius in table:
            status = PUBLISHED if x == 0.0721 else MEMORY
            yield Record(
                ROOM,
                f"vapour over {name} and water",
                f"x {x:g}",
                "mol/mol",
                y,
                lambda s=spirit, x=x: over(s, x)[0],
                0.02,
                "absolute",
                source,
                status,
            )
            yield Record(
                ROOM,
                f"boiling point of {name} and water",
                f"x {x:g}",
                "degC",
                celsius,
                lambda s=spirit, x=x: over(s, x)[1],
                1.0,
                "absolute",
                source,
                status,
            )
    for name in ("ethanol 95", "2-propanol 91", "2-propanol 70", "methanol 90"):
        yield Record(
            ROOM,
            "bubble point by Dortmund UNIFAC",
            name,
            "degC",
            partial(unifac, name),
            lambda n=name: bubble_temperature(blend(n).mole_fractions, P, fuel_record(blend(n))) - KELVIN,
            0.5,
            "absolute",
            "groups and pressures of thermo",
            LIBRARY,
        )
    for percent in range(5, 101, 5):
        value = sum(c * (percent / 100.0) ** k for k, c in enumerate(OIML))
        yield Record(
            ROOM,
            "density of ethanol and water, 20 degC",
            f"{percent} mass %",
            "kg/m3",
            value,
            lambda p=percent: density(in_water("ethanol", p)),
            3e-3,
            "relative",
            "OIML R 22, 1973",
            MEMORY,
        )
    for name, code in (("ethanol", "MEA"), ("methanol", "MMA")):
        for percent in (10, 20, 30, 40, 50, 58):
            for celsius in (20.0, 30.0, 40.0):
                w, T = percent / 100.0, KELVIN + celsius
                case = f"{percent} mass %, {celsius:g} degC"
                yield Record(
                    ROOM,
                    f"density of {name} and water",
                    case,
                    "kg/m3",
                    partial(coolant, "D", code, w, T),
                    lambda n=name, p=percent, T=T: density(in_water(n, p), T),
                    5e-3,
                    "relative",
                    "Melinder's data in CoolProp",
                    LIBRARY,
                )
                yield Record(
                    ROOM,
                    f"viscosity of {name} and water",
                    case,
                    "Pa s",
                    partial(coolant, "V", code, w, T),
                    lambda n=name, p=percent, T=T: fuel.viscosity(T, fuel_record(in_water(n, p))),
                    0.10,
                    "relative",
                    "Melinder's data in CoolProp",
                    LIBRARY,
                )
    yield Record(
        ROOM,
        "contraction at 40 mass % of ethanol, against ideal mixing",
        "",
        "%",
        3.5,
        lambda: 100.0 * (density(in_water("ethanol", 40)) * (0.4 / 789.24 + 0.6 / 998.20) - 1.0),
        1.0,
        "absolute",
        "alcohol tables",
        MEMORY,
    )
    yield Record(
        ROOM,
        "50 ml of ethanol and 50 ml of water make",
        "",
        "ml",
        96.4,
        lambda: 100.0 * 0.5 * (789.24 + 998.20) / density(in_water("ethanol", 50, "volume")),
        0.4,
        "absolute",
        "textbooks",
        MEMORY,
    )
    for name, percent, value in VAZQUEZ:
        yield Record(
            ROOM,
            "surface tension of watery alcohols, 25 degC",
            f"{name} {percent} mass %",
            "mN/m",
            value,
            lambda n=name, p=percent: 1e3 * fuel.surface_tension(298.15, fuel_record(in_water(n, p))),
            0.04,
            "relative",
            "Vazquez, Alvarez and Navaza 1995 (fitted to the same)",
            MEMORY,
        )
    yield Record(
        ROOM,
        "Henry's law of ethanol over water, 25 degC",
        "",
        "mol/m3/Pa",
        1.9,
        henry,
        0.15,
        "relative",
        "Sander 2015, literature reviews 1.7 to 2.0 (the pair is fitted to some of it too)",
        PUBLISHED,
    )
    for percent, value in NFPA.items():
        quantity = (
            "flash point of ethanol and water" if percent >= 10 else "flash point of ethanol with very much water"
        )
        yield Record(
            ROOM,
            quantity,
            f"{percent} mass %",
            "degC",
            value,
            lambda p=percent: flash(in_water("ethanol", p)),
            3.0,
            "absolute",
            "NFPA Fire Protection Guide, closed cup",
            MEMORY,
            "" if percent >= 10 else STEAM,
        )
    yield Record(
        ROOM,
        "flash point of 2-propanol of 87.9 mass %",
        "",
        "degC",
        14.0,
        lambda: flash(in_water("2-propanol", 87.9)),
        3.0,
        "absolute",
        "NFPA Fire Protection Guide, closed cup",
        MEMORY,
    )
    yield Record(
        ROOM,
        "flash point of rubbing alcohol, 2-propanol 70",
        "",
        "degC",
        18.3,
        lambda: flash(blend("2-propanol 70")),
        3.0,
        "absolute",
        "safety data sheets",
        PRACTICE,
    )
