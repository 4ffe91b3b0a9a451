"""Short polynomials through the properties of a pure liquid and of its mixtures with water; NumPy and SciPy."""

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from burnsim.constants import AIR_MOLAR_MASS, DATUM
from burnsim.substances.substance import T20, AqueousPair, InWater

DIFFUSION_VOLUMES = (15.9, 2.31, 6.11)
"""Fuller, Schettler and Giddings diffusion volumes of an atom of carbon, hydrogen and oxygen, as in Poling et al.
(2001), table 11-1; from memory, unverified."""

AIR_DIFFUSION_VOLUME = 19.7

Sample = tuple[Any, Any]
"""Temperatures [K] and values there, arrays of shape (n,)."""


def polynomial(x: Any, y: Any, degree: int) -> tuple[float, ...]:
    """Least-squares coefficients c_k of y = sum c_k x^k, lowest power first.

    Few points carry no high power: n of them at most (n - 1)/2, two of them a straight line. Coefficients beyond that
    are 0.
    """
    carried = 0 if len(x) < 2 else min(degree, max(1, (len(x) - 1) // 2))
    found = [float(c) for c in np.polynomial.Polynomial.fit(x, y, carried).convert().coef]
    return tuple(found + [0.0] * (degree + 1 - len(found)))


def fit_curves(
    samples: Mapping[str, Sample], molar_mass: float, diffusion_volume: float, density_20: float | None
) -> dict[str, Any]:
    """Coefficients of all curves of one substance: the fields of `Substance` that are fitted.

    Samples go by the names of a data file's curves, in SI: heats per mole, density as volume per mole. A density at 20
    degC [kg/m3] settles it there; the sample then settles its slope. The diffusion volume is that of Fuller, Schettler
    and Giddings [cm3/mol].
    """

    def fitted(key: str, degree: int, power: Any = lambda T: T - DATUM, value: Any = lambda y: y) -> tuple[float, ...]:
        T, y = samples[key]
        return polynomial(power(T), value(y), degree)

    def inverse(T: Any) -> Any:
        return 1000.0 / T

    a, b = fitted("liquid_heat_capacity", 1)
    T, latent = samples["latent_heat"]
    th = T - DATUM
    h0, h1, h2 = polynomial(th, latent + a * th + b * th**2 / 2, 2)
    volume = fitted("molar_volume", 2)
    if density_20 is not None:
        at20 = sum(v * (T20 - DATUM) ** k for k, v in enumerate(volume))
        volume = tuple(v * (molar_mass / density_20 / at20) for v in volume)
    pair_mass = 2.0 / (1e-3 / molar_mass + 1e-3 / AIR_MOLAR_MASS)
    volumes = diffusion_volume ** (1 / 3) + AIR_DIFFUSION_VOLUME ** (1 / 3)
    return {
        "ln_vapour_pressure": fitted("vapour_pressure", 3, inverse, np.log),
        "liquid_heat": (a, b),
        "vapour_heat": (h0, h1, 2.0 * h2),
        "gas_heat_capacity": fitted("gas_heat_capacity", 2),
        "molar_volume": volume,
        "ln_viscosity": fitted("viscosity", 2, inverse, np.log),
        "surface_tension": fitted("surface_tension", 1),
        "vapour_viscosity": fitted("vapour_viscosity", 1),
        "vapour_conductivity": fitted("vapour_conductivity", 1),
        "diffusivity": float(1e-4 * 0.00143 * DATUM**1.75 / (1.01325 * pair_mass**0.5 * volumes**2)),
    }


def fit_in_water(data: InWater, molar_mass: float, water_mass: float, fade: float | None) -> AqueousPair:
    """Excess volume, excess viscosity and surface tension of one organic in water, both of a molar mass [kg/mol].

    `fade` is how the excess of ln viscosity goes with 1000/T, where viscosities at one temperature do not say.
    """
    from scipy.optimize import curve_fit

    def moles(w: Any) -> Any:
        organic = w / molar_mass
        return organic / (organic + (1.0 - w) / water_mass)

    w, density = data.density
    x = moles(w[1:-1])
    molar = x * molar_mass + (1 - x) * water_mass
    ideal = x * molar_mass / density[-1] + (1 - x) * water_mass / density[0]
    excess_volume = _redlich_kister(x, molar / density[1:-1] - ideal)

    w, sets = data.viscosity
    full = moles(w)
    x = full[1:-1]

    def excess(values: Any) -> Any:
        ln = np.log(values)
        return (ln - (1 - full) * ln[0] - full * ln[-1])[1:-1]

    if len(sets) > 1:
        *g, fade = _fading(x, {T: excess(values) for T, values in sets.items()})
        ln_viscosity = (g[0], g[1], g[2], g[3])
    else:
        ln_viscosity = _redlich_kister(x, excess(next(iter(sets.values()))))
    if fade is None:
        raise ValueError("viscosities at one temperature say nothing of how their excess fades")

    w, sigma = data.surface_tension
    share = (sigma[0] - sigma) / (sigma[0] - sigma[-1])

    def connors_wright(x: Any, a: float, b: float) -> Any:
        return (1.0 + b * (1.0 - x) / (1.0 - a * (1.0 - x))) * x

    (a, b), _ = curve_fit(connors_wright, moles(w), share, p0=(0.9, 0.6), bounds=([0.0, 0.0], [0.9999, 1.0]))
    return AqueousPair(excess_volume, ln_viscosity, float(fade), (float(a), float(b)))


def _fading(x: Any, sets: Mapping[float, Any]) -> Sequence[float]:
    """Redlich-Kister coefficients at the datum, and the fade, of an excess known at several temperatures."""
    from scipy.optimize import least_squares

    def misfit(p: Any) -> Any:
        shape = x * (1 - x) * sum(p[k] * (1 - 2 * x) ** k for k in range(4))
        parts = [(1.0 + p[4] * (1000.0 / T - 1000.0 / DATUM)) * shape - target for T, target in sets.items()]
        return np.concatenate(parts)

    return [float(v) for v in least_squares(misfit, (3.0, 2.0, 1.0, 1.0, 1.0)).x]


def _redlich_kister(x: Any, y: Any) -> tuple[float, float, float, float]:
    """Coefficients A_k of y = x*(1-x)*sum(A_k*(1-2x)^k), x the organic's mole fraction, ends left out."""
    basis = np.stack([x * (1 - x) * (1 - 2 * x) ** k for k in range(4)], axis=-1)
    a, b, c, d = (float(v) for v in np.linalg.lstsq(basis, y, rcond=None)[0])
    return a, b, c, d
