"""Write one function of the physics text out for a number of components; see `burnsim.solve.compile.specialise`."""

import ast
import builtins
import math
from collections.abc import Callable, Sequence
from copy import copy, deepcopy
from dataclasses import is_dataclass
from types import FunctionType, ModuleType
from typing import Any, Protocol

import numpy as np
from numpy.typing import NDArray

from burnsim.records import in_order

PACKAGE = "burnsim"
NOT_KNOWN = frozenset({"cbrt"})
"""Functions of `math` that the compiler knows under the same name in NumPy only."""


class Written(Protocol):
    """What a function's text needs of the module that it will stand in: `specialise.Writer` is one."""

    components: int
    classes: dict[str, type]
    maths: set[str]
    tables: dict[str, NDArray[np.float64]]

    def add(self, function: FunctionType) -> str:
        """Write a function, and before it those it calls; its name there."""


class FunctionText:
    """One function on its way from the physics text to the compiler's."""

    def __init__(self, writer: Written, function: FunctionType, tree: ast.FunctionDef) -> None:
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
        if isinstance(node, ast.Pass | ast.Break | ast.Continue):
            return [node]
        writers: dict[type[ast.stmt], Callable[[Any], list[ast.stmt]]] = {
            ast.AnnAssign: self.annotated,
            ast.Assign: self.assignment,
            ast.AugAssign: self.augmented,
            ast.If: self.branch,
            ast.For: self.loop,
            ast.While: self.repetition,
            ast.Return: self.ending,
            ast.Expr: self.call_statement,
        }
        if (write := writers.get(type(node))) is None:
            raise self.refusal(node)
        return write(node)

    def annotated(self, node: ast.AnnAssign) -> list[ast.stmt]:
        """An assignment without its annotation."""
        return [] if node.value is None else self.assignment(ast.Assign([node.target], node.value))

    def augmented(self, node: ast.AugAssign) -> list[ast.stmt]:
        """An assignment such as `x += y`."""
        target = self.target(node.target)
        if not isinstance(target, ast.Name | ast.Subscript):
            raise self.refusal(node)
        return [ast.AugAssign(target, node.op, self.expression(node.value))]

    def branch(self, node: ast.If) -> list[ast.stmt]:
        """A branch; of one that is decided by the number of components, the side that is taken."""
        decided = self.number(node.test)
        if decided is not None:
            chosen = node.body if decided else node.orelse
            return self.block(chosen) if chosen else []
        other = self.block(node.orelse) if node.orelse else []
        return [ast.If(self.expression(node.test), self.block(node.body), other)]

    def repetition(self, node: ast.While) -> list[ast.stmt]:
        """A loop with a condition."""
        if node.orelse:
            raise self.refusal(node)
        return [ast.While(self.expression(node.test), self.block(node.body), [])]

    def ending(self, node: ast.Return) -> list[ast.stmt]:
        """A return."""
        return [ast.Return(None if node.value is None else self.expression(node.value))]

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
            copied = [_Put(node.target.id, value).visit(deepcopy(part)) for part in node.body]
            made.extend(self.block(copied))
        return made

    def call_statement(self, node: ast.Expr) -> list[ast.stmt]:
        """A call on its own: an append to a short list, or a function that writes into an array."""
        call = node.value
        if not isinstance(call, ast.Call):
            raise self.refusal(node)
        owner = call.func.value if isinstance(call.func, ast.Attribute) and call.func.attr == "append" else None
        if isinstance(owner, ast.Name):
            count = self.lists[owner.id]
            self.lists[owner.id] = count + 1
            return [self.store(f"{owner.id}_{count}", self.expression(call.args[0]))]
        return [ast.Expr(self.expression(call))]

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
        writers: dict[type[ast.expr], Callable[[Any], ast.expr]] = {
            ast.Name: self.name,
            ast.Attribute: self.attribute,
            ast.Subscript: self.subscript,
            ast.Call: self.call,
            ast.List: self.display,
            ast.Tuple: self.display,
            ast.IfExp: self.choice,
            ast.BinOp: self.parts,
            ast.UnaryOp: self.parts,
            ast.BoolOp: self.parts,
            ast.Compare: self.parts,
            ast.Slice: self.parts,
            ast.Constant: self.parts,
        }
        if (write := writers.get(type(node))) is None:
            raise self.refusal(node)
        return write(node)

    def parts(self, node: ast.expr) -> ast.expr:
        """An expression whose parts alone are written anew."""
        made = copy(node)
        for name, part in ast.iter_fields(node):
            if isinstance(part, ast.expr):
                setattr(made, name, self.expression(part))
            elif isinstance(part, list):
                setattr(made, name, [self.expression(one) if isinstance(one, ast.expr) else one for one in part])
        return made

    def display(self, node: ast.List | ast.Tuple) -> ast.expr:
        """A list or a tuple written out in the text."""
        return ast.Tuple(self.items(node), ast.Load())

    def choice(self, node: ast.IfExp) -> ast.expr:
        """A choice between two values; of one that is decided, the value that is taken."""
        decided = self.number(node.test)
        return self.parts(node) if decided is None else self.expression(node.body if decided else node.orelse)

    def attribute(self, node: ast.Attribute) -> ast.expr:
        """A field of a record, or something in a module."""
        found = self.of_module(node)
        if found is None:
            return ast.Attribute(self.expression(node.value), node.attr, ast.Load())
        if getattr(np, node.attr, None) is found:
            return ast.Attribute(ast.Name("np", ast.Load()), node.attr, ast.Load())
        return self.value(found)

    def name(self, node: ast.Name) -> ast.expr:
        """A name: a local one stays, a short list becomes a tuple, any other is looked up."""
        if node.id in self.lists:
            return ast.Tuple([ast.Name(f"{node.id}_{k}", ast.Load()) for k in range(self.lists[node.id])], ast.Load())
        if node.id in self.locals:
            return ast.Name(node.id, ast.Load())
        space = self.function.__globals__
        if node.id in space:
            found = space[node.id]
            if isinstance(found, np.ndarray):
                return self.table(node.id, found)
            return self.value(found)
        if hasattr(builtins, node.id):
            return ast.Name(node.id, ast.Load())
        raise self.refusal(node)

    def value(self, found: Any) -> ast.expr:
        """What a name outside the function stands for."""
        made: ast.expr | None = None
        name = getattr(found, "__name__", "")
        if isinstance(found, int | float):
            made = ast.Constant(found)
        elif isinstance(found, tuple):
            made = ast.Tuple([self.value(part) for part in found], ast.Load())
        elif isinstance(found, FunctionType) and found.__module__.startswith(PACKAGE):
            made = ast.Name(self.writer.add(found), ast.Load())
        elif isinstance(found, type) and (issubclass(found, tuple) or is_dataclass(found)):
            self.writer.classes[name] = found
            made = ast.Name(name, ast.Load())
        elif getattr(math, name, None) is found and name in NOT_KNOWN:
            made = ast.Attribute(ast.Name("np", ast.Load()), name, ast.Load())
        elif getattr(math, name, None) is found:
            self.writer.maths.add(name)
            made = ast.Name(name, ast.Load())
        if made is None:
            raise TypeError(f"{self.function.__qualname__}: {found!r} cannot be compiled")
        return made

    def table(self, name: str, found: NDArray[np.float64]) -> ast.expr:
        """An array of constants, kept beside the functions under its own name."""
        if not np.array_equal(self.writer.tables.setdefault(name, found), found):
            raise TypeError(f"{self.function.__qualname__}: two tables are called {name}")
        return ast.Name(name, ast.Load())

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
        """A call; `tuple` and `sum` over components are written out, and keywords of a record become an order."""
        if node.keywords:
            kind = self.function.__globals__.get(node.func.id) if isinstance(node.func, ast.Name) else None
            if not isinstance(kind, type) or node.args:
                raise self.refusal(node)
            node = ast.Call(node.func, in_order(kind, node), [])
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
            return [self.expression(_Put(over.target.id, value).visit(deepcopy(node.elt))) for value in values]
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
            return [ast.Subscript(deepcopy(node), ast.Constant(k), ast.Load()) for k in range(self.writer.components)]
        return None

    # numbers known here

    def number(self, node: ast.expr) -> int | None:
        """The value of an expression of the number of components; None where that is not known."""
        if isinstance(node, ast.BinOp | ast.Compare):
            return self.arithmetic(node)
        if isinstance(node, ast.Name) and node.id in self.known:
            return self.known[node.id]
        named = isinstance(node, ast.Name) and node.id == "components"
        held = isinstance(node, ast.Attribute) and node.attr == "components"
        counted = isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "len"
        return self.writer.components if named or held or counted else None

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
        return deepcopy(self.value) if node.id == self.name and isinstance(node.ctx, ast.Load) else node
