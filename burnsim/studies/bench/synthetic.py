"""Synthetic bench logs: the model's own burns with the errors of a bench, to try calibration on. They say so."""

import math

import numpy as np

from burnsim.constants import ZERO_CELSIUS
from burnsim.errors import InputError
from burnsim.model import Design, as_setup
from burnsim.solve import Failure
from burnsim.studies.bench.conditions import Conditions
from burnsim.studies.bench.design import head_lines
from burnsim.studies.burn_many import Engine, burn_all
from burnsim.studies.calibrate.repeats import MILESTONES, PACE, SCATTER
from burnsim.units import format_time


def synthesise_log(
    setup: Design,
    *,
    seed: int = 0,
    every: float = 30.0,
    name: str = "synthetic",
    build: str = "",
    errors: Conditions | None = None,
    pace: float = PACE,
    engine: Engine = burn_all,
) -> str:
    """Write the bench log that a person might have made of a burn of the model; it states that it is synthetic.

    Readings get the errors that `errors` states (by default those that a log has by default): noise, an offset of the
    thermometer, a late stopwatch, and a pace of the burn of its own.

    Parameters
    ----------
    setup : what burns, with the factors that are to be recovered
    seed : of the errors
    every : time between readings [s]
    name, build : of the log
    errors : standard uncertainties, its `u_` fields; default none: those of `Conditions`
    pace : relative standard deviation of the pace of repeats
    engine : what burns

    Raises
    ------
    InputError
        If the burn cannot be solved.
    """
    setup = as_setup(setup)
    random = np.random.default_rng(seed)
    u = errors or Conditions()
    first = engine([setup], ())[0]
    if isinstance(first, Failure):
        raise InputError("setup", setup.name, f"cannot be burnt: {first.reason}", "choose another")
    clock, offset = u.u_clock * random.standard_normal(), u.u_thermometer * random.standard_normal()
    slow = math.exp(pace * random.standard_normal())
    times = {mark: getattr(first.milestones, mark).time for mark in MILESTONES}
    lines = [
        "# SYNTHETIC: made by the model plus the errors of a bench. No such burn took place.",
        f'name = "{name}"',
        f'build = "{build}"',
        'note = "synthetic: the model plus noise, not a real burn"',
        *head_lines(setup),
        "[uncertainty]",
        f'thermometer = "{u.u_thermometer!r} K"',
        f'reading = "{u.u_reading!r} K"',
        f'clock = "{u.u_clock!r} s"',
        "[seen]",
    ]
    for mark, time in times.items():
        draw = random.standard_normal()
        if time is None:
            lines.append(f'{mark} = "never"')
            continue
        seen = time * slow
        seen += math.hypot(getattr(u, f"u_{mark}"), SCATTER[mark] * seen) * draw + clock
        lines.append(f'{mark} = "{max(seen, 0.0):.0f} s"    # {format_time(max(seen, 0.0))}')
    lines += ["---", "time [s], water [degC]"]
    until = (times["boil"] or times["burnout"] or first.duration) * slow
    at = np.arange(every, until, every)
    if setup.pot is not None and len(at):
        asked = np.maximum((at - clock) / slow, 0.0)
        found = engine([setup], tuple(asked.tolist()))[0]
        water = () if isinstance(found, Failure) else found.water_at
        for time, value in zip(at.tolist(), water, strict=False):
            noise = u.u_reading * random.standard_normal()
            if value is not None:
                lines.append(f"{time:.0f}, {value - ZERO_CELSIUS + offset + noise:.2f}")
    return "\n".join(lines) + "\n"
