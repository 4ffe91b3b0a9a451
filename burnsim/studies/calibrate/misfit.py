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
        self._different = [
            bench for k, bench in enumerate(self.benches) if not any(_same_burn(bench, one) for one in self.benches[:k])
        ]
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
        new = list({z.tobytes(): z for z in places if z.tobytes() not in self._kept}.values())
        for z in new:
            self._kept[z.tobytes()] = [None] * len(self.benches)
        for bench in self._different:
            alike = [k for k, other in enumerate(self.benches) if _same_burn(bench, other)]
            whole = {}
            for z in new:
                with suppress(InputError):  # such sizes do not go together
                    whole[z.tobytes()] = set_factors(bench.setup, self.factors(z))
            found = self.engine(list(whole.values()), tuple(bench.grid.tolist())) if new else ()
            self.burns += len(whole)
            for place, one in zip(whole, found, strict=True):
                for k in alike:
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
            [self._one(course[k], k, x) for k in range(len(self.benches))]
            for course, x in zip(courses, places, strict=True)
        )
        return np.array([np.concatenate(row) for row in rows])

    def whole(self, x: Vector) -> Vector:
        """Residuals of the measurements and of the priors."""
        return np.concatenate([self.data(x), x])

    def slopes(self, x: Vector) -> Matrix:
        """Derivatives of `data`, shape (measurements, unknowns)."""
        z = x[: self.d]
        courses = self.courses([z, *(z + sign * move for move in STEP * np.eye(self.d) for sign in (1.0, -1.0))])
        table = np.zeros((self.measurements, self.size))
        row = 0
        for k, bench in enumerate(self.benches):
            rows = slice(row, row + bench.size)
            here = courses[0][k]
            middle = self._one(here, k, x)
            for j in range(self.d):
                up, down = (courses[1 + 2 * j + side][k] for side in (0, 1))
                table[rows, j] = _quotient(self._one(up, k, x), middle, self._one(down, k, x), here, up, down)
            at = self.d + len(NUISANCES) * k
            if here is not None:
                table[rows, at : at + len(NUISANCES)] = nuisance_slopes(here, bench, x[at : at + len(NUISANCES)])
            row += bench.size
        return table

    def _one(self, course: Course | None, k: int, x: Vector) -> Vector:
        bench = self.benches[k]
        at = self.d + len(NUISANCES) * k
        if course is None:  # the model broke down here: as bad as a milestone that it does not reach
            return np.full(bench.size, 6.0)
        return residuals(course, bench, x[at : at + len(NUISANCES)])


def _same_burn(bench: Bench, other: Bench) -> bool:
    return bench.setup == other.setup and np.array_equal(bench.grid, other.grid)


def _on_common_grids(benches: Sequence[Bench]) -> list[Bench]:
    """Let repeats of a burn ask the model for the water at the same times, so that it burns once for all of them."""

    def end(grid: Vector) -> float:
        return float(grid[-1]) if len(grid) else 0.0

    longest = [max((other.grid for other in benches if other.setup == one.setup), key=end) for one in benches]
    return [one._replace(grid=grid) if len(one.grid) else one for one, grid in zip(benches, longest, strict=True)]


def _quotient(
    up: Vector, middle: Vector, down: Vector, here: Course | None, above: Course | None, below: Course | None
) -> Vector:
    """Central difference; one-sided where a milestone is lost on the other side, none where on both."""
    if here is None:
        return np.zeros_like(middle)
    up, down = (middle if _lost(here, other) else side for side, other in ((up, above), (down, below)))
    sides = (up is not middle) + (down is not middle)
    return (up - down) / (STEP * max(sides, 1))


def _lost(here: Course, there: Course | None) -> bool:
    """Whether a milestone happens at one place and not at the other: then all that follows it is another burn."""
    if there is None:
        return True
    return any((a is None) != (b is None) for a, b in zip(here.marks, there.marks, strict=True)) or (
        here.never != there.never or (here.short > 0.0) != (there.short > 0.0)
    )


def least(fit: Fit, x0: Vector) -> tuple[Vector, float]:
    """The best fit near a place, and half its sum of squares."""
    from scipy.optimize import least_squares

    def slopes(x: Vector) -> Matrix:
        return np.concatenate([fit.slopes(x), np.eye(fit.size)])

    one = least_squares(
        fit.whole, x0, jac=slopes, bounds=(-FARTHEST, FARTHEST), xtol=1e-3, ftol=1e-4, gtol=1e-4, max_nfev=25
    )
    return np.array(one.x), float(one.cost)
