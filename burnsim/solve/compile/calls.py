"""Calls of the written text as machine text: of its functions, of classes of records, of `math` and of builtins."""

import ast
from collections.abc import Callable, Mapping, Sequence
from dataclasses import fields, is_dataclass

from burnsim.solve.compile.expressions import INTRINSIC, MATHEMATICS, Expressions
from burnsim.solve.compile.kinds import (
    FLOAT,
    POINTER,
    TRUTH,
    WHOLE,
    Kind,
    Value,
    by_address,
    grouped,
    machine_types,
)
from burnsim.solve.compile.lines import float_literal


class Calls(Expressions):
    """The expressions of one function, calls among them."""

    def call(self, node: ast.Call) -> Value:
        """A call of a function of the written text, of a record's class, of `math`, or of a builtin."""
        written = self.unit.written
        name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
        if name in written.classes:
            return self.record(node, written.classes[name])
        if name in written.functions:
            return self.called(node, name)
        if node.keywords:
            raise self.refusal(node)
        arguments = [self.expression(argument) for argument in node.args]
        if name in ("max", "min"):
            return self.extreme(name, arguments)
        conversions: dict[str, Callable[[Value], Value]] = {
            "float": lambda x: Value(FLOAT, (self.lines.floated(x),)),
            "bool": lambda x: Value(TRUTH, (self.truth(x),)),
            "int": self.integer,
            "abs": lambda x: self.mathematics("fabs", [self.lines.floated(x)]),
            "isfinite": self.finite,
        }
        if name in conversions and len(arguments) == 1:
            return conversions[name](arguments[0])
        if MATHEMATICS.get(name, 1) != len(arguments) or name not in {*MATHEMATICS, *INTRINSIC}:
            raise self.refusal(node)
        return self.mathematics(name, [self.lines.floated(argument) for argument in arguments])

    def ordered(self, node: ast.Call, names: Sequence[str], defaults: Mapping[str, ast.expr]) -> list[ast.expr]:
        """Arguments in the order of their names, given by place, by keyword or by default."""
        given = dict(zip(names, node.args, strict=False))
        given.update({str(each.arg): each.value for each in node.keywords})
        if len(node.args) > len(names) or not set(names) <= {*given, *defaults}:
            raise self.refusal(node)
        return [given[name] if name in given else defaults[name] for name in names]

    def record(self, node: ast.Call, kind: type) -> Value:
        """A record from its values; a field that is a float takes whole numbers too."""
        names = tuple([field.name for field in fields(kind)] if is_dataclass(kind) else getattr(kind, "_fields", ()))
        defaults = {name: ast.Constant(value) for name, value in getattr(kind, "_field_defaults", {}).items()}
        values = []
        for name, given in zip(names, self.ordered(node, names, defaults), strict=True):
            value = self.expression(given)
            floats = value.kind == WHOLE and kind.__annotations__[name] in (float, "float")
            values.append(self.lines.turned(value, FLOAT) if floats else value)
        return grouped(values, names)

    def called(self, node: ast.Call, name: str) -> Value:
        """A call of a function of the written text."""
        arguments = self.unit.written.functions[name].args
        names = [argument.arg for argument in arguments.args]
        defaults = dict(zip(names[len(names) - len(arguments.defaults) :], arguments.defaults, strict=True))
        kinds: list[Kind] = []
        passed: list[str] = []
        for given in self.ordered(node, names, defaults):
            slot = self.place(given)
            if slot is not None and by_address(slot.kind):  # nothing can change it before the call is over
                kinds.append(slot.kind)
                passed.append(f"{POINTER} {slot.places[0]}")
            else:
                value = self.expression(given)
                kinds.append(value.kind)
                passed += self.passed(value)
        symbol, gives = self.unit.function(name, tuple(kinds))
        types = machine_types(gives)
        if len(types) == 1:
            return Value(gives, (self.lines.get(f"call {types[0]} @{symbol}({', '.join(passed)})"),))
        if not types:
            self.lines.say(f"call void @{symbol}({', '.join(passed)})")
            return Value(gives, ())
        result = self.lines.slot(gives)
        self.lines.say(f"call void @{symbol}({', '.join([f'{POINTER} {result.places[0]}', *passed])})")
        return self.lines.read(result)

    def passed(self, value: Value) -> list[str]:
        """A value as it stands in a call."""
        if not by_address(value.kind):
            return [f"{t} {leaf}" for t, leaf in zip(machine_types(value.kind), value.leaves, strict=True)]
        slot = self.lines.slot(value.kind)
        self.lines.keep(slot, value)
        return [f"{POINTER} {slot.places[0]}"]

    def extreme(self, name: str, arguments: list[Value]) -> Value:
        """The largest or the smallest of some numbers; of equal ones the first, as in Python."""
        if any(argument.kind != WHOLE for argument in arguments):
            arguments = [Value(FLOAT, (self.lines.floated(argument),)) for argument in arguments]
        best = arguments[0]
        for other in arguments[1:]:
            better = self.compared(ast.Gt() if name == "max" else ast.Lt(), other, best)
            machine = machine_types(best.kind)[0]
            leaf = self.lines.get(f"select i1 {better}, {machine} {other.leaves[0]}, {machine} {best.leaves[0]}")
            best = Value(best.kind, (leaf,))
        return best

    def integer(self, value: Value) -> Value:
        """A number cut to a whole one."""
        if value.kind == WHOLE:
            return value
        if value.kind == TRUTH:
            return Value(WHOLE, (self.lines.get(f"zext i1 {value.leaves[0]} to i64"),))
        return Value(WHOLE, (self.lines.get(f"fptosi double {value.leaves[0]} to i64"),))

    def finite(self, value: Value) -> Value:
        """Whether a float is neither infinite nor no number."""
        size = self.mathematics("fabs", [self.lines.floated(value)])
        return Value(TRUTH, (self.lines.get(f"fcmp olt double {size.leaves[0]}, {float_literal(float('inf'))}"),))
