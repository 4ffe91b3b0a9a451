"""Conditions of a bench log: the TOML at its head, read into one frozen record."""

import json
import re
from collections.abc import Mapping
from dataclasses import Field, dataclass, field, fields
from typing import Any, NamedTuple

from burnsim.errors import InputError, unknown
from burnsim.io.text_file import TwiceError, check_label, parse_toml
from burnsim.model.description.fields import Spec, allowed, check_other, spec_of
from burnsim.model.description.tables import read_fuel
from burnsim.model.description.vary import paths
from burnsim.studies.bench.columns import KINDS
from burnsim.studies.sweep.plan import spec_at
from burnsim.substances.blend import Blend
from burnsim.substances.metals import Metal
from burnsim.units import DIMENSIONS, parse
from burnsim.units.writing import spelt

MISNAMED = {"fuel": "charge", "water": "pot"}
"""Tables that people may write, by the name that they have here, which is that of a design file."""
MISNAMED_KEYS = {
    "fuel": {"blend": "fuel"},
    "water": {
        "volume": "water", "temperature": "water_temperature", "mass": "water_mass", "left_mass": "water_left_mass",
    },
}  # fmt: skip
"""Keys in such tables that have another name here; the others have the same."""
WEIGHED = {"charge.volume": "charge.mass"} | {
    volume: f"{volume}_mass" for volume in ("charge.left", "charge.used_to_boil", "pot.water")
}
"""What a log calls a mass where it has a volume too."""
MILESTONES = ("bloom", "boil", "burnout", "spill")
BARE = re.compile(r"(\s*[\w.]+\s*=\s*)([^\s\"'\[{#][^#]*?)(\s*(?:#.*)?)")
"""A line of the head with a value that does not begin like a text, a list or a table."""
TEXTS = ("name", "build", "note", "date", "time_unit", "temperature_unit", "mass_unit")


def _as_designed(path: str) -> dict[str, Any]:
    """Metadata of a field that a log states as a design does, by the same path and in the same range."""
    return {"key": path, **spec_at(path)._asdict()}


def _stated(key: str, dimension: str, low: float, high: float, default: float | None = None) -> Any:
    """A field that a log states under a key of a table."""
    return field(default=default, metadata={"key": key, **Spec(dimension, low, high)._asdict()})


@dataclass(frozen=True)
class Conditions:
    """What was measured once; SI, None where the log does not say. The `u_` are standard uncertainties.

    Their defaults are judgement, without a source: a kitchen thermometer, a stopwatch, a measuring jug, a syringe.
    """

    blend: Blend | None = field(default=None, metadata=_as_designed("charge.fuel"))
    fuel_volume: float | None = field(default=None, metadata=_as_designed("charge.volume"))  # poured into the burner
    primer_volume: float | None = field(default=None, metadata=_as_designed("charge.primer"))  # poured onto the wick
    fuel_temperature: float | None = field(
        default=None, metadata=_as_designed("charge.temperature")
    )  # and burner's, first
    fuel_mass: float | None = _stated("charge.mass", "mass", 0.1e-3, 2.0)  # burner and wick together
    fuel_left: float | None = _stated("charge.left", "volume", 0.0, 2e-3)  # recovered
    fuel_left_mass: float | None = _stated("charge.left_mass", "mass", 0.0, 2.0)
    used_to_boil: float | None = _stated("charge.used_to_boil", "volume", 0.1e-6, 2e-3)  # if it was put out there
    used_to_boil_mass: float | None = _stated("charge.used_to_boil_mass", "mass", 0.1e-3, 2.0)
    water_volume: float | None = field(default=None, metadata=_as_designed("pot.water"))
    water_temperature: float | None = field(default=None, metadata=_as_designed("pot.water_temperature"))  # at first
    water_mass: float | None = _stated("pot.water_mass", "mass", 1e-3, 50.0)
    water_left_mass: float | None = _stated("pot.water_left_mass", "mass", 0.0, 50.0)  # weighed at the end
    evaporated: float | None = _stated("pot.evaporated", "mass", 0.0, 50.0)  # by the end
    pot_mass: float | None = _stated("pot.mass", "mass", 1e-3, 20.0)
    pot_metal: str | Metal | None = field(default=None, metadata=_as_designed("pot.metal"))
    lid: bool | None = field(default=None, metadata=_as_designed("pot.lid"))
    air_temperature: float | None = field(default=None, metadata=_as_designed("site.air_temperature"))
    humidity: float | None = field(default=None, metadata=_as_designed("site.humidity"))
    altitude: float | None = field(default=None, metadata=_as_designed("site.altitude"))
    pressure: float | None = _stated("site.pressure", "pressure", 4e4, 1.1e5)  # of the air
    wind: float | None = field(default=None, metadata=_as_designed("site.wind"))
    u_thermometer: float = _stated("uncertainty.thermometer", "temperature difference", 0.001, 20.0, 0.5)  # of all
    u_reading: float = _stated("uncertainty.reading", "temperature difference", 0.001, 20.0, 0.3)  # of each apart
    u_clock: float = _stated("uncertainty.clock", "time", 0.0, 600.0, 2.0)  # of starting it
    u_bloom: float = _stated("uncertainty.bloom", "time", 0.1, 600.0, 3.0)  # of seeing it
    u_boil: float = _stated("uncertainty.boil", "time", 0.1, 600.0, 8.0)  # of judging it
    u_burnout: float = _stated("uncertainty.burnout", "time", 0.1, 600.0, 4.0)
    u_fuel: float = _stated("uncertainty.fuel", "volume", 0.0, 1e-4, 0.5e-6)  # of a volume of fuel
    u_mass: float = _stated("uncertainty.mass", "mass", 0.0, 0.1, 0.5e-3)  # of a weighing
    u_water: float = _stated("uncertainty.water", "fraction", 0.0, 0.5, 0.01)  # of a volume of water, relative
    u_heating_value: float = _stated("uncertainty.heating_value", "fraction", 0.0, 0.5, 0.01)  # of the spirit, relative

    @property
    def poured(self) -> float | None:
        """Volume of all fuel, that on the wick included [m3]; None where the log does not say."""
        return None if self.fuel_volume is None else self.fuel_volume + (self.primer_volume or 0.0)


TABLES: dict[str, dict[str, "Field[Any]"]] = {"charge": {}, "pot": {}, "site": {}, "uncertainty": {}}
"""What each table of a log may state: fields of `Conditions` by its keys."""
for _field in fields(Conditions):
    _table_of, _key = _field.metadata["key"].split(".")
    TABLES[_table_of][_key] = _field
SHARED = {one.metadata["key"]: one.name for one in fields(Conditions) if one.metadata["key"] in paths()}
"""The fields that a design has too, by their paths in it."""


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

    The text is TOML with the tables [charge], [pot], [site], [seen], [clock], [columns] and [uncertainty], in which
    quotes may be left out. An `InputError` names file and line, the key, its value and the remedy.
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
        elif key in MISNAMED and isinstance(value, dict):
            inner, raw = next(iter(value.items()), ("volume", None))
            there, name_there = MISNAMED[key], MISNAMED_KEYS[key].get(inner, inner)
            remedy = f"write {there}.{name_there}, or [{there}] and below it {name_there}"
            raise InputError(place(key, inner), raw, f"is called {there}.{name_there}, as in a design file", remedy)
        elif key not in known:
            raise _unknown(place("", key), key, value, known)
        elif not isinstance(value, dict):
            raise InputError(place("", key), value, "is not a table", f"write it as a table, [{key}]")
        elif key in TABLES:
            for inner, raw in value.items():
                where = place(key, inner)
                if inner not in TABLES[key]:
                    raise _unknown(where, inner, raw, tuple(TABLES[key]))
                item = TABLES[key][inner]
                read = _read(spec_of(item), raw, where, WEIGHED.get(item.metadata["key"]))
                found[item.name], places[item.name] = read, where
    for where, keys in (("seen", MILESTONES), ("clock", ("match",)), ("columns", tuple(KINDS))):
        for inner, raw in table.get(where, {}).items():
            if inner not in keys:
                raise _unknown(place(where, inner), inner, raw, keys)
    conditions = Conditions(**found)  # type: ignore[arg-type]  # each field was read for its kind
    _check(conditions, places)
    seen, clock, columns = (table.get(key, {}) for key in ("seen", "clock", "columns"))
    return Header(conditions, texts, seen, clock.get("match"), columns, places)


def _table(text: str, name: str, first_line: int) -> dict[str, Any]:
    """Read TOML in which quantities and words may stand without their quotes."""
    above = "\n" * (first_line - 1)
    try:
        return parse_toml(above + text)
    except ValueError as error:
        try:
            return parse_toml(above + "\n".join(_quoted(line) for line in text.split("\n")))
        except TwiceError as twice:
            raise InputError(name, None, f"has {twice}", "keep one of them") from None
        except ValueError:
            problem = f"has a head that cannot be read: {error}"
            raise InputError(name, None, problem, 'write lines like pot.water = "0.5 l"') from None


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


def _read(spec: Spec, raw: object, where: str, weighed: str | None) -> object:
    """Read the value of one key; `weighed` is that of its mass."""
    if spec.part is not None:
        return read_fuel(raw, where)
    if spec.dimension not in DIMENSIONS:
        check_other(raw, spec, where)
        return raw
    if isinstance(raw, bool) or not isinstance(raw, str | int | float):
        raise InputError(where, raw, "is not a quantity", "write it with its unit in quotes")
    if not isinstance(raw, str) and not DIMENSIONS[spec.dimension].bare:
        raise InputError(where, raw, f"has no unit; wanted: {spec.dimension}", "write it with its unit, in quotes")
    try:
        value = parse(_decimal_point(raw, where), spec.dimension, where)
    except InputError as error:
        if weighed is None or not error.problem.startswith("is a mass"):
            raise
        remedy = f"{error.remedy}, or {weighed} = {raw!r} if it was weighed"
        raise InputError(where, raw, error.problem, remedy) from None
    if not spec.low <= value <= spec.high:
        raise InputError(where, raw, f"is out of range; {allowed(spec)}", "check the number and its unit")
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


def _check(found: Conditions, places: Mapping[str, str]) -> None:
    """Refuse what cannot be: more left than there was."""
    for name, left, there, dimension in (
        ("water_left_mass", found.water_left_mass, found.water_mass, "mass"),
        ("evaporated", found.evaporated, found.water_mass, "mass"),
        ("fuel_left", found.fuel_left, found.poured, "volume"),
        ("used_to_boil", found.used_to_boil, found.poured, "volume"),
        ("fuel_left_mass", found.fuel_left_mass, found.fuel_mass, "mass"),
        ("used_to_boil_mass", found.used_to_boil_mass, found.fuel_mass, "mass"),
    ):
        if left is not None and there is not None and left > there:
            problem = f"is more than there was, {spelt(there, dimension)}"
            raise InputError(places[name], spelt(left, dimension), problem, "check both numbers and their units")


def _unknown(where: str, key: str, value: object, known: tuple[str, ...]) -> InputError:
    otherwise = "leave it out"
    if key == "burner":
        otherwise = "this looks like a design file: give the log, and the design as --design"
    return unknown(where, value, known, "is not a known key", otherwise, word="" if key == "burner" else key)


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
