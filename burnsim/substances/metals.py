"""Metals of thin cups and pots."""

from typing import NamedTuple


class Metal(NamedTuple):
    """Properties near 350 K. Emissivity is for a used, dull surface."""

    density: float  # [kg/m3]
    conductivity: float  # [W/m/K]
    heat_capacity: float  # [J/kg/K]
    emissivity: float  # [-]
    melting_point: float  # [K], solidus of an alloy
    source: str


_BOOK = "Incropera and DeWitt, tables A.1 and A.11 (from memory, unverified); emissivity: "
METALS: dict[str, Metal] = {
    "aluminium": Metal(
        2720.0, 163.0, 893.0, 0.15, 902.0,
        "drink-can body alloy 3004: ASM Handbook volume 2 (from memory, unverified); emissivity: common "
        "practice, no source",
    ),
    "pure aluminium": Metal(2702.0, 237.0, 903.0, 0.10, 933.0, _BOOK + "common practice, no source"),
    "steel": Metal(7854.0, 60.5, 434.0, 0.60, 1750.0, _BOOK + "lightly oxidised, common practice, no source"),
    "tinplate": Metal(7850.0, 60.0, 440.0, 0.20, 505.0,
        "mild steel values; melting point is that of the tin coat (CRC Handbook, from memory); emissivity: "
        "common practice, no source",
    ),
    "stainless steel": Metal(
        7900.0, 14.9, 477.0, 0.30, 1670.0, _BOOK + "AISI 304, lightly oxidised, common practice, no source"
    ),
    "titanium": Metal(4500.0, 21.9, 522.0, 0.30, 1953.0, _BOOK + "common practice, no source"),
    "copper": Metal(8933.0, 401.0, 385.0, 0.30, 1358.0, _BOOK + "tarnished, common practice, no source"),
    "brass": Metal(8530.0, 110.0, 380.0, 0.25, 1188.0, _BOOK + "cartridge brass, common practice, no source"),
}  # fmt: skip
"""Metals by name. "aluminium" is the alloy of drink cans, the usual stock for thin cups."""
