"""The gallery: every use has a script of its own that draws, and every script takes the folder for its pictures."""

import ast
import re
from pathlib import Path

import pytest

import burnsim

SCRIPTS = sorted((Path(__file__).parents[1] / "examples").glob("*.py"))
USES = {
    "jet sweep": ("sweep", "plots.sweep"),
    "fill limit": ("find_fill_limit", "plots.fill_levels"),
    "fuels": ("compare_fuels",),
    "start map": ("map_starts", "plots.start_map"),
    "bench log": ("analyse", "plots.bench"),
    "calibration": ("calibrate", "plots.calibration"),
    "search": ("search", "plots.search"),
    "comparison": ("compare", "plots.compare"),
    "levers": ("find_levers", "plots.levers"),
    "one burn": ("burn", "plots.burn"),
}
"""What a script calls for its use, and for its picture where it draws none of its own."""
TOUR = "from_idea_to_second_build"


def called(path: Path) -> set[str]:
    """What a script calls: the last name, and "plots." before it where it is a picture."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    calls = [node.func for node in ast.walk(tree) if isinstance(node, ast.Call)]
    plain = {one.attr if isinstance(one, ast.Attribute) else getattr(one, "id", "") for one in calls}
    return plain | {
        ast.unparse(one).removeprefix("burnsim.") for one in calls if ast.unparse(one).startswith("burnsim.plots.")
    }


@pytest.mark.parametrize("use", USES)
def test_each_use_has_a_script_that_draws(use: str) -> None:
    needed = {*USES[use], "savefig"}
    own = [path.stem for path in SCRIPTS if path.stem != TOUR and needed <= called(path)]
    assert own, needed


def test_the_tour_goes_through_every_step_with_pictures() -> None:
    [tour] = [path for path in SCRIPTS if path.stem == TOUR]
    steps = {"burn", "sweep", "find_fill_limit", "predict", "analyse", "calibrate", "save_template"}
    pictures = {"plots.fill_levels", "plots.calibration", "plots.section", "plots.burn"}
    assert steps | pictures <= called(tour)


@pytest.mark.parametrize("script", SCRIPTS, ids=lambda path: path.stem)
def test_every_script_says_and_takes_its_folder(script: Path) -> None:
    text = script.read_text(encoding="utf-8")
    assert f"python examples/{script.name} [FOLDER FOR" in (ast.get_docstring(ast.parse(text)) or "")
    assert "sys.argv[1] if len(sys.argv) > 1" in text


@pytest.mark.parametrize(
    "script", [*SCRIPTS, *sorted((Path(__file__).parents[1] / "benchmarks").glob("*.py"))], ids=lambda path: path.stem
)
def test_every_public_name_that_a_script_uses_is_there(script: Path) -> None:
    used = {
        text
        for node in ast.walk(ast.parse(script.read_text(encoding="utf-8")))
        if isinstance(node, ast.Attribute) and re.fullmatch(r"burnsim(\.\w+)+", text := ast.unparse(node))
    }
    for name in used:
        found: object = burnsim
        for part in name.split(".")[1:]:
            found = getattr(found, part)
