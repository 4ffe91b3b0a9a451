"""Write the physics text out for one number of components, ready for a compiler.

The balances are plain Python over named tuples, with loops and comprehensions over a blend's components. A compiler
wants tuples of known length. This room reads the very same source, follows every call from a few roots, and writes one
module in which the number of components is a number:

- `len(x)` and `p.components` become that number, branches on it are decided, loops over it are unrolled;
- comprehensions become tuples or sums, short lists become variables of their own;
- an unpacking `a, b = row` becomes indexing, since the parameters' rows are arrays there;
- constants become literals; annotations, docstrings and decorators go.

Nothing else changes: every operation stays in its order, so that both texts give the same numbers.
"""

import ast
import builtins
import inspect
import math
import textwrap
from collections.abc import Callable, Sequence
from types import FunctionType, ModuleType
from typing import Any

PACKAGE = "burnsim"


def module_text(roots: Sequence[FunctionType], components: int) -> str:
    """Source of a module with the roots and all that they call.

    Parameters
    ----------
    roots : functions of the physics text or of the compiled march
    components : of the blend

    Returns
    -------
    str
        Every function is decorated with `compiled`, which the text does not define; classes are imported.

    Raises
    ------
    TypeError
        If a function uses what cannot be written out (the message names function and line).
    """
    writer = _Writer(components)
    for root in roots:
        writer.add(root)
    imports = [f"from {kind.__module__} import {kind.__name__}" for kind in writer.classes.values()]
    used = [f"from math import {name}" for name in sorted(writer.maths)]
    return "\n".join([*used, *sorted(imports), "", *writer.texts]) + "\n"


class _Writer:
    """Functions written so far, in the order in which they must stand."""

    def __init__(self, components: int) -> None:
        self.components = components
        self.names: dict[FunctionType, str] = {}
        self.classes: dict[str, type] = {}
        self.maths: set[str] = set()
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
        written = _Function(self, function, body).written(name)
        self.texts.append("@compiled\n" + ast.unparse(written) + "\n")
        return name


class _Function:
    """One function on its way from the physics text to the compiler's."""

    def __init__(self, writer: _Writer, function: FunctionType, tree: ast.FunctionDef) -> None:
        self.writer = writer
        self.function = function
        self.tree = tree
        self.known: dict[str, int] = {}  # local names whose value is a number known here
        self.lists: dict[str, int] = {}  # short lists, each with its length so far
        arguments = [arg.arg for arg in tree.args.args]
        stored = [n.id for n in ast.walk(tree) if isinstance(n, ast.Name) and isinstance(n.ctx, ast.Store)]
        self.locals = {*arguments, *stored}

    def written(self, name: str) -> ast.FunctionDef:
        """The whole function under its new name."""
        arguments = ast.arguments(
            posonlyargs=[],
            args=[ast.arg(arg.arg) for arg in self.tree.args.args],
            kwonlyargs=[],
            kw_defaults=[],
            defaults=[self.expression(value) for value in self.tree.args.defaults],
        )
        body = self.tree.body
        if isinstance(body[0], ast.Expr) and isinstance(body[0].value, ast.Constant):
            body = body[1:]
        made = ast.FunctionDef(name, arguments, self.block(body), [], None)
        return ast.fix_missing_locations(made)

    # statements

    def block(self, statements: Sequence[ast.stmt]) -> list[ast.stmt]:
        """A run of statements; what stands behind a return that is sure to be reached goes."""
        made: list[ast.stmt] = []
        for statement in statements:
            made.extend(self.statement(statement))
            if made and isinstance(made[-1], ast.Return):
                break
        return made or [ast.Pass()]

    def statement(self, node: ast.stmt) -> list[ast.stmt]:
        """What one statement becomes: none, one or several."""
        if isinstance(node, ast.AnnAssign):
            if node.value is None:
                return []
            node = ast.copy_location(ast.Assign([node.target], node.value), node)
        if isinstance(node, ast.Assign):
            return self.assignment(node)
        if isinstance(node, ast.AugAssign):
            return [ast.AugAssign(self.target(node.target), node.op, self.expression(node.value))]
        if isinstance(node, ast.If):
            decided = self.number(node.test)
            if decided is not None:
                chosen = node.body if decided else node.orelse
                return self.block(chosen) if chosen else []
            other = self.block(node.orelse) if node.orelse else []
            return [ast.If(self.expression(node.test), self.block(node.body), other)]
        if isinstance(node, ast.For):
            return self.loop(node)
        if isinstance(node, ast.While):
            return [ast.While(self.expression(node.test), self.block(node.body), [])]
        if isinstance(node, ast.Return):
            return [ast.Return(None if node.value is None else self.expression(node.value))]
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Call):
            return [self.call_statement(node.value)]
        if isinstance(node, ast.Pass | ast.Break | ast.Continue):
            return [node]
        raise self.refusal(node)

    def assignment(self, node: ast.Assign) -> list[ast.stmt]:
        """An assignment to one name, to several, or to an element."""
        (target,) = node.targets
        if isinstance(target, ast.Name):
            number = self.number(node.value)
            if number is not None and not isinstance(node.value, ast.Constant):
                self.known[target.id] = number
                return []
            if isinstance(node.value, ast.List | ast.ListComp):
                items = self.items(node.value)
                self.lists[target.id] = len(items)
                return [self.store(f"{target.id}_{k}", item) for k, item in enumerate(items)]
        if isinstance(target, ast.Tuple) and not isinstance(node.value, ast.Tuple | ast.Call):
            row = self.expression(node.value)
            return [
                ast.Assign([self.target(part)], ast.Subscript(row, ast.Constant(k), ast.Load()))
                for k, part in enumerate(target.elts)
            ]
        return [ast.Assign([self.target(target)], self.expression(node.value))]

    def loop(self, node: ast.For) -> list[ast.stmt]:
        """A loop over the components unrolled; any other loop as it is."""
        if not isinstance(node.target, ast.Name) or node.orelse:
            raise self.refusal(node)
        values = self.over_components(node.iter)
        if values is None:
            return [ast.For(node.target, self.expression(node.iter), self.block(node.body), [])]
        made: list[ast.stmt] = []
        for value in values:
            copied = [_Put(node.target.id, value).visit(_copy(part)) for part in node.body]
            made.extend(self.block(copied))
        return made

    def call_statement(self, node: ast.Call) -> ast.stmt:
        """A call on its own: an append to a short list, or a function that writes into an array."""
        if isinstance(node.func, ast.Attribute) and node.func.attr == "append" and isinstance(node.func.value, ast.Name):
            name = node.func.value.id
            count = self.lists[name]
            self.lists[name] = count + 1
            return self.store(f"{name}_{count}", self.expression(node.args[0]))
        return ast.Expr(self.expression(node))

    def store(self, name: str, value: ast.expr) -> ast.stmt:
        """The assignment of a value that is already written."""
        self.locals.add(name)
        return ast.Assign([ast.Name(name, ast.Store())], value)

    def target(self, node: ast.expr) -> ast.expr:
        """What an assignment writes to."""
        if isinstance(node, ast.Name):
            return ast.Name(node.id, ast.Store())
        if isinstance(node, ast.Tuple):
            return ast.Tuple([self.target(part) for part in node.elts], ast.Store())
        if isinstance(node, ast.Subscript):
            made = self.expression(node)
            if isinstance(made, ast.Name):
                return ast.Name(made.id, ast.Store())
            if isinstance(made, ast.Subscript):
                return ast.Subscript(made.value, made.slice, ast.Store())
        raise self.refusal(node)

    # expressions

    def expression(self, node: ast.expr) -> ast.expr:
        """What an expression becomes."""
        number = self.number(node)
        if number is not None:
            return ast.Constant(number)
        if isinstance(node, ast.Name):
            return self.name(node)
        if isinstance(node, ast.Attribute):
            found = self.of_module(node)
            return self.value(found) if found is not None else ast.Attribute(
                self.expression(node.value), node.attr, ast.Load()
            )
        if isinstance(node, ast.Subscript):
            return self.subscript(node)
        if isinstance(node, ast.Call):
            return self.call(node)
        if isinstance(node, ast.List | ast.Tuple):
            return ast.Tuple(self.items(node), ast.Load())
        if isinstance(node, ast.IfExp):
            decided = self.number(node.test)
            if decided is not None:
                return self.expression(node.body if decided else node.orelse)
            return ast.IfExp(*(self.expression(part) for part in (node.test, node.body, node.orelse)))
        if isinstance(node, ast.BinOp):
            return ast.BinOp(self.expression(node.left), node.op, self.expression(node.right))
        if isinstance(node, ast.UnaryOp):
            return ast.UnaryOp(node.op, self.expression(node.operand))
        if isinstance(node, ast.BoolOp):
            return ast.BoolOp(node.op, [self.expression(value) for value in node.values])
        if isinstance(node, ast.Compare):
            return ast.Compare(
                self.expression(node.left), node.ops, [self.expression(value) for value in node.comparators]
            )
        if isinstance(node, ast.Constant):
            return node
        raise self.refusal(node)

    def name(self, node: ast.Name) -> ast.expr:
        """A name: a local one stays, a short list becomes a tuple, any other is looked up."""
        if node.id in self.lists:
            return ast.Tuple([ast.Name(f"{node.id}_{k}", ast.Load()) for k in range(self.lists[node.id])], ast.Load())
        if node.id in self.locals:
            return ast.Name(node.id, ast.Load())
        space = self.function.__globals__
        if node.id in space:
            return self.value(space[node.id])
        if hasattr(builtins, node.id):
            return ast.Name(node.id, ast.Load())
        raise self.refusal(node)

    def value(self, found: Any) -> ast.expr:
        """What a name outside the function stands for."""
        if isinstance(found, int | float):
            return ast.Constant(found)
        if isinstance(found, tuple):
            return ast.Tuple([self.value(part) for part in found], ast.Load())
        if isinstance(found, FunctionType) and found.__module__.startswith(PACKAGE):
            return ast.Name(self.writer.add(found), ast.Load())
        if isinstance(found, type) and issubclass(found, tuple):
            self.writer.classes[found.__name__] = found
            return ast.Name(found.__name__, ast.Load())
        if getattr(math, getattr(found, "__name__", ""), None) is found:
            self.writer.maths.add(found.__name__)
            return ast.Name(found.__name__, ast.Load())
        raise TypeError(f"{self.function.__qualname__}: {found!r} cannot be compiled")

    def of_module(self, node: ast.Attribute) -> Any:
        """The object that `module.name` stands for; None if it is no such thing."""
        if isinstance(node.value, ast.Name) and node.value.id not in self.locals:
            module = self.function.__globals__.get(node.value.id)
            if isinstance(module, ModuleType):
                return getattr(module, node.attr)
        return None

    def subscript(self, node: ast.Subscript) -> ast.expr:
        """An element: of a short list, of a table of constants, or of anything else."""
        index = self.expression(node.slice)
        if isinstance(node.value, ast.Name) and isinstance(index, ast.Constant) and isinstance(index.value, int):
            if node.value.id in self.lists:
                return ast.Name(f"{node.value.id}_{index.value}", ast.Load())
            if node.value.id not in self.locals:
                table = self.name(node.value)
                if isinstance(table, ast.Tuple):
                    return table.elts[index.value]
        return ast.Subscript(self.expression(node.value), index, ast.Load())

    def call(self, node: ast.Call) -> ast.expr:
        """A call; `tuple` and `sum` over components are written out."""
        if node.keywords:
            raise self.refusal(node)
        if isinstance(node.func, ast.Name) and node.func.id in ("tuple", "sum") and len(node.args) == 1:
            items = self.items(node.args[0])
            if node.func.id == "tuple":
                return ast.Tuple(items, ast.Load())
            total = items[0]
            for item in items[1:]:
                total = ast.BinOp(total, ast.Add(), item)
            return total
        arguments: list[ast.expr] = []
        for part in node.args:
            arguments.extend(self.items(part.value) if isinstance(part, ast.Starred) else [self.expression(part)])
        return ast.Call(self.expression(node.func), arguments, [])

    def items(self, node: ast.expr) -> list[ast.expr]:
        """The elements, written out, of something over the components."""
        if isinstance(node, ast.ListComp):
            (over,) = node.generators
            values = self.over_components(over.iter)
            if over.ifs or values is None or not isinstance(over.target, ast.Name):
                raise self.refusal(node)
            return [self.expression(_Put(over.target.id, value).visit(_copy(node.elt))) for value in values]
        if isinstance(node, ast.List | ast.Tuple):
            made: list[ast.expr] = []
            for part in node.elts:
                made.extend(self.items(part.value) if isinstance(part, ast.Starred) else [self.expression(part)])
            return made
        if isinstance(node, ast.Name) and node.id in self.lists:
            return [ast.Name(f"{node.id}_{k}", ast.Load()) for k in range(self.lists[node.id])]
        row = self.expression(node)
        return [ast.Subscript(row, ast.Constant(k), ast.Load()) for k in range(self.writer.components)]

    def over_components(self, node: ast.expr) -> list[ast.expr] | None:
        """The values of a loop over the components; None for any other loop."""
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "range":
            count = self.number(node.args[0]) if len(node.args) == 1 else None
            return None if count is None else [ast.Constant(k) for k in range(count)]
        if isinstance(node, ast.Name | ast.Attribute):
            return [
                ast.Subscript(_copy(node), ast.Constant(k), ast.Load()) for k in range(self.writer.components)
            ]
        return None

    # numbers known here

    def number(self, node: ast.expr) -> int | None:
        """The value of an expression of the number of components; None where that is not known."""
        if isinstance(node, ast.Name):
            return self.writer.components if node.id == "components" else self.known.get(node.id)
        if isinstance(node, ast.Attribute) and node.attr == "components":
            return self.writer.components
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "len":
            return self.writer.components
        if isinstance(node, ast.BinOp | ast.Compare):
            return self.arithmetic(node)
        return None

    def arithmetic(self, node: ast.BinOp | ast.Compare) -> int | None:
        """A sum, product or comparison in which at least one part is such a number and the others are literals."""
        parts = [node.left, node.right] if isinstance(node, ast.BinOp) else [node.left, *node.comparators]
        values = [self.number(part) for part in parts]
        if all(value is None for value in values):
            return None
        for k, part in enumerate(parts):
            if values[k] is None and isinstance(part, ast.Constant) and isinstance(part.value, int):
                values[k] = part.value
        if any(value is None for value in values):
            return None
        if isinstance(node, ast.BinOp):
            shown: ast.expr = ast.BinOp(ast.Constant(values[0]), node.op, ast.Constant(values[1]))
        else:
            shown = ast.Compare(ast.Constant(values[0]), node.ops, [ast.Constant(value) for value in values[1:]])
        return int(eval(compile(ast.fix_missing_locations(ast.Expression(shown)), "<number>", "eval"), {}))

    def refusal(self, node: ast.AST) -> TypeError:
        """What to say of text that cannot be written out."""
        line = self.function.__code__.co_firstlineno + getattr(node, "lineno", 1) - 1
        return TypeError(f"{self.function.__qualname__}, line {line}: {ast.unparse(node)!r} cannot be compiled")


class _Put(ast.NodeTransformer):
    """Put an expression in the place of a loop's variable."""

    def __init__(self, name: str, value: ast.expr) -> None:
        self.name = name
        self.value = value

    def visit_Name(self, node: ast.Name) -> ast.expr:
        return _copy(self.value) if node.id == self.name and isinstance(node.ctx, ast.Load) else node


def _copy(node: Any) -> Any:
    """A copy of a piece of text that can be changed."""
    from copy import deepcopy

    return deepcopy(node)


Compiler = Callable[[FunctionType], FunctionType]
