"""Swelling of a boiling liquid by its own vapour: drift flux."""

from math import log1p, sqrt

from burnsim.bounds import at_least, within
from burnsim.closures._validity import closure
from burnsim.constants import GRAVITY

DISTRIBUTION = 1.2
"""Distribution parameter C0 of the drift-flux model [-]."""


@closure(sigma=(1e-3, 0.1), density_liquid=(300.0, 2000.0), density_vapour=(0.0, 100.0))
def drift_velocity(sigma: float, density_liquid: float, density_vapour: float) -> float:
    r"""Speed at which vapour bubbles rise through a boiling liquid.

    Parameters
    ----------
    sigma : surface tension [N/m].
    density_liquid, density_vapour : [kg/m3].

    Returns
    -------
    Drift velocity [m/s], :math:`1.53\, (\sigma g (\rho_l - \rho_v)/\rho_l^2)^{1/4}`.

    Water boiling at one atmosphere: 0.24 m/s.

    >>> round(drift_velocity(0.0589, 958.4, 0.598), 2)
    0.24

    References
    ----------
    T. Z. Harmathy 1960, AIChE J. 6, 281 (single bubbles); N. Zuber, J. A. Findlay 1965, J. Heat Transfer
    87, 453.
    """
    rho = at_least(density_liquid, 1e-3)
    lift = at_least(sigma, 0.0) * GRAVITY * at_least(rho - density_vapour, 0.0) / (rho * rho)
    return 1.53 * sqrt(sqrt(lift))


@closure(superficial_velocity=(0.0, 1.0), drift=(0.01, 1.0))
def uniform_swell(superficial_velocity: float, drift: float) -> float:
    r"""Factor by which a column swells when the same vapour flow passes through all of it.

    Parameters
    ----------
    superficial_velocity : vapour flow over the column's cross-section [m/s].
    drift : from `drift_velocity` [m/s].

    Returns
    -------
    Froth height over liquid height [-].

    Notes
    -----
    .. math:: \frac{1}{1 - \alpha}, \quad \alpha = \frac{j}{1.2 j + v_\mathrm{drift}}

    with the void fraction :math:`\alpha`.

    >>> round(uniform_swell(0.05, 0.189), 2)
    1.25

    References
    ----------
    N. Zuber, J. A. Findlay 1965, J. Heat Transfer 87, 453, DOI 10.1115/1.3689137.
    """
    j = within(superficial_velocity, 0.0, 1e9)
    v = at_least(drift, 1e-6)
    return (v + DISTRIBUTION * j) / (v + (DISTRIBUTION - 1.0) * j)


@closure(height=(0.0, 0.5), superficial_velocity_top=(0.0, 1.0), drift=(0.01, 1.0))
def froth_height(height: float, superficial_velocity_top: float, drift: float) -> float:
    r"""Height of a boiling column whose vapour is made evenly all the way up.

    Parameters
    ----------
    height : of the liquid at rest [m].
    superficial_velocity_top : all the vapour over the column's cross-section [m/s].
    drift : from `drift_velocity` [m/s].

    Returns
    -------
    Height of the froth [m].

    Notes
    -----
    The vapour flow grows as :math:`j(h) = j_\mathrm{top} h/H` with the liquid h below; each layer swells by
    :math:`1/(1 - \alpha(j))`. With :math:`C_0 = 1.2` the integral is

    .. math:: H \left( 6 - 5\, \frac{\ln(1 + x)}{x} \right), \quad x = 0.2\, \frac{j_\mathrm{top}}{v_\mathrm{drift}}

    about half the swell of a column with the same flow all the way.

    >>> round(froth_height(0.03, 0.05, 0.189) / 0.03, 2)
    1.13

    References
    ----------
    Integral of `uniform_swell`, derived above.
    """
    spread = DISTRIBUTION - 1.0
    x = spread * within(superficial_velocity_top, 0.0, 1e9) / at_least(drift, 1e-6)
    mean = log1p(x) / x if x > 1e-7 else 1.0 - 0.5 * x
    return height * (DISTRIBUTION - mean) / spread
