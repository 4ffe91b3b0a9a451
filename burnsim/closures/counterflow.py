"""Liquids of different density that pass each other in one opening."""

from burnsim.closures._validity import closure
from burnsim.closures.orifice import velocity
from burnsim.constants import GRAVITY


@closure(height=(1e-4, 0.1), density=(500.0, 1200.0), viscosity=(1e-5, 0.1))
def counterflow_speed(
    difference: float,
    height: float,
    density: float,
    viscosity: float,
    diameter: float,
    k_inf: float,
    k_lam: float,
) -> float:
    r"""Speed of the counterflow that a difference of density drives through an upright opening with no net flow.

    Parameters
    ----------
    difference : of the densities on the two sides [kg/m3]; its sign does not matter.
    height : of the opening [m].
    density : mean of both [kg/m3].
    viscosity : [Pa s].
    diameter : hydraulic, of the opening [m].
    k_inf, k_lam : losses of the opening, from `inertial_loss` and `laminar_loss` [-].

    Returns
    -------
    Sum of the speeds of both streams, each over the whole area of the opening [m/s]: half of it goes either way.

    Notes
    -----
    The two columns balance at mid-height; above, the pressure that drives the lighter liquid rises from 0 to
    :math:`g\, \Delta\rho\, H / 2`. Each stream has half the opening. Without friction the mean speed is 2/3 of that at
    the edge, so that each way

    .. math:: Q = \frac{C}{3} A \sqrt{g H \Delta\rho / \rho}

    That is the flow under the uniform pressure :math:`\tfrac{2}{9} g\, \Delta\rho\, H`, and with it friction is counted
    by the loss of the opening.

    >>> speed = counterflow_speed(40.0, 0.3, 800.0, 0.0, 0.3, 1.0 / 0.6**2, 0.0)
    >>> round(speed / (9.80665 * 0.3 * 40.0 / 800.0) ** 0.5, 6)
    0.4

    References
    ----------
    W. G. Brown, K. R. Solvason 1962, Int. J. Heat Mass Transfer 5, 859, from memory; friction: reasoned here.
    """
    apart = difference if difference > 0.0 else -difference
    return velocity(2.0 / 9.0 * GRAVITY * height * apart, density, viscosity, diameter, k_inf, k_lam)
