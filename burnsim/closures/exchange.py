"""Heat that a wall picks up from gas and conducts to where it is wanted."""

from math import cosh, exp

from burnsim.bounds import within
from burnsim.closures._validity import closure

_FARTHEST = 300.0


@closure(low=(0.0, 1.0), high=(0.0, 1.0), length=(0.0, 1.0), decay=(0.0, 1e4))
def fin_uptake(low: float, high: float, length: float, decay: float) -> float:
    """Share of the heat falling on a stretch of dry wall that runs down it to its wet foot.

    Parameters
    ----------
    low, high : the stretch, above the foot [m].
    length : of the dry wall, from its foot to its free edge [m].
    decay : sqrt(h/(k t)), from the film, the conductivity and the thickness of the wall [1/m].

    Returns
    -------
    Share of h (T_gas - T_foot) per area [-], the mean over the stretch; 1 for a wall that conducts perfectly.

    Notes
    -----
    A straight fin with an insulated edge: (T_gas - T)/(T_gas - T_foot) = cosh(m (L - z))/cosh(m L), integrated. Over
    the whole fin it is the efficiency tanh(m L)/(m L).

    1 mm of aluminium, 55 mm, 25 W/m2/K; and the efficiency of a straight fin with m L = 1:

    >>> decay = (25.0 / (200.0 * 1e-3)) ** 0.5
    >>> round(fin_uptake(0.0, 0.055, 0.055, decay), 2), round(fin_uptake(0.0, 0.1, 0.1, 10.0), 4)
    (0.89, 0.7616)

    References
    ----------
    D. R. Harper, W. B. Brown 1922, NACA Report 158; F. P. Incropera, D. P. DeWitt, table 3.4 (from memory).
    """
    span = decay * (high - low)
    whole = within(decay * length, 0.0, _FARTHEST)
    bottom = within(decay * (length - low), 0.0, _FARTHEST)
    if span < 1e-6:
        return cosh(bottom) / cosh(whole)
    top = within(decay * (length - high), 0.0, _FARTHEST)
    slant = exp(bottom - whole) - exp(-bottom - whole) - exp(top - whole) + exp(-top - whole)
    return slant / (span * (1.0 + exp(-2.0 * whole)))
