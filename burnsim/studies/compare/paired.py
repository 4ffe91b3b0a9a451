"""Designs burnt with the same draws of what is not known, so that their differences are surer than their figures."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from burnsim.errors import check_whole
from burnsim.model import Setup
from burnsim.solve import Failure, Outcome
from burnsim.studies.arrays import Vector, unit_points
from burnsim.studies.burn_many import Engine
from burnsim.studies.calibrate.posterior import Posterior, joined, make_prior
from burnsim.studies.calibrate.sizes import built
from burnsim.studies.predict.prediction import FIGURES, Quantile, codes_of, figure_of, quantile

LEVELS = (0.05, 0.5, 0.95)


@dataclass(frozen=True, eq=False)
class Draws:
    """What came of some designs, each burnt with the same draws of the factors."""

    figures: Mapping[str, Vector]  # by name, shape (designs, n) [SI]; NaN where it did not happen
    codes: tuple[tuple[frozenset[str], ...], ...]  # verdicts of each burn, by design
    solved: NDArray[np.bool_]  # whether a burn was solved, shape (designs, n)

    @property
    def n(self) -> int:
        """How many draws there are."""
        return int(self.solved.shape[1])

    def share(self, design: int, any_of: frozenset[str]) -> float:
        """Share of a design's solved burns with any of some verdicts; 0 of none."""
        rows = zip(self.codes[design], self.solved[design], strict=True)
        hits = [bool(any_of & codes) for codes, solved in rows if solved]
        return sum(hits) / len(hits) if hits else 0.0


@dataclass(frozen=True)
class PairedDifference:
    """A figure of one design less that of another, draw by draw."""

    name: str  # of the figure
    # low, middle, high: its 5 %, 50 % and 95 % quantile over the draws in which both have it [SI]; None without such
    low: Quantile | None
    middle: Quantile | None
    high: Quantile | None
    # below, both: in how many draws the second has the lower figure, of how many in which both have one
    below: int
    both: int
    # first_only, second_only: in how many draws only one of them has it
    first_only: int
    second_only: int
    draws: int  # in which both could be solved

    @property
    def typical(self) -> float | None:
        """Its median over the draws [SI]; None where not even half of them have both figures."""
        return self.middle.value if self.middle is not None and 2 * self.both > self.draws else None

    @property
    def happening_differs(self) -> bool:
        """Whether one design has the figure in more draws than chance would give: McNemar's test, exact, at 5 %.

        References
        ----------
        Q. McNemar 1947, Psychometrika 12, 153; cited from memory.
        """
        one, all_odd = min(self.first_only, self.second_only), self.first_only + self.second_only
        return 2.0 * sum(math.comb(all_odd, k) for k in range(one + 1)) < 0.05 * 2.0**all_odd

    @property
    def sure(self) -> bool:
        """Whether nineteen in twenty of the draws agree on the sign: the difference is more than what is unknown."""
        return (
            self.typical is not None
            and self.low is not None
            and self.high is not None
            and (self.low.value > 0.0 or self.high.value < 0.0)
            and 20 * max(self.below, self.both - self.below) >= 19 * self.both  # quantiles lie between two draws
        )


def check_draws(n: object) -> None:
    """Refuse a number of draws that makes no sense."""
    check_whole("n", n, 8, 4096, "take 64, say", "is not a number of draws")


def drawn(setups: Sequence[Setup], n: int, seed: int, posterior: Posterior | None) -> list[Setup]:
    """Each setup, about its own middle, with the same draws of its uncertain factors: draw k has the same quantiles.

    A setup has the sizes in doubt at the middle of what is known, so that these are drawn about that.
    """
    found = []
    for one in setups:
        known = joined(posterior, make_prior(one.factors))
        middle = [value if name in known.tolerances else 1.0 for name, value in known.median().items()]
        rows = known.draw(unit_points("sobol", len(known.names), n, seed)) / np.array(middle)
        found += [built(one, known.named(row)) for row in rows.tolist()]
    return found


def burn_drawn(setups: Sequence[Setup], n: int, seed: int, posterior: Posterior | None, engine: Engine) -> Draws:
    """Burn each setup with the same draws, those of `drawn`."""
    return gathered(engine(drawn(setups, n, seed, posterior), ()), len(setups))


def gathered(burns: Sequence[Outcome | Failure], designs: int) -> Draws:
    """Lay burns out by design and draw."""
    n = len(burns) // designs
    rows = [burns[k * n : (k + 1) * n] for k in range(designs)]
    return Draws(
        {name: np.array([[figure_of(one, name) for one in row] for row in rows]) for name in FIGURES},
        tuple(tuple(codes_of(one) for one in row) for row in rows),
        np.array([[not isinstance(one, Failure) for one in row] for row in rows]),
    )


def difference(draws: Draws, name: str, first: int, second: int) -> PairedDifference:
    """What a figure of the second design has above that of the first, draw by draw."""
    solved = draws.solved[first] & draws.solved[second]
    one, two = (draws.figures[name][k][solved] for k in (first, second))
    has = np.isfinite(one), np.isfinite(two)
    gap = (two - one)[has[0] & has[1]]
    low, middle, high = (quantile(gap, level) for level in LEVELS)
    return PairedDifference(
        name, low, middle, high, int((gap < 0.0).sum()), len(gap), int((has[0] & ~has[1]).sum()),
        int((has[1] & ~has[0]).sum()), int(solved.sum()),
    )  # fmt: skip
