"""A bench log to fill in, for one design: its head as designed, and a row a minute for as long as it should burn."""

import math
from typing import TYPE_CHECKING

from burnsim.report.cautions import cautions
from burnsim.studies.bench.clock import LONGEST_BURN
from burnsim.studies.bench.design import head_lines

if TYPE_CHECKING:
    from burnsim.model.description.setup import Setup
    from burnsim.solve import Outcome

MOST_ROWS = 60
USUAL = 1200.0  # how long a log is where the model's burn tells nothing [s]
SPARE = 120.0  # beyond the predicted burn-out [s]
MORE = {
    "[charge]": (
        '#mass = ""            # or by the scale: burner and wick, filled less empty',
        '#left = ""            # recovered afterwards',
        '#used_to_boil = ""    # where it was put out at the boil',
    ),
    "[pot]": (
        '#water_mass = ""      # weighed before, and after: for the efficiency',
        '#water_left_mass = ""',
        '#mass = ""            # of the empty pot',
    ),
    "[site]": ('#pressure = ""        # of a barometer at the site, in place of the altitude',),
}


def blank_log(setup: "Setup", found: "Outcome", units: str = "si") -> str:
    """The text of the log.

    Parameters
    ----------
    setup : that will be burnt
    found : what the model says of it
    units : "si" or "us"
    """
    marks = found.milestones
    burner = setup.burner
    expected = [
        f"{label} {_clock(mark.time)}"
        for label, mark in (("bloom", marks.bloom), ("boil", marks.boil), ("burn-out", marks.burnout))
        if mark.time is not None
    ]
    seen = [name for name in ("bloom", "boil", "burnout", "spill") if name in _possible(setup)]
    head: list[str] = []
    for line in [*head_lines(setup, units), ""]:
        if line.startswith("[") or not line:
            head += [*MORE.get(next((one for one in reversed(head) if one.startswith("[")), ""), ()), ""]
        head.append(line)
    lines = [
        f"# Bench log of {setup.name or 'a burner'}, to fill in: correct what differs, take the # from what you know.",
        "# Quotes may be left out; what is not stated is taken from the design. Read it back with `burnsim bench`.",
        *(f"# {one}" for one in cautions(burner.has_gallery, setup.charge.fuel.components)),
        f'name = "{setup.name or "bench log"}"',
        '#build = ""            # which of several built to this design; logs of one build are repeats',
        '#date = ""',
        '#note = ""',
        *head[:-2],
        "",
        "[clock]",
        '#match = "14:03:20"    # when the match was struck, if the clock below was not started then',
        "",
        f"[seen]                 # or in the notes below; the model says: {', '.join(expected) or 'nothing'}",
        *(f'#{name} = ""' for name in seen),
        "",
        "---",
    ]
    columns = ["time [mm:ss]", f"water [{'degF' if units == 'us' else 'degC'}]", "mass [g]", "note"]
    if setup.pot is None:
        columns.pop(1)
    end = min((marks.burnout.time or USUAL) + SPARE, LONGEST_BURN)
    step = 60.0 * math.ceil(end / 60.0 / MOST_ROWS)
    rows = [f"{_clock(k * step)}{', ' * (len(columns) - 1)}".rstrip() for k in range(math.ceil(end / step) + 1)]
    return "\n".join([*lines, ", ".join(columns), *rows]) + "\n"


def _possible(setup: "Setup") -> tuple[str, ...]:
    jets = ("bloom", "spill") if setup.burner.jets is not None else ()
    return (*jets, *(("boil",) if setup.pot is not None else ()), "burnout")


def _clock(seconds: float) -> str:
    return f"{int(seconds) // 60}:{int(seconds) % 60:02d}"
