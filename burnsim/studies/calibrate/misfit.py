"""The residuals of a calibration over its unknowns, their slopes, and where they are least."""

import math
from collections.abc import Sequence
from contextlib import suppress

import numpy as np

from burnsim.errors import InputError
from burnsim.studies.arrays import Matrix, Vector
from burnsim.studies.burn_many import Engine
from burnsim.studies.calibrate.data import (
    NUISANCES,
    Bench,
    Course,
    course_of,
    nuisance_slopes,
    residuals,
    with_errors_of,
)
from burnsim.studies.calibrate.posterior import Posterior, root, set_factors, within

STEP = 0.2  # of a difference quotient, in prior standard deviations: far above the solver's noise
FARTHEST = 4.0  # a factor may go so many prior standard deviations [-]


class Fit:
    """The residuals of a calibration and their slopes; courses of the model are kept until the factors change.

    The unknowns are those of the prior in its standard deviations, each without what it has from those before it that
    it hangs with, so that all are independent; then the nuisances of each burn.
    """

    def __init__(self, benches: Sequence[Bench], known: Posterior, engine: Engine) -> None:
        self.benches, self.known, self.engine = _on_common_grids(benches), known, engine
        self.d = len(known.names)
        self.root = root(known.matrix())
        self.burns = 0
        self._repeats = _repeats(self.benches)
        self._kept: dict[bytes, list[Course | None]] = {}

    @property
    def size(self) -> int:
        """Number of unknowns."""
        return self.d + len(NUISANCES) * len(self.benches)

    @property
    def pace(self) -> float:
        """Relative standard deviation of the pace of repeats; the same for all burns."""
        return float(self.benches[0].scales[NUISANCES.index("pace")])

    @property
    def measurements(self) -> int:
        """Number of measurements."""
        return sum(bench.size for bench in self.benches)

    def factors(self, z: Vector) -> dict[str, float]:
        """Factors at a place."""
        logs = np.array(self.known.mean) + self.root @ z
        return {name: within(name, math.exp(value)) for name, value in self.known.named(logs.tolist()).items()}

    def courses(self, places: Sequence[Vector]) -> list[list[Course | None]]:
        """What the model says of every bench, at each place in the space of the factors."""
        new = {z.tobytes(): z for z in places if z.tobytes() not in self._kept}
        self._kept |= {place: [None] * len(self.benches) for place in new}
        for numbers in self._repeats if new else ():
            bench = self.benches[numbers[0]]
            setups = {}
            for place, z in new.items():
                with suppress(InputError):  # such sizes do not go together
                    setups[place] = set_factors(bench.setup, self.factors(z))
            self.burns += len(setups)
            found = self.engine(list(setups.values()), tuple(bench.grid.tolist()))
            for place, one in zip(setups, found, strict=True):
                for k in numbers:
                    self._kept[place][k] = course_of(one, self.benches[k])
        return [self._kept[z.tobytes()] for z in places]

    def reweight(self, x: Vector) -> None:
        """Take errors of the milestones as large as the model expects them at a place."""
        (courses,) = self.courses([x[: self.d]])
        paces = x[self.d :].reshape(-1, len(NUISANCES))[:, NUISANCES.index("pace")]
        self.benches = [
            with_errors_of(bench, course, pace)
            for bench, course, pace in zip(self.benches, courses, paces.tolist(), strict=True)
        ]

    def data(self, x: Vector) -> Vector:
        """Residuals of the measurements."""
        found: Vector = self.many(x[None])[0]
        return found

    def many(self, places: Matrix) -> Matrix:
        """Residuals of the measurements at many places, shape (n, measurements)."""
        courses = self.courses([x[: self.d].copy() for x in places])
        rows = (
            [self._residuals(k, one, x) for k, one in enumerate(row)] for row, x in zip(courses, places, strict=True)
        )
        return np.array([np.concatenate(row) for row in rows])

    def with_priors(self, x: Vector) -> Vector:
        """Residuals of the measurements and of the priors."""
        return np.concatenate([self.data(x), x])

    def sum_of_squares(self, x: Vector) -> float:
        """The misfit: that of all residuals, those of the priors included."""
        return float(np.sum(self.with_priors(x) ** 2))

    def slopes(self, x: Vector) -> Matrix:
        """Derivatives of `data`, shape (measurements, unknowns)."""
        z = x[: self.d]
        here, *beside = self.courses([z, *(z + sign * move for move in STEP * np.eye(self.d) for sign in (1.0, -1.0))])
        return np.concatenate([self._slopes(k, x, here[k], [row[k] for row in beside]) for k in range(len(here))])

    def _slopes(self, k: int, x: Vector, here: Course | None, beside: Sequence[Course | None]) -> Matrix:
        """Derivatives of one burn's residuals, from its courses a step up and a step down along each factor.

        Central differences; one-sided where a milestone is lost on the other side, none where on both.
        """
        table = np.zeros((self.benches[k].size, self.size))
        if here is None:
            return table
        middle = self._residuals(k, here, x)
        for j in range(self.d):
            pair = beside[2 * j : 2 * j + 2]
            up, down = (middle if _lost(here, one) else self._residuals(k, one, x) for one in pair)
            table[:, j] = (up - down) / (STEP * max((up is not middle) + (down is not middle), 1))
        table[:, self._own(k)] = nuisance_slopes(here, self.benches[k], x[self._own(k)])
        return table

    def _residuals(self, k: int, course: Course | None, x: Vector) -> Vector:
        """Residuals of one burn; where the model broke down, as bad as a milestone that it does not reach."""
        bench = self.benches[k]
        return np.full(bench.size, 6.0) if course is None else residuals(course, bench, x[self._own(k)])

    def _own(self, k: int) -> slice:
        """Where the nuisances of one burn stand among the unknowns."""
        at = self.d + len(NUISANCES) * k
        return slice(at, at + len(NUISANCES))


def _repeats(benches: Sequence[Bench]) -> list[list[int]]:
    """Numbers of benches that repeat one burn, so that the model burns it once for all of them."""
    found: list[list[int]] = []
    for k, bench in enumerate(benches):
        same = (
            one for one in found
            if benches[one[0]].setup == bench.setup and np.array_equal(benches[one[0]].grid, bench.grid)
        )  # fmt: skip
        if (known := next(same, None)) is not None:
            known.append(k)
        else:
            found.append([k])
    return found


def _on_common_grids(benches: Sequence[Bench]) -> list[Bench]:
    """Let repeats of a burn ask the model for the water at the same times."""

    def end(grid: Vector) -> float:
        return float(grid[-1]) if len(grid) else 0.0

    longest = [max((other.grid for other in benches if other.setup == one.setup), key=end) for one in benches]
    return [one._replace(grid=grid) if len(one.grid) else one for one, grid in zip(benches, longest, strict=True)]


def _lost(here: Course, there: Course | None) -> bool:
    """Whether a milestone happens at one place and not at the other: then all that follows it is another burn."""
    if there is None:
        return True
    return any((a is None) != (b is None) for a, b in zip(here.marks, there.marks, strict=True)) or (
        here.never != there.never or (here.short > 0.0) != (there.short > 0.0)
    )


def chance_of(misfit: float, measurements: int) -> float:
    """Of so large a misfit or a larger one, by chance alone."""
    from scipy.stats import chi2

    return float(chi2.sf(misfit, measurements))


def minimise(fit: Fit, x0: Vector) -> tuple[Vector, float]:
    """The best fit near a place, and half its sum of squares."""
    from scipy.optimize import least_squares

    def slopes(x: Vector) -> Matrix:
        return np.concatenate([fit.slopes(x), np.eye(fit.size)])

    one = least_squares(
        fit.with_priors, x0, jac=slopes, bounds=(-FARTHEST, FARTHEST), xtol=1e-3, ftol=1e-4, gtol=1e-4, max_nfev=25
    )
    return np.array(one.x), float(one.cost)
