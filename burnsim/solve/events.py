"""Where in a step a guard turns from negative to positive, and what a march watches on the way.

A secant kept inside its bracket finds the place. It moves both ends (Anderson and Björck 1973), from guards that the
march knows already: six evaluations each, where halving the far end's value every time had taken eighteen, a tenth of
a burn.
"""

from typing import NamedTuple

from burnsim.model.balances.events import EVENTS
from burnsim.solve.recorder import PEAKS
from burnsim.solve.stepper import Memory, Vector

LOCATED = 1e-6  # events are located to this [s]
WAYS = 3  # in which a guard may rise above zero and fall again between three points of a step
SECANTS = 20  # seek a guard's zero before its bracket is halved: where it is all but flat at one end, they creep
FAR = 0.3  # guards below minus this at both ends of a step do not reach zero inside it

KINDS = len(EVENTS)
HEIGHTS = len(PEAKS)


class Watch(NamedTuple):
    """Guards at the start, the middle and the end of a step, and where in it they turn (as a share; inf: nowhere)."""

    before: Vector
    middle: Vector
    now: Vector
    trial: Vector
    turns: Vector
    seen: Vector  # 1.0 once an event has been
    low: Vector  # heights of what may peak, where a step begins
    top: Vector  # inside it
    high: Vector  # and where it ends


def watch_of(memory: Memory) -> Watch:
    """Memory for guards; nothing has been seen yet."""
    return Watch(
        before=memory.row(KINDS),
        middle=memory.row(KINDS),
        now=memory.row(KINDS),
        trial=memory.row(KINDS),
        turns=memory.row(KINDS),
        seen=memory.row(KINDS),
        low=memory.row(HEIGHTS),
        top=memory.row(HEIGHTS),
        high=memory.row(HEIGHTS),
    )


class Bracket(NamedTuple):
    """An interval in which a guard turns from negative to positive."""

    low: float
    high: float
    f_low: float  # the guard there, below 0; lowered where that end has stood too long
    f_high: float  # not below 0; the same
    moved: float  # -1.0: the lower end moved last, 1.0: the upper end
    tried: float  # how often


def trial(bracket: Bracket, width: float) -> float:
    """Where to look next in a bracket that is to become so narrow: by the secant, or half-way once many have crept."""
    share = bracket.f_low / (bracket.f_low - bracket.f_high) if bracket.tried < SECANTS else 0.5
    middle = bracket.low + (bracket.high - bracket.low) * share
    return min(max(middle, bracket.low + 0.25 * width), bracket.high - 0.25 * width)


def between(way: float, before: float, middle: float, now: float) -> float:
    """Where in a step a guard may stand above zero that is below it at start, middle and end; 0 if nowhere.

    The lesser of two guards, of which one comes and the other goes, bends sharply where they cross. Its straight part
    through two of the three points is drawn on to where it meets zero; a little on, it is above zero if the other part
    is.

    Parameters
    ----------
    way : 0 for the vertex of a parabola through all three; 1 for a bend before the middle, 2 for one behind it
    before, middle, now : the guard at start, middle and end

    >>> [round(between(way, -0.3, -0.1, -0.2), 4) for way in range(WAYS)]
    [0.0, 0.0, 0.8125]
    >>> [round(between(way, -0.2, -0.1, -0.3), 4) for way in range(WAYS)]
    [0.0, 0.1875, 0.0]
    """
    if way == 0:
        rise, bent = now - before, now - 2.0 * middle + before
        inside = abs(rise) < -2.0 * bent and 8.0 * middle * bent <= rise * rise
        return 0.5 - 0.25 * rise / bent if inside else 0.0
    last = now if way == 1 else before
    if middle <= last or 2.0 * middle <= last:
        return 0.0
    place = 0.375 * (1.0 + middle / (middle - last))
    return place if way == 1 else 1.0 - place


def narrowed(bracket: Bracket, middle: float, f: float) -> Bracket:
    """The part of a bracket in which the guard turns, once its value inside is known."""
    if f < 0.0:
        f_high = bracket.f_high * lowered(f, bracket.f_low) if bracket.moved < 0.0 else bracket.f_high
        return Bracket(low=middle, high=bracket.high, f_low=f, f_high=f_high, moved=-1.0, tried=bracket.tried + 1.0)
    f_low = bracket.f_low * lowered(f, bracket.f_high) if bracket.moved > 0.0 else bracket.f_low
    return Bracket(low=bracket.low, high=middle, f_low=f_low, f_high=f, moved=1.0, tried=bracket.tried + 1.0)


def lowered(now: float, before: float) -> float:
    """What the value at an end of a bracket is multiplied by when the other end moves twice, or it would never move.

    >>> lowered(-1.0, -4.0), lowered(-4.0, -4.0)
    (0.75, 0.5)
    """
    share = 1.0 - now / before if before != 0.0 else 0.0
    return share if share > 0.0 else 0.5
