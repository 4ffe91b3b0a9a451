"""The milestones of a bench log beside the bands of the next burn."""

from typing import NamedTuple

from burnsim.studies.bench.log import BenchLog, Sighting
from burnsim.studies.calibrate.repeats import MILESTONES
from burnsim.studies.predict.prediction import Prediction

RARE = 0.05  # share of the predicted burns below which nobody expects to see a milestone


class Beside(NamedTuple):
    """What was noted of a milestone, and what was predicted of it."""

    mark: str
    seen: float | None  # [s]; None: it did not come
    # low, high: central 90 % of the next burns in which it comes [s]; None if there are none
    low: float | None
    high: float | None
    happens: float  # share of the burns in which it comes

    @property
    def outside(self) -> bool:
        """Whether it lies outside what nine burns in ten do."""
        if self.seen is None:
            return self.happens > 1.0 - RARE
        return self.happens < RARE or not (self.low or 0.0) <= self.seen <= (self.high or 0.0)


def beside(log: BenchLog, found: Prediction) -> tuple[Beside, ...]:
    """Each milestone of which a log tells a time, or that it did not come, beside the prediction of that burn."""
    rows = []
    for mark in MILESTONES:
        noted: Sighting = getattr(log, mark)
        if noted.time is not None or noted.happened is False:
            band = found.quantiles(mark, (0.05, 0.95), "next")
            low, high = (one.value for one in band) if band else (None, None)
            rows.append(Beside(mark, noted.time, low, high, found.happens(mark).value))
    return tuple(rows)
