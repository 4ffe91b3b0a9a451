"""The writer of compiled functions: what it writes gives what Python gives, and what it cannot write it refuses."""

import math
from collections.abc import Callable
from types import FunctionType
from typing import Any, NamedTuple

import numpy as np
import pytest

from burnsim.records import record
from burnsim.solve.compile.specialise import Writer, written_out
from burnsim.units import plain
from tests.solve.written_text import python_of

TABLE = np.array([2.0, 3.0, 5.0])
PAIR = (0.25, 4.0)


@record
class Row:
    """A record, which becomes a named tuple."""

    moles: tuple[float, float]
    heat: float


class Mark(NamedTuple):
    """A named tuple, which stays one."""

    at: float


def appended(x: tuple[float, float], a: float) -> tuple[float, ...]:
    """A short list that grows."""
    parts = [a]
    for i in range(len(x)):
        parts.append(a * x[i])
    return (*parts, sum(parts))


def counted(x: tuple[float, float], a: float) -> float:
    """Decisions on the number of components, and loops over their values."""
    n = len(x)
    total = 0.0
    if n == 1:
        total = -1e9
    elif n > 1:
        for value in x:
            total += value * a
    half = n * 2 - 1
    for k in range(half):
        total += a**k
    return total if n > 0 else math.nan


def looked_up(x: tuple[float, float], a: float) -> float:
    """Tables, constants, functions of `math`, and a loop with a way out."""
    low, high = PAIR
    share: float
    share = math.cbrt(a) * TABLE[2] + PAIR[1]
    while share > high:
        share -= low
        if share < 6.0:
            break
        continue
    return share + math.exp(-x[0]) + max(TABLE[0], -x[1])


def recorded(x: tuple[float, float], a: float) -> float:
    """Records and named tuples, made and read."""
    row: Row = Row(moles=x, heat=a)
    first, second = row.moles
    return first - second + row.heat * Mark(a).at


def unpacked(x: tuple[float, float], a: float) -> float:
    """A tuple taken apart, and a value written to one element of an array."""
    left, right = x
    store = np.zeros(2)
    store[0] = left * a
    store[1] += right
    return store[0] - store[1]


@pytest.mark.parametrize("law", [appended, counted, looked_up, recorded, unpacked])
@pytest.mark.parametrize("a", [0.5, 1.0, 7.0])
def test_the_text_gives_what_the_function_gives(law: Callable[..., object], a: float) -> None:
    made = python_of(law, 2)["root"]
    assert made((0.3, 0.7), a) == pytest.approx(law((0.3, 0.7), a), rel=1e-15)


def lists_keywords(x: tuple[float, float]) -> float:
    return sorted(x, reverse=True)[0]


def loops_with_else(x: tuple[float, float]) -> float:
    for value in x:
        if value > 1e9:
            break
    else:
        return 0.0
    return 1.0


def repeats_with_else(x: tuple[float, float]) -> float:
    a = x[0]
    while a > 1.0:
        a -= 1.0
        if a > 1e9:
            break
    else:
        a += 1.0
    return a


def takes_pairs(x: tuple[float, float]) -> float:
    total = 0.0
    for k, value in enumerate(x):
        total += k * value
    return total


def filters(x: tuple[float, float]) -> float:
    return sum([value for value in x if value > 0.5])


def raises(x: tuple[float, float]) -> float:
    raise ValueError(x)


def states(x: tuple[float, float]) -> float:
    x  # noqa: B018
    return x[0]


def writes_fields(x: Any) -> float:
    x.heat = 1.0
    return 0.0


def adds_to_fields(x: Any) -> float:
    x.heat += 1.0
    return 0.0


def changes_the_unknown(x: tuple[float, float]) -> Any:
    return x._replace(heat=1.0)  # type: ignore[attr-defined]


def looks_up_by_word(x: tuple[float, float]) -> float:
    return {"a": x[0]}["a"]


def uses_the_unknown(x: tuple[float, float]) -> float:
    return nowhere(x)  # type: ignore[name-defined]  # noqa: F821


def borrows(x: tuple[float, float]) -> float:
    return pytest.approx(x[0])


REFUSED = [
    lists_keywords,
    loops_with_else,
    repeats_with_else,
    takes_pairs,
    filters,
    raises,
    states,
    writes_fields,
    adds_to_fields,
    changes_the_unknown,
    looks_up_by_word,
    uses_the_unknown,
]


@pytest.mark.parametrize("law", REFUSED)
def test_what_cannot_be_written_is_refused_by_name_and_line(law: FunctionType) -> None:
    first = law.__code__.co_firstlineno
    with pytest.raises(TypeError, match=rf"{law.__name__}, line (\d+): .* cannot be compiled") as caught:
        written_out(law, 2)
    line = int(plain(str(caught.value)).split("line ")[1].split(":")[0])
    assert first < line <= first + 6


def test_a_function_of_another_package_is_refused() -> None:
    with pytest.raises(TypeError, match=r"borrows: .* cannot be compiled"):
        written_out(borrows, 2)


UNNAMED = {"law": lambda x: x}


def test_what_is_no_plain_function_is_refused() -> None:
    with pytest.raises(TypeError, match="not a plain function"):
        written_out(UNNAMED["law"], 1)


def test_two_tables_of_one_name_are_refused() -> None:
    writer = Writer(2)
    writer.tables["TABLE"] = np.array([1.0])
    with pytest.raises(TypeError, match="two tables are called TABLE"):
        writer.add(looked_up)
