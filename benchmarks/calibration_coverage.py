"""Do bands cover as often as they claim, and are they right on average? Synthetic benches, and the model fitted to
them.

python benchmarks/calibration_coverage.py [--quick] [--benches N] [--logs N] [--seed N] [--next] [--write]

For each bench the factors are drawn from their bands, and so many burns of the model get the errors of a bench. Three
kinds of bench: `right`, where the drawing is what was built; `wrong`, where gap, wall, jets and strength of the spirit
are off as `SLIPS` says and nobody suspects it; `doubted`, the same benches, with those sizes given to the calibration
as in doubt.

Counted are the 90 % bands that hold what they speak of: of the mean, the model's own burn without errors; of the next
burn, what one more noisy log says; of another build, the same where holes, walls and sizes of the build are drawn anew.
Of a fit that is called bad no band is told. A burner that does not boil is drawn again. --write notes how often
those of `right` held, for `burnsim predict` to tell; the guide has a table to keep in step.

With --next it is asked instead what a second burn is worth, when the boil of another design is wanted (`WANTED`): the
burn that `propose_burns` proposes after the first, or the first again.
"""

import argparse
import math
import time
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

import numpy as np
from scipy.stats import beta

import burnsim
from burnsim.studies.burn_many import Engine, burner_pool
from burnsim.studies.calibrate.posterior import make_prior, of_a_build, set_factors
from burnsim.studies.calibrate.repeats import MILESTONES
from burnsim.studies.predict.prediction import Of

SLIPS = {"pot.gap": 0.4, "burner.wall_thickness": 0.2, "burner.jets.diameter": 0.1, "charge.fuel": 0.05}
KINDS = ("right", "wrong", "doubted")
BANDS: tuple[Of, ...] = ("mean", "next", "another")
QUICK, FULL = 1, 40
WANTED = {"pot.gap": "6 mm", "pot.water": "0.4 l", "burner.jets.diameter": "0.8 mm"}
NOTE = Path(burnsim.__file__).parent / "report" / "coverage.toml"
DESIGN = Path(__file__).parents[1] / "examples" / "weekend_double_wall.toml"


class Bench(NamedTuple):
    """What is true of a bench, and what was written down."""

    true: dict[Of, dict[str, float | None]]  # milestones of which each band speaks [s]
    logs: list[burnsim.bench.BenchLog]


class Tally:
    """What came of one kind of bench."""

    def __init__(self) -> None:
        self.held: dict[tuple[str, str], list[bool]] = {}
        self.off: dict[str, list[float]] = {}  # median of the mean's band over the truth, logarithm
        self.fits = self.bad = self.burns = 0
        self.named: list[str] = []


def drawn(
    setup: burnsim.Setup, slips: dict[str, float], logs: int, random: np.random.Generator, engine: Engine
) -> Bench:
    """Draw a bench that boils, and another build of it that does."""
    belief = make_prior(tolerances=slips)
    stays = [k for k, name in enumerate(belief.names) if not of_a_build(name)]
    while True:
        rows = belief.draw(random.random((2, len(belief.names))))
        rows[1, stays] = rows[0, stays]
        here, there = (set_factors(setup, dict(zip(belief.names, row, strict=True))) for row in rows.tolist())
        real = engine([here, there], ())
        if all(not isinstance(one, burnsim.Failure) and one.milestones.boil.time is not None for one in real):
            break

    def log(built: burnsim.Setup) -> burnsim.bench.BenchLog:
        text = burnsim.bench.synthesise_log(built, seed=int(random.integers(2**31)), engine=engine)
        found = burnsim.bench.parse(text)
        return replace(found, conditions=replace(found.conditions, blend=None))  # nobody knows how strong it is

    def seen(found: burnsim.bench.BenchLog) -> dict[str, float | None]:
        return {mark: getattr(found, mark).time for mark in MILESTONES}

    mean = {mark: getattr(real[0].milestones, mark).time for mark in MILESTONES}
    return Bench({"mean": mean, "next": seen(log(here)), "another": seen(log(there))}, [log(here) for _ in range(logs)])


def judge(
    bench: Bench, setup: burnsim.Setup, slips: dict[str, float], tally: Tally, quick: bool, engine: Engine
) -> None:
    """Calibrate on the logs of a bench, predict, and count what holds."""
    names = ("flame_to_pot", "flame_to_rim") if quick else None
    found = burnsim.calibrate(setup, bench.logs, factors=names, tolerances=slips, starts=1, engine=engine)
    tally.fits, tally.burns = tally.fits + 1, tally.burns + found.burns
    tally.named += [one.path for one in found.explanations[:1]]
    if found.bad:
        tally.bad += 1
        return
    made = burnsim.predict(setup, n=16 if quick else 128, posterior=found.posterior, engine=engine)
    for band in BANDS:
        for mark, when in bench.true[band].items():
            three = made.quantiles(mark, (0.05, 0.5, 0.95), band)
            if when is None or not three:
                continue
            held = three[0].value <= when <= three[2].value
            tally.held.setdefault((band, mark), []).append(held)
            if band == "mean":
                tally.off.setdefault(mark, []).append(math.log(three[1].value / when))


def told(kind: str, tally: Tally) -> str:
    """A table of what came of one kind of bench."""
    lines = [f"{kind}: {tally.fits} fits, {tally.bad} called bad, {tally.burns} burns"]
    if tally.named:
        lines.append(
            "  sizes named first: " + ", ".join(f"{n} {tally.named.count(n)}" for n in sorted(set(tally.named)))
        )
    for mark in MILESTONES:
        cells = []
        for band in BANDS:
            held = tally.held.get((band, mark), [])
            hits, n = sum(held), len(held)
            low = float(beta.ppf(0.05, hits, n - hits + 1)) if hits else 0.0
            high = float(beta.ppf(0.95, hits + 1, n - hits)) if hits < n else 1.0
            cells.append(f"{band} {100 * hits / max(n, 1):3.0f} ({100 * low:.0f}-{100 * high:.0f}) of {n}")
        off = np.array(tally.off.get(mark, [math.nan]))
        error = 100 * off.std(ddof=1) / math.sqrt(len(off)) if len(off) > 1 else math.nan
        cells.append(f"slow by {100 * off.mean():+.1f} +- {error:.1f} %")
        lines.append(f"  {mark:<8} " + ", ".join(cells))
    return "\n".join(lines)


def noted(tally: Tally) -> None:
    """Note for `burnsim predict` how often the bands held."""
    head = NOTE.read_text(encoding="utf-8").partition("\nbenches =")[0]
    rows = {
        band: [round(100.0 * float(np.mean(tally.held[band, mark]))) for mark in ("bloom", "boil", "burnout")]
        for band in BANDS
    }
    text = "".join(f"{band} = {shares}\n" for band, shares in rows.items())
    NOTE.write_text(f"{head}\nbenches = {tally.fits}\n{text}", encoding="utf-8")


def second_burns(benches: int, seed: int) -> None:
    """Compare a second burn as proposed with a repeat of the first, by the error of the boil that is wanted."""
    setup = burnsim.load(DESIGN)
    wanted = burnsim.vary(setup, WANTED)
    random, belief = np.random.default_rng(seed), make_prior()
    off: dict[str, list[float]] = {"repeat": [], "proposed": []}
    with burner_pool(1500 * benches, 1) as engine:
        while len(off["repeat"]) < benches:
            truth = dict(zip(belief.names, belief.draw(random.random((1, len(belief.names))))[0].tolist(), strict=True))
            real = engine([set_factors(setup, truth), set_factors(wanted, truth)], ())
            if any(isinstance(one, burnsim.Failure) or one.milestones.boil.time is None for one in real):
                continue

            def log(
                changes: Mapping[str, object], seed: int, truth: dict[str, float] = truth
            ) -> burnsim.bench.BenchLog:
                built = set_factors(burnsim.vary(setup, changes), truth)
                return burnsim.bench.parse(burnsim.bench.synthesise_log(built, seed=seed, engine=engine))

            first, *seeds = (int(one) for one in random.integers(2**31, size=2))
            known = burnsim.calibrate(setup, [log({}, first)], starts=1, engine=engine).posterior
            best = burnsim.calibration.propose_burns(setup, wanted=wanted, posterior=known, engine=engine).single[0]
            for name, changes in (("repeat", {}), ("proposed", best.changes[0])):
                designs = [setup, burnsim.vary(setup, changes)]
                logs = [log({}, first), log(changes, seeds[0])]
                after = burnsim.calibrate(designs, logs, starts=1, engine=engine).posterior
                boils = burnsim.predict(wanted, n=64, posterior=after, engine=engine).quantiles("boil", (0.5,))
                if boils:
                    off[name].append(math.log(boils[0].value / real[1].milestones.boil.time))
            print(f"{len(off['repeat'])}: {best.burns[0]}, expected to leave {100 * best.shrinkage:.0f} %", flush=True)
    for name, values in off.items():
        error = math.sqrt(np.mean(np.square(values)))
        print(f"second burn {name:<9} boil wanted off by {100 * error:.1f} % (root mean square of {len(values)})")


def main(benches: int, logs: int, seed: int, *, quick: bool, write: bool) -> None:
    setup = burnsim.vary(burnsim.load(DESIGN), {} if quick else {"charge.fuel": "methanol 95"})
    random = np.random.default_rng(seed)
    tallies = {kind: Tally() for kind in KINDS[: 1 if quick else None]}
    start = time.perf_counter()
    with burner_pool(0 if quick else 2000 * benches, 1) as engine:
        for k in range(benches):
            judge(drawn(setup, {}, logs, random, engine), setup, {}, tallies["right"], quick, engine)
            if not quick:
                bench = drawn(setup, SLIPS, logs, random, engine)
                judge(bench, setup, {}, tallies["wrong"], quick, engine)
                judge(bench, setup, SLIPS, tallies["doubted"], quick, engine)
            if k % 5 == 4 or k == benches - 1:
                print(f"{k + 1} benches of {logs} logs a kind, {time.perf_counter() - start:.0f} s")
                print("\n".join(told(kind, tally) for kind, tally in tallies.items()), flush=True)
    if write:
        noted(tallies["right"])


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--quick", action="store_true", help="one bench of one log, two factors")
    parser.add_argument("--benches", type=int, help="of each kind")
    parser.add_argument("--logs", type=int, default=2, help="of each bench")
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--next", action="store_true", help="what a second burn is worth")
    parser.add_argument("--write", action="store_true", help="note how often bands held")
    options = parser.parse_args()
    count = options.benches or (QUICK if options.quick else FULL)
    if options.next:
        second_burns(count, options.seed)
        raise SystemExit
    main(count, 1 if options.quick else options.logs, options.seed, quick=options.quick, write=options.write)
