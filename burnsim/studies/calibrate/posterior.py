"""What is known of the uncertain factors: a joint lognormal distribution, from the bands or from calibration."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from burnsim.errors import InputError, nearest
from burnsim.model.description.factors import BANDS, Factors
from burnsim.model.description.fields import spec_of
from burnsim.model.description.files import Design, as_setup
from burnsim.model.description.setup import Setup
from burnsim.model.description.vary import vary

Vector = NDArray[np.float64]

NORMAL_90 = 1.6448536269514722
"""The central 90 % of a normal distribution reaches so many standard deviations to either side."""

AS_BUILT = ("wall_thickness", "hole_diameter", "discharge")
"""Factors that belong to one build: another build of the same drawing has its own."""

LIMITS = {field.name: (spec_of(field).low, spec_of(field).high) for field in fields(Factors)}


@dataclass(frozen=True)
class Posterior:
    """A joint normal distribution of the logarithms of some factors.

    Attributes
    ----------
    names : of the factors, shape (d,)
    mean : of their logarithms
    covariance : of their logarithms, shape (d, d)
    """

    names: tuple[str, ...]
    mean: tuple[float, ...]
    covariance: tuple[tuple[float, ...], ...]

    def __post_init__(self) -> None:
        d = len(self.names)
        for name in self.names:
            check_factor(name)
        if len(set(self.names)) < d:
            raise InputError("names", self.names, "holds a factor twice", "name each once")
        table = np.array(self.covariance, dtype=np.float64).reshape(len(self.covariance), -1)
        if len(self.mean) != d or (d and table.shape != (d, d)):
            raise InputError("covariance", table.shape, f"does not go with {d} factors", "give one row a factor")
        if not np.isfinite(table).all() or not np.isfinite(self.mean).all():
            raise InputError("covariance", None, "holds something that is not a finite number", "give finite numbers")
        if d and (np.abs(table - table.T).max() > 1e-9 or np.linalg.eigvalsh(table).min() < -1e-9):
            raise InputError("covariance", None, "is not one of a distribution", "make it symmetric and not negative")

    def spread(self) -> Vector:
        """Standard deviations of the logarithms, shape (d,)."""
        return np.sqrt(np.maximum(np.diag(self.matrix()), 0.0))

    def matrix(self) -> NDArray[np.float64]:
        """The covariance as an array, shape (d, d)."""
        return np.array(self.covariance, dtype=np.float64).reshape(len(self.names), len(self.names))

    def median(self) -> dict[str, float]:
        """The median of each factor."""
        return {name: float(within(name, math.exp(m))) for name, m in zip(self.names, self.mean, strict=True)}

    def band(self) -> dict[str, tuple[float, float]]:
        """The central 90 % of each factor."""
        reach = NORMAL_90 * self.spread()
        return {
            name: (math.exp(m - r), math.exp(m + r))
            for name, m, r in zip(self.names, self.mean, reach.tolist(), strict=True)
        }

    def independent(self) -> bool:
        """Whether no two factors hang together."""
        matrix = self.matrix()
        return bool((matrix == np.diag(np.diag(matrix))).all())

    def draw(self, points: NDArray[np.float64]) -> NDArray[np.float64]:
        """Factors from points of the unit cube.

        Parameters
        ----------
        points : shape (n, d), each above 0 and below 1

        Returns
        -------
        ndarray
            Shape (n, d), held within what `Factors` allows.
        """
        from scipy.special import ndtri

        normal = ndtri(np.clip(points, 1e-12, 1.0 - 1e-12))
        drawn = np.exp(np.array(self.mean) + normal @ root(self.matrix()).T)
        low, high = (np.array([LIMITS[name][k] for name in self.names]) for k in (0, 1))
        held: NDArray[np.float64] = np.clip(drawn, low, high)
        return held

    def for_new_build(self) -> "Posterior":
        """The same for another build of the drawing: what belongs to one build falls back to its band."""
        before = prior(Factors(), self.names)
        matrix, mean = self.matrix(), list(self.mean)
        for k, name in enumerate(self.names):
            if name in AS_BUILT:
                matrix[k, :] = matrix[:, k] = 0.0
                matrix[k, k] = before.covariance[k][k]
                mean[k] = before.mean[k]
        return posterior_of(self.names, mean, matrix)


def posterior_of(names: Sequence[str], mean: Sequence[float], covariance: NDArray[np.float64]) -> Posterior:
    """Make a posterior from arrays."""
    return Posterior(tuple(names), tuple(float(m) for m in mean), tuple(tuple(map(float, row)) for row in covariance))


def prior(centre: Factors | None = None, names: Sequence[str] | None = None) -> Posterior:
    """What is known before any burn: each factor lognormal about its value, as wide as its band.

    Parameters
    ----------
    centre : values about which; default none: 1
    names : of the factors; default none: all that have a band

    >>> low, high = prior(names=["entrainment"]).band()["entrainment"]
    >>> math.isclose(low, BANDS["entrainment"].low), math.isclose(high, BANDS["entrainment"].high)
    (True, True)
    """
    values = centre or Factors()
    chosen = tuple(BANDS) if names is None else tuple(names)
    for name in chosen:
        check_factor(name)
    middle = [0.5 * math.log(BANDS[n].low * BANDS[n].high) + math.log(getattr(values, n)) for n in chosen]
    spread = [math.log(BANDS[n].high / BANDS[n].low) / (2.0 * NORMAL_90) for n in chosen]
    return posterior_of(chosen, middle, np.diag(np.square(spread)))


def joined(first: Posterior, other: Posterior) -> Posterior:
    """A posterior that takes the factors that `first` lacks from another, as independent of its own."""
    more = [k for k, name in enumerate(other.names) if name not in first.names]
    d, m = len(first.names), len(more)
    matrix = np.zeros((d + m, d + m))
    matrix[:d, :d] = first.matrix()
    matrix[d:, d:] = other.matrix()[np.ix_(more, more)]
    names = (*first.names, *(other.names[k] for k in more))
    return posterior_of(names, [*first.mean, *(other.mean[k] for k in more)], matrix)


def with_factors(setup: Design, values: Mapping[str, float]) -> Setup:
    """A setup with some factors changed.

    Parameters
    ----------
    setup : any
    values : of the factors that change, by name
    """
    setup = as_setup(setup)
    return vary(setup, {f"factors.{name}": value for name, value in values.items()})


def within(name: str, value: float) -> float:
    """A value of a factor, held within what `Factors` allows."""
    low, high = LIMITS[name]
    return min(max(value, low), high)


def check_factor(name: object) -> None:
    """Refuse what is not the name of an uncertain factor."""
    if name not in BANDS:
        guess = nearest(str(name), BANDS)
        hint = f"did you mean {guess!r}?" if guess else "choose one of them"
        raise InputError("factors", name, "is not an uncertain factor; allowed: " + ", ".join(BANDS), hint)


def root(matrix: NDArray[np.float64]) -> NDArray[np.float64]:
    """A matrix whose product with its transpose is a covariance, singular ones included."""
    values, vectors = np.linalg.eigh(matrix)
    if (matrix == np.diag(np.diag(matrix))).all():  # each point keeps to its own factor
        return np.diag(np.sqrt(np.maximum(np.diag(matrix), 0.0)))
    scaled: NDArray[np.float64] = vectors * np.sqrt(np.maximum(values, 0.0))
    return scaled
