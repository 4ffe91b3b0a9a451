"""The account of an integrated burn: snapshots at steps and events, from which results are read."""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from burnsim.solve.results.snapshot import Snapshot

Vector = NDArray[np.float64]


class Moment(NamedTuple):
    """An event with all that a result reads there."""

    name: str
    time: float  # [s]
    vector: tuple[float, ...]  # flat state and tallies
    snapshot: Snapshot


@dataclass(frozen=True, eq=False)
class Account:
    """What is kept of a burn once it is integrated."""

    time: Vector  # the match and the ends of the steps [s], shape (n,)
    snapshots: Vector  # a `Snapshot` a row, shape (n, len(Snapshot._fields))
    peaks: tuple[float, ...]  # highest gauge pressure in gallery and well [Pa], highest froth [m], inside the steps too
    moments: tuple[Moment, ...]  # events in the order of time
    last: tuple[float, ...]  # flat state and tallies at the end
    ended: str
    evaluations: int
    rejected: int

    def column(self, name: str) -> Vector:
        """One number of the snapshots over `time`."""
        column: Vector = self.snapshots[:, Snapshot._fields.index(name)]
        return column
