"""`import burnsim` is light, and every public name is found."""

import os
import subprocess
import sys
import tomllib
from pathlib import Path
from types import ModuleType

import pytest

import burnsim

ROOT = Path(__file__).parents[1]

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


@pytest.mark.parametrize("name", [name for name in burnsim.__all__ if isinstance(getattr(burnsim, name), ModuleType)])
def test_a_namespace_completes_to_its_public_names_only(name: str) -> None:
    face = getattr(burnsim, name)
    assert dir(face) == sorted(face.__all__)


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
