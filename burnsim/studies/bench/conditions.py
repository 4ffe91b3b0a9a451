"""Conditions of a bench log: the TOML at its head, read into one frozen record."""

import json
import re
from collections.abc import Mapping
from typing import Any, NamedTuple

from burnsim.constants import ZERO_CELSIUS
from burnsim.errors import InputError, nearest
from burnsim.io.text_file import check_label, parse_toml
from burnsim.model.description.tables import read_fuel
from burnsim.studies.bench.columns import KINDS
from burnsim.substances.blend import Blend
from burnsim.substances.metals import METALS, Metal
from burnsim.units import parse
from burnsim.units.writing import spelt


class Item(NamedTuple):
    """One quantity that a log may state."""

    field: str  # of `Conditions`
    dimension: str
    low: float
    high: float


TABLES: dict[str, dict[str, Item]] = {
    "charge": {
        "volume": Item("fuel_volume", "volume", 0.1e-6, 2e-3),
        "primer": Item("primer_volume", "volume", 0.0, 0.1e-3),
        "temperature": Item("fuel_temperature", "temperature", 250.15, 323.15),
        "mass": Item("fuel_mass", "mass", 0.1e-3, 2.0),
        "left": Item("fuel_left", "volume", 0.0, 2e-3),
        "left_mass": Item("fuel_left_mass", "mass", 0.0, 2.0),
        "used_to_boil": Item("used_to_boil", "volume", 0.1e-6, 2e-3),
        "used_to_boil_mass": Item("used_to_boil_mass", "mass", 0.1e-3, 2.0),
    },
    "pot": {
        "water": Item("water_volume", "volume", 1e-6, 0.05),
        "water_temperature": Item("water_temperature", "temperature", ZERO_CELSIUS, 375.15),
        "water_mass": Item("water_mass", "mass", 1e-3, 50.0),
        "water_left_mass": Item("water_left_mass", "mass", 0.0, 50.0),
        "evaporated": Item("evaporated", "mass", 0.0, 50.0),
        "mass": Item("pot_mass", "mass", 1e-3, 20.0),
    },
    "site": {
        "air_temperature": Item("air_temperature", "temperature", 250.15, 323.15),
        "humidity": Item("humidity", "fraction", 0.0, 1.0),
        "altitude": Item("altitude", "length", -430.0, 6000.0),
        "pressure": Item("pressure", "pressure", 4e4, 1.1e5),
        "wind": Item("wind", "velocity", 0.0, 10.0),
    },
    "uncertainty": {
        "thermometer": Item("u_thermometer", "temperature difference", 0.001, 20.0),
        "reading": Item("u_reading", "temperature difference", 0.001, 20.0),
        "clock": Item("u_clock", "time", 0.0, 600.0),
        "bloom": Item("u_bloom", "time", 0.1, 600.0),
        "boil": Item("u_boil", "time", 0.1, 600.0),
        "burnout": Item("u_burnout", "time", 0.1, 600.0),
        "fuel": Item("u_fuel", "volume", 0.0, 1e-4),
        "mass": Item("u_mass", "mass", 0.0, 0.1),
        "water": Item("u_water", "fraction", 0.0, 0.5),
        "heating_value": Item("u_heating_value", "fraction", 0.0, 0.5),
    },
}
WORDS = {"charge": {"fuel": "blend"}, "pot": {"metal": "pot_metal", "lid": "lid"}}
"""Keys that hold a word, each with its field of `Conditions`."""
RENAMED = {
    "fuel": {"blend": "fuel"},
    "water": {
        "volume": "water", "temperature": "water_temperature", "mass": "water_mass", "left_mass": "water_left_mass",
    },
}  # fmt: skip
"""Keys that have another name in a design file, and so here; other keys of such a table kept theirs."""
NOW = {"fuel": "charge", "water": "pot"}
MILESTONES = ("bloom", "boil", "burnout", "spill")
BARE = re.compile(r"(\s*[\w.]+\s*=\s*)([^\s\"'\[{#][^#]*?)(\s*(?:#.*)?)")
"""A line of the head with a value that does not begin like a text, a list or a table."""
TEXTS = ("name", "build", "note", "date", "time_unit", "temperature_unit", "mass_unit")


class Conditions(NamedTuple):
    """What was measured once; SI, None where the log does not say. The `u_` are standard uncertainties.

    Their defaults are judgement, without a source: a kitchen thermometer, a stopwatch, a measuring jug, a syringe.
    """

    blend: Blend | None = None
    fuel_volume: float | None = None  # poured into the burner [m3]
    primer_volume: float | None = None  # poured onto the wick [m3]
    fuel_temperature: float | None = None  # of fuel and burner at the start [K]
    fuel_mass: float | None = None  # burner and wick together [kg]
    fuel_left: float | None = None  # recovered [m3]
    fuel_left_mass: float | None = None  # [kg]
    used_to_boil: float | None = None  # by the boil, if the flame was put out there [m3]
    used_to_boil_mass: float | None = None  # [kg]
    water_volume: float | None = None  # [m3]
    water_mass: float | None = None  # [kg]
    water_left_mass: float | None = None  # weighed at the end [kg]
    evaporated: float | None = None  # by the end [kg]
    water_temperature: float | None = None  # at the start [K]
    pot_mass: float | None = None  # [kg]
    pot_metal: str | Metal | None = None
    lid: bool | None = None
    air_temperature: float | None = None  # [K]
    humidity: float | None = None
    altitude: float | None = None  # [m]
    pressure: float | None = None  # of the air [Pa]
    wind: float | None = None  # [m/s]
    u_thermometer: float = 0.5  # common to all readings [K]
    u_reading: float = 0.3  # of one reading [K]
    u_clock: float = 2.0  # of the start of the clock [s]
    u_bloom: float = 3.0  # of seeing it [s]
    u_boil: float = 8.0  # of judging it [s]
    u_burnout: float = 4.0  # [s]
    u_fuel: float = 0.5e-6  # of a volume of fuel [m3]
    u_mass: float = 0.5e-3  # of a weighing [kg]
    u_water: float = 0.01  # of a volume of water, relative
    u_heating_value: float = 0.01  # strength of the spirit, relative


class Header(NamedTuple):
    """The head of a log."""

    conditions: Conditions
    texts: Mapping[str, str]
    seen: Mapping[str, object]  # raw times of milestones, or false where it did not happen
    match: object | None  # the clock's reading when the match was struck
    columns: Mapping[str, object]  # name or number of the column of a kind, where the file's own do not say
    places: Mapping[str, str]  # file, line and key of each condition that is stated, by its field of `Conditions`


def read_header(text: str, name: str, first_line: int = 1) -> Header:
    """Read the conditions of a bench log.

    Parameters
    ----------
    text : TOML with the tables [charge], [pot], [site], [seen], [clock], [columns] and [uncertainty]; quotes may be
        left out
    name : of the file, for errors
    first_line : number of the first line of `text` in its file

    Raises
    ------
    InputError
        Names file and line, the key, its value and the remedy.
    """
    table = _table(text, name, first_line)
    lines = text.split("\n")

    def place(where: str, key: str) -> str:
        return f"{name}, line {first_line + _line_of(lines, where, key)}: {f'{where}.' if where else ''}{key}"

    known = (*TABLES, "seen", "clock", "columns", *TEXTS)
    texts: dict[str, str] = {}
    found: dict[str, object] = {}
    places: dict[str, str] = {}
    for key, value in table.items():
        if key in TEXTS:
            if key != "date" and not isinstance(value, str):
                raise InputError(place("", key), value, "is not a text", "write it in quotes")
            check_label(str(value), place("", key))
            texts[key] = str(value)
        elif key in NOW and isinstance(value, dict):
            inner, raw = next(iter(value.items()), ("volume", None))
            now = RENAMED[key].get(inner, inner)
            raise InputError(
                place(key, inner), raw, f"is called {NOW[key]}.{now}, as in a design file",
                f"write {NOW[key]}.{now}, or [{NOW[key]}] and below it {now}",
            )  # fmt: skip
        elif key not in known:
            raise _unknown(place("", key), key, value, known)
        elif not isinstance(value, dict):
            raise InputError(place("", key), value, "is not a table", f"write it as a table, [{key}]")
        elif key in TABLES:
            for inner, raw in value.items():
                field, read = _item(key, inner, raw, place(key, inner))
                found[field], places[field] = read, place(key, inner)
    seen, clock, columns = (table.get(key, {}) for key in ("seen", "clock", "columns"))
    allowed_keys = {"seen": MILESTONES, "clock": ("match",), "columns": tuple(KINDS)}
    for where, given in (("seen", seen), ("clock", clock), ("columns", columns)):
        allowed = allowed_keys[where]
        for inner in given:
            if inner not in allowed:
                raise _unknown(place(where, inner), inner, given[inner], allowed)
    conditions = Conditions()._replace(**found)  # type: ignore[arg-type]  # each field was read for its kind
    _check(conditions, places)
    return Header(conditions, texts, seen, clock.get("match"), columns, places)


def _table(text: str, name: str, first_line: int) -> dict[str, Any]:
    """Read TOML in which quantities and words may stand without their quotes."""
    above = "\n" * (first_line - 1)
    try:
        return parse_toml(above + text)
    except ValueError as error:
        try:
            return parse_toml(above + "\n".join(_quoted(line) for line in text.split("\n")))
        except ValueError:
            raise InputError(
                name, None, f"has a head that cannot be read: {error}", 'write lines like pot.water = "0.5 l"'
            ) from None


def _quoted(line: str) -> str:
    """A line of the head with quotes about what needs them.

    >>> _quoted("water = 2 cups  # of the tap"), _quoted("humidity = 0.4")
    ('water = "2 cups"  # of the tap', 'humidity = 0.4')
    """
    found = BARE.fullmatch(line)
    if found is None:
        return line
    try:
        parse_toml(f"a = {found[2]}")
    except ValueError:
        return f"{found[1]}{json.dumps(found[2], ensure_ascii=False)}{found[3]}"
    return line


def _item(table: str, key: str, raw: object, where: str) -> tuple[str, object]:
    """Read one key; its field of `Conditions` and its value."""
    words = WORDS.get(table, {})
    if key in words:
        return words[key], _word(words[key], raw, where)
    if key in TABLES[table]:
        item = TABLES[table][key]
        return item.field, _number(item, raw, where)
    raise _unknown(where, key, raw, (*TABLES[table], *words))


def _number(item: Item, raw: object, where: str) -> float:
    if isinstance(raw, bool) or not isinstance(raw, str | int | float):
        raise InputError(where, raw, "is not a quantity", "write it with its unit in quotes")
    if not isinstance(raw, str) and item.dimension not in ("fraction", "number"):
        raise InputError(where, raw, f"has no unit; wanted: {item.dimension}", "write it with its unit, in quotes")
    value = parse(_decimal_point(raw, where), item.dimension, where)
    if not item.low <= value <= item.high:
        low, high = (spelt(limit, item.dimension) for limit in (item.low, item.high))
        if item.dimension in ("mass", "time", "temperature difference"):
            unit = {"mass": "kg", "time": "s"}.get(item.dimension, "K")
            low, high = f"{item.low:g} {unit}", f"{item.high:g} {unit}"
        raise InputError(where, raw, f"is out of range; allowed from {low} to {high}", "check the number and its unit")
    return value


def _decimal_point(raw: str | int | float, where: str) -> str | int | float:
    """A decimal comma, which nothing else can mean in the head, as a point.

    >>> _decimal_point("0,5 l", "pot.water")
    '0.5 l'
    """
    if not isinstance(raw, str):
        return raw
    if re.search(r"\d,\d{3}(?!\d)", raw):
        either = (raw.replace(",", sign, 1) for sign in (".", ""))
        raise InputError(where, raw, "may be {} or {}".format(*either), "write a decimal point, or no comma")
    return re.sub(r"(\d),(\d)", r"\1.\2", raw)


def _word(field: str, raw: object, where: str) -> object:
    if field == "blend":
        return read_fuel(raw, where)
    if field == "lid":
        if not isinstance(raw, bool):
            raise InputError(where, raw, "is neither true nor false", "write true or false")
        return raw
    if raw not in METALS:
        raise InputError(where, raw, "is not known; allowed: " + ", ".join(METALS), "write one of them in quotes")
    return raw


def _check(found: Conditions, places: Mapping[str, str]) -> None:
    """Refuse what cannot be: more left than there was."""
    poured = None if found.fuel_volume is None else found.fuel_volume + (found.primer_volume or 0.0)
    for field, left, there, dimension in (
        ("water_left_mass", found.water_left_mass, found.water_mass, "mass"),
        ("evaporated", found.evaporated, found.water_mass, "mass"),
        ("fuel_left", found.fuel_left, poured, "volume"),
        ("used_to_boil", found.used_to_boil, poured, "volume"),
        ("fuel_left_mass", found.fuel_left_mass, found.fuel_mass, "mass"),
        ("used_to_boil_mass", found.used_to_boil_mass, found.fuel_mass, "mass"),
    ):
        if left is not None and there is not None and left > there:
            raise InputError(
                places[field], spelt(left, dimension), f"is more than there was, {spelt(there, dimension)}",
                "check both numbers and their units",
            )  # fmt: skip


def _unknown(where: str, key: str, value: object, known: tuple[str, ...]) -> InputError:
    guess = nearest(key, known)
    hint = f"did you mean {guess!r}?" if guess else "leave it out"
    if key == "burner":
        hint = "this looks like a design file: give the log, and the design as --design"
    return InputError(where, value, "is not a known key; allowed: " + ", ".join(known), hint)


def _line_of(lines: list[str], table: str, key: str) -> int:
    """Where a key stands, counted from 0; the nearest guess for keys written in other ways."""
    inside = ""
    for number, line in enumerate(lines):
        bare = line.strip()
        if bare.startswith("["):
            inside = bare.strip("[]").split("]")[0].strip()
            if not table and inside == key:
                return number
        head = bare.split("=")[0].strip()
        if (inside == table and head == key) or head == f"{table}.{key}" or (not inside and head == table):
            return number
    return 0
