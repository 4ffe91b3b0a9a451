"""Sizes in doubt, and the strength of the spirit: as built over as drawn, lognormal about 1 with a stated tolerance."""

import math
from collections.abc import Mapping
from dataclasses import replace
from functools import cache

from burnsim.bounds import within
from burnsim.errors import InputError, is_number
from burnsim.model import Setup, value_at, vary
from burnsim.model.description.factors import BANDS
from burnsim.studies.sweep.plan import is_numeric, spec_at
from burnsim.substances.blend import Blend, mixed
from burnsim.substances.catalogue import SUBSTANCES

STRENGTH = "charge.fuel"
"""The path that stands for how strong the spirit is: alcohol by mass in the bottle over that on paper."""

LEAST_WATER = 1e-4
"""Mass share of water in the strongest spirit that a doubtful one may be: so all have the same components."""

NORMAL_90 = 1.6448536269514722
"""The central 90 % of a normal distribution reaches so many standard deviations to either side."""

MOST_OFF = (0.1, 10.0)  # as built over as drawn of any size [-]

DOUBTFUL: dict[str, float] = {
    "pot.gap": 0.7,
    "burner.wall_thickness": 0.5,
    "burner.jets.diameter": 0.3,
    STRENGTH: 0.15,
}
"""Sizes that a bad fit is asked about, and how far each may be off: what a slip of the ruler, the wrong sheet, the
wrong drill and an open bottle do; judgement, without a source."""


def check_tolerances(setup: Setup, tolerances: Mapping[str, float]) -> dict[str, float]:
    """Refuse tolerances that make no sense, or are of anything but a size of a setup or the strength of its spirit."""
    for path, width in tolerances.items():
        if path.startswith("factors."):
            raise InputError(path, width, "is a tolerance of a factor", "factors have their bands: leave it out")
        check_path(path, width)
        if not is_number(width) or not 0.0 < width < 1.0:
            raise InputError(path, width, "is not a share above 0 and below 1", "give 0.03 for 3 % to either side")
        if path != STRENGTH:
            drawn_size(setup, path)
    return dict(tolerances)


def check_path(path: str, value: object = None) -> None:
    """Refuse what is neither the path of a size nor that of the spirit's strength."""
    spec = spec_at(path)
    if path != STRENGTH and (not is_numeric(spec) or spec.dimension in ("count", "temperature")):
        raise InputError(path, value, "is not a size, and so has no tolerance", "give lengths, volumes and the like")


def spread_of(tolerance: float) -> float:
    """Standard deviation of the logarithm of a size that has a tolerance.

    >>> round(math.exp(NORMAL_90 * spread_of(0.03)), 12)
    1.03
    """
    return math.log1p(tolerance) / NORMAL_90


def drawn_size(setup: Setup, path: str) -> float:
    """A size of a design as drawn [SI]."""
    value = _size(setup, path)
    if not is_number(value) or value <= 0.0:
        raise InputError(path, value, "has no size in this design", "leave its tolerance out")
    return float(value)


def _size(setup: Setup, path: str) -> object:
    """The value of a field; None of a gap that counts for nothing, as the pot stands flat on the rim."""
    flat = path == "pot.gap" and setup.pot is not None and setup.pot.rest == "full ring"
    return None if flat else value_at(setup, path)


def has_size(setup: Setup, path: str) -> bool:
    """Whether a design has a size at a path."""
    value = None if path == STRENGTH else _size(setup, path)
    return path == STRENGTH or (is_number(value) and value > 0.0)


def built(setup: Setup, values: Mapping[str, float]) -> Setup:
    """A design as built: some factors set, by name, and some sizes as built over as drawn, by dotted path.

    A size that this design does not have is passed over, one that its field refuses is held at the nearest it allows.
    """
    factors = {name: value for name, value in values.items() if name in BANDS}
    changes: dict[str, object] = {}
    for path in values.keys() - factors.keys():
        if path == STRENGTH:
            changes[path] = of_strength(setup.charge.fuel, values[path])
        elif has_size(setup, path):
            spec = spec_at(path)
            changes[path] = within(values[path] * drawn_size(setup, path), spec.low, spec.high)
    if factors:  # without a look at every path, since this is done for every draw
        setup = replace(setup, factors=replace(setup.factors, **factors))
    return vary(setup, changes) if changes else setup


@cache
def of_strength(fuel: Blend, ratio: float) -> Blend:
    """A spirit with another share of alcohol: by mass in the bottle over that on paper, as far as any water is left.

    >>> from burnsim.substances.blend import blend
    >>> weak = of_strength(blend("methanol"), 0.9)
    >>> round(weak.mole_fractions[1] * 18.015 / (weak.mole_fractions[0] * 32.042 + weak.mole_fractions[1] * 18.015), 4)
    0.1
    """
    masses = [x * one.molar_mass for x, one in zip(fuel.mole_fractions, fuel.substances, strict=True)]
    water = sum(m for m, one in zip(masses, fuel.substances, strict=True) if one.fire is None) / sum(masses)
    left = max(1.0 - (1.0 - water) * ratio, LEAST_WATER)
    spirit = [(one, m) for one, m in zip(fuel.substances, masses, strict=True) if one.fire is not None]
    scale = (1.0 - left) / sum(m for _, m in spirit)
    return mixed([*((one, m * scale) for one, m in spirit), (SUBSTANCES["water"], left)], "mass")
