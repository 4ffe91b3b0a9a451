"""Write functions of the written text as machine text: LLVM's language, which its optimiser and assembler take.

The written text (see `specialise`) knows numbers, tuples, records, arrays of floats and a handful of statements, so
that the kind of everything follows from the arguments of the one function that Python calls. Each function is written
once for each set of kinds that it is called with.
"""

import ast
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any

from burnsim.solve.compile.calls import Calls
from burnsim.solve.compile.expressions import Refusal, Written
from burnsim.solve.compile.kinds import (
    FLOAT,
    NOTHING,
    POINTER,
    WHOLE,
    WORD,
    Kind,
    Value,
    by_address,
    grouped,
    joint,
    kind_of,
    machine_types,
    part,
)
from burnsim.solve.compile.lines import Lines, float_literal

RESULT = "%result"
"""Where a function puts a group that it gives."""
RETURNED = "return"


class _Again(Exception):
    """A variable turned out to be a float too: the function is written once more."""


@dataclass
class Unit:
    """The machine text of a module on its way."""

    written: Written
    inlined: Callable[[str], bool]
    functions: dict[tuple[str, tuple[Kind, ...]], tuple[str, Kind]] = field(default_factory=dict)
    texts: list[str] = field(default_factory=list)
    maths: dict[str, int] = field(default_factory=dict)  # functions of the C library, with how many arguments

    def function(self, name: str, kinds: tuple[Kind, ...]) -> tuple[str, Kind]:
        """A function for arguments of these kinds: its name in the machine text, and the kind of what it gives."""
        key = (name, kinds)
        if key not in self.functions:
            tree = self.written.functions[name]
            forced: dict[str, Kind] = {}
            while True:
                try:
                    body = Body(self, tree, kinds, forced)
                    gives = body.write()
                    break
                except _Again:
                    continue
            symbol = f"{name}.{len(self.functions)}"
            self.texts.append(body.text(symbol, gives, self.inlined(name)))
            self.functions[key] = symbol, gives
        return self.functions[key]


def machine_module(written: Written, root: str, arguments: Sequence[object], inlined: Callable[[str], bool]) -> str:
    """Machine text of a module whose one public function, `entry`, calls the root.

    Parameters
    ----------
    written : all functions that it reaches, and what they use
    root : name of the function
    arguments : like those that it will be called with; see `kinds.kind_of`
    inlined : whether a function of this name is put into its callers

    Returns
    -------
    str
        `entry` takes the address of a row of eight-byte words (see `kinds.words_of`) and returns a whole number.

    Raises
    ------
    Refusal
        If a function uses what has no machine text (the message names function and line).
    """
    unit = Unit(written=written, inlined=inlined)
    kinds = tuple([kind_of(argument) for argument in arguments])
    symbol, gives = unit.function(root, kinds)
    if gives != WHOLE:
        raise Refusal(f"{root} gives {gives}, not a whole number")
    tables = [
        f"@{name} = internal constant [{table.size} x double] "
        f"[{', '.join([f'double {float_literal(float(x))}' for x in table.flat])}]"
        for name, table in written.tables.items()
    ]
    maths = [
        f"declare double @{name}({', '.join(['double'] * count)}) nounwind willreturn memory(none)"
        for name, count in unit.maths.items()
    ]
    return "\n".join([*tables, *maths, "!0 = !{}", *unit.texts, entry(symbol, kinds)])


def entry(symbol: str, kinds: Sequence[Kind]) -> str:
    """The public function, which takes arguments of these kinds from a row of words and passes them on."""
    lines = Lines()
    passed = []
    place = 0
    for kind in kinds:
        room = f"%{lines.fresh('a')}"
        lines.head.append(f"  {room} = getelementptr i8, ptr %words, i64 {place}")
        if by_address(kind):
            passed.append(f"{POINTER} {room}")
        else:
            value = lines.read(lines.at(kind, room))
            passed += [f"{t} {leaf}" for t, leaf in zip(machine_types(kind), value.leaves, strict=True)]
        place += WORD * len(machine_types(kind))
    given = ", ".join(passed)
    lines.say(f"ret i64 {lines.get(f'call i64 @{symbol}({given})')}")
    return "\n".join(["define i64 @entry(ptr %words) nounwind {", *lines.head, *lines.body, "}", ""])


def assigned(tree: ast.FunctionDef) -> Sequence[str]:
    """Names to which a function assigns."""
    return [node.id for node in ast.walk(tree) if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store)]


class Body(Calls):
    """One function on its way from the written text to machine text."""

    def __init__(self, unit: Unit, tree: ast.FunctionDef, kinds: tuple[Kind, ...], forced: dict[str, Kind]) -> None:
        super().__init__(unit, tree)
        self.kinds = kinds
        self.forced = forced
        self.loops: list[tuple[str, str]] = []  # where `continue` and `break` go
        self.gives: Kind | None = None
        self.arguments: list[str] = []

    def write(self) -> Kind:
        """Write the body; the kind of what the function gives."""
        changed = set(assigned(self.tree))
        for argument, kind in zip(self.tree.args.args, self.kinds, strict=True):
            if by_address(kind):
                room = f"%{self.lines.fresh('a')}"
                self.arguments.append(f"{POINTER} {room}")
                slot = self.lines.at(kind, room)
                if argument.arg in changed:
                    self.assign(argument.arg, self.lines.read(slot))
                else:
                    self.slots[argument.arg] = slot
                continue
            leaves = tuple([f"%{self.lines.fresh('a')}" for _ in machine_types(kind)])
            self.arguments += [f"{t} {leaf}" for t, leaf in zip(machine_types(kind), leaves, strict=True)]
            value = Value(kind, leaves)
            if argument.arg in changed:
                self.assign(argument.arg, value)
            else:
                self.values[argument.arg] = value
        self.block(self.tree.body)
        gives = self.gives or NOTHING
        self.lines.say("ret void" if gives == NOTHING else "unreachable")
        return gives

    def text(self, symbol: str, gives: Kind, inline: bool) -> str:
        """The whole function."""
        flags = "nounwind alwaysinline" if inline else "nounwind noinline"
        types = machine_types(gives)
        arguments = [f"{POINTER} {RESULT}", *self.arguments] if len(types) > 1 else self.arguments
        result = types[0] if len(types) == 1 else "void"
        head = f"define internal {result} @{symbol}({', '.join(arguments)}) {flags} {{"
        return "\n".join([head, "entry:", *self.lines.head, *self.lines.body, "}", ""])

    # statements

    def block(self, statements: Sequence[ast.stmt]) -> None:
        """A run of statements."""
        writers: dict[type[ast.stmt], Callable[[Any], None]] = {
            ast.Assign: self.assignment,
            ast.AugAssign: self.augmented,
            ast.If: self.branch,
            ast.For: self.loop,
            ast.While: self.repetition,
            ast.Return: self.ending,
            ast.Expr: self.call_statement,
            ast.Pass: lambda node: None,
            ast.Break: lambda node: self.lines.jump(self.loops[-1][1]),
            ast.Continue: lambda node: self.lines.jump(self.loops[-1][0]),
        }
        for statement in statements:
            if self.lines.ended:
                return
            if (write := writers.get(type(statement))) is None:
                raise self.refusal(statement)
            write(statement)

    def assignment(self, node: ast.Assign) -> None:
        """An assignment to names or to an element of an array."""
        (target,) = node.targets
        self.store(target, self.expression(node.value))

    def store(self, target: ast.expr, value: Value) -> None:
        """Put a value where an assignment's left side says."""
        if isinstance(target, ast.Name):
            self.assign(target.id, value)
        elif isinstance(target, ast.Tuple):
            for k, each in enumerate(target.elts):
                self.store(each, part(value, k))
        elif isinstance(target, ast.Subscript):
            self.lines.say(f"store double {self.lines.floated(value)}, ptr {self.element(target)}")
        else:
            raise self.refusal(target)

    def assign(self, name: str, value: Value) -> None:
        """Assign to a local variable."""
        if name not in self.slots:
            self.slots[name] = self.lines.slot(self.forced.get(name, value.kind))
        slot = self.slots[name]
        kind = joint(slot.kind, value.kind)
        if kind is None:
            raise Refusal(f"{self.tree.name}: {name!r} is {slot.kind} and {value.kind}")
        if kind != slot.kind:
            self.forced[name] = kind
            raise _Again
        self.lines.keep(slot, self.lines.turned(value, kind))

    def augmented(self, node: ast.AugAssign) -> None:
        """An assignment such as `x += y`."""
        if isinstance(node.target, ast.Name):
            before = self.expression(ast.Name(node.target.id, ast.Load()))
            self.assign(node.target.id, self.combined(node, node.op, before, self.expression(node.value)))
        elif isinstance(node.target, ast.Subscript):
            place = self.element(node.target)
            before = Value(FLOAT, (self.lines.get(f"load double, ptr {place}"),))
            after = self.combined(node, node.op, before, self.expression(node.value))
            self.lines.say(f"store double {self.lines.floated(after)}, ptr {place}")
        else:
            raise self.refusal(node)

    def branch(self, node: ast.If) -> None:
        """A branch."""
        one, other, after = [self.lines.fresh(what) for what in ("then", "else", "after")]
        self.decide(node.test, one, other)
        for label, body in ((one, node.body), (other, node.orelse)):
            self.lines.open(label)
            self.block(body)
            self.lines.jump(after)
        self.lines.open(after)

    def loop(self, node: ast.For) -> None:
        """A loop over a range."""
        if not (isinstance(node.iter, ast.Call) and isinstance(node.target, ast.Name) and not node.orelse):
            raise self.refusal(node)
        bounds = [self.expression(bound).leaves[0] for bound in node.iter.args]
        first, most = bounds if len(bounds) == 2 else ("0", *bounds)
        lines = self.lines
        counter = lines.slot(WHOLE)
        lines.keep(counter, Value(WHOLE, (first,)))
        test, body, step, after = [lines.fresh(what) for what in ("test", "body", "step", "after")]
        lines.jump(test)
        lines.open(test)
        now = lines.read(counter)
        lines.fork(lines.get(f"icmp slt i64 {now.leaves[0]}, {most}"), body, after)
        lines.open(body)
        self.assign(node.target.id, now)
        self.loops.append((step, after))
        self.block(node.body)
        self.loops.pop()
        lines.jump(step)
        lines.open(step)
        lines.keep(counter, Value(WHOLE, (lines.get(f"add nsw i64 {lines.read(counter).leaves[0]}, 1"),)))
        lines.jump(test)
        lines.open(after)

    def repetition(self, node: ast.While) -> None:
        """A loop with a condition."""
        if node.orelse:
            raise self.refusal(node)
        test, body, after = [self.lines.fresh(what) for what in ("test", "body", "after")]
        self.lines.jump(test)
        self.lines.open(test)
        self.decide(node.test, body, after)
        self.lines.open(body)
        self.loops.append((test, after))
        self.block(node.body)
        self.loops.pop()
        self.lines.jump(test)
        self.lines.open(after)
        if isinstance(node.test, ast.Constant) and not any(isinstance(n, ast.Break) for n in ast.walk(node)):
            self.lines.say("unreachable")
            self.lines.ended = True

    def ending(self, node: ast.Return) -> None:
        """A return."""
        value = grouped([]) if node.value is None else self.expression(node.value)
        self.gives = self.gives or self.forced.get(RETURNED, value.kind)
        kind = joint(self.gives, value.kind)
        if kind is None:
            raise Refusal(f"{self.tree.name} returns {self.gives} and {value.kind}")
        if kind != self.gives:
            self.forced[RETURNED] = kind
            raise _Again
        self.lines.say(self.returned(self.lines.turned(value, kind)))
        self.lines.ended = True

    def returned(self, value: Value) -> str:
        """The instruction that gives a value back."""
        types = machine_types(value.kind)
        if len(types) == 1:
            return f"ret {types[0]} {value.leaves[0]}"
        if types:
            self.lines.keep(self.lines.at(value.kind, RESULT), value)
        return "ret void"

    def call_statement(self, node: ast.Expr) -> None:
        """A call on its own."""
        self.expression(node.value)
