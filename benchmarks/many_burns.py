"""The compiled march over many designs, side by side with a script by hand; figures are printed, nothing is asserted.

python benchmarks/many_burns.py [--quick]
python benchmarks/many_burns.py --against CHECKOUT    # another version of this package, side by side with this one

All times of one line are taken in one run, in turns; those of one core are of the processor: machines are shared.
The script by hand is SciPy's LSODA on the same balances in plain Python with the same located events (see one_burn.py).
"Per core" counts all that a design costs: deriving its parameters, the march, and reading the result.
"""

import argparse
import os
import random
import resource
import subprocess
import sys
import tempfile
import time
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path
from statistics import median

import numpy as np

sys.path.insert(0, str(Path(__file__).parent))
from one_burn import by_scipy

import burnsim
from burnsim.errors import InputError
from burnsim.model.description.setup import Setup
from burnsim.solve.compile.engine import march_compiled
from burnsim.solve.run import DEFAULT_RTOL, ready

ROOT = Path(__file__).parents[1]
BASE = ROOT / "examples" / "weekend_double_wall.toml"
MARKS = ("bloom", "boil", "burnout")


def designs(count: int, seed: int) -> list[Setup]:
    """Random designs about the weekend burner: jets, charge, cup, pot, rest, site."""
    base = burnsim.load(BASE)
    draw = random.Random(seed)
    made: list[Setup] = []
    while len(made) < count:
        try:
            made.append(
                burnsim.vary(
                    base,
                    {
                        "burner.jets.count": draw.randint(12, 40),
                        "burner.jets.diameter": draw.uniform(0.6e-3, 1.4e-3),
                        "burner.gallery_gap": draw.uniform(3e-3, 6e-3),
                        "charge.volume": draw.uniform(15e-6, 45e-6),
                        "charge.primer": draw.uniform(1.5e-6, 4e-6),
                        "pot.water": draw.uniform(0.3e-3, 0.9e-3),
                        "pot.rest": draw.choice(["bumps", "bumps", "stand"]),
                        "site.air_temperature": draw.uniform(268.0, 308.0),
                        "site.altitude": draw.uniform(0.0, 2500.0),
                    },
                )
            )
        except InputError:
            continue
    return made


def burn_all(setups: list[Setup]) -> float:
    """Processor seconds to burn them all with the compiled march, result and all."""
    began = time.process_time()
    burnsim.burn_many(setups, engine="compiled")
    return time.process_time() - began


def by_hand(setup: Setup, rtol: float) -> tuple[float, int]:
    """Processor seconds and evaluations of the script by hand."""
    began = time.process_time()
    p, first, spark = ready(setup)
    if spark.time is None:
        return time.process_time() - began, 0
    run = by_scipy(p, first, (spark.time, spark.regime), "LSODA", rtol)
    return time.process_time() - began, run.evaluations


def against_the_script(setups: list[Setup], rtol: float) -> None:
    """The headline: how many times the script by hand, design by design."""
    ratios, spent, burns = [], [], []
    for setup in setups:
        slow, evaluations = by_hand(setup, rtol)
        quick = median(burn_all([setup]) for _ in range(3))
        ratios.append(slow / quick)
        spent.append(quick)
        burns.append((slow, evaluations))
    print(
        f"script by hand (LSODA, rtol {rtol:g}) : {median(s for s, _ in burns) * 1e3:9.1f} ms a burn, "
        f"{median(n for _, n in burns):.0f} evaluations"
    )
    print(
        f"this engine, all included        : {median(spent) * 1e3:9.2f} ms a burn, "
        f"{1.0 / median(spent):.0f} burns/s a core"
    )
    print(f"ratio, design by design          : {median(ratios):9.0f} (from {min(ratios):.0f} to {max(ratios):.0f})")


def parts(setups: list[Setup]) -> None:
    """Where the time of a design goes."""
    began = time.perf_counter()
    starts = [ready(setup) for setup in setups]
    made = time.perf_counter()
    accounts = [march_compiled(start, DEFAULT_RTOL).account for start in starts if start.spark.time is not None]
    marched = time.perf_counter()
    count = sum(account.evaluations for account in accounts)
    n = len(accounts)
    print(f"deriving parameters              : {(made - began) / len(setups) * 1e3:9.2f} ms a burn")
    print(
        f"march                            : {(marched - made) / n * 1e3:9.2f} ms a burn, {count / n:.0f} evaluations, "
        f"{(marched - made) / count * 1e6:.2f} us each, steps and events included"
    )


def accuracy(setups: list[Setup]) -> None:
    """Errors of the milestones against a tolerance far tighter, and flips."""
    usual = burnsim.burn_many(setups, engine="compiled")
    tight = burnsim.burn_many(setups, rtol=1e-3 * DEFAULT_RTOL, engine="compiled")
    errors: dict[str, list[float]] = {mark: [] for mark in MARKS}
    flips = 0
    failed = 0
    for one, other in zip(usual, tight, strict=True):
        if isinstance(one, burnsim.Failure) or isinstance(other, burnsim.Failure):
            failed += 1
            continue
        for mark in MARKS:
            a, b = getattr(one.milestones, mark).time, getattr(other.milestones, mark).time
            if (a is None) != (b is None):
                flips += 1
            elif a is not None and b is not None:
                errors[mark].append(abs(a - b))
    print(f"against a tolerance a thousand times tighter, {len(setups)} designs: {flips} flips, {failed} failures")
    for mark in MARKS:
        found = np.array(errors[mark])
        if len(found):
            print(
                f"  {mark:<10} error median {np.median(found):.4f} s, p99 {np.quantile(found, 0.99):.4f} s, "
                f"worst {found.max():.3f} s over {len(found)}"
            )


def count_up(most: int) -> int:
    """Work that shares nothing with other processes: what two cores of this machine can gain at best."""
    return sum(k * k % 7 for k in range(most))


def cores(setups: list[Setup]) -> None:
    """One worker process and two, on the same designs; beside it the same for bare arithmetic."""
    context = get_context("spawn")
    chunk = max(len(setups) // 16, 1)
    pieces = [setups[k : k + chunk] for k in range(0, len(setups), chunk)]
    taken, bare = {}, {}
    for workers in (1, 2):
        with ProcessPoolExecutor(workers, mp_context=context) as pool:
            list(pool.map(burn_all, [setups[:2]] * (4 * workers)))  # each worker warm
            began = time.perf_counter()
            list(pool.map(burn_all, pieces))
            taken[workers] = time.perf_counter() - began
            began = time.perf_counter()
            list(pool.map(count_up, [500_000] * 16))
            bare[workers] = time.perf_counter() - began
    print(
        f"two worker processes             : {taken[1] / taken[2]:9.2f} times one "
        f"(bare arithmetic: {bare[1] / bare[2]:.2f} times)"
    )


def growth(counts: tuple[int, ...], pool: list[Setup]) -> None:
    """Processor time per design and memory as the number of designs grows."""
    for count in counts:
        began = time.process_time()
        done = 0
        while done < count:
            piece = [pool[(done + k) % len(pool)] for k in range(min(500, count - done))]
            burnsim.burn_many(piece, engine="compiled")
            done += len(piece)
        spent = time.process_time() - began
        memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
        print(f"{count:>7} designs                  : {spent / count * 1e3:9.2f} ms each, peak memory {memory:.0f} MiB")


FIRST = "found = burnsim.burn_many([burnsim.load({base!r})], engine='compiled')"
MANY = """
setups = many_burns.designs({count}, 5)
burnsim.burn_many(setups[:2], engine="compiled")
began, spent = time.perf_counter(), time.process_time()
burnsim.burn_many(setups, engine="compiled")
print({count} / (time.process_time() - spent), resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0)
"""
SWEEP = "burnsim.sweep(burnsim.load({base!r}), {values!r}, progress=False, workers={workers})"
SIXTY = {"burner.jets.count": [20, 22, 24, 26, 28, 30], "charge.volume": [f"{20 + 2 * k} ml" for k in range(10)]}


def fresh(tree: Path, code: str, folder: str) -> tuple[float, float, str]:
    """Run code in a fresh process on a version of the package: processor seconds, by the clock, and what it printed."""
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join([str(tree), str(tree / "benchmarks")])}
    environment["BURNSIM_CACHE"] = folder
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    began = time.perf_counter()
    done = subprocess.run(
        [sys.executable, "-c", code], check=True, env=environment, cwd=tree, capture_output=True, text=True
    )
    clock = time.perf_counter() - began
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime, clock, done.stdout


def side_by_side(trees: list[Path], quick: bool) -> None:
    """What a user of each version waits for, in turns: processor seconds, and seconds by the clock."""
    count = 40 if quick else 200
    many = "import resource, time, burnsim, many_burns" + MANY.format(count=count)
    sweeps = {n: "import burnsim\n" + SWEEP.format(base=str(BASE), values=SIXTY, workers=n) for n in (1, None)}
    with tempfile.TemporaryDirectory() as whole:
        folders = [f"{whole}/{k}" for k in range(len(trees))]
        rows = [
            ("first answer, empty cache", "import burnsim\n" + FIRST.format(base=str(BASE))),
            ("first answer, warm", "import burnsim\n" + FIRST.format(base=str(BASE))),
            ("sweep of 60, one worker", sweeps[1]),
            ("sweep of 60, default", sweeps[None]),
        ]
        print(f"{'process start to result':<32} " + "".join([f"{tree.name[:22]:>26}" for tree in trees]))
        for name, code in rows:
            found = [fresh(tree, code, folder) for tree, folder in zip(trees, folders, strict=True)]
            print(f"{name:<32} " + "".join([f"{spent:9.2f} s ({clock:6.2f} s clock)" for spent, clock, _ in found]))
        speeds = [fresh(tree, many, folder)[2].split() for tree, folder in zip(trees, folders, strict=True)]
        print(f"{'burns a second of a processor':<32} " + "".join([f"{float(speed):26.0f}" for speed, _ in speeds]))
        print(f"{'peak memory [MiB]':<32} " + "".join([f"{float(size):26.0f}" for _, size in speeds]))


def main() -> None:
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("--quick", action="store_true", help="few designs, for a check that it runs")
    options.add_argument("--against", type=Path, help="checkout of another version, to be set beside this one")
    given = options.parse_args()
    quick = given.quick
    print(f"{os.cpu_count()} cores; Python {sys.version.split()[0]}; NumPy {np.__version__}")
    side_by_side([given.against.resolve(), ROOT] if given.against else [ROOT], quick)
    if given.against:
        return
    pool = designs(40 if quick else 500, 5)
    burn_all(pool[:1])  # compile, should it be needed
    against_the_script(pool[: 3 if quick else 20], 1e-4)
    parts(pool[:40])
    accuracy(pool)
    cores(pool if quick else pool * 4)
    growth((10, 40) if quick else (10, 100, 1000, 10_000, 100_000), pool)


if __name__ == "__main__":
    main()
