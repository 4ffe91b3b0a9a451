"""Records of what the laws find.

A burn makes some 36 000 of them, so they have slots: a named tuple is read in two to three times the time and takes up
to twice as long to make. They are frozen for the type checker alone: a frozen data class takes three to six times as
long to make (Python 3.11 and 3.13). The compiled march has them as named tuples (`burnsim.solve.compile.specialise`).
"""

import ast
import linecache
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, fields, is_dataclass
from functools import cache
from types import CodeType, FunctionType
from typing import Any, TypeVar, dataclass_transform

T = TypeVar("T")
Text = TypeVar("Text", bound=Callable[..., Any])


@dataclass_transform(frozen_default=True, field_specifiers=(field,))
def record(cls: type[T]) -> type[T]:
    """Make a class of annotated fields a record, built from their values.

    >>> @record
    ... class Spot:
    ...     x: float
    ...     y: float
    >>> Spot(1.0, 2.0)
    Spot(x=1.0, y=2.0)
    """
    return dataclass(slots=True)(cls)


def by_slots(function: Text) -> Text:
    """Let a function fill the slots of the records that it returns, as `return Spot(x=1.0, y=2.0)` asks.

    The function is compiled anew from its own text, once, when its module is imported; its lines keep their numbers.
    Any other call of a record with keywords in it becomes one in order. A `TypeError` if a record is made with keywords
    that are not its fields, all of them and in their order.
    """
    if not isinstance(function, FunctionType):
        raise TypeError(f"{function!r} is not a plain function")
    code = function.__code__
    lines = linecache.getlines(code.co_filename, function.__globals__)
    if not lines:  # no text came with the package: the same, but slower
        return function
    first = next(k for k in range(code.co_firstlineno - 1, len(lines)) if lines[k].startswith("def "))
    header = next(k for k in range(first, len(lines)) if lines[k].rstrip().endswith(":"))
    after = next((k for k in range(header + 1, len(lines)) if lines[k][0] not in " \n"), len(lines))
    tree = ast.parse("\n" * first + "".join(lines[first:after]))
    _Slots(function).visit(tree)
    space: dict[str, Any] = {}
    exec(compile(tree, code.co_filename, "exec"), function.__globals__, space)
    return space[function.__name__]  # type: ignore[no-any-return]  # it has the type of the one that it replaces


def written(text: str, module: str, space: dict[str, Any]) -> Any:
    """A function made of a text that was put together, which can be read and followed like any other's.

    It is of the module in whose name it is made, and sees the names of the space.
    """
    name = text.split("(", maxsplit=1)[0].removeprefix("def ")
    file = f"<{module}.{name}>"
    linecache.cache[file] = (len(text), None, text.splitlines(keepends=True), file)
    space.setdefault("__name__", module)
    found: dict[str, Any] = {}
    exec(compile(text, file, "exec"), space, found)
    return by_slots(found[name])


def like_another(signature: str, kind: type, changed: Mapping[str, str], module: str, space: dict[str, Any]) -> Any:
    """A function that gives a record like its first argument, but for some entries.

    `changed` holds the text of each entry that differs; the rest is as in `written`.

    >>> @record
    ... class Spot:
    ...     x: float
    ...     y: float
    >>> raised = like_another("raised(spot, rise)", Spot, {"y": "spot.y + rise"}, __name__, {"Spot": Spot})
    >>> raised(Spot(1.0, 2.0), 3.0)
    Spot(x=1.0, y=5.0)
    """
    body = signature.partition("(")[2].partition(",")[0]
    values = ", ".join(f"{one.name}={changed.get(one.name, f'{body}.{one.name}')}" for one in fields(kind))
    return written(f"def {signature}:\n    return {kind.__name__}({values})\n", module, space)


def put_off(name: str, parameters: Sequence[str], module: str, make: Callable[[], tuple[str, dict[str, Any]]]) -> Any:
    """A function whose text takes long to put together: that is done when it is first called, or read.

    `make` gives its text, and the names that it sees.
    """
    file = f"{module}.{name}"
    space: dict[str, Any] = {"__name__": module}

    @cache
    def text() -> str:
        made, names = make()
        space.update(names)
        return made

    def code(text: str) -> CodeType:
        found: dict[str, Any] = {}
        exec(compile(text, file, "exec"), space, found)
        whole: CodeType = found[name].__code__
        return whole

    def first(*arguments: Any) -> Any:
        function.__code__ = code(text())
        return function(*arguments)

    linecache.cache[file] = (text,)  # asked by whoever reads it
    space["_first"] = first
    given = ", ".join(parameters)
    function = FunctionType(code(f"def {name}({given}):\n    return _first({given})"), space)
    return function


def in_order(kind: type, call: ast.Call) -> list[ast.expr]:
    """The values with which a call makes a record or a named tuple, in the order of its fields.

    A `TypeError` if they are not its fields, from the first on, each once and in order.
    """
    names = [field.name for field in fields(kind)] if is_dataclass(kind) else list(vars(kind)["_fields"])
    given = [keyword.arg for keyword in call.keywords]
    begin = len(call.args)
    if given != names[begin : begin + len(given)] or (is_dataclass(kind) and begin + len(given) != len(names)):
        raise TypeError(f"{kind.__name__} is made with {', '.join(names)}, in this order; given were {given}")
    return [*call.args, *(keyword.value for keyword in call.keywords)]


class _Slots(ast.NodeTransformer):
    """Calls that make records with keywords, written so that no keywords are left."""

    def __init__(self, function: FunctionType) -> None:
        self.space = function.__globals__

    def kind(self, node: ast.AST | None) -> type | None:
        """The record that a call with keywords makes; None for anything else."""
        if not (isinstance(node, ast.Call) and node.keywords and isinstance(node.func, ast.Name)):
            return None
        found = self.space.get(node.func.id)
        return found if isinstance(found, type) and (is_dataclass(found) or issubclass(found, tuple)) else None

    def visit_Call(self, node: ast.Call) -> ast.Call:
        """A call of a record, its values in order."""
        kind = self.kind(node)
        if kind is not None:
            node.args, node.keywords = in_order(kind, node), []
        self.generic_visit(node)
        return node

    def visit_Return(self, node: ast.Return) -> ast.Return | list[ast.stmt]:
        """The record that a function returns, made empty and filled slot by slot."""
        call = node.value
        kind = self.kind(call)
        if kind is None or not isinstance(call, ast.Call) or not is_dataclass(kind):
            self.generic_visit(node)
            return node
        in_order(kind, call)
        made = ast.parse(f"_made = object.__new__({kind.__name__})").body
        for keyword in call.keywords:
            slot = ast.Attribute(ast.Name("_made", ast.Load()), keyword.arg or "", ast.Store())
            made.append(ast.Assign([slot], self.visit(keyword.value)))
        made.append(ast.Return(ast.Name("_made", ast.Load())))
        places = [node, *(keyword.value for keyword in call.keywords), node]
        return [
            ast.fix_missing_locations(ast.copy_location(line, place)) for line, place in zip(made, places, strict=True)
        ]
