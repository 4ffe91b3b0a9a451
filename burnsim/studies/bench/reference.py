"""Boil time corrected to reference conditions by the model: losses, altitude and pot follow their laws."""

import math

from burnsim.model.description.files import Design, as_setup
from burnsim.model.description.vary import vary
from burnsim.solve import Failure
from burnsim.studies.bench.design import apply_conditions, boil_seen
from burnsim.studies.bench.formula import REFERENCE_START, Figure
from burnsim.studies.bench.log import BenchLog
from burnsim.studies.burn_many import Engine, burn_all

REFERENCE_VOLUME = 0.5e-3  # of water [m3]
TRUST = 0.2
"""Relative standard uncertainty of the correction itself (how far the ratio is from 1); judgement, without a source."""


def predict_reference(setup: Design, log: BenchLog, engine: Engine = burn_all) -> Figure:
    """Boil time that the same burner would have had with 0.5 l, water and air of 20 degC, at sea level, no wind.

    The seen time is scaled by the ratio of the model's times under both conditions: what the model gets wrong in both
    cancels.

    Parameters
    ----------
    setup : what was burnt
    log : of one burn
    engine : what burns

    Returns
    -------
    Figure
        [s], with its standard error; or the reason why there is none.
    """
    setup, seen = as_setup(setup), boil_seen(log)
    if seen.value is None or seen.error is None:
        return seen
    if setup.pot is None:
        return Figure(reason="the design has no pot")
    there = apply_conditions(setup, log)
    standard = {
        "pot.water": REFERENCE_VOLUME,
        "pot.water_temperature": REFERENCE_START,
        "site.air_temperature": REFERENCE_START,
        "site.altitude": 0.0,
        "site.wind": 0.0,
    }
    times = []
    for found in engine([there, vary(there, standard)], ()):
        if isinstance(found, Failure) or found.milestones.boil.time is None:
            return Figure(reason="the model does not boil the water of the log or of the reference")
        times.append(found.milestones.boil.time)
    ratio = times[1] / times[0]
    return Figure(ratio * seen.value, math.hypot(ratio * seen.error, TRUST * (ratio - 1.0) * seen.value))
