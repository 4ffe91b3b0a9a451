"""The match: what it lights, and when.

A wick burns all round at once. By the thermal theory of spread over a thick fuel (J. N. de Ris 1969, Proc. Combust.
Inst. 12, 241), V_g (rho c k)_gas/(rho c k)_wick ((T_flame - T_flash)/(T_flash - T))^2 with the draught V_g of 0.2 m/s,
a flame runs round a palm-sized band in half a second 10 K below its flash point and in some 5 s 35 K below; measured
flames over solids are up to four times slower. It is left out: it moves no bloom by more than that.
"""

from functools import lru_cache
from typing import NamedTuple

from burnsim.closures.flame import warm_quench_power
from burnsim.closures.flammability import flash_temperature
from burnsim.model.at_site import charge_temperature
from burnsim.model.balances.events import dying
from burnsim.model.balances.flows import Flows, balances
from burnsim.model.balances.pool import released
from burnsim.model.balances.state import Regime
from burnsim.model.balances.wick import wick_rate
from burnsim.model.description.setup import Setup
from burnsim.model.parameters.derive import first_state, primer_moles
from burnsim.model.parameters.record import Parameters
from burnsim.substances.equilibrium import partial_pressures
from burnsim.substances.fuel import FuelRecord
from burnsim.units.writing import Quantity, Text

MATCH_LIFE = 15.0  # [s], common practice, no source
MATCH_POWER = 5.0  # into a patch of the wick, of some 50 W that a match gives [W], common practice, no source
POOL_LAYER = 1.5e-3  # of a pool that the match's heat reaches [m], common practice, no source
PATCH = 1.0e-4  # that the match warms [m2], common practice, no source
SPIRIT_HEAT = 2.4e6  # of a wet band per volume [J/m3/K], alcohols near 300 K (density x specific heat)


class Lighting(NamedTuple):
    """What the match does."""

    time: float | None  # when the flame stands [s]; None if it never takes
    regime: Regime
    reason: str


def flash_point(setup: Setup, p: Parameters) -> float | None:
    """Temperature at which the vapour over the charge can just burn [K]; None if not between 220 and 400 K."""
    return _flash_point(setup.charge.fuel.mole_fractions, p.fuel, p.fire.lower_limit, p.site.pressure)


def rich_point(setup: Setup, p: Parameters) -> float | None:
    """Temperature above which the vapour in a closed space over the charge is too rich to burn [K].

    None if not between 220 and 400 K.
    """
    return _flash_point(setup.charge.fuel.mole_fractions, p.fuel, p.fire.upper_limit, p.site.pressure)


@lru_cache(maxsize=64)
def _flash_point(x: tuple[float, ...], fuel: FuelRecord, limits: tuple[float, ...], pressure: float) -> float | None:
    return flash_temperature(lambda temperature: partial_pressures(x, temperature, fuel), limits, pressure)


def lighting(setup: Setup, p: Parameters) -> Lighting:
    """What the match lights: the primed wick, or else an open well.

    Below its flash point a patch of the wick is warmed first. A pool's currents spread the match's heat over its whole
    surface, and its upper layer must be warmed all over. A primer whose flame would die at once, being too watery or
    too little, does not light; nor does a flame over the well that could not live.
    """
    temperature = charge_temperature(setup)
    flash = flash_point(setup, p)
    wick = setup.burner.wick
    if flash is None:
        return Lighting(
            None,
            Regime(wick=0.0, jets=0.0, well=0.0),
            "the vapour over the charge never becomes flammable, for the water in it",
        )
    cold = max(flash - temperature, 0.0)
    primed = wick is not None and setup.charge.primer > 0.0
    burning = 0.0
    if primed:
        burning = wick_rate(primer_moles(setup), 1.0, p)
    if wick is not None and burning > p.wick.hold_rate:
        return _warmed(cold, PATCH * wick.thickness, Regime(wick=1.0, jets=0.0, well=0.0), "the primer")
    if p.vent.open > 0.0 and p.well.present > 0.0:
        over = Regime(wick=0.0, jets=0.0, well=1.0)
        flows = balances(first_state(setup, p), over, p)
        if dying(flows, p) >= 0.0:
            return Lighting(None, over._replace(well=0.0), _why_it_dies(flows, p))
        return _warmed(cold, p.well.area * POOL_LAYER, over, "the spirit")
    if primed:
        reason: str = Text(
            "the primer, too watery or too little, would burn {}, and its flame dies below {}",
            Quantity(burning * p.wick.mass, "mass flow", digits=2),
            Quantity(p.wick.hold_rate * p.wick.mass, "mass flow", digits=2),
        )
    elif p.well.present > 0.0:
        reason = "no primer on a wick, and the pot stands too close over the well for a flame: no flame would stay lit"
    else:
        reason = "no primer on a wick and no open well: no flame would stay lit"
    return Lighting(None, Regime(wick=0.0, jets=0.0, well=0.0), reason)


def _why_it_dies(flows: Flows, p: Parameters) -> str:
    """Why a flame over the well would not live."""
    made = released(flows.pool, flows.well, p)
    least = warm_quench_power(p.vent.least_power, flows.rim_temperature)
    if made >= least:
        return Text("a flame of {} over the liquid would be too cold to live", Quantity(made, "power", 0))
    return Text(
        "a flame over the liquid would release {} there, and round its rim it takes {} to live",
        Quantity(made, "power", digits=3), Quantity(least, "power", digits=3),
    )  # fmt: skip


def _warmed(cold: float, volume: float, regime: Regime, what: str) -> Lighting:
    """The match on spirit that is so far below its flash point [K] and so much of it [m3]."""
    warming = cold * SPIRIT_HEAT * volume / MATCH_POWER
    if warming > MATCH_LIFE:
        return Lighting(
            None,
            Regime(wick=0.0, jets=0.0, well=0.0),
            Text(
                "{} is {} below its flash point, and a match does not warm it enough",
                what,
                Quantity(cold, "temperature difference", 0),
            ),
        )
    return Lighting(warming, regime, "")
