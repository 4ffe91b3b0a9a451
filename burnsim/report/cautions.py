"""What a practitioner would say before anybody lights a spirit burner."""

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


def cautions(chamber: bool, components: tuple[str, ...]) -> tuple[str, ...]:
    """The cautions for a burner with or without a chamber, in which pressure builds, and the components of its fuel.

    >>> METHANOL_CAUTION in cautions(False, ("methanol",))
    True
    >>> METHANOL_CAUTION in cautions(False, ("ethanol", "water"))
    False
    """
    extra: tuple[str, ...] = ()
    if chamber:
        extra += (PRESSURE_CAUTION,)
    if "methanol" in components:
        extra += (METHANOL_CAUTION,)
    return CAUTIONS[:3] + extra + CAUTIONS[3:]
