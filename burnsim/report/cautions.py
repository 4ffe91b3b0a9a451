"""What a practitioner would say before anybody lights a spirit burner: common practice, no source."""

from collections.abc import Iterable, Sequence

from burnsim.model.description.setup import Setup
from burnsim.substances.metals import Metal, metal_of

CAUTIONS: tuple[str, ...] = (
    "Alcohol flames are nearly invisible in daylight: treat a burner as lit until it is cold.",
    "Never refill a hot or lit burner: let it go out and cool, then fill it away from any flame.",
    "Any flame makes carbon monoxide, a pot that smothers it makes more: burn in the open or with free "
    "ventilation, never in a tent, vehicle or closed room.",
    "Keep fuel, clothes and dry ground clear; have water and a lid at hand to smother the fire.",
    "A prediction is no permission: local codes, fire bans and licensed practice come first.",
)
"""Cautions that go with every burn."""

PRESSURE_CAUTION = (
    "A closed chamber builds pressure: never block its jets or relief, never touch a filler plug while it is hot."
)
METHANOL_CAUTION = (
    "Methanol poisons through mouth, lungs and skin, and blinds: wear gloves, avoid its vapour, never keep "
    "it in a drinking vessel."
)

GLASS_CAUTION = (
    "Glass may burst where flames heat it unevenly or something cold touches it, and burning spirit runs out: use "
    "borosilicate alone, stand it in a metal tray and keep back."
)
ALL_CAUTIONS = (*CAUTIONS[:3], PRESSURE_CAUTION, GLASS_CAUTION, METHANOL_CAUTION, *CAUTIONS[3:])
"""All of them, in the order in which they are told."""
LEAST_METAL = 5.0  # conductivity, above that of glass and below that of metals [W/m/K]


def cautions(setups: Sequence[Setup], components: Iterable[str] | None = None) -> tuple[str, ...]:
    """The cautions for some setups, and the components of what burns in them; by default of their own spirits."""
    if components is None:
        components = [name for setup in setups for name in setup.charge.fuel.components]
    needed = {
        PRESSURE_CAUTION: any(setup.burner.has_gallery for setup in setups),
        GLASS_CAUTION: any(_has_glass(setup) for setup in setups),
        METHANOL_CAUTION: "methanol" in components,
    }
    return tuple(one for one in ALL_CAUTIONS if needed.get(one, True))


def _has_glass(setup: Setup) -> bool:
    pot = setup.pot
    metals = [setup.burner.metal] if pot is None else [setup.burner.metal, pot.metal]
    return any(is_glass(metal) for metal in metals)


def is_glass(metal: str | Metal) -> bool:
    """Whether what is entered as a metal is glass or earthenware, by how badly it conducts.

    >>> is_glass("glass"), is_glass("stainless steel")
    (True, False)
    """
    return metal_of(metal).conductivity < LEAST_METAL
