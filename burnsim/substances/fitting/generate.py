"""Fits what the data files leave to a property library, and writes [fitted] into them.

    python -m burnsim.substances.fitting.generate             all that the package carries
    python -m burnsim.substances.fitting.generate FILE...     files of your own

Needs the test extra (thermo, chemicals, CoolProp, scipy). A file names the method for each curve; those of the package
are from sources that are independent of reference equations of state, so that a comparison with a reference library
is a real check. Wilson's pairs are fitted to UNIFAC: a file holds those that it held before, and those that no other
file holds.
"""

import sys
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import numpy as np

from burnsim.constants import AIR_MOLAR_MASS, ARGON, ATMOSPHERE, CARBON_DIOXIDE, GAS_CONSTANT, NITROGEN, OXYGEN
from burnsim.errors import InputError
from burnsim.io.text_file import read_text, toml_key, write_atomically
from burnsim.substances.catalogue import tables
from burnsim.substances.data_file import DATA, Table, read_data
from burnsim.substances.fitting.curves import Sample, fit_in_water, polynomial
from burnsim.substances.fitting.unifac import FILE as UNIFAC_FILE
from burnsim.substances.fitting.wilson import Molecule, fit_pair
from burnsim.substances.fuel_file import (
    curve_table,
    fingerprint,
    fit_points,
    read_atoms,
    read_azeotrope,
    read_constants,
    read_dilute,
    read_groups,
    read_in_water,
    read_points,
)

HEAD = "# Fitted to all of the above by burnsim.substances.fitting.generate; do not edit.\n"
MAIN_GROUPS = (1, 5, 6, 7, 9, 13, 42)
"""Main groups of UNIFAC that are carried: hydrocarbons, alcohols, water, ketones, ethers."""

LIBRARY = {  # class of the property library by curve
    "vapour_pressure": "VaporPressure",
    "density": "VolumeLiquid",
    "liquid_heat_capacity": "HeatCapacityLiquid",
    "latent_heat": "EnthalpyVaporization",
    "surface_tension": "SurfaceTension",
    "viscosity": "ViscosityLiquid",
    "gas_heat_capacity": "HeatCapacityGas",
    "vapour_viscosity": "ViscosityGas",
    "vapour_conductivity": "ThermalConductivityGas",
}
STIFF = ("liquid_heat_capacity", "latent_heat", "density")
"""Curves of heat and volume, fitted over 260 to 375 K; the others over 250 to 380 K, the gas over 300 to 700 K."""


def library_curve(table: Table, key: str) -> Any:
    """The library's function of temperature [K] for one curve, by the method that the file names; in SI, per mole."""
    import thermo
    from chemicals import omega

    part = curve_table(table, key)
    part.refuse_unknown(("method", "source", "status"))
    part.source_and_status()
    method = part.text("method", "name a method of thermo")
    cas = table.text("cas", "give the CAS number, by which the library knows it")
    constants = read_constants(table)
    wanted = {
        "MW": 1e3 * constants.molar_mass,
        "Tc": constants.critical_temperature,
        "Pc": constants.critical_pressure,
        "omega": omega(cas),
    }
    kind = getattr(thermo, LIBRARY[key])
    known = kind.__init__.__code__.co_varnames
    found = kind(CASRN=cas, **{name: value for name, value in wanted.items() if name in known})
    if method not in found.all_methods:
        raise InputError(
            part.field("method"), method, "is not known for it; allowed: " + ", ".join(sorted(found.all_methods)),
            "choose one of them, or give columns of temperature and value",
        )  # fmt: skip
    return lambda T: found.calculate(T, method)


def sample(table: Table, key: str) -> Sample:
    """Temperatures and values of one curve: columns of the file, or the library's curve on a grid."""
    if "method" not in curve_table(table, key).content:
        return read_points(table, key)
    water = read_atoms(table)[0] == 0
    if key == "gas_heat_capacity":
        T = np.linspace(300.0, 700.0, 81)
    elif key in STIFF:
        T = np.linspace(274.0 if water else 260.0, 375.0, 64)
    else:
        T = np.linspace(274.0 if water else 250.0, 380.0, 66)
    curve = library_curve(table, key)
    return T, np.array([curve(float(t)) for t in T])


class Library:
    """Files that are fitted together: each file's curves once, its pairs with the others."""

    def __init__(self, carried: Sequence[Table], given: Sequence[Table]) -> None:
        self.tables = {str(table.content["name"]): table for table in (*carried, *given)}
        self.fits: dict[str, dict[str, Any]] = {}
        wilson = {name: table.find_table("fitted", "wilson") for name, table in self.tables.items()}
        self.pairs = {name: [] if held is None else list(held.content) for name, held in wilson.items()}
        known = [name for name, table in self.tables.items() if read_groups(table)]
        for one in (str(table.content["name"]) for table in given):
            held = {other for other in known if one in self.pairs[other]} | {one, *self.pairs[one]}
            if one in known and one != "water":
                self.pairs[one] += [other for other in known if other not in held]

    def fit(self, name: str) -> dict[str, Any]:
        """Coefficients of a file's curves."""
        if name not in self.fits:
            self.fits[name] = fit_points(self.tables[name], sample)
        return self.fits[name]

    def molecule(self, name: str) -> Molecule:
        """What a pair needs of a file."""
        fit, table = self.fit(name), self.tables[name]
        curves = fit["ln_vapour_pressure"], fit["molar_volume"]
        return Molecule(read_groups(table), *curves, read_dilute(table), read_azeotrope(table))

    def in_water(self, name: str) -> Any:
        """What mixing a file's substance with water does."""
        data = read_in_water(self.tables[name].sub_table("in_water", "give data"))
        mass, water = (read_constants(self.tables[one]).molar_mass for one in (name, "water"))
        alone = len(data.viscosity[1]) == 1  # viscosities at one temperature: their excess fades as that of ethanol
        return fit_in_water(data, mass, water, float(self.in_water("ethanol").viscosity_fade) if alone else None)

    def fitted(self, name: str) -> dict[str, Any]:
        """All that stands under [fitted] of a file."""
        table = self.tables[name]
        made: dict[str, Any] = {"of": fingerprint(table), **self.fit(name)}
        part = table.find_table("in_water")
        if part is not None and "like" not in part.content:
            made["in_water"] = self.in_water(name)._asdict()
        water = self.molecule("water")
        pairs = {one: fit_pair(self.molecule(name), self.molecule(one), water) for one in self.pairs[name]}
        return made | ({"wilson": pairs} if pairs else {})


def rendered(table: Mapping[str, Any]) -> str:
    """Text of [fitted]."""
    lines = [HEAD.rstrip(), "[fitted]"]
    for key, value in table.items():
        if not isinstance(value, Mapping):
            lines.append(f"{key} = {_shown(value)}")
    for name, value in table.items():
        if isinstance(value, Mapping):
            lines += ["", f"[fitted.{name}]", *(f"{toml_key(k)} = {_shown(v)}" for k, v in value.items())]
    return "\n".join(lines) + "\n"


def _shown(value: Any) -> str:
    if isinstance(value, str):
        return f'"{value}"'
    if isinstance(value, float):
        return repr(float(f"{value:.10g}"))
    return "[" + ", ".join(_shown(float(one)) for one in value) + "]"


def rewritten(content: str, fitted: Mapping[str, Any]) -> str:
    """A file's text with its [fitted] made anew; it stands at the end."""
    return content.partition(HEAD)[0].rstrip() + "\n\n" + rendered(fitted)


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


def unifac_text() -> str:
    """Text of the file of UNIFAC's groups and interactions."""
    from thermo.unifac import DOUFIP2016, DOUFSG

    lines = [
        "# Groups and interactions of modified UNIFAC (Dortmund): D. Constantinescu, J. Gmehling 2016, J. Chem. Eng.",
        "# Data 61, 2738, as carried by thermo. Written by burnsim.substances.fitting.generate; do not edit.",
        "",
        "[groups]  # main group, volume R, surface Q",
    ]
    chosen = [DOUFSG[k] for k in sorted(DOUFSG) if DOUFSG[k].main_group_id in MAIN_GROUPS]
    names = {group.main_group_id: group.main_group for group in chosen}
    lines += [f'"{g.group}" = ["{g.main_group}", {float(g.R)!r}, {float(g.Q)!r}]' for g in chosen]
    for first in MAIN_GROUPS:
        lines += ["", f'[interactions."{names[first]}"]  # a [K], b [-], c [1/K]']
        rows = ((names[second], DOUFIP2016[first][second]) for second in MAIN_GROUPS if second != first)
        lines += [f'"{name}" = [{", ".join(repr(float(v)) for v in row)}]' for name, row in rows]
    return "\n".join(lines) + "\n"


def texts_of(paths: Sequence[Path]) -> dict[Path, str]:
    """New text of each of the files, fitted together with all that the package carries."""
    given = {path: read_data(path, "fuel") for path in paths}
    library = Library(list(tables("fuels")), list(given.values()))
    names = {path: str(table.content["name"]) for path, table in given.items()}
    return {path: rewritten(read_text(path), library.fitted(name)) for path, name in names.items()}


def main(arguments: Sequence[str]) -> None:
    """Write [fitted] of the files named, or of all that the package carries."""
    paths = [Path(one) for one in arguments]
    if not paths:
        write_atomically(UNIFAC_FILE, unifac_text())
        air = DATA / "air.toml"
        write_atomically(air, rewritten(read_text(air), fit_air()))
        paths = sorted((DATA / "fuels").glob("*.toml"))
    for path, content in texts_of(paths).items():
        write_atomically(path, content)


if __name__ == "__main__":
    main(sys.argv[1:])
