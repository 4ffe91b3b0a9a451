"""Will it start? A map over the air's temperature and the altitude."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from burnsim.answers import Drawn, Tabled, Told
from burnsim.constants import ZERO_CELSIUS
from burnsim.errors import InputError, as_list
from burnsim.model import Design, Setup, as_setup, vary
from burnsim.model.at_site import charge_temperature, poured_density
from burnsim.model.description import geometry
from burnsim.solve import Failure, Outcome
from burnsim.solve.ignition import flash_point
from burnsim.solve.run import ready
from burnsim.studies.batches import burn_batch
from burnsim.studies.counting import expect
from burnsim.studies.start.primer import EXACT, primers_needed, shortfall
from burnsim.units import parse
from burnsim.units.writing import Quantity, Text

BLOOMS, MORE_PRIMER, GOES_OUT = "blooms", "more primer", "goes out"
NEVER_BLOOMS, NEVER_LIGHTS, FAILED = "never blooms", "never lights", "failed"
"""What a place can be: the jets light and burn on; they do with more primer; they light and soon go out, with any
primer; they never light; nothing does; the run failed. A burner without jets "blooms" when its spirit lights."""

TOLD = frozenset({"never lit", "never blooms", "quenched", "no boil", "fuel left"})
"""Codes of verdicts that a cell tells by its own."""
COLDEST_WATER = ZERO_CELSIUS + 1.0  # water is not taken colder than this, however cold the air [K]


class StartCell(NamedTuple):
    """One place: what happens there. What did not happen is None, and `reason` says why."""

    air_temperature: float  # [K]
    altitude: float  # [m]
    verdict: str  # one of the above
    reason: str  # why it is not BLOOMS, or why the water does not boil
    primer: float | None  # with which the figures below hold: the setup's own, or the least that blooms [m3]
    flash: float | None  # where saturated vapour can just burn [K]
    below_flash: bool  # the cold spirit's vapour is too thin to burn: the match must warm a patch of it first
    match: float | None  # how long the match must be held [s]; None if it never takes
    bloom: float | None  # [s]
    boil: float | None  # [s]
    used: float | None  # spirit burnt by the boil, as volume at its start temperature [m3]
    warned: tuple[str, ...] = ()  # codes of what else its burn warns of, most serious first


@dataclass(frozen=True, repr=False)
class StartMap(Tabled, Told, Drawn):
    """A map of places.

    Attributes
    ----------
    setup : the burner
    air_temperatures : [K], rising
    altitudes : [m], rising
    most_primer : largest primer that was tried [m3]; None if there is no wick to prime
    cells : one a place; `cells[i][j]` is at `altitudes[i]` and `air_temperatures[j]`
    """

    setup: Setup
    air_temperatures: tuple[float, ...]
    altitudes: tuple[float, ...]
    most_primer: float | None
    cells: tuple[tuple[StartCell, ...], ...]


def map_starts(
    setup: Design,
    air_temperatures: Sequence[float | str],
    altitudes: Sequence[float | str],
    *,
    most_primer: float | str | None = None,
    water: float | str | None = None,
    points: int = 5,
    tolerance: float = EXACT,
) -> StartMap:
    """Burn a setup in every place, and look for more primer where its own does not start the jets.

    Parameters
    ----------
    setup : the burner; its own temperatures of air and water and its altitude do not count. Fuel starts at the air's
        temperature unless the setup gives its own.
    air_temperatures : numbers [K], 250.15 to 323.15, or texts such as "-5 degC"
    altitudes : numbers [m], -430 to 6000, or texts such as "6500 ft"
    most_primer : largest primer to try [m3]; default none: what the wick soaks up
    water : temperature of the pot's water in every place, a number [K] or a text; default none: as cold as the air,
        1 degC at least
    points : even steps of primer that are tried first
    tolerance : width at which the search for a primer stops [m3]

    Raises
    ------
    InputError
        For an empty or repeated axis, or a value out of its range.
    """
    setup = with_water(as_setup(setup), water)
    warm = _axis("air_temperatures", air_temperatures, "temperature")
    high = _axis("altitudes", altitudes, "altitude")
    wick = setup.burner.wick is not None and setup.burner.jets is not None
    most = None
    if wick:
        soaked = geometry.wick_capacity(setup.burner)
        given = soaked if most_primer is None else parse(most_primer, "volume", "most_primer")
        most = max(given, setup.charge.primer)
    elif most_primer is not None:
        raise InputError("most_primer", most_primer, "has no wick to go on", "leave it out, or describe burner.wick")
    places = [placed(setup, temperature, altitude) for altitude in high for temperature in warm]
    expect(len(places))
    burns = burn_batch(places)
    cells = [_cell(place, burn, None) for place, burn in zip(places, burns, strict=True)]
    if most is not None and most > setup.charge.primer + tolerance:
        short = [k for k, cell in enumerate(cells) if cell.verdict != BLOOMS]
        lightable = [k for k in short if cells[k].verdict != NEVER_LIGHTS or setup.charge.primer <= 0.0]
        found = primers_needed([places[k] for k in lightable], most=most, points=points, tolerance=tolerance)
        for k, primer in zip(lightable, found, strict=True):
            if primer.outcome is None:
                continue
            volume = most if primer.volume is None else primer.volume
            cells[k] = _cell(vary(places[k], {"charge.primer": volume}), primer.outcome, volume)
            if primer.volume is None:
                cells[k] = cells[k]._replace(
                    reason=Text("with {} of primer {}", Quantity(most, "volume"), cells[k].reason)
                )
    width = len(warm)
    table = tuple(tuple(cells[i * width : (i + 1) * width]) for i in range(len(high)))
    return StartMap(setup, warm, high, most, table)


def with_water(setup: Setup, water: float | str | None) -> Setup:
    """The setup with its pot's water at a temperature [K]; none: as cold as the air, wherever it is placed.

    Until it is placed its own air is then no colder than its water may be.
    """
    if water is not None:
        return vary(setup, {"pot.water_temperature": water})
    if setup.pot is None:
        return setup
    air = max(setup.site.air_temperature, COLDEST_WATER)
    return vary(setup, {"pot.water_temperature": None, "site.air_temperature": air})


def placed(setup: Setup, air_temperature: float, altitude: float) -> Setup:
    """The setup in air of another temperature [K] at another altitude [m], its water no colder than 1 degC."""
    changes: dict[str, object] = {"site.air_temperature": air_temperature, "site.altitude": altitude}
    if setup.pot is not None and setup.pot.water_temperature is None:
        changes["pot.water_temperature"] = max(air_temperature, COLDEST_WATER)
    return vary(setup, changes)


def _axis(name: str, values: Sequence[float | str], dimension: str) -> tuple[float, ...]:
    example = '["-5 degC", "20 degC"]' if dimension == "temperature" else '["0 m", "2000 m"]'
    numbers = [parse(value, dimension, name) for value in as_list(name, values, example)]
    if not numbers:
        raise InputError(name, values, "is empty", "give at least one value")
    if len(set(numbers)) != len(numbers):
        raise InputError(name, values, "has a value twice", "give each once")
    return tuple(sorted(numbers))


def warnings_of(burn: Outcome) -> tuple[str, ...]:
    """Codes of what a burn warns of beyond what its milestones tell, most serious first."""
    return tuple(verdict.code for verdict in burn.verdicts if verdict.code not in TOLD)


def _cell(place: Setup, burn: Outcome | Failure, more: float | None) -> StartCell:
    """What happened in a place; `more` is the primer that it took, if more than the setup's own."""
    start = ready(place)
    flash = flash_point(place, start.parameters)
    cold = charge_temperature(place)
    air, altitude = place.site.air_temperature, place.site.altitude
    below = flash is None or cold < flash
    match = start.spark.time
    nothing = StartCell(air, altitude, FAILED, "", None, flash, below, match, None, None, None)
    if isinstance(burn, Failure):
        return nothing._replace(reason=f"the run failed: {burn.reason}")
    if match is None:
        return nothing._replace(verdict=NEVER_LIGHTS, reason=start.spark.reason)
    marks = burn.milestones
    jets = place.burner.jets is not None
    if jets and marks.bloom.time is None:
        return nothing._replace(verdict=NEVER_BLOOMS, reason=marks.bloom.reason)
    lit = nothing._replace(primer=place.charge.primer, bloom=marks.bloom.time, warned=warnings_of(burn))
    if short := shortfall(burn, "hold") if jets else "":
        return lit._replace(verdict=GOES_OUT, reason=short)
    burnt = marks.boil.fuel
    return lit._replace(
        verdict=BLOOMS if more is None else MORE_PRIMER, reason=marks.boil.reason, boil=marks.boil.time,
        used=None if burnt is None else burnt / poured_density(place),
    )  # fmt: skip
