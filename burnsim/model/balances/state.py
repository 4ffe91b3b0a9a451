"""The state of a burn: one table of what it consists of, and all that follows from the table.

The state holds conserved quantities: moles, kilograms and enthalpies. Temperatures are derived from them in
closed form, so every balance is linear in the state and a linearly implicit integrator keeps it to rounding.
Enthalpies refer to the liquid (or the metal) at 298.15 K.

Four more entries are in no ledger. `dew` has given its latent heat to the pot, and the flue has that much less:
heating values are lower ones. `chill` and `hot_top`, how much colder the gallery's liquid is in the mean than on top,
only say where the heat lies that `gallery_heat` counts. One is algebraic: the speed of the liquid in the feed slots,
which the pressure balance over the slots fixes at every instant. Carried in the state, its law is the polynomial
dp = rho/2 (K u|u| + k nu u/d); solved for u it would be a root that is as good as singular at rest, and the levelling
would dictate the steps.

A field of `State` or `Tallies` is a row of the table: its name, whether there is one for each component, its unit, its
size, and what the integrator and the ledgers must know of it. The flat vector holds the rows in their order; `flat`,
`unpack` and `unpack_tallies` are written from the table when this module is imported.

>>> s = unpack([1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0, 0.0, 0.0, 0.0, 0.0, 0.0], 1)
>>> s.well, s.collar_heat
((2.0,), 7.0)
>>> flat(s, unpack_tallies([0.0] * 9 + [7.0], 1))[14:]
[0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 7.0]

Moles and enthalpies are the states that ledgers count; temperatures follow in closed form. Their balances are then
linear in the state, and a linearly implicit method keeps linear invariants to rounding: the ledgers close to 1e-10 and
better whatever the tolerance. With temperatures as states they would close to the tolerance only. Fuel burnt, unburnt,
spilled and each sink of heat are tallies, integrals that feed nothing back: they share the steps, but not the linear
algebra.
"""

from collections.abc import Callable
from dataclasses import field, fields
from functools import cache
from math import inf
from typing import Any, NamedTuple, Protocol

from burnsim.model.parameters.record import Parameters
from burnsim.records import record, written

Each = tuple[float, ...]
"""A number for each component of the fuel."""

IN_GALLERY, IN_LAYER, IN_WELL, IN_COLLAR, IN_RIM, IN_WALL, IN_WICK, IN_POT, IN_DEW, IN_SLOTS = range(10)
"""Parts of a state of which one alone may differ from an instant that is known."""
NOWHERE = -1
"""The part of a tally."""


class Numbers(Protocol):
    """A row of numbers: a list, a tuple or an array."""

    def __getitem__(self, k: int, /) -> float: ...


class Regime(NamedTuple):
    """Which flames stand, 1.0 lit and 0.0 out, and what has begun. All change at events only.

    Until the water has come to the boil its bulk gives off no steam, and until liquid stands at the jets or the rim
    none leaves. Both laws bend sharply where they begin: a step must end there, and one that overshoots must not see
    them.
    """

    wick: float
    jets: float
    well: float
    boiling: float = 0.0
    spilling: float = 0.0


def flames_standing(regime: Regime) -> float:
    """How many flames stand.

    >>> flames_standing(Regime(1.0, 1.0, 0.0, boiling=1.0))
    2.0
    """
    return regime.wick + regime.jets + regime.well


class Row(NamedTuple):
    """What is known of a state or a tally beside its name and whether there is one for each component."""

    unit: str
    part: int = NOWHERE  # in which it lies
    scale: "Callable[[State, Parameters], float]" = lambda _, p: 0.0
    """Least size that matters, from the first state; the absolute tolerance is rtol times it. Tallies have none."""
    amount: bool = False  # of something: it cannot be less than nothing
    algebraic: bool = False  # its slope is no rate, but what must be nothing
    rising: bool = False  # a tally that cannot fall
    of: str = ""  # what the burner must have, or nothing depends on it: a record of `Parameters` that is present
    flame: str = ""  # what must burn for the same: an entry of `Regime`
    spendable: bool = False  # nothing depends on it once it is used up and none comes in
    bends: "Callable[[Parameters], float]" = lambda _: inf
    """Level at which the laws of it bend: a step ends there, for its estimate of error may not see what lies between
    its stages."""
    ledger: str = ""  # the place of the energy ledger in which it is stored or gone [J]


def _moles(first: "State", p: Parameters) -> float:
    return 0.05 * max(sum(first.gallery) + sum(first.well), 1e-6)


def _kelvin_of_pot(first: "State", p: Parameters) -> float:
    """Heat that warms the pot by a kelvin [J]."""
    return p.pot.water_heat * max(first.water, 1e-6) + p.pot.metal


@record
class State:
    """What a burn is at one instant; everything else follows from it and the parameters."""

    gallery: Each = field(metadata={"row": Row(unit="mol", part=IN_GALLERY, scale=_moles, amount=True, of="gallery")})
    """Liquid in the gallery."""
    well: Each = field(metadata={"row": Row(unit="mol", part=IN_WELL, scale=_moles, amount=True, of="well")})
    """Liquid in the well."""
    gallery_heat: float = field(
        metadata={
            "row": Row(
                unit="J",
                part=IN_GALLERY,
                scale=lambda _, p: 20.0 * p.gallery.metal + 5.0,
                of="gallery",
                ledger="burner",
            )
        }
    )
    """Enthalpy of the gallery's liquid and of the metal that it wets."""
    chill: float = field(metadata={"row": Row(unit="K", part=IN_LAYER, scale=lambda _, p: 1.0, of="slots")})
    """How much colder the gallery's liquid is in the mean than on top, by what has come in from the well below it."""
    hot_top: float = field(metadata={"row": Row(unit="K", part=IN_LAYER, scale=lambda _, p: 5.0, of="gallery")})
    """How much hotter than its mean the heat of its walls has made the top of the gallery's liquid."""
    well_heat: float = field(
        metadata={
            "row": Row(unit="J", part=IN_WELL, scale=lambda _, p: 20.0 * p.well.metal + 5.0, of="well", ledger="burner")
        }
    )
    """The same for the well."""
    collar_heat: float = field(
        metadata={
            "row": Row(
                unit="J",
                part=IN_COLLAR,
                scale=lambda _, p: 0.5 * p.collar.capacity,
                of="collar",
                ledger="burner",
            )
        }
    )
    """Enthalpy of the collar, the ring of wall that side jets heat."""
    rim_heat: float = field(
        metadata={"row": Row(unit="J", part=IN_RIM, scale=lambda _, p: 20.0 * p.walls.rim_capacity, ledger="burner")}
    )
    """Enthalpy of the rim."""
    wall_heat: float = field(
        metadata={"row": Row(unit="J", part=IN_WALL, scale=lambda _, p: 20.0 * p.walls.dry_capacity, ledger="burner")}
    )
    """Enthalpy of the outer wall between liquid and collar, or rim."""
    wick: float = field(
        metadata={
            "row": Row(
                unit="mol",
                part=IN_WICK,
                scale=lambda _, p: max(p.wick.capacity, 1e-6) * 0.01,
                amount=True,
                flame="wick",
                bends=lambda p: p.wick.capacity,
            )
        }
    )
    """Liquid on the primer wick."""
    air: float = field(
        metadata={
            "row": Row(unit="mol", part=IN_GALLERY, scale=lambda _, p: 3e-4, amount=True, of="gallery", spendable=True)
        }
    )
    """Air left in the gallery's headspace."""
    water: float = field(
        metadata={"row": Row(unit="kg", part=IN_POT, scale=lambda s, _: max(s.water, 1e-6), amount=True, of="pot")}
    )
    """Water in the pot."""
    pot_heat: float = field(metadata={"row": Row(unit="J", part=IN_POT, scale=_kelvin_of_pot, of="pot")})
    """Enthalpy of water and pot."""
    dew: float = field(
        metadata={
            "row": Row(
                unit="kg",
                part=IN_DEW,
                scale=lambda s, p: 10.0 * _kelvin_of_pot(s, p) / p.pot.steam_heat[0],
                amount=True,
                of="pot",
                spendable=True,
            )
        }
    )
    """Water that has condensed on the pot's outside."""
    slot_speed: float = field(metadata={"row": Row(unit="m/s", part=IN_SLOTS, scale=lambda _, p: 0.1, algebraic=True)})
    """Speed of the liquid in the feed slots, gallery to well."""


@record
class Tallies:
    """Running integrals that feed nothing back: where fuel and heat have gone since the match."""

    burnt: Each = field(metadata={"row": Row(unit="mol", rising=True)})
    """Burnt in all flames."""
    unburnt: Each = field(metadata={"row": Row(unit="mol", rising=True)})
    """Vapour lost without a flame."""
    spilled: Each = field(metadata={"row": Row(unit="mol", rising=True)})
    """Liquid lost through the jets or over the rim."""
    unburnt_heat: float = field(metadata={"row": Row(unit="J", ledger="unburnt")})
    """Chemical and sensible heat of the unburnt vapour."""
    spilled_heat: float = field(metadata={"row": Row(unit="J", ledger="spilled")})
    """The same of the spilled liquid."""
    radiated: float = field(metadata={"row": Row(unit="J", ledger="radiated")})
    """Radiated past pot and burner."""
    flue: float = field(metadata={"row": Row(unit="J", ledger="flue")})
    """Carried away by the gas."""
    burner_loss: float = field(metadata={"row": Row(unit="J", ledger="burner_loss")})
    """Lost from the burner's walls and floor."""
    pot_loss: float = field(metadata={"row": Row(unit="J", ledger="pot_loss")})
    """Lost from the pot's wall, lid and surface, dry."""
    steam: float = field(metadata={"row": Row(unit="J", ledger="steam")})
    """Enthalpy of the water vapour that left the pot."""


class Entry(NamedTuple):
    """One number of the flat vector."""

    name: str
    row: Row


@cache
def entries(components: int) -> tuple[Entry, ...]:
    """The flat vector of a `State`, number by number, for a blend of so many components."""
    return _entries(State, components)


@cache
def tally_entries(components: int) -> tuple[Entry, ...]:
    """The same of the `Tallies` that follow it."""
    return _entries(Tallies, components)


def _entries(kind: type, components: int) -> tuple[Entry, ...]:
    return tuple(
        Entry(one.name, one.metadata["row"])
        for one in fields(kind)
        for _ in range(components if one.type is Each else 1)
    )


def state_size(components: int) -> int:
    """Number of scalars in a `State` of a blend with so many components.

    >>> state_size(2)
    17
    """
    return len(entries(components))


def tallies_size(components: int) -> int:
    """Number of scalars in the `Tallies` of a blend with so many components.

    >>> tallies_size(2)
    13
    """
    return len(tally_entries(components))


def place(name: str, components: int) -> int:
    """Where a state, or the first of its components, stands in the flat vector.

    >>> place("air", 1), place("slot_speed", 2)
    (10, 16)
    """
    return [entry.name for entry in entries(components)].index(name)


def _line(name: str, arguments: str, value: str) -> Any:
    """A function of one line over the table."""
    return written(f"def {name}({arguments}):\n    return {value}\n", __name__, globals())


def _read(kind: type) -> str:
    """The text that makes a record from a flat vector y of n components."""
    each, single = 0, 0
    parts = []
    for one in fields(kind):
        many = one.type is Each
        terms = [
            f"{each} * components" if each > 1 else "components" if each else "",
            str(single or ""),
            "i" if many else "",
        ]
        at = " + ".join(filter(None, terms)) or "0"
        parts.append(f"{one.name}=tuple([y[{at}] for i in range(components)])" if many else f"{one.name}=y[{at}]")
        each, single = each + many, single + (not many)
    return f"{kind.__name__}({', '.join(parts)})"


@cache
def of_each(kind: type) -> tuple[str, ...]:
    """Names of the rows of `State` or `Tallies` that hold a number for each component: the fuel, in moles."""
    return tuple(one.name for one in fields(kind) if one.type is Each)


@cache
def booked(kind: type) -> tuple[tuple[str, str], ...]:
    """Rows of `State` or `Tallies` that hold joules of the energy ledger: (name, place in the ledger)."""
    found = ((one.name, one.metadata["row"].ledger) for one in fields(kind))
    return tuple((name, where) for name, where in found if where)


def _listed(kind: type, name: str) -> str:
    return ", ".join(f"{'*' if one.type is Each else ''}{name}.{one.name}" for one in fields(kind))


unpack: Callable[[Numbers, int], State] = _line("unpack", "y, components", _read(State))
"""Read the named state from the flat vector of a blend with so many components."""

unpack_tallies: Callable[[Numbers, int], Tallies] = _line("unpack_tallies", "y, components", _read(Tallies))
"""Read the running integrals from their part of the flat vector."""

pack: Callable[[State], list[float]] = _line("pack", "state", f"[{_listed(State, 'state')}]")
"""Write the named state into its part of the flat vector."""

flat: Callable[[State, Tallies], list[float]] = _line(
    "flat", "state, tallies", f"[{_listed(State, 'state')}, " + f"{_listed(Tallies, 'tallies')}]"
)
"""The whole flat vector of a state and its tallies, or of their rates."""


def at_the_match(first: State, components: int) -> list[float]:
    """The flat vector of the first state: nothing has been tallied yet."""
    return pack(first) + [0.0] * tallies_size(components)
