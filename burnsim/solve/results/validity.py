"""Laws used outside their range: found by running the same balances with watched closures at the sampled instants.

Validity is checked after the run, by the same balances. `solve/results/validity.py` copies the functions of `model/`
with watched closures and passes the sampled states through them. The hot loop pays nothing, and there is no second
set of equations to keep in step. It takes 6 ms, more than a whole compiled burn, and needs states that a compiled
march does not keep: sweeps and other studies go without.
"""

import sys
from collections.abc import Callable
from itertools import pairwise
from types import FunctionType
from typing import Any, NamedTuple

from burnsim.model.balances import flows as balances
from burnsim.model.balances.state import Regime, unpack
from burnsim.model.parameters.record import Parameters
from burnsim.units.writing import Quantity, Text, with_unit

INSTANTS = 30  # at most so many instants of a burn are watched, every so many steps

SLIGHT = 0.03  # outside by less than this share of the limit is not worth a note
BRIEF = 2.0  # nor is less than this in all [s]

Found = dict[tuple[str, str], list[float]]


class Cause(NamedTuple):
    """What stands behind an argument, in words, and what it is: a dimension, or a unit of its own."""

    what: str
    dimension: str = ""
    unit: str = ""
    size: float = 1.0  # of the unit in SI

    def told(self, value: float) -> Quantity | str:
        """A value of the argument [SI] to three digits, with its unit."""
        if self.dimension:
            return Quantity(value, self.dimension, digits=3)
        return with_unit(f"{value / self.size:.3g}", self.unit)


SYMMETRIC = frozenset({("gas_pressure", "mass_flow")})  # odd in this argument, which may be tried below 0
CAUSES: dict[tuple[str, str], Cause] = {
    ("roper_length", "T_fuel"): Cause("the gas in the jets", "temperature"),
    ("flame_width", "T_fuel"): Cause("the gas in the jets", "temperature"),
    ("roper_length", "air_per_fuel"): Cause("the air that a mole of the jets' gas needs", "", "mol"),
    ("flame_width", "air_per_fuel"): Cause("the air that a mole of the jets' gas needs", "", "mol"),
    ("mixed_velocity", "air_fuel_ratio"): Cause("the air that a gram of the jets' gas needs", "", "g"),
    ("roper_length", "volume_flow"): Cause("the gas of one jet", "", "ml/s", 1e-6),
    ("flame_width", "volume_flow"): Cause("the gas of one jet", "", "ml/s", 1e-6),
    ("flame_width", "velocity"): Cause("the gas in the jets", "velocity"),
    ("mixed_velocity", "exit_velocity"): Cause("the gas in the jets", "velocity"),
    ("jet_flame_reach", "exit_velocity"): Cause("the gas in the jets", "velocity"),
    ("flame_width", "length"): Cause("the flame of a jet", "length"),
    ("jet_flame_reach", "length"): Cause("the flame of a jet", "length"),
    ("gas_pressure", "mass_flow"): Cause("the gas through one hole", "", "g/s", 1e-3),
    ("gas_pressure", "temperature"): Cause("the gas in the jets", "temperature"),
    ("cooper_heat_flux", "superheat"): Cause("the superheat of the boiling spirit", "temperature difference"),
    ("froth_height", "superficial_velocity_top"): Cause("the vapour that rises through the spirit", "velocity"),
    ("wall_flame_tip", "heat_per_length"): Cause("the wick's flame", "", "kW per metre of band", 1e3),
    ("pool_flame_height", "power"): Cause("the flame that is drawn in over the well or cup", "power"),
    ("pool_flame_height", "diameter"): Cause("the well or cup", "length"),
    ("flame_tip", "air_fuel_ratio"): Cause("the air that a gram of the flames' vapour needs", "", "g"),
    ("gas_temperature", "enthalpy_rise"): Cause("the heat in the gas under the pot", "", "kJ/kg", 1e3),
    ("water_evaporation", "T_surface"): Cause("the surface of the water", "temperature"),
}
DOUBTFUL = {
    "roper_length": "the length of a jet's flame",
    "flame_width": "its width",
    "mixed_velocity": "its bending",
    "jet_flame_reach": "its reach",
    "gas_pressure": "the chamber's pressure",
    "cooper_heat_flux": "the boiling rate",
    "froth_height": "the height of the froth",
    "wall_flame_tip": "the height of the wick's flame",
    "pool_flame_height": "the height of that flame",
    "flame_tip": "the length of the flames' way along the pot",
    "gas_temperature": "the temperature of that gas",
    "water_evaporation": "the evaporation from the pot",
    "condensing_rate": "the dew on the pot",
}


class Range(NamedTuple):
    """How far one argument strayed."""

    least: float  # seen
    most: float
    low: float  # allowed
    high: float


class Stray(NamedTuple):
    """A cause that took laws out of their range."""

    cause: Cause
    seen: Range
    laws: tuple[str, ...]
    lasted: float  # [s]


def rooms() -> list[str]:
    """Modules whose functions `balances` calls, itself or by others of them; its own is the first."""
    names = [balances.__name__]
    for name in names:  # which grows
        called = {item.__module__ for item in vars(sys.modules[name]).values() if isinstance(item, FunctionType)}
        names += sorted(one for one in called - set(names) if one.startswith("burnsim.model.balances."))
    return names


def watched(found: Found) -> Callable[..., Any]:
    """A copy of `balances` whose closures note every argument outside their validity range.

    What is found is filled in: (closure, argument) -> [lowest seen, highest seen, low, high].
    """
    spaces = {name: dict(vars(sys.modules[name])) for name in rooms()}
    copies: dict[tuple[str, str], FunctionType] = {}
    for module, space in spaces.items():
        for name, item in space.items():
            if isinstance(item, FunctionType) and item.__module__ == module:
                copies[module, name] = FunctionType(item.__code__, space, name, item.__defaults__, item.__closure__)
    for space in spaces.values():
        for name, item in list(space.items()):
            if not isinstance(item, FunctionType):
                continue
            if (item.__module__, item.__name__) in copies:
                space[name] = copies[item.__module__, item.__name__]
            elif "validity" in vars(item):
                space[name] = _recorder(item, found)
    return copies[balances.__name__, "balances"]


def _recorder(law: FunctionType, found: Found) -> Callable[..., Any]:
    names = law.__code__.co_varnames[: law.__code__.co_argcount]
    ranges = vars(law)["validity"]
    checks = [(k, name, *ranges[name]) for k, name in enumerate(names) if name in ranges]

    def watch(*args: Any) -> Any:
        for k, name, low, high in checks:
            if k < len(args) and not low <= args[k] <= high:
                entry = found.setdefault((law.__name__, name), [args[k], args[k], low, high])
                entry[0] = min(entry[0], args[k])
                entry[1] = max(entry[1], args[k])
        return law(*args)

    return watch


def out_of_range(
    p: Parameters, vectors: list[list[float]], regimes: list[Regime], times: list[float]
) -> tuple[str, ...]:
    """One sentence for every cause that took laws outside their range, with how far and for how long.

    What is barely outside, or only for a moment, is left out. Flat states, regimes and times [s] are by instant.
    """
    found: Found = {}
    run = watched(found)
    sampled = range(0, len(times), -(-len(times) // INSTANTS))
    at = [times[k] for k in sampled]
    ends = [at[0], *(0.5 * (a + b) for a, b in pairwise(at)), times[-1]]  # each instant stands for half-way to the next
    strays: dict[tuple[str, str], Stray] = {}
    for k, (began, over) in zip(sampled, pairwise(ends), strict=True):
        found.clear()
        run(unpack(vectors[k], p.components), regimes[k], p)
        for key, stray in _gathered(found).items():
            strays[key] = _joined(strays.get(key), stray, over - began)
    lasting = [stray for stray in strays.values() if stray.lasted >= BRIEF]
    return tuple(_sentence(stray) for stray in sorted(lasting, key=lambda stray: -stray.lasted))


def _gathered(found: Found) -> dict[tuple[str, str], Stray]:
    """What strayed at one instant, by cause; the narrowest of the ranges counts."""
    strays: dict[tuple[str, str], Stray] = {}
    for (law, name), (least, most, lowest, high) in found.items():
        low = -high if (law, name) in SYMMETRIC else lowest
        if least > low - SLIGHT * (abs(low) or high) and most < high * (1.0 + SLIGHT):
            continue
        cause = CAUSES.get((law, name), Cause(f"{name.replace('_', ' ')} in {law}"))
        stray = Stray(cause, Range(least, most, low, high), (law,), 0.0)
        key = (cause.what, cause.dimension or cause.unit)
        strays[key] = _joined(strays.get(key), stray, 0.0)
    return strays


def _joined(old: Stray | None, new: Stray, time: float) -> Stray:
    if old is None:
        return new._replace(lasted=time)
    seen = Range(
        min(old.seen.least, new.seen.least),
        max(old.seen.most, new.seen.most),
        max(old.seen.low, new.seen.low),
        min(old.seen.high, new.seen.high),
    )
    laws = (*old.laws, *(law for law in new.laws if law not in old.laws))
    return Stray(old.cause, seen, laws, old.lasted + time)


def _sentence(stray: Stray) -> Text:
    cause = stray.cause
    seen = stray.seen
    least, most, low, high = (cause.told(value) for value in seen)
    span = least if least == most else Text("{} to {}", least, most)
    if seen.least >= seen.low:
        limit = Text("up to {}", high)
    elif seen.most <= seen.high:
        limit = Text("from {}", low)
    else:
        limit = Text("from {} to {}", low, high)
    names = [DOUBTFUL.get(law, law.replace("_", " ")) for law in stray.laws]
    listed = names[0] if len(names) == 1 else ", ".join(names[:-1]) + " and " + names[-1]
    doubt = f"{listed} {'is' if len(names) == 1 else 'are'} less sure"
    what = cause.what[0].upper() + cause.what[1:]
    return Text("{}: {} for {:.0f}\u00a0s; the laws hold {}, so {}", what, span, stray.lasted, limit, doubt)
