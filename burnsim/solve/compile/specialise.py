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
from collections.abc import Callable
from types import FunctionType

import numpy as np
from numpy.typing import NDArray

from burnsim.solve.compile.expressions import Written
from burnsim.solve.compile.function_text import PACKAGE, FunctionText


def written_out(root: Callable[..., object], components: int) -> tuple[str, Written]:
    """A function and all that it calls, written out for a compiler.

    Parameters
    ----------
    root : a function of the physics text or of the march
    components : of the blend

    Returns
    -------
    (its name there, the functions with what they use)

    Raises
    ------
    TypeError
        If a function uses what cannot be written out (the message names function and line).
    """
    if not isinstance(root, FunctionType):
        raise TypeError(f"{root!r} is not a plain function")
    writer = Writer(components)
    name = writer.add(root)
    return name, Written(writer.functions, writer.classes, writer.tables)


class Writer:
    """Functions written so far, in the order in which they must stand."""

    def __init__(self, components: int) -> None:
        self.components = components
        self.names: dict[FunctionType, str] = {}
        self.classes: dict[str, type] = {}
        self.maths: set[str] = set()
        self.tables: dict[str, NDArray[np.float64]] = {}
        self.functions: dict[str, ast.FunctionDef] = {}

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
        self.functions[name] = FunctionText(self, function, body).written(name)
        return name
