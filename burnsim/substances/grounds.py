"""What a burner with a flat floor may stand on."""

from typing import Literal, NamedTuple, get_args

GroundName = Literal["nothing", "insulation", "wood", "soil", "stone"]
"""Names of grounds; on "nothing" the floor is clear of the ground, on legs or as a dome."""


class Ground(NamedTuple):
    """How a ground takes up heat."""

    conductivity: float  # [W/m/K]
    diffusivity: float  # of heat [m2/s]


GROUNDS: dict[GroundName, Ground] = {
    "insulation": Ground(0.06, 4e-7),
    "wood": Ground(0.15, 1.5e-7),
    "soil": Ground(1.0, 5e-7),
    "stone": Ground(2.5, 1.2e-6),
}
"""A mat of ceramic fibre, softwood across its grain, moist soil, and granite: each kind spans a factor of two
(handbooks, from memory)."""

NAMES: tuple[GroundName, ...] = get_args(GroundName)
"""Every name."""
