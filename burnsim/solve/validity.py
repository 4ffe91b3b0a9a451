"""Laws used outside their range: found by running the same balances with watched closures at the sampled instants."""

from collections.abc import Callable
from types import FunctionType, ModuleType
from typing import Any

from burnsim.model import balances, chambers, events, fire, gas, kettle, pressure, walls
from burnsim.model.parameters import Parameters
from burnsim.model.state import Flames, unpack

ROOMS: tuple[ModuleType, ...] = (chambers, pressure, gas, walls, fire, kettle, events, balances)

INSTANTS = 60
"""About so many instants of a burn are watched."""

Found = dict[tuple[str, str], list[float]]


def watched(found: Found) -> Callable[..., Any]:
    """A copy of `balances` whose closures note every argument outside their validity range.

    Parameters
    ----------
    found : filled with (closure, argument) -> [lowest seen, highest seen, low, high]
    """
    spaces: dict[str, dict[str, Any]] = {room.__name__: dict(vars(room)) for room in ROOMS}
    copies: dict[tuple[str, str], FunctionType] = {}
    for room, space in spaces.items():
        for name, item in space.items():
            if isinstance(item, FunctionType) and item.__module__ == room:
                copies[room, name] = FunctionType(item.__code__, space, name, item.__defaults__, item.__closure__)
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
    p: Parameters, vectors: list[list[float]], flames: list[Flames], times: list[float]
) -> tuple[str, ...]:
    """One sentence for every law that was used outside its range, with how far and for how long.

    Parameters
    ----------
    p : parameters
    vectors, flames, times : flat states of the sampled instants, the flames that stood, and when [s]
    """
    found: Found = {}
    run = watched(found)
    stride = max(len(times) // INSTANTS, 1)
    before = 0.0
    total: Found = {}
    lasted: dict[tuple[str, str], float] = {}
    for k in range(0, len(times), stride):
        found.clear()
        run(unpack(vectors[k], p.components), flames[k], p)
        for key, entry in found.items():
            lasted[key] = lasted.get(key, 0.0) + times[k] - before
            kept = total.setdefault(key, list(entry))
            kept[0] = min(kept[0], entry[0])
            kept[1] = max(kept[1], entry[1])
        before = times[k]
    return tuple(
        f"{law}: {name} was {_span(low_seen, high_seen)} for {lasted[law, name]:.1f} s; the law holds from "
        f"{low:.4g} to {high:.4g}"
        for (law, name), (low_seen, high_seen, low, high) in sorted(total.items())
    )


def _span(low: float, high: float) -> str:
    return f"{low:.4g}" if f"{low:.4g}" == f"{high:.4g}" else f"{low:.4g} to {high:.4g}"
