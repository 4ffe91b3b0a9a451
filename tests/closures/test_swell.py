"""Swell: the analytic froth height against numerical integration, and limits."""

import pytest

from burnsim.closures.swell import drift_velocity, froth_height, uniform_swell


@pytest.mark.parametrize("top", [1e-9, 1e-4, 0.01, 0.05, 0.3, 2.0])
def test_froth_height_is_the_integral_of_the_local_swell(top):
    from scipy.integrate import quad

    height, drift = 0.03, 0.19
    numeric, _ = quad(lambda h: uniform_swell(top * h / height, drift), 0.0, height, epsabs=1e-14, epsrel=1e-11)
    assert froth_height(height, top, drift) == pytest.approx(numeric, rel=1e-10)


def test_no_vapour_no_swell():
    assert froth_height(0.03, 0.0, 0.19) == pytest.approx(0.03, rel=1e-14)
    assert froth_height(0.03, -1.0, 0.19) == pytest.approx(0.03, rel=1e-14)
    assert uniform_swell(0.0, 0.19) == 1.0
    assert uniform_swell(-1.0, 0.19) == 1.0


def test_swell_is_bounded_by_the_densest_drift_flux():
    """Void fraction cannot pass 1/C0 = 1/1.2, so that the swell stays below 6."""
    assert uniform_swell(1e9, 0.19) == pytest.approx(6.0, rel=1e-6)
    assert froth_height(0.03, 1e9, 0.19) < 6.0 * 0.03


def test_void_fraction_by_library():
    """Drift flux of Nicklin, Wilkes and Davidson in the `fluids` library: C0 1.2, drift 0.35 sqrt(g D)."""
    from fluids.two_phase_voidage import Nicklin_Wilkes_Davidson

    diameter, rho_l, rho_g, quality, flux = 0.01, 736.0, 1.65, 0.01, 100.0
    void = Nicklin_Wilkes_Davidson(x=quality, rhol=rho_l, rhog=rho_g, m=flux * 0.7853981634e-4, D=diameter)
    gas = flux * quality / rho_g
    liquid = flux * (1.0 - quality) / rho_l
    drift = 0.35 * (9.80665 * diameter) ** 0.5
    # a liquid at rest sees the gas faster by the liquid's own share of the drift law: v + 1.2 j_l
    assert 1.0 - 1.0 / uniform_swell(gas, drift + 1.2 * liquid) == pytest.approx(void, rel=1e-3)


def test_drift_vanishes_with_the_difference_of_density():
    assert drift_velocity(0.02, 700.0, 700.0) == 0.0
    assert drift_velocity(0.02, 700.0, 800.0) == 0.0
