"""Which unknown matters: Sobol indices of what comes of a burn."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from burnsim.answers import Drawn, Tabled, Told
from burnsim.bounds import within
from burnsim.errors import InputError, SolverError, unknown
from burnsim.model import Design, as_setup
from burnsim.solve import Failure, Outcome
from burnsim.studies.arrays import Matrix, unit_points
from burnsim.studies.burn_many import Engine, burner_pool
from burnsim.studies.calibrate.factors_file import Known, as_posterior
from burnsim.studies.calibrate.posterior import joined, make_prior
from burnsim.studies.calibrate.repeats import MILESTONES
from burnsim.studies.calibrate.sizes import built
from burnsim.studies.predict.prediction import BAND_RTOL, FIGURES, MOST_FAILURES, figure_of

RATES = MILESTONES
"""Told as 1/(1 + time/median), which is 0 where it never happens and 1 where it does at once: so every burn counts,
none needs an invented time, and none outweighs all others."""

USUAL = (*MILESTONES, "boil_fuel", "efficiency")
BOOTSTRAPS = 200
CONFIDENCE = 0.9


@dataclass(frozen=True, eq=False, repr=False)
class Sensitivity(Tabled, Told, Drawn):
    """Shares of the variance of some figures that each factor explains; those that hang together count as one.

    Attributes
    ----------
    names : of the factors, "one and other" of those that hang together, shape (d,)
    figures : explained; each of `RATES` is taken as 1/(1 + time/median)
    first : explained by a factor alone, shape (number of figures, d); NaN for a figure that does not vary
    total : explained by a factor with all that it shares with others, same shape
    first_band, total_band : 90 % intervals by bootstrap, shape (number of figures, d, 2)
    burns, failures : how many were burnt, and how many of them could not be solved
    """

    names: tuple[str, ...]
    figures: tuple[str, ...]
    first: Matrix
    total: Matrix
    first_band: Matrix
    total_band: Matrix
    burns: int
    failures: int

    def ranked(self, figure: str) -> list[tuple[str, float, float, float]]:
        """Factors by their total index, largest first, with its band: (name, total, low, high); empty if constant."""
        k = self.figures.index(figure)
        if not np.isfinite(self.total[k]).all():
            return []
        order = np.argsort(-self.total[k])
        band = self.total_band[k]
        return [(self.names[j], float(self.total[k, j]), float(band[j, 0]), float(band[j, 1])) for j in order]

    def shares(self, figure: str) -> list[tuple[str, float, float, float]]:
        """As `ranked`, but held within 0 to 1, where every index lies: an estimate beyond is the sampling's."""
        return [
            (name, within(total, 0.0, 1.0), within(low, 0.0, 1.0), within(high, 0.0, 1.0))
            for name, total, low, high in self.ranked(figure)
        ]


def analyse_sensitivity(
    setup: Design,
    *,
    n: int = 256,
    seed: int = 0,
    figures: Sequence[str] = USUAL,
    posterior: Known | None = None,
    engine: Engine | None = None,
    workers: int | None = None,
) -> Sensitivity:
    """Sobol indices of the uncertain factors, over n (d + 2) burns for d factors, a group counted as one.

    Factors that hang together have one index between them, that of their group: what one of them explains is in part
    explained by the other, and no sharing out adds up. Groups are independent of each other, so that all that is said
    of indices holds of theirs.

    Parameters
    ----------
    setup : what burns
    n : a power of two
    seed : of the sample
    figures : what to explain, of `burnsim.studies.predict.prediction.FIGURES`. One that a burn lacks counts as 0.
    posterior : what is known of the factors; those that it lacks are drawn from their bands. They must not hang
        together.
    engine, workers : what burns, and on how many cores; default none: the machine's cores

    Raises
    ------
    InputError
        If `n` is not a power of two, or factors hang together as after calibration: then all that was learnt is one
        group, of which the index tells nothing.
    SolverError
        If more than one burn in twenty cannot be solved.

    References
    ----------
    Saltelli et al., Comput. Phys. Comm. 181 (2010) 259, as in scipy.stats.sobol_indices. Of groups: J. Jacques, C.
    Lavergne, N. Devictor 2006, Reliab. Eng. Syst. Saf. 91, 1126 (from memory).
    """
    setup = as_setup(setup)
    if isinstance(n, bool) or not isinstance(n, int) or n < 2 or n & (n - 1):
        raise InputError("n", n, "is not a power of two", "give n=256, say")
    for name in figures:
        if name not in FIGURES:
            raise unknown("figures", name, FIGURES, "is not kept")
    known = joined(as_posterior(posterior), make_prior(setup.factors))
    if not known.as_in_bands():
        problem = "holds factors that hang together, as calibration leaves them"
        raise InputError("posterior", None, problem, "ask for the indices before calibration")
    d, groups = len(known.names), known.groups()
    points = unit_points("sobol", 2 * d, n, seed)
    one, other = known.draw(points[:, :d]), known.draw(points[:, d:])
    of_group = np.array([np.isin(np.arange(d), group) for group in groups])
    mixed = np.where(of_group[:, None], other, one)  # one factor or group of each from the other
    rows = np.concatenate([one, other, mixed.reshape(-1, d)])
    with burner_pool(len(rows), workers, BAND_RTOL, engine) as burner:
        burns = burner([built(setup, known.named(row)) for row in rows.tolist()], ())
    values, failures = _values(burns, figures)
    found, band = (np.full((2, len(figures), len(groups), *more), np.nan) for more in ((), (2,)))
    tails = [0.5 * (1.0 - CONFIDENCE), 0.5 * (1.0 + CONFIDENCE)]
    for k, row in enumerate(values):
        if np.ptp(row) <= 1e-12 * max(abs(row).max(), 1e-300):
            continue
        mixes = row[2 * n :].reshape(1, len(groups), n).transpose(1, 0, 2)
        parts = {"f_A": row[None, :n], "f_B": row[None, n : 2 * n], "f_AB": mixes}
        found[:, k] = _once(parts, np.arange(n))
        random = np.random.default_rng(seed)
        drawn = np.array([_once(parts, random.integers(0, n, n)) for _ in range(BOOTSTRAPS)])
        band[:, k] = np.moveaxis(np.nanquantile(drawn, tails, axis=0), 0, -1)
    names = tuple(" and ".join(known.names[k] for k in group) for group in groups)
    return Sensitivity(names, tuple(figures), found[0], found[1], band[0], band[1], len(burns), failures)


def _values(found: Sequence[Outcome | Failure], figures: Sequence[str]) -> tuple[Matrix, int]:
    """Figures of all burns, shape (number of figures, burns); a burn that failed counts as the mean of the others."""
    failed = np.array([isinstance(one, Failure) for one in found])
    if failed.sum() > MOST_FAILURES * len(found):
        raise SolverError(f"{int(failed.sum())} of {len(found)} burns could not be solved")
    table = np.array([[figure_of(one, name) for one in found] for name in figures])
    for k, name in enumerate(figures):
        if name in RATES:
            there = np.isfinite(table[k])
            if there.any():
                table[k] = 1.0 / (1.0 + table[k] / max(float(np.median(table[k][there])), 1e-3))
    table = np.where(np.isfinite(table), table, 0.0)
    table[:, failed] = table[:, ~failed].mean(axis=1, keepdims=True)
    return table, int(failed.sum())


def _once(parts: dict[str, Matrix], pick: NDArray[np.int64]) -> Matrix:
    """First and total indices of a resample, shape (2, d)."""
    from scipy.stats import sobol_indices

    found = sobol_indices(func={name: values[..., pick] for name, values in parts.items()}, n=len(pick))
    return np.stack([found.first_order.ravel(), found.total_order.ravel()])
