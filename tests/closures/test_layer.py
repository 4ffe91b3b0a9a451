"""Burning layers against the boundary-layer equations and the heat equation, solved here."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.integrate import solve_bvp, solve_ivp
from scipy.optimize import brentq
from scipy.sparse import diags
from scipy.special import erf, k0

from burnsim.closures import layer
from burnsim.closures.layer import (
    burnt_share,
    flame_share,
    flame_tip,
    foot_reach,
    heat_taken,
    mixture_at_wall,
    sheet_quench_flow,
    sheet_spread,
)
from burnsim.model.description.factors import BANDS

PRANDTL = 0.7
Profile = NDArray[np.float64]


def free_sheet() -> tuple[Profile, Profile]:
    """Similarity profile of an upright hot sheet of even temperature: f''' + 3 f f'' - 2 f'^2 + theta = 0."""

    def slopes(_: Profile, y: Profile) -> Profile:
        f, speed, shear, heat, flux = y
        return np.array([speed, shear, -3 * f * shear + 2 * speed**2 - heat, flux, -3 * PRANDTL * f * flux])

    def ends(inner: Profile, outer: Profile) -> Profile:
        return np.array([inner[0], inner[2], inner[3] - 1.0, outer[1], outer[3]])

    x = np.linspace(0.0, 20.0, 400)
    guess = np.array([0.7 * (1 - np.exp(-x)), 0.7 * np.exp(-x), 0 * x, np.exp(-x), -np.exp(-x)])
    found = solve_bvp(slopes, ends, x, guess, tol=1e-8, max_nodes=100000)
    assert found.status == 0
    fine = np.linspace(0.0, 20.0, 20001)
    return fine, found.sol(fine)


def test_constants_of_a_sheet_solve_its_similarity_equations() -> None:
    """Schmidt and Beckmann 1930 with a free surface in place of the wall, Pr 0.7.

    Flows are over (rho mu)^(1/2) g'^(1/4) z^(3/4), which makes psi = 4 (1/4)^(1/4) f and u = 2 f' sqrt(g' z).
    """
    x, (f, speed, _, heat, _) = free_sheet()
    scale = 4.0 * 0.25**0.25
    fastest = 2.0 * speed[0]
    stream = fastest * 2.0 / 3.0 / PRANDTL  # spread of a stream that moves at the sheet's speed all across
    hot = scale * np.trapezoid(heat * speed, x)
    spread = layer.SHEET_MIXING * stream
    assert pytest.approx(fastest, rel=1e-3) == layer.SHEET_SPEED
    assert pytest.approx(hot**2 * math.pi / 4.0 / stream, rel=1e-3) == layer.SHEET_MIXING
    momentum = scale * 2.0 * np.trapezoid(speed * speed, x) / fastest
    assert pytest.approx(momentum / math.sqrt(spread), rel=1e-3) == layer.SHEET_MOMENTUM
    assert pytest.approx(scale * f[-1] / math.sqrt(spread), rel=1e-3) == layer.SHEET_DRAWN


def wall_slope(stream_power: float) -> float:
    """-theta'(0) of f''' + f f'' + beta (1 - f'^2) = 0 (Falkner and Skan), for u as way^m; over sqrt(u w/(nu x))."""
    m = stream_power
    beta = 2.0 * m / (m + 1.0)

    def slopes(_: Profile, y: Profile) -> Profile:
        f, speed, shear, _, flux = y
        return np.array([speed, shear, -f * shear - beta * (1 - speed**2), flux, -PRANDTL * f * flux])

    def ends(inner: Profile, outer: Profile) -> Profile:
        return np.array([inner[0], inner[1], outer[1] - 1.0, inner[3] - 1.0, outer[3]])

    x = np.linspace(0.0, 10.0, 300)
    guess = np.array([x, 1 - np.exp(-x), np.exp(-x), np.exp(-x), -np.exp(-x)])
    found = solve_bvp(slopes, ends, x, guess, tol=1e-8, max_nodes=100000)
    assert found.status == 0
    return float(-found.y[4, 0] * math.sqrt((m + 1.0) / 2.0))


def test_a_walls_film_lies_between_an_even_stream_and_stagnation() -> None:
    """Nu/sqrt(Re) over that of a stream without a wall's drag, sqrt((m + 1) Pr/pi); Pohlhausen 0.293, Hiemenz 0.496."""
    even, stagnation = wall_slope(0.0), wall_slope(1.0)
    assert even == pytest.approx(0.293, abs=0.001)
    assert stagnation == pytest.approx(0.496, abs=0.001)
    low, high = even**2 * math.pi / PRANDTL, stagnation**2 * math.pi / (2.0 * PRANDTL)
    assert low == pytest.approx(0.384, abs=0.002)
    assert pytest.approx(high, abs=0.002) == layer.STAGNATION_FILM
    assert pytest.approx(0.5 * (low + high), rel=0.01) == layer.WALL_FILM
    assert pytest.approx(0.33206**2 * math.pi, rel=1e-3) == layer.WALL_DRAG  # Blasius


def test_sheet_draws_with_three_quarters_power_of_height() -> None:
    low, high = sheet_spread(0.02, 0.2, 40.0, 2e-5), sheet_spread(0.04, 0.2, 40.0, 2e-5)
    assert math.sqrt(high / low) == pytest.approx(2.0**0.75)
    assert sheet_spread(0.0, 0.2, 40.0, 2e-5) == sheet_spread(0.02, 0.2, 0.0, 2e-5) == 0.0
    assert sheet_spread(0.02, 0.4, 40.0, 2e-5) == pytest.approx(4.0 * low)


def slug(mixed: float, count: int = 4000) -> tuple[Profile, Profile]:
    """Share of the vapour across a layer, a slug of one kilogram a second along a tight wall."""
    psi = np.linspace(0.0, 1.0 + 8.0 * mixed, count)
    return psi, 0.5 * (erf((1.0 + psi) / (2.0 * mixed)) + erf((1.0 - psi) / (2.0 * mixed)))


def test_mixture_at_the_wall_by_finite_differences() -> None:
    cells, width = 800, 8.0
    step = width / cells
    start = (np.arange(cells) + 0.5) * step
    first = np.where(start < 1.0, 1.0, 0.0)

    def slopes(_: float, y: Profile) -> Profile:
        flux = np.diff(y) / step
        return np.diff(np.concatenate([[0.0], flux, [0.0]])) / step

    touching = diags([1.0, 1.0, 1.0], [-1, 0, 1], shape=(cells, cells))
    for spread in (0.2, 1.0):
        with np.errstate(invalid="ignore"):  # SciPy's BDF subtracts rows of its table before they are filled
            found = solve_ivp(slopes, (0.0, spread), first, method="BDF", rtol=1e-6, atol=1e-8, jac_sparsity=touching)
        assert mixture_at_wall(1.0, math.sqrt(spread)) == pytest.approx(found.y[0, -1], abs=2e-3)


@pytest.mark.parametrize("need", [3.0, 6.47, 9.0, 10.35])
def test_burnt_share_follows_the_slug(need: float) -> None:
    """1 - the integral of (Z - Z_st)/(1 - Z_st) over the rich part; methanol needs 6.47, ethanol 9.0."""
    rich = 1.0 / (1.0 + need)
    tip = flame_tip(need)
    assert mixture_at_wall(1.0, tip) == pytest.approx(rich, rel=2e-3)
    for way in (0.1, 0.3, 0.5, 0.7, 0.9):
        psi, share = slug(way * tip)
        exact = 1.0 - np.trapezoid(np.maximum(share - rich, 0.0), psi) / (1.0 - rich)
        assert burnt_share(way * tip, tip, need) == pytest.approx(exact, abs=0.06)
    assert burnt_share(0.0, tip, need) == 0.0
    assert burnt_share(tip, tip, need) == burnt_share(5.0 * tip, tip, need) == 1.0


@settings(deadline=None, derandomize=True, database=None)
@given(mixed=st.floats(0.0, 20.0), need=st.floats(0.5, 20.0))
def test_nothing_burns_without_its_air(mixed: float, need: float) -> None:
    burnt = burnt_share(mixed, flame_tip(need), need)
    assert 0.0 <= burnt <= 1.0
    assert burnt * need <= layer.SHEET_DRAWN * mixed * (1.0 + 1e-9)


def test_heat_taken_is_exact_for_an_even_drive() -> None:
    """An infinite stream beside a wall of even temperature: 2 d sqrt(tau/pi) (Carslaw and Jaeger 2.4)."""
    taken = 0.0
    for growth in (0.5, 0.5, 2.0):
        taken = heat_taken(taken, growth, 3.0, 0.0)
    assert taken == pytest.approx(2.0 * 3.0 * math.sqrt(3.0 / math.pi))
    assert heat_taken(2.0, 1.0, -1.0, 0.0) == 2.0
    assert heat_taken(2.0, 0.0, 5.0, 1.0) == pytest.approx(2.0)


@pytest.mark.parametrize("ratio", [2.0, 4.0, 10.0, 20.0])
def test_heat_taken_from_a_mixed_slug(ratio: float) -> None:
    """A burnt-out slug (Z = m/sqrt(pi tau)) meets a cold wall at tau_0: 1 - 2/pi asin sqrt(tau_0/tau) of its heat.

    Duhamel's integral of the wall's drive, exact; ours within 6 %.
    """
    exact = 1.0 - 2.0 / math.pi * math.asin(math.sqrt(1.0 / ratio))
    taken, spread, cells = 0.0, 1.0, 400
    growth = ratio ** (1.0 / cells)
    for _ in range(cells):
        share = 1.0 / math.sqrt(math.pi * spread * math.sqrt(growth))
        taken = heat_taken(taken, spread * (growth - 1.0), share, layer.DEPLETION * share)
        spread *= growth
    assert taken == pytest.approx(exact, rel=0.06)


@settings(deadline=None, derandomize=True, database=None)
@given(taken=st.floats(0.0, 1e4), growth=st.floats(0.0, 1.0), drive=st.floats(-1e7, 1e7), depletion=st.floats(0.0, 1e6))
def test_heat_taken_never_falls_and_stays_finite(taken: float, growth: float, drive: float, depletion: float) -> None:
    found = heat_taken(taken, growth, drive, depletion)
    assert math.isfinite(found)
    assert found >= taken


@pytest.mark.parametrize("ratio", [6.47, 9.0])
def test_a_burnt_mixture_follows_the_lever_rule(ratio):
    """Burke and Schumann: linear from either end to the stoichiometric mixture, whatever burns."""
    stoichiometric = 1.0 / (1.0 + ratio)
    for share in (0.1, 0.5):
        lean = flame_share(share * stoichiometric, ratio)
        rich = flame_share(1.0 - share * (1.0 - stoichiometric), ratio)
        assert lean == pytest.approx(share, abs=0.002)
        assert rich == pytest.approx(share, abs=0.002)
    assert 0.95 < flame_share(stoichiometric, ratio) < 1.0


@pytest.mark.parametrize("strength", [0.2, 0.5, 1.0, 3.0, 10.0, 50.0])
def test_the_foot_of_a_flame_stands_where_the_line_source_is_stoichiometric(strength):
    """K0(s) exp(-s) = 1/strength, solved with SciPy."""
    exact = brentq(lambda s: k0(s) * math.exp(-s) - 1.0 / strength, 1e-6, 20.0)
    fuel = strength * math.pi * 2.2e-5 * 0.2 / (0.3 * 7.47)
    assert foot_reach(fuel, 0.2, 2.2e-5, 0.3, 6.47) == pytest.approx(exact, abs=0.021)


@pytest.mark.parametrize("standoff", [0.7e-3, 1.05e-3, 2e-3])
def test_a_sheet_goes_out_where_it_has_shrunk_to_its_stand_off(standoff: float) -> None:
    """Its tip, sought by a library along the sheet of that vapour, is just so far from the foot."""
    flow = sheet_quench_flow(standoff, 40.4, 2.19e-5, 6.47)
    tip = brentq(lambda z: mixture_at_wall(flow, sheet_spread(z, 1.0, 40.4, 2.19e-5) ** 0.5) - 1.0 / 7.47, 1e-5, 0.1)
    assert tip == pytest.approx(standoff, rel=0.01)


def test_least_flux_of_small_pools() -> None:
    """1 to 3 g/m2/s over pools of 25 to 50 mm (Vermina Plathner et al. 2019), within the band of least flows."""
    band = BANDS["quench_flow"]
    flow = sheet_quench_flow(1.05e-3, 40.4, 2.19e-5, 6.47)
    for diameter in (25e-3, 50e-3):
        assert band.low * 2e-3 < 4.0 * flow / diameter < band.high * 2e-3
