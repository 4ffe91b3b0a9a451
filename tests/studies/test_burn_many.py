"""Burns spread over threads and processes: a script without a guard runs once, whatever burns in its workers."""

import subprocess
import sys
import threading
from pathlib import Path

import pytest

import burnsim
from burnsim.model.description.setup import Setup
from burnsim.solve import Failure, Outcome
from burnsim.studies import batches, burn_many

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
found = burnsim.predict(setup, n=64{workers})
print(found.n, made)
if made:
    alone = burnsim.predict(setup, n=64, workers=1)
    assert (found.figures["burnout"] == alone.figures["burnout"]).all()
"""


@pytest.mark.parametrize(("worth", "pools"), [(600, []), (32, [2])], ids=["alone", "two processes"])
def test_an_unguarded_script_may_predict(tmp_path: Path, worth: int, pools: list[int]) -> None:
    script = tmp_path / "script.py"
    workers = ", workers=2" if pools else ""  # whatever the machine has
    script.write_text(SCRIPT.format(root=str(ROOT), worth=worth, workers=workers), encoding="utf-8")
    done = subprocess.run([sys.executable, str(script)], capture_output=True, text=True, check=False, timeout=300)
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""
    assert done.stdout == f"once\n64 {pools}\n"


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
