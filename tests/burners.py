"""Burners that several rooms are tested on, a quick burn of any, and the environment of a process of their own."""

import os
from pathlib import Path

import burnsim
from burnsim.model.description.burner import Burner
from burnsim.model.description.parts import FeedSlots, Jets, Wick
from burnsim.model.description.setup import Setup
from burnsim.solve.compile.engine import march_compiled
from burnsim.solve.results.result import Burn
from burnsim.solve.run import DEFAULT_RTOL, ready, told

PALM = Burner(
    "double wall",
    outer_diameter=62e-3,
    height=45e-3,
    gallery_gap=4.5e-3,
    jets=Jets(26, 1.0e-3, 39e-3),
    feed_slots=FeedSlots(),
    wick=Wick(thickness=2e-3),
)
BRASS = Burner(
    "sealed chamber",
    outer_diameter=70e-3,
    height=30e-3,
    wall_thickness=0.3e-3,
    metal="brass",
    jets=Jets(16, 0.9e-3, direction="top", ring_diameter=50e-3),
    wick=Wick(height=10e-3, thickness=2.5e-3),
)

HERE = Path(__file__).parent
ENVIRONMENT = {**os.environ, "PYTHONPATH": os.pathsep.join([str(HERE.parent), str(HERE / "without")])}
"""It finds the package, and no dask."""


def burnt(setup: Setup, rtol: float = DEFAULT_RTOL) -> Burn:
    """What `burnsim.burn` gives, run as machine code: for tests of anything but the march in plain Python."""
    start = ready(setup)
    if start.spark.time is None:
        return burnsim.burn(setup)
    return told(setup, start, march_compiled(start, rtol, keeps=True), rtol)
