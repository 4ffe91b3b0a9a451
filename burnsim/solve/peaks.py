"""How high what may peak stands inside a step, where it is highest, and whether its end can be relied on."""

from math import inf

from burnsim.model.balances.events import froth_level
from burnsim.model.balances.flows import Flows, Pressed, pressed
from burnsim.model.balances.state import Regime, unpack
from burnsim.model.parameters.record import Parameters
from burnsim.solve.controller import Rule
from burnsim.solve.events import HEIGHTS, Watch
from burnsim.solve.recorder import EVALUATIONS, Recorder
from burnsim.solve.stepper import STAGES, Vector, Workspace, inside

HIGHER = 1e-3  # by this share a peak inside a step must be higher to be looked at
UNSURE = 0.01  # by more than this share what is higher than all before must not hang on a step's error
LEAST = (1.0, 1.0, 1e-4)  # of the same, below which it does not matter [Pa, Pa, m]
LOOKS = 4  # inside a step for a summit
AT_END = 0.125  # from the end that is the highest point so far it is looked for a ridge beside it
CLOSE = 0.1  # of what is left of the step: so near the highest known point another tells little


def heights_of(flows: Flows | Pressed, p: Parameters, heights: Vector) -> None:
    """Heights of what may peak, in the order of `PEAKS`: fills `heights`."""
    heights[0] = flows.gas.gallery_pressure
    heights[1] = flows.gas.well_pressure
    heights[2] = froth_level(flows, p)


def heights_at(point: Vector, standing: Regime, p: Parameters, heights: Vector) -> None:
    """The same at a point, by the gas alone."""
    heights_of(pressed(unpack(point, p.components), standing, p), p, heights)


def heights_inside(
    y: Vector, s: float, standing: Regime, p: Parameters, rule: Rule, at: Workspace, heights: Vector, recorder: Recorder
) -> None:
    """The same at a share of a step from y."""
    inside(y, at, s, rule.whole)
    recorder.counts[EVALUATIONS] += 1
    heights_at(at.point, standing, p, heights)


def measure(flows: Flows, p: Parameters, heights: Vector, recorder: Recorder) -> None:
    """Heights of what may peak, which raise the peaks that are known: fills `heights`."""
    heights_of(flows, p, heights)
    for k in range(HEIGHTS):
        recorder.peaks[k] = max(recorder.peaks[k], heights[k])


def ends_unsure(
    standing: Regime, reached: Flows, p: Parameters, rule: Rule, at: Workspace, recorder: Recorder, watch: Watch
) -> bool:
    """True if a step ends higher than all that is known, and how high hangs on what the step may be wrong by.

    A liquid may be right to 30 mK, as a step allows, and its pressure wrong by a tenth.
    """
    high, known = watch.high, True
    heights_of(reached, p, high)
    for k in range(HEIGHTS):
        watch.top[k] = high[k] if high[k] > max((1.0 + HIGHER) * recorder.peaks[k], LEAST[k]) else inf
        known = known and watch.top[k] == inf
    if known:
        return False
    for k in range(rule.whole):
        at.point[k] = at.after[k] - at.stages[STAGES - 1][k]
    recorder.counts[EVALUATIONS] += 1
    heights_at(at.point, standing, p, watch.trial)
    doubt = 0.0
    for k in range(HEIGHTS):
        doubt = max(doubt, abs(watch.trial[k] - high[k]) / watch.top[k])
    return doubt > UNSURE


def summit(
    k: int,
    y: Vector,
    at: Workspace,
    h: float,
    ending: float,
    standing: Regime,
    p: Parameters,
    rule: Rule,
    recorder: Recorder,
    watch: Watch,
) -> float:
    """Where in the first `ending` seconds of a step of length h one height is highest, as a share of them; 0.0 if it
    is no higher there than what is known.

    By parabolas through three points of the interpolant; where the vertex stays, half-way to the farther end, for a
    height may rise to a ridge. That may lie close to an end, too.
    """
    left, middle, right = 0.0, 0.5, 1.0
    f_left, f_middle, f_right = watch.low[k], watch.top[k], watch.high[k]
    higher = (1.0 + HIGHER) * recorder.peaks[k]
    end = max(f_left, f_right)
    if f_middle <= end:
        if end < recorder.peaks[k]:
            return 0.0
        tried = AT_END if f_left > f_right else 1.0 - AT_END
        heights_inside(y, tried * ending / h, standing, p, rule, at, watch.trial, recorder)
        if watch.trial[k] <= end:
            return 0.0
        left, f_left = (0.5, f_middle) if tried > 0.5 else (left, f_left)
        right, f_right = (right, f_right) if tried > 0.5 else (0.5, f_middle)
        middle, f_middle = tried, watch.trial[k]
    for _look in range(LOOKS):
        rise = (f_middle - f_left) / (middle - left)
        bent = ((f_right - f_middle) / (right - middle) - rise) / (right - left)
        if bent >= 0.0:
            break
        tried = 0.5 * (left + middle - rise / bent)
        if not left < tried < right or f_middle + (tried - middle) * (rise + bent * (tried - left)) < higher:
            return 0.0
        if abs(tried - middle) < CLOSE * (right - left):
            tried = 0.5 * (middle + (right if right - middle > middle - left else left))
        heights_inside(y, tried * ending / h, standing, p, rule, at, watch.trial, recorder)
        f = watch.trial[k]
        outer, f_outer = (middle, f_middle) if f > f_middle else (tried, f)
        if (f > f_middle) == (tried > middle):
            left, f_left = outer, f_outer
        else:
            right, f_right = outer, f_outer
        if f > f_middle:
            middle, f_middle = tried, f
    return middle if f_middle > higher else 0.0
