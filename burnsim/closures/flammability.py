"""Flammable limits, the temperatures at which liquid fuel reaches them, and what small flames radiate."""

from collections.abc import Callable, Sequence
from math import isfinite

from burnsim.bounds import at_least
from burnsim.closures.stoichiometry import Component, known
from burnsim.errors import InputError

NEVER = 1e9
"""Limit of a component that does not burn; its share of Le Chatelier's sum is then nothing."""

_COLDEST, _HOTTEST = 220.0, 400.0
_STEP = 5.0


def limit_sum(y: tuple[float, ...], limits: tuple[float, ...]) -> float:
    r"""Le Chatelier's sum: how near a mixture of vapours in air is to a flammable limit.

    Parameters
    ----------
    y : mole fraction of each vapour in the mixture [-].
    limits : lower (or upper) flammable limit of each alone [-]; a huge number for one that does not burn.

    Returns
    -------
    Sum [-], :math:`\sum_i y_i / l_i`: with lower limits, the mixture burns from 1 upward; with upper ones, up to 1.

    >>> limit_sum((0.03, 0.0155, 0.02), (0.06, 0.031, 1e9)) - 1.0 < 1e-9
    True

    References
    ----------
    H. Le Chatelier 1891, Annales des Mines 19, 388.
    """
    total = 0.0
    for k in range(len(y)):
        total += y[k] / at_least(limits[k], 1e-9)
    return total


def mixed_burning_velocity(components: Sequence[Component], fractions: Sequence[float]) -> float:
    r"""Greatest burning velocity in air of a mixture of vapours at 298 K.

    Parameters
    ----------
    components : the vapours, names or records.
    fractions : mole fractions of the mixture [-]; water counts for nothing.

    Returns
    -------
    Burning velocity [m/s], :math:`1 / \sum_i (x_i / S_i)` over the vapours that burn, with their shares in all that
    burns. Steam slows a flame: for a watery vapour it is an upper estimate.

    >>> round(mixed_burning_velocity(("methanol", "water"), (0.8, 0.2)), 2)
    0.42

    Raises
    ------
    InputError
        If nothing in it burns.

    References
    ----------
    Le Chatelier's rule, as used for mixed fuels.
    """
    burning = [
        (share, one.fire.burning_velocity)
        for one, share in zip(known(components), fractions, strict=True)
        if one.fire is not None and share > 0.0
    ]
    if not burning:
        raise InputError("components", components, "has nothing that burns", "name at least one fuel")
    return sum(share for share, _ in burning) / sum(share / velocity for share, velocity in burning)


def flash_temperature(
    partial_pressure_at: Callable[[float], tuple[float, ...]], limits: tuple[float, ...], pressure: float
) -> float | None:
    """Temperature at which the vapour over a liquid, mixed with air, has just become flammable.

    Parameters
    ----------
    partial_pressure_at : partial pressures over the liquid [Pa] at a temperature [K], as
        `partial_pressures(x, T, rec)` gives them.
    limits : lower flammable limit of each component, mole fraction [-]. With upper limits it is the temperature from
        which the saturated vapour is too rich to burn.
    pressure : of the surroundings [Pa], 1e4 to 2e5.

    Returns
    -------
    Temperature [K] at which Le Chatelier's sum of :math:`p_i / p` over the limits is 1, or None if it is not reached
    between 220 K and 400 K. A cup flashes some 2 to 3 K warmer: its vapour is not saturated everywhere.

    Raises
    ------
    InputError
        For a pressure out of range, or a limit that is not above 0.

    Notes
    -----
    The limits are taken as those of a room at every temperature; they fall by some 0.07 % per kelvin (Zabetakis 1965).

    >>> round(flash_temperature(lambda T: (101325.0 * (T - 270.0) / 100.0,), (0.06,), 101325.0), 6)
    276.0
    >>> flash_temperature(lambda T: (2000.0,), (1e9,), 101325.0) is None
    True

    References
    ----------
    H. Le Chatelier 1891, Annales des Mines 19, 388; the sum at saturation as the flash point: H.-J. Liaw et
    al. 2002, J. Loss Prev. Process Ind. 15, 429 (from memory, unverified).
    """
    if not (isfinite(pressure) and 1e4 <= pressure <= 2e5):
        problem = "is out of range; allowed 1e4 to 2e5 Pa"
        raise InputError("pressure", pressure, problem, "give the air pressure of the site")
    if not all(isfinite(limit) and limit > 0.0 for limit in limits):
        raise InputError("limits", limits, "are not all above 0", "give mole fractions, and 1e9 for water")

    def lack(T: float) -> float:
        return limit_sum(tuple([p / pressure for p in partial_pressure_at(T)]), limits) - 1.0

    low = _COLDEST
    if lack(low) >= 0.0:
        return None
    while low < _HOTTEST:
        high = low + _STEP
        if lack(high) >= 0.0:
            while high - low > 1e-9:
                middle = 0.5 * (low + high)
                low, high = (middle, high) if lack(middle) < 0.0 else (low, middle)
            return high
        low = high
    return None
