"""Regenerates `tables.py`. Run as `python -m burnsim.substances._fit`; needs the test extra (thermo,
chemicals, scipy).

Methods are pinned to sources that are independent of reference equations of state, so that a comparison
with a reference library is a real check: vapour pressure by Wagner constants (Poling, Prausnitz and
O'Connell 2001), water by IAPWS; liquid density, latent heat and surface tension by the VDI Heat Atlas
equations; liquid heat capacity by Zabransky splines (acetone, which they lack: VDI tables); ideal-gas heat
capacity by the TRC equations; viscosities and vapour conductivity by Perry's Handbook, 8th edition;
vapour-liquid equilibrium by Dortmund UNIFAC, to which Wilson parameters are fitted.
"""

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np

from burnsim.constants import AIR_MOLAR_MASS, ARGON, ATMOSPHERE, CARBON_DIOXIDE, DATUM, GAS_CONSTANT, NITROGEN, OXYGEN
from burnsim.substances import _mixture_data as data
from burnsim.substances._fit_wilson import fit_all
from burnsim.substances.substance import T20, AqueousPair, Substance

CAS = {
    "methanol": "67-56-1",
    "ethanol": "64-17-5",
    "2-propanol": "67-63-0",
    "acetone": "67-64-1",
    "water": "7732-18-5",
}
# Fuller, Schettler and Giddings diffusion volumes as in Poling et al. (2001), table 11-1; from memory,
# unverified.
DIFFUSION_VOLUMES = {
    "methanol": 15.9 + 4 * 2.31 + 6.11,
    "ethanol": 2 * 15.9 + 6 * 2.31 + 6.11,
    "2-propanol": 3 * 15.9 + 8 * 2.31 + 6.11,
    "acetone": 3 * 15.9 + 6 * 2.31 + 6.11,
    "water": 13.1,
}
OIML_ENDS = {"water": data.OIML_DENSITY_20C[0], "ethanol": sum(data.OIML_DENSITY_20C)}
AIR_DIFFUSION_VOLUME = 19.7


def property_curves(name: str) -> dict[str, Any]:
    """The pinned property functions of one substance, as `curves[key](T)`.

    Parameters
    ----------
    name : one of the five substances [-]

    Returns
    -------
    Functions of temperature [K] for psat [Pa], volume [m3/mol], latent [J/mol], sigma [N/m], cp_liquid
    and cp_vapour (ideal gas) [J/mol/K], mu_liquid [Pa s], mu_vapour [Pa s] and k_vapour [W/m/K].
    """
    import thermo
    from chemicals import MW, Pc, Tc, omega

    cas = CAS[name]
    mw, tc, pc, om = MW(cas), Tc(cas), Pc(cas), omega(cas)
    objects = {
        "psat": (thermo.VaporPressure(CASRN=cas, Tc=tc, Pc=pc, omega=om), "WAGNER_POLING"),
        "volume": (thermo.VolumeLiquid(CASRN=cas, MW=mw, Tc=tc), "VDI_PPDS"),
        "latent": (thermo.EnthalpyVaporization(CASRN=cas, Tc=tc, Pc=pc, omega=om), "VDI_PPDS"),
        "sigma": (thermo.SurfaceTension(CASRN=cas, MW=mw, Tc=tc), "VDI_PPDS"),
        "cp_liquid": (thermo.HeatCapacityLiquid(CASRN=cas, MW=mw, Tc=tc), "ZABRANSKY_SPLINE_C"),
        "mu_liquid": (thermo.ViscosityLiquid(CASRN=cas, MW=mw, Tc=tc), "DIPPR_PERRY_8E"),
        "mu_vapour": (thermo.ViscosityGas(CASRN=cas, MW=mw, Tc=tc, Pc=pc), "DIPPR_PERRY_8E"),
        "k_vapour": (thermo.ThermalConductivityGas(CASRN=cas, MW=mw, Tc=tc, Pc=pc), "DIPPR_PERRY_8E"),
        "cp_vapour": (thermo.HeatCapacityGas(CASRN=cas, MW=mw), "TRCIG"),
    }
    methods = {
        ("water", "sigma"): "IAPWS_SIGMA",
        ("water", "psat"): "IAPWS_PSAT",
        ("acetone", "cp_liquid"): "VDI_TABULAR",
        ("2-propanol", "latent"): "DIPPR_PERRY_8E",
    }

    def pinned(key: str) -> Any:
        obj, usual = objects[key]
        method = methods.get((name, key), usual)
        if method not in obj.all_methods:
            raise LookupError(f"{name} has no {method} for {key}")
        return lambda T: obj.calculate(T, method)

    return {key: pinned(key) for key in objects}


def polynomial(x: Any, y: Any, degree: int) -> tuple[float, ...]:
    """Least-squares coefficients c_k of y = sum c_k x^k, lowest power first."""
    return tuple(float(c) for c in np.polynomial.Polynomial.fit(x, y, degree).convert().coef)


def fit_substance(name: str) -> Substance:
    """All coefficients of one pure substance.

    Fitted over 250 to 380 K; the stiffer curves of heat and volume over 260 to 375 K; water from 274 K; the heat
    capacity of the gas, which hot dry walls heat far beyond that, over 300 to 700 K.
    """
    from chemicals import MW, Pc, Tc

    curves = property_curves(name)
    cold, coldest = (274.0, 274.0) if name == "water" else (260.0, 250.0)
    T = np.linspace(cold, 375.0, 64)
    th = T - DATUM

    def sample(key: str, at: Any) -> Any:
        return np.array([curves[key](float(t)) for t in at])

    a, b = polynomial(th, sample("cp_liquid", T), 1)
    h0, av, bv = polynomial(th, sample("latent", T) + a * th + b * th**2 / 2, 2)
    v0, v1, v2 = polynomial(th, sample("volume", T), 2)
    if name in OIML_ENDS:  # the alcohol tables settle the density at 20 degC, the VDI equation the slope
        at20 = v0 + v1 * (T20 - DATUM) + v2 * (T20 - DATUM) ** 2
        scale = float(MW(CAS[name])) / 1000.0 / OIML_ENDS[name] / at20
        v0, v1, v2 = v0 * scale, v1 * scale, v2 * scale
    T = np.linspace(coldest, 380.0, 66)
    th, u = T - DATUM, 1000.0 / T
    p0, p1, p2, p3 = polynomial(u, np.log(sample("psat", T)), 3)
    m0, m1, m2 = polynomial(u, np.log(sample("mu_liquid", T)), 2)
    s0, s1 = polynomial(th, sample("sigma", T), 1)
    g0, g1 = polynomial(th, sample("mu_vapour", T), 1)
    k0, k1 = polynomial(th, sample("k_vapour", T), 1)
    T = np.linspace(300.0, 700.0, 81)
    c0, c1, c2 = polynomial(T - DATUM, sample("cp_vapour", T), 2)
    mw = float(MW(CAS[name]))
    pair_mass = 2.0 / (1.0 / mw + 1e-3 / AIR_MOLAR_MASS)
    volumes = DIFFUSION_VOLUMES[name] ** (1 / 3) + AIR_DIFFUSION_VOLUME ** (1 / 3)
    diffusivity = 1e-4 * 0.00143 * DATUM**1.75 / (1.01325 * pair_mass**0.5 * volumes**2)
    return Substance(
        mw / 1000.0,
        float(Tc(CAS[name])),
        float(Pc(CAS[name])),
        (p0, p1, p2, p3),
        (a, b),
        (h0, av, 2.0 * bv),
        (c0, c1, c2),
        (v0, v1, v2),
        (m0, m1, m2),
        (s0, s1),
        (g0, g1),
        (k0, k1),
        float(diffusivity),
    )


def _organic_fraction(mass_fraction: Any, name: str, molar_masses: dict[str, float]) -> Any:
    organic = mass_fraction / molar_masses[name]
    return organic / (organic + (1.0 - mass_fraction) / molar_masses["water"])


def _redlich_kister(x: Any, y: Any) -> tuple[float, float, float, float]:
    """Coefficients A_k of y = x*(1-x)*sum(A_k*(1-2x)^k), x the organic's mole fraction, ends left out."""
    basis = np.stack([x * (1 - x) * (1 - 2 * x) ** k for k in range(4)], axis=-1)
    a, b, c, d = (float(v) for v in np.linalg.lstsq(basis, y, rcond=None)[0])
    return a, b, c, d


def fit_aqueous(name: str, molar_masses: dict[str, float]) -> AqueousPair:
    """Excess volume, excess viscosity and surface tension of one organic in water, from handbook data."""
    from scipy.optimize import curve_fit, least_squares

    if name == "ethanol":
        w = np.linspace(0.02, 0.98, 49)
        density = sum(c * w**k for k, c in enumerate(data.OIML_DENSITY_20C))
        ends = data.OIML_DENSITY_20C[0], sum(data.OIML_DENSITY_20C)
    else:
        w = np.array(data.MASS_PERCENT[1:-1]) / 100.0
        density = 1000.0 * np.array(data.DENSITY_20C[name][1:-1])
        ends = 1000.0 * data.DENSITY_20C[name][0], 1000.0 * data.DENSITY_20C[name][-1]
    x = _organic_fraction(w, name, molar_masses)
    molar = x * molar_masses[name] + (1 - x) * molar_masses["water"]
    ideal = x * molar_masses[name] / ends[1] + (1 - x) * molar_masses["water"] / ends[0]
    excess_volume = _redlich_kister(x, molar / density - ideal)

    w = np.array(data.MASS_PERCENT) / 100.0
    x = _organic_fraction(w, name, molar_masses)

    def excess(values: Sequence[float]) -> Any:
        ln = np.log(np.array(values))
        return (ln - (1 - x) * ln[0] - x * ln[-1])[1:-1]

    sets = data.ETHANOL_VISCOSITY
    xe = _organic_fraction(w, "ethanol", molar_masses)[1:-1]

    def ethanol(p: Any) -> Any:
        parts = []
        for t, values in sets.items():
            ln = np.log(np.array(values))
            full = _organic_fraction(w, "ethanol", molar_masses)
            target = (ln - (1 - full) * ln[0] - full * ln[-1])[1:-1]
            scale = 1.0 + p[4] * (1000.0 / t - 1000.0 / DATUM)
            parts.append(scale * xe * (1 - xe) * sum(p[k] * (1 - 2 * xe) ** k for k in range(4)) - target)
        return np.concatenate(parts)

    solution = [float(v) for v in least_squares(ethanol, (3.0, 2.0, 1.0, 1.0, 1.0)).x]
    fade = solution[4]
    if name == "ethanol":
        ln_viscosity = (solution[0], solution[1], solution[2], solution[3])
    else:
        ln_viscosity = _redlich_kister(x[1:-1], excess(data.VISCOSITY_25C[name]))

    w, sigma = np.array(data.SURFACE_TENSION_25C[name]).T
    xs = _organic_fraction(w / 100.0, name, molar_masses)
    share = (sigma[0] - sigma) / (sigma[0] - sigma[-1])

    def connors_wright(x: Any, a: float, b: float) -> Any:
        return (1.0 + b * (1.0 - x) / (1.0 - a * (1.0 - x))) * x

    (a, b), _ = curve_fit(connors_wright, xs, share, p0=(0.9, 0.6), bounds=([0.0, 0.0], [0.9999, 1.0]))
    return AqueousPair(excess_volume, ln_viscosity, fade, (float(a), float(b)))


def fit_air() -> dict[str, tuple[float, ...]]:
    """Air over 250 to 2000 K: ln viscosity and ln conductivity as cubics in ln(T/300), cp as a quintic in
    T/1000.

    Viscosity and conductivity follow Lemmon and Jacobsen (2004) through CoolProp; cp is that of its
    nitrogen, oxygen, argon and carbon dioxide from the TRC ideal-gas equations.
    """
    import thermo
    from CoolProp.CoolProp import PropsSI

    T = np.concatenate([np.linspace(250.0, 600.0, 36), np.linspace(620.0, 2000.0, 70)])

    def transport(key: str) -> tuple[float, ...]:
        values = [PropsSI(key, "T", float(t), "P", ATMOSPHERE, "Air") for t in T]
        return polynomial(np.log(T / 300.0), np.log(values), 3)

    gases = (("7727-37-9", NITROGEN), ("7782-44-7", OXYGEN), ("124-38-9", CARBON_DIOXIDE))
    molar: Any = ARGON * 2.5 * GAS_CONSTANT
    for cas, share in gases:
        heat = thermo.HeatCapacityGas(CASRN=cas)
        molar = molar + share * np.array([heat.calculate(float(t), "TRCIG") for t in T])
    cp = polynomial(T / 1000.0, molar / AIR_MOLAR_MASS, 5)
    return {"ln_viscosity": transport("V"), "ln_conductivity": transport("L"), "heat_capacity": cp}


def _rounded(value: Any) -> Any:
    if isinstance(value, float):
        return float(f"{value:.10g}")
    fields = [_rounded(v) for v in value]
    return type(value)(*fields) if hasattr(value, "_fields") else tuple(fields)


class Tables(NamedTuple):
    """Everything that `tables.py` holds."""

    substances: dict[str, Substance]
    wilson: dict[tuple[str, str], tuple[float, ...]]
    aqueous: dict[str, AqueousPair]
    air: dict[str, tuple[float, ...]]


def generate() -> Tables:
    """Fit everything that `tables.py` holds."""
    substances = {name: _rounded(fit_substance(name)) for name in CAS}
    vapour_pressures = {name: property_curves(name)["psat"] for name in CAS}
    wilson = {pair: _rounded(v) for pair, v in fit_all(tuple(CAS), vapour_pressures).items()}
    masses = {name: s.molar_mass for name, s in substances.items()}
    aqueous = {name: _rounded(fit_aqueous(name, masses)) for name in CAS if name != "water"}
    air = {key: _rounded(value) for key, value in fit_air().items()}
    return Tables(substances, wilson, aqueous, air)


def _render(value: Any, indent: int = 0) -> str:
    if hasattr(value, "_fields"):
        pad = " " * (indent + 4)
        body = "".join(f"{pad}{f}={getattr(value, f)!r},\n" for f in value._fields)
        return f"{type(value).__name__}(\n{body}{' ' * indent})"
    return repr(value)


def write(path: Path) -> None:
    """Write the generated tables to `path`."""
    tables = generate()
    lines = [
        '"""Fitted coefficients of the substances, their pairs and air; generated by `_fit`."""\n',
        "from burnsim.substances.substance import AqueousPair, Substance\n",
    ]
    groups: tuple[tuple[str, str, Mapping[Any, Any]], ...] = (
        ("SUBSTANCES", "dict[str, Substance]", tables.substances),
        ("WILSON", "dict[tuple[str, str], tuple[float, float, float, float]]", tables.wilson),
        ("AIR", "dict[str, tuple[float, ...]]", tables.air),
        ("AQUEOUS", "dict[str, AqueousPair]", tables.aqueous),
    )
    for title, kind, table in groups:
        lines.append(f"{title}: {kind} = {{")
        lines += [f"    {key!r}: {_render(value, 4)}," for key, value in table.items()]
        lines.append("}\n")
    path.write_text("\n".join(lines).rstrip() + "\n", encoding="utf-8")


if __name__ == "__main__":
    write(Path(__file__).with_name("tables.py"))
