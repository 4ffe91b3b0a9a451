"""Learn the uncertain factors from bench logs: least squares in their logarithms, with their bands as priors."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from os import PathLike

import numpy as np

from burnsim.answers import Drawn, Tabled, Told
from burnsim.errors import InputError, SolverError, check_whole
from burnsim.model import Design
from burnsim.studies.arrays import Matrix, Vector, unit_points
from burnsim.studies.bench.log import BenchLog, read_logs
from burnsim.studies.burn_many import Engine, burner_pool
from burnsim.studies.calibrate.data import NUISANCES, Alike, Residual, alike, bench_of, paired, residual_table
from burnsim.studies.calibrate.ensemble import draw_posterior
from burnsim.studies.calibrate.explain import Explanation, explanations
from burnsim.studies.calibrate.factors_file import Known, as_posterior
from burnsim.studies.calibrate.misfit import Fit, chance_of, minimise
from burnsim.studies.calibrate.posterior import Posterior, joined, make_prior, posterior_of
from burnsim.studies.calibrate.repeats import PACE
from burnsim.studies.calibrate.sizes import NORMAL_90, check_tolerances

SCOUTS = 16  # draws of the prior among which further starts are chosen
FURTHER = 4  # further starts of a fit that is bad
DOUBTFUL = 0.01  # chance of so bad a fit below which it is called bad
FAR_OFF = 2.5  # standard deviations of its prior from which a factor is far outside its band
USUAL_BURNS = 400


@dataclass(frozen=True, eq=False, repr=False)
class Calibration(Tabled, Told, Drawn):
    """What bench logs taught.

    Attributes
    ----------
    posterior : of the factors, and of the sizes in doubt, after the logs; give it to `predict`, or keep it with
        `save_factors`
    before : the same before
    learnt : of each factor, its standard deviation after over that before (of logarithms), shape (d,)
    correlation : of the factors after, shape (d, d)
    information : what the logs alone say along each principal direction, in units of the prior's precision, falling;
        below 1 the band says more than the logs
    condition : largest over smallest of the precisions after
    alike : pairs of factors that the logs cannot tell apart
    nuisances : clock [s], thermometer [K] and pace [-] of each burn, shape (logs, 3)
    misfit : sum of squares at the best fit, those of the priors included
    measurements : number of them; `misfit` is a chi-square with so many degrees of freedom, if all is as assumed
    chance : of a misfit as large or larger
    inside : share of the measurements inside the fit's own 90 % predictive band
    bad : whether the fit is bad; then `posterior` is widened by `inflation`
    inflation : factor on the covariance, 1 for a fit that is not bad
    residuals : each measurement, before and after
    burns : how many were burnt
    remarks : what to know besides
    explanations : sizes each of which, were it not as drawn, would take much of the misfit away; most first
    different : effective share of different draws in the posterior, 1 where all count alike; 0 without draws
    """

    posterior: Posterior
    before: Posterior
    learnt: Vector
    correlation: Matrix
    information: Vector
    condition: float
    alike: tuple[Alike, ...]
    nuisances: Matrix
    misfit: float
    measurements: int
    chance: float
    inside: float
    bad: bool
    inflation: float
    residuals: tuple[Residual, ...]
    burns: int
    remarks: tuple[str, ...]
    explanations: tuple[Explanation, ...]
    different: float


def calibrate(
    setups: Design | Sequence[Design],
    logs: Sequence[BenchLog | str | PathLike[str]],
    *,
    factors: Sequence[str] | None = None,
    before: Known | None = None,
    tolerances: Mapping[str, float] | None = None,
    pace: float = PACE,
    starts: int = 2,
    engine: Engine | None = None,
    workers: int | None = None,
) -> Calibration:
    """Learn the uncertain factors from bench logs.

    Milestones and readings of the water (until it boils) are compared with the model. The factors have their bands as
    priors, and hang together as in `burnsim.calibration.CORRELATIONS`. Each burn has three unknowns of its own, with
    priors from the log: when its clock was started, the offset of its thermometer, and its pace, by which repeats
    differ. What follows is the Gaussian about the best fit, and draws that follow the curved valleys in which factors
    trade against each other (see `burnsim.studies.calibrate.ensemble`).

    Parameters
    ----------
    setups : what was burnt: one design for all logs, or one a log. What a log states of its conditions counts.
    logs : bench logs, or their files
    factors : names of the factors to learn; default none: all that have a band. One that is left out is held at its
        value, though `predict` draws it from its band: leave out only what can hardly matter.
    before : what is known before, from earlier logs and not from these again, or the file that keeps it; default none:
        the bands
    tolerances : sizes in doubt that are to be learnt too, by dotted path: half width of the central 90 % as a share of
        the size, such as {"pot.gap": 0.5}; "charge.fuel" stands for the spirit's strength. Default none: sizes are as
        drawn.
    pace : relative standard deviation of the pace of repeats
    starts : from how many places to search: the middle of the bands, and the best of a few draws. Of 2 and more, four
        more draws are tried where the fit is bad: a log that no factors fit well has many places to get stuck.
    engine, workers : what burns, and on how many cores; default none: the machine's cores

    Raises
    ------
    InputError
        If there is nothing to learn from.
    SolverError
        If the model cannot burn the design.
    """
    from scipy.special import ndtri

    benches = [bench_of(log, design, pace) for log, design in paired(setups, read_logs(logs))]
    check_whole("starts", starts, 1)
    sizes = check_tolerances(benches[0].setup, tolerances or {})
    known = joined(
        as_posterior(before, "before") or make_prior(benches[0].setup.factors, factors),
        make_prior(names=(), tolerances=sizes),
    )
    if not known.names:
        raise InputError("factors", factors, "names no factor to learn", "leave it out for all")
    with burner_pool(USUAL_BURNS * len(benches) * len(known.names) // 11, workers, engine=engine) as burner:
        fit = Fit(benches, known, burner)
        begin, further = [np.zeros(fit.size)], []
        if starts > 1:
            places = list(ndtri(unit_points("sobol", fit.d, SCOUTS, 1)))
            fit.courses(places)
            scouts = [np.concatenate([z, np.zeros(fit.size - fit.d)]) for z in places]
            scouts.sort(key=fit.sum_of_squares)
            begin, further = begin + scouts[: starts - 1], scouts[starts - 1 : starts - 1 + FURTHER]
        if all(course is None for course in fit.courses([np.zeros(fit.d)])[0]):
            raise SolverError("the model cannot burn this design, so there is nothing to compare")
        found = [minimise(fit, x0) for x0 in begin]
        best = min(found, key=lambda one: one[1])
        if chance_of(2.0 * best[1], fit.measurements) < DOUBTFUL:
            found += [minimise(fit, x0) for x0 in further]
            best = min(found, key=lambda one: one[1])
        others = [x for x, _ in found if x is not best[0]]
        fit.reweight(best[0])
        return _judged(fit, *minimise(fit, best[0]), others)


def _judged(fit: Fit, x: Vector, cost: float, others: list[Vector]) -> Calibration:
    """What a best fit tells; `others` are fits from other starts."""
    slopes, d = fit.slopes(x), fit.d
    precision = slopes.T @ slopes + np.eye(fit.size)
    covariance = np.asarray(np.linalg.inv(precision), dtype=np.float64)
    misfit, n = 2.0 * cost, fit.measurements
    chance = chance_of(misfit, n)
    bad = chance < DOUBTFUL
    inflation = max(misfit / n, 1.0) if bad else 1.0
    z_covariance = covariance[:d, :d] * inflation
    logs = np.array(fit.known.mean) + fit.root @ x[:d]
    matrix = fit.root @ z_covariance @ fit.root.T
    after = posterior_of(fit.known.names, logs.tolist(), 0.5 * (matrix + matrix.T), fit.known.tolerances, fit.pace)
    different = 0.0
    if not bad:
        places, different = draw_posterior(fit, x, slopes, covariance)
        after = after.with_draws(np.log([list(fit.factors(z).values()) for z in places]))
    spread = np.sqrt(np.diag(matrix))
    residual = fit.data(x)
    band = np.sqrt(1.0 + inflation * np.einsum("ij,jk,ik->i", slopes, covariance, slopes))
    # what the logs alone say: the nuisances, with their priors, are integrated out
    nuisance = slopes[:, d:]
    noise = np.eye(n) + nuisance @ nuisance.T
    clean = np.linalg.solve(np.linalg.cholesky(noise), slopes[:, :d])
    information = np.linalg.eigvalsh(clean.T @ clean)[::-1]
    by_factor = clean @ np.linalg.pinv(fit.root) * fit.known.spread()
    precisions = np.linalg.eigvalsh(np.linalg.inv(covariance[:d, :d]))
    nuisances = x[d:].reshape(-1, len(NUISANCES)) * np.stack([bench.scales for bench in fit.benches])
    ends = fit.courses([np.zeros(d), x[:d]])
    table = residual_table(fit.benches, fit.data(np.zeros(fit.size)), residual, ends)
    burns, remarks = fit.burns, tuple(_remarks(fit, x, others, cost))
    return Calibration(
        posterior=after, before=fit.known, learnt=spread / fit.known.spread(),
        correlation=matrix / np.outer(spread, spread), information=np.maximum(information, 0.0),
        condition=float(precisions.max() / precisions.min()), alike=alike(fit.known.names, by_factor),
        nuisances=nuisances, misfit=misfit, measurements=n, chance=chance,
        inside=float(np.mean(np.abs(residual) <= 1.645 * band)), bad=bad, inflation=inflation, residuals=table,
        burns=burns, remarks=remarks, explanations=explanations(fit, x, slopes, bad=bad), different=different,
    )  # fmt: skip


def _remarks(fit: Fit, x: Vector, others: list[Vector], cost: float) -> list[str]:
    said = []
    moved = fit.root @ x[: fit.d] / fit.known.spread()
    beyond = {name: abs(far) for name, far in zip(fit.known.names, moved.tolist(), strict=True) if abs(far) > NORMAL_90}
    far_off = [name for name, far in beyond.items() if far > FAR_OFF]
    near = [name for name in beyond if name not in far_off]
    if far_off:
        said.append("far outside their bands: " + ", ".join(far_off) + "; the model lacks something, or a log is wrong")
    if near:
        whose, it = ("its band", "it stands") if len(near) == 1 else ("their bands", "they stand")
        said.append(
            f"the median is outside {whose}: {', '.join(near)}; of ten factors one is, by chance: look whether what "
            f"{it} for is as drawn, and whether a log is wrong"
        )
    for other in others:
        if fit.sum_of_squares(other) < 2.0 * cost + 6.0 and np.abs(other - x)[: fit.d].max() > 1.5:
            said.append(
                "a second, quite different set of factors fits nearly as well; the bands tell of the best one only"
            )
    for bench, course in zip(fit.benches, fit.courses([x[: fit.d]])[0], strict=True):
        for k, name in enumerate(bench.marks):
            if course is None or course.marks[k] is None:
                said.append(f"{bench.name}: the fitted model does not reach {name}, which the bench saw")
        for k, name in enumerate(bench.never):
            if course is not None and course.never[k]:
                said.append(f"{bench.name}: the fitted model reaches {name}, which the bench did not see")
    return said
