"""A sweep without burns, run in a process of its own to see how much memory the rest takes."""

import numpy as np
import xarray as xr

from burnsim import Setup, burn_many, sweep
from burnsim.studies.sweep import pool as sweep_pool
from burnsim.studies.sweep.columns import COLUMNS, Block
from burnsim.studies.sweep.pool import Task

ROWS = 100


def numbered(task: Task) -> tuple[Block, float]:
    """Rows with the number of each design, and texts as long as real ones, none like another."""
    numbers = np.array([float(str(one["burner.jets.count"])) * ROWS + place(one) for one in task.changes])
    block: Block = {}
    for column in COLUMNS:
        block[column.name] = numbers
        if column.is_text:
            texts = [f"the vapour at each jet reached {n} W before the pilot flame was gone; why" for n in numbers]
            block[column.name] = np.array(texts, dtype=object)
    block["status"] = np.full(len(numbers), "solved", dtype=object)
    return block, 0.001 * len(numbers)


def place(changes: dict[str, object]) -> int:
    """Which of the diameters it is."""
    return round(float(str(changes["burner.jets.diameter"])) * 1e6) - 500


def run(designs: int, out: str) -> xr.Dataset:
    """Sweep so many designs to a file, in this process."""
    sweep_pool.compute = numbered
    burner = {"kind": "sealed chamber", "outer_diameter": "60 mm", "height": "30 mm"}
    jets = {"count": 12, "diameter": "1 mm", "direction": "top"}
    base = Setup.from_dict({"burner": burner | {"jets": jets}, "charge": {"fuel": "ethanol", "volume": "20 ml"}})
    values = {
        "burner.jets.count": range(designs // ROWS),
        "burner.jets.diameter": [1e-6 * (500 + k) for k in range(ROWS)],
    }
    return sweep(base, values, engine=burn_many, workers=1, out=out, progress=False)
