"""Blends that distil: what is in the liquid and in the vapour as a charge boils or burns away."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from burnsim.answers import Drawn, Tabled, Told
from burnsim.constants import ATMOSPHERE
from burnsim.errors import InputError, check_whole
from burnsim.solve.results.result import Burn
from burnsim.studies.arrays import Vector
from burnsim.studies.fuels.spirit import check_pressure
from burnsim.substances.blend import Blend, blend, fuel_record
from burnsim.substances.equilibrium import bubble_temperature, vapour_composition


class Boiled(NamedTuple):
    """One instant of an open still."""

    gone: float  # share of the moles that has boiled away
    temperature: float  # [K]
    moles: tuple[float, ...]  # left, of one mole charged
    liquid: tuple[float, ...]  # mole fractions
    vapour: tuple[float, ...]


def boil_away(
    fuel: str | Mapping[str, float] | Blend, pressure: float = ATMOSPHERE, *, steps: int = 200, last: float = 0.99
) -> tuple[Boiled, ...]:
    """Boil a blend away in an open still, without a burner: each bit of vapour leaves for good.

    Parameters
    ----------
    fuel : a name, a recipe by volume before mixing, or a blend
    pressure : of the air [Pa], 3e4 to 1.2e5
    steps : even steps of the share gone, 10 or more
    last : share of the moles at which to stop, up to 0.999 [-]

    Returns
    -------
    tuple of Boiled, steps + 1 of them

    Notes
    -----
    dn_i = -y_i dn, by the classical fourth-order method of Runge and Kutta. Lord Rayleigh's equation,
    ln n = int dx/(y - x), is the same for two components. An azeotrope boils away without changing.

    >>> last = boil_away("ethanol 50")[-1]
    >>> last.liquid[1] > 0.99
    True

    References
    ----------
    Lord Rayleigh 1902, Phil. Mag. 4, 521.
    """
    check_pressure(pressure)
    check_whole("steps", steps, 10, remedy="leave it out for 200")
    if not 0.0 < last <= 0.999:
        raise InputError("last", last, "is out of range; allowed above 0 up to 0.999", "leave it out for 0.99")
    fuel = blend(fuel)
    record = fuel_record(fuel)

    def look(gone: float, moles: tuple[float, ...]) -> Boiled:
        left = [max(n, 0.0) for n in moles]
        x = tuple([n / sum(left) for n in left])
        temperature = bubble_temperature(x, pressure, record)
        return Boiled(gone, temperature, moles, x, vapour_composition(x, temperature, record))

    def less(moles: tuple[float, ...], rate: tuple[float, ...], step: float) -> tuple[float, ...]:
        return tuple([n - step * y for n, y in zip(moles, rate, strict=True)])

    step = last / steps
    course = [look(0.0, fuel.mole_fractions)]
    for k in range(steps):
        now = course[-1]
        a = now.vapour
        b = look(0.0, less(now.moles, a, 0.5 * step)).vapour
        c = look(0.0, less(now.moles, b, 0.5 * step)).vapour
        d = look(0.0, less(now.moles, c, step)).vapour
        mean = tuple([(a[i] + 2.0 * b[i] + 2.0 * c[i] + d[i]) / 6.0 for i in range(len(a))])
        course.append(look((k + 1) * step, less(now.moles, mean, step)))
    return tuple(course)


@dataclass(frozen=True, eq=False, repr=False)
class Distillation(Told, Tabled, Drawn):
    """How a charge distils in the burner, while there is liquid in it; arrays of shape (n,) or (n, components).

    Attributes
    ----------
    components : names
    time : [s]
    left : liquid in gallery and well [m3]
    liquid : mass fractions in gallery and well together
    vapour : mass fractions in the vapour that they give off
    heating_value : of that vapour, as liquid at 298.15 K [J/kg]
    power : of all flames [W]
    """

    components: tuple[str, ...]
    time: Vector
    left: Vector
    liquid: Vector
    vapour: Vector
    heating_value: Vector
    power: Vector


TRACE = 1e-3  # share of the charge below which a compartment has nothing worth telling


def distil(burn: Burn) -> Distillation:
    """Follow the composition of liquid and vapour over a burn.

    Parameters
    ----------
    burn : a finished burn

    Notes
    -----
    The vapour is what liquid of each compartment's composition and temperature gives off, weighted by what leaves them
    at that instant, or by their liquid while nothing leaves. The primer's vapour is left out: it burns off the wick as
    it was poured.
    """
    if not isinstance(burn, Burn):
        raise InputError("burn", burn, "is not a burn with its course", "give what 'burnsim.burn' returns")
    p = burn.parameters
    molar = np.array(p.fuel.molar_mass)
    rows: list[tuple[float, float, Vector, Vector, float, float]] = []
    start = sum(burn.state(0.0)[0].gallery) + sum(burn.state(0.0)[0].well)
    for time in burn.time.tolist():
        flows = burn.flows(time)
        state = burn.state(time)[0]
        moles = np.maximum(np.array(state.gallery) + np.array(state.well), 0.0)
        if moles.sum() < TRACE * start:
            break
        rates = (max(flows.gas.through_jets, 0.0), max(flows.gas.well_vapour, 0.0))
        if sum(rates) <= 0.0:
            rates = (flows.gallery.moles, flows.well.moles)
        vapour = rates[0] * np.array(flows.gallery.vapour) + rates[1] * np.array(flows.well.vapour)
        heat = rates[0] * flows.gallery.heating_value + rates[1] * flows.well.heating_value
        left, given_off = moles * molar, vapour * molar
        volume = flows.gallery.volume + flows.well.volume
        power = flows.fire.jet_power + flows.fire.wick_power + flows.fire.vent_power
        mass = float(given_off.sum())
        rows.append((time, volume, left / left.sum(), given_off / mass, heat / mass, power))
    columns = [np.array(column) for column in zip(*rows, strict=True)]
    for column in columns:
        column.flags.writeable = False
    return Distillation(burn.setup.charge.fuel.components, *columns)
