"""How a heated wall turns liquid over: the stream along it that carries what lies below to the top."""

from burnsim.bounds import at_least
from burnsim.closures._validity import closure
from burnsim.elementary import power

_LEAST_PRANDTL = 2.0


@closure(height=(1e-4, 2.0), push=(0.0, 1e9), viscosity=(1e-8, 1e-4), prandtl=(2.0, 80.0))
def wall_stream(height: float, push: float, viscosity: float, prandtl: float) -> float:
    r"""Liquid that rises along an upright wall heated evenly, up to a height.

    Parameters
    ----------
    height : above the foot of the wall [m].
    push : :math:`g \beta q / k`, by which the wall's heat accelerates liquid over a length [1/s2].
    viscosity : kinematic [m2/s].
    prandtl : [-].

    Returns
    -------
    Volume flow over the width of the wall [m2/s].

    Notes
    -----
    Natural convection beside a wall of even heat flux, in liquid of even temperature (the tests solve it):

    .. math:: F''' + 4 F F'' - 3 F'^2 + \theta = 0, \quad \theta'' + \mathrm{Pr}\, (4 F \theta' - F' \theta) = 0, \quad
        \theta'(0) = -1

    .. math:: \psi = 5 \nu \left( \frac{\mathrm{Gr}^*}{5} \right)^{1/5} F(\infty), \quad
        \mathrm{Gr}^* = \frac{g \beta q x^4}{k \nu^2}

    with :math:`5^{4/5} F(\infty) = 1.311\, (\mathrm{Pr} - 0.555)^{-0.311}`, a fit within 0.4 % from Pr 2 to 80.

    A cold layer that flows in under warmer liquid stays there until this stream has carried it up: a filling box with
    a wall for a plume. Methanol 12 mm deep beside a wall of 30 kW/m2, 18 mm2/s:

    >>> round(wall_stream(0.012, 9.81 * 1.2e-3 * 30e3 / 0.19, 5e-7, 5.3) * 1e6)
    18

    References
    ----------
    E. M. Sparrow, J. L. Gregg 1956, Trans. ASME 78, 435 (from memory, solved anew). W. D. Baines, J. S. Turner 1969, J.
    Fluid Mech. 37, 51, on the filling box.
    """
    lean = power(at_least(prandtl, _LEAST_PRANDTL) - 0.555, 0.311)
    return 1.311 * power(viscosity * viscosity * viscosity * push, 0.2) * power(height, 0.8) / lean
