"""Two or more designs burnt side by side."""

from collections.abc import Sequence
from dataclasses import dataclass
from os import PathLike
from typing import Any

from burnsim.answers import Drawn, Tabled, Told
from burnsim.errors import InputError
from burnsim.model import Design, as_setup, is_design
from burnsim.solve import Burn
from burnsim.studies.batches import burn_whole
from burnsim.studies.bench.log import BenchLog, read_logs
from burnsim.studies.burn_many import burner_pool
from burnsim.studies.calibrate.factors_file import Known, as_posterior
from burnsim.studies.calibrate.posterior import set_factors
from burnsim.studies.compare.causes import Causes, Flip, Group, causes, changed, choices, chosen, flips, groups
from burnsim.studies.compare.paired import Draws, PairedDifference, burn_drawn, check_draws, difference
from burnsim.studies.counting import count, expect
from burnsim.studies.predict.prediction import BAND_RTOL

FIGURES = (
    "bloom", "boil", "burnout", "boil_fuel", "efficiency_to_boil", "efficiency", "power_median", "power_max",
    "water_max", "spill_margin", "gallery_pressure_max",
)  # fmt: skip
"""Figures that are set side by side."""

MOST_DESIGNS = 6


@dataclass(frozen=True)
class Against:
    """One design against the first."""

    # fields in which they differ, by dotted path: (value of the first, value of this) [SI]
    changes: dict[str, tuple[Any, Any]]
    groups: tuple[Group, ...]  # of those, each of which can be changed without the others
    causes: tuple[Causes, ...]  # where the difference of each figure comes from
    flips: tuple[Flip, ...]  # verdicts that came or went, and what did it
    paired: dict[str, PairedDifference]  # differences draw by draw, by figure; empty without draws


@dataclass(frozen=True, eq=False, repr=False)
class DesignComparison(Told, Tabled, Drawn):
    """Designs side by side.

    Attributes
    ----------
    burns : one a design, with the factors at the middle of what is known
    names : of the designs, all different
    against : each but the first, against the first
    draws : what came of each with the same draws of the factors; None without draws
    logs : bench log of each design; None where there is none
    """

    burns: tuple[Burn, ...]
    names: tuple[str, ...]
    against: tuple[Against, ...]
    draws: Draws | None
    logs: tuple[BenchLog | None, ...]


def compare(
    designs: Sequence[Design | Burn],
    *,
    logs: Sequence[BenchLog | str | PathLike[str]] = (),
    n: int = 64,
    seed: int = 0,
    posterior: Known | None = None,
    workers: int | None = None,
) -> DesignComparison:
    """Burn designs side by side: what differs, which change did it, and whether that is more than is unknown.

    Parameters
    ----------
    designs : two to six: setups, paths of design files, tables as in them, or burns
    logs : bench logs, or their paths, to set beside the burns: each goes to the design that has the name of its build;
        if they have other names, one a design in their order
    n : draws of the uncertain factors with which all designs are burnt, the same for all; 0 for none
    seed : of the draws
    posterior : what is known of the factors, from `calibrate`, or the file that keeps it; default none: their bands
    workers : cores; default none: the machine's

    Raises
    ------
    InputError
        For less than two designs, more than six, or what makes no sense.

    Notes
    -----
    Up to six changes are burnt in every choice of them, and the difference is shared out by Shapley's value, with the
    factors at their middle; of more, each is burnt alone, and what is left is told as interaction. Hole diameter and
    wall thickness as built are factors too: both builds are taken to turn out alike.
    """
    if is_design(designs) or isinstance(designs, Burn) or not isinstance(designs, Sequence):
        raise InputError("designs", designs, "is not several designs", "give a list of two or more")
    if not 2 <= len(designs) <= MOST_DESIGNS:
        raise InputError("designs", len(designs), f"designs were given; allowed 2 to {MOST_DESIGNS}", "give two, say")
    if n != 0:
        check_draws(n)
    setups = [one.setup if isinstance(one, Burn) else as_setup(one) for one in designs]
    names: list[str] = []
    for k, setup in enumerate(setups, start=1):
        name = setup.name or f"design {k}"
        names.append(name if name not in names else f"{name} ({k})")
    read = _logs(logs, names)
    posterior = as_posterior(posterior)
    if posterior is not None:
        setups = [set_factors(one, posterior.median()) for one in setups]
    expect(len(setups))
    burns = []
    for given, setup in zip(designs, setups, strict=True):
        burns.append(given if isinstance(given, Burn) and given.setup == setup else burn_whole(setup))
        count()
    first = setups[0]
    changes = [changed(first, other) for other in setups[1:]]
    values = [{path: pair[1] for path, pair in one.items()} for one in changes]
    parted = [groups(first, one) for one in values]
    plans = [chosen(first, one, part) for one, part in zip(values, parted, strict=True)]
    planned = [setup for plan in plans for setup in plan]
    with burner_pool(len(planned), workers) as engine:
        done = engine(planned, ())
    draws = None
    if n:
        with burner_pool(n * len(setups), workers, BAND_RTOL) as engine:
            draws = burn_drawn(setups, n, seed, posterior, engine)
    found = []
    for k, (one, part) in enumerate(zip(changes, parted, strict=True), start=1):
        size = len(choices(len(part)))
        mine, done = done[:size], done[size:]
        paired = {} if draws is None else {name: difference(draws, name, 0, k) for name in FIGURES}
        found.append(Against(one, part, tuple(causes(name, part, mine) for name in FIGURES), flips(part, mine), paired))
    return DesignComparison(tuple(burns), tuple(names), tuple(found), draws, read)


def _logs(logs: Sequence[BenchLog | str | PathLike[str]], names: Sequence[str]) -> tuple[BenchLog | None, ...]:
    read = read_logs(logs)
    builds = [one.build for one in read]
    if all(one in names for one in builds) and len(set(builds)) == len(builds):
        by_name = dict(zip(builds, read, strict=True))
        return tuple(by_name.get(name) for name in names)
    if len(read) == len(names):
        return tuple(read)
    said = ", ".join(f"build {one.build!r} in {one.source}" if one.build else f"none in {one.source}" for one in read)
    raise InputError(
        "logs", None, f"do not tell which design each is of: {said}; the designs are " + ", ".join(map(repr, names)),
        "give one log for each design, in their order, or write build = its name in each log",
    )  # fmt: skip
