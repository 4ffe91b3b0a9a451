"""Drills that come nearest to a hole."""

from typing import NamedTuple

from burnsim.units.reading import DRILLS

METRIC_STEP = 0.05e-3  # of metric drill sets [m], common practice, no source


class Drill(NamedTuple):
    """A drill that can be bought."""

    name: str
    diameter: float  # [m]


def number_drill(diameter: float) -> Drill | None:
    """The number drill (1 to 80) nearest to a diameter [m]; None beyond the ends of the set.

    >>> number_drill(1.0e-3)
    Drill(name='#61', diameter=0.0009906)
    """
    sizes = [int(size) * 2.54e-6 for size in DRILLS.split()]
    if not 0.9 * min(sizes) <= diameter <= 1.05 * max(sizes):
        return None
    k = min(range(len(sizes)), key=lambda n: abs(sizes[n] - diameter))
    return Drill(f"#{k + 1}", round(sizes[k], 9))


def metric_drill(diameter: float) -> Drill:
    """The metric drill, in steps of 0.05 mm, nearest to a diameter [m].

    >>> metric_drill(1.03e-3).name
    '1.05 mm'
    """
    steps = max(round(diameter / METRIC_STEP), 1)
    return Drill(f"{steps * METRIC_STEP * 1e3:.2f} mm", round(steps * METRIC_STEP, 9))


def drill_advice(diameter: float) -> str:
    """Which drills make a hole, and how far each is off.

    Parameters
    ----------
    diameter : of the hole [m]

    >>> drill_advice(1.0e-3)
    'drill 1.00 mm, or #61 (0.991 mm, 0.9 % under)'
    """
    parts = []
    for drill in (metric_drill(diameter), number_drill(diameter)):
        if drill is None:
            continue
        off = 100.0 * (drill.diameter / diameter - 1.0)
        sized = f"{drill.diameter * 1e3:.3f} mm" if drill.name.startswith("#") else ""
        error = f"{abs(off):.1f} % {'over' if off > 0.0 else 'under'}" if abs(off) >= 0.05 else ""
        inside = ", ".join(part for part in (sized, error) if part)
        parts.append(drill.name + (f" ({inside})" if inside else ""))
    return "drill " + ", or ".join(parts)
