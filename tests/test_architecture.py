"""The house: what docstrings say; no layer imports from above, no cycle between files, no dead code."""

import ast
import dataclasses
import importlib
import inspect
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from sources import FILES, PACKAGE, ROOT, STUBS, imports, module_name, parsed

import burnsim
from burnsim import closures
from burnsim.model.description.kinds import KINDS

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
    return getattr(importlib.import_module(f"burnsim.closures.{closures._HOME[name]}"), name)  # type: ignore[no-any-return]


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


LAYERS = {
    "errors": 0,
    "io": 0,
    "bounds": 0,
    "elementary": 0,
    "constants": 0,
    "records": 0,
    "slopes": 0,
    "units": 0,
    "answers": 0,
    "lazy": 0,
    "measures": 0,
    "substances": 1,
    "closures": 2,
    "model": 3,
    "solve": 4,
    "studies": 5,
}
HIGHEST = 6


def layer(module: str) -> int:
    """Floor of a dotted module name inside the package; the bare package counts as a face."""
    parts = module.split(".")
    return LAYERS.get(parts[1], HIGHEST) if len(parts) > 1 else HIGHEST


def test_no_layer_imports_from_above() -> None:
    broken = []
    for path in (*FILES, *STUBS):
        if path.parent == PACKAGE and path.stem == "__init__":
            continue
        here = layer(module_name(path))
        broken += [
            f"{path.relative_to(ROOT)} (layer {here}) imports {name} (layer {layer(name)})"
            for name in imports(path)
            if name.split(".")[0] == "burnsim" and layer(name) > here
        ]
    assert not broken, "\n".join(broken)


def test_only_one_module_imports_cantera() -> None:
    modules = [
        str(path.relative_to(PACKAGE))
        for path in FILES
        if any(name.split(".")[0] == "cantera" for name in imports(path))
    ]
    assert all(module.startswith("closures/combustion") for module in modules), modules


def test_files_stay_short_and_are_not_called_utils() -> None:
    for path in FILES:
        assert path.stem not in {"utils", "util", "helpers", "misc"}, path
        assert len(path.read_text(encoding="utf-8").splitlines()) <= 600, path


def test_folders_stay_small() -> None:
    """No folder but that of the laws has more than 15 files."""
    for folder in (PACKAGE, *(path for path in PACKAGE.rglob("*") if path.is_dir())):
        if folder.name not in ("closures", "__pycache__"):
            assert len(list(folder.glob("*.py"))) <= 15, folder


def test_no_cycle_between_files() -> None:
    """Imports inside functions, and for type checking alone, count."""
    files = {module_name(path): path for path in FILES}
    stubs = {module_name(path): path for path in STUBS}
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


def test_no_dead_code() -> None:
    """Whatever a file of the package defines is used somewhere in the package, not by tests alone."""
    used = {name for path in (*FILES, *STUBS) for name in names_used(parsed(path))}
    idle = [
        f"{path.relative_to(ROOT)}: {name}"
        for path in FILES
        for name in defined(path)
        if name not in used and not name.startswith("__")
    ]
    assert not idle, "\n".join(idle)


def test_a_kind_of_burner_is_asked_for_by_what_it_has() -> None:
    """Names of kinds stand in the table of kinds and in the designs to begin with: nowhere are they compared."""
    asked = [
        f"{path.relative_to(ROOT)}:{node.lineno}"
        for path in FILES
        for node in ast.walk(parsed(path))
        if isinstance(node, ast.Compare)
        for side in (node.left, *node.comparators)
        if isinstance(side, ast.Constant) and side.value in KINDS
    ]
    assert not asked, asked
