"""The mass and energy ledgers of a burn."""

from typing import NamedTuple

from burnsim.constants import DATUM
from burnsim.model.balances.state import State, Tallies, booked, of_each
from burnsim.model.parameters.record import Parameters


class MassLedger(NamedTuple):
    """Where the fuel went [kg]."""

    charged: float
    burnt: float
    unburnt: float  # vapour lost without a flame
    spilled: float
    left: float  # liquid in burner and wick at the end
    residual: float  # charged less all others, over charged [-]
    component_residual: float  # the worst of the components [-]


class EnergyLedger(NamedTuple):
    """Where the heat of the charge went [J].

    Charged is the lower heating value of all that burns in it, as liquid at 298.15 K. The spirit's own water brings
    nothing; turning it into vapour is one of the places to which the heat goes.
    """

    charged: float
    water: float  # warming of all the water that was in the pot
    pot_metal: float
    steam: float  # turning water into vapour: evaporated and boiled off
    pot_loss: float
    burner: float  # warming of burner and liquid left in it
    burner_loss: float
    flue: float  # warmth and chemical heat of the gas; less the latent heat of what condensed on the pot
    radiated: float
    unburnt: float
    spilled: float
    fuel_water: float  # turning the spirit's own water into vapour
    left: float  # heating value of the spirit left
    residual: float  # charged less all others, over charged [-]


def fuel_moles(state: State, p: Parameters) -> list[float]:
    """Liquid in burner and wick [mol of each component]."""
    liquids: list[tuple[float, ...]] = [getattr(state, name) for name in of_each(State)]
    return [sum(moles) + state.wick * x for *moles, x in zip(*liquids, p.wick.fractions, strict=True)]


def heats(first: State, last: State, tallies: Tallies) -> dict[str, float]:
    """Heat stored and heat gone by the places of the energy ledger that the state's table names [J]."""
    found: dict[str, float] = {}
    for name, where in booked(State):
        found[where] = found.get(where, 0.0) + getattr(last, name) - getattr(first, name)
    for name, where in booked(Tallies):
        found[where] = found.get(where, 0.0) + getattr(tallies, name)
    return found


def mass_ledger(first: State, last: State, tallies: Tallies, p: Parameters) -> MassLedger:
    """Where the fuel went between the first and the last state; the tallies are those at the end."""
    masses = p.fuel.molar_mass
    start, left = fuel_moles(first, p), fuel_moles(last, p)
    gone = [sum(moles) for moles in zip(*(getattr(tallies, name) for name in of_each(Tallies)), strict=True)]

    def weigh(moles: "list[float] | tuple[float, ...]") -> float:
        return sum(moles[i] * masses[i] for i in range(p.components))

    charged = weigh(start)
    burnt, unburnt, spilled, remains = weigh(tallies.burnt), weigh(tallies.unburnt), weigh(tallies.spilled), weigh(left)
    return MassLedger(
        charged=charged, burnt=burnt, unburnt=unburnt, spilled=spilled, left=remains,
        residual=(charged - (burnt + unburnt + spilled + remains)) / charged,
        component_residual=max(abs(a - b - c) / a for a, b, c in zip(start, gone, left, strict=True) if a > 0.0),
    )  # fmt: skip


def energy_ledger(first: State, last: State, tallies: Tallies, p: Parameters) -> EnergyLedger:
    """Where the heat of the charge went between the first and the last state; the tallies are those at the end.

    The residual compares every stored and every lost joule with the heat that the charge brought; the sensible heat
    that was in burner and pot at the match is taken off where it is found again. The flows count water with a heating
    value of minus its latent heat, as a vapour that has cost that much already; here the latent heat of what left as
    vapour stands on its own.
    """
    values = p.fire.heating_value
    start, left = fuel_moles(first, p), fuel_moles(last, p)
    burning = [i for i in range(p.components) if i != p.fuel.water_index]
    charged = sum(start[i] * values[i] for i in burning)
    remaining = sum(left[i] * values[i] for i in burning)
    boiled = lost = 0.0
    if p.fuel.water_index >= 0:
        k = p.fuel.water_index
        boiled = (start[k] - left[k] - tallies.spilled[k]) * -values[k]
        lost = tallies.spilled[k] * -values[k]
    heat = heats(first, last, tallies)
    water_heat = p.pot.water_heat

    def theta(state: State) -> float:
        return state.pot_heat / (state.water * water_heat + p.pot.metal)

    water = metal = steam = 0.0
    if p.pot.present > 0.0:
        end = min(theta(last), p.pot.boiling_point - DATUM + 1.0)  # of the water, should the pot have run dry
        water = water_heat * first.water * (end - theta(first))
        metal = p.pot.metal * (theta(last) - theta(first))
        steam = heat["steam"] - water_heat * (first.water - last.water) * end
        metal += water_heat * last.water * (theta(last) - end)
    found = EnergyLedger(
        charged=charged, water=water, pot_metal=metal, steam=steam, pot_loss=heat["pot_loss"],
        burner=heat["burner"] + (last.wick - first.wick) * p.wick.enthalpy, burner_loss=heat["burner_loss"],
        flue=heat["flue"], radiated=heat["radiated"], unburnt=heat["unburnt"], spilled=heat["spilled"] + lost,
        fuel_water=boiled, left=remaining, residual=0.0,
    )  # fmt: skip
    return found._replace(residual=(charged - sum(found[1:-1])) / charged)
