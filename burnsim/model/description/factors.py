"""What handbooks do not settle: named factors with a default of 1 and a stated band."""

from dataclasses import dataclass, field
from typing import ClassVar, NamedTuple

from burnsim.model.description.fields import check_fields, quantity

_REMEDY = "1 is the textbook value; stay within the factor's band, see burnsim.BANDS"


class Band(NamedTuple):
    """Central 90 % of a lognormal distribution of a factor, and why it is that wide."""

    low: float
    high: float
    why: str


BANDS: dict[str, Band] = {
    "flame_to_rim": Band(
        0.74,
        1.36,
        "Twenty-one resolved flames scatter by 13 % about our law for side jets; none is weaker than "
        "200\N{NO-BREAK SPACE}W, for which as much again is added.",
    ),
    "flame_to_pot": Band(
        0.81,
        1.23,
        "Flames resolved by a general flow solver ask for 0.79 to 1.44 (29 cases, root mean square 0.11); burning that "
        "is not complete, which both leave out, is worth another 0.07.",
    ),
    "entrainment": Band(
        0.87,
        1.14,
        "Flames resolved by a general flow solver ask for 0.91 to 1.20 (22 cases, root mean square 0.08).",
    ),
    "rim_contact": Band(
        0.33,
        3.0,
        "Contact of two unmachined metal edges depends on flatness, dents and soot; tables span decades.",
    ),
    "wick_heat": Band(
        0.74,
        1.35,
        "Six resolved flames give the wall 1.13 times our law and scatter by 7 %; measured wall fires 1.1 and 8 %; "
        "what a pot near above turns away is known to 10 %.",
    ),
    "boiling_onset": Band(
        0.5,
        2.0,
        "How far liquid in a gallery stratifies, and so how early its top boils, is not measured for such gaps.",
    ),
    "quench_flow": Band(
        0.33,
        3.0,
        "Micro-jets on needles and tubes go out at 0.1 to 0.9 mg/s each: up to a factor of three either way.",
    ),
    "discharge": Band(0.9, 1.11, "Punched holes have burrs and rounded lips; drilled ones are nearer to the textbook."),
    "wall_thickness": Band(0.9, 1.11, "Drawn cups are thinner in the wall than in the floor, and thinnest at the rim."),
    "hole_diameter": Band(0.95, 1.053, "A pin or a drill held by hand makes holes that differ by about a twentieth."),
    "radiant_fraction": Band(
        0.6,
        1.67,
        "Published radiant shares are for pools and burners ten times as large; small flames scatter.",
    ),
}
"""Band of every factor: central 90 %, lognormal about 1.

Those of flame_to_rim, flame_to_pot and entrainment come from flames resolved by a general flow solver
(benchmarks/resolved), that of wick_heat from those and from measured wall fires (A. V. Singh, M. J. Gollner 2015,
Combust. Flame 162, 2214), the distance of their mean from our law counted as spread. The other widths are judgement,
without a source.
"""


@dataclass(frozen=True)
class Factors:
    """Multipliers on the uncertain inputs; every default is 1.0, allowed 0.1 to 10 (as-built sizes 0.5 to 2).

    >>> Factors(entrainment=1.2).entrainment
    1.2
    """

    PATH: ClassVar[str] = "factors"

    flame_to_rim: float = field(
        default=1.0,
        metadata=quantity("fraction", 0.1, 10.0, "heat from jet and well flames to the rim", _REMEDY),
    )
    flame_to_pot: float = field(
        default=1.0, metadata=quantity("fraction", 0.1, 10.0, "heat from hot gas to the pot", _REMEDY)
    )
    entrainment: float = field(
        default=1.0, metadata=quantity("fraction", 0.1, 10.0, "air drawn into flames and plumes", _REMEDY)
    )
    rim_contact: float = field(
        default=1.0, metadata=quantity("fraction", 0.1, 10.0, "heat conducted from rim to pot", _REMEDY)
    )
    wick_heat: float = field(
        default=1.0,
        metadata=quantity("fraction", 0.1, 10.0, "heat from the wick's flame to its band and to the wall", _REMEDY),
    )
    boiling_onset: float = field(
        default=1.0,
        metadata=quantity("fraction", 0.1, 10.0, "subcooling at which vapour begins to leave hot walls", _REMEDY),
    )
    quench_flow: float = field(
        default=1.0,
        metadata=quantity("fraction", 0.1, 10.0, "least flow that holds a flame on a jet", _REMEDY),
    )
    discharge: float = field(
        default=1.0,
        metadata=quantity("fraction", 0.1, 10.0, "discharge coefficient of jets, slots, notches", _REMEDY),
    )
    wall_thickness: float = field(
        default=1.0, metadata=quantity("fraction", 0.5, 2.0, "wall thickness as built over as drawn", _REMEDY)
    )
    hole_diameter: float = field(
        default=1.0, metadata=quantity("fraction", 0.5, 2.0, "jet diameter as built over as drawn", _REMEDY)
    )
    radiant_fraction: float = field(
        default=1.0,
        metadata=quantity("fraction", 0.1, 10.0, "share of the heat that flames radiate", _REMEDY),
    )

    def __post_init__(self) -> None:
        check_fields(self, self.PATH)
