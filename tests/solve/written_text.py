"""The written text as Python runs it, to compare with what it was written from."""

import ast
import math
from collections import namedtuple
from collections.abc import Callable
from dataclasses import fields
from typing import Any

import numpy as np

from burnsim.solve.compile.specialise import written_out


def python_of(root: Callable[..., object], components: int) -> dict[str, Any]:
    """All functions that a root reaches, written out, by their names there; the root itself as "root"."""
    name, written = written_out(root, components)
    space: dict[str, Any] = {**vars(math), "np": np, **written.tables}
    for word, kind in written.classes.items():
        space[word] = kind if issubclass(kind, tuple) else namedtuple(word, [field.name for field in fields(kind)])
    for function in written.functions.values():
        exec(compile(ast.unparse(function), "written", "exec"), space)
    space["root"] = space[name]
    return space
