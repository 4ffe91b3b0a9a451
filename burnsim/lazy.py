"""Names of a package that are loaded on first use (PEP 562), listed once: in the stub beside its `__init__`.

Type checkers read the stub as it is. At run time it is parsed, never executed: `from a.b import c as d` makes the
name `d` known, and loads `a.b` when somebody asks for it.
"""

import ast
import sys
from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from typing import Any


def attach(package: str, file: str) -> tuple[Callable[[str], Any], Callable[[], list[str]], list[str]]:
    """Functions and list that make a package lazy: `__getattr__, __dir__, __all__ = attach(__name__, __file__)`.

    The file is its `__init__.py`, with a stub beside it.
    """
    homes: dict[str, tuple[str, str]] = {}
    for node in ast.parse(Path(file).with_suffix(".pyi").read_text(encoding="utf-8")).body:
        if isinstance(node, ast.ImportFrom) and node.module:
            homes |= {alias.asname or alias.name: (node.module, alias.name) for alias in node.names}
    names = sorted(homes)

    def load(name: str) -> Any:
        if name not in homes:
            raise AttributeError(f"module {package!r} has no attribute {name!r}")
        module, attribute = homes[name]
        value = _found(module, attribute, package)
        vars(sys.modules[package])[name] = value  # so that it is found at once from now on
        return value

    return load, lambda: names, names


def _found(module: str, attribute: str, package: str) -> Any:
    if module == package:  # one of its own modules
        return import_module(f"{module}.{attribute}")
    home = import_module(module)
    return getattr(home, attribute) if hasattr(home, attribute) else import_module(f"{module}.{attribute}")
