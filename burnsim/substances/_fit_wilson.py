"""Fits the Wilson pairs to Dortmund UNIFAC; needs the test extra (thermo, scipy). Used by `_fit` only.

Every pair is fitted to its own binary. A pair of alcohols is fitted to its ternary with water too, the
aqueous pairs being fixed: the alcohols of a spirit always share it with water, and the binary alone leaves
that open.
"""

from collections.abc import Mapping, Sequence
from itertools import combinations
from typing import Any

import numpy as np

from burnsim.constants import DATUM

# Dortmund UNIFAC groups: 1 CH3, 2 CH2, 3 CH, 14 primary OH, 15 CH3OH, 16 H2O, 18 CH3CO, 81 secondary OH.
GROUPS = {
    "methanol": {15: 1},
    "ethanol": {1: 1, 2: 1, 14: 1},
    "2-propanol": {1: 2, 3: 1, 81: 1},
    "acetone": {1: 1, 18: 1},
    "water": {16: 1},
}
ALCOHOLS = ("methanol", "ethanol", "2-propanol")
BINARY_TEMPERATURES = tuple(np.linspace(280.0, 375.0, 6))
TERNARY_TEMPERATURES = (285.0, 315.0, 345.0, 370.0)
FRACTIONS = tuple(np.clip(np.linspace(0.0, 1.0, 21), 1e-9, 1.0 - 1e-9))
TERNARY = tuple(
    (a, b, 1.0 - a - b)
    for a, b in ((0.8, 0.1), (0.1, 0.8), (0.1, 0.1), (0.34, 0.33), (0.5, 0.1), (0.1, 0.5),
                 (0.4, 0.4), (0.2, 0.2),
                 (0.05, 0.05), (0.6, 0.3), (0.3, 0.6), (0.7, 0.05), (0.05, 0.7))
)  # fmt: skip
GAMMA_WEIGHT = 0.03
STARTS = ((1.0, 1.0, 0.0, 0.0), (0.3, 0.8, 0.0, 0.0), (0.8, 0.3, 0.0, 0.0), (0.1, 0.9, 0.0, 0.0))

Pair = tuple[float, float, float, float]


def unifac_ln_gamma(T: float, x: Sequence[float], names: Sequence[str]) -> Any:
    """Natural logarithms of the Dortmund UNIFAC activity coefficients at T [K] and mole fractions x."""
    from thermo.unifac import DOUFIP2016, DOUFSG, UNIFAC

    model = UNIFAC.from_subgroups(
        T, list(x), [GROUPS[n] for n in names], version=1, interaction_data=DOUFIP2016, subgroups=DOUFSG
    )
    return np.log(model.gammas())


def wilson_ln_gamma(x: Any, T: Any, at_datum: Any, slope: Any) -> Any:
    """Wilson equation for many states at once: x has shape (states, components), T (states,)."""
    matrix = np.maximum(at_datum + slope * (T[:, None, None] - DATUM), 1e-3)
    sums = np.einsum("mij,mj->mi", matrix, x)
    return 1.0 - np.log(sums) - np.einsum("mk,mki->mi", x / sums, matrix)


class _Target:
    """UNIFAC at a set of states, and the misfit of a Wilson model to it."""

    def __init__(self, names: Sequence[str], x: Any, T: Any, vapour_pressures: Mapping[str, Any]) -> None:
        self.x, self.T = np.array(x), np.array(T)
        self.ln_gamma = np.array([unifac_ln_gamma(t, v, names) for v, t in zip(x, T, strict=True)])
        self.pure = np.array([[vapour_pressures[n](t) for n in names] for t in T])
        self.felt = self._felt(self.ln_gamma)

    def _felt(self, ln_gamma: Any) -> tuple[Any, Any]:
        parts = self.x * np.exp(ln_gamma) * self.pure
        total = parts.sum(axis=1)
        return np.log(total), parts / total[:, None]

    def misfit(self, at_datum: Any, slope: Any) -> Any:
        """Errors of ln(total pressure) and vapour composition, and of ln gamma with a small weight."""
        ln_gamma = wilson_ln_gamma(self.x, self.T, at_datum, slope)
        pressure, vapour = self._felt(ln_gamma)
        parts = (pressure - self.felt[0], vapour - self.felt[1], GAMMA_WEIGHT * (ln_gamma - self.ln_gamma))
        return np.concatenate([p.ravel() for p in parts])


def _matrices(size: int, pairs: Mapping[tuple[int, int], Sequence[float]]) -> tuple[Any, Any]:
    at_datum, slope = np.eye(size), np.zeros((size, size))
    for (i, j), (l12, l21, d12, d21) in pairs.items():
        at_datum[i, j], at_datum[j, i], slope[i, j], slope[j, i] = l12, l21, d12, d21
    return at_datum, slope


def fit_pair(
    first: str, second: str, vapour_pressures: Mapping[str, Any], aqueous: Mapping[str, Pair] | None = None
) -> Pair:
    """Wilson parameters (L12, L21, dL12/dT, dL21/dT) of one pair.

    Parameters
    ----------
    first, second : the substances [-]
    vapour_pressures : functions of temperature [K] giving [Pa], by name
    aqueous : pairs of both with water, to fit the ternary with water as well [-]

    Returns
    -------
    L12 and L21 [-] at 298.15 K and their slopes [1/K].
    """
    from scipy.optimize import least_squares

    states = [(x, T) for T in BINARY_TEMPERATURES for x in FRACTIONS]
    binary = _Target((first, second), [(x, 1.0 - x) for x, _ in states], [T for _, T in states], vapour_pressures)
    names = (first, second, "water")
    mixed = [(x, T) for T in TERNARY_TEMPERATURES for x in TERNARY]
    ternary = _Target(names, [x for x, _ in mixed], [T for _, T in mixed], vapour_pressures) if aqueous else None

    def residual(p: Any) -> Any:
        errors = binary.misfit(*_matrices(2, {(0, 1): p}))
        if ternary is None or aqueous is None:
            return errors
        pairs = {(0, 1): p, (0, 2): aqueous[first], (1, 2): aqueous[second]}
        return np.concatenate([errors, ternary.misfit(*_matrices(3, pairs))])

    runs = [least_squares(residual, start, x_scale=(1.0, 1.0, 1e-2, 1e-2)) for start in STARTS]
    l12, l21, d12, d21 = (float(v) for v in min(runs, key=lambda r: float(r.cost)).x)
    return l12, l21, d12, d21


def fit_all(names: Sequence[str], vapour_pressures: Mapping[str, Any]) -> dict[tuple[str, str], Pair]:
    """All pairs of the named substances, in the order of `itertools.combinations`."""
    aqueous = {n: fit_pair(n, "water", vapour_pressures) for n in names if n != "water"}
    pairs: dict[tuple[str, str], Pair] = {}
    for first, second in combinations(names, 2):
        if second == "water":
            pairs[first, second] = aqueous[first]
        else:
            both = first in ALCOHOLS and second in ALCOHOLS
            pairs[first, second] = fit_pair(first, second, vapour_pressures, aqueous if both else None)
    return pairs
