"""What is known of the uncertain factors and of sizes in doubt: a joint lognormal, from bands or from calibration."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from burnsim.errors import InputError, unknown
from burnsim.model import Design, Setup, as_setup
from burnsim.model.description.factors import BANDS, CORRELATIONS, LIMITS, Factors
from burnsim.studies.arrays import Matrix, Vector
from burnsim.studies.calibrate.repeats import PACE
from burnsim.studies.calibrate.sizes import MOST_OFF, NORMAL_90, built, check_path, spread_of

AS_BUILT = ("wall_thickness", "hole_diameter", "discharge", "bump_height")
"""Factors that belong to one build: another build of the same drawing has its own."""

OF_A_BUILD = ("burner.", "pot.")
"""Paths of sizes that belong to one build begin so; what is poured and the spirit stay when another is built."""


@dataclass(frozen=True, repr=False)
class Posterior:
    """A joint normal distribution of the logarithms of some factors, and of sizes in doubt.

    A size counts as built over as drawn. It goes with the drawing that it was learnt for: correct the drawing, and
    calibrate again.

    Attributes
    ----------
    names : of the factors, and dotted paths of the sizes, shape (d,)
    mean : of their logarithms
    covariance : of their logarithms, shape (d, d)
    tolerances : of each size before any burn, half width of its central 90 % as a share, by path
    pace : relative standard deviation of the pace of repeats that goes with it
    drawn : names of those of which `draws` are kept
    draws : logarithms of them, each row as likely as any other, shape (n, number of `drawn`): where the normal
        distribution does not follow the logs closely enough. Empty: the normal distribution is all.
    note : what it was learnt from, in words; empty if that is not known
    """

    names: tuple[str, ...]
    mean: tuple[float, ...]
    covariance: tuple[tuple[float, ...], ...]
    tolerances: Mapping[str, float] = field(default_factory=dict)
    pace: float = PACE
    drawn: tuple[str, ...] = ()
    draws: tuple[tuple[float, ...], ...] = ()
    note: str = field(default="", compare=False)

    def __post_init__(self) -> None:
        d = len(self.names)
        for name in self.names:
            check_factor(name, sizes=True)
        if set(self.tolerances) != {name for name in self.names if name not in BANDS}:
            raise InputError(
                "tolerances", dict(self.tolerances), "does not name the sizes among " + ", ".join(self.names),
                "give the tolerance of each size, and of nothing else",
            )  # fmt: skip
        if not 0.0 <= self.pace <= 1.0:
            raise InputError("pace", self.pace, "is not a share from 0 to 1", "give 0.03, say")
        if len(set(self.names)) < d:
            raise InputError("names", self.names, "holds a factor twice", "name each once")
        table = np.array(self.covariance, dtype=np.float64).reshape(len(self.covariance), -1 if d else 0)
        if len(self.mean) != d or (d and table.shape != (d, d)):
            raise InputError("covariance", table.shape, f"does not go with {d} factors", "give one row a factor")
        if not np.isfinite(table).all() or not np.isfinite(self.mean).all():
            raise InputError("covariance", None, "holds something that is not a finite number", "give finite numbers")
        if d and (np.abs(table - table.T).max() > 1e-9 or np.linalg.eigvalsh(table).min() < -1e-9):
            raise InputError("covariance", None, "is not one of a distribution", "make it symmetric and not negative")
        if not set(self.drawn) <= set(self.names) or any(len(row) != len(self.drawn) for row in self.draws):
            raise InputError("draws", self.drawn, "do not go with their names", "give one column a name")
        if not np.isfinite(np.array(self.draws)).all():
            raise InputError("draws", None, "hold something that is not a finite number", "give finite numbers")

    def __repr__(self) -> str:
        """Medians, which is what one wants to see of so many numbers."""
        return f"<Posterior: {', '.join(f'{name} {value:.3g}' for name, value in self.median().items())}>"

    def spread(self) -> Vector:
        """Standard deviations of the logarithms, shape (d,)."""
        return np.sqrt(np.maximum(np.diag(self.matrix()), 0.0))

    def matrix(self) -> Matrix:
        """The covariance as an array, shape (d, d)."""
        return np.array(self.covariance, dtype=np.float64).reshape(len(self.names), len(self.names))

    def named(self, values: Sequence[float]) -> dict[str, float]:
        """One row of draws by the names of the factors and sizes, as `set_factors` takes it."""
        return dict(zip(self.names, values, strict=True))

    def median(self) -> dict[str, float]:
        """The median of each factor."""
        return {name: float(within(name, math.exp(m))) for name, m in zip(self.names, self.mean, strict=True)}

    def band(self) -> dict[str, tuple[float, float]]:
        """The central 90 % of each factor."""
        reach = NORMAL_90 * self.spread()
        return {
            name: (within(name, math.exp(max(m - r, -700.0))), within(name, math.exp(min(m + r, 700.0))))
            for name, m, r in zip(self.names, self.mean, reach.tolist(), strict=True)
        }

    def groups(self) -> tuple[tuple[int, ...], ...]:
        """Places of the names that hang together, group by group; a name that hangs with none is a group of its own."""
        from scipy.sparse.csgraph import connected_components

        tied = self.matrix() != 0.0
        kept = [self.names.index(name) for name in self.drawn] if self.draws else []
        tied[np.ix_(kept, kept)] = True
        count, group = connected_components(tied, directed=False)
        return tuple(tuple(np.flatnonzero(group == k).tolist()) for k in range(count))

    def as_in_bands(self) -> bool:
        """Whether no factors hang together but those that do before any burn."""
        bands = make_prior()
        before = [{bands.names[k] for k in group} for group in bands.groups()]
        groups = [{self.names[k] for k in group} for group in self.groups()]
        return all(len(group) == 1 or any(group <= one for one in before) for group in groups)

    def draw(self, points: Matrix) -> Matrix:
        """Factors, held within what `Factors` allows, from points of the unit cube; both of shape (n, d)."""
        from scipy.special import ndtri

        mean, matrix = np.array(self.mean), self.matrix()
        kept = [self.names.index(name) for name in self.drawn] if self.draws else []
        rest = [k for k in range(len(self.names)) if k not in kept]
        logs = np.empty_like(points, dtype=np.float64)
        pull, left = conditional(matrix, rest, kept)
        normal = ndtri(np.clip(points[:, rest], 1e-12, 1.0 - 1e-12))
        logs[:, rest] = mean[rest] + normal @ root(left).T
        if kept:
            row = np.minimum((points[:, kept[0]] * len(self.draws)).astype(np.int64), len(self.draws) - 1)
            logs[:, kept] = np.array(self.draws)[row]
            logs[:, rest] += (logs[:, kept] - mean[kept]) @ pull.T
        drawn = np.exp(logs)
        low, high = (np.array([LIMITS.get(name, MOST_OFF)[k] for name in self.names]) for k in (0, 1))
        held: Matrix = np.clip(drawn, low, high)
        return held

    def for_new_build(self) -> "Posterior":
        """The same for another build of the drawing: what belongs to one build falls back to its band or tolerance."""
        before = make_prior(Factors(), [name for name in self.names if name in BANDS], self.tolerances)
        matrix, mean = self.matrix(), np.array(self.mean)
        build = [k for k, name in enumerate(self.names) if of_a_build(name)]
        old = [before.names.index(self.names[k]) for k in build]
        matrix[build, :] = matrix[:, build] = 0.0
        matrix[np.ix_(build, build)] = before.matrix()[np.ix_(old, old)]
        mean[build] = np.array(before.mean)[old]
        stay = [k for k, name in enumerate(self.drawn) if not of_a_build(name)]
        return replace(
            posterior_of(self.names, mean.tolist(), matrix, self.tolerances, self.pace),
            drawn=tuple(self.drawn[k] for k in stay),
            draws=tuple(tuple(row[k] for k in stay) for row in self.draws) if stay else (),
        )

    def with_draws(self, logs: Matrix) -> "Posterior":
        """The same with draws of all its names: logarithms, shape (n, d), kept to a millionth, as a file keeps them."""
        rows = tuple(tuple(round(value, 6) for value in row) for row in logs.tolist())
        return replace(self, drawn=self.names, draws=rows)


def of_a_build(name: str) -> bool:
    """Whether a factor or a size belongs to one build, so that another of the same drawing has its own."""
    return name in AS_BUILT or name.startswith(OF_A_BUILD)


def posterior_of(
    names: Sequence[str],
    mean: Sequence[float],
    covariance: Matrix,
    tolerances: Mapping[str, float] | None = None,
    pace: float = PACE,
) -> Posterior:
    """Make a posterior from arrays; its arguments are those of `Posterior`."""
    rows = tuple(tuple(map(float, row)) for row in covariance)
    return Posterior(tuple(names), tuple(float(m) for m in mean), rows, dict(tolerances or {}), pace)


def make_prior(
    centre: Factors | None = None, names: Sequence[str] | None = None, tolerances: Mapping[str, float] | None = None
) -> Posterior:
    """What is known before any burn: each factor lognormal about its value, as wide as its band.

    Those of `burnsim.calibration.CORRELATIONS` hang together.

    Parameters
    ----------
    centre : values about which; default none: 1
    names : of the factors; default none: all that have a band
    tolerances : of sizes in doubt, half width of the central 90 % as a share of each, by dotted path; default none

    >>> low, high = make_prior(names=["entrainment"]).band()["entrainment"]
    >>> math.isclose(low, BANDS["entrainment"].low), math.isclose(high, BANDS["entrainment"].high)
    (True, True)
    """
    values = centre or Factors()
    chosen = tuple(BANDS) if names is None else tuple(names)
    for name in chosen:
        check_factor(name)
    middle = [0.5 * math.log(BANDS[n].low * BANDS[n].high) + math.log(getattr(values, n)) for n in chosen]
    spread = [math.log(BANDS[n].high / BANDS[n].low) / (2.0 * NORMAL_90) for n in chosen]
    sizes = dict(tolerances or {})
    spread += [spread_of(width) for width in sizes.values()]
    names = (*chosen, *sizes)
    return posterior_of(names, middle + [0.0] * len(sizes), correlation_of(names) * np.outer(spread, spread), sizes)


def correlation_of(names: Sequence[str]) -> Matrix:
    """Correlation of the logarithms of factors and sizes before any burn, shape (d, d)."""
    found = np.eye(len(names))
    for pair, one in CORRELATIONS.items():
        if set(pair) <= set(names):
            j, k = (names.index(name) for name in pair)
            found[j, k] = found[k, j] = one.value
    return found


def joined(first: Posterior | None, other: Posterior) -> Posterior:
    """A posterior that takes the factors and sizes that `first` lacks from another.

    One that hangs with factors that `first` has follows them as the other says: what was learnt of them tells of it.
    """
    if first is None:
        return other
    more = [k for k, name in enumerate(other.names) if name not in first.names]
    both = [k for k, name in enumerate(other.names) if name in first.names]
    here = [first.names.index(other.names[k]) for k in both]
    d, m = len(first.names), len(more)
    pull, left = conditional(other.matrix(), more, both)
    matrix = np.zeros((d + m, d + m))
    matrix[:d, :d] = first.matrix()
    matrix[d:, :d] = pull @ matrix[here, :d]
    matrix[:d, d:] = matrix[d:, :d].T
    matrix[d:, d:] = left + matrix[d:, here] @ pull.T
    names = (*first.names, *(other.names[k] for k in more))
    moved = np.array(other.mean)[more] + pull @ (np.array(first.mean)[here] - np.array(other.mean)[both])
    whole = posterior_of(names, [*first.mean, *moved], matrix, {**other.tolerances, **first.tolerances}, first.pace)
    return replace(whole, drawn=first.drawn, draws=first.draws, note=first.note)


def conditional(matrix: Matrix, some: Sequence[int], known: Sequence[int]) -> tuple[Matrix, Matrix]:
    """Some jointly normal variables given others: slopes of their means by the others, and their covariance."""
    across = matrix[np.ix_(some, known)]
    slopes: Matrix = across @ np.linalg.pinv(matrix[np.ix_(known, known)])
    return slopes, matrix[np.ix_(some, some)] - slopes @ across.T


def set_factors(setup: Design, values: Mapping[str, float]) -> Setup:
    """A setup with some factors changed, and some sizes as they were built.

    Parameters
    ----------
    setup : as drawn
    values : of the factors that change, by name; of sizes, as built over as drawn, by dotted path
    """
    for name in values:
        check_factor(name, sizes=True)
    return built(as_setup(setup), values)


def within(name: str, value: float) -> float:
    """A value of a factor or of a size as built over as drawn, held within what is allowed."""
    low, high = LIMITS.get(name, MOST_OFF)
    return min(max(value, low), high)


def check_factor(name: object, *, sizes: bool = False) -> None:
    """Refuse what is not the name of an uncertain factor, or with `sizes` of a size in doubt."""
    if sizes and isinstance(name, str) and "." in name:
        check_path(name)
    elif name not in BANDS:
        raise unknown("factors", name, BANDS, "is not an uncertain factor")


def root(matrix: Matrix) -> Matrix:
    """A matrix whose product with its transpose is a covariance.

    It is Cholesky's, so that a factor keeps to its own points and to those of the factors before it that it hangs with;
    of a singular covariance, which has none, that of its principal directions.
    """
    if (matrix == np.diag(np.diag(matrix))).all():  # singular or not
        return np.diag(np.sqrt(np.maximum(np.diag(matrix), 0.0)))
    try:
        return np.asarray(np.linalg.cholesky(matrix), dtype=np.float64)
    except np.linalg.LinAlgError:
        values, vectors = np.linalg.eigh(matrix)
        scaled: Matrix = vectors * np.sqrt(np.maximum(values, 0.0))
        return scaled
