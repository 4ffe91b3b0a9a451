"""The machine text: what it does is what Python does, to the last bit, and what it cannot do it refuses."""

import ast
import inspect
import math
import random
import struct
import textwrap
from collections.abc import Callable
from typing import Any, NamedTuple

import numpy as np
import pytest

from burnsim.solve.compile.expressions import MATHEMATICS, Refusal, Written
from burnsim.solve.compile.kinds import kind_of, words_of
from burnsim.solve.compile.machine import entry_of, host, object_code
from burnsim.solve.compile.machine_text import machine_module


class Spot(NamedTuple):
    """A record."""

    x: float
    y: float
    z: float = 3.0


class Wide(NamedTuple):
    """A record of more values than are passed one by one."""

    a: float
    row: tuple[float, float, float, float, float, float]
    spot: Spot


TABLE = np.array([[1.0, 2.0, 4.0], [8.0, 16.0, 32.0]])


def cell(k, j):
    return TABLE[k, j]


def stretched(spot, by=2.0):
    return Spot(spot.x * by, y=spot.y * by)


def summed(wide):
    total = 0.0
    for k in range(6):
        total += wide.row[k] * (k + 1)
    return total + wide.spot.x - wide.spot.z / wide.a


def widened(wide, more):
    wide = Wide(wide.a + more, wide.row, stretched(wide.spot, more))
    more = 0.5 * more
    return Wide(wide.a + more, wide.row, wide.spot)


def arithmetic(x, y, out):
    out[0] = x + y * 3 - 7 / y
    out[1] = -x
    out[2] = x / 2 + 5 / 2
    out[3] = abs(x) ** 0.3 + x**2
    out[4] = max(x, y, 0) + min(x, 1, y)
    out[5] = float(3) + int(x * 10.0)
    out[6] += out[7] * 2.0
    out[7] -= 1
    return 0


def decisions(x, y, out):
    out[0] = 1.0 if x < y else 2.0
    out[1] = 1.0 if 0.0 <= x < y <= 2.0 else 2.0
    out[2] = 1.0 if x > y and (y > 0.0 or x > 1.0) else 2.0
    out[3] = 1.0 if not (x > 0.0 or y > 0.0) else 2.0
    out[4] = 1.0 if math.isfinite(x / y) else 2.0
    kept = x > 0.0 and y > 0.0
    if kept:
        out[5] = 7
    elif x == y:
        out[5] = 8
    else:
        out[5] = 9
    code = 3 if x > y else 4
    out[6] = (1.0 if code in (1, 2 + 2) else 2.0) + (4.0 if code not in (3, 5) else 8.0)
    out[7] = 1.0 if bool(out[6] - 1.0) else 2.0
    return code


def loops(x, y, out):
    count = 0
    for k in range(8):
        if k == 2:
            continue
        if k == 6:
            break
        out[k] = x * k
        count += 1
    size = out.size
    for j in range(1, size - 1):
        out[j] = out[j] + out[j - 1]
    while True:
        x = 0.5 * x
        count = count + 1
        if abs(x) < 0.01 or count > 40:
            break
    while y > 0.1 and count < 60:
        y = 0.25 * y
        count += 2
    out[-1] = y
    return count


def groups(x, y, out):
    spot = Spot(x, y)
    left, right = (spot, stretched(spot))
    wide = Wide(x, (x, y, 1.0, 2.0, x * y, 5.0), left)
    out[0] = summed(wide)
    out[1] = summed(widened(wide, y + 3.0))
    out[2] = right.z + right[0] - stretched(right, by=0.5).y
    chosen = left if x > y else right
    out[3] = chosen.x + chosen.y
    pair = ((1.0, x), (y, 4.0))
    for k in range(2):
        out[4 + k] = pair[k][1] + wide.row[k + 1]
    wide = widened(wide, 2.0)
    out[6] = wide.spot.x
    out[7] = cell(1, 2) + cell(0, int(abs(x)) + 0)
    return 0


def filled(row, by):
    for k in range(row.size):
        row[k] = row[k] * by


def arrays(x, y, out):
    filled(out[2:5], x)
    filled(out[:2], y)
    total = 0
    for k in range(out.shape[0]):
        total += out[k]
    out[7] = total
    return 0


def late(x, y, out):
    step = 0
    for k in range(4):
        if k > 1:
            step = x
    out[0] = step
    return 1 if x > y else 0


def mathematics(x, y, out):
    a = abs(x) + 0.1
    out[0] = math.exp(-a) + math.log(a)
    out[1] = math.log1p(a) + math.expm1(-a)
    out[2] = math.tanh(x) + math.sinh(y)
    out[3] = math.cosh(x)
    out[4] = math.cbrt(a)
    out[5] = math.sqrt(a) + math.pow(a, 0.75)
    return 0


HELPERS = [cell, stretched, summed, widened, filled]
LAWS = [arithmetic, decisions, loops, groups, arrays, late, mathematics]


def tree_of(function: Callable[..., object]) -> ast.FunctionDef:
    """A function as `written_out` would give it: nothing of modules is left."""
    tree = ast.parse(textwrap.dedent(inspect.getsource(function)).replace("math.", "")).body[0]
    assert isinstance(tree, ast.FunctionDef)
    return tree


def written(*functions: Callable[..., object]) -> Written:
    return Written({f.__name__: tree_of(f) for f in functions}, {"Spot": Spot, "Wide": Wide}, {"TABLE": TABLE})


def compiled(law: Callable[..., object], *arguments: Any, inline: bool) -> Callable[..., int]:
    text = machine_module(written(*HELPERS, law), law.__name__, arguments, lambda name: inline)
    *_, code = object_code(text)
    entry = entry_of(code)

    def run(*given: Any) -> int:
        words = words_of(given)
        row = struct.pack("".join(["d" if isinstance(word, float) else "q" for word in words]), *words)
        return entry(np.frombuffer(row).ctypes.data)

    return run


@pytest.mark.parametrize("inline", [True, False])
@pytest.mark.parametrize("law", LAWS)
def test_machine_code_gives_what_python_gives(law: Callable[..., object], inline: bool) -> None:
    run = compiled(law, 0.0, 0.0, np.zeros(8), inline=inline)
    draw = random.Random(4)
    for _ in range(50):
        x, y = draw.uniform(-2.0, 2.0), draw.uniform(-2.0, 2.0)
        given = np.array([draw.uniform(-1.0, 1.0) for _ in range(8)])
        by_python, by_machine = given.copy(), given.copy()
        assert run(x, y, by_machine) == law(x, y, by_python)
        assert by_machine.tolist() == by_python.tolist()


def rows(table, out):
    for k in range(table.shape[0]):
        row = table[k]
        for j in range(row.size):
            out[k] += row[j]
        row[0] = 0.0
    return table.size


def test_rows_of_an_array_are_that_array() -> None:
    table = np.arange(6.0).reshape(3, 2)
    out = np.zeros(3)
    assert compiled(rows, table, out, inline=False)(table, out) == 6
    assert out.tolist() == [1.0, 5.0, 9.0]
    assert table.tolist() == [[0.0, 1.0], [0.0, 3.0], [0.0, 5.0]]


def named(record, spot, out):
    out[0] = record[0].inner.a + record[0].table[1][0] + spot.y
    return record[0].count


def test_records_in_memory_are_read_by_name() -> None:
    layout = np.dtype([("count", np.int64), ("inner", [("a", np.float64)]), ("table", np.float64, (2, 2))])
    record = np.zeros(1, layout)
    record["count"], record["inner"]["a"], record["table"] = 5, 0.25, [[1.0, 2.0], [3.0, 4.0]]
    out = np.zeros(1)
    spot = Spot(1.0, 10.0)
    assert compiled(named, record, spot, out, inline=True)(record, spot, out) == 5
    assert out[0] == 13.25


def unknown(x, y, out):
    out[0] = math.gamma(x)
    return 0


def worded(x, y, out):
    out[0] = "x"
    return 0


def mixed(x, y, out):
    pair = (x, y)
    pair = 1.0
    out[0] = pair
    return 0


def indexed_by_floats(x, y, out):
    out[0] = out[x]
    return 0


def one_or_two(x, y, out):
    if x > y:
        return 1
    return (1, 2)


def gives_a_float(x, y, out):
    return x


@pytest.mark.parametrize("law", [unknown, worded, mixed, indexed_by_floats, one_or_two, gives_a_float])
def test_what_has_no_machine_text_is_refused_by_name(law: Callable[..., object]) -> None:
    with pytest.raises(Refusal, match=law.__name__):
        machine_module(written(law), law.__name__, (1.0, 1.0, np.zeros(8)), lambda name: True)


def test_arguments_that_do_not_fit_are_refused() -> None:
    with pytest.raises(TypeError, match="cannot be passed"):
        kind_of("x")
    with pytest.raises(ValueError, match="dense"):
        words_of(np.zeros((4, 4))[:, 0])


def test_every_function_of_the_library_is_one_of_pythons() -> None:
    for name, count in MATHEMATICS.items():
        assert isinstance(getattr(math, name)(*[0.5] * count), float)


def test_the_host_is_named_in_full() -> None:
    assert all(host())
