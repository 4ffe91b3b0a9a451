"""Heat exchange between a stream of gas and a wall of even temperature."""

from math import expm1

from burnsim.closures._validity import closure


@closure(ntu=(0.0, 100.0))
def ntu_effectiveness(ntu: float) -> float:
    """Share of a stream's heat that a wall of even temperature takes from it.

    Parameters
    ----------
    ntu : h A/(m cp), number of transfer units [-].

    Returns
    -------
    Effectiveness [-], 0 to 1; 0 for a negative `ntu`.

    Notes
    -----
    eps = 1 - exp(-NTU): any exchanger whose other side keeps its temperature.

    >>> round(ntu_effectiveness(1.0), 4)
    0.6321

    Sources
    -------
    W. M. Kays, A. L. London 1984, Compact Heat Exchangers (capacity ratio 0).
    """
    return -expm1(-ntu) if ntu > 0.0 else 0.0
