"""The public list of names and the contract of their docstrings; no cycle between files, no dead code."""

import ast
import dataclasses
import importlib
import inspect
import re
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest

import burnsim
from burnsim import closures
from burnsim.model.description.kinds import KINDS

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "burnsim"
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")

SECTION = re.compile(
    r"^ *(Parameters|Returns|Raises|Attributes|Yields|Notes|Examples|References|Sources?)\n *-{3,}$", flags=re.MULTILINE
)
UNIT = re.compile(r"\[([^\]\[]+)\]")
BASES = frozenset(
    ("-", "%", "1", "m", "mm", "in", "um", "kg", "g", "s", "min", "minutes", "h", "K", "degC", "degF", "mol", "J", "kJ",
     "MJ", "W", "Pa", "kPa", "inH2O", "N", "mN", "rad", "deg", "ml", "l", "fl", "oz", "mass", "SI")
)  # fmt: skip
TABLES = frozenset(
    {"free", "limits", "forbid", "set", "seen", "clock", "factors", "site", "pot", "wick", "burner", "charge"}
)
"""Tables of files that docstrings speak of in brackets."""

POWER = re.compile(r"^([A-Za-z]+?)(?:\^?[0-9.]+)?$")


@cache
def parsed(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def public_functions() -> Iterator[tuple[str, Callable[..., Any]]]:
    """Functions that a user calls: the package's own and the laws."""
    for name, thing in public_names():
        if inspect.isfunction(thing):
            yield name, thing
    for name in laws():
        yield f"burnsim.closures.{name}", law(name)


def public_names() -> Iterator[tuple[str, Any]]:
    """Names of the top and of its namespaces, the laws apart."""
    for name in burnsim.__all__:
        thing = getattr(burnsim, name)
        if not inspect.ismodule(thing):
            yield f"burnsim.{name}", thing
        elif thing is not closures:
            yield from ((f"burnsim.{name}.{one}", getattr(thing, one)) for one in thing.__all__)


def laws() -> tuple[str, ...]:
    return tuple(closures.__all__)


def law(name: str) -> Callable[..., Any]:
    """The law itself, behind its checked face."""
    module, function = closures._HOME[name]
    return getattr(importlib.import_module(f"burnsim.closures.{module}"), function)  # type: ignore[no-any-return]


def sections(text: str) -> dict[str, str]:
    """Body of each section of a docstring."""
    marks = list(SECTION.finditer(text))
    ends = [*(mark.start() for mark in marks[1:]), len(text)]
    return {mark[1]: text[mark.end() : end] for mark, end in zip(marks, ends, strict=False)}


def documented(body: str) -> list[str]:
    """Names that a section of parameters describes, grouped ones one by one."""
    names: list[str] = []
    for line in inspect.cleandoc(body).splitlines():
        found = re.match(r"^(\*{0,2}[A-Za-z_]\w*(?:, *[A-Za-z_]\w*)*)(?: *:.*)?$", line)
        if found:
            names += [name.strip() for name in found[1].split(",")]
    return names


def is_unit(text: str) -> bool:
    """Whether the text between brackets is one unit or several: powers, products and quotients of known symbols.

    Axes are written as "mm or in, over minutes", and a power in brackets as "kg/s/m^(7/4)".
    """
    plain = re.sub(r"\^\([^)]*\)", "", re.sub(r"\b(or|over)\b", " ", text))
    parts = [part for part in re.split(r"[ /,]+", plain) if part]
    return bool(parts) and all(part in BASES or (POWER.match(part) or [""] * 2)[1] in BASES for part in parts)


def described(body: str) -> dict[str, str]:
    """Description of each parameter of a section, with the lines that follow it."""
    found: dict[str, str] = {}
    now: list[str] = []
    for line in inspect.cleandoc(body).splitlines():
        head = re.match(r"^([A-Za-z_]\w*(?:, *[A-Za-z_]\w*)*)(?: *:(.*))?$", line)
        if head:
            now = [name.strip() for name in head[1].split(",")]
            found |= dict.fromkeys(now, head[2] or "")
        else:
            for name in now:
                found[name] += " " + line.strip()
    return found


FUNCTIONS = dict(public_functions())


@pytest.mark.parametrize("name", FUNCTIONS)
def test_docstring_names_the_parameters_of_the_signature(name: str) -> None:
    function = FUNCTIONS[name]
    asked = list(inspect.signature(function).parameters)
    text = inspect.getdoc(function)
    assert text, "no docstring"
    parts = sections(text)
    if asked:
        assert "Parameters" in parts, "no section of parameters"
        assert sorted(documented(parts["Parameters"])) == sorted(asked)
    back = inspect.signature(function).return_annotation
    own = inspect.isclass(back) and back.__module__.startswith("burnsim")
    explains_itself = own or back in (None, str, "Axes")  # a picture returns the axes that it was drawn on
    assert "Returns" in parts or explains_itself, "numbers, tuples and tables that are returned need their meaning"


@pytest.mark.parametrize("name", FUNCTIONS)
def test_units_in_docstrings_are_known(name: str) -> None:
    parts = sections(inspect.getdoc(FUNCTIONS[name]) or "")
    for section in ("Parameters", "Returns"):
        for unit in UNIT.findall(re.sub(r"^>>> .*$", "", parts.get(section, ""), flags=re.M)):
            assert unit in TABLES or unit.startswith('"') or is_unit(unit), f"[{unit}]"


@pytest.mark.parametrize(
    ("text", "right"),
    [("kg/m3", True), ("W/m2/K", True), ("m over degC", True), ("W^0.33/m^0.66/K", True), ("-", True),
     ("kg/s/m^(7/4)", True),
     ("furlong", False), ("kg/fortnight", False), ("J/kg fuel", False), ("", False), ("Kelvin", False)],
)  # fmt: skip
def test_a_unit_is_told_from_words(text: str, right: bool) -> None:
    assert is_unit(text) == right


@pytest.mark.parametrize("name", laws())
def test_a_law_states_unit_example_and_source(name: str) -> None:
    function = law(name)
    text = inspect.getdoc(function) or ""
    parts = sections(text)
    signature = inspect.signature(function)
    said = described(parts["Parameters"])
    for key, parameter in signature.parameters.items():
        if parameter.annotation in (float, "float"):
            assert UNIT.search(said[key]), f"{key} has no unit"
    if signature.return_annotation in (float, "float"):
        assert UNIT.search(parts["Returns"]), "what it returns has no unit"
    assert ">>> " in text, "no worked example"
    source = parts.get("References") or parts.get("Sources")
    assert source, "no source"
    assert source.strip(), "no source"
    if any(parameter.annotation in (float, "float") for parameter in signature.parameters.values()):
        validity = getattr(function, "validity", None)
        assert validity, "no range of validity"
        assert set(validity) <= set(signature.parameters)


def test_public_names_are_listed_for_readers() -> None:
    """Every public name has a docstring whose first line is a sentence."""
    for name, thing in public_names():
        if not (inspect.isfunction(thing) or inspect.isclass(thing)):
            continue
        text = inspect.getdoc(thing)
        assert text, name
        first = text.splitlines()[0]
        assert first[0].isupper(), (name, first)
        assert first.endswith((".", ":")), (name, first)


def test_public_records_cannot_be_changed() -> None:
    """A dataclass that a user gets or gives is frozen."""
    for name, thing in public_names():
        if dataclasses.is_dataclass(thing):
            assert thing.__dataclass_params__.frozen, name  # type: ignore[union-attr]


def imports(path: Path) -> Iterator[str]:
    """Dotted names that a file imports, those inside functions and for type checking too."""
    for node in ast.walk(parsed(path)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def module_name(path: Path) -> str:
    return ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")


def test_no_cycle_between_files() -> None:
    """Imports inside functions, and for type checking alone, count."""
    files = {module_name(path): path for path in PACKAGE.rglob("*.py")}
    stubs = {module_name(path): path for path in PACKAGE.rglob("*.pyi")}
    uses = {
        name: sorted(
            {*imports(path), *(imports(stubs[name]) if name in stubs else ())} & set(files) - {name, "burnsim"}
        )
        for name, path in files.items()
        if name != "burnsim"  # the list of public names, found on first use
    }
    done: set[str] = set()

    def visit(name: str, way: tuple[str, ...]) -> None:
        assert name not in way, " -> ".join([*way[way.index(name) :], name])
        if name not in done:
            for used in uses.get(name, ()):
                visit(used, (*way, name))
            done.add(name)

    for name in files:
        visit(name, ())


def names_used(tree: ast.AST) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load):
            yield node.id
        elif isinstance(node, ast.Attribute):
            yield node.attr
        elif isinstance(node, ast.ImportFrom):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and node.value.isidentifier():
            yield node.value  # names in tables, such as those of the public list


def defined(path: Path) -> Iterator[str]:
    """Functions, classes and constants of a file's top level."""
    for node in parsed(path).body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            yield node.name
        elif isinstance(node, ast.Assign):
            yield from (target.id for target in node.targets if isinstance(target, ast.Name))
        elif isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
            yield node.target.id


OFFERED = frozenset({"mass_fractions", "volume_fractions", "too_rich_temperature"})
"""For users alone; the package itself does without."""


def test_no_dead_code() -> None:
    """Whatever a file of the package defines is used somewhere in the package, not by tests alone."""
    files = sorted(PACKAGE.rglob("*.py"))
    used = {name for path in [*files, *PACKAGE.rglob("*.pyi")] for name in names_used(parsed(path))}
    idle = [
        f"{path.relative_to(ROOT)}: {name}"
        for path in files
        for name in defined(path)
        if name not in used | OFFERED and not name.startswith("__")
    ]
    assert not idle, "\n".join(idle)


def test_a_kind_of_burner_is_asked_for_by_what_it_has() -> None:
    """Names of kinds stand in the table of kinds and in the designs to begin with: nowhere are they compared."""
    asked = [
        f"{path.relative_to(ROOT)}:{node.lineno}"
        for path in sorted(PACKAGE.rglob("*.py"))
        for node in ast.walk(parsed(path))
        if isinstance(node, ast.Compare)
        for side in (node.left, *node.comparators)
        if isinstance(side, ast.Constant) and side.value in KINDS
    ]
    assert not asked, asked
