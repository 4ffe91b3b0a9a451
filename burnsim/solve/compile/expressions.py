"""Expressions of the written text as machine text: each becomes the names of the values that it is made of."""

import ast
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, Protocol

import numpy as np
from numpy.typing import NDArray

from burnsim.solve.compile.kinds import (
    FLOAT,
    TRUTH,
    WHOLE,
    Block,
    Group,
    Kind,
    Memory,
    Value,
    grouped,
    joint,
    lengths,
    machine_types,
    part,
)
from burnsim.solve.compile.lines import Lines, Slot, float_literal, whole

MATHEMATICS = {
    "exp": 1,
    "log": 1,
    "log1p": 1,
    "expm1": 1,
    "tanh": 1,
    "sinh": 1,
    "cosh": 1,
    "cbrt": 1,
    "erf": 1,
    "pow": 2,
}
"""Functions of the C library that the text may call, as `math` calls them, and how many numbers each takes.

Not `hypot`: Python has one of its own, which differs in the last bit.
"""
INTRINSIC = {"sqrt": "llvm.sqrt.f64", "fabs": "llvm.fabs.f64"}
ARITHMETIC = {ast.Add: ("fadd", "add"), ast.Sub: ("fsub", "sub"), ast.Mult: ("fmul", "mul")}
COMPARED = {
    ast.Lt: ("olt", "slt"),
    ast.LtE: ("ole", "sle"),
    ast.Gt: ("ogt", "sgt"),
    ast.GtE: ("oge", "sge"),
    ast.Eq: ("oeq", "eq"),
    ast.NotEq: ("une", "ne"),
}
NEVER_WRITTEN = ", !invariant.load !0"


class Refusal(TypeError):
    """Text that has no machine text."""


@dataclass(frozen=True)
class Written:
    """What is to be compiled: functions, the classes of records, and tables of constants, by their names."""

    functions: Mapping[str, ast.FunctionDef]
    classes: Mapping[str, type]
    tables: Mapping[str, NDArray[np.float64]]


class Unit(Protocol):
    """The module that a function stands in."""

    written: Written
    maths: dict[str, int]

    def function(self, name: str, kinds: tuple[Kind, ...]) -> tuple[str, Kind]:
        """A function for arguments of these kinds: its name in the machine text, and the kind of what it gives."""
        ...


class Expressions:
    """The expressions of one function."""

    def __init__(self, unit: Unit, tree: ast.FunctionDef) -> None:
        self.unit = unit
        self.tree = tree
        self.lines = Lines()
        self.slots: dict[str, Slot] = {}
        self.values: dict[str, Value] = {}  # arguments to which nothing is assigned

    # conditions

    def decide(self, node: ast.expr, one: str, other: str) -> None:
        """Go to one block if a condition holds, else to the other; no more of it is looked at than is needed."""
        if isinstance(node, ast.BoolOp):
            for test in node.values[:-1]:
                following = self.lines.fresh("test")
                ways = (following, other) if isinstance(node.op, ast.And) else (one, following)
                self.decide(test, *ways)
                self.lines.open(following)
            self.decide(node.values[-1], one, other)
        elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
            self.decide(node.operand, other, one)
        elif isinstance(node, ast.Constant):
            self.lines.jump(one if node.value else other)
        else:
            self.lines.fork(self.truth(self.expression(node)), one, other)

    def truth(self, value: Value) -> str:
        """Whether a number is not zero."""
        if value.kind == TRUTH:
            return value.leaves[0]
        if value.kind == WHOLE:
            return self.lines.get(f"icmp ne i64 {value.leaves[0]}, 0")
        return self.lines.get(f"fcmp une double {self.lines.floated(value)}, 0.0")

    def chosen(self, test: ast.expr, one: Callable[[], Value], other: Callable[[], Value]) -> Value:
        """One of two values."""
        lines = self.lines
        then, orelse, after = [lines.fresh(what) for what in ("then", "else", "after")]
        self.decide(test, then, orelse)
        found = []
        for label, way in ((then, one), (orelse, other)):
            lines.open(label)
            found.append((way(), lines.block))
            lines.jump(after)
        lines.open(after)
        (a, from_a), (b, from_b) = found
        kind = joint(a.kind, b.kind)
        if kind is None:
            raise Refusal(f"{self.tree.name}: a choice between {a.kind} and {b.kind}")
        pairs = zip(a.leaves, b.leaves, machine_types(a.kind), machine_types(b.kind), machine_types(kind), strict=True)
        leaves = []
        for x, y, type_x, type_y, wanted in pairs:
            left, right = self.literal(x, type_x, wanted), self.literal(y, type_y, wanted)
            leaves.append(
                left if left == right else lines.get(f"phi {wanted} [{left}, %{from_a}], [{right}, %{from_b}]")
            )
        return Value(kind, tuple(leaves))

    def literal(self, leaf: str, given: str, wanted: str) -> str:
        """A leaf as it stands, or the float of a whole number that is known here."""
        if given == wanted:
            return leaf
        number = whole(leaf)
        if number is None:
            raise Refusal(f"{self.tree.name}: a choice between a whole number and a float")
        return float_literal(float(number))

    # expressions

    def expression(self, node: ast.expr) -> Value:
        """The value of an expression."""
        writers: dict[type[ast.expr], Callable[[Any], Value]] = {
            ast.Constant: self.constant,
            ast.Name: self.name,
            ast.Attribute: self.attribute,
            ast.Subscript: self.subscript,
            ast.Call: self.call,
            ast.Tuple: lambda each: grouped([self.expression(one) for one in each.elts]),
            ast.IfExp: lambda each: self.chosen(
                each.test, lambda: self.expression(each.body), lambda: self.expression(each.orelse)
            ),
            ast.BinOp: lambda each: self.combined(
                each, each.op, self.expression(each.left), self.expression(each.right)
            ),
            ast.UnaryOp: self.unary,
            ast.BoolOp: self.condition,
            ast.Compare: self.comparison,
        }
        if (write := writers.get(type(node))) is None:
            raise self.refusal(node)
        return write(node)

    def constant(self, node: ast.Constant) -> Value:
        """A number written out."""
        if isinstance(node.value, bool):
            return Value(TRUTH, ("true" if node.value else "false",))
        if isinstance(node.value, int):
            return Value(WHOLE, (str(node.value),))
        if isinstance(node.value, float):
            return Value(FLOAT, (float_literal(node.value),))
        raise self.refusal(node)

    def place(self, node: ast.expr) -> Slot | None:
        """Memory in which a value stands, where it is a local variable or a part of one."""
        if isinstance(node, ast.Name):
            return self.slots.get(node.id)
        if isinstance(node, ast.Attribute | ast.Subscript):
            outer = self.place(node.value)
            if outer is None or not isinstance(outer.kind, Group):
                return None
            if isinstance(node, ast.Attribute):
                index = outer.kind.names.index(node.attr)
            elif isinstance(node.slice, ast.Constant) and isinstance(node.slice.value, int):
                index = node.slice.value
            else:
                return None
            return Slot(*part(Value(outer.kind, outer.places), index))
        return None

    def name(self, node: ast.Name) -> Value:
        """A local variable, an argument or a table."""
        if node.id in self.slots:
            return self.lines.read(self.slots[node.id])
        if node.id in self.values:
            return self.values[node.id]
        if node.id in self.unit.written.tables:
            return Value(Block(self.unit.written.tables[node.id].shape, fixed=True), (f"@{node.id}",))
        raise self.refusal(node)

    def attribute(self, node: ast.Attribute) -> Value:
        """A field of a record; the size or shape of an array."""
        if (slot := self.place(node)) is not None:
            return self.lines.read(slot)
        owner = self.expression(node.value)
        if isinstance(owner.kind, Group):
            return part(owner, owner.kind.names.index(node.attr))
        if isinstance(owner.kind, Memory):
            return self.field(owner, node.attr)
        if isinstance(owner.kind, Block) and node.attr in ("size", "shape"):
            axes = lengths(owner)
            if node.attr == "shape":
                return grouped([Value(WHOLE, (axis,)) for axis in axes])
            return Value(WHOLE, (axes[0] if len(axes) == 1 else self.lines.product(*axes),))
        raise self.refusal(node)

    def field(self, owner: Value, name: str) -> Value:
        """A field of a record in memory."""
        if not isinstance(owner.kind, Memory) or owner.kind.layout.fields is None:
            raise Refusal(f"{self.tree.name}: {owner.kind} has no field {name!r}")
        layout, offset = owner.kind.layout.fields[name][:2]
        place = self.lines.get(f"getelementptr i8, ptr {owner.leaves[0]}, i64 {offset}")
        if layout.names is not None:
            return Value(Memory(layout), (place,))
        if layout.subdtype is not None:
            return Value(Block(layout.shape, fixed=True), (place,))
        kind = WHOLE if layout.kind == "i" else FLOAT
        return Value(kind, (self.lines.get(f"load {kind.machine}, ptr {place}{NEVER_WRITTEN}"),))

    def subscript(self, node: ast.Subscript) -> Value:
        """An element or a row of an array, or one of a group's values."""
        if (slot := self.place(node)) is not None:
            return self.lines.read(slot)
        plain = isinstance(node.slice, ast.Constant | ast.Tuple | ast.Slice)
        if not plain and (row := self.room(node.value)) is not None:
            return self.picked(node, row)
        owner = self.expression(node.value)
        if isinstance(owner.kind, Group) and isinstance(node.slice, ast.Constant) and type(node.slice.value) is int:
            return part(owner, node.slice.value)
        if isinstance(owner.kind, Memory):
            return owner  # the one record of a row of one
        return self.piece(node, owner)

    def piece(self, node: ast.Subscript, owner: Value) -> Value:
        """An element, a row or a stretch of an array."""
        if not isinstance(owner.kind, Block):
            raise self.refusal(node)
        if isinstance(node.slice, ast.Slice):
            return self.stretch(owner, node.slice)
        if isinstance(node.slice, ast.Tuple) or len(owner.kind.shape) == 1:
            never = NEVER_WRITTEN if owner.kind.fixed else ""
            return Value(FLOAT, (self.lines.get(f"load double, ptr {self.element(node, owner)}{never}"),))
        axes = lengths(owner)
        start = self.lines.product(self.index(node.slice, axes[0]), axes[1])
        inner = Block(owner.kind.shape[1:], owner.kind.fixed)
        return Value(inner, (self.lines.shifted(owner.leaves[0], start), *([] if inner.shape[0] else [axes[1]])))

    def room(self, node: ast.expr) -> Slot | None:
        """Memory in which the value of a group stands; None if it is no group."""
        slot = self.place(node)
        if slot is None:
            value = self.expression(node)
            if isinstance(value.kind, Group):
                slot = self.lines.slot(value.kind)
                self.lines.keep(slot, value)
        return slot if slot is not None and isinstance(slot.kind, Group) else None

    def picked(self, node: ast.Subscript, row: Slot) -> Value:
        """One of a group's equal values, by an index that is known only as it runs."""
        group = row.kind
        if not isinstance(group, Group) or len(set(group.parts)) != 1:
            raise self.refusal(node)
        kind = group.parts[0]
        wide = len(machine_types(kind))
        index = self.index(node.slice, str(len(group.parts)))
        start = self.lines.shifted(row.places[0], self.lines.product(index, str(wide)))
        return self.lines.read(Slot(kind, tuple([self.lines.shifted(start, str(k)) for k in range(wide)])))

    def index(self, node: ast.expr, length: str) -> str:
        """The place that an index means; a negative literal counts from the end."""
        value = self.expression(node)
        if value.kind != WHOLE:
            raise self.refusal(node)
        number = whole(value.leaves[0])
        if number is not None and number < 0:
            return self.lines.whole_result("add", length, value.leaves[0])
        return value.leaves[0]

    def stretch(self, owner: Value, node: ast.Slice) -> Value:
        """Some elements of an array, one after the other."""
        if node.step is not None or not isinstance(owner.kind, Block) or len(owner.kind.shape) != 1:
            raise self.refusal(node)
        (size,) = lengths(owner)
        low = "0" if node.lower is None else self.index(node.lower, size)
        high = size if node.upper is None else self.index(node.upper, size)
        length = self.lines.whole_result("sub", high, low)
        known = whole(length)
        pointer = self.lines.shifted(owner.leaves[0], low)
        return Value(Block((known,), owner.kind.fixed), (pointer, *([length] if known is None else [])))

    def element(self, node: ast.Subscript, owner: Value | None = None) -> str:
        """The address of an element."""
        owner = owner or self.expression(node.value)
        if not isinstance(owner.kind, Block):
            raise self.refusal(node)
        axes = lengths(owner)
        indices = node.slice.elts if isinstance(node.slice, ast.Tuple) else [node.slice]
        if len(indices) != len(axes):
            raise self.refusal(node)
        place = self.index(indices[0], axes[0])
        for axis, each in zip(axes[1:], indices[1:], strict=True):
            place = self.lines.whole_result("add", self.lines.product(place, axis), self.index(each, axis))
        return self.lines.shifted(owner.leaves[0], place)

    def combined(self, node: ast.AST, operation: ast.operator, one: Value, other: Value) -> Value:
        """The result of an operation on two numbers."""
        lines = self.lines
        names = ARITHMETIC.get(type(operation))
        if names is not None and one.kind == other.kind == WHOLE:
            return Value(WHOLE, (lines.whole_result(names[1], one.leaves[0], other.leaves[0]),))
        if isinstance(one.kind, Group) or isinstance(other.kind, Group):
            raise self.refusal(node)
        a, b = lines.floated(one), lines.floated(other)
        if names is not None:
            return Value(FLOAT, (lines.get(f"{names[0]} double {a}, {b}"),))
        if isinstance(operation, ast.Div):
            return Value(FLOAT, (lines.get(f"fdiv double {a}, {b}"),))
        if isinstance(operation, ast.Pow) and FLOAT in (one.kind, other.kind):
            return self.mathematics("pow", [a, b])
        raise self.refusal(node)

    def unary(self, node: ast.UnaryOp) -> Value:
        """A sign or a negation."""
        if isinstance(node.op, ast.Not):
            return self.condition(node)
        value = self.expression(node.operand)
        if not isinstance(node.op, ast.USub):
            raise self.refusal(node)
        if value.kind == WHOLE:
            return Value(WHOLE, (self.lines.whole_result("sub", "0", value.leaves[0]),))
        return Value(FLOAT, (self.lines.get(f"fneg double {self.lines.floated(value)}"),))

    def condition(self, node: ast.expr) -> Value:
        """A condition as a value."""
        true, false = Value(TRUTH, ("true",)), Value(TRUTH, ("false",))
        return self.chosen(node, lambda: true, lambda: false)

    def comparison(self, node: ast.Compare) -> Value:
        """A comparison, or several in a chain."""
        before = self.expression(node.left)
        if len(node.ops) == 1:
            return Value(TRUTH, (self.compared(node.ops[0], before, self.expression(node.comparators[0])),))
        found = []
        for operation, comparator in zip(node.ops, node.comparators, strict=True):
            following = self.expression(comparator)
            found.append(self.compared(operation, before, following))
            before = following
        both = found[0]
        for each in found[1:]:
            both = self.lines.get(f"and i1 {both}, {each}")
        return Value(TRUTH, (both,))

    def compared(self, operation: ast.cmpop, one: Value, other: Value) -> str:
        """Whether two numbers stand in a relation."""
        if isinstance(operation, ast.In | ast.NotIn) and isinstance(other.kind, Group):
            found = "false"
            for k in range(len(other.kind.parts)):
                found = self.lines.get(f"or i1 {found}, {self.compared(ast.Eq(), one, part(other, k))}")
            return found if isinstance(operation, ast.In) else self.lines.get(f"xor i1 {found}, true")
        if (names := COMPARED.get(type(operation))) is None:
            raise Refusal(f"{self.tree.name}: a comparison of {one.kind} and {other.kind} has no machine text")
        if one.kind == other.kind == WHOLE:
            return self.lines.get(f"icmp {names[1]} i64 {one.leaves[0]}, {other.leaves[0]}")
        a, b = self.lines.floated(one), self.lines.floated(other)
        return self.lines.get(f"fcmp {names[0]} double {a}, {b}")

    def call(self, node: ast.Call) -> Value:
        """A call; see `burnsim.solve.compile.calls`."""
        raise self.refusal(node)

    def mathematics(self, name: str, arguments: list[str]) -> Value:
        """A function of the C library."""
        symbol = INTRINSIC.get(name, name)
        self.unit.maths[symbol] = len(arguments)
        passed = ", ".join([f"double {argument}" for argument in arguments])
        return Value(FLOAT, (self.lines.get(f"call double @{symbol}({passed})"),))

    def refusal(self, node: ast.AST) -> Refusal:
        """What to say of text that has no machine text."""
        return Refusal(f"{self.tree.name}: {ast.unparse(node)!r} has no machine text")
