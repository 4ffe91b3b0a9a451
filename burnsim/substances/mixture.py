"""The hot-loop record of a mixture of known composition, from the records of its components."""

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from math import sqrt

from burnsim.constants import ATMOSPHERE, DATUM
from burnsim.errors import InputError
from burnsim.substances.equilibrium import bubble_temperature, vapour_composition
from burnsim.substances.fuel import FuelRecord
from burnsim.substances.substance import AqueousPair, Pair, Substance


def _vapour_mixture(y: tuple[float, ...], pure: Sequence[Substance], T: float) -> tuple[float, float]:
    """Viscosity [Pa s] by Wilke and conductivity [W/m/K] by Wassiljewa with Mason and Saxena at T [K]."""
    th = T - DATUM
    mu = [s.vapour_viscosity[0] + s.vapour_viscosity[1] * th for s in pure]
    k = [s.vapour_conductivity[0] + s.vapour_conductivity[1] * th for s in pure]
    mass = [s.molar_mass for s in pure]
    total_mu = total_k = 0.0
    for i in range(len(pure)):
        weight = sum(
            y[j]
            * (1.0 + sqrt(mu[i] / mu[j]) * (mass[j] / mass[i]) ** 0.25) ** 2
            / sqrt(8.0 * (1.0 + mass[i] / mass[j]))
            for j in range(len(pure))
        )
        total_mu += y[i] * mu[i] / weight
        total_k += y[i] * k[i] / weight
    return total_mu, total_k


def _wilson(first: Substance, second: Substance, water: Substance) -> tuple[float, float]:
    """Lambda of the ordered pair at 298.15 K and its slope [1/K]."""
    if first.name == second.name:
        return 1.0, 0.0
    held, back = dict(first.wilson).get(second.name), dict(second.wilson).get(first.name)
    if held is None and back is None and first.molar_mass <= second.molar_mass:
        held = _fitted_pair(first, second, water)
    if held is not None:
        return held[0], held[2]
    back = back or _fitted_pair(second, first, water)
    return back[1], back[3]


@lru_cache(maxsize=256)
def _fitted_pair(first: Substance, second: Substance, water: Substance) -> Pair:
    """Wilson's pair of two that no file holds, fitted to UNIFAC."""
    from burnsim.substances.fitting.wilson import Molecule, fit_pair

    for one, other in ((first, second), (second, first)):
        if not one.groups:
            problem = f"has no UNIFAC groups, without which its mixtures with {other.name} are unknown"
            raise InputError("fuel component", one.name, problem, "add [unifac] to its file, or burn it pure")

    def molecule(one: Substance) -> Molecule:
        return Molecule(dict(one.groups), one.ln_vapour_pressure, one.molar_volume, one.dilute, one.azeotrope)

    return fit_pair(molecule(first), molecule(second), molecule(water))


def _aqueous(one: Substance) -> AqueousPair:
    if one.in_water is None:
        raise InputError(
            "fuel component", one.name, "says nothing of its mixtures with water",
            'add [in_water] to its file, with data or with like = "2-propanol", or burn it without water',
        )  # fmt: skip
    return one.in_water


def _liquid_transport(
    pure: tuple[Substance, ...], x: tuple[float, ...], w: int
) -> tuple[tuple[float, float, float], tuple[float, float]]:
    """ln viscosity (quadratic in u) and surface tension (linear in th) of the liquid charge.

    Viscosity: Grunberg and Nissan form, ln mu = sum x ln mu_i + x_w x_o G(z) (1 + fade (u - u0)), several
    organics weighted by their share. Surface tension: Connors and Wright (1989), Anal. Chem. 61, 194,
    sigma = sigma_w - (1 + b x_w / (1 - a x_w)) x_o (sigma_w - sigma_o); organics among themselves by mole
    fraction.
    """
    c0, c1, c2 = (sum(f * s.ln_viscosity[k] for f, s in zip(x, pure, strict=True)) for k in range(3))
    xw = x[w] if w >= 0 else 0.0
    xo = 1.0 - xw
    organics = [(s, f / xo) for k, (s, f) in enumerate(zip(pure, x, strict=True)) if k != w]
    s0, s1 = (sum(f * s.surface_tension[k] for s, f in organics) for k in range(2))
    if xw > 0.0:
        z = xw - xo
        u0 = 1000.0 / DATUM
        for s, f in organics:
            pair = _aqueous(s)
            excess = f * xw * xo * sum(g * z**k for k, g in enumerate(pair.excess_ln_viscosity))
            c0 += excess * (1.0 - pair.viscosity_fade * u0)
            c1 += excess * pair.viscosity_fade
        a, b = (sum(f * _aqueous(s).surface_shape[k] for s, f in organics) for k in range(2))
        share = (1.0 + b * xw / (1.0 - a * xw)) * xo
        w0, w1 = pure[w].surface_tension
        s0, s1 = w0 - share * (w0 - s0), w1 - share * (w1 - s1)
    return (c0, c1, c2), (s0, s1)


@lru_cache(maxsize=256)
def mixture_record(pure: tuple[Substance, ...], x: tuple[float, ...], water: Substance) -> FuelRecord:
    """Make the record of a liquid of mole fractions x; alcohols' pairs are fitted to water as well.

    An `InputError` for a component whose file does not say how it mixes with the others.
    """
    w = next((k for k, s in enumerate(pure) if s.fire is None), -1)
    excess = (0.0, 0.0, 0.0, 0.0)
    if w >= 0:
        dry = 1.0 - x[w]
        shares = [(_aqueous(s).excess_volume, f / dry) for k, (s, f) in enumerate(zip(pure, x, strict=True)) if k != w]
        e0, e1, e2, e3 = (sum(f * a[k] for a, f in shares) for k in range(4))
        excess = (e0, e1, e2, e3)
    ln_viscosity, surface_tension = _liquid_transport(pure, x, w)
    rec = FuelRecord(
        molar_mass=tuple(s.molar_mass for s in pure),
        ln_vapour_pressure=tuple(s.ln_vapour_pressure for s in pure),
        wilson_0=tuple(tuple(_wilson(i, j, water)[0] for j in pure) for i in pure),
        wilson_1=tuple(tuple(_wilson(i, j, water)[1] for j in pure) for i in pure),
        liquid_heat=tuple(s.liquid_heat for s in pure),
        vapour_heat=tuple(s.vapour_heat for s in pure),
        gas_heat_capacity=tuple(s.gas_heat_capacity for s in pure),
        molar_volume=tuple(s.molar_volume for s in pure),
        excess_volume=excess,
        water_index=w,
        ln_viscosity=ln_viscosity,
        surface_tension=surface_tension,
        vapour_viscosity=(0.0, 0.0),
        vapour_conductivity=(0.0, 0.0),
        diffusivity=0.0,
        critical_pressure=sum(f * s.critical_pressure for f, s in zip(x, pure, strict=True)),
    )
    y = vapour_composition(x, bubble_temperature(x, ATMOSPHERE, rec), rec)
    (mu0, k0), (mu1, k1) = (_vapour_mixture(y, pure, T) for T in (DATUM, DATUM + 75.0))
    return replace(
        rec,
        vapour_viscosity=(mu0, (mu1 - mu0) / 75.0),
        vapour_conductivity=(k0, (k1 - k0) / 75.0),
        diffusivity=1.0 / sum(f / s.diffusivity for f, s in zip(y, pure, strict=True)),
    )
