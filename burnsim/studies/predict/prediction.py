"""Predictions with honest bands: many burns with the uncertain factors and the build's tolerances drawn at random."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from burnsim.answers import Drawn, Tabled, Told
from burnsim.errors import InputError, SolverError
from burnsim.model.description.files import Design, as_setup
from burnsim.model.description.setup import Setup
from burnsim.model.description.vary import vary
from burnsim.solve import Failure, Outcome
from burnsim.studies.burn_many import Engine, burner_pool
from burnsim.studies.calibrate.posterior import NORMAL_90, Posterior, joined, prior
from burnsim.studies.counting import expect
from burnsim.studies.predict.estimates import Quantile, Share, quantile, share
from burnsim.studies.sweep.columns import COLUMNS, OUTCOME_COLUMNS
from burnsim.studies.sweep.plan import is_numeric, spec_at
from burnsim.studies.sweep.points import unit_points

LEVELS = (0.05, 0.25, 0.5, 0.75, 0.95)
CURVE_POINTS = 61
MOST_BURNS = 2**17  # a quarter of an hour of machine code, and some hundred megabytes of outcomes
STILL_BURNING = 0.9  # share of the burns that must still run where a band of the water is told
MOST_FAILURES = 0.05
BAND_RTOL = 5e-3
"""Of the steps of drawn burns: milestones within 1 s (99 in 100), half within 0.02 s; the bands are minutes wide."""

FIGURES = (
    "bloom",
    "boil",
    "burnout",
    "spill",
    "quench",
    "boil_fuel",
    "efficiency_to_boil",
    "efficiency",
    "power_median",
    "water_max",
    "spill_margin",
    "boil_margin",
    "fuel_margin",
    "gallery_pressure_max",
    "well_pressure_max",
    "heat_fed_back",
)
"""Figures that a prediction keeps, by their names among the columns of a sweep."""

UNITS = {column.name: column.units for column in COLUMNS if column.name in FIGURES}
_PICKS = {column.name: column.pick for column in OUTCOME_COLUMNS if column.name in FIGURES}


@dataclass(frozen=True, eq=False, repr=False)
class Prediction(Tabled, Told, Drawn):
    """What may come of a burn.

    Attributes
    ----------
    setup : what was burnt, at the middle of what is known
    posterior : what was known of the factors
    tolerances : relative half widths of the central 90 % of varied sizes, by dotted path
    seed : of the sample
    names : of the drawn factors and sizes, shape (d,)
    drawn : their values, shape (n, d)
    figures : each figure of `FIGURES` in SI, shape (n,), NaN where it did not happen or the burn failed
    codes : verdicts of each burn
    solved : whether each burn was solved, shape (n,)
    failures : reasons of those that were not
    time : at which bands of the water's temperature are told [s], shape (m,)
    water : the water's temperature [K], shape (n, m), NaN after the end of a burn
    """

    setup: Setup
    posterior: Posterior
    tolerances: Mapping[str, float]
    seed: int
    names: tuple[str, ...]
    drawn: NDArray[np.float64]
    figures: Mapping[str, NDArray[np.float64]]
    codes: tuple[frozenset[str], ...]
    solved: NDArray[np.bool_]
    failures: tuple[str, ...]
    time: NDArray[np.float64]
    water: NDArray[np.float64]

    @property
    def n(self) -> int:
        """How many burns were solved."""
        return int(self.solved.sum())

    def happens(self, name: str) -> Share:
        """Probability that a figure has a value: that a milestone happens.

        Parameters
        ----------
        name : of `FIGURES`, for example "boil"
        """
        return _sure(share(int(np.isfinite(self._figure(name)).sum()), self.n))

    def probability(self, code: str) -> Share:
        """Probability of a verdict, for example "spills" or "never blooms"."""
        return _sure(share(sum(code in codes for codes in self.codes), self.n))

    def below(self, name: str, limit: float) -> Share:
        """Probability that a figure has a value and is at most a limit [SI]."""
        values = self._figure(name)
        return _sure(share(int((values[np.isfinite(values)] <= limit).sum()), self.n))

    def quantiles(self, name: str, levels: Sequence[float] = LEVELS) -> tuple[Quantile, ...]:
        """Quantiles of a figure among the burns in which it has a value; empty if there are none.

        Parameters
        ----------
        name : of `FIGURES`
        levels : 0 to 1
        """
        values = self._figure(name)
        found = (quantile(values[np.isfinite(values)], level) for level in levels)
        return tuple(one for one in found if one is not None)

    def water_quantiles(
        self, levels: Sequence[float] = LEVELS, running: float = STILL_BURNING
    ) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Bands of the water's temperature while enough burns still run.

        Parameters
        ----------
        levels : 0 to 1
        running : share of the burns that must still run, default nine in ten

        Returns
        -------
        tuple
            Times [s], shape (k,), and quantiles [K], shape (number of levels, k), among the burns that still run.
        """
        if not self.water.size or not self.n:
            return np.empty(0), np.empty((len(levels), 0))
        kept = self.still_running() >= max(running, 1.0 / self.n)
        table = self.water[self.solved][:, kept]
        return self.time[kept], np.nanquantile(table, levels, axis=0) if kept.any() else np.empty((len(levels), 0))

    def still_running(self) -> NDArray[np.float64]:
        """Share of the solved burns that still run at each instant of `time` [-], shape (m,)."""
        if not self.water.size or not self.n:
            return np.empty(0)
        share_of: NDArray[np.float64] = np.isfinite(self.water[self.solved]).mean(axis=0)
        return share_of

    def _figure(self, name: str) -> NDArray[np.float64]:
        if name not in self.figures:
            raise InputError("figure", name, "is not kept; allowed: " + ", ".join(self.figures), "choose one of them")
        return self.figures[name]


def predict(
    setup: Design,
    *,
    n: int = 512,
    seed: int = 0,
    posterior: Posterior | None = None,
    tolerances: Mapping[str, float] | None = None,
    engine: Engine | None = None,
    workers: int | None = None,
) -> Prediction:
    """Burn a design many times over what is not known of it.

    The uncertain factors are drawn from their bands (lognormal, central 90 %; among them hole diameter and wall
    thickness as built), or from what calibration left of them, by a scrambled Sobol sequence.

    Parameters
    ----------
    setup
        What burns; its factors are the middle of the bands.
    n
        How many burns, best a power of two.
    seed
        Of the sample; equal seeds give equal predictions.
    posterior
        What is known of the factors, for example from `calibrate` or `load_factors`; those that it lacks are drawn from
        their bands. Default none: the bands alone.
    tolerances
        Further sizes to draw, by dotted path: half width of the central 90 % as a share of the size, lognormal, such as
        {"charge.volume": 0.03}. Default none.
    engine, workers
        What burns, and on how many cores; default none: the machine's cores.

    Returns
    -------
    Prediction

    Raises
    ------
    InputError
        For a number of burns, seed or tolerance that makes no sense.
    SolverError
        If more than one burn in twenty cannot be solved: then the rest is not a fair sample.
    """
    setup = as_setup(setup)
    _check_numbers(n, seed)
    given = check_tolerances(setup, tolerances or {})
    known = joined(posterior, prior(setup.factors)) if posterior is not None else prior(setup.factors)
    d = len(known.names)
    points = unit_points("sobol", d + len(given), n, seed)
    factors = known.draw(points[:, :d])
    sizes = _sizes(setup, given, points[:, d:])
    names = (*(f"factors.{name}" for name in known.names), *given)
    drawn = np.concatenate([factors, sizes], axis=1)
    middle = vary(setup, {f"factors.{name}": value for name, value in known.median().items()})
    if engine is not None:
        return _predicted(middle, known, given, seed, names, drawn, engine)
    with burner_pool(n, workers, BAND_RTOL) as pooled:
        return _predicted(middle, known, given, seed, names, drawn, pooled)


def _predicted(
    setup: Setup,
    known: Posterior,
    tolerances: Mapping[str, float],
    seed: int,
    names: tuple[str, ...],
    drawn: NDArray[np.float64],
    engine: Engine,
) -> Prediction:
    time = np.empty(0)
    if setup.pot is not None:
        expect(1)
        first = engine([setup], ())[0]
        if not isinstance(first, Failure):
            time = np.linspace(0.0, 1.2 * first.duration, CURVE_POINTS)
    found = engine([varied(setup, names, row) for row in drawn.tolist()], tuple(time.tolist()))
    solved = np.array([not isinstance(one, Failure) for one in found])
    failures = tuple(one.reason for one in found if isinstance(one, Failure))
    if len(failures) > max(MOST_FAILURES * len(found), 1.0):
        raise SolverError(f"{len(failures)} of {len(found)} burns could not be solved, the first: {failures[0]}")
    return Prediction(
        setup,
        known,
        dict(tolerances),
        seed,
        names,
        drawn,
        {name: np.array([figure_of(one, name) for one in found]) for name in FIGURES},
        tuple(frozenset() if isinstance(one, Failure) else frozenset(v.code for v in one.verdicts) for one in found),
        solved,
        failures,
        time,
        np.array([_curve(one, len(time)) for one in found]).reshape(len(found), len(time)),
    )


def varied(setup: Setup, names: Sequence[str], values: Sequence[float]) -> Setup:
    """A setup with drawn factors and sizes; a size that its field refuses is held at the nearest it allows."""
    changes: dict[str, object] = {}
    for path, value in zip(names, values, strict=True):
        low, high = _allowed(path)
        changes[path] = min(max(value, low), high)
    return vary(setup, changes)


@cache
def _allowed(path: str) -> tuple[float, float]:
    """What the field at a path allows; looked up once, not once a burn."""
    spec = spec_at(path)
    return spec.low, spec.high


def figure_of(found: Outcome | Failure, name: str) -> float:
    """One of `FIGURES` of a burn; NaN where it did not happen."""
    if isinstance(found, Failure):
        return math.nan
    value = _PICKS[name](found)
    return value if isinstance(value, int | float) else math.nan


def check_tolerances(setup: Setup, tolerances: Mapping[str, float]) -> dict[str, float]:
    """Refuse tolerances of anything but a size, or that make no sense."""
    for path, width in tolerances.items():
        spec = spec_at(path)
        if not is_numeric(spec) or spec.dimension in ("count", "temperature"):
            raise InputError(
                path, width, "is not a size, and so has no tolerance", "give lengths, volumes and the like"
            )
        if path.startswith("factors."):
            raise InputError(path, width, "is a tolerance of a factor", "factors have their bands: leave it out")
        if isinstance(width, bool) or not isinstance(width, int | float) or not 0.0 < width < 1.0:
            raise InputError(path, width, "is not a share above 0 and below 1", "give 0.03 for 3 % to either side")
        _size(setup, path)
    return dict(tolerances)


def _size(setup: Setup, path: str) -> float:
    part: object = setup
    for name in path.split("."):
        part = getattr(part, name, None)
    if not isinstance(part, int | float) or part <= 0.0:
        raise InputError(path, part, "has no size in this design", "leave its tolerance out")
    return float(part)


def _sizes(setup: Setup, tolerances: Mapping[str, float], points: NDArray[np.float64]) -> NDArray[np.float64]:
    from scipy.special import ndtri

    columns = [
        _size(setup, path) * np.exp(math.log1p(width) / NORMAL_90 * ndtri(np.clip(points[:, k], 1e-12, 1.0 - 1e-12)))
        for k, (path, width) in enumerate(tolerances.items())
    ]
    return np.stack(columns, axis=1) if columns else np.empty((len(points), 0))


def _curve(found: Outcome | Failure, points: int) -> list[float]:
    if isinstance(found, Failure) or len(found.water_at) != points:
        return [math.nan] * points
    return [math.nan if value is None else value for value in found.water_at]


def _check_numbers(n: int, seed: int) -> None:
    if isinstance(n, bool) or not isinstance(n, int) or not 8 <= n <= MOST_BURNS:
        raise InputError("n", n, f"is not a number of burns; allowed 8 to {MOST_BURNS}", "give n=512, say")
    if isinstance(seed, bool) or not isinstance(seed, int) or seed < 0:
        raise InputError("seed", seed, "is not a whole number from 0", "leave it out for 0")


def _sure(found: Share | None) -> Share:
    if found is None:
        raise SolverError("no burn of the sample was solved")
    return found
