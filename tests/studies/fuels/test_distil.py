"""Blends that distil: Lord Rayleigh's equation, azeotropes, and the same in the burner."""

from functools import cache

import numpy as np
import pytest
from burners import BRASS, burnt
from scipy.integrate import quad

import burnsim
from burnsim import Blend, Burn, Charge, InputError, Pot, Setup, blend
from burnsim.studies.fuels.distillation import boil_away, distil
from burnsim.substances.blend import fuel_record
from burnsim.substances.equilibrium import bubble_temperature, vapour_composition

P0 = 101325.0
ML = 1e-6
SEALED = Setup(
    BRASS,
    Charge(blend("ethanol"), volume=25 * ML, primer=4 * ML),
    Pot(diameter=0.16, height=0.10, water=0.7e-3, water_temperature=288.15, rest="stand", gap=25e-3),
)


def pair(first: float, name: str = "ethanol") -> Blend:
    return blend({name: first, "water": 1.0 - first}, "mole")


def vapour(fuel: Blend, x: float) -> float:
    """Mole fraction of the first component in the vapour over liquid with x of it, at its boiling point."""
    record = fuel_record(fuel)
    return vapour_composition((x, 1.0 - x), bubble_temperature((x, 1.0 - x), P0, record), record)[0]


def azeotrope(name: str) -> float:
    fuel = pair(0.5, name)
    low, high = 0.5, 0.98
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if vapour(fuel, middle) > middle else (low, middle)
    return middle


@cache
def run(fuel: Blend) -> Burn:
    return burnt(burnsim.vary(SEALED, {"charge.fuel": fuel}))


@pytest.mark.parametrize("name", ["ethanol", "2-propanol", "methanol"])
def test_an_open_still_obeys_rayleigh(name: str) -> None:
    """ln(n0/n) = int dx/(y - x), the integral by SciPy's quadrature."""
    fuel = pair(0.4, name)
    course = boil_away(fuel, steps=100, last=0.7)
    for stop in (course[30], course[70], course[100]):
        area, _ = quad(lambda x: 1.0 / (vapour(fuel, x) - x), stop.liquid[0], 0.4)
        assert -np.log(1.0 - stop.gone) == pytest.approx(area, rel=1e-5)


def test_an_open_still_loses_nothing_else() -> None:
    for stop in boil_away(blend("methylated spirit"), steps=50):
        assert sum(stop.moles) == pytest.approx(1.0 - stop.gone, abs=1e-12)


@pytest.mark.parametrize("name", ["ethanol", "2-propanol"])
def test_an_azeotrope_boils_away_unchanged(name: str) -> None:
    share = azeotrope(name)
    course = boil_away(pair(share, name), last=0.9)
    assert course[-1].liquid[0] == pytest.approx(share, abs=1e-6)
    assert course[-1].temperature == pytest.approx(course[0].temperature, abs=1e-6)
    off = boil_away(pair(share - 0.2, name), last=0.9)
    assert off[-1].liquid[0] < share - 0.3


@pytest.mark.parametrize("name", ["ethanol", "2-propanol"])
def test_an_azeotrope_burns_away_all_but_unchanged(name: str) -> None:
    """In the burner it first evaporates below its boiling point, where vapour and liquid differ a little."""
    told = distil(run(pair(azeotrope(name), name)))
    assert np.ptp(told.liquid[:, -1]) < 0.02
    watery = distil(run(pair(0.4, name)))
    assert np.ptp(watery.liquid[:, -1]) > 0.1


def test_alcohol_leaves_first() -> None:
    """Weaker than the azeotrope: the vapour is stronger than the liquid, and both grow watery."""
    told = distil(run(pair(0.4, "2-propanol")))
    full = told.left > 0.05 * told.left[0]
    assert (told.vapour[full, 0] > told.liquid[full, 0]).all()
    assert told.liquid[-1, 1] > told.liquid[0, 1] + 0.1
    assert told.heating_value[-1] < told.heating_value[0]
    assert told.time.shape == told.left.shape == told.power.shape == told.heating_value.shape
    assert told.liquid.shape == told.vapour.shape == (len(told.time), 2)


def test_shares_sum_to_one_and_cannot_be_changed() -> None:
    told = distil(run(pair(0.4, "2-propanol")))
    assert told.liquid.sum(axis=1) == pytest.approx(1.0)
    assert told.vapour.sum(axis=1) == pytest.approx(1.0)
    with pytest.raises(ValueError, match="read-only"):
        told.liquid[0, 0] = 0.0


@pytest.mark.parametrize("fuel", [pair(0.4, "2-propanol"), pair(0.4, "ethanol")], ids=lambda fuel: fuel.components[0])
def test_no_component_is_lost(fuel: Blend) -> None:
    assert run(fuel).mass.component_residual < 1e-9


def test_refuses() -> None:
    fuel = blend("ethanol 95")
    with pytest.raises(InputError, match="pressure"):
        boil_away(fuel, 1e3)
    with pytest.raises(InputError, match="steps"):
        boil_away(fuel, steps=5)
    with pytest.raises(InputError, match="last"):
        boil_away(fuel, last=1.0)
