"""What a field of a description may hold, and the one check that all descriptions share.

Every field carries its dimension, allowed range, a line of documentation and a remedy as dataclass metadata.
The check reads them, so a range is written once: beside the field.
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import Field, field, fields
from functools import cache
from numbers import Integral, Real
from typing import Any, ClassVar, NamedTuple, TypeVar

from burnsim.errors import InputError, unknown
from burnsim.io.text_file import check_label
from burnsim.substances.data_file import is_path
from burnsim.substances.metals import METALS, Metal, read_metal
from burnsim.units import DIMENSIONS, parse
from burnsim.units.reading import is_quantity
from burnsim.units.writing import spelt

Own = TypeVar("Own")
Given = float | str
"""A quantity as a constructor takes it: a number in SI, or a text with its unit; the field holds the number."""


class Spec(NamedTuple):
    """What one field may hold."""

    dimension: str  # a key of `burnsim.units.DIMENSIONS`, or "count", "choice", "metal", "flag", "text", "fuel", "part"
    low: float = 0.0
    high: float = 0.0
    doc: str = ""
    remedy: str = ""
    choices: tuple[str, ...] = ()
    part: type | None = None
    optional: bool = False
    weighed: bool = False  # a volume of fuel, for which its mass may be given


@cache
def spec_of(one: "Field[Any]") -> Spec:
    """Read the `Spec` of a dataclass field from its metadata."""
    return Spec(**{name: one.metadata[name] for name in Spec._fields if name in one.metadata})


@cache
def specs_of(kind: type) -> tuple[tuple[str, Spec], ...]:
    """Names and specs of the fields of a description: looked up once, not for every copy of one."""
    return tuple((one.name, spec_of(one)) for one in fields(kind))


def quantity(
    dimension: str, low: float, high: float, doc: str, remedy: str, *, optional: bool = False, weighed: bool = False
) -> Mapping[str, Any]:
    """Metadata of a physical quantity, allowed from `low` to `high`, both included [SI].

    >>> quantity("length", 0.001, 0.5, "how wide", "measure it")["high"]
    0.5
    """
    return Spec(dimension, low, high, doc, remedy, optional=optional, weighed=weighed)._asdict()


def usual(
    default: float | None, dimension: str, low: float, high: float, doc: str, remedy: str, *, weighed: bool = False
) -> Any:
    """A field of a physical quantity [SI] that has a usual value; one that is usually none may be none."""
    optional = default is None
    return field(
        default=default, metadata=quantity(dimension, low, high, doc, remedy, optional=optional, weighed=weighed)
    )


def whole_number(low: int, high: int, doc: str, remedy: str) -> Mapping[str, Any]:
    """Metadata of a whole number from `low` to `high`, both included."""
    return Spec("count", low, high, doc, remedy)._asdict()


def word(choices: tuple[str, ...], doc: str) -> Mapping[str, Any]:
    """Metadata of a word out of `choices`."""
    return Spec("choice", doc=doc, choices=choices)._asdict()


def a_metal(doc: str) -> Mapping[str, Any]:
    """Metadata of a metal: the name of one that the package carries, or one of a user's own."""
    return Spec("metal", doc=doc)._asdict()


def a_flag(doc: str) -> Mapping[str, Any]:
    """Metadata of a true or false field."""
    return Spec("flag", doc=doc)._asdict()


def a_text(doc: str, *, optional: bool = False) -> Mapping[str, Any]:
    """Metadata of a free text."""
    return Spec("text", doc=doc, optional=optional)._asdict()


def a_part(kind: type, doc: str, *, optional: bool = False) -> Mapping[str, Any]:
    """Metadata of a field that holds another description, or a `Blend`."""
    return Spec("part", doc=doc, part=kind, optional=optional)._asdict()


class Written(float):
    """A number that an error shows as people write it, '20 mm', and that stays a number for who catches the error."""

    text = ""

    def __repr__(self) -> str:
        """The quantity with its unit, in quotes."""
        return self.text or super().__repr__()


def quoted(value: float, dimension: str) -> Written:
    """A value in SI that shows itself as `spelt` writes it; a bare share shows no quotes.

    >>> quoted(0.02, "length") * 2.0, quoted(1.5, "fraction")
    (0.04, 1.5)
    """
    text = Written(value)
    told = spelt(value, dimension)
    text.text = told if dimension == "fraction" else f"'{told}'"
    return text


class Description:
    """A frozen description that checks its own fields, each against its metadata, and computes nothing else.

    A quantity is a text with its unit ("30 ml"), a quantity of pint or a number in SI, which is what it becomes.
    """

    PATH: ClassVar[str]
    """The table of a design file that it stands in."""

    def __post_init__(self) -> None:
        check_fields(self, self.PATH)


def dotted(path: str, name: str) -> str:
    """The dotted path of what stands in a table by a name; the table at the top has no path."""
    return f"{path}.{name}" if path else name


def check_fields(record: Any, path: str) -> None:
    """Check every field of a frozen description against its metadata; a quantity becomes a float in SI.

    An `InputError` names the first field that is out of range or of the wrong type, with the path before its name.
    """
    for key, spec in specs_of(record.__class__):
        value = getattr(record, key)
        if value is None and spec.optional:
            continue
        if type(value) is float and spec.low <= value <= spec.high and spec.dimension in DIMENSIONS:
            continue  # a copy with one change checks all its numbers again: most need no more
        name = dotted(path, key)
        if spec.dimension in DIMENSIONS:
            object.__setattr__(record, key, _quantity(value, spec, name))
        elif spec.dimension == "count":
            object.__setattr__(record, key, _count(value, spec, name))
        elif spec.dimension == "metal" and isinstance(value, str) and is_path(value):
            object.__setattr__(record, key, own_material(read_metal, value, name))
        else:
            check_other(value, spec, name)


def allowed(spec: Spec) -> str:
    """Say the allowed range of a field in words.

    >>> allowed(Spec("length", 0.001, 0.02))
    'allowed from 1 mm to 20 mm'
    """
    if spec.dimension == "count":
        return f"allowed: whole numbers from {spec.low:.0f} to {spec.high:.0f}"
    low, high = (spelt(limit, spec.dimension) for limit in (spec.low, spec.high))
    return f"allowed from {low} to {high}"


def read_quantity(value: object, spec: Spec, name: str) -> float:
    """Read a quantity: a text with its unit, a quantity of pint, or a number in SI; an error states the allowed range.

    >>> read_quantity("1 mm", Spec("length", 0.1e-3, 10e-3), "burner.jets.diameter")
    0.001
    """
    if isinstance(value, bool) or not (isinstance(value, str | Real) or is_quantity(value)):
        raise InputError(
            name, value, f"is not a number; {allowed(spec)}",
            f"write a text with its unit, such as {DIMENSIONS[spec.dimension].example!r}, or an SI number",
        )  # fmt: skip
    if isinstance(value, Real):
        try:
            return float(value)
        except OverflowError:
            return math.inf
    try:
        return parse(value, spec.dimension, name)
    except InputError as error:
        remedy = f"{error.remedy}; a mass goes in grams, '25 g'" if spec.weighed else error.remedy
        raise InputError(name, error.value, f"{error.problem}; {allowed(spec)}", remedy) from None


def own_material(read: Callable[[str], Own], file: str, name: str) -> Own:
    """Read a material's file; an error names the field that gave it too."""
    try:
        return read(file.strip())
    except InputError as error:
        raise InputError(f"{name}: {error.field}", error.value, error.problem, error.remedy) from None


UNIT_FORGOTTEN = 50.0
"""So many times above its range, a bare number was most likely meant in another unit."""


def _quantity(value: object, spec: Spec, name: str) -> float:
    number = read_quantity(value, spec, name)
    if not math.isfinite(number):
        raise InputError(name, value, f"is not a finite number; {allowed(spec)}", spec.remedy)
    if not spec.low <= number <= spec.high:
        remedy = spec.remedy
        if not isinstance(value, str) and abs(number) > UNIT_FORGOTTEN * spec.high:
            remedy += f", and write its unit, like {DIMENSIONS[spec.dimension].example!r}: a bare number is in SI"
        raise InputError(name, quoted(number, spec.dimension), f"is out of range; {allowed(spec)}", remedy)
    return number


def _count(value: object, spec: Spec, name: str) -> int:
    whole = isinstance(value, float) and value.is_integer()  # such as a row of a data frame holds
    if isinstance(value, bool) or not (whole or isinstance(value, Integral)):
        raise InputError(name, value, f"is not a whole number; {allowed(spec)}", spec.remedy)
    number = int(value)  # type: ignore[call-overload]  # one of the two
    if not spec.low <= number <= spec.high:
        raise InputError(name, number, f"is out of range; {allowed(spec)}", spec.remedy)
    return int(number)


def check_other(value: object, spec: Spec, name: str) -> None:
    """Refuse what a field that holds no number cannot hold: not one of its words, no metal, flag, text or part."""
    if spec.dimension == "choice":
        _check_word(value, spec.choices, name)
    elif spec.dimension == "metal":
        if not isinstance(value, Metal):
            _check_word(value, tuple(METALS), name)
    elif spec.dimension == "flag" and not isinstance(value, bool):
        raise InputError(name, value, "is neither true nor false", "write true or false")
    elif spec.dimension == "text":
        if not isinstance(value, str):
            raise InputError(name, value, "is not a text", "write a text in quotes")
        check_label(value, name)
    elif spec.dimension == "part" and spec.part is not None and not isinstance(value, spec.part):
        wanted = spec.part.__name__
        how = "blend('ethanol 95') makes one" if wanted == "Blend" else f"make one with {wanted}(...)"
        raise InputError(name, value, f"is not a {wanted}", how)


def _check_word(value: object, choices: tuple[str, ...], name: str) -> None:
    if value not in choices:
        raise unknown(name, value, choices, otherwise="write one of them in quotes", show=repr)
