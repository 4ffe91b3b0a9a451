"""The result of a burn: frozen milestones, verdicts, ledgers, series."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from burnsim.answers import Drawn, Told
from burnsim.errors import InputError, nearest
from burnsim.model.balances.flows import Flows, balances
from burnsim.model.balances.state import Regime, State, Tallies, at_the_match, state_size, unpack, unpack_tallies
from burnsim.model.parameters.derive import first_state
from burnsim.model.parameters.record import Parameters
from burnsim.solve.recorder import Event, Phase
from burnsim.solve.results.outcome import Outcome
from burnsim.solve.results.series import SERIES

if TYPE_CHECKING:
    import pandas as pd

Vector = NDArray[np.float64]


@dataclass(frozen=True)
class Course:
    """The integrated course of a burn: phases between events."""

    phases: tuple[Phase, ...]
    events: tuple[Event, ...]


@dataclass(frozen=True, eq=False, repr=False)
class Burn(Outcome, Told, Drawn):
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

    def flows(self, at: float) -> Flows:
        """Every flow at an instant, for example `flows(60.0).walls.outer_foot` watts down the outer wall.

        Parameters
        ----------
        at : time from the match [s], inside the burn

        Returns
        -------
        Flows
            Made for this call: data classes, for `dataclasses.asdict` and its like.
        """
        phase, y = self._locate(at)
        return balances(unpack(y, self.parameters.components), phase.regime, self.parameters)

    def state(self, at: float) -> tuple[State, Tallies]:
        """The state and the running integrals at an instant [s]: data classes made for this call."""
        _, y = self._locate(at)
        n = self.parameters.components
        return unpack(y, n), unpack_tallies(y[state_size(n) :], n)

    def series(self, name: str) -> Vector:
        """A named series at `time`, for example "water_temperature" [K] or "power" [W]; shape (n,).

        Raises
        ------
        InputError
            If there is no such series; `burnsim.solve.results.series.SERIES` lists them with their units.
        """
        if not isinstance(name, str) or name not in SERIES:
            close = nearest(str(name), SERIES)
            raise InputError(
                "series",
                name,
                "is not a series of a burn",
                f"did you mean '{close}'?" if close else "use one of " + ", ".join(SERIES),
            )
        pick = SERIES[name].pick
        return np.array([pick(self.flows(t), self.state(t)[0], self.parameters) for t in self.time.tolist()])

    def to_dataframe(self) -> "pd.DataFrame":
        """All series as a pandas DataFrame, indexed by time [s]; needs pandas."""
        import pandas as pd

        table = {name: self.series(name) for name in SERIES}
        return pd.DataFrame(table, index=pd.Index(self.time, name="time"))

    def _locate(self, time: float) -> tuple[Phase, list[float]]:
        if not isinstance(time, int | float) or not 0.0 <= time <= float(self.time[-1]) + 1e-9:
            raise InputError(
                "time",
                time,
                f"is outside the burn; allowed 0 to {float(self.time[-1]):.6g} s",
                "give an instant inside it",
            )
        for phase in self.course.phases:
            if not phase.steps:
                continue
            last = phase.steps[-1]
            if time > last.start + last.length:
                continue
            starts = [step.start for step in phase.steps]
            k = max(int(np.searchsorted(starts, time, side="right")) - 1, 0)
            return phase, phase.steps[k].at(time).tolist()
        lasting = [phase for phase in self.course.phases if phase.steps]
        if lasting:
            return lasting[-1], lasting[-1].steps[-1].after.tolist()
        n = self.parameters.components  # nothing ever burnt: all is as when the match was struck
        start = at_the_match(first_state(self.setup, self.parameters), n)
        return Phase(Regime(wick=0.0, jets=0.0, well=0.0), ()), start
