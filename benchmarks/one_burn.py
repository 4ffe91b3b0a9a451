"""One burn against SciPy's general integrators on the very same right-hand side; nothing is asserted.

python benchmarks/one_burn.py [--quick] [DESIGN.toml]

Both solve the same balances with the same located events. SciPy gets the speed in the feed slots from its closed
form, because it takes no algebraic states, and a tolerance for the tallies so wide that they never limit a step.
"""

import argparse
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from statistics import median
from typing import NamedTuple

import numpy as np
from scipy.integrate import solve_ivp

import burnsim
from burnsim.model.balances.events import CHANGES, EVENTS, REGIME_EVENTS, guards
from burnsim.model.balances.flows import Flows, balances, derivatives, settled
from burnsim.model.balances.state import Regime, State, flames_standing, pack, place, state_size, unpack
from burnsim.model.parameters.derive import derive, first_state
from burnsim.model.parameters.record import Parameters
from burnsim.solve.ignition import lighting
from burnsim.solve.march import HORIZON
from burnsim.solve.run import march
from burnsim.solve.sizes import scales

EXAMPLE = Path(__file__).parents[1] / "examples" / "weekend_double_wall.toml"
LOOSE = 1e12  # tolerance of the tallies
MILESTONES = ("jets_lit", "boil", "end")


def switch(event: str, regime: Regime) -> Regime:
    """The regime after an event."""
    entry, value = CHANGES.get(event, ("wick", regime.wick))
    return regime._replace(**{entry: value})


class Run(NamedTuple):
    """What one integration cost and found."""

    name: str
    seconds: float
    evaluations: int
    times: dict[str, float]


class Balances:
    """The right-hand side as SciPy wants it, with a counter; the last point is kept for the guards."""

    def __init__(self, p: Parameters) -> None:
        self.p = p
        self.regime = Regime(0.0, 0.0, 0.0)
        self.evaluations = 0
        self.last: tuple[bytes, Flows] | None = None

    def flows(self, y: np.ndarray) -> Flows:
        key = y.tobytes()
        if self.last is None or self.last[0] != key:
            self.evaluations += 1
            state = unpack(y.tolist(), self.p.components)
            self.last = (key, settled(balances(state, self.regime, self.p), self.p))
        return self.last[1]

    def slope(self, t: float, y: np.ndarray) -> list[float]:
        rates = derivatives(self.flows(y), self.p)
        rates[place("slot_speed", self.p.components)] = 0.0  # the slots' speed is not integrated
        return rates

    def guard(self, k: int) -> Callable[[float, np.ndarray], float]:
        def value(t: float, y: np.ndarray) -> float:
            return guards(self.flows(y), self.p)[k]

        value.terminal = True  # type: ignore[attr-defined]
        value.direction = 1.0  # type: ignore[attr-defined]
        return value


def by_scipy(p: Parameters, first: State, lit: tuple[float, Regime], method: str, rtol: float) -> Run:
    """Integrate a burn phase by phase with `solve_ivp`."""
    began = time.perf_counter()
    problem = Balances(p)
    size = state_size(p.components)
    tallies = len(derivatives(problem.flows(np.array(pack(first))), p)) - size
    y = np.array(pack(first) + [0.0] * tallies)
    atol = np.concatenate([rtol * np.array(scales(first, p)), np.full(tallies, LOOSE)])
    now, regime, times, seen = 0.0, Regime(0.0, 0.0, 0.0), {}, set()
    horizon: float = lit[0]
    while flames_standing(regime) > 0.0 or now < lit[0] or not times:
        if now >= lit[0] and not times:
            regime, horizon, times["lit"] = lit[1], HORIZON, now
        problem.regime, problem.last = regime, None
        open_events = [k for k, name in enumerate(EVENTS) if name not in seen]
        start = guards(problem.flows(y), p)
        fired = next((k for k in open_events if start[k] >= 0.0), None)
        if fired is None:
            watched = [problem.guard(k) for k in open_events]
            course = solve_ivp(problem.slope, (now, horizon), y, method, rtol=rtol, atol=atol, events=watched)
            if not course.success:
                raise RuntimeError(f"{method}: {course.message}")
            now, y = float(course.t[-1]), course.y[:, -1]
            fired = next((k for k, found in zip(open_events, course.t_events, strict=True) if len(found)), None)
        if fired is None:
            if now >= HORIZON:
                break
            continue
        name = EVENTS[fired]
        times.setdefault(name, now)
        if name in REGIME_EVENTS:
            regime = switch(name, regime)
        else:
            seen.add(name)
    return Run(f"solve_ivp {method} {rtol:g}", time.perf_counter() - began, problem.evaluations, {**times, "end": now})


def by_march(p: Parameters, first: State, lit: tuple[float, Regime], rtol: float) -> Run:
    """Integrate a burn with the library's own march."""
    began = time.perf_counter()
    course = march(p, first, lit, rtol)
    seconds = time.perf_counter() - began
    times: dict[str, float] = {}
    for event in course.events:
        times.setdefault(event.name, event.time)
    return Run(f"burnsim march {rtol:g}", seconds, course.account.evaluations, {**times, "end": course.events[-1].time})


def best(runs: int, make: Callable[[], Run]) -> Run:
    return min((make() for _ in range(runs)), key=lambda run: run.seconds)


def import_cost(statement: str, runs: int) -> float:
    """Median time of a statement in a fresh process that has NumPy already [ms]."""
    code = f"import time, numpy\nt = time.perf_counter()\n{statement}\nprint(time.perf_counter() - t)"
    found = []
    for _ in range(runs):
        process = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
        found.append(1e3 * float(process.stdout))
    return median(found)


def evaluation_cost(p: Parameters, first: State, regime: Regime, runs: int) -> float:
    """Median time of one right-hand side [us]."""
    y = pack(first)
    found = []
    for _ in range(runs):
        began = time.perf_counter()
        derivatives(balances(unpack(y, p.components), regime, p), p)
        found.append(1e6 * (time.perf_counter() - began))
    return median(found)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("design", nargs="?", default=EXAMPLE, help="design file")
    parser.add_argument("--quick", action="store_true", help="SciPy's LSODA alone, at one tolerance")
    options = parser.parse_args()
    repeats = 1 if options.quick else 5

    setup = burnsim.load(options.design)
    derive(setup)  # fills the caches
    began = time.perf_counter()
    p = derive(setup)
    derived = time.perf_counter() - began
    first = first_state(setup, p)
    spark = lighting(setup, p)
    if spark.time is None:
        sys.exit(f"{setup.name} does not light: {spark.reason}")
    lit = (spark.time, spark.regime)
    began = time.perf_counter()
    burnsim.burn(setup)
    whole = time.perf_counter() - began

    tight = by_march(p, first, lit, 1e-5 if options.quick else 1e-7)
    runs = [best(repeats, lambda: by_march(p, first, lit, 1e-4))]
    for method in ("LSODA",) if options.quick else ("LSODA", "BDF"):
        for rtol in (1e-4,) if options.quick else (1e-4, 1e-6):
            runs.append(best(1, lambda method=method, rtol=rtol: by_scipy(p, first, lit, method, rtol)))  # type: ignore[misc]

    print(f"{setup.name}: {tight.times['end']:.0f} s of burn; errors are against {tight.name}")
    print(f"{'':<24}{'time':>9}{'calls':>8}{'us/call':>9}{'ratio':>7}   error of bloom, boil, end [s]")
    for run in runs:
        errors = [
            f"{run.times[name] - tight.times[name]:+.3f}" if name in run.times and name in tight.times else "-"
            for name in MILESTONES
        ]
        print(
            f"{run.name:<24}{run.seconds:>7.3f} s{run.evaluations:>8}{1e6 * run.seconds / run.evaluations:>9.0f}"
            f"{run.seconds / runs[0].seconds:>7.1f}   {', '.join(errors)}"
        )
    print(f"one right-hand side        {evaluation_cost(p, first, lit[1], 200):>8.0f} us")
    print(f"parameters of one setup    {1e3 * derived:>8.1f} ms, caches filled")
    print(f"burn() with its result     {1e3 * whole:>8.0f} ms")
    count = 3 if options.quick else 11
    for statement in ("import burnsim", "import burnsim; burnsim.load", "import burnsim; burnsim.burn"):
        print(f"{statement:<30}{import_cost(statement, count):>5.0f} ms beyond NumPy")


if __name__ == "__main__":
    main()
