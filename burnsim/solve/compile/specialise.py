"""Write the physics text out for one number of components, ready for a compiler.

The balances are plain Python over records and named tuples, with loops and comprehensions over a blend's components. A
compiler wants tuples of known length. This room reads the very same source, follows every call from a few roots, and
writes one module in which the number of components is a number:

- `len(x)` and `p.components` become that number, branches on it are decided, loops over it are unrolled;
- comprehensions become tuples or sums, short lists become variables of their own;
- an unpacking `a, b = row` becomes indexing, since the parameters' rows are arrays there;
- records become named tuples, which a compiler takes apart;
- constants become literals; annotations, docstrings and decorators go.

Nothing else changes: every operation stays in its order, so that both texts give the same numbers.
"""

import ast
import inspect
import textwrap
from collections.abc import Callable, Sequence
from dataclasses import fields
from types import FunctionType

import numpy as np
from numpy.typing import NDArray

from burnsim.solve.compile.function_text import PACKAGE, FunctionText


def module_text(roots: Sequence[Callable[..., object]], components: int) -> str:
    """Source of a module with the roots and all that they call.

    Parameters
    ----------
    roots : functions of the physics text or of the compiled march
    components : of the blend

    Returns
    -------
    str
        Every function is decorated with `compiled`, which the text does not define; named tuples are imported, records
        written as such.

    Raises
    ------
    TypeError
        If a function uses what cannot be written out (the message names function and line).
    """
    writer = Writer(components)
    for root in roots:
        if isinstance(root, FunctionType):
            writer.add(root)
    tables = [f"{name} = np.array({table.tolist()!r})" for name, table in writer.tables.items()]
    named = [kind for kind in writer.classes.values() if issubclass(kind, tuple)]
    imports = [f"from {kind.__module__} import {kind.__name__}" for kind in named]
    records = [
        f"{name} = namedtuple({name!r}, {names_of(kind)!r})"
        for name, kind in writer.classes.items()
        if kind not in named
    ]
    used = [f"from math import {name}" for name in sorted(writer.maths)]
    heading = ["from collections import namedtuple", *used, "", "import numpy as np", *sorted(imports)]
    return "\n".join([*heading, "", *sorted(records), *tables, "", *writer.texts]) + "\n"


def names_of(kind: type) -> list[str]:
    """The fields of a record's class."""
    return [field.name for field in fields(kind)]


class Writer:
    """Functions written so far, in the order in which they must stand."""

    def __init__(self, components: int) -> None:
        self.components = components
        self.names: dict[FunctionType, str] = {}
        self.classes: dict[str, type] = {}
        self.maths: set[str] = set()
        self.tables: dict[str, NDArray[np.float64]] = {}
        self.texts: list[str] = []

    def add(self, function: FunctionType) -> str:
        """Write a function, and before it those it calls; its name there."""
        if function in self.names:
            return self.names[function]
        name = f"{function.__module__.removeprefix(PACKAGE + '.').replace('.', '_')}_{function.__name__}"
        self.names[function] = name
        tree = ast.parse(textwrap.dedent(inspect.getsource(function)))
        body = tree.body[0]
        if not isinstance(body, ast.FunctionDef):
            raise TypeError(f"{function.__qualname__} is not a plain function")
        written = FunctionText(self, function, body).written(name)
        self.texts.append("@compiled\n" + ast.unparse(written) + "\n")
        return name
