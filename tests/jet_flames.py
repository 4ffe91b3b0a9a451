"""Flames of jets whose power is given, and the pot over them: the gas along the pot asked on its own."""

from dataclasses import fields
from functools import cache

from burners import PALM

from burnsim.model.balances.fire import FireFlows
from burnsim.model.balances.state import Regime
from burnsim.model.description.conditions import Charge, Pot, Site
from burnsim.model.description.setup import Setup
from burnsim.model.parameters.derive import derive
from burnsim.model.parameters.record import Parameters
from burnsim.substances.blend import blend

HEAT = 21.1e6  # of methanol's vapour [J/kg]
NEED = 6.47  # kilograms of air that a kilogram of methanol needs
ROOM = Site(air_temperature=293.15)
LIT = Regime(wick=0.0, jets=1.0, well=0.0)


def pot_of(**changes: object) -> Pot:
    given = {"diameter": 0.14, "height": 0.12, "water": 0.8e-3, "rest": "stand", "gap": 10e-3, **changes}
    return Pot(**given)  # type: ignore[arg-type]


@cache
def parameters(pot: Pot, site: Site = ROOM) -> Parameters:
    return derive(Setup(PALM, Charge(blend("methanol"), volume=30e-6), pot, site))


def fire_of(power: float, burner: float = 0.0, thrust: float = 0.0) -> FireFlows:
    """Flames of jets of methanol that release a power [W]."""
    known = {
        "jet_power": power,
        "jet_thrust": thrust,
        "content": power,
        "gas_heat": power - burner,
        "fuel_mass": power / HEAT,
        "air_mass": NEED * power / HEAT,
        "moisture": 36.03 / 32.04 * power / HEAT,
    }
    return FireFlows(**{**dict.fromkeys((field.name for field in fields(FireFlows)), 0.0), **known})
