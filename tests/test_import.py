"""The house: `import burnsim` is light, every public name is found, and no layer imports from above."""

import ast
import os
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

import pytest

import burnsim

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "burnsim"

HEAVY = (
    "matplotlib",
    "cantera",
    "pint",
    "pandas",
    "scipy",
    "thermo",
    "chemicals",
    "fluids",
    "ht",
    "CoolProp",
    "llvmlite",
    "xarray",
)
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


def loaded_after(statement: str) -> set[str]:
    code = f"import sys\n{statement}\nprint(*sys.modules, sep='\\n')"
    run = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        check=True,
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )
    return set(run.stdout.split())


def test_import_is_light() -> None:
    assert not loaded_after("import burnsim") & set(HEAVY)


def test_descriptions_are_light() -> None:
    heavy = set(HEAVY) - {"scipy"}
    assert not loaded_after("import burnsim; burnsim.Burner; burnsim.vary; burnsim.blend('ethanol 95')") & heavy


def test_solving_is_light() -> None:
    assert not loaded_after("import burnsim; burnsim.burn; burnsim.load") & (set(HEAVY) - {"scipy"})


def test_every_public_name_is_found_and_listed() -> None:
    for name in burnsim.__all__:
        assert getattr(burnsim, name) is not None
        assert name in dir(burnsim)
    assert not hasattr(burnsim, "no_such_name")


FACES = (
    "bench", "calibration", "comparisons", "fill", "fuels", "levers", "materials", "papers", "plots", "predictions",
    "searches", "starts", "sweeps",
)  # fmt: skip


@pytest.mark.parametrize("name", FACES)
def test_a_namespace_has_what_its_stub_lists(name: str) -> None:
    face = getattr(burnsim, name)
    assert isinstance(face, ModuleType)
    for one in face.__all__:
        assert not isinstance(getattr(face, one), ModuleType), f"{name}.{one} is hidden by a file of that name"
    assert not hasattr(face, "no_such_name")


def test_the_top_is_small() -> None:
    """A user can read the list of public names."""
    assert sum(not isinstance(getattr(burnsim, name), ModuleType) for name in burnsim.__all__) <= 41


def test_version_is_that_of_the_package() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert burnsim.__version__ == project["version"]


def layer(module: str) -> int:
    """Floor of a dotted module name inside the package; the bare package counts as a face."""
    parts = module.split(".")
    return LAYERS.get(parts[1], HIGHEST) if len(parts) > 1 else HIGHEST


def imports(path: Path) -> Iterator[str]:
    """Dotted names that a file imports, those inside functions and for type checking too."""
    module = ".".join(path.relative_to(ROOT).with_suffix("").parts)
    package = module.removesuffix(".__init__") if path.stem == "__init__" else module.rpartition(".")[0]
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            if node.level:
                above = package.split(".")[: len(package.split(".")) - node.level + 1]
                base = ".".join([*above, *([base] if base else [])])
            if base == "burnsim":  # `from burnsim import units` names a module
                yield from (f"burnsim.{alias.name}" for alias in node.names)
            else:
                yield base


def test_no_layer_imports_from_above() -> None:
    broken = []
    for path in sorted([*PACKAGE.rglob("*.py"), *PACKAGE.rglob("*.pyi")]):
        if path.parent == PACKAGE and path.stem == "__init__":
            continue
        here = layer(".".join(path.relative_to(ROOT).with_suffix("").parts))
        broken += [
            f"{path.relative_to(ROOT)} (layer {here}) imports {name} (layer {layer(name)})"
            for name in imports(path)
            if name.split(".")[0] == "burnsim" and layer(name) > here
        ]
    assert not broken, "\n".join(broken)


def test_only_one_module_imports_cantera() -> None:
    modules = [
        str(path.relative_to(PACKAGE))
        for path in sorted(PACKAGE.rglob("*.py"))
        if any(name.split(".")[0] == "cantera" for name in imports(path))
    ]
    assert all(module.startswith("closures/combustion") for module in modules), modules


def test_files_stay_short_and_are_not_called_utils() -> None:
    for path in sorted(PACKAGE.rglob("*.py")):
        assert path.stem not in {"utils", "util", "helpers", "misc"}, path
        assert len(path.read_text(encoding="utf-8").splitlines()) <= 600, path


def test_folders_stay_small() -> None:
    """No folder but that of the laws has more than 15 files."""
    for folder in (PACKAGE, *(path for path in PACKAGE.rglob("*") if path.is_dir())):
        if folder.name not in ("closures", "__pycache__"):
            assert len(list(folder.glob("*.py"))) <= 15, folder
