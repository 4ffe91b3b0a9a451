"""The slopes of a law with one result by all that it follows from, written out from the law's own text.

A law of some hundred operations costs three evaluations this way (reverse differentiation: A. Griewank, A. Walther
2008, Evaluating Derivatives, 2nd ed., SIAM), whatever the number of its arguments; difference quotients cost one for
each. What comes out is plain text as the laws are, so that plain and compiled burns take the same one.

The law may consist of assignments, branches, loops over a known range, records, arithmetic, the functions in `SLOPES`,
and calls of other such laws. At a corner the slope is that of the branch taken, and where a root has none, nothing.
"""

import ast
import inspect
import re
import textwrap
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields, is_dataclass
from functools import cache
from math import exp, log, sinh
from types import FunctionType
from typing import Any, NamedTuple, TypeVar

from burnsim.records import in_order, put_off

T = TypeVar("T")

SLOPES = {
    "sqrt": "0.5 / {y} if {y} > 0.0 else 0.0",
    "cbrt": "{y} / (3.0 * {x}) if {x} != 0.0 else 0.0",
    "exp": "{y}",
    "log": "1.0 / {x}",
    "cosh": "sinh({x})",
    "erf": "1.1283791670955126 * exp(-({x} * {x}))",
}
"""Slopes of the functions of `math` that a law may call, from argument x and result y."""


OPERATIONS = {ast.Add: "+", ast.Sub: "-", ast.Mult: "*", ast.Div: "/", ast.Pow: "**"}
COMPARISONS = {ast.Lt: "<", ast.LtE: "<=", ast.Gt: ">", ast.GtE: ">="}


class Number(NamedTuple):
    """A number on its way: how it is written, and whether it follows from what moves."""

    text: str
    moves: bool = False


@dataclass
class Step:
    """One operation: its result, its text, and the slope of the result by each number that moves."""

    result: str
    text: str
    slopes: list[tuple[str, str]]


@dataclass
class Fork:
    """Steps of which one side is taken."""

    test: str
    sides: "tuple[list[Step | Fork], list[Step | Fork]]"


Steps = list[Step | Fork]
Names = dict[str, Any]
"""What names stand for: a `Number`, a record as a dictionary of its fields, or a thing known here."""


def slopes_of(law: Callable[..., float], by: type[T]) -> Callable[..., T]:
    """The slopes of a law as a function of the same arguments, the first of them a record of what moves.

    Parameters
    ----------
    law : takes a record, and others that stand still
    by : the record's class; the slopes come as one of the same

    Returns
    -------
    A function; its text is written when it is first called

    >>> from dataclasses import dataclass
    >>> from burnsim.records import written
    >>> @dataclass
    ... class Box:
    ...     width: float
    ...     height: float
    >>> _source = "def area(box, share):\\n    return share * box.width * box.height"
    >>> slopes_of(written(_source, __name__, {}), Box)(Box(2.0, 3.0), 0.5)
    Box(width=1.5, height=1.0)
    """
    parameters = tuple(inspect.signature(law).parameters)
    found: Callable[..., T] = put_off(
        f"slopes_of_{law.__name__}", parameters, law.__module__, lambda: Differentiation().text(law, by, parameters)
    )
    return found


@cache
def tree_of(law: FunctionType) -> ast.FunctionDef:
    """The text of a law, read."""
    tree = ast.parse(textwrap.dedent(inspect.getsource(law))).body[0]
    if not isinstance(tree, ast.FunctionDef):
        raise TypeError(f"{law.__qualname__} is not a plain function")
    return tree


def moves(value: Any) -> bool:
    """Whether a value follows from what moves."""
    return isinstance(value, Number) and value.moves


def text_of(value: Any) -> str:
    """How a number is written."""
    return value.text if isinstance(value, Number) else repr(value)


def slope(text: str) -> str:
    """The name of the slope of the result by a number.

    >>> slope("gas.flow")
    'd_gas_flow'
    """
    return "d_" + re.sub(r"\W", "_", text)


def names_in(text: str) -> set[str]:
    """The names that a text uses."""
    return set(re.findall(r"[A-Za-z_]\w*", text))


class Differentiation:
    """A law on its way to the text of its slopes."""

    def __init__(self) -> None:
        self.steps: Steps = []
        self.count = 0
        self.space: Names = {"exp": exp, "log": log, "sinh": sinh}  # what the text may call

    def text(self, law: Any, by: Any, parameters: Sequence[str]) -> tuple[str, dict[str, Any]]:
        """The text of the whole function, and the names that it sees."""
        first, *others = parameters
        names = [field.name for field in fields(by)]
        moved = {name: Number(f"{first}.{name}", moves=True) for name in names}
        result = self.called(law, [moved, *[Number(other) for other in others]])
        known = {result.text}
        back = [f"{slope(result.text)} = 1.0", *backward(self.steps, known, {}, uses(self.steps))]
        ahead = forward(self.steps, names_in(" ".join(back)))
        values = [f"{name}={slope(moved[name].text) if moved[name].text in known else '0.0'}" for name in names]
        lines = [*ahead, *back, f"return {by.__name__}({', '.join(values)})"]
        self.space[by.__name__] = by
        return f"def slopes_of_{law.__name__}({', '.join(parameters)}):\n" + "".join(indented(lines)), self.space

    # the law

    def called(self, law: Any, arguments: Sequence[Any]) -> Any:
        """What a law gives for arguments, its text put in here."""
        tree = tree_of(law)
        given = dict(zip([each.arg for each in tree.args.args], arguments, strict=True))
        return self.block(tree.body, {"": law.__globals__, **given})

    def block(self, body: Sequence[ast.stmt], names: Names) -> Any:
        """Run through statements, changing names; what they return, or None."""
        for k, node in enumerate(body):
            if isinstance(node, ast.Return) and node.value is not None:
                return self.value(node.value, names)
            if isinstance(node, ast.If):
                if any(isinstance(each, ast.Return) for each in [*node.body, *node.orelse]):
                    rest = body[k + 1 :]
                    return self.fork(node.test, [*node.body, *rest], [*node.orelse, *rest], names)
                self.fork(node.test, node.body, node.orelse, names)
            elif isinstance(node, ast.For) and isinstance(node.target, ast.Name):
                for index in range(*[self.value(bound, names) for bound in getattr(node.iter, "args", ())]):
                    names[node.target.id] = index
                    self.block(node.body, names)
            elif isinstance(node, ast.AugAssign) and isinstance(node.target, ast.Name):
                before = ast.Name(node.target.id, ast.Load())
                self.assign(node.target.id, self.value(ast.BinOp(before, node.op, node.value), names), names)
            elif isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name):
                self.assign(node.targets[0].id, self.value(node.value, names), names)
            elif not (isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)):
                raise TypeError(f"{ast.unparse(node)!r} has no slopes")
        return None

    def assign(self, name: str, value: Any, names: Names) -> None:
        """Give a name its value; what does not move is worked out once."""
        if isinstance(value, Number) and not value.moves and not value.text.isidentifier():
            value = self.step(value.text, [])
        names[name] = value

    def step(self, text: str, slopes: list[tuple[Any, str]]) -> Number:
        """A new number from others; in the slopes, `{y}` is the number itself."""
        self.count += 1
        result = f"v{self.count}"
        moving = [(x.text, by.format(x=x.text, y=result, d="{d}")) for x, by in slopes if moves(x)]
        self.steps.append(Step(result, text, moving))
        return Number(result, bool(moving))

    def fork(self, test: ast.expr, one: Sequence[ast.stmt], other: Sequence[ast.stmt], names: Names) -> Any:
        """A branch: what is given on both ways, and in names what they leave."""
        asked = self.test(test, names)
        before = self.steps
        ways = []
        for body in (one, other):
            self.steps, seen = [], dict(names)
            ways.append((self.block(body, seen), seen, self.steps))
        (given, left, steps), (other_given, right, other_steps) = ways
        self.steps = before
        if steps or other_steps:
            asked = self.step(asked, []).text
            before.append(Fork(asked, (steps, other_steps)))
        if given is None:
            for name in left:
                if name in right:
                    names[name] = self.either(asked, left[name], right[name], steps, other_steps)
        else:
            given = self.either(asked, given, other_given, steps, other_steps)
        return given

    def either(self, asked: str, one: Any, other: Any, steps: Steps, other_steps: Steps) -> Any:
        """One of two values, by the way that was taken."""
        if one is other or one == other:
            return one
        if isinstance(one, dict):
            return {name: self.either(asked, one[name], other[name], steps, other_steps) for name in one}
        if not (steps or other_steps):  # a bound
            slopes = [(one, f"{{d}} if {asked} else 0.0"), (other, f"0.0 if {asked} else {{d}}")]
            return self.step(f"{text_of(one)} if {asked} else {text_of(other)}", slopes)
        self.count += 1
        result = f"v{self.count}"
        for each, way in ((one, steps), (other, other_steps)):
            way.append(Step(result, text_of(each), [(each.text, "1.0")] if moves(each) else []))
        return Number(result, moves(one) or moves(other))

    def test(self, node: ast.expr, names: Names) -> str:
        """The text of a comparison."""
        if not isinstance(node, ast.Compare):
            raise TypeError(f"{ast.unparse(node)!r} is no comparison")
        left, right = text_of(self.value(node.left, names)), text_of(self.value(node.comparators[0], names))
        return f"{left} {COMPARISONS[type(node.ops[0])]} {right}"

    def value(self, node: ast.expr, names: Names) -> Any:
        """The value of an expression."""
        made: Any
        if isinstance(node, ast.Constant):
            made = node.value
        elif isinstance(node, ast.Name):
            made = names[node.id] if node.id in names else names[""][node.id]
        elif isinstance(node, ast.Attribute):
            owner = self.value(node.value, names)
            made = owner[node.attr] if isinstance(owner, dict) else Number(f"{owner.text}.{node.attr}")
        elif isinstance(node, ast.Subscript):
            owner, index = self.value(node.value, names), self.value(node.slice, names)
            made = Number(f"{owner.text}[{index}]") if isinstance(owner, Number) else owner[index]
        elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
            made = self.product(-1.0, ast.Mult(), self.value(node.operand, names))
        elif isinstance(node, ast.BinOp):
            made = self.product(self.value(node.left, names), node.op, self.value(node.right, names))
        elif isinstance(node, ast.IfExp):
            made = self.fork(node.test, [ast.Return(node.body)], [ast.Return(node.orelse)], names)
        elif isinstance(node, ast.Call):
            made = self.call(node, names)
        else:
            raise TypeError(f"{ast.unparse(node)!r} has no slopes")
        return made

    def product(self, a: Any, operation: ast.operator, b: Any) -> Any:
        """The result of an operation on two numbers."""
        text = f"{text_of(a)} {OPERATIONS[type(operation)]} {text_of(b)}"
        if not (isinstance(a, Number) or isinstance(b, Number)):
            return eval(text)
        if 0.0 in (a, b) and isinstance(operation, ast.Add | ast.Sub | ast.Mult):  # what a sum begins with
            if isinstance(operation, ast.Mult):
                return 0.0
            if b == 0.0 or isinstance(operation, ast.Add):
                return a if b == 0.0 else b
        if not (moves(a) or moves(b)):
            return Number(f"({text})")
        x, z = text_of(a), text_of(b)
        slopes: dict[type[ast.operator], tuple[str, str]] = {
            ast.Add: ("1.0", "1.0"),
            ast.Sub: ("1.0", "-1.0"),
            ast.Mult: (z, x),
            ast.Div: (f"1.0 / {z}", f"-{{y}} / {z}"),
            ast.Pow: (f"{z} * {{y}} / {x} if {x} != 0.0 else 0.0", f"{{y}} * log({x}) if {x} > 0.0 else 0.0"),
        }
        left, right = slopes[type(operation)]
        return self.step(text, [(a, left), (b, right)])

    def call(self, node: ast.Call, names: Names) -> Any:
        """A call: of a record's class, of `math`, or of another law."""
        function = self.value(node.func, names) if ast.unparse(node.func) != "float" else float
        if is_dataclass(function):
            given = in_order(function, node)
            return {field.name: self.value(each, names) for field, each in zip(fields(function), given, strict=True)}
        arguments = [self.value(each, names) for each in node.args]
        if function is float:
            return arguments[0]
        if isinstance(function, FunctionType):
            return self.called(function, arguments)
        name = function.__name__
        self.space[name] = function
        text = f"{name}({text_of(arguments[0])})"
        return self.step(text, [(arguments[0], SLOPES[name])]) if moves(arguments[0]) else Number(text)


def indented(lines: Sequence[str]) -> list[str]:
    """Lines one level further in."""
    return [f"    {line}\n" for line in "\n".join(lines).split("\n")]


def forked(test: str, sides: Sequence[Sequence[str]]) -> str:
    """A branch, as one line of text with lines in it."""
    one, other = ["".join(indented(side or ["pass"])) for side in sides]
    return (f"if {test}:\n{one}" + (f"else:\n{other}" if sides[1] else "")).rstrip()


def forward(steps: Steps, used: set[str]) -> list[str]:
    """The lines that work out what is used; adds what they use themselves."""
    lines: list[str] = []
    for step in reversed(steps):
        if isinstance(step, Fork):
            sides = [forward(side, used) for side in step.sides]
            if sides[0] or sides[1] or step.test in used:
                used.add(step.test)
                lines.append(forked(step.test, sides))
        elif step.result in used:
            used |= names_in(step.text)
            lines.append(f"{step.result} = {step.text}")
    return lines[::-1]


def uses(steps: Steps) -> Counter[str]:
    """How many results follow from each number at once."""
    found: Counter[str] = Counter()
    for step in steps:
        if isinstance(step, Fork):
            for side in step.sides:
                found += uses(side)
        else:
            found.update([x for x, _ in step.slopes])
    return found


def backward(steps: Steps, known: set[str], same: dict[str, str], used: Counter[str]) -> list[str]:
    """The lines that carry slopes from results to what they follow from.

    Added to are the numbers whose slopes are known, and names of slopes that are the same as that of another number;
    `used` says how many results follow from each number at once.
    """
    lines: list[str] = []
    for step in reversed(steps):
        if isinstance(step, Fork):
            inside = [set(known), set(known)]
            sides = [
                backward(side, reached, dict(same), used) for side, reached in zip(step.sides, inside, strict=True)
            ]
            if not (sides[0] or sides[1]):
                continue
            begun = sorted((inside[0] | inside[1]) - known - results(step))
            lines += [f"{slope(x)} = 0.0" for x in begun]
            known |= set(begun)
            lines.append(forked(step.test, [backward(side, set(known), same, used) for side in step.sides]))
        elif step.result in known:
            outer = same.get(step.result, slope(step.result))
            for x, by in step.slopes:
                if by == "1.0" and used[x] == 1 and x not in known and x.isidentifier():
                    same[x] = outer
                else:
                    lines.append(f"{slope(x)} {'+=' if x in known else '='} {share(outer, by)}")
                known.add(x)
    return lines


def results(fork: Fork) -> set[str]:
    """What is worked out inside a branch."""
    return {
        name
        for side in fork.sides
        for step in side
        for name in (results(step) if isinstance(step, Fork) else {step.result})
    }


def share(outer: str, by: str) -> str:
    """A slope times another.

    >>> share("d", "1.0"), share("d", "x"), share("d", "1.0 / x")
    ('d', 'd * x', 'd / x')
    """
    if "{d}" in by:
        return by.format(d=outer)
    if by in ("1.0", "-1.0"):
        return outer if by == "1.0" else f"-{outer}"
    return f"{outer} / {by[6:]}" if by.startswith("1.0 / ") else f"{outer} * ({by})" if " " in by else f"{outer} * {by}"
