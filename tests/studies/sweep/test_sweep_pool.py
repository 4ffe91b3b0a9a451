"""Sweeps over many workers: nothing lost or doubled, whoever dies and whenever it stops; memory stays flat."""

import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from concurrent.futures import Executor, Future, ProcessPoolExecutor, ThreadPoolExecutor
from functools import partial
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import xarray as xr
from burners import ENVIRONMENT

from burnsim import Failure, InputError, Outcome, Setup, SolverError, burn_many, sweep
from burnsim.io.progress import Bar
from burnsim.studies.sweep import pool as pools
from burnsim.studies.sweep.files import load_sweep
from burnsim.studies.sweep.pool import Task, compute, own_executor
from burnsim.studies.sweep.run import parts_folder

HERE = Path(__file__).parent
COUNT, DIAMETER = "burner.jets.count", "burner.jets.diameter"
VALUES = {COUNT: range(10, 20), DIAMETER: [0.8e-3, 0.9e-3, 1.0e-3, 1.1e-3]}


@pytest.fixture(scope="module")
def engines() -> Iterator[Any]:
    """The engines, where workers find them too."""
    with pytest.MonkeyPatch.context() as patch:
        patch.syspath_prepend(str(HERE))
        import sweep_engines  # type: ignore[import-not-found]

        yield sweep_engines


def design() -> Setup:
    burner = {"kind": "sealed chamber", "outer_diameter": "60 mm", "height": "30 mm"}
    jets = {"count": 12, "diameter": "1 mm", "direction": "top"}
    return Setup.from_dict({"burner": burner | {"jets": jets}, "charge": {"fuel": "ethanol", "volume": "20 ml"}})


@pytest.fixture(scope="module")
def template() -> Outcome:
    (found,) = burn_many([design()])
    assert isinstance(found, Outcome)
    return found


def run(engine: Callable[..., Any], values: Any = None, **options: Any) -> xr.Dataset:
    """A sweep with an engine of the tests."""
    return sweep(design(), values or VALUES, engine=engine, **{"workers": 2, "chunk": 3, "progress": False, **options})


def wanted() -> np.ndarray:
    """The mark that `sweep_engines.mark` leaves for each design of `VALUES`."""
    return np.array([[1000.0 * count + 1e5 * diameter for diameter in VALUES[DIAMETER]] for count in VALUES[COUNT]])


def assert_whole(found: xr.Dataset) -> None:
    assert (found.status == "solved").all()
    np.testing.assert_allclose(found.duration, wanted(), rtol=1e-12)


@pytest.mark.parametrize("workers", [1, 2])
def test_every_design_lands_in_its_place(engines: Any, template: Outcome, workers: int) -> None:
    calls: list[tuple[int, int]] = []
    found = run(partial(engines.quick, template), workers=workers, progress=lambda *call: calls.append(call))
    assert_whole(found)
    assert calls[0] == (0, 40)
    assert calls[-1] == (40, 40)
    assert calls == sorted(calls)


def test_any_executor_will_do(engines: Any, template: Outcome) -> None:
    with ThreadPoolExecutor(2) as threads:
        assert_whole(run(partial(engines.quick, template), executor=threads))
        assert threads.submit(int, "3").result() == 3  # it is the caller's still


def test_a_killed_worker_loses_nothing(engines: Any, template: Outcome, tmp_path: Path) -> None:
    flag = tmp_path / "killed"
    found = run(partial(engines.die_once, template, flag), out=tmp_path / "sweep.csv")
    assert flag.exists()
    assert_whole(found)


def test_a_design_that_kills_its_workers_is_a_row_with_a_reason(engines: Any, template: Outcome) -> None:
    values = {COUNT: [11, engines.DEADLY, 15], DIAMETER: [0.8e-3, 0.9e-3]}
    found = run(partial(engines.die_always, template), values, chunk=2)
    assert found.status.sel({COUNT: engines.DEADLY}).values.tolist() == ["failed", "failed"]
    assert set(found.reason.sel({COUNT: engines.DEADLY}).values.tolist()) == {"its worker died"}
    assert (found.status.drop_sel({COUNT: engines.DEADLY}) == "solved").all()


def test_workers_that_all_die_are_an_error(engines: Any, template: Outcome) -> None:
    with pytest.raises(SolverError, match="no worker could do its work"):
        run(partial(engines.die_always, template), {COUNT: [engines.DEADLY]}, chunk=1, executor=pool)


def pool() -> Executor:
    import multiprocessing

    return ProcessPoolExecutor(1, mp_context=multiprocessing.get_context("spawn"))


def test_an_engine_that_breaks_down_loses_only_the_guilty_design(engines: Any, template: Outcome) -> None:
    found = run(partial(engines.stumble, template), workers=1, chunk=40)
    row = found.sel({COUNT: engines.DEADLY}).isel({DIAMETER: 0})
    assert row.status.item() == "failed"
    assert row.reason.item() == row.boil_reason.item() == "internal error: ZeroDivisionError: over one jet too many"
    assert found.reason.sel({COUNT: engines.DEADLY + 1}).values.tolist() == ["no step was small enough"] * 4
    assert (found.status == "failed").sum() == 8
    assert np.isnan(found.duration.sel({COUNT: engines.DEADLY})).all()


class Broken(ThreadPoolExecutor):
    """Breaks after some chunks."""

    def __init__(self, good: int) -> None:
        super().__init__(1)
        self.good = good

    def submit(self, fn: Any, /, *args: Any, **kwargs: Any) -> Future[Any]:
        from concurrent.futures.thread import BrokenThreadPool

        self.good -= 1
        if self.good < 0:
            raise BrokenThreadPool("worn out")
        return super().submit(fn, *args, **kwargs)


def test_an_executor_that_breaks_for_good_keeps_what_is_done(engines: Any, template: Outcome, tmp_path: Path) -> None:
    out, log = tmp_path / "sweep.csv", tmp_path / "log"
    engine = partial(engines.count_calls, template, log)
    with Broken(4) as executor, pytest.raises(SolverError, match="worn out"):
        run(engine, out=out, executor=executor, workers=1)
    assert not out.exists()
    done = len(list(parts_folder(out).glob("*.npz")))
    assert done >= 2
    assert_whole(run(engine, out=out, workers=1).load())
    assert not parts_folder(out).exists()


def interrupted(tmp_path: Path, signum: int, wait_for: int) -> tuple[Path, int]:
    """Start a sweep in another process, as a plain script without a guard, and stop it midway."""
    out, log, go = tmp_path / "sweep.nc", tmp_path / "log", tmp_path / "go"
    script = tmp_path / "script.py"
    script.write_text(
        f"""
import sys
sys.path[:0] = [{str(HERE)!r}, {str(HERE.parents[2])!r}]
import pickle
from functools import partial
from pathlib import Path
import sweep_engines
import burnsim
base, template = pickle.loads(Path({str(tmp_path / "pickle")!r}).read_bytes())
values = {{"{COUNT}": range(10, 20), "{DIAMETER}": [0.8e-3, 0.9e-3, 1.0e-3, 1.1e-3]}}
engine = partial(sweep_engines.count_and_hold, template, Path({str(log)!r}), Path({str(go)!r}), {wait_for + 2})
burnsim.sweep(base, values, engine=engine, workers=2, out={str(out)!r}, chunk=1, progress=False)
"""
    )
    process = subprocess.Popen(
        [sys.executable, str(script)], env=ENVIRONMENT,
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, start_new_session=True,
    )  # fmt: skip
    while len(list(parts_folder(out).glob("*.npz"))) < wait_for and process.poll() is None:
        time.sleep(0.01)  # two more are in hand, and held: however slow the machine, the sweep is not done too soon
    os.killpg(process.pid, signum)  # as a terminal does: to the workers too
    go.touch()
    _, said = process.communicate()
    assert process.returncode != 0, said.decode()
    assert said.decode().count("Traceback") == (1 if signum == signal.SIGINT else 0), said.decode()
    return out, len(list(parts_folder(out).glob("*.npz")))


@pytest.mark.parametrize("signum", [signal.SIGINT, signal.SIGKILL])
def test_a_stopped_sweep_goes_on_where_it_was(engines: Any, template: Outcome, tmp_path: Path, signum: int) -> None:
    import pickle

    (tmp_path / "pickle").write_bytes(pickle.dumps((design(), template)))
    out, kept = interrupted(tmp_path, signum, 6)
    assert 6 <= kept < 40
    assert not out.exists()
    log = tmp_path / "log"
    before = log.read_text().splitlines()
    if signum == signal.SIGINT:
        assert kept == len(before)  # nothing computed is lost
    else:
        assert kept >= len(before) - 2  # but what the two workers had in hand
    found = run(partial(engines.count_calls, template, log), out=out, workers=1).load()
    assert_whole(found)
    after = log.read_text().splitlines()[len(before) :]
    assert len(after) == 40 - kept
    assert sorted({*before, *after}, key=float) == [f"{mark:.3f}" for mark in sorted(wanted().ravel())]
    xr.testing.assert_identical(found, run(partial(engines.quick, template), workers=1))


def test_parts_of_another_sweep_are_not_mixed_in(engines: Any, template: Outcome, tmp_path: Path) -> None:
    out = tmp_path / "sweep.csv"
    quick = partial(engines.quick, template)
    with Broken(3) as executor, pytest.raises(SolverError):
        run(quick, out=out, executor=executor, workers=1)
    other = {COUNT: range(11, 20), DIAMETER: [0.8e-3]}
    with pytest.raises(InputError, match="holds part of another sweep"):
        run(quick, other, out=out)
    assert run(quick, other, out=out, resume=False).sizes == {COUNT: 9, DIAMETER: 1}
    assert [path.name for path in tmp_path.iterdir()] == [out.name]


@pytest.mark.parametrize("ending", ["csv", "nc"])
def test_a_finished_file_of_another_sweep_is_not_written_over(
    engines: Any, template: Outcome, tmp_path: Path, ending: str
) -> None:
    out = tmp_path / f"sweep.{ending}"
    quick = partial(engines.quick, template)
    run(quick, out=out, workers=1).close()
    before = out.read_bytes()
    other = {COUNT: range(11, 20), DIAMETER: [0.8e-3]}
    with pytest.raises(InputError, match="holds another sweep"):
        run(quick, other, out=out, workers=1)
    assert (out.read_bytes(), list(tmp_path.iterdir())) == (before, [out])
    assert_whole(run(quick, out=out, workers=1).load())  # the same sweep may
    out.write_text("time [min], water [degC]\n0, 12\n")
    with pytest.raises(InputError, match="is there already, and is no sweep that can be read"):
        run(quick, other, out=out, workers=1)
    assert out.read_text().startswith("time")
    assert run(quick, other, out=out, workers=1, resume=False).sizes == {COUNT: 9, DIAMETER: 1}


def test_a_damaged_part_is_done_again(engines: Any, template: Outcome, tmp_path: Path) -> None:
    out = tmp_path / "sweep.csv"
    quick = partial(engines.quick, template)
    with Broken(4) as executor, pytest.raises(SolverError):
        run(quick, out=out, executor=executor, workers=1)
    first, *_ = sorted(parts_folder(out).glob("*.npz"))
    first.write_bytes(first.read_bytes()[:100])
    assert_whole(run(quick, out=out, workers=1).load())


def test_an_unguarded_script_may_sweep(tmp_path: Path) -> None:
    script = tmp_path / "script.py"
    script.write_text(
        f"""
import sys
sys.path.insert(0, {str(HERE.parents[2])!r})
import burnsim
print("once")
cup = {{"kind": "open cup", "outer_diameter": "60 mm", "height": "30 mm"}}
base = burnsim.Setup.from_dict({{"burner": cup, "charge": {{"fuel": "ethanol", "volume": "1 ml"}}}})
found = burnsim.sweep(base, {{"charge.volume": ["1 ml", "2 ml", "900 ml"]}}, workers=2, chunk=1)
print(found.status.values.tolist())
"""
    )
    done = subprocess.run([sys.executable, str(script)], env=ENVIRONMENT, capture_output=True, text=True, check=False)
    assert done.stderr == ""
    assert done.stdout == "once\n['solved', 'solved', 'impossible']\n"


@pytest.fixture(scope="module")
def cluster(engines: Any) -> Iterator[Any]:
    import distributed

    with (
        distributed.LocalCluster(n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None) as cluster,
        distributed.Client(cluster) as client,
    ):
        yield client


@pytest.mark.filterwarnings("ignore")
def test_a_cluster_of_two_processes(engines: Any, template: Outcome, tmp_path: Path, cluster: Any) -> None:
    assert len({*cluster.run(os.getpid).values(), os.getpid()}) == 3
    assert_whole(run(partial(engines.quick, template), executor=cluster.get_executor()))


@pytest.mark.filterwarnings("ignore")
def test_a_killed_worker_of_a_cluster_loses_nothing(
    engines: Any, template: Outcome, tmp_path: Path, cluster: Any
) -> None:
    flag = tmp_path / "killed"
    before = set(cluster.run(os.getpid).values())
    found = run(partial(engines.die_once, template, flag), executor=cluster.get_executor(), out=tmp_path / "sweep.nc")
    assert flag.exists()
    assert_whole(found.load())
    cluster.wait_for_workers(2)
    assert set(cluster.run(os.getpid).values()) != before


def test_memory_stays_flat_however_many_designs(tmp_path: Path) -> None:
    few, many = (peak_memory(tmp_path, designs) for designs in (10_000, 50_000))
    assert many < few + 10.0  # MB; 40 000 rows more are some 50 MB as floats and texts


def peak_memory(tmp_path: Path, designs: int) -> float:
    """Peak of a process that sweeps so many designs to a file [MB]."""
    out = tmp_path / f"{designs}.nc"
    script = f"""
import sys, resource
sys.path[:0] = [{str(HERE)!r}, {str(HERE.parents[2])!r}]
import sweep_memory
from burnsim.units import plain
found = sweep_memory.run({designs}, {str(out)!r})
assert found.sizes["burner.jets.count"] * found.sizes["burner.jets.diameter"] == {designs}
assert float(found.duration[-1, -1]) == {designs} - 1
print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)
"""
    done = subprocess.run([sys.executable, "-c", script], env=ENVIRONMENT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    with load_sweep(out) as found:
        assert (found.status == "solved").all()
        np.testing.assert_array_equal(found.duration.values.ravel(), np.arange(designs))
    return float(done.stdout)


def test_the_bar_tells_how_far_it_has_come(capsys: pytest.CaptureFixture[str]) -> None:
    bar = Bar(sys.stderr)
    for done in (0, 20, 40):
        bar(done, 40)
    assert capsys.readouterr().err.splitlines()[-1].startswith("burnsim: 40/40 designs")


def test_settings_are_checked() -> None:
    base = design()
    for options, field in (({"workers": 0}, "workers"), ({"chunk": 0}, "chunk"), ({"rtol": 1.0}, "rtol")):
        with pytest.raises(InputError) as caught:
            sweep(base, {COUNT: [12]}, **options)  # type: ignore[arg-type]
        assert caught.value.field == field


def broken(setups: list[Setup], *, rtol: float) -> list[Outcome | Failure]:
    raise EOFError("the cache ends too soon")


@pytest.mark.parametrize("kept", [False, True])
def test_a_fault_that_every_design_meets_is_no_result(tmp_path: Path, kept: bool) -> None:
    out = tmp_path / "sweep.csv" if kept else None
    with pytest.raises(
        SolverError, match="every design failed alike: internal error: EOFError: the cache ends too soon"
    ):
        run(broken, workers=1, out=out)
    assert list(tmp_path.iterdir()) == []  # nothing is left that a second try would take up


def test_small_sweeps_of_machine_code_need_no_processes(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(workers: int) -> Executor:
        raise AssertionError("no process is worth its start")

    monkeypatch.setattr(pools, "process_pool", refuse)
    with own_executor(2, pools.WORTH_PROCESSES - 1, partial(burn_many, engine="compiled")) as threads:
        assert threads.submit(threading.current_thread).result() is not threading.main_thread()
    with pytest.raises(AssertionError, match="no process"):
        own_executor(2, pools.WORTH_PROCESSES, partial(burn_many, engine="compiled"))
    with pytest.raises(AssertionError, match="no process"):
        own_executor(2, 100, partial(burn_many, engine="plain"))


def test_threads_and_one_worker_sweep_alike() -> None:
    base = design()
    values = {COUNT: [10, 11, 12, 13], "charge.volume": [1e-6 * k for k in range(12, 18)]}
    alone, threads = [sweep(base, values, workers=workers, chunk=4) for workers in (1, 2)]
    assert alone.drop_attrs().identical(threads.drop_attrs())


def test_a_sweep_is_not_lost_for_want_of_a_compiler(monkeypatch: pytest.MonkeyPatch) -> None:
    from burnsim.solve import engines
    from burnsim.solve.compile import engine as native
    from burnsim.studies.sweep.pool import engine_for

    def refuse(*_: object, **__: object) -> None:
        raise OSError("no compiler")

    monkeypatch.setattr(native, "at_hand", refuse)
    base = design()
    few = engine_for(base, [base.charge.fuel], engines.WORTH_COMPILING - 1)
    assert isinstance(few, partial)
    assert few.keywords == {"engine": "auto"}
    with pytest.warns(RuntimeWarning, match="no compiler"):
        many = engine_for(base, [base.charge.fuel], engines.WORTH_COMPILING)
    (row,) = compute(Task(base, [{}], 1e-3, many))[0]["status"]
    assert row == "solved"
