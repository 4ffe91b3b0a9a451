"""A comparison of spirits as tables for people and as plain values for scripts."""

from collections.abc import Callable, Sequence
from textwrap import wrap
from typing import NamedTuple

from burnsim.report.fields import OFTEN_MORE, aligned, charge_text, factors_text, site_text
from burnsim.report.values import Keys
from burnsim.studies.fuels.charge import LeastCharge
from burnsim.studies.fuels.comparison import FuelComparison, FuelRow
from burnsim.studies.fuels.distillation import Distillation
from burnsim.studies.fuels.water_limit import WETTEST, WaterLimit
from burnsim.substances.blend import find_strength, watered
from burnsim.substances.substance import T20
from burnsim.units import format_time, measure, told, written
from burnsim.units.table import Measure
from burnsim.units.writing import MINUS, rounded

Read = Callable[[FuelRow], float | None]


class Column(NamedTuple):
    """A column: its heading, how it is read [SI], its dimension or the units of a ratio, and its decimals in each."""

    title: str
    read: Read
    dimension: str  # of a ratio: two with a slash between
    decimals: tuple[int, int]  # SI, United States
    toward: int = 0  # 1: what is needed at least, and so rounded up


WIDEST = 30  # longest name of a spirit that a table shows [characters]


PAPER: tuple[Column, ...] = (
    Column("bottle", lambda r: r.spirit.strength, "vol %", (1, 1)),
    Column("water", lambda r: r.spirit.water, "mass %", (1, 1)),
    Column("density", lambda r: r.spirit.density, "mass/volume", (3, 3)),
    Column("heat", lambda r: r.spirit.heating_value_volume, "energy/volume", (1, 0)),
    Column("heat", lambda r: r.spirit.heating_value, "energy/mass", (1, 0)),
    Column("boils", lambda r: r.spirit.boils, "temperature", (1, 0)),
    Column("flash", lambda r: r.spirit.flash, "temperature", (0, 0)),
    Column("free C", lambda r: r.spirit.free_carbon, "mass %", (0, 0)),
)
BURNT: tuple[Column, ...] = (
    Column("bloom", lambda r: r.bloom, "s", (0, 0)),
    Column("boil", lambda r: r.boil, "time", (1, 1)),
    Column("to boil", lambda r: r.used_volume, "volume", (1, 2)),
    Column("to boil", lambda r: r.used, "mass", (1, 2)),
    Column("least", lambda r: r.least.volume, "volume", (1, 2), 1),
    Column("out", lambda r: r.burnout, "time", (1, 1)),
    Column("power", lambda r: r.power, "power", (0, 0)),
    Column("effic.", lambda r: r.efficiency, "fraction", (0, 0)),
    Column("left", lambda r: r.residue, "volume", (1, 2)),
    Column("water", lambda r: r.residue_water, "mass %", (0, 0)),
    Column("flame", lambda r: r.flame, "length", (0, 2)),
    Column("beyond", lambda r: r.flame_beyond, "fraction", (0, 0)),
)
CARRIED: tuple[Column, ...] = (
    Column("carried", lambda r: r.carried, "mass", (0, 2), 1),
    Column("carried", lambda r: r.carried_volume, "volume", (0, 2), 1),
    Column("CO2 a boil", lambda r: r.carbon_dioxide, "mass", (0, 2)),
    Column("cost", lambda r: r.cost, "number", (2, 2)),
)
OTHERS = {
    "energy": Measure("kJ", 1e3), "s": Measure("s"), "vol %": Measure("vol %", 0.01), "mass %": Measure("mass %", 0.01),
}  # fmt: skip
"""Units of tables that are the same in every system."""
LEGEND = """\
bottle: per cent by volume as a label counts it; recipes are by volumes before mixing, so the figures differ a little.
flash: in a closed cup; burnsim start reckons with the lean limit of the vapour, some kelvins lower.
free C: carbon that carries no oxygen, a ranking of how readily a spirit soots (methanol does not; above some 30 %
pots blacken: common practice, no source)."""


def comparison_text(comparison: FuelComparison, units: str = "si") -> str:
    """Three tables, and what is worth knowing of each spirit."""
    setup = comparison.setup
    rows = comparison.rows
    load, rule = "the least charge of each that boils the water", "the least charge burnt out"
    if comparison.charge == "fixed":
        load = f"{written(setup.charge.volume, 'volume', units)} of each"
        rule = "put out at the boil and the rest saved"
    conditions = f"{charge_text(setup, units, load)}; {site_text(setup, units)}"
    lines = [f"Spirits for {setup.name or 'the burner'}", conditions, "", "On paper", *_table(rows, PAPER, units)]
    lines += [*LEGEND.splitlines(), "", "In the burner", *_table(rows, BURNT, units)]
    lines.append(f"least: smallest charge that boils the water, the primer on top; {OFTEN_MORE}.")
    lines.append("left: liquid at the end, and its water.")
    if any(row.flame is not None for row in rows):
        lines.append("flame: length of a jet's; beyond: share of the flames' heat that is set free above the pot.")
    warm = written(T20, "temperature", units)
    carried = CARRIED if any(row.cost is not None for row in rows) else CARRIED[:-1]
    if any(row.carried is not None for row in rows):
        count = "one boil" if comparison.boils == 1 else f"{comparison.boils} boils"
        lines += ["", f"To carry for {count} ({rule}; volumes at {warm})", *_table(rows, carried, units)]
        if comparison.charge == "fixed":
            lines += [line for row in rows for line in wrapped(_saved(row, comparison.boils, units)) if row.waters]
    heard: dict[str, list[str]] = {}  # each note once, with the spirits that it goes for
    for row in rows:
        for note in _notes(row, units):
            heard.setdefault(note, []).append(row.spirit.fuel.name)
    if heard:
        lines += ["", "Worth knowing"]
    for note, names in heard.items():
        who = "every spirit" if 1 < len(names) == len(rows) else ", ".join(names)
        lines += wrapped(f"{who}: {note}")
    lines += ["", factors_text(comparison.setup, ": trust the order of the spirits more than the figures.")]
    return "\n".join(lines)


def _saved(row: FuelRow, boils: int, units: str) -> str:
    """What is saved of a spirit that leaves its water behind, and what to carry in place of it."""
    text = f"{row.spirit.fuel.name}: what is saved at the boil is more watery than the bottle"
    if row.boil is None:
        return f"{text}."
    again = f"{text}, and may not boil as much again"
    if row.least.volume is None:
        return f"{again}: carry the least charge for each boil, which --charge least finds."
    amount = written(boils * (row.least.volume + row.primer), "volume", units, toward=1)
    return f"{again}: carry {amount}, the least charge and its primer for each boil."


def wrapped(text: str) -> list[str]:
    """A finding as a list item, broken to lines that fit.

    >>> wrapped("short")
    ['  - short']
    """
    return wrap(text, 116, initial_indent="  - ", subsequent_indent="    ", break_long_words=False)


FUEL: Keys = {
    "fuel": "spirit.fuel.name", "recipe": "spirit.fuel.recipe", "bottle_strength": "spirit.strength",
    "water_mass_fraction": "spirit.water", "density_kg_m3": "spirit.density",
    "heating_value_J_kg": "spirit.heating_value", "heating_value_J_m3": "spirit.heating_value_volume",
    "air_fuel_ratio": "spirit.air", "free_carbon_mass_fraction": "spirit.free_carbon",
    "carbon_per_hydrogen": "spirit.carbon_per_hydrogen", "boiling_point_K": "spirit.boils",
    "flash_point_K": "spirit.flash", "charge_ml": "charge", "primer_ml": "primer", "least_charge_ml": "least.volume",
    "least_charge_steady": "least.steady", "bloom_s": "bloom", "boil_s": "boil", "burnout_s": "burnout",
    "fuel_to_boil_g": "used", "fuel_to_boil_ml": "used_volume", "power_median_W": "power",
    "efficiency_to_boil": "efficiency", "residue_ml": "residue", "residue_water_mass_fraction": "residue_water",
    "flame_length_mm": "flame", "flame_beyond_pot": "flame_beyond", "carbon_dioxide_to_boil_g": "carbon_dioxide",
    "carried_g": "carried", "carried_ml": "carried_volume", "cost": "cost", "verdicts": "verdicts",
    "reasons": "reasons", "least_charge_reason": lambda row: row.least.reason or None,
}  # fmt: skip
COMPARISON: Keys = {"name": "setup.name", "charge": "charge", "boils": "boils", "fuels": ("rows", FUEL)}
LEAST: Keys = {
    "least_charge_ml": "volume", "most_ml": "most", "steady": "steady", "reason": lambda found: found.reason or None,
    "unsteady": lambda found: found.unsteady or None,
    "tried": lambda found: [{"charge_ml": volume * 1e6, "boil_s": boil} for volume, boil in found.tried],
}  # fmt: skip
WATER = {
    "water_volume_fraction": "water", "blooms_to_water_volume_fraction": "blooms",
    "burns_out_to_water_volume_fraction": "lasts", "boils_to_water_volume_fraction": "boils", "reasons": "reasons",
    "steady": "steady", "fuel": "fuel",
}  # fmt: skip


def _unit(column: Column, units: str) -> Measure:
    """The unit of a column; of a ratio, the ratio of two."""
    parts = [OTHERS[part] if part in OTHERS else measure(part, units) for part in column.dimension.split("/")]
    if len(parts) == 1:
        return parts[0]
    above, below = parts
    return Measure(f"{above.unit}/{below.unit}", above.size / below.size)


def _table(rows: Sequence[FuelRow], columns: Sequence[Column], units: str) -> list[str]:
    """Rows of spirits under two lines of heading; a dash where something did not happen."""
    measures = [_unit(column, units) for column in columns]
    table = [["", *(column.title for column in columns)], ["", *(unit.unit for unit in measures)]]
    for row in rows:
        values = [column.read(row) for column in columns]
        cells = (
            "-"
            if value is None
            else f"{rounded(unit.of(value), figures, column.toward):.{figures}f}".replace("-", MINUS)
            for column, unit, value in zip(columns, measures, values, strict=True)
            for figures in (column.decimals[units == "us"],)
        )
        name = row.spirit.fuel.name
        table.append([name if len(name) <= WIDEST else name[: WIDEST - 3] + "...", *cells])
    return aligned(table, left=1)


def _notes(row: FuelRow, units: str) -> list[str]:
    """What is worth knowing of a spirit, one sentence or two each."""
    least, burn = row.least, row.burn
    notes = [row.reasons["bloom"]] if burn is None else [verdict.text for verdict in burn.verdicts]
    if burn is not None and not least.steady and least.volume is not None:
        bad = min(v for v, boil in least.tried if v > least.volume and boil is None)
        few, more = written(least.volume, "volume", units, toward=1), written(bad, "volume", units)
        why = told(least.unsteady, units) or "why is not known."
        notes.append(f"more is not always better; {more} do not boil the water, {few} do. With {more}: {why}")
    elif burn is not None and least.tried and least.volume is None and row.boil is not None:
        notes.append(f"no least charge was found: {told(least.reason, units)}.")
    return [told(note, units) for note in notes]


def water_limit_text(limit: WaterLimit, units: str = "si") -> str:
    """How much water a spirit may hold, with the strength of a bottle beside each share."""
    never: list[str] = []
    does: dict[str, list[str]] = {}
    for name, words in (("blooms", "blooms"), ("lasts", "burns its charge out"), ("boils", "boils")):
        share: float | None = getattr(limit, name)
        if share is None:
            if name in limit.reasons:
                never.append(f"never {words} ({told(limit.reasons[name], units)})")
            continue
        most = f"up to {100.0 * WETTEST:.0f}\u00a0% of water"
        if name in limit.reasons:
            bottle = 100.0 * find_strength(watered(limit.fuel, share)).bottle
            most = f"up to {100.0 * share:.1f}\u00a0% of water (a bottle of {bottle:.0f}\u00a0%)"
        does.setdefault(most, []).append(words)
    parts = never + [f"{_listed(words)} {most}" for most, words in does.items()]
    least = "the least of these counts, and near it" if len(does) > 1 else "near it"
    parts.append(f"{least} flames are feeble and water stays behind: keep well below")
    return f"{limit.fuel.name}: {'; '.join(parts)}"


def _listed(words: Sequence[str]) -> str:
    """Words in a row.

    >>> _listed(["blooms"]), _listed(["blooms", "burns out", "boils"])
    ('blooms', 'blooms, burns out and boils')
    """
    *first, last = words
    return f"{', '.join(first)} and {last}" if first else last


def least_charge_text(found: LeastCharge, units: str = "si") -> str:
    """The least charge that boils the water, in words; units "si" or "us"."""
    if found.volume is None:
        most = written(found.most, "volume", units)
        return f"No charge up to {most} is known to boil the water: {told(found.reason, units).rstrip('.')}."
    text = f"{written(found.volume, 'volume', units, toward=1)} boils the water; less does not; {OFTEN_MORE}."
    if not found.steady:
        text += f"\nMore is not always better: {told(found.unsteady, units) or 'why is not known.'}"
    return text


def distillation_text(found: Distillation, units: str = "si") -> str:
    """What is left and what it gives off, in mass per cent, at five instants while there is liquid."""
    volume = measure("volume", units)
    names = found.components
    lines = [
        f"{' + '.join(names)}, as it burns away [mass %]",
        f"  {'time':>12}  {f'left [{volume.unit}]':>14}  "
        + "  ".join(f"{f'{name}, liquid':>18}  {'vapour':>6}" for name in names)
        + f"  {'power [W]':>9}",
    ]
    last = len(found.time) - 1
    for k in sorted({round(last * share / 4.0) for share in range(5)}):
        parts = "  ".join(
            f"{100.0 * liquid:>18.1f}  {100.0 * vapour:>6.1f}"
            for liquid, vapour in zip(found.liquid[k].tolist(), found.vapour[k].tolist(), strict=True)
        )
        left = f"{volume.of(float(found.left[k])):.{1 if units == 'si' else 2}f}"
        lines.append(f"  {format_time(float(found.time[k])):>12}  {left:>14}  {parts}  {float(found.power[k]):>9.0f}")
    return "\n".join(lines)


def _course(found: Distillation) -> list[dict[str, object]]:
    return [
        {
            "time_s": found.time[k],
            "left_ml": found.left[k] * 1e6,
            "liquid_mass_fraction": dict(zip(found.components, found.liquid[k], strict=True)),
            "vapour_mass_fraction": dict(zip(found.components, found.vapour[k], strict=True)),
            "vapour_heating_value_J_per_kg": found.heating_value[k],
            "power_W": found.power[k],
        }
        for k in range(len(found.time))
    ]


DISTILLATION: Keys = {"components": "components", "course": _course}
