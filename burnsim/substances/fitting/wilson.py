"""Wilson's pairs, fitted to Dortmund UNIFAC; SciPy.

Every pair is fitted to its own binary. A pair of alcohols is fitted to its ternary with water too, the
aqueous pairs being fixed: the alcohols of a spirit always share it with water, and the binary alone leaves
that open.
"""

from collections.abc import Callable, Mapping, Sequence
from typing import Any, NamedTuple

import numpy as np

from burnsim.constants import DATUM
from burnsim.substances.equilibrium import vapour_pressure
from burnsim.substances.fitting.unifac import Groups, groups, ln_activity
from burnsim.substances.substance import Azeotrope, Henry, Pair

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
DILUTE_TEMPERATURES = (298.15, 317.0, 336.0, 355.0)
DILUTE_WEIGHT = 0.8
"""Of errors of ln gamma at infinite dilution in water, where it was measured, beside errors of ln pressure."""

AZEOTROPE_WEIGHT = 3.0
"""Of the error of ln relative volatility at an azeotrope, whose strength is known to a few tenths of a per cent."""

STARTS = ((1.0, 1.0, 0.0, 0.0), (0.3, 0.8, 0.0, 0.0), (0.8, 0.3, 0.0, 0.0), (0.1, 0.9, 0.0, 0.0))

HYDROXYL = ("OH", "CH3OH")
"""Main groups that make an alcohol."""


class Molecule(NamedTuple):
    """What a pair needs of one component; coefficients are those of `Substance`."""

    groups: Groups
    ln_vapour_pressure: tuple[float, float, float, float]
    molar_volume: tuple[float, float, float]
    dilute: Henry | None = None  # over water
    azeotrope: Azeotrope | None = None  # with water

    def pressure(self, T: float) -> float:
        """Vapour pressure of it alone [Pa] at T [K]."""
        return vapour_pressure(self.ln_vapour_pressure, T)

    @property
    def alcohol(self) -> bool:
        """Whether it has a hydroxyl group."""
        return any(groups()[name].main in HYDROXYL for name in self.groups)


def wilson_ln_gamma(x: Any, T: Any, at_datum: Any, slope: Any) -> Any:
    """Wilson equation for many states at once: x has shape (states, components), T (states,)."""
    matrix = np.maximum(at_datum + slope * (T[:, None, None] - DATUM), 1e-3)
    sums = np.einsum("mij,mj->mi", matrix, x)
    return 1.0 - np.log(sums) - np.einsum("mk,mki->mi", x / sums, matrix)


class _Target:
    """UNIFAC at a set of states, and the misfit of a Wilson model to it."""

    def __init__(self, molecules: Sequence[Molecule], x: Any, T: Any) -> None:
        self.x, self.T = np.array(x), np.array(T)
        self.ln_gamma = ln_activity(self.T, self.x, [one.groups for one in molecules])
        self.pure = np.array([[one.pressure(t) for one in molecules] for t in T])
        self.wanted = self._pressure_and_vapour(self.ln_gamma)

    def _pressure_and_vapour(self, ln_gamma: Any) -> tuple[Any, Any]:
        parts = self.x * np.exp(ln_gamma) * self.pure
        total = parts.sum(axis=1)
        return np.log(total), parts / total[:, None]

    def misfit(self, at_datum: Any, slope: Any) -> Any:
        """Errors of ln(total pressure) and vapour composition, and of ln gamma with a small weight."""
        ln_gamma = wilson_ln_gamma(self.x, self.T, at_datum, slope)
        pressure, vapour = self._pressure_and_vapour(ln_gamma)
        parts = (pressure - self.wanted[0], vapour - self.wanted[1], GAMMA_WEIGHT * (ln_gamma - self.ln_gamma))
        return np.concatenate([p.ravel() for p in parts])


def _matrices(size: int, pairs: Mapping[tuple[int, int], Sequence[float]]) -> tuple[Any, Any]:
    at_datum, slope = np.eye(size), np.zeros((size, size))
    for (i, j), (l12, l21, d12, d21) in pairs.items():
        at_datum[i, j], at_datum[j, i], slope[i, j], slope[j, i] = l12, l21, d12, d21
    return at_datum, slope


def _dilute(first: Molecule, second: Molecule) -> list[tuple[float, float]]:
    """Temperatures and ln gamma of the first at infinite dilution in water, by Henry's law."""
    if first.dilute is None or dict(second.groups) != {"H2O": 1}:
        return []
    found = []
    for T in DILUTE_TEMPERATURES:
        solubility = first.dilute.solubility * np.exp(first.dilute.slope * (1.0 / T - 1.0 / DATUM))
        v0, v1, v2 = second.molar_volume
        volume = v0 + (T - DATUM) * (v1 + (T - DATUM) * v2)
        found.append((T, -float(np.log(volume * solubility * first.pressure(T)))))
    return found


def _dilution_errors(dilute: Sequence[tuple[float, float]], p: Any) -> Any:
    """Weighted errors of ln gamma of the first at infinite dilution, 1 - ln L12 - L21."""
    errors = []
    for T, target in dilute:
        l12, l21 = p[0] + p[2] * (T - DATUM), p[1] + p[3] * (T - DATUM)
        errors.append(DILUTE_WEIGHT * (1.0 - np.log(max(l12, 1e-3)) - l21 - target))
    return np.array(errors)


def _azeotrope_error(first: Molecule, second: Molecule) -> Callable[[Any], Any]:
    """Weighted error of ln relative volatility where first and water, as was measured, have none."""
    if first.azeotrope is None or dict(second.groups) != {"H2O": 1}:
        return lambda p: np.zeros(0)
    x, T = first.azeotrope
    pure = float(np.log(first.pressure(T) / second.pressure(T)))

    def error(p: Any) -> Any:
        ln_gamma = wilson_ln_gamma(np.array([[x, 1.0 - x]]), np.array([T]), *_matrices(2, {(0, 1): p}))[0]
        return np.array([AZEOTROPE_WEIGHT * (ln_gamma[0] - ln_gamma[1] + pure)])

    return error


def fit_pair(first: Molecule, second: Molecule, water: Molecule | None = None) -> Pair:
    """Wilson parameters (L12, L21, dL12/dT, dL21/dT) of one pair.

    UNIFAC makes ethanol in very much water a quarter too volatile; where Henry's law of the first over water, or its
    azeotrope, is known, the pair is fitted to that besides. With water, two alcohols are fitted to their ternary with
    it as well; their own pairs with it are fitted first. Values [-] are at 298.15 K, slopes [1/K].
    """
    from scipy.optimize import least_squares

    states = [(x, T) for T in BINARY_TEMPERATURES for x in FRACTIONS]
    binary = _Target((first, second), [(x, 1.0 - x) for x, _ in states], [T for _, T in states])
    ternary, aqueous = None, None
    if water is not None and first.alcohol and second.alcohol:
        mixed = [(x, T) for T in TERNARY_TEMPERATURES for x in TERNARY]
        ternary = _Target((first, second, water), [x for x, _ in mixed], [T for _, T in mixed])
        aqueous = fit_pair(first, water), fit_pair(second, water)

    dilute, azeotrope = _dilute(first, second), _azeotrope_error(first, second)

    def residual(p: Any) -> Any:
        errors = np.concatenate([binary.misfit(*_matrices(2, {(0, 1): p})), _dilution_errors(dilute, p), azeotrope(p)])
        if ternary is None or aqueous is None:
            return errors
        pairs = {(0, 1): p, (0, 2): aqueous[0], (1, 2): aqueous[1]}
        return np.concatenate([errors, ternary.misfit(*_matrices(3, pairs))])

    runs = [least_squares(residual, start, x_scale=(1.0, 1.0, 1e-2, 1e-2)) for start in STARTS]
    l12, l21, d12, d21 = (float(v) for v in min(runs, key=lambda r: float(r.cost)).x)
    return l12, l21, d12, d21
