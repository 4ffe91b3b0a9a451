"""The named state of a burn and its flat vector.

The state holds conserved quantities only: moles, kilograms and enthalpies. Temperatures are derived from them in
closed form, so every balance is linear in the state and a linearly implicit integrator keeps it to rounding.
Enthalpies refer to the liquid (or the metal) at 298.15 K.

One more entry is algebraic: the speed of the liquid in the feed slots, which the pressure balance over the slots
fixes at every instant. Carried in the state, its law is the polynomial dp = rho/2 (K u|u| + k nu u/d); solved for u it
would be a root that is as good as singular at rest, and the levelling would dictate the steps.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from burnsim.records import by_slots, record

Numbers = list[float] | tuple[float, ...] | NDArray[np.float64]


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


@record
class State:
    """What a burn is at one instant; everything else follows from it and the parameters."""

    gallery: tuple[float, ...]  # liquid in the gallery [mol of each component]
    well: tuple[float, ...]  # liquid in the well [mol of each component]
    gallery_heat: float  # enthalpy of that liquid and of the metal that it wets [J]
    well_heat: float  # the same for the well [J]
    rim_heat: float  # enthalpy of the rim [J]
    wick: float  # liquid on the primer wick [mol]
    air: float  # air left in the gallery's headspace [mol]
    water: float  # water in the pot [kg]
    pot_heat: float  # enthalpy of water and pot [J]
    slot_speed: float  # liquid in the feed slots, gallery to well [m/s]; algebraic


@record
class Tallies:
    """Running integrals that feed nothing back: where fuel and heat have gone since the match."""

    burnt: tuple[float, ...]  # [mol of each component]
    unburnt: tuple[float, ...]  # vapour lost without a flame [mol]
    spilled: tuple[float, ...]  # liquid lost through the jets [mol]
    unburnt_heat: float  # chemical and sensible heat of the unburnt vapour [J]
    spilled_heat: float  # the same of the spilled liquid [J]
    radiated: float  # radiated past pot and burner [J]
    flue: float  # carried away by the gas [J]
    burner_loss: float  # lost from the burner's walls and floor [J]
    pot_loss: float  # lost from the pot's wall, lid and surface, dry [J]
    steam: float  # enthalpy of the water vapour that left the pot [J]


def state_size(components: int) -> int:
    """Number of scalars in a `State` of a blend with so many components.

    >>> state_size(2)
    12
    """
    return 2 * components + 8


def air_place(components: int) -> int:
    """Place of the headspace's air in the flat vector of a `State`.

    >>> air_place(1)
    6
    """
    return 2 * components + 4


def tallies_size(components: int) -> int:
    """Number of scalars in the `Tallies` of a blend with so many components.

    >>> tallies_size(2)
    13
    """
    return 3 * components + 7


@by_slots
def unpack(y: Numbers, components: int) -> State:
    """Read the named state from a flat vector.

    >>> unpack([1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 0.0], 1).rim_heat
    5.0
    """
    n = components
    return State(
        gallery=tuple([y[i] for i in range(n)]),
        well=tuple([y[n + i] for i in range(n)]),
        gallery_heat=y[2 * n],
        well_heat=y[2 * n + 1],
        rim_heat=y[2 * n + 2],
        wick=y[2 * n + 3],
        air=y[2 * n + 4],
        water=y[2 * n + 5],
        pot_heat=y[2 * n + 6],
        slot_speed=y[2 * n + 7],
    )


def pack(state: State) -> list[float]:
    """Write the named state into a flat vector.

    >>> s = unpack([float(k) for k in range(12)], 2)
    >>> pack(s) == [float(k) for k in range(12)]
    True
    """
    return [
        *state.gallery,
        *state.well,
        state.gallery_heat,
        state.well_heat,
        state.rim_heat,
        state.wick,
        state.air,
        state.water,
        state.pot_heat,
        state.slot_speed,
    ]


@by_slots
def unpack_tallies(q: Numbers, components: int) -> Tallies:
    """Read the running integrals from their flat vector.

    >>> unpack_tallies([0.0] * 9 + [7.0], 1).steam
    7.0
    """
    n = components
    return Tallies(
        burnt=tuple(q[0:n]),
        unburnt=tuple(q[n : 2 * n]),
        spilled=tuple(q[2 * n : 3 * n]),
        unburnt_heat=q[3 * n],
        spilled_heat=q[3 * n + 1],
        radiated=q[3 * n + 2],
        flue=q[3 * n + 3],
        burner_loss=q[3 * n + 4],
        pot_loss=q[3 * n + 5],
        steam=q[3 * n + 6],
    )
