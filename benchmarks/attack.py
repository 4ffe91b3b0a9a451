"""Attack the library: burn random designs, feed it damaged files, break the machine under it, and count what held.

python benchmarks/attack.py                                                             some minutes
python benchmarks/attack.py --designs 100000 --ladder 300 --compare 300 --peaks 10000   half an hour
python benchmarks/attack.py --kept                                                      what once failed

Each seed is a design, half of them within the envelope (tests/random_designs/generator.py), half at its edges
(wide.py), burnt as machine code. Checked are: no exception, every number finite, no negative amount, temperatures
within bounds, ledgers closed to 1e-6, milestones in order, a verdict for whatever fails (examine.py). A ladder of
tolerances must hold the same; plain Python must give what machine code gives; the highest pressures and froth of 99
designs in 100 must lie within 1 % of what a tight tolerance gives; sweeps of twelve fields are looked through for
jumps, which are told, not judged: a milestone that a burn just misses is one. Faults and damaged inputs are those of
tests/hostile/faults.py. Exit code 1 if anything did not hold.
"""

import argparse
import os
import sys
import tempfile
import time
import warnings
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from multiprocessing import get_context
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from hostile.faults import FAULTS, damaged_inputs
from random_designs.examine import burnt, complaints
from random_designs.generator import seeded_setup
from random_designs.seeds import ONCE_FAILED, ONCE_FAILED_TIGHT, ONCE_FAILED_WIDE
from random_designs.wide import wide_setup

import burnsim
from burnsim.model.description.setup import Setup
from burnsim.solve.peaks import LEAST
from burnsim.solve.recorder import PEAKS
from burnsim.solve.run import DEFAULT_RTOL

ROOT = Path(__file__).parents[1]
CHUNK = 20
WARMING = (6, 3, 13, 14, 5)
"""Wide designs that light, of one to five components."""
LADDER = (1e-4, 1e-5, 1e-6, 1e-7)
NEAR, NEAR_SECONDS = 0.01, 1.0  # of its time: what a milestone may move down the ladder before it is told
SAME = 1e-9  # relative difference of a time between plain Python and machine code
FIELDS = {
    "burner.outer_diameter": (0.052, 0.078),
    "burner.height": (0.040, 0.055),
    "burner.gallery_gap": (0.003, 0.008),
    "burner.wall_thickness": (0.8e-4, 6e-4),
    "burner.jets.diameter": (0.7e-3, 1.4e-3),
    "burner.jets.height": (0.030, 0.040),
    "charge.volume": (20e-6, 45e-6),
    "charge.primer": (1e-6, 5e-6),
    "pot.gap": (1e-3, 5e-3),
    "pot.water": (0.3e-3, 1.2e-3),
    "site.wind": (0.0, 2.5),
    "site.air_temperature": (258.0, 313.0),
}
JUMP = 0.01  # of the boil's time, and eight times the median of the steps on its curve
TIGHT = 1e-6
EXACT, FEW = 0.01, 100  # what p99 of a peak may be off by, where there are more designs than a few
Seen = tuple[int, str, list[str]]
Height = tuple[int, tuple[float, ...], tuple[float, ...], str]
"""Seed, peaks at the default tolerance and at a tight one, and what went wrong."""


def setup_of(seed: int) -> Setup:
    """Design of a seed: even ones within the envelope, odd ones at its edges."""
    return wide_setup(seed // 2) if seed % 2 else seeded_setup(seed // 2)


def look(seeds: Iterable[int]) -> list[Seen]:
    """(seed, kind, complaints) of each design."""
    warnings.simplefilter("ignore")
    return [_seen(seed, lambda setup: complaints(setup, compiled=True)) for seed in seeds]


def climb(seeds: Iterable[int]) -> list[Seen]:
    """The same at every tolerance of the ladder, with what milestones move."""
    warnings.simplefilter("ignore")
    return [_seen(seed, _ladder) for seed in seeds]


def compare(seeds: Iterable[int]) -> list[Seen]:
    """Differences between plain Python and machine code."""
    warnings.simplefilter("ignore")
    return [_seen(seed, _engines) for seed in seeds]


def _seen(seed: int, of: Callable[[Setup], list[str]]) -> Seen:
    setup = setup_of(seed)
    kind = f"{setup.burner.kind}, {len(setup.charge.fuel.components)} components"
    try:
        return seed, kind, of(setup)
    except Exception as error:  # whatever it is, it is a finding
        return seed, kind, [f"{type(error).__name__}: {error}"]


def _ladder(setup: Setup) -> list[str]:
    found = [f"at {rtol:g}: {text}" for rtol in LADDER for text in complaints(setup, rtol, compiled=True)]
    usual, tight = (burnt(setup, rtol, compiled=True).outcome.milestones for rtol in (DEFAULT_RTOL, LADDER[-2]))
    for name in usual._fields:
        a, b = getattr(usual, name).time, getattr(tight, name).time
        if (a is None) != (b is None) or (
            a is not None and b is not None and abs(a - b) > NEAR_SECONDS + NEAR * max(a, b)
        ):
            found.append(f"moves: {name} {a} s becomes {b} s")
    return found


def _engines(setup: Setup) -> list[str]:
    plain, machine = (burnt(setup, compiled=compiled).account for compiled in (False, True))
    if len(plain.time) != len(machine.time):
        return [f"{len(plain.time)} steps in plain Python, {len(machine.time)} as machine code"]
    off = float(np.max(np.abs(plain.time - machine.time) / np.maximum(machine.time, 1.0), initial=0.0))
    return [f"times differ by {off:.2g}"] if off > SAME else []


def heights(seeds: Iterable[int]) -> list[Height]:
    """Peaks of each design at the default tolerance and at a tight one."""
    warnings.simplefilter("ignore")
    found: list[Height] = []
    for seed in seeds:
        setup = setup_of(seed)
        try:
            usual, tight = (burnt(setup, rtol, compiled=True).account.peaks for rtol in (DEFAULT_RTOL, TIGHT))
            found.append((seed, usual, tight, ""))
        except burnsim.SolverError as error:
            found.append((seed, (), (), str(error)))
    return found


def peaks(parts: Iterable[range], workers: int, until: float) -> tuple[int, int]:
    """How exact the highest pressures and froth are, printed: (number of burns, how many things are wrong)."""
    found: list[Height] = []
    with get_context("spawn").Pool(workers) as pool:
        for some in pool.imap_unordered(heights, parts):
            found += some
            if time.perf_counter() > until:
                pool.terminate()
                break
    print(f"peaks at {DEFAULT_RTOL:g} beside {TIGHT:g}: {len(found)} designs")
    for seed, _, _, error in found:
        if error:
            print(f"  seed {seed}: {error}")
    failed = sum(bool(error) for *_, error in found)
    for k, name in enumerate(PEAKS):
        least = LEAST[k]
        both = [(max(usual[k], least), max(tight[k], least), seed) for seed, usual, tight, error in found if not error]
        off = sorted(((abs(a / b - 1.0), seed) for a, b, seed in both if max(a, b) > least), reverse=True)
        median, high = np.quantile([share for share, _ in off] or [0.0], (0.5, 0.99))
        failed += bool(high > EXACT and len(off) > FEW)
        far = ", ".join(f"{seed} ({share:.1%})" for share, seed in off if share > EXACT)
        print(
            f"  {name:<17}{len(off):>6} designs, median {median:.3%}, p99 {high:.2%}; {far or 'none'} by more than 1 %"
        )
    return 2 * len(found), failed


def chunks(count: int, first: int = 0, size: int = CHUNK) -> Iterator[range]:
    for begin in range(first, first + count, size):
        yield range(begin, min(begin + size, first + count))


def gather(
    what: str, of: Callable[[Iterable[int]], list[Seen]], parts: Iterable[range], workers: int, until: float
) -> tuple[int, int]:
    """Look at designs in many processes, and print what is wrong: (how many were looked at, how many did not hold)."""
    began, kinds = time.perf_counter(), Counter[str]()
    wrong: list[Seen] = []
    with get_context("spawn").Pool(workers) as pool:
        for found in pool.imap_unordered(of, parts):
            kinds.update(kind for _, kind, _ in found)
            wrong += [one for one in found if one[2]]
            if time.perf_counter() > until:
                pool.terminate()
                break
    failed = [one for one in wrong if not all(text.startswith("moves: ") for text in one[2])]
    moves = f", {len(wrong) - len(failed)} whose milestones move" if len(wrong) > len(failed) else ""
    print(f"{what}: {kinds.total()} in {time.perf_counter() - began:.0f} s, {len(failed)} did not hold{moves}")
    for kind, count in sorted(kinds.items()):
        print(f"  {kind:<30}{count:>7}")
    for seed, kind, texts in sorted(wrong):
        print(f"  seed {seed} ({kind}): {'; '.join(texts)[:300]}")
    return kinds.total(), len(failed)


def jumps(values: int) -> int:
    """Sweep twelve fields of the weekend burner, print where the boil jumps, and give the number of burns."""
    base = burnsim.load(ROOT / "examples" / "weekend_double_wall.toml")
    total = 0
    for field, (low, high) in FIELDS.items():
        found = burnsim.sweep(base, {field: np.linspace(low, high, values)}, workers=1, progress=False)
        boil, at = found["boil"].values, found[field].values
        step = np.abs(np.diff(boil))
        usual = float(np.nanmedian(step)) if np.isfinite(step).any() else 0.0
        apart = np.flatnonzero((step > 8.0 * usual) & (step > JUMP * boil[1:]))
        ends = np.flatnonzero(np.diff(np.isnan(boil).astype(int)))
        total += values
        where = ", ".join(f"{at[k]:.4g} to {at[k + 1]:.4g}: {boil[k + 1] - boil[k]:+.0f} s" for k in apart)
        print(f"  {field:<24}{len(apart):>3} jumps; it begins or ends to boil {len(ends)} times  {where}".rstrip())
    return total


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--designs", type=int, default=3000, help="how many, half of them at the edges")
    parser.add_argument("--first", type=int, default=0, help="first seed")
    parser.add_argument("--ladder", type=int, default=60, help="how many of them at four tighter tolerances, too")
    parser.add_argument("--compare", type=int, default=60, help="how many of them in plain Python, too")
    parser.add_argument("--peaks", type=int, default=300, help="how many of them at a tight tolerance, for their peaks")
    parser.add_argument("--values", type=int, default=41, help="of each of twelve fields that are swept")
    parser.add_argument("--inputs", type=int, default=2000, help="damaged files")
    parser.add_argument("--workers", type=int, default=os.cpu_count() or 1, help="processes")
    parser.add_argument("--seconds", type=float, default=float("inf"), help="stop burning designs after so long")
    parser.add_argument("--kept", action="store_true", help="only the designs in which something was once wrong")
    parser.add_argument("--quick", action="store_true", help="100 designs in one process, a few of all else, no faults")
    options = parser.parse_args()
    if options.quick:
        options.designs, options.ladder, options.compare, options.peaks = 100, 2, 2, 20
        options.inputs, options.values, options.workers = 100, 3, 1
    warnings.simplefilter("ignore")  # of laws beyond their range
    for seed in WARMING:
        complaints(wide_setup(seed), compiled=True)  # compile once for each number of components, before any worker
    if options.kept:
        kept = [("within", seed, seeded_setup(seed), DEFAULT_RTOL) for seed in ONCE_FAILED]
        kept += [("within", seed, seeded_setup(seed), 1e-8) for seed in ONCE_FAILED_TIGHT]
        kept += [("wide", seed, wide_setup(seed), rtol) for seed, (rtol, _) in ONCE_FAILED_WIDE.items()]
        wrong = 0
        for which, seed, setup, rtol in kept:
            texts = complaints(setup, rtol, compiled=True)
            wrong += bool(texts)
            print(f"{which}, seed {seed}, at {rtol:g}: {'; '.join(texts)[:300] or 'nothing is wrong'}")
        print(f"{len(kept)} burns tried: {f'{wrong} did not hold' if wrong else 'all held'}")
        return int(wrong > 0)
    until, first = time.perf_counter() + options.seconds, options.first
    burns, failed = gather("designs", look, chunks(options.designs, first), options.workers, until)
    for what, of, count, each in (
        ("ladder of tolerances", climb, options.ladder, 1 + len(LADDER)),
        ("plain against compiled", compare, options.compare, 2),
    ):
        seen, wrong = gather(what, of, chunks(count, first, 1), options.workers, until)
        burns, failed = burns + seen * each, failed + wrong
    seen, wrong = peaks(chunks(options.peaks, first), options.workers, until)
    burns, failed = burns + seen, failed + wrong
    print(f"sweeps of {options.values} values:")
    burns += jumps(options.values)
    faults = inputs = 0
    with tempfile.TemporaryDirectory() as place:
        trials: dict[str, Callable[[Path], int]] = {
            **({} if options.quick else FAULTS),
            "damaged inputs": lambda folder: damaged_inputs(folder, options.inputs),
        }
        for name, fault in trials.items():
            folder = Path(place) / name.replace(" ", "_")
            folder.mkdir()
            try:
                tried = fault(folder)
                print(f"{name}: {tried} tried, all held" if tried else f"{name}: this user cannot bring it about")
            except Exception as error:  # whatever it is, it is a finding
                tried, failed = 1, failed + 1
                print(f"{name}: {type(error).__name__}: {str(error)[:300]}")
            if name == "damaged inputs":
                inputs += tried
            else:
                faults += tried
    verdict = "all held" if not failed else f"{failed} did not hold"
    print(f"{burns} burns, {inputs} inputs and {faults} faults tried: {verdict}")
    return int(failed > 0)


if __name__ == "__main__":
    sys.exit(main())
