"""Times as people write them: minutes and seconds of a stopwatch, or the time of day; which of both, or neither."""

import re
from collections.abc import Sequence
from itertools import pairwise

from burnsim.errors import InputError
from burnsim.units import parse

DAY = 86400.0
LONGEST_BURN = 3.0 * 3600.0
SHORTEST_LOG = 180.0  # a log of three readings and more that lasts less was read by the wrong unit, or says little [s]
LATE = 120.0  # a first reading so long after the match, in a log that short, is a time of day [s]
STOPWATCH, OF_DAY = "clock", "day"
"""What "12:30" is: minutes and seconds, or hours and minutes."""
TIME_UNITS = {
    **dict.fromkeys(
        ("mm:ss", "m:ss", "min:s", "m:s", "min:sec", "min:ss", "mm:s", "mmm:ss", "minutes:seconds"), STOPWATCH
    ),
    **dict.fromkeys(("hh:mm", "h:mm", "h:min", "hh:min", "hours:minutes", "hh:mm:ss", "h:mm:ss"), OF_DAY),
}
TWO_PARTS = re.compile(r"\d+:\d{1,2}")
THREE_PARTS = re.compile(r"\d+:\d{1,2}:\d{1,2}(\.\d+)?")
DATE = re.compile(
    r"(\d{4}[-/.]\d{1,2}[-/.]\d{1,2}|\d{1,2}[-/.]\d{1,2}[-/.]\d{2,4})[T,\s]+(\d{1,2}:.*?)\s*(?:Z|[+-]\d\d:?\d\d)?"
)
HALF = re.compile(r"\s*([ap])\.?m\.?$", re.IGNORECASE)


def read_clock(raw: object, unit: str, where: str) -> float:
    """Read a time: "12:30", "1:02:03", "2:05 pm", "90 s", "5 min 12 s", or a bare number with a unit.

    `unit` is that of a bare number, "s", "min" or "h"; `OF_DAY` makes hours and minutes of "12:30", anything else
    minutes and seconds; "" if none is known.

    >>> read_clock("12:30", "", "time"), read_clock("0:01:05", "", "time"), read_clock("2.5", "min", "time")
    (750.0, 65.0, 150.0)
    >>> read_clock("12:30", OF_DAY, "time"), read_clock("2:05 pm", "", "time"), read_clock("12:05 AM", "", "time")
    (45000.0, 50700.0, 300.0)
    """
    text = str(raw).strip()
    if isinstance(raw, bool) or not text:
        raise InputError(where, raw, "is not a time", "write it like '5:12' or '312 s'")
    if half := HALF.search(text):
        text = text[: half.start()]
        if not (TWO_PARTS.fullmatch(text) or THREE_PARTS.fullmatch(text)):
            raise InputError(where, raw, "is not a time of day", "write it like '2:05 pm'")
        seconds = read_clock(text, OF_DAY, where)
        if not 3600.0 <= seconds < 13.0 * 3600.0:
            problem = "is no hour of half a day; allowed 1 to 12"
            raise InputError(where, raw, problem, "write it like '2:05 pm' or '14:05'")
        return seconds % (0.5 * DAY) + (0.5 * DAY if half[1] in "pP" else 0.0)
    parts = text.split(":")
    if len(parts) in (2, 3):
        if not all(re.fullmatch(r"\d+", part) for part in parts[:-1]) or not re.fullmatch(r"\d+(\.\d+)?", parts[-1]):
            raise InputError(where, raw, "is not a time", "write minutes and seconds like '5:12'")
        numbers = [float(part) for part in parts]
        if any(number >= 60.0 for number in numbers[1:]):
            raise InputError(where, raw, "has more than 59 after a colon", "write minutes and seconds like '5:12'")
        seconds = sum(number * 60.0**k for k, number in enumerate(reversed(numbers)))
        if unit == OF_DAY and len(parts) == 2:
            seconds *= 60.0
    elif re.fullmatch(r"[+-]?(\d+\.?\d*|\.\d+)", text):
        if unit in ("", STOPWATCH, OF_DAY):
            problem = "is a time without a unit"
            raise InputError(where, raw, problem, "name the column 'time [s]', or write '5:12' or '312 s'")
        seconds = parse(f"{text} {unit}", "time", where)
    else:
        seconds = parse(text, "time", where)
    if not 0.0 <= seconds <= DAY:
        raise InputError(where, raw, "is out of range; allowed from 0 to 24 h", "check the time")
    return seconds


def split_date(text: str) -> tuple[str, str]:
    """Date and time of day of a logger; "" for the date where there is none.

    >>> split_date("2026-11-28T14:03:20Z"), split_date("28.11.2026 14:03"), split_date("14:03")
    (('2026-11-28', '14:03:20'), ('28.11.2026', '14:03'), ('', '14:03'))
    """
    found = DATE.fullmatch(text.strip()) if len(text) > 9 else None
    return (found[1], found[2]) if found else ("", text)


def kind_of_times(cells: Sequence[str], unit: str, match: object | None, where: str) -> tuple[str, str]:
    """What "12:30" is among the times of a log: the unit that its column states, `STOPWATCH` or `OF_DAY`.

    Comes with a remark where the log left it open, "" otherwise. `match` is the clock's reading when the match was
    struck. An `InputError` where both readings make sense, or the one that does lacks the time of the match.

    >>> kind_of_times(["14:06", "14:12", "14:20"], "", "14:05", "log")[0] == OF_DAY
    True
    >>> kind_of_times(["0:30", "6:00", "14:20"], "", None, "log")[0] == STOPWATCH
    True
    """
    texts = [str(cell).strip() for cell in cells]
    stated = "" if match is None else str(match).strip()
    if unit:
        return unit, ""
    if any(HALF.search(text) for text in (*texts, stated)):
        return OF_DAY, ""
    two = [text for text in texts if TWO_PARTS.fullmatch(text)]
    if not two:
        return (OF_DAY if any(THREE_PARTS.fullmatch(text) for text in texts) else ""), ""
    minutes, hours = (_lasts(two, kind, stated) for kind in (STOPWATCH, OF_DAY))
    if minutes is None:
        return (STOPWATCH if hours is None else OF_DAY), ""
    short = hours is not None and minutes < (SHORTEST_LOG if len(two) >= 3 else 0.3 * SHORTEST_LOG)
    if match is not None and hours is not None:
        if not short:
            problem = "may be minutes and seconds or hours and minutes"
            raise InputError(where, two[0], problem, "name the column 'time [mm:ss]' or 'time [hh:mm]'")
        return OF_DAY, (
            f"times such as {two[0]} are read as hours and minutes: as minutes and seconds the readings would end "
            f"{minutes:.0f} s after the match"
        )
    if short and len(two) >= 3 and read_clock(two[0], STOPWATCH, where) >= LATE:
        raise InputError(
            where, two[0],
            f"is no time from the match: as minutes and seconds all readings would lie within {minutes:.0f} s",
            'if it is the time of day, say when the match was struck, [clock] match = "14:03"; if not, name the column '
            "'time [mm:ss]'",
        )  # fmt: skip
    return STOPWATCH, ""


def _lasts(texts: Sequence[str], kind: str, match: str) -> float | None:
    """When the readings end, from the match or their first one, by a kind of times [s]; None if they are not of it."""
    try:
        start = read_clock(match, kind, "match") if match else read_clock(texts[0], kind, "time")
        times = [since(read_clock(text, kind, "time"), start) for text in texts]
    except InputError:
        return None
    if min(times) < 0.0 or max(times) > LONGEST_BURN or any(later < earlier for earlier, later in pairwise(times)):
        return None
    return times[-1]


def since(clock: float, start: float) -> float:
    """Time from the match by two readings [s]; a clock that shows less soon after one before midnight has passed it."""
    time = clock - start
    return time + DAY if 0.0 < time + DAY <= LONGEST_BURN else time
