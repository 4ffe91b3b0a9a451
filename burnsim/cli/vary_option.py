"""What a person writes after `--vary` and `--set`: a field and its values, or its value."""

from collections.abc import Iterator
from contextlib import suppress

import numpy as np

from burnsim.errors import InputError
from burnsim.model.description.fields import Spec, allowed
from burnsim.units import DIMENSIONS, parse
from burnsim.units.writing import spelt

OPTION = "--vary"
MOST = 100_000
FLAGS = {"true": True, "yes": True, "false": False, "no": False}
GRAMMAR = """\
PATH=VALUES, with the dotted path of a field as in the design file:
  burner.jets.count=12:48:2            whole numbers: START:STOP:STEP, the last included if a step meets it
  burner.jets.diameter=0.5mm:1.2mm:8   quantities: LOW:HIGH:COUNT, so many values, evenly spaced, both ends included
  charge.fuel=methanol,ethanol 95      a list with commas, of any field; none takes an optional part away
With --samples, numbers have a range LOW:HIGH, both included, and all else a list to choose from."""


def read_vary(texts: list[str], sampled: bool) -> dict[str, list[object]]:
    """Read all `--vary` options, each PATH=VALUES by `GRAMMAR`; sampled numbers have ranges to draw from.

    >>> read_vary(["burner.jets.count=12:16:2", "charge.fuel=methanol, ethanol 95"], False)
    {'burner.jets.count': [12, 14, 16], 'charge.fuel': ['methanol', 'ethanol 95']}
    >>> read_vary(["burner.jets.diameter=0.5mm:1.2mm:8"], False)["burner.jets.diameter"][3]
    0.0008
    """
    from burnsim.studies.sweep.plan import is_numeric, spec_at

    found: dict[str, list[object]] = {}
    for text, path, values in _split(texts, OPTION):
        spec = spec_at(path)
        if ":" not in values or not is_numeric(spec):
            found[path] = [_one(part.strip(), spec, text) for part in values.split(",")]
        elif sampled:
            ends = values.split(":")
            if len(ends) != 2:
                raise InputError(OPTION, text, "is not LOW:HIGH", "a sampled range has no step and no count")
            whole = spec.dimension == "count"
            found[path] = [_integer(end, text) if whole else parse(end, spec.dimension, OPTION) for end in ends]
        else:
            found[path] = _whole(values, text) if spec.dimension == "count" else _quantities(values, spec, text)
        _check_range(found[path], spec, path, text)
        if sampled and is_numeric(spec) and len(found[path]) != 2:
            raise InputError(OPTION, text, "is not a range", "write LOW:HIGH, such as 0.5mm:1.2mm, with --samples")
    return found


def read_set(texts: list[str], option: str = "--set") -> dict[str, object]:
    """Read all `--set` options, each PATH=VALUE; a value in braces is a table of TOML. Errors name the option.

    >>> read_set(["pot=none", "burner.jets.count=24", "charge.fuel={ethanol=0.9, water=0.1}"])
    {'pot': None, 'burner.jets.count': 24, 'charge.fuel': {'ethanol': 0.9, 'water': 0.1}}
    >>> read_set(['burner.metal="titanium"', "charge.volume='30 ml'"])  # as a design file has it
    {'burner.metal': 'titanium', 'charge.volume': '30 ml'}
    """
    from burnsim.io.text_file import parse_toml
    from burnsim.studies.sweep.plan import spec_at

    found: dict[str, object] = {}
    for text, path, value in _split(texts, option):
        spec = spec_at(path)
        if value.startswith("{"):
            try:
                found[path] = parse_toml(f"table = {value}")["table"]
            except ValueError as error:
                raise InputError(option, text, f"is not a table: {error}", 'write {count=3, width="3 mm"}') from None
        else:
            found[path] = _one(value, spec, text, option)
    return found


def _split(texts: list[str], option: str) -> Iterator[tuple[str, str, str]]:
    """Each text with its path and what is said of it; no path comes twice."""
    many = option == OPTION
    seen: set[str] = set()
    for text in texts:
        path, equals, value = (part.strip() for part in text.partition("="))
        if not equals or not path or not value:
            example = "burner.jets.diameter=0.5mm:1.2mm:8" if many else "charge.volume='30 ml'"
            raise InputError(option, text, f"is not PATH={'VALUES' if many else 'VALUE'}", f"write it like {example}")
        if path in seen:
            does, remedy = ("varies", "give all its values in one list") if many else ("sets", "set it once")
            raise InputError(option, text, f"{does} {path} a second time", remedy)
        seen.add(path)
        yield text, path, value


def _one(part: str, spec: Spec, text: str, option: str = OPTION) -> object:
    """One value; the quotes of a design file about it do not count."""
    if len(part) > 2 and part[0] == part[-1] and part[0] in "\"'":
        part = part[1:-1].strip()
    if not part:
        raise InputError(option, text, "has an empty value", "leave out the comma that is too many")
    if part.casefold() == "none" and spec.optional:
        return None
    if spec.dimension == "count":
        return _integer(part, text, option)
    if spec.dimension == "flag":
        if part.casefold() not in FLAGS:
            raise InputError(option, text, f"has {part!r}, neither true nor false", "write true or false")
        return FLAGS[part.casefold()]
    return part


def _check_range(values: list[object], spec: Spec, path: str, text: str) -> None:
    """Refuse quantities that no design can have in a field, before any is burnt."""
    for value in values:
        number = value
        if isinstance(value, str) and spec.dimension in DIMENSIONS:
            with suppress(InputError):  # a charge that is weighed, or what is refused as the design is read
                number = parse(value, spec.dimension, OPTION)
        if isinstance(number, float) and not spec.low <= number <= spec.high:
            reaches = spelt(number, spec.dimension)
            raise InputError(
                OPTION, text, f"reaches {reaches}; {path} is {allowed(spec)}", "leave out what lies beyond"
            )


def _integer(part: str, text: str, option: str = OPTION) -> int:
    try:
        return int(part.strip())
    except ValueError:
        example = "12:48:2 or 12,16,20" if option == OPTION else "24"
        problem = f"has {part!r}, which is not a whole number"
        raise InputError(option, text, problem, f"write it like {example}") from None


def _whole(values: str, text: str) -> list[object]:
    numbers = [_integer(part, text) for part in values.split(":")]
    if len(numbers) > 3:
        raise InputError(OPTION, text, "is not START:STOP:STEP", "write it like 12:48:2")
    start, stop, step = (*numbers, 1) if len(numbers) == 2 else numbers
    if step == 0 or (stop - start) * step < 0:
        raise InputError(OPTION, text, "has a step that does not lead to its last number", "write it like 12:48:2")
    if abs(stop - start) // abs(step) >= MOST:
        raise InputError(OPTION, text, f"has more than {MOST} values", "use a longer step")
    return list(range(start, stop + (1 if step > 0 else -1), step))


def _quantities(values: str, spec: Spec, text: str) -> list[object]:
    parts = values.split(":")
    if len(parts) != 3:
        raise InputError(OPTION, text, "is not LOW:HIGH:COUNT", "write it like 0.5mm:1.2mm:8")
    low, high = (parse(part, spec.dimension, OPTION) for part in parts[:2])
    try:
        count = int(parts[2])
    except ValueError:
        count = 0
    if not 2 <= count <= MOST:
        raise InputError(
            OPTION, text, f"ends in {parts[2]!r}, which is not a count of values from 2 to {MOST}",
            "quantities have LOW:HIGH:COUNT, such as 0.5mm:1.2mm:8",
        )  # fmt: skip
    if not low < high:
        raise InputError(OPTION, text, "does not rise", "write LOW:HIGH:COUNT with LOW below HIGH")
    return [float(f"{value:.12g}") for value in np.linspace(low, high, count).tolist()]
