"""Conditions of a bench log: the TOML at its head, read into one frozen record."""

from collections.abc import Mapping
from typing import NamedTuple

from burnsim.constants import ZERO_CELSIUS
from burnsim.errors import InputError, nearest
from burnsim.io.text_file import check_label, parse_toml
from burnsim.model.description.tables import read_fuel
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
    "fuel": {
        "volume": Item("fuel_volume", "volume", 0.1e-6, 2e-3),
        "primer": Item("primer_volume", "volume", 0.0, 0.1e-3),
        "mass": Item("fuel_mass", "mass", 0.1e-3, 2.0),
        "left": Item("fuel_left", "volume", 0.0, 2e-3),
        "left_mass": Item("fuel_left_mass", "mass", 0.0, 2.0),
        "used_to_boil": Item("used_to_boil", "volume", 0.1e-6, 2e-3),
        "used_to_boil_mass": Item("used_to_boil_mass", "mass", 0.1e-3, 2.0),
    },
    "water": {
        "volume": Item("water_volume", "volume", 1e-6, 0.05),
        "mass": Item("water_mass", "mass", 1e-3, 50.0),
        "left_mass": Item("water_left_mass", "mass", 0.0, 50.0),
        "evaporated": Item("evaporated", "mass", 0.0, 50.0),
        "temperature": Item("water_temperature", "temperature", ZERO_CELSIUS, 375.15),
    },
    "pot": {"mass": Item("pot_mass", "mass", 1e-3, 20.0)},
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
WORDS = {"fuel": ("blend",), "pot": ("metal", "lid")}
MILESTONES = ("bloom", "boil", "burnout", "spill")
TEXTS = ("name", "build", "note", "date", "time_unit", "temperature_unit", "mass_unit")


class Conditions(NamedTuple):
    """What was measured once; SI, None where the log does not say. The `u_` are standard uncertainties.

    Their defaults are judgement, without a source: a kitchen thermometer, a stopwatch, a measuring jug, a syringe.
    """

    blend: Blend | None = None
    fuel_volume: float | None = None  # poured into the burner [m3]
    primer_volume: float | None = None  # poured onto the wick [m3]
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


def read_header(text: str, name: str, first_line: int = 1) -> Header:
    """Read the conditions of a bench log.

    Parameters
    ----------
    text : TOML with the tables [fuel], [water], [pot], [site], [seen], [clock] and [uncertainty]
    name : of the file, for errors
    first_line : number of the first line of `text` in its file

    Raises
    ------
    InputError
        Names file and line, the key, its value and the remedy.
    """
    try:
        table = parse_toml("\n" * (first_line - 1) + text)
    except ValueError as error:
        raise InputError(
            name, None, f"has a head that is not TOML: {error}", 'write key = "value" lines, then a line ---'
        ) from None
    lines = text.split("\n")

    def place(where: str, key: str) -> str:
        return f"{name}, line {first_line + _line_of(lines, where, key)}: {f'{where}.' if where else ''}{key}"

    known = (*TABLES, "seen", "clock", *TEXTS)
    texts: dict[str, str] = {}
    found: dict[str, object] = {}
    for key, value in table.items():
        if key in TEXTS:
            if key != "date" and not isinstance(value, str):
                raise InputError(place("", key), value, "is not a text", "write it in quotes")
            check_label(str(value), place("", key))
            texts[key] = str(value)
        elif key not in known:
            raise _unknown(place("", key), key, value, known)
        elif not isinstance(value, dict):
            raise InputError(place("", key), value, "is not a table", f"write it as a table, [{key}]")
        elif key in TABLES:
            found |= dict(_item(key, inner, raw, place(key, inner)) for inner, raw in value.items())
    seen, clock = table.get("seen", {}), table.get("clock", {})
    for where, given, allowed in (("seen", seen, MILESTONES), ("clock", clock, ("match",))):
        for inner in given:
            if inner not in allowed:
                raise _unknown(place(where, inner), inner, given[inner], allowed)
    conditions = Conditions()._replace(**found)  # type: ignore[arg-type]  # each field was read for its kind
    _check(conditions, name)
    return Header(conditions, texts, seen, clock.get("match"))


def _item(table: str, key: str, raw: object, where: str) -> tuple[str, object]:
    """Read one key; its field of `Conditions` and its value."""
    if key in WORDS.get(table, ()):
        return {"blend": "blend", "metal": "pot_metal", "lid": "lid"}[key], _word(key, raw, where)
    if key in TABLES[table]:
        item = TABLES[table][key]
        return item.field, _number(item, raw, where)
    raise _unknown(where, key, raw, (*TABLES[table], *WORDS.get(table, ())))


def _number(item: Item, raw: object, where: str) -> float:
    if isinstance(raw, bool) or not isinstance(raw, str | int | float):
        raise InputError(where, raw, "is not a quantity", "write it with its unit in quotes")
    if not isinstance(raw, str) and item.dimension not in ("fraction", "number"):
        raise InputError(where, raw, f"has no unit; wanted: {item.dimension}", "write it with its unit, in quotes")
    value = parse(raw, item.dimension, where)
    if not item.low <= value <= item.high:
        low, high = (spelt(limit, item.dimension) for limit in (item.low, item.high))
        if item.dimension in ("mass", "time", "temperature difference"):
            unit = {"mass": "kg", "time": "s"}.get(item.dimension, "K")
            low, high = f"{item.low:g} {unit}", f"{item.high:g} {unit}"
        raise InputError(where, raw, f"is out of range; allowed from {low} to {high}", "check the number and its unit")
    return value


def _word(key: str, raw: object, where: str) -> object:
    if key == "blend":
        return read_fuel(raw, where)
    if key == "lid":
        if not isinstance(raw, bool):
            raise InputError(where, raw, "is neither true nor false", "write true or false")
        return raw
    if raw not in METALS:
        raise InputError(where, raw, "is not known; allowed: " + ", ".join(METALS), "write one of them in quotes")
    return raw


def _check(found: Conditions, name: str) -> None:
    """Refuse what cannot be: more left than there was."""
    if found.water_mass is not None and found.water_left_mass is not None and found.water_left_mass > found.water_mass:
        raise InputError(f"{name}: water.left_mass", found.water_left_mass, "is more than there was", "weigh again")
    poured = None if found.fuel_volume is None else found.fuel_volume + (found.primer_volume or 0.0)
    for left, charged, label in (
        (found.fuel_left, poured, "left"),
        (found.used_to_boil, poured, "used_to_boil"),
        (found.fuel_left_mass, found.fuel_mass, "left_mass"),
        (found.used_to_boil_mass, found.fuel_mass, "used_to_boil_mass"),
    ):
        if left is not None and charged is not None and left > charged:
            raise InputError(f"{name}: fuel.{label}", left, "is more than was poured in", "check the numbers")


def _unknown(where: str, key: str, value: object, known: tuple[str, ...]) -> InputError:
    guess = nearest(key, known)
    hint = f"did you mean {guess!r}?" if guess else "leave it out"
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
