"""The result of a burn: frozen milestones, verdicts, ledgers, series."""

import json
import os
from bisect import bisect_right
from dataclasses import dataclass
from functools import cached_property
from operator import attrgetter
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from burnsim.errors import InputError, guess
from burnsim.model.balances.flows import Flows, balances
from burnsim.model.balances.state import Regime, State, Tallies, at_the_match, state_size, unpack, unpack_tallies
from burnsim.model.parameters.derive import first_state
from burnsim.model.parameters.record import Parameters
from burnsim.solve.recorder import Event, Phase
from burnsim.solve.results import keeping
from burnsim.solve.results.outcome import Outcome
from burnsim.solve.results.series import SERIES, TIME
from burnsim.units import measure, parse, plain
from burnsim.units.table import DIMENSION_OF

if TYPE_CHECKING:
    import pandas as pd
    import xarray

Vector = NDArray[np.float64]
MOST_ROWS = 1_000_000


@dataclass(frozen=True)
class Course:
    """The integrated course of a burn: phases between events."""

    phases: tuple[Phase, ...]
    events: tuple[Event, ...]


@dataclass(frozen=True, eq=False, repr=False)
class Burn(Outcome):
    """One simulated run, from match to burn-out, with all its course.

    Attributes
    ----------
    parameters : what the balances read
    course : phases and events
    time : instants of the stored series [s], shape (n,)
    warnings : laws used outside their validity range, one sentence each

    and all those of `Outcome`: setup, milestones, verdicts, ledgers and figures.
    """

    parameters: Parameters
    course: Course
    time: Vector
    warnings: tuple[str, ...]

    def at(self, at: float | str) -> dict[str, float]:
        """Every series at an instant, in SI, by name; `burnsim.SERIES` has their units.

        The time counts from the match and lies inside the burn [s], or is a text: "5 min 12 s".
        """
        instant = parse(at, "time", "at")
        return {name: float(values[0]) for name, values in self._table(np.array([instant])).items()}

    def flows(self, at: float | str) -> Flows:
        """Every flow at an instant, as for `at`: `flows(60.0).walls.outer_foot`, say, watts down the outer wall.

        They are made for this call: data classes, for `dataclasses.asdict` and its like.
        """
        phase, y = self._locate(at)
        return balances(unpack(y, self.parameters.components), phase.regime, self.parameters)

    def state(self, at: float | str) -> tuple[State, Tallies]:
        """The state and the running integrals at an instant, as for `at`: data classes made for this call."""
        _, y = self._locate(at)
        n = self.parameters.components
        return unpack(y, n), unpack_tallies(y[state_size(n) :], n)

    def series(self, name: str) -> Vector:
        """One of `burnsim.SERIES` at `time`, for example "water_temperature" [K] or "power" [W]; shape (n,).

        "time" is `time` itself. An `InputError` if there is no such series.
        """
        if not isinstance(name, str) or name not in SERIES:
            remedy = guess(name, SERIES, "use one of " + ", ".join(SERIES))
            raise InputError("series", name, "is not a series of a burn", remedy)
        return self.time if SERIES[name].pick is None else self._series[name].copy()

    def to_dataframe(self, *, every: float | str | None = None, units: str | None = None) -> "pd.DataFrame":
        """All series as a pandas DataFrame, indexed by time [s]; needs pandas.

        `attrs["units"]` has the unit of every column, `attrs["name"]` the name of the design.

        Parameters
        ----------
        every : step of even times [s], or a text such as "10 s"; default none: the instants of `time`
        units : default none: SI throughout; "si" for its habits (degC, mm, g), "us" for degF, in and oz
        """
        import pandas as pd

        times = self._times(every)
        table, signs = {}, {}
        for name, values in self._table(times).items():
            table[name], signs[name] = _in_units(values, SERIES[name].unit, units)
        frame = pd.DataFrame(table, index=pd.Index(times, name=TIME))
        frame.attrs = {"name": self.setup.name, "units": {TIME: SERIES[TIME].unit, **signs}}
        return frame

    def to_xarray(self, *, every: float | str | None = None) -> "xarray.Dataset":
        """All series in SI as an xarray Dataset over time [s], with units and meaning; needs xarray.

        The times are even by a step [s], or a text such as "10 s", by default the instants of `time`. The attributes
        hold the design, and the milestones that came [s].
        """
        import xarray

        times = self._times(every)
        marks = {f"{name}_s": mark.time for name, mark in self.milestones._asdict().items() if mark.time is not None}
        design = json.dumps(self.setup.to_dict(), ensure_ascii=False)
        about = {name: {"units": one.unit, "long_name": one.meaning} for name, one in SERIES.items()}
        return xarray.Dataset(
            {name: (TIME, values, about[name]) for name, values in self._table(times).items()},
            {TIME: (TIME, times, about[TIME])},
            {"title": self.setup.name, "ended": self.ended, **marks, "rtol": self.rtol, "design": design},
        )

    def save(self, path: str | os.PathLike[str]) -> None:
        """Write the burn with all its course into a file, such as "saturday.npz", for `Burn.load` of the same version.

        One that is there is replaced. An `InputError` if it cannot be written.
        """
        keeping.save(self, path)

    @classmethod
    def load(cls, path: str | os.PathLike[str]) -> "Burn":
        """Read a burn that `save` wrote: it equals that one, number for number.

        An `InputError` if the file cannot be read, is no burn, or another version of the package wrote it.
        """
        return cls(**keeping.read(path))

    def _times(self, every: float | str | None) -> Vector:
        """The instants of a table [s]."""
        if every is None:
            return self.time
        step = parse(every, "time", "every")
        if not step > 0.0 or self.duration / step > MOST_ROWS:
            raise InputError(
                "every", every, f"makes no table; allowed from {self.duration / MOST_ROWS:.2g} s", "write '10 s'"
            )
        return np.arange(int(float(self.time[-1]) / step) + 1, dtype=np.float64) * step

    @cached_property
    def _series(self) -> dict[str, Vector]:
        """Every series at `time`: the flows of an instant cost far more than what is picked from them."""
        return self._table(self.time)

    def _table(self, times: Vector) -> dict[str, Vector]:
        """Every series but time itself at some instants."""
        seen = []
        for phase, y in map(self._locate, times.tolist()):
            state = unpack(y, self.parameters.components)
            seen.append((balances(state, phase.regime, self.parameters), state))
        picks = {name: one.pick for name, one in SERIES.items() if one.pick is not None}
        return {name: np.array([pick(*one, self.parameters) for one in seen]) for name, pick in picks.items()}

    def _locate(self, at: float | str) -> tuple[Phase, list[float]]:
        time = at if isinstance(at, float) else parse(at, "time", "at")
        if not 0.0 <= time <= float(self.time[-1]) + 1e-9:
            problem = f"is outside the burn; allowed 0 to {float(self.time[-1]):.6g} s"
            raise InputError("at", at, problem, "give an instant inside it")
        for phase in self.course.phases:
            if not phase.steps:
                continue
            last = phase.steps[-1]
            if time > last.start + last.length:
                continue
            k = max(bisect_right(phase.steps, time, key=attrgetter("start")) - 1, 0)
            return phase, phase.steps[k].at(time).tolist()
        lasting = [phase for phase in self.course.phases if phase.steps]
        if lasting:
            return lasting[-1], lasting[-1].steps[-1].after.tolist()
        n = self.parameters.components  # nothing ever burnt: all is as when the match was struck
        start = at_the_match(first_state(self.setup, self.parameters), n)
        return Phase(Regime(wick=0.0, jets=0.0, well=0.0), ()), start


def _in_units(values: Vector, unit: str, system: str | None) -> tuple[Vector, str]:
    """Values of a series in the unit of a system, and its sign; shares and SI stay as they are."""
    if system is None:
        return values, unit
    read = measure(DIMENSION_OF.get(unit, "number"), system)
    return (values, unit) if unit not in DIMENSION_OF else (read.of(values), plain(read.unit))
