"""What handbooks do not settle: named factors with a default of 1 and a stated band."""

from dataclasses import dataclass, field, fields
from typing import Any, ClassVar, NamedTuple

from burnsim.model.description.fields import Description, quantity, spec_of

_REMEDY = "1 is the textbook value; stay within the factor's band, see burnsim.BANDS"


class Band(NamedTuple):
    """Central 90 % of a lognormal distribution of a factor, and why it is that wide."""

    low: float
    high: float
    why: str


class Correlation(NamedTuple):
    """Correlation of the logarithms of two factors that come from one experiment, and how it was found."""

    value: float
    why: str


def _factor(doc: str, band: tuple[float, float], why: str, low: float = 0.1, high: float = 10.0) -> Any:
    """A factor of 1 with its band; it may be set from `low` to `high`."""
    return field(default=1.0, metadata={**quantity("fraction", low, high, doc, _REMEDY), "band": Band(*band, why)})


@dataclass(frozen=True)
class Factors(Description):
    """Multipliers on the uncertain inputs; every default is 1.0, allowed 0.1 to 10 (as-built sizes 0.5 to 2).

    `rim_leak` may be 0.01 to 2.5: no gap for vapour is wider than the joint's mean gap.

    >>> Factors(entrainment=1.2).entrainment
    1.2
    """

    PATH: ClassVar[str] = "factors"

    flame_to_rim: float = _factor(
        "heat from jet and well flames to the rim", (0.75, 1.33),
        "Flames resolved by a general flow solver ask for 0.79 to 1.33 (28 cases, root mean square 0.10), all on one "
        "burner and none below 200\N{NO-BREAK SPACE}W: their variance counts twice. Quenching and dissociation, which "
        "both leave out, are worth another 0.10.",
    )  # fmt: skip
    flame_to_pot: float = _factor(
        "heat from hot gas to the pot", (0.81, 1.23),
        "Flames resolved by a general flow solver ask for 0.84 to 1.31 (40 cases, root mean square 0.10); burning that "
        "is not complete, which both leave out, is worth another 0.07.",
    )  # fmt: skip
    entrainment: float = _factor(
        "air drawn into flames and plumes", (0.88, 1.14),
        "Flames resolved by a general flow solver ask for 0.91 to 1.20 (33 cases, root mean square 0.08).",
    )  # fmt: skip
    rim_contact: float = _factor(
        "heat conducted from rim to pot", (0.33, 3.0),
        "Contact of two unmachined metal edges depends on flatness, dents and soot; tables span decades.",
    )  # fmt: skip
    wick_heat: float = _factor(
        "heat from the wick's flame to its band and to the wall", (0.80, 1.25),
        "Eight resolved flames scatter by 5 % about our law, measured wall fires by 8 %; what a near pot turns away, "
        "by 10 %.",
    )  # fmt: skip
    boiling_onset: float = _factor(
        "subcooling at which vapour begins to leave hot walls", (0.75, 1.33),
        "How hot the top of a liquid is over its mean scatters by a fifth in twelve solved cases; bubbles in colder "
        "liquid, twofold.",
    )  # fmt: skip
    quench_flow: float = _factor(
        "least flow that holds a flame on a jet", (0.33, 3.0),
        "Micro-jets on needles and tubes go out at 0.1 to 0.9 mg/s each: up to a factor of three either way.",
    )  # fmt: skip
    discharge: float = _factor(
        "discharge coefficient of jets, slots, notches", (0.9, 1.11),
        "Punched holes have burrs and rounded lips; drilled ones are nearer to the textbook.",
    )  # fmt: skip
    wall_thickness: float = _factor(
        "wall thickness as built over as drawn", (0.9, 1.11),
        "Drawn cups are thinner in the wall than in the floor, and thinnest at the rim.", 0.5, 2.0,
    )  # fmt: skip
    hole_diameter: float = _factor(
        "jet diameter as built over as drawn", (0.95, 1.053),
        "A pin or a drill held by hand makes holes that differ by about a twentieth.", 0.5, 2.0,
    )  # fmt: skip
    bump_height: float = _factor(
        "height of a pot over the rim's bumps as built over as drawn", (0.75, 1.33),
        "Bumps pressed by hand differ by a few tenths of a millimetre, and a pot's bottom bows by as much: common "
        "practice, no source.", 0.5, 2.0,
    )  # fmt: skip
    radiant_fraction: float = _factor(
        "share of the heat that flames radiate", (0.6, 1.67),
        "Published radiant shares are for pools and burners ten times as large; small flames scatter.",
    )  # fmt: skip
    ullage_air: float = _factor(
        "air that comes down to a flame inside a well or cup", (0.71, 1.4),
        "Measured for brine over water and for doorways and carried over to hot gas by a law of flooding; flames "
        "resolved in three dimensions take the air of 260 to 317\N{NO-BREAK SPACE}W down into one well, the law has "
        "298.",
    )  # fmt: skip
    rim_leak: float = _factor(
        "gap that vapour finds under a pot flat on a plain rim, over the joint's mean gap", (0.4, 2.5),
        "No source: a guess. At the upper end it is the mean gap, which no hydraulic gap exceeds; the lower is as far "
        "below.", 0.01, 2.5,
    )  # fmt: skip


BANDS: dict[str, Band] = {one.name: one.metadata["band"] for one in fields(Factors)}
"""Band of every factor: central 90 %, lognormal about 1.

Those of flame_to_rim, flame_to_pot and entrainment come from flames resolved by a general flow solver
(benchmarks/resolved), that of wick_heat from those and from measured wall fires
(A. V. Singh, M. J. Gollner 2015, Combust. Flame 162, 2214). The other widths are judgement, without a source. Factors
are drawn one by one, but for those of `CORRELATIONS`.
"""

CORRELATIONS: dict[tuple[str, str], Correlation] = {
    ("flame_to_rim", "entrainment"): Correlation(
        -0.50, "Flames resolved by a general flow solver have -0.61 (27 cases, 95 % interval -0.80 to -0.30): weak "
        "flames ask for more heat to the rim and less air than strong ones. What they leave out of the heat to the rim "
        "is not known to hang with the air, which leaves -0.50 of the whole.",
    ),
}  # fmt: skip
"""Factors that are drawn together: jointly lognormal, each with its own band as it stands in `BANDS`.

Of the factors that come from resolved flames no other two hang together more than chance would bring; `wick_heat` has
too few flames in common with the others to tell. All other factors have sources of their own.
"""

LIMITS: dict[str, tuple[float, float]] = {one.name: (spec_of(one).low, spec_of(one).high) for one in fields(Factors)}
"""What each factor may be set to, both ends included."""
