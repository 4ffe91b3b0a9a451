"""A comparison of spirits as tables for people and as plain values for scripts."""

from collections.abc import Callable, Sequence
from textwrap import wrap

from burnsim.constants import ZERO_CELSIUS
from burnsim.measures import Measure, in_system, measure
from burnsim.model.description.fields import shown
from burnsim.studies.fuels.comparison import FuelComparison, FuelRow
from burnsim.studies.fuels.water_limit import WETTEST, WaterLimit
from burnsim.substances.bottle import strength, watered

Column = tuple[str, str, Callable[[FuelRow], float | None], str]
"""Heading, unit, how it is read, and its format."""

DIMENSIONS = {"ml": "volume", "g": "mass", "mm": "length", "degC": "temperature"}
US = {"ml": ".2f", "g": ".2f", "g/ml": ".3f", "kJ/ml": ".0f", "kJ/g": ".0f", "mm": ".2f", "degC": ".0f"}
"""Units of tables that are others in the United States, and how their numbers are written there."""

WIDEST = 30
"""Longest name of a spirit that a table shows [characters]."""


def _times(value: float | None, factor: float) -> float | None:
    return None if value is None else value * factor


def _millilitres(row: FuelRow) -> float | None:
    """Spirit used by the boil, as volume at 20 degC [ml]."""
    return _times(row.used_volume, 1e6)


def _least(row: FuelRow) -> float | None:
    return _times(row.least.volume, 1e6)


PAPER: tuple[Column, ...] = (
    ("bottle", "vol %", lambda r: 100.0 * r.spirit.strength, ".1f"),
    ("water", "mass %", lambda r: 100.0 * r.spirit.water, ".1f"),
    ("density", "g/ml", lambda r: r.spirit.density * 1e-3, ".3f"),
    ("heat", "kJ/ml", lambda r: r.spirit.heating_value_volume * 1e-9, ".1f"),
    ("heat", "kJ/g", lambda r: r.spirit.heating_value * 1e-6, ".1f"),
    ("boils", "degC", lambda r: r.spirit.boils - ZERO_CELSIUS, ".1f"),
    ("flash", "degC", lambda r: None if r.spirit.flash is None else r.spirit.flash - ZERO_CELSIUS, ".0f"),
    ("free C", "mass %", lambda r: 100.0 * r.spirit.free_carbon, ".0f"),
)
BURNT: tuple[Column, ...] = (
    ("bloom", "s", lambda r: r.bloom, ".0f"),
    ("boil", "min", lambda r: _times(r.boil, 1.0 / 60.0), ".1f"),
    ("to boil", "ml", _millilitres, ".1f"),
    ("to boil", "g", lambda r: _times(r.used, 1e3), ".1f"),
    ("least", "ml", _least, ".1f"),
    ("out", "min", lambda r: _times(r.burnout, 1.0 / 60.0), ".1f"),
    ("power", "W", lambda r: r.power, ".0f"),
    ("effic.", "%", lambda r: _times(r.efficiency, 100.0), ".0f"),
    ("left", "ml", lambda r: _times(r.residue, 1e6), ".1f"),
    ("water", "mass %", lambda r: _times(r.residue_water, 100.0), ".0f"),
    ("flame", "mm", lambda r: _times(r.flame, 1e3), ".0f"),
    ("beyond", "%", lambda r: _times(r.flame_beyond, 100.0), ".0f"),
)
CARRIED: tuple[Column, ...] = (
    ("carried", "g", lambda r: _times(r.carried, 1e3), ".0f"),
    ("carried", "ml", lambda r: _times(r.carried_volume, 1e6), ".0f"),
    ("CO2 a boil", "g", lambda r: _times(r.carbon_dioxide, 1e3), ".0f"),
    ("cost", "", lambda r: r.cost, ".2f"),
)
LEGEND = """\
bottle: per cent by volume as a label counts it; recipes are by volumes before mixing, so the figures differ a little.
flash: in a closed cup. free C: carbon that carries no oxygen, a ranking of how readily a
spirit soots (methanol does not; above some 30 % pots blacken: common practice, no source)."""


def comparison_text(comparison: FuelComparison, units: str = "si") -> str:
    """Three tables, and what is worth knowing of each spirit.

    Parameters
    ----------
    comparison : spirits side by side
    units : "si" or "us"
    """
    measure("volume", units)
    setup = comparison.setup
    rows = comparison.rows
    lines = [f"Spirits for {setup.name or 'the burner'}", in_system(_conditions(comparison), units), "", "On paper"]
    lines += [
        *_table(rows, _in(PAPER, units)),
        *LEGEND.splitlines(),
        "",
        "In the burner",
        *_table(rows, _in(BURNT, units)),
    ]
    lines.append(
        "least: smallest charge that boils the water, the primer on top. left: liquid at the end, and its water."
    )
    carried = CARRIED if any(row.cost is not None for row in rows) else CARRIED[:-1]
    if any(row.carried is not None for row in rows):
        count = "one boil" if comparison.boils == 1 else f"{comparison.boils} boils"
        rule = (
            "put out at the boil and the rest saved" if comparison.charge == "fixed" else "the least charge burnt out"
        )
        lines += ["", f"To carry for {count} ({rule})", *_table(rows, _in(carried, units))]
    notes = [text for row in rows for text in _notes(row)]
    if notes:
        lines += ["", "Worth knowing", *(line for text in notes for line in wrapped(in_system(text, units)))]
    lines += ["", "No factor is fitted to any burn: trust the order of the spirits more than the figures."]
    return "\n".join(lines)


def wrapped(text: str) -> list[str]:
    """A finding as a list item, broken to lines that fit.

    >>> wrapped("short")
    ['  - short']
    """
    return wrap(text, 116, initial_indent="  - ", subsequent_indent="    ", break_long_words=False)


def comparison_dict(comparison: FuelComparison) -> dict[str, object]:
    """Plain values of a comparison.

    Parameters
    ----------
    comparison : spirits side by side
    """
    return {
        "name": comparison.setup.name,
        "charge": comparison.charge,
        "boils": comparison.boils,
        "fuels": [_row_dict(row) for row in comparison.rows],
    }


def _row_dict(row: FuelRow) -> dict[str, object]:
    spirit = row.spirit
    return {
        "fuel": spirit.fuel.name,
        "recipe": spirit.fuel.recipe,
        "bottle_strength": spirit.strength,
        "water_mass_fraction": spirit.water,
        "density_kg_m3": spirit.density,
        "heating_value_J_kg": spirit.heating_value,
        "heating_value_J_m3": spirit.heating_value_volume,
        "air_fuel_ratio": spirit.air,
        "free_carbon_mass_fraction": spirit.free_carbon,
        "carbon_per_hydrogen": spirit.carbon_per_hydrogen,
        "boiling_point_K": spirit.boils,
        "flash_point_K": spirit.flash,
        "charge_ml": row.charge * 1e6,
        "primer_ml": row.primer * 1e6,
        "least_charge_ml": _times(row.least.volume, 1e6),
        "least_charge_reason": row.least.reason or None,
        "least_charge_steady": row.least.steady,
        "bloom_s": row.bloom,
        "boil_s": row.boil,
        "burnout_s": row.burnout,
        "fuel_to_boil_g": _times(row.used, 1e3),
        "fuel_to_boil_ml": _millilitres(row),
        "power_median_W": row.power,
        "efficiency_to_boil": row.efficiency,
        "residue_ml": _times(row.residue, 1e6),
        "residue_water_mass_fraction": row.residue_water,
        "flame_length_mm": _times(row.flame, 1e3),
        "flame_beyond_pot": row.flame_beyond,
        "carbon_dioxide_to_boil_g": _times(row.carbon_dioxide, 1e3),
        "carried_g": _times(row.carried, 1e3),
        "carried_ml": _times(row.carried_volume, 1e6),
        "cost": row.cost,
        "verdicts": list(row.verdicts),
        "reasons": dict(row.reasons),
    }


def _conditions(comparison: FuelComparison) -> str:
    setup = comparison.setup
    if comparison.charge == "fixed":
        text = f"{shown(setup.charge.volume, 'volume')} of each"
    else:
        text = "the least charge of each that boils the water"
    if setup.charge.primer > 0.0:
        text += f" + {shown(setup.charge.primer, 'volume')} on the wick"
    if setup.pot is not None:
        start = setup.pot.water_temperature or setup.site.air_temperature
        text += f"; {setup.pot.water * 1e3:.2f} l of water at {shown(start, 'temperature')}"
    air = setup.site.air_temperature
    return f"{text}; air {shown(air, 'temperature')}, {setup.site.altitude:.0f} m"


def _in(columns: Sequence[Column], units: str) -> tuple[Column, ...]:
    """Columns of a table in the units of a system."""
    if units == "si":
        return tuple(columns)
    return tuple(_in_us(column) for column in columns)


def _in_us(column: Column) -> Column:
    title, unit, read, _ = column
    if unit not in US:
        return column
    told = _us_measure(unit)

    def converted(row: FuelRow) -> float | None:
        value = read(row)
        return None if value is None else told.of(value)

    return title, told.unit, converted, US[unit]


def _us_measure(unit: str) -> Measure:
    """The unit that stands for one of a table, or for a ratio of two; its size and zero are in that one."""
    parts = []
    for part in unit.split("/"):
        if part in DIMENSIONS:
            si, us = (measure(DIMENSIONS[part], system) for system in ("si", "us"))
            parts.append(Measure(us.unit, us.size / si.size, (us.zero - si.zero) / si.size))
        else:
            parts.append(Measure(part, 1.0))
    if len(parts) == 1:
        return parts[0]
    above, below = parts
    return Measure(f"{above.unit}/{below.unit}", above.size / below.size)


def _table(rows: Sequence[FuelRow], columns: Sequence[Column]) -> list[str]:
    """Rows of spirits under two lines of heading; a dash where something did not happen."""
    width = max(len(_name(row)) for row in rows)
    cells = [[_cell(read(row), style) for row in rows] for _, _, read, style in columns]
    widths = [
        max(len(title), len(unit), *(len(cell) for cell in column))
        for (title, unit, _, _), column in zip(columns, cells, strict=True)
    ]
    lines = [
        f"  {'':<{width}}" + "".join(f"  {title:>{w}}" for (title, *_), w in zip(columns, widths, strict=True)),
        f"  {'':<{width}}" + "".join(f"  {unit:>{w}}" for (_, unit, *_), w in zip(columns, widths, strict=True)),
    ]
    for k, row in enumerate(rows):
        line = "".join(f"  {column[k]:>{w}}" for column, w in zip(cells, widths, strict=True))
        lines.append(f"  {_name(row):<{width}}{line}")
    return lines


def _cell(value: float | None, style: str) -> str:
    return "-" if value is None else format(value, style)


def _name(row: FuelRow) -> str:
    name = row.spirit.fuel.name
    return name if len(name) <= WIDEST else name[: WIDEST - 3] + "..."


def _notes(row: FuelRow) -> list[str]:
    """What is worth knowing of a spirit, one sentence or two each."""
    name = row.spirit.fuel.name
    if row.burn is None:
        return [f"{name}: {row.reasons['bloom']}"]
    notes = [f"{name}: {verdict.text}" for verdict in row.burn.verdicts]
    if not row.least.steady and row.least.volume is not None:
        bad = min(v for v, boil in row.least.tried if v > row.least.volume and boil is None)
        notes.append(
            f"{name}: more is not always better; {bad * 1e6:.1f} ml do not boil the water, "
            f"{row.least.volume * 1e6:.1f} ml do. With {bad * 1e6:.1f} ml: {row.least.unsteady or 'why is not known.'}"
        )
    elif row.least.tried and row.least.volume is None and row.boil is not None:
        notes.append(f"{name}: no least charge was found: {row.least.reason}.")
    return notes


def water_limit_text(limit: WaterLimit, units: str = "si") -> str:
    """How much water a spirit may hold, with the strength of a bottle beside each share.

    Parameters
    ----------
    limit : of `water_limits`
    units : "si" or "us"
    """
    parts = []
    for name, words in (("blooms", "blooms"), ("lasts", "burns its charge out"), ("boils", "boils")):
        share: float | None = getattr(limit, name)
        if share is None:
            if name in limit.reasons:
                parts.append(f"never {words} ({limit.reasons[name]})")
        elif name not in limit.reasons:
            parts.append(f"{words} up to {100.0 * WETTEST:.0f} % of water")
        else:
            bottle = 100.0 * strength(watered(limit.fuel, share)).bottle
            parts.append(f"{words} up to {100.0 * share:.1f} % of water ({bottle:.0f} % on a bottle)")
    return in_system(f"{limit.fuel.name}: " + "; ".join(parts), units)


def water_limit_dict(limit: WaterLimit) -> dict[str, object]:
    """How much water a spirit may hold, as plain values.

    Parameters
    ----------
    limit : of `water_limits`
    """
    return {
        "fuel": limit.fuel.name,
        "water_volume_fraction": limit.water,
        "blooms_to_water_volume_fraction": limit.blooms,
        "burns_out_to_water_volume_fraction": limit.lasts,
        "boils_to_water_volume_fraction": limit.boils,
        "reasons": dict(limit.reasons),
        "steady": limit.steady,
    }
