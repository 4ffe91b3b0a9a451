"""How repeats of one burn differ, and what a stopwatch sees of them.

A repeat of a burn takes its own pace p, and each of its milestones scatters besides; the one who times it starts the
clock late and sees the milestone late or early. With independent standard normal z, a milestone whose mean is t is
timed at

    exp(p z1) t + sqrt((s exp(p z1) t)^2 + u^2) z2 + c z3,

s the scatter of the milestone, u the error of seeing it, c that of starting the clock. This is what `calibrate` assumes
of its logs, what a synthetic log is made with, and what a prediction of the next burn adds to that of the mean.
"""

from typing import NamedTuple

import numpy as np

from burnsim.studies.arrays import Vector
from burnsim.studies.bench.conditions import Conditions

MILESTONES = ("bloom", "boil", "burnout")
SCATTER = {"bloom": 0.10, "boil": 0.02, "burnout": 0.02}
"""How much a milestone differs between repeats of a burn beyond the pace of the whole, relative standard deviation;
judgement, without a source."""

PACE = 0.03
"""How much the pace of a whole burn differs between repeats (draught, soot, how the pot stands), relative standard
deviation; judgement, without a source."""


class Repeat(NamedTuple):
    """Draws of what sets burns apart from their mean, each of shape (n,)."""

    slow: Vector  # duration over that of the mean
    clock: Vector  # how late it was started [s]
    marks: dict[str, Vector]  # of each milestone, in its own standard deviations

    def timed(self, name: str, mean: Vector) -> Vector:
        """A milestone that comes at a mean time [s], shape (n,), as a bench would time it; NaN stays NaN.

        The errors of the one who times are those that a log has unless it says.
        """
        time = mean * self.slow
        error = np.hypot(getattr(Conditions(), f"u_{name}"), SCATTER[name] * time)
        seen: Vector = np.maximum(time + error * self.marks[name] + self.clock, 0.0)
        return np.where(np.isfinite(mean), seen, np.nan)


def repeats_of(n: int, pace: float = PACE, seed: int = 0) -> Repeat:
    """Draw what sets n burns apart from their means; `pace` is as in `PACE`."""
    random = np.random.default_rng(seed)
    normal = random.standard_normal((2 + len(MILESTONES), n))
    marks = dict(zip(MILESTONES, normal[2:], strict=True))
    return Repeat(np.exp(pace * normal[0]), Conditions().u_clock * normal[1], marks)
