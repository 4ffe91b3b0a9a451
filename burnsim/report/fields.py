"""The value of a field as a person writes it; water, site and factors in words."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import fields

from burnsim.model.description.setup import Setup
from burnsim.solve.results.verdicts import CODES
from burnsim.studies.sweep.plan import spec_at
from burnsim.substances.blend import Blend
from burnsim.units import DIMENSIONS, measure, written
from burnsim.units.drills import drill_name, ruled
from burnsim.units.writing import NBSP, shown, with_unit

DRILLED = "burner.jets.diameter"
LITTLE = 0.1e-3  # water below which a note counts it in millilitres [m3]

LEFT_OUT = {
    "charge.temperature": "that of the air",
    "pot.water_temperature": "that of the air",
    "burner.emissivity": "that of the bare metal",
    "burner.jets.height": "that of the top",
    "burner.jets.ring_diameter": "that of the wall",
    "burner.gallery_gap": "no gallery",
    "burner.wick.material": "none named",
}
"""What stands for a field that is left out."""

OFTEN_MORE = "about every second burn takes more"
"""What goes with a least amount, found with every factor at its middle."""


def field_text(path: str, value: object, units: str = "si") -> str:
    """Write the value [SI] of the field at a dotted path, to four digits.

    >>> from burnsim.units import plain
    >>> plain(field_text("burner.jets.diameter", 0.95e-3)), field_text("burner.jets.count", 24)
    ('0.95 mm', '24')
    >>> plain(field_text("site.air_temperature", 288.15))
    '15 degC'
    >>> plain(field_text("burner.jets.diameter", 0.95e-3, "us")), plain(field_text("site.altitude", 1500.0, "us"))
    ('0.0374 in', '4921 ft')
    >>> plain(field_text("burner.jets.diameter", 1.016e-3, "us"))  # a number drill has its name
    '#60 drill'
    >>> field_text("pot.water_temperature", None), field_text("burner.relief", None)
    ('that of the air', 'none')
    """
    if value is None:
        return LEFT_OUT.get(path, "none")
    if isinstance(value, Blend):
        return value.name
    spec = spec_at(path)
    if spec.dimension == "count" and isinstance(value, float):
        return f"{value:.0f}"
    if not isinstance(value, float) or spec.dimension not in DIMENSIONS:
        return str(value)
    if units == "us" and path == DRILLED and (name := drill_name(value)):
        return f"{name}{NBSP}drill"
    by_rule = units == "us" and spec.dimension == "length"
    return ruled(value, 4) if by_rule else shown(value, spec.dimension, units, 4)


def factors_text(setup: Setup, otherwise: str) -> str:
    """Name the factors that are not 1; where all are, "No factor is fitted to any burn" and what is to be said then."""
    values = {field.name: getattr(setup.factors, field.name) for field in fields(setup.factors)}
    changed = [f"{name} {told}" for name, value in values.items() if (told := f"{value:.3g}") != "1"]
    return (
        f"Factors that are not 1: {', '.join(changed)}." if changed else f"No factor is fitted to any burn{otherwise}"
    )


def warned_text(places: Sequence[Sequence[str]]) -> str:
    """What the burns in some places warn of, by their codes, and in how many of them; empty if of nothing.

    >>> warned_text([("flare",), (), ("smothered", "flare")])
    'flare in 2 of 3 places, smothered in 1 of 3 places'
    """
    counts = Counter(code for codes in places for code in codes)
    many = f"of {len(places)} places" if len(places) > 1 else ""
    return ", ".join(f"{code} in {counts[code]} {many}" if many else code for code in CODES if counts[code])


def water_text(volume: float, units: str = "si") -> str:
    """Write an amount of water [m3]: litres, millilitres where that is little, or fluid ounces.

    >>> from burnsim.units import plain
    >>> plain(water_text(0.5e-3)), plain(water_text(1e-6)), plain(water_text(0.5e-3, "us"))
    ('0.50 l', '1.0 ml', '16.9 fl oz')
    """
    if units == "si" and volume < LITTLE:
        return written(volume, "volume")
    return with_unit(f"{volume * 1e3:.2f}", "l") if units == "si" else written(volume, "volume", units, 1)


def share_text(share: float) -> str:
    """Write a share in whole per cent; never all or none where it is not.

    >>> from burnsim.units import plain
    >>> [plain(share_text(share)) for share in (0.0, 0.003, 0.125, 0.995, 1.0)]
    ['0 %', 'under 1 %', '12 %', 'over 99 %', '100 %']
    """
    if 0.0 < share < 0.005:
        return f"under 1{NBSP}%"
    if 0.995 <= share < 1.0:
        return f"over 99{NBSP}%"
    return f"{100.0 * share:.0f}{NBSP}%"


def aligned(rows: Sequence[Sequence[str]], gap: int = 2, left: int = 0) -> list[str]:
    """Rows of a table, each column as wide as its longest cell; all but the first few columns stand to the right.

    >>> aligned([["boil", "g"], ["never", "12.5"]], left=1)
    ['  boil      g', '  never  12.5']
    """
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    lines = []
    for row in rows:
        cells = [f"{cell:{'<' if k < left else '>'}{widths[k]}}" for k, cell in enumerate(row)]
        lines.append("  " + (" " * gap).join(cells))
    return lines


def on_wick(volume: float, units: str, toward: int = 0) -> str:
    """What goes on the wick [m3]: of fluid ounces, which are coarse, thousandths; rounded as by `written`.

    >>> from burnsim.units import plain
    >>> [plain(on_wick(3.6967e-6, units)) for units in ("si", "us")]
    ['3.7 ml', '0.125 fl oz']
    """
    return written(volume, "volume", units, measure("volume", units).decimals + (units == "us"), toward)


def charge_text(setup: Setup, units: str, load: str | None = None) -> str:
    """The charge, what is on the wick, and the pot's water, in words; a load in words stands for the charge."""
    charge = setup.charge
    text = load or f"{written(charge.volume, 'volume', units)} of {charge.fuel.name}"
    if charge.primer > 0.0:
        text += f" + {on_wick(charge.primer, units)} on the wick"
    if setup.pot is not None:
        start = setup.pot.water_temperature or setup.site.air_temperature
        text += f"; {water_text(setup.pot.water, units)} of water at {written(start, 'temperature', units)}"
    return text


def site_text(setup: Setup, units: str) -> str:
    """Air, altitude, what wind there is, and what a flat floor stands on, in words."""
    site = setup.site
    text = f"air {written(site.air_temperature, 'temperature', units)}, {written(site.altitude, 'altitude', units)}"
    if site.wind > 0.0:
        text += f", wind {written(site.wind, 'wind speed', units)}"
    if setup.screen is not None:
        text += ", behind a windscreen"
    return text if site.ground == "nothing" else text + f", floor on {site.ground}"


def shown_change(before: str, after: str) -> str:
    """A value and what it becomes; a unit that both have is written once.

    >>> from burnsim.units import plain
    >>> plain(shown_change("1\\N{NO-BREAK SPACE}mm", "1.1\\N{NO-BREAK SPACE}mm"))
    '1 → 1.1 mm'
    """
    number, space, unit = before.partition(NBSP)
    return f"{number if space and after.endswith(space + unit) else before} \N{RIGHTWARDS ARROW} {after}"
