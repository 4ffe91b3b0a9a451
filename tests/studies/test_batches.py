"""How studies burn: a guilty burn is lost alone, burns are told as they are done, spread over threads and processes.

A script without a guard runs once, whatever burns in its workers; Ctrl-C tells what is kept, and where.
"""

import subprocess
import sys
import threading
from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest
from burners import burnt

import burnsim
from burnsim import Failure, InputError, Outcome, Setup, SolverError, vary
from burnsim.solve import engines
from burnsim.studies import batches, burn_many
from burnsim.studies.batches import Refusal, burn_batch, burn_whole
from burnsim.studies.burn_many import burner_pool, sought
from burnsim.studies.counting import count, expect, watched, watching
from burnsim.studies.threshold import rounds, thresholds
from tests.studies.stand_in import design, outcome

ROOT = Path(__file__).parents[2]
CHARGES = ("10 ml", "20 ml", "30 ml")
SETUPS = [vary(design(), {"charge.volume": charge}) for charge in CHARGES]


def breaking(error: Exception, calls: list[int] | None = None) -> Callable[..., list[Outcome | Failure]]:
    """Burns, but for the second setup."""

    def run(setups: list[Setup]) -> list[Outcome | Failure]:
        if calls is not None:
            calls.append(len(setups))
        if SETUPS[1] in setups:
            raise error
        return [outcome(setup) for setup in setups]  # type: ignore[misc]

    return run


@pytest.mark.parametrize(
    ("error", "reason"),
    [(SolverError("too stiff"), "too stiff"), (ZeroDivisionError("0/0"), "internal error: ZeroDivisionError: 0/0")],
)
def test_only_the_guilty_burn_is_lost(error: Exception, reason: str) -> None:
    calls: list[int] = []
    found = burn_batch(SETUPS, breaking(error, calls))
    assert calls == [3, 1, 1, 1]
    assert found[1] == Failure(SETUPS[1], reason)
    assert [found[k].setup for k in (0, 2)] == [SETUPS[0], SETUPS[2]]
    assert not any(isinstance(found[k], Failure) for k in (0, 2))


def test_a_whole_burn_takes_machine_code_where_it_is_at_hand(monkeypatch: pytest.MonkeyPatch) -> None:
    setup = SETUPS[0]
    burnt(setup)  # compiled by now
    plain = burnsim.burn(setup)
    monkeypatch.setattr(batches, "compiled", lambda engine, components: False)
    assert burn_whole(setup).to_dict() == plain.to_dict()
    monkeypatch.undo()

    def slow(*_: object) -> None:
        raise AssertionError("it was marched in plain Python")

    monkeypatch.setattr("burnsim.solve.many.marched", slow)
    found = burn_whole(setup)
    assert found.series("power") == pytest.approx(plain.series("power"), rel=1e-9)
    assert found.series("time") == pytest.approx(plain.series("time"), rel=1e-9)


def test_a_refused_setup_is_an_error_or_is_kept() -> None:
    error = InputError("charge.volume", 20e-6, "is refused", "pour less")
    with pytest.raises(InputError, match="is refused"):
        burn_batch(SETUPS, breaking(error))
    found = burn_batch(SETUPS, breaking(error), keep_refusals=True)
    assert found[1] == Refusal(SETUPS[1], str(error))
    assert not isinstance(found[0], Failure)


def test_nothing_to_burn() -> None:
    assert burn_batch([], breaking(ValueError())) == []


def test_few_burns_compile_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    compiled: list[Setup] = []
    monkeypatch.setattr(engines, "_compile_for", compiled.append)
    assert engines.prepare(SETUPS, engines.WORTH_COMPILING - 1) == "auto"
    assert compiled == []
    assert engines.prepare(SETUPS, engines.WORTH_COMPILING) == "compiled"
    assert compiled == SETUPS


def test_a_search_burns_on_without_a_compiler(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(setup: Setup) -> None:
        raise OSError("no compiler")

    monkeypatch.setattr(engines, "_compile_for", refuse)
    setups = [vary(burnsim.load(ROOT / "examples" / "garden_open_cup.toml"), {"charge.volume": "2 ml", "pot": None})]
    with pytest.warns(RuntimeWarning, match="no compiler"), burner_pool(engines.WORTH_COMPILING, 1) as engine:
        (found,) = engine(setups, ())
    assert isinstance(found, Outcome)
    assert found.duration == burnsim.burn(setups[0]).duration


def test_a_search_expects_what_bisection_takes(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(burn_many, "prepare", lambda setups, burns: "plain")
    monkeypatch.setattr(burn_many, "burn_many", lambda setups, **_: [outcome(setup) for setup in setups])
    told: list[tuple[int, int]] = []
    with watched(lambda done, total: told.append((done, total))):
        found, seen = sought(
            [(0.0, 8.0)] * 2, [0, 1], lambda k, value: design(), lambda k, _: False, points=9, tolerance=0.25
        )
    assert {total for _, total in told[:-1]} == {2 * (9 + 2)}  # steps of 1, halved twice
    assert len(seen) == 2 * 9  # as no answer changes, nothing is halved
    assert [one.yes for one in found] == [None, None]


def test_what_burns_may_travel() -> None:
    import pickle

    run = partial(burnsim.burn_many, water_at=(1.0,), engine="auto")
    assert pickle.loads(pickle.dumps(partial(burn_batch, run=run))).keywords["run"].keywords == run.keywords


DESIGN = Path(__file__).parents[2] / "examples" / "garden_open_cup.toml"


def test_nobody_watches() -> None:
    expect(3)
    count()
    assert not watching()
    with watched(None):
        assert not watching()


def test_every_burn_is_told_and_the_end() -> None:
    told: list[tuple[int, int]] = []
    with watched(lambda done, total: told.append((done, total))):
        expect(3)
        count()
        count()
    assert told == [(1, 3), (2, 3), (2, 2)]
    assert not watching()


def test_more_than_expected_never_looks_done() -> None:
    told: list[tuple[int, int]] = []
    with watched(lambda done, total: told.append((done, total))):
        expect(1)
        count()
        count()
    assert told == [(2, 3), (2, 2)]


def test_watched_burns_are_the_same() -> None:
    setup = burnsim.load(DESIGN)
    setups = [burnsim.vary(setup, {"charge.volume": volume}) for volume in (5e-6, 8e-6)]
    alone = burn_batch(setups)
    told: list[int] = []
    with watched(lambda done, total: told.append(done)):
        seen = burn_batch(setups)
    assert told == [1, 2, 2]
    assert [one.milestones for one in alone if not isinstance(one, Failure)] == [
        one.milestones for one in seen if not isinstance(one, Failure)
    ]


def test_a_pool_expects_its_burns() -> None:
    setup = burnsim.load(DESIGN)
    told: list[tuple[int, int]] = []
    with watched(lambda done, total: told.append((done, total))), burner_pool(4, 1) as engine:
        engine([setup] * 2, ())
    assert told == [(1, 4), (2, 4), (2, 2)]


def test_rounds_bound_what_a_search_asks() -> None:
    for tolerance in (0.3, 0.05, 0.01, 1e-4):
        for limit in (0.07, 0.31, 0.9999):
            asked: list[float] = []

            def ask(batch: object, limit: float = limit, asked: list[float] = asked) -> list[bool]:
                values = [value for _, value in batch]  # type: ignore[attr-defined]
                asked += values
                return [value > limit for value in values]

            thresholds(ask, [(0.0, 1.0)], points=5, tolerance=tolerance)
            assert len(asked) == 5 + rounds(0.0, 1.0, 5, tolerance)


ROOT = Path(__file__).parents[2]
SCRIPT = """
import sys
sys.path.insert(0, {root!r})
import burnsim
from burnsim.studies import burn_many
print("once", flush=True)
made, process_pool = [], burn_many.process_pool
burn_many.process_pool = lambda workers: made.append(workers) or process_pool(workers)
burn_many.WORTH_A_PROCESS = {worth}
burn_many.prepare = lambda setups, burns: "plain"
cup = {{"kind": "open cup", "outer_diameter": "60 mm", "height": "30 mm"}}
setup = burnsim.Setup.from_dict({{"burner": cup, "charge": {{"fuel": "ethanol", "volume": "0.5 ml"}}}})
found = burnsim.predict(setup, n={n}{workers})
print(found.n, made)
if made:
    alone = burnsim.predict(setup, n={n}, workers=1)
    assert (found.figures["burnout"] == alone.figures["burnout"]).all()
"""


@pytest.mark.parametrize(("n", "worth", "pools"), [(8, 16, []), (32, 16, [2])], ids=["alone", "two processes"])
def test_an_unguarded_script_may_predict(tmp_path: Path, n: int, worth: int, pools: list[int]) -> None:
    script = tmp_path / "script.py"
    workers = ", workers=2" if pools else ""  # whatever the machine has
    script.write_text(SCRIPT.format(root=str(ROOT), n=n, worth=worth, workers=workers), encoding="utf-8")
    done = subprocess.run([sys.executable, str(script)], capture_output=True, text=True, check=False, timeout=300)
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""
    assert done.stdout == f"once\n{n} {pools}\n"


def test_threads_burn_as_one(monkeypatch: pytest.MonkeyPatch) -> None:
    """Machine code runs in threads: the same results in the same order, whoever burns what."""
    cup = {"kind": "open cup", "outer_diameter": "60 mm", "height": "30 mm"}
    base = burnsim.Setup.from_dict({"burner": cup, "charge": {"fuel": "ethanol", "volume": "0.5 ml"}})
    setups = [burnsim.vary(base, {"charge.volume": (0.3 + 0.01 * k) * 1e-6}) for k in range(50)]
    names = set()
    real = burn_many.burn_batch

    def watched(batch: list[Setup], run: batches.Run) -> list[Outcome | Failure]:
        names.add(threading.current_thread().name)
        return real(batch, run)

    monkeypatch.setattr(burn_many, "burn_batch", watched)
    with burn_many.burner_pool(len(setups), 2) as engine:
        spread = engine(setups, ())
    assert names
    assert threading.main_thread().name not in names
    alone = burn_many.burn_all(setups)
    assert [one.milestones for one in spread] == [one.milestones for one in alone]


CUP = burnsim.Setup.from_dict(
    {
        "burner": {"kind": "open cup", "outer_diameter": "60 mm", "height": "30 mm"},
        "charge": {"fuel": "ethanol", "volume": "0.5 ml"},
    }
)
VOLUMES = {"charge.volume": ["0.5 ml", "0.6 ml", "0.7 ml", "0.8 ml"]}


def stop_at(designs: int) -> Callable[[int, int], None]:
    def report(done: int, total: int) -> None:
        if done >= designs:
            raise KeyboardInterrupt

    return report


def test_a_stopped_sweep_tells_where_its_work_is_kept(tmp_path: Path) -> None:
    out = tmp_path / "cup.nc"
    with pytest.raises(KeyboardInterrupt, match=r"2 of 4 designs are kept in .*cup\.nc\.parts; .* goes on from there"):
        burnsim.sweep(CUP, VOLUMES, out=out, chunk=1, workers=1, progress=stop_at(2))
    assert (tmp_path / "cup.nc.parts").is_dir()
    assert burnsim.sweep(CUP, VOLUMES, out=out, workers=1, progress=False).sizes == {"charge.volume": 4}


def test_a_stopped_sweep_without_a_file_tells_how_to_keep_it() -> None:
    with pytest.raises(KeyboardInterrupt, match="nothing is kept: give out= a file"):
        burnsim.sweep(CUP, VOLUMES, chunk=1, workers=1, progress=stop_at(2))


def test_any_other_study_tells_that_nothing_is_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    def stopped(*given: object, **named: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("burnsim.studies.burn_many.burn_many", stopped)
    with pytest.raises(KeyboardInterrupt, match="nothing is kept of a study that is stopped"):
        burnsim.predict(CUP, n=8, workers=1)
