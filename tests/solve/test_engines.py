"""The choice of engines, and what happens where there is no compiler, no cache folder, or no solution."""

import itertools
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest

import burnsim
from burnsim.errors import SolverError
from burnsim.model.description.setup import Setup
from burnsim.solve import engines
from burnsim.solve.compile import engine, loop
from burnsim.solve.compile.engine import Place
from burnsim.solve.run import ready
from burnsim.units import plain

WEEKEND = burnsim.load(Path(__file__).parents[2] / "examples" / "weekend_double_wall.toml")
DARK = burnsim.vary(WEEKEND, {"charge.primer": 0.0})
MANY = engines.WORTH_COMPILING


class Compiler:
    """Stands in for the compiled march: it counts calls, and may fail."""

    def __init__(self, error: Exception | None = None) -> None:
        self.error = error
        self.calls = 0

    def __call__(self, start: object, rtol: float, asked: Sequence[float] = ()) -> object:
        self.calls += 1
        if self.error is not None:
            raise self.error
        return None


def cold(monkeypatch: pytest.MonkeyPatch, compiler: Compiler, warm: bool = False) -> None:
    """A process that has compiled nothing, with or without machine code in its cache."""
    monkeypatch.setattr(engines, "_ready", set())
    monkeypatch.setattr(engine, "place", lambda components: Place(None, warm))
    monkeypatch.setattr(engine, "march_compiled", compiler)


def test_few_burns_take_machine_code_only_where_it_lies_ready(monkeypatch: pytest.MonkeyPatch) -> None:
    cold(monkeypatch, Compiler())
    assert not engines.compiled("auto", 1, MANY - 1)
    assert engines.prepare([WEEKEND], MANY - 1) == "auto"
    assert engines.compiled("auto", 1, MANY)
    engines._ready.add(1)
    assert engines.compiled("auto", 1, 1)
    assert not engines.compiled("auto", 2, 1)
    cold(monkeypatch, Compiler(), warm=True)
    assert engines.compiled("auto", 2, 1)


def test_an_engine_that_is_named_is_taken(monkeypatch: pytest.MonkeyPatch) -> None:
    cold(monkeypatch, Compiler())
    assert engines.compiled("compiled", 1, 1)
    assert not engines.compiled("plain", 1, 10 * MANY)


def test_each_kind_of_fuel_is_compiled_once(monkeypatch: pytest.MonkeyPatch) -> None:
    compiler = Compiler()
    cold(monkeypatch, compiler)
    other = burnsim.vary(WEEKEND, {"charge.fuel": "ethanol 95"})
    assert engines.prepare([WEEKEND, other, WEEKEND], MANY) == "compiled"
    assert compiler.calls == 2
    assert engines.prepare([other], MANY) == "compiled"
    assert compiler.calls == 2


def test_what_lies_in_the_cache_is_not_compiled(monkeypatch: pytest.MonkeyPatch) -> None:
    compiler = Compiler()
    cold(monkeypatch, compiler, warm=True)
    assert engines.prepare([WEEKEND], MANY) == "compiled"
    assert compiler.calls == 0


def test_a_burn_that_nothing_lights_compiles_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    compiler = Compiler()
    cold(monkeypatch, compiler)
    assert engines.prepare([DARK], MANY) == "compiled"
    assert compiler.calls == 0
    assert engines._ready == set()


def test_a_burn_that_cannot_be_solved_has_compiled_all_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    cold(monkeypatch, Compiler(SolverError("no step is short enough at 3 s")))
    assert engines.prepare([WEEKEND], MANY) == "compiled"
    assert engines._ready == {1}


def test_without_a_compiler_burns_run_plain_with_a_warning(monkeypatch: pytest.MonkeyPatch) -> None:
    cold(monkeypatch, Compiler(OSError("no room on the disk\nat all")))
    with pytest.warns(RuntimeWarning, match=r"cannot be compiled here \(OSError: no room on the disk\); plain Python"):
        assert engines.prepare([WEEKEND], MANY) == "plain"
    assert engines._ready == set()


@pytest.mark.parametrize("code", sorted(engine.FAILURES))
def test_the_compiled_march_says_what_the_plain_one_would(monkeypatch: pytest.MonkeyPatch, code: int) -> None:
    def fails(*given: object) -> int:
        (book,) = (one for one in given if isinstance(one, loop.Book))
        book.times[:3] = 0.0, 1.5, 12.25
        book.counts[loop.TIMES] = 3
        return code

    monkeypatch.setattr(engine, "compiled_run", lambda components: fails)
    with pytest.raises(SolverError, match=f"^{engine.FAILURES[code]} at 12.25 s$"):
        engine.march_compiled(ready(WEEKEND), 1e-4)
    (found,) = burnsim.outcomes([WEEKEND], engine="compiled")
    assert isinstance(found, burnsim.Failure)
    assert found.reason == f"{engine.FAILURES[code]} at 12.25 s"


def test_every_end_of_the_compiled_march_has_its_words() -> None:
    assert not set(engine.ENDS) & set(engine.FAILURES)
    for one, other in itertools.combinations([*engine.ENDS.values(), *engine.FAILURES.values()], 2):
        assert one != other


def test_nothing_lit_is_no_march() -> None:
    with pytest.raises(SolverError, match="nothing was lit"):
        engine.march_compiled(ready(DARK), 1e-4)


def fresh(monkeypatch: pytest.MonkeyPatch, folder: Path | None) -> Any:
    """The place of the written module in another cache folder, not remembered."""
    monkeypatch.setattr(engine, "cache_folder", lambda: folder)
    return engine.place.__wrapped__(1)


def test_a_module_lies_in_the_cache_folder_under_its_own_hash(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    one = fresh(monkeypatch, tmp_path)
    assert not one.warm
    assert one.path.parent == tmp_path / "native"
    assert one.path == fresh(monkeypatch, tmp_path).path
    monkeypatch.setattr(engine, "version", lambda name: "0.0")
    assert one.path != fresh(monkeypatch, tmp_path).path  # another compiler, another module


def test_machine_code_without_its_module_is_not_warm(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    path = fresh(monkeypatch, tmp_path).path
    beside = path.parent / "__pycache__"
    beside.mkdir()
    (beside / f"{path.stem}.{engine.ENTRY}-1.py311.1.nbc").write_bytes(b"")
    assert not fresh(monkeypatch, tmp_path).warm
    path.write_text("")
    assert fresh(monkeypatch, tmp_path).warm


def test_where_nothing_can_be_kept_there_is_no_place(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    file = tmp_path / "no_folder"
    file.write_text("in the way")
    assert fresh(monkeypatch, file) == Place(None, False)
    assert fresh(monkeypatch, None) == Place(None, False)
    monkeypatch.setattr("os.access", lambda path, mode: False)
    assert fresh(monkeypatch, tmp_path) == Place(None, False)


TEXT = "def {name}():\n    return 7\n"


def written(monkeypatch: pytest.MonkeyPatch, place: Place) -> Any:
    """The march of one component from a text of one line, with a decorator that compiles nothing."""
    monkeypatch.setattr(engine, "place", lambda components: place)
    monkeypatch.setattr(engine, "HEAD", "kept = {cached}\nname = {entry!r}\n")
    monkeypatch.setattr(engine, "module_text", lambda roots, components: TEXT.format(name=engine.ENTRY))
    return engine.compiled_run.__wrapped__(1)


def test_without_a_folder_the_march_lives_in_this_process(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    run = written(monkeypatch, Place(None, False))
    assert run() == 7
    assert run.__globals__["kept"] is False
    assert plain(capsys.readouterr().err) == (
        "burnsim: compiling the march for 1 component(s); this takes up to a minute, once\n"
    )


def test_a_module_is_written_once_and_read_again(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    path = tmp_path / "march_test_of_engines.py"
    run = written(monkeypatch, Place(path, False))
    assert run() == 7
    assert run.__globals__["kept"] is True
    assert "compiling" in plain(capsys.readouterr().err)
    assert [file.name for file in tmp_path.glob("*.py")] == [path.name]
    assert not list(tmp_path.glob("*.tmp"))
    path.write_text(path.read_text().replace("7", "8"))
    sys.modules.pop(f"burnsim_{path.stem}")
    assert written(monkeypatch, Place(path, True))() == 8
    assert plain(capsys.readouterr().err) == ""
    sys.modules.pop(f"burnsim_{path.stem}")


def test_a_module_that_python_cannot_read_is_an_error(tmp_path: Path) -> None:
    with pytest.raises(SolverError, match=r"the compiled module .*march\.txt cannot be read"):
        engine._load(tmp_path / "march.txt")


def test_many_setups_of_several_fuels_are_held_in_order() -> None:
    setups: list[Setup] = [DARK, burnsim.vary(DARK, {"charge.fuel": "ethanol 95"})]
    found = burnsim.outcomes(setups)
    assert [one.setup for one in found] == setups
    assert [one.ended for one in found if isinstance(one, burnsim.Outcome)] == ["never lit", "never lit"]
