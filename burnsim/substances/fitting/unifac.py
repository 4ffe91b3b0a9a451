"""Activity coefficients from the groups of molecules: modified UNIFAC (Dortmund). Used to fit Wilson's pairs, never in
the integration."""

from collections.abc import Mapping, Sequence
from functools import cache
from typing import Any, NamedTuple

import numpy as np

from burnsim.io.text_file import parse_toml, read_text
from burnsim.substances.data_file import DATA

Groups = Mapping[str, int]
FILE = DATA / "unifac.toml"


class Group(NamedTuple):
    """One group: the main group that its interactions go by, its volume R and surface Q [-]."""

    main: str
    volume: float
    surface: float


@cache
def groups() -> Mapping[str, Group]:
    """Groups by name: those of alcohols, ketones, ethers, hydrocarbons and water."""
    return {name: Group(*row) for name, row in _tables()["groups"].items()}


@cache
def _tables() -> Mapping[str, Any]:
    return parse_toml(read_text(FILE))


def ln_activity(T: Any, x: Any, molecules: Sequence[Groups]) -> Any:
    """Natural logarithms of the activity coefficients, many states at once.

    Parameters
    ----------
    T : temperatures [K], shape (m,), 280 to 375
    x : mole fractions [-], shape (m, n), none of them 0
    molecules : groups of each of the n components

    Returns
    -------
    Array of shape (m, n).

    Notes
    -----
    ln gamma = combinatorial part with r^(3/4) in its first term, plus the residual part with
    psi = exp(-(a + b T + c T^2)/T).

    References
    ----------
    U. Weidlich, J. Gmehling 1987, Ind. Eng. Chem. Res. 26, 1372; parameters: D. Constantinescu, J. Gmehling 2016,
    J. Chem. Eng. Data 61, 2738, as carried by `thermo`.
    """
    T, x = np.asarray(T, float), np.asarray(x, float)
    names = sorted({name for parts in molecules for name in parts})
    known = [groups()[name] for name in names]
    count = np.array([[float(parts.get(name, 0)) for name in names] for parts in molecules])
    volume, surface = (np.array([g[k] for g in known], float) for k in (1, 2))
    r, q = count @ volume, count @ surface
    share, modified = r / (x @ r)[:, None], r**0.75 / (x @ r**0.75)[:, None]
    faces = q / (x @ q)[:, None]
    ratio = share / faces
    combined = 1.0 - modified + np.log(modified) - 5.0 * q * (1.0 - ratio + np.log(ratio))
    psi = np.exp(-_interactions(tuple(g.main for g in known), T) / T[:, None, None])

    def residual(amounts: Any) -> Any:
        theta = amounts * surface / (amounts @ surface)[:, None]
        met = np.einsum("mg,mgk->mk", theta, psi)
        return surface * (1.0 - np.log(met) - np.einsum("mg,mkg->mk", theta / met, psi))

    mixed = residual(x @ count)
    alone = np.stack([residual(np.broadcast_to(row, (len(T), len(names)))) for row in count], axis=1)
    return combined + np.einsum("ng,mng->mn", count, mixed[:, None, :] - alone)


def _interactions(mains: tuple[str, ...], T: Any) -> Any:
    """a + b T + c T^2 of each ordered pair of groups [K], shape (m, groups, groups)."""
    table = _tables()["interactions"]
    made = np.zeros((len(T), len(mains), len(mains)))
    for i, first in enumerate(mains):
        for j, second in enumerate(mains):
            if first != second:
                a, b, c = table[first][second]
                made[:, i, j] = a + b * T + c * T * T
    return made
