"""The package's own files as syntax trees, read once for all tests of how it is built."""

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "burnsim"
FILES = tuple(sorted(PACKAGE.rglob("*.py")))
STUBS = tuple(sorted(PACKAGE.rglob("*.pyi")))


@cache
def parsed(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def module_name(path: Path) -> str:
    return ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")


def imports(path: Path) -> Iterator[str]:
    """Dotted names that a file imports, those inside functions and for type checking too; of the package its parts."""
    for node in ast.walk(parsed(path)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.module is not None, f"{path}: {ast.unparse(node)}"
            yield from ([node.module] if node.module != "burnsim" else [])
            yield from (f"{node.module}.{alias.name}" for alias in node.names)
