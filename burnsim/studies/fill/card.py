"""What to pour, place by place: primer, the charge that boils the water, and the most that each slope allows."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product

from burnsim.answers import Drawn, Tabled, Told
from burnsim.errors import InputError
from burnsim.model import Design, Setup, as_setup, vary
from burnsim.model.description import geometry
from burnsim.solve import Failure
from burnsim.solve.engines import Engine
from burnsim.studies.batches import burn_batch
from burnsim.studies.counting import expect
from burnsim.studies.fill.limit import find_fill_limit
from burnsim.studies.fill.record import USUAL, FillLimits, Margin, check_margin
from burnsim.studies.fuels.charge import find_least_charge
from burnsim.studies.start.grid import placed, warnings_of, with_water
from burnsim.studies.start.primer import find_primer
from burnsim.substances.blend import Blend, blend
from burnsim.units import parse
from burnsim.units.writing import Text, joined

TILTS = (0.0, math.radians(5.0), math.radians(10.0))
SCAN = 11  # loads of the first scan of each limit


@dataclass(frozen=True)
class PourPlace:
    """What to pour in one place of one spirit.

    Attributes
    ----------
    setup : the design there, on a level stand, with the primer and the charge that are told where there are any
    primer : for the wick [m3]: that of the design as far as the wick holds it, or more where it takes more to start;
        None if none starts it, or there is no wick
    charge : least that boils the pot's water [m3]; None if none does, or there is no pot
    reason : why one of them is None; "" for nothing
    limits : fill limits, by slope [rad] in the order that was asked for
    warned : codes of what the burn on that charge warns of
    """

    setup: Setup
    primer: float | None
    charge: float | None
    reason: str
    limits: tuple[FillLimits, ...]
    warned: tuple[str, ...] = ()

    def most(self, k: int) -> float | None:
        """Largest load that is known to be safe on the k-th slope and on all that are less steep [m3]; None if none is.

        A steeper stand never holds more; but burns that go out may prove less on the level than they do there.
        """
        safe = [limits.safe for limits in self.limits if limits.tilt <= self.limits[k].tilt]
        known = [volume for volume in safe if volume is not None]
        return min(known) if len(known) == len(safe) else None

    def fits(self, k: int) -> bool:
        """Whether the charge that boils the water may be poured on the k-th slope."""
        most = self.most(k)
        return self.charge is not None and most is not None and self.charge <= most


@dataclass(frozen=True, repr=False)
class PourCard(Told, Tabled, Drawn):
    """What to pour into one burner.

    Attributes
    ----------
    setup : the design
    margin : kept in every load
    tilts : slopes [rad]
    places : of every spirit, at every altitude, in air of every temperature, in this order
    """

    setup: Setup
    margin: Margin
    tilts: tuple[float, ...]
    places: tuple[PourPlace, ...]


def make_pour_card(
    setup: Design,
    *,
    tilts: Sequence[float | str] = TILTS,
    air_temperatures: Sequence[float | str] | None = None,
    altitudes: Sequence[float | str] | None = None,
    water: float | str | None = None,
    fuels: Sequence[str | Mapping[str, float] | Blend] | None = None,
    margin: Margin = USUAL,
    engine: Engine = "auto",
) -> PourCard:
    """Find what to pour in every place: primer and charge, and the largest load on every slope.

    Parameters
    ----------
    setup : the design
    tilts : slopes of the stand, numbers [rad] or texts such as "5 deg"; default 0, 5 and 10 degrees
    air_temperatures : numbers [K] or texts such as "-5 degC", default that of the design
    altitudes : numbers [m] or texts such as "6500 ft", default that of the design
    water : temperature of the pot's water in every place, a number [K] or a text; default none: that of the design, or
        with `air_temperatures` as cold as the air, 1 degC at least
    fuels : names, recipes by volume before mixing, or blends; default that of the design
    margin : to keep below what spills
    engine : of the fill limits, as of `burnsim.burn_many`

    Notes
    -----
    Primer and charge are found on a level stand. The least charge is that of a burn as drawn: one build in two would
    need more.
    """
    setup = as_setup(setup)
    check_margin(margin)
    if water is not None or air_temperatures is not None:
        setup = with_water(setup, water)
    site = setup.site
    slopes = tuple(vary(setup, {"site.tilt": tilt}).site.tilt for tilt in tilts)
    warm = _read("air_temperatures", air_temperatures, "temperature", site.air_temperature)
    high = _read("altitudes", altitudes, "altitude", site.altitude)
    named = (setup.charge.fuel,) if fuels is None else fuels
    spirits = tuple(map(blend, named))
    for name, values in (("tilts", slopes), ("air_temperatures", warm), ("altitudes", high), ("fuels", spirits)):
        if not values:
            raise InputError(name, values, "is empty", "give at least one")
    level = replace(setup, site=replace(setup.site, tilt=0.0))
    places = [
        _place(placed(vary(level, {"charge.fuel": spirit}), air, altitude), slopes, margin, engine)
        for spirit, altitude, air in product(spirits, high, warm)
    ]
    return PourCard(setup, margin, slopes, tuple(places))


def _read(
    name: str, values: Sequence[float | str] | None, dimension: str, own: float | None = None
) -> tuple[float, ...]:
    return tuple([parse(value, dimension, name) for value in ([own] if values is None else values)])


def _place(setup: Setup, tilts: Sequence[float], margin: Margin, engine: Engine) -> PourPlace:
    primer, charge = None, None
    reasons: list[str] = []
    warned: tuple[str, ...] = ()
    if setup.burner.wick is not None and setup.burner.jets is not None:
        found = find_primer(setup)
        if found.volume is None:
            reasons.append(Text("no primer starts it: {}", found.reason))
        else:
            primer = max(found.volume, min(setup.charge.primer, geometry.wick_capacity(setup.burner)))
            setup = vary(setup, {"charge.primer": primer})
    started = primer is not None or not reasons
    if setup.pot is not None and started:
        least = find_least_charge(setup)
        charge = least.volume
        if charge is None:
            reasons.append(Text("no charge boils the water: {}", least.reason))
        else:
            setup = vary(setup, {"charge.volume": charge})
            expect(1)
            [burn] = burn_batch([setup])
            warned = () if isinstance(burn, Failure) else warnings_of(burn)
    limits = tuple(find_fill_limit(setup, tilt=tilt, margin=margin, scan=SCAN, engine=engine) for tilt in tilts)
    return PourPlace(setup, primer, charge, joined("; ", reasons), limits, warned)
