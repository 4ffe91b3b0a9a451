"""The columns of a sweep's dataset: what is kept of each design, with unit and meaning."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from operator import attrgetter
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from burnsim.model.at_site import poured_density, water_boils
from burnsim.model.description import geometry
from burnsim.solve import Milestones, Outcome

SOLVED, IMPOSSIBLE, FAILED = "solved", "impossible", "failed"

SEPARATOR = "; "  # between the codes of several verdicts

Value = float | str | None
Block = dict[str, NDArray[Any]]
"""Some rows of a sweep, by column: float64 with NaN where a number is missing, or object arrays of texts."""


class Column(NamedTuple):
    """One column."""

    name: str
    units: str  # empty for a text
    long_name: str
    pick: Callable[[Outcome], Value]

    @property
    def is_text(self) -> bool:
        """Whether it holds texts; else it holds floats."""
        return not self.units

    @property
    def attrs(self) -> dict[str, str]:
        """Attributes of its variable."""
        return {"long_name": self.long_name} if self.is_text else {"units": self.units, "long_name": self.long_name}


MARKS = {
    "primer_out": "the flame of the primer goes out",
    "vapour": "enough vapour leaves the jets to hold flames",
    "bloom": "the jets light",
    "boil": "the water boils",
    "burnout": "the last flame goes out",
    "spill": "liquid or froth reaches a jet",
    "quench": "the jets go out with fuel left",
}
MASSES = {
    "charged": "fuel poured in",
    "burnt": "fuel burnt",
    "unburnt": "fuel lost as vapour that did not burn",
    "spilled": "fuel spilled",
    "left": "fuel left at the end",
}


def spill_margin(outcome: Outcome) -> float | None:
    """How far the highest froth stayed below the jets [m]; negative when it spilled, None without jets."""
    setup = outcome.setup
    if setup.burner.jets is None:
        return None
    return geometry.spill_level(setup.burner, setup.site.tilt) - outcome.froth_max


def behind_jets(name: str) -> Callable[[Outcome], float | None]:
    """A figure of the chamber behind the jets, by its name; None without jets."""

    def pick(outcome: Outcome) -> float | None:
        return None if outcome.setup.burner.jets is None else float(getattr(outcome, name))

    return pick


def boil_margin(outcome: Outcome) -> float | None:
    """Highest water temperature less the local boiling point [K]; negative without a boil, None without a pot."""
    if outcome.water_max is None:
        return None
    return outcome.water_max - water_boils(outcome.setup)


def pressure_margin(outcome: Outcome) -> float:
    """Stated limit of pressure less the highest in either compartment [Pa]."""
    return outcome.setup.pressure_limit - max(outcome.gallery_pressure_max, outcome.well_pressure_max)


def fuel_margin(outcome: Outcome) -> float | None:
    """Share of the charge not yet burnt when the water boils; None without a boil."""
    fuel = outcome.milestones.boil.fuel
    return None if fuel is None else 1.0 - fuel / outcome.mass.charged


def _codes(outcome: Outcome) -> str:
    return SEPARATOR.join(verdict.code for verdict in outcome.verdicts)


def _milestone(name: str) -> tuple[Column, ...]:
    event = MARKS.get(name, name.replace("_", " "))

    def volume(outcome: Outcome) -> Value:
        fuel = getattr(outcome.milestones, name).fuel
        return None if fuel is None else fuel / poured_density(outcome.setup)

    return (
        _figure(name, "s", f"time from the match until {event}", f"milestones.{name}.time"),
        _figure(f"{name}_reason", "", f"why it did not happen: {event}", f"milestones.{name}.reason"),
        _figure(f"{name}_fuel", "kg", f"fuel burnt until {event}", f"milestones.{name}.fuel"),
        Column(f"{name}_volume", "m3", f"fuel burnt until {event}, as poured", volume),
    )


def _figure(name: str, units: str, long_name: str, path: str = "") -> Column:
    """A column of what an outcome has at a dotted path, by default the column's name."""
    return Column(name, units, long_name, attrgetter(path or name))


COLUMNS: tuple[Column, ...] = (
    Column("status", "", f"{SOLVED}, {IMPOSSIBLE} (cannot be built) or {FAILED} (not solved)", lambda _: SOLVED),
    Column("reason", "", "why a design is impossible or failed", lambda _: ""),
    *(column for name in Milestones._fields for column in _milestone(name)),
    Column("verdicts", "", "codes of the verdicts, most serious first", _codes),
    _figure("ended", "", "how the run ended"),
    _figure("duration", "s", "time from the match to the end of the run"),
    _figure("efficiency_to_boil", "1", "thermal efficiency up to the boil"),
    _figure("efficiency", "1", "thermal efficiency of the whole burn"),
    _figure("power_median", "W", "median power of all flames"),
    _figure("power_max", "W", "highest power of all flames"),
    _figure("water_max", "K", "highest temperature of the water"),
    Column("gallery_pressure_max", "Pa", "highest gauge pressure behind the jets", behind_jets("gallery_pressure_max")),
    _figure("well_pressure_max", "Pa", "highest gauge pressure in the well"),
    Column("froth_max", "m", "highest level of the froth in the gallery", behind_jets("froth_max")),
    _figure("heat_fed_back", "1", "share of the flames' heat that reaches the fuel"),
    Column("spill_margin", "m", "highest froth below the level at which it spills", spill_margin),
    Column("boil_margin", "K", "highest water temperature above the local boiling point", boil_margin),
    Column("pressure_margin", "Pa", "highest gauge pressure below the stated limit", pressure_margin),
    Column("fuel_margin", "1", "share of the charge not yet burnt when the water boils", fuel_margin),
    *(_figure(f"fuel_{name}", "kg", words, f"mass.{name}") for name, words in MASSES.items()),
    _figure("mass_residual", "1", "residual of the mass ledger", "mass.residual"),
    _figure("energy_residual", "1", "residual of the energy ledger", "energy.residual"),
    _figure("evaluations", "1", "evaluations of the balances"),
)
"""All columns, in the order of the dataset."""

Row = tuple[Value, ...]


def row_of(outcome: Outcome) -> Row:
    """The row of a design that was solved."""
    return tuple(column.pick(outcome) for column in COLUMNS)


def row_without(status: str, reason: str) -> Row:
    """The row of a design that is `IMPOSSIBLE` or `FAILED`; each milestone has the same reason."""
    return (status, reason, *(reason if column.name.endswith("_reason") else None for column in COLUMNS[2:]))


def block_of(listed: Sequence[Row]) -> Block:
    """Stack rows; a missing number becomes NaN, a missing text an empty one."""
    block: Block = {}
    for k, column in enumerate(COLUMNS):
        missing, kind = ("", object) if column.is_text else (np.nan, np.float64)
        block[column.name] = np.array([missing if row[k] is None else row[k] for row in listed], dtype=kind)
    return block


def rows(block: Block) -> int:
    """Number of rows of a block."""
    return len(next(iter(block.values())))


def regrouped(blocks: Iterable[Block], size: int) -> Iterator[Block]:
    """The same rows, so many at a time; the last block has what is left."""
    held: list[Block] = []
    count = 0
    for block in blocks:
        held.append(block)
        count += rows(block)
        if count >= size:
            whole = joined(held)
            parts = [{name: one[k : k + size] for name, one in whole.items()} for k in range(0, count, size)]
            count %= size
            held = [parts.pop()] if count else []
            yield from parts
    if held:
        yield joined(held)


def joined(blocks: Iterable[Block]) -> Block:
    """Join blocks end to end."""
    listed = list(blocks)
    if len(listed) == 1:
        return listed[0]
    return {name: np.concatenate([block[name] for block in listed]) for name in listed[0]}
