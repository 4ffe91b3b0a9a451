"""Burns spread over processes: a script without a guard runs once, whatever burns in its workers."""

import subprocess
import sys
from pathlib import Path

import pytest

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
cup = {{"kind": "open cup", "outer_diameter": "60 mm", "height": "30 mm"}}
setup = burnsim.setup_from_dict({{"burner": cup, "charge": {{"fuel": "ethanol", "volume": "0.5 ml"}}}})
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
