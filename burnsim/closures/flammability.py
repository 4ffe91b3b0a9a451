"""Flammable limits, the temperatures at which liquid fuel reaches them, and what small flames radiate."""

from collections.abc import Callable
from math import isfinite

from burnsim.bounds import at_least
from burnsim.errors import InputError

NEVER = 1e9
"""Limit of a component that does not burn; its share of Le Chatelier's sum is then nothing."""

LOWER_LIMIT: dict[str, float] = {
    "methanol": 0.06,
    "ethanol": 0.031,
    "2-propanol": 0.02,
    "acetone": 0.025,
    "water": NEVER,
}
"""Lower flammable limit in air, mole fraction; IEC 60079-20-1 (2010), as carried by `chemicals`. NFPA 497
has 0.033 for ethanol and the same for the others."""

UPPER_LIMIT: dict[str, float] = {
    "methanol": 0.36,
    "ethanol": 0.19,
    "2-propanol": 0.127,
    "acetone": 0.143,
    "water": NEVER,
}
"""Upper flammable limit in air, mole fraction; IEC 60079-20-1 (2010), as carried by `chemicals`. NFPA 497
has 0.128 for acetone and the same for the others."""

RADIANT_FRACTION: dict[str, tuple[float, float, float]] = {
    "methanol": (0.11, 0.06, 0.20),
    "ethanol": (0.13, 0.06, 0.20),
    "2-propanol": (0.15, 0.08, 0.25),
    "acetone": (0.155, 0.08, 0.25),
}
"""Share of the heat of combustion radiated by flames of centimetres: default, low, high.

Half of what pools of 0.3 m radiate: methanol 0.22, ethanol 0.26, acetone 0.31 (NIST, MaCFP pool fire data).
That small flames radiate 0.1 to 0.2 is from memory, unverified; so is the factor one half. No value for
2-propanol was found: it is put between ethanol and acetone, whose flame is sooty too.
"""

BURNING_VELOCITY: dict[str, float] = {
    "methanol": 0.42,
    "ethanol": 0.41,
    "2-propanol": 0.38,
    "acetone": 0.35,
}
"""Greatest laminar burning velocity in air at 298 K and one atmosphere [m/s]. Methanol: Metghalchi and Keck (1982);
the others from memory of measurements between 0.33 and 0.44, unverified."""

_COLDEST, _HOTTEST = 220.0, 400.0
_STEP = 5.0


def limit_sum(y: tuple[float, ...], limits: tuple[float, ...]) -> float:
    """Le Chatelier's sum: how near a mixture of vapours in air is to a flammable limit.

    Parameters
    ----------
    y : mole fraction of each vapour in the mixture [-].
    limits : lower (or upper) flammable limit of each alone [-]; a huge number for one that does not burn.

    Returns
    -------
    Sum of y/limit [-]: with lower limits, the mixture burns from 1 upward; with upper ones, up to 1.

    >>> limit_sum((0.03, 0.0155, 0.02), (0.06, 0.031, 1e9)) - 1.0 < 1e-9
    True

    Sources
    -------
    H. Le Chatelier 1891, Annales des Mines 19, 388.
    """
    total = 0.0
    for k in range(len(y)):
        total += y[k] / at_least(limits[k], 1e-9)
    return total


def mixed_burning_velocity(components: tuple[str, ...], fractions: tuple[float, ...]) -> float:
    """Greatest burning velocity in air of a mixture of vapours at 298 K.

    Parameters
    ----------
    components : names of the vapours.
    fractions : mole fractions of the mixture [-]; water counts for nothing.

    Returns
    -------
    S_L [m/s] = 1/sum(x_i/S_i) over the vapours that burn, x_i their shares in all that burns. Steam slows a flame: for
    a watery vapour it is an upper estimate.

    >>> round(mixed_burning_velocity(("methanol", "water"), (0.8, 0.2)), 2)
    0.42

    Raises
    ------
    InputError
        If nothing in it burns.

    Sources
    -------
    Le Chatelier's rule, as used for mixed fuels.
    """
    burning = [
        (share, BURNING_VELOCITY[name])
        for name, share in zip(components, fractions, strict=True)
        if name in BURNING_VELOCITY and share > 0.0
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
    limits : lower flammable limit of each component, mole fraction [-].
    pressure : of the surroundings [Pa], 1e4 to 2e5.

    Returns
    -------
    Temperature [K] at which Le Chatelier's sum of p_i/pressure is 1, or None if it is not reached between
    220 K and 400 K. A cup flashes some 2 to 3 K warmer: its vapour is not saturated everywhere.

    Notes
    -----
    The limits are taken as those of a room at every temperature; they fall by some 0.07 % per kelvin (Zabetakis 1965).

    >>> round(flash_temperature(lambda T: (101325.0 * (T - 270.0) / 100.0,), (0.06,), 101325.0), 6)
    276.0
    >>> flash_temperature(lambda T: (2000.0,), (1e9,), 101325.0) is None
    True

    Sources
    -------
    H. Le Chatelier 1891, Annales des Mines 19, 388; the sum at saturation as the flash point: H.-J. Liaw et
    al. 2002, J. Loss Prev. Process Ind. 15, 429 (from memory, unverified).
    """
    return _reaches(partial_pressure_at, limits, pressure)


def too_rich_temperature(
    partial_pressure_at: Callable[[float], tuple[float, ...]], limits: tuple[float, ...], pressure: float
) -> float | None:
    """Temperature from which the saturated vapour over a liquid is too rich to burn.

    Parameters
    ----------
    partial_pressure_at : partial pressures over the liquid [Pa] at a temperature [K].
    limits : upper flammable limit of each component, mole fraction [-].
    pressure : of the surroundings [Pa], 1e4 to 2e5.

    Returns
    -------
    Temperature [K], or None if the vapour is never too rich between 220 K and 400 K.

    >>> round(too_rich_temperature(lambda T: (101325.0 * (T - 270.0) / 100.0,), (0.36,), 101325.0), 6)
    306.0

    Sources
    -------
    Le Chatelier's sum with upper limits; see `flash_temperature`.
    """
    return _reaches(partial_pressure_at, limits, pressure)


def _reaches(
    partial_pressure_at: Callable[[float], tuple[float, ...]], limits: tuple[float, ...], pressure: float
) -> float | None:
    """Lowest temperature at which Le Chatelier's sum over the liquid rises through 1 [K]."""
    if not (isfinite(pressure) and 1e4 <= pressure <= 2e5):
        raise InputError(
            "pressure",
            pressure,
            "is out of range; allowed 1e4 to 2e5 Pa",
            "give the air pressure of the site",
        )
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
