"""Burn random designs over the documented envelope and list everything that is wrong with any of them.

python benchmarks/burn_random_designs.py [--designs 20000] [--first SEED] [--workers 2] [--converge N] [--quick]

Each seed is a design (tests/random_designs/generator.py), burnt by the compiled march. Checked are: no exception, every
number finite, no negative amount, temperatures within bounds, ledgers closed to 1e-6, milestones in order, and a
verdict for whatever fails (tests/random_designs/examine.py). With --converge, every n-th design is burnt again ten
times tighter, and its milestones are compared. Exit code 1 if anything is wrong.
"""

import argparse
import os
import sys
import time
from collections import Counter
from collections.abc import Iterable, Iterator
from multiprocessing import get_context
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from random_designs.examine import burnt, complaints
from random_designs.generator import seeded_setup
from random_designs.seeds import ONCE_FAILED

from burnsim.solve.run import DEFAULT_RTOL

CHUNK = 20
WARMING = (0, 1, 3)
"""Designs that light, of three, two and one components."""
NEAR = 0.01  # of its time: what a milestone may move when the tolerance is ten times tighter
NEAR_SECONDS = 1.0


def look(seeds: Iterable[int]) -> list[tuple[int, str, list[str], str]]:
    """(seed, kind, complaints, how it ended) of each design."""
    found = []
    for seed in seeds:
        setup = seeded_setup(seed)
        wrong = complaints(setup, compiled=True)
        found.append((seed, f"{setup.burner.kind}, {len(setup.charge.fuel.components)} components", wrong, _end(wrong)))
    return found


def _end(wrong: list[str]) -> str:
    return wrong[0].split(":")[0].split(" is ")[0].split(" spans ")[0] if wrong else ""


def moved(seed: int) -> list[str]:
    """Milestones of a design that move, appear or vanish when the tolerance is ten times tighter."""
    setup = seeded_setup(seed)
    usual, tight = (burnt(setup, rtol, compiled=True).outcome.milestones for rtol in (DEFAULT_RTOL, 0.1 * DEFAULT_RTOL))
    found = []
    for name in usual._fields:
        a, b = getattr(usual, name).time, getattr(tight, name).time
        if (a is None) != (b is None) or (
            a is not None and b is not None and abs(a - b) > NEAR_SECONDS + NEAR * max(a, b)
        ):
            found.append(f"{name} {a} s becomes {b} s")
    return found


def chunks(first: int, count: int) -> Iterator[range]:
    for begin in range(first, first + count, CHUNK):
        yield range(begin, min(begin + CHUNK, first + count))


def burn_kept() -> None:
    """Burn the designs in which something was once wrong."""
    for seed, kind, complaint, _ in look(sorted(ONCE_FAILED)):
        print(f"seed {seed} ({kind}): {'; '.join(complaint)[:300] or 'nothing is wrong'}")


def compare_tolerances(seeds: range) -> None:
    """Burn designs again ten times tighter, and print what moves."""
    unsure = {seed: found for seed in seeds if (found := moved(seed))}
    print(f"{len(seeds)} designs burnt again ten times tighter; milestones of {len(unsure)} move")
    for seed, changed in unsure.items():
        print(f"seed {seed} ({seeded_setup(seed).burner.kind}): {'; '.join(changed)}")


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--designs", type=int, default=20000, help="how many")
    parser.add_argument("--first", type=int, default=0, help="first seed")
    parser.add_argument("--workers", type=int, default=os.cpu_count() or 1, help="processes")
    parser.add_argument("--converge", type=int, default=0, help="burn every n-th design tighter, too")
    parser.add_argument("--seconds", type=float, default=float("inf"), help="stop after so long")
    parser.add_argument("--kept", action="store_true", help="only the designs in which something was once wrong")
    parser.add_argument("--quick", action="store_true", help="100 designs in one process")
    options = parser.parse_args()
    if options.quick:
        options.designs, options.workers = 100, 1

    for seed in WARMING:
        look(range(seed, seed + 1))  # compile once for each number of components, before there are workers
    if options.kept:
        burn_kept()
        return 0
    began = time.perf_counter()
    seen: Counter[str] = Counter()
    wrong: list[tuple[int, str, list[str]]] = []
    classes: Counter[str] = Counter()
    with get_context("spawn").Pool(options.workers) as pool:
        for found in pool.imap_unordered(look, chunks(options.first, options.designs)):
            for seed, kind, complaint, end in found:
                seen[kind] += 1
                if complaint:
                    wrong.append((seed, kind, complaint))
                    classes[f"{end} [{kind}]"] += 1
            if time.perf_counter() - began > options.seconds:
                pool.terminate()
                break
    took = time.perf_counter() - began
    total = sum(seen.values())
    print(f"{total} designs in {took:.0f} s ({total / took:.0f}/s), {len(wrong)} with complaints")
    for kind, count in sorted(seen.items()):
        print(f"  {kind:<30}{count:>7}")
    for name, count in classes.most_common():
        print(f"  {count:>6} x {name}")
    for seed, kind, complaint in sorted(wrong):
        print(f"seed {seed} ({kind}): {'; '.join(complaint)[:300]}")
    if options.converge:
        compare_tolerances(range(options.first, options.first + options.designs, options.converge))
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
