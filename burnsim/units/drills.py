"""Drills that come nearest to a hole, and lengths as an inch rule shows them."""

from math import gcd
from typing import NamedTuple

from burnsim.units.reading import DRILLS
from burnsim.units.table import INCH
from burnsim.units.writing import shown, with_unit

NUMBERED = tuple(int(size) * 2.54e-6 for size in DRILLS.split())  # diameters of number drills, 1 to 80 [m]
METRIC_STEP = 0.05e-3  # of metric drill sets [m], common practice, no source
SIXTY_FOURTH = INCH / 64.0  # step of fractional drill sets and of inch rules [m], common practice, no source
CLOSE = 0.03  # share of a hole's diameter by which a fractional drill that is worth a word is off at most
EXACT = 1e-6  # by which a drill and a hole may differ and be one [m]
ON_THE_RULE = 0.02e-3  # a length that is closer to a sixty-fourth is told as a fraction [m]


class Drill(NamedTuple):
    """A drill that can be bought."""

    name: str
    diameter: float  # [m]


def number_drill(diameter: float) -> Drill | None:
    """The number drill (1 to 80) nearest to a diameter [m]; None beyond the ends of the set.

    >>> number_drill(1.0e-3)
    Drill(name='#61', diameter=0.0009906)
    """
    if not 0.9 * min(NUMBERED) <= diameter <= 1.05 * max(NUMBERED):
        return None
    k = min(range(len(NUMBERED)), key=lambda n: abs(NUMBERED[n] - diameter))
    return Drill(f"#{k + 1}", round(NUMBERED[k], 9))


def metric_drill(diameter: float) -> Drill:
    """The metric drill, in steps of 0.05 mm, nearest to a diameter [m].

    >>> metric_drill(1.03e-3).diameter
    0.00105
    """
    steps = max(round(diameter / METRIC_STEP), 1)
    return Drill(with_unit(f"{steps * METRIC_STEP * 1e3:.2f}", "mm"), round(steps * METRIC_STEP, 9))


def fraction_drill(diameter: float) -> Drill | None:
    """The drill in sixty-fourths of an inch nearest to a diameter [m]; None where it is not close.

    >>> fraction_drill(1.6e-3).diameter, fraction_drill(1.0e-3)
    (0.0015875, None)
    """
    steps = max(round(diameter / SIXTY_FOURTH), 1)
    if abs(steps * SIXTY_FOURTH / diameter - 1.0) > CLOSE:
        return None
    return Drill(with_unit(_fraction(steps), "in"), round(steps * SIXTY_FOURTH, 9))


def inches(length: float) -> str:
    """A length [m] in inches: as a fraction where an inch rule has a mark for it, else in thousandths.

    >>> from burnsim.units import plain
    >>> plain(inches(66.675e-3)), plain(inches(5e-3))
    ('2 5/8 in', '0.197 in')
    """
    return _ruled(length, ON_THE_RULE) or with_unit(f"{length / INCH:.3f}", "in")


def ruled(length: float, digits: int) -> str:
    """A length [m] in inches: as a fraction where it is one, else in so many digits.

    >>> from burnsim.units import plain
    >>> [plain(ruled(length, 4)) for length in (33.3375e-3, 1.0668e-3, 25.4e-3)]
    ['1 5/16 in', '0.042 in', '1 in']
    """
    return _ruled(length, EXACT) or shown(length, "length", "us", digits)


def sized(length: float, units: str = "si") -> str:
    """A length [m] as a workshop reads it: millimetres to a hundredth, or inches.

    >>> from burnsim.units import plain
    >>> plain(sized(0.062)), plain(sized(0.066675, "us"))
    ('62.00 mm', '2 5/8 in')
    """
    return inches(length) if units == "us" else with_unit(f"{length * 1e3:.2f}", "mm")


def _ruled(length: float, off: float) -> str:
    """A length [m] as a fraction of an inch, if it is one but for so much; else empty."""
    steps = round(length / SIXTY_FOURTH)
    near = steps > 0 and abs(length - steps * SIXTY_FOURTH) <= off
    return with_unit(_fraction(steps), "in") if near else ""


def _fraction(steps: int) -> str:
    """So many sixty-fourths, shortened."""
    whole, rest = divmod(steps, 64)
    if not rest:
        return str(whole)
    shared = gcd(rest, 64)
    part = f"{rest // shared}/{64 // shared}"
    return f"{whole}\N{NO-BREAK SPACE}{part}" if whole else part


def drill_name(diameter: float) -> str:
    """The name of the number drill that makes just this hole [m]; empty if none does.

    >>> drill_name(1.016e-3), drill_name(1.0e-3)
    ('#60', '')
    """
    drill = number_drill(diameter)
    return drill.name if drill is not None and abs(drill.diameter - diameter) < EXACT else ""


def drill_advice(diameter: float, units: str = "si") -> str:
    """Which drills make a hole of a diameter [m], and how far each is off, the nearest first.

    >>> from burnsim.units import plain
    >>> plain(drill_advice(1.0e-3))
    'drill 1.00 mm, or #61 (0.991 mm, 0.9 % under)'
    >>> plain(drill_advice(1.016e-3))
    'drill #60 (1.016 mm), or 1.00 mm (1.6 % under)'
    >>> plain(drill_advice(1.016e-3, "us"))
    'drill #60 (0.040 in), or 1.00 mm (1.6 % under)'
    """
    drills = [metric_drill(diameter), number_drill(diameter), fraction_drill(diameter)]
    parts = []
    for drill in sorted((one for one in drills if one), key=lambda one: round(abs(one.diameter - diameter), 7)):
        off = 100.0 * (drill.diameter / diameter - 1.0)
        sized = "" if drill.name.endswith("mm") else with_unit(f"{drill.diameter * 1e3:.3f}", "mm")
        if sized and units == "us":
            sized = "" if drill.name.endswith("in") else with_unit(f"{drill.diameter / INCH:.3f}", "in")
        error = with_unit(f"{abs(off):.1f}", "%") + (" over" if off > 0.0 else " under") if abs(off) >= 0.05 else ""
        inside = ", ".join(part for part in (sized, error) if part)
        parts.append(drill.name + (f" ({inside})" if inside else ""))
    return "drill " + ", or ".join(parts)
