"""The data file of a pure substance: its constants, curves and mixtures with water, each with source and status, and
the coefficients fitted to them.

A curve is either a column of values over temperature, or the method of a property library by which
`burnsim.substances.fitting.generate` fits it. The fits stand in the same file, under [fitted], with a mark of what they
were made from; where they are missing, columns of values are fitted as the file is read.
"""

import json
from collections.abc import Callable, Mapping
from hashlib import sha256
from math import exp
from typing import Any, NamedTuple

from burnsim.constants import ATMOSPHERE
from burnsim.errors import InputError
from burnsim.substances.data_file import Table
from burnsim.substances.substance import AqueousPair, Azeotrope, Fire, Henry, InWater, Pair, Substance

GENERATE = "burnsim.substances.fitting.generate"
KEYS = ("kind", "name", "other_names", "note", "cas", "atoms", "unifac", "flame_gas", "constants", "flammability",
        "curves", "in_water", "fitted")  # fmt: skip


class Curve(NamedTuple):
    """How a file may give one curve: units per mole and per kilogram, range, and the fewest points that say enough."""

    unit: str
    low: float
    high: float
    fewest: int
    by_mass: str | None = None


CURVES: Mapping[str, Curve] = {
    "vapour_pressure": Curve("Pa", 1e-2, 1e8, 3),
    "density": Curve("kg/m3", 300.0, 3000.0, 1),
    "liquid_heat_capacity": Curve("J/mol/K", 30.0, 2000.0, 1, "J/kg/K"),
    "latent_heat": Curve("J/mol", 5e3, 2e5, 2, "J/kg"),
    "surface_tension": Curve("N/m", 1e-3, 0.2, 1),
    "viscosity": Curve("Pa s", 1e-5, 1.0, 2),
    "gas_heat_capacity": Curve("J/mol/K", 20.0, 2000.0, 1, "J/kg/K"),
    "vapour_viscosity": Curve("Pa s", 1e-6, 1e-4, 1),
    "vapour_conductivity": Curve("W/m/K", 1e-3, 0.5, 1),
}
"""Curves that every file has. `gas_heat_capacity` is that of the ideal gas."""

FITTED: Mapping[str, int] = {
    "ln_vapour_pressure": 4,
    "liquid_heat": 2,
    "vapour_heat": 3,
    "gas_heat_capacity": 3,
    "molar_volume": 3,
    "ln_viscosity": 3,
    "surface_tension": 2,
    "vapour_viscosity": 2,
    "vapour_conductivity": 2,
}
"""Fitted rows of `Substance`, and how many coefficients each has."""

WATER_MOLAR_MASS = 18.01528e-3
"""Of the water in an azeotrope [kg/mol]; IUPAC atomic weights."""

BOILS_WITHIN = 1.0
"""How far the fitted curve's boiling point may be from the stated one [K]."""


class Constants(NamedTuple):
    """The constants of a file [SI]; of the diffusion volume [cm3/mol]."""

    molar_mass: float
    critical_temperature: float
    critical_pressure: float
    boiling_point: float
    density_20: float | None
    diffusion_volume: float | None
    formation_enthalpy: float | None


def substance_from(table: Table, carried: Mapping[str, Substance] | None = None) -> Substance:
    """Make the record of a substance from its file's table.

    `carried` are those that the package has, for a file of the user's own, of which the record keeps all it says; none
    for a file of the package.
    """
    table.text("kind", 'write kind = "fuel"', among=("fuel",))
    table.refuse_unknown(KEYS)
    name = table.text("name", "give the name by which recipes call it")
    atoms = read_atoms(table)
    constants = read_constants(table)
    fire = _fire(table) if atoms[0] > 0 else None
    gas = table.text("flame_gas", "give a species of nasa_gas.yaml") if "flame_gas" in table.content else None
    if gas is None and constants.formation_enthalpy is None:
        raise InputError(
            table.field("flame_gas"), None, "is missing, and so is constants.formation_enthalpy", "give one of them"
        )
    fits = _fits(table)
    aqueous, wilson = _mixtures(table, constants, carried or {})
    return Substance(
        name=" ".join(name.lower().split()),
        molar_mass=constants.molar_mass,
        critical_temperature=constants.critical_temperature,
        critical_pressure=constants.critical_pressure,
        atoms=atoms,
        groups=tuple(read_groups(table).items()),
        flame_gas=gas,
        formation_enthalpy=constants.formation_enthalpy,
        fire=fire,
        in_water=aqueous,
        dilute=read_dilute(table),
        azeotrope=read_azeotrope(table),
        wilson=wilson,
        data="" if carried is None else json.dumps(table.content, ensure_ascii=False, default=str),
        **fits,
    )


def fingerprint(table: Table) -> str:
    """Short hash of all that fits are made from: the file without its [fitted]."""
    content = {key: value for key, value in table.content.items() if key != "fitted"}
    return sha256(repr(sorted(content.items())).encode()).hexdigest()[:16]


def read_constants(table: Table) -> Constants:
    """Constants of a file."""
    part = table.sub_table("constants", "give molar mass, critical point and boiling point")
    part.refuse_unknown(Constants._fields)

    def may(key: str, unit: str, low: float, high: float) -> float | None:
        return part.number(key, unit, low, high).value if key in part.content else None

    return Constants(
        part.number("molar_mass", "kg/mol", 0.01, 0.3).value,
        part.number("critical_temperature", "K", 300.0, 1000.0).value,
        part.number("critical_pressure", "Pa", 1e6, 3e7).value,
        part.number("boiling_point", "K", 290.0, 480.0).value,
        may("density_20", "kg/m3", 300.0, 3000.0),
        may("diffusion_volume", "-", 5.0, 500.0),
        may("formation_enthalpy", "J/mol", -2e6, 1e6),
    )


def read_groups(table: Table) -> dict[str, int]:
    """UNIFAC groups of a file; none if it gives none."""
    part = table.find_table("unifac")
    if part is None:
        return {}
    found = {name: part.whole_number(name, 1, 40) for name in part.content}
    if "fitted" not in table.content:  # else the fits have known them already
        from burnsim.substances.fitting.unifac import groups  # which loads NumPy

        part.refuse_unknown(tuple(groups()))
    return found


def read_atoms(table: Table) -> tuple[int, int, int]:
    part = table.sub_table("atoms", "write atoms = { C = 2, H = 6, O = 1 }")
    part.refuse_unknown(("C", "H", "O"))
    return part.whole_number("C", 0, 30), part.whole_number("H", 0, 80), part.whole_number("O", 0, 20)


def _fire(table: Table) -> Fire:
    part = table.sub_table("flammability", "give limits, flash point, burning velocity and radiant share")
    part.refuse_unknown(Fire._fields)
    radiant = part.number("radiant_share", "-", 0.0, 0.6, "low", "high").value
    bounds = part.sub_table("radiant_share", "give it")
    low, high = bounds.bare_number("low", 0.0, radiant), bounds.bare_number("high", radiant, 0.6)
    lower = part.number("lower_limit", "-", 1e-3, 0.3).value
    return Fire(
        lower,
        part.number("upper_limit", "-", lower, 1.0).value,
        part.number("flash_point", "K", 200.0, 400.0).value,
        part.number("burning_velocity", "m/s", 0.05, 3.5).value,
        (radiant, low, high),
    )


def _check_boiling_point(table: Table, stated: float, curve: tuple[float, ...]) -> None:
    """Refuse vapour pressures that do not belong to the boiling point."""
    low, high = 200.0, 600.0
    while high - low > 1e-6:
        T = 0.5 * (low + high)
        pressure = exp(sum(c * (1000.0 / T) ** k for k, c in enumerate(curve)))
        low, high = (T, high) if pressure < ATMOSPHERE else (low, T)
    if abs(low - stated) > BOILS_WITHIN:
        where = f"is not where the vapour pressures reach one atmosphere, {low:.2f} K"
        problem = f"{where}; allowed within {BOILS_WITHIN:g} K"
        raise InputError(f"{table.file}: constants.boiling_point", stated, problem, "check both, and their units")


# curves


def _fits(table: Table) -> dict[str, Any]:
    """Coefficients as the file holds them, or fitted to its columns."""
    part = table.find_table("fitted")
    if part is None:
        return fit_points(table, read_points)
    part.refuse_unknown(("of", *FITTED, "diffusivity", "in_water", "wilson"))
    if part.text("of", f"run {GENERATE}") != fingerprint(table):
        problem = "is not the mark of this file: the fits are of another edition of it"
        remedy = f"run python -m {GENERATE} {table.file}, or leave out [fitted]"
        raise InputError(part.field("of"), part.content["of"], problem, remedy)
    fits: dict[str, Any] = {key: part.coefficients(key, size) for key, size in FITTED.items()}
    return fits | {"diffusivity": part.bare_number("diffusivity", 1e-7, 1e-3)}


def fit_points(table: Table, points: Callable[[Table, str], tuple[Any, Any]]) -> dict[str, Any]:
    """Coefficients fitted to the points of every curve of a file, as `read_points` gives those of its columns."""
    from burnsim.substances.fitting.curves import DIFFUSION_VOLUMES, fit_curves

    constants = read_constants(table)
    volume = constants.diffusion_volume
    if volume is None:
        volume = sum(n * v for n, v in zip(read_atoms(table), DIFFUSION_VOLUMES, strict=True))
    samples = {key: points(table, key) for key in CURVES}
    samples["molar_volume"] = samples.pop("density")
    fits = fit_curves(samples, constants.molar_mass, volume, constants.density_20)
    _check_boiling_point(table, constants.boiling_point, fits["ln_vapour_pressure"])
    return fits


def read_points(table: Table, key: str) -> tuple[Any, Any]:
    """Temperatures and values of a curve's columns, in SI: heats per mole, density as volume per mole."""
    import numpy as np

    part = curve_table(table, key)
    if "method" in part.content:
        problem = "is a method of a property library, and the file has no [fitted] yet"
        remedy = f"run python -m {GENERATE} {table.file}, or give columns of temperature and value"
        raise InputError(part.field("method"), part.content["method"], problem, remedy)
    part.refuse_unknown(("temperature", "temperature_unit", "value", "unit", "source", "status"))
    part.source_and_status()
    kind, molar_mass = CURVES[key], read_constants(table).molar_mass
    T = part.column("temperature", "K", 150.0, 1500.0, units="temperature_unit")
    unit, scale = kind.unit, 1.0
    if kind.by_mass is not None and str(part.content.get("unit", "")).split("/")[1:2] == ["kg"]:
        unit, scale = kind.by_mass, molar_mass
    values = part.column("value", unit, kind.low / scale, kind.high / scale)
    if len(values) != len(T) or len(T) < kind.fewest or len(set(T)) != len(T):
        problem = f"is not one value for each of at least {kind.fewest} different temperatures"
        raise InputError(part.field("value"), list(values), problem, f"there are {len(T)} temperatures")
    made = scale * np.array(values)
    return np.array(T), molar_mass / made if key == "density" else made


def curve_table(table: Table, key: str) -> Table:
    """The table of one curve; every curve must be there, and no other."""
    curves = table.sub_table("curves", "give " + ", ".join(CURVES))
    curves.refuse_unknown((*CURVES, "library"))
    return curves.sub_table(key, "give columns of temperature and value, with unit, source and status")


# mixtures


def _mixtures(
    table: Table, constants: Constants, carried: Mapping[str, Substance]
) -> tuple[AqueousPair | None, tuple[tuple[str, Pair], ...]]:
    """What mixing with water does, and those of Wilson's pairs that stand in the file."""
    water, wilson = (table.find_table("fitted", key) for key in ("in_water", "wilson"))
    pairs: list[tuple[str, Pair]] = []
    if wilson is not None:
        for other in wilson.content:
            a, b, c, d = wilson.coefficients(other, 4)
            pairs.append((other, (a, b, c, d)))
    if water is None:
        return _aqueous_pair(table, constants, carried), tuple(pairs)
    water.refuse_unknown(AqueousPair._fields)
    v0, v1, v2, v3 = water.coefficients("excess_volume", 4)
    g0, g1, g2, g3 = water.coefficients("excess_ln_viscosity", 4)
    fade = water.bare_number("viscosity_fade", -10.0, 10.0)
    a, b = water.coefficients("surface_shape", 2)
    return AqueousPair((v0, v1, v2, v3), (g0, g1, g2, g3), fade, (a, b)), tuple(pairs)


def _aqueous_pair(table: Table, constants: Constants, carried: Mapping[str, Substance]) -> AqueousPair | None:
    """Take it from the like substance that the file names, or fit it to the file's data; None without either."""
    part = table.find_table("in_water")
    if part is None:
        return None
    if "like" in part.content:
        part.refuse_unknown(("like", "dilute", "azeotrope", "source", "status"))
        part.source_and_status()
        others = {name: known.in_water for name, known in carried.items() if known.in_water is not None}
        return others[part.text("like", "name a fuel that the package carries", among=tuple(others))]
    from burnsim.substances.fitting.curves import fit_in_water

    usual = carried["ethanol"].in_water
    fade = None if usual is None else usual.viscosity_fade
    return fit_in_water(read_in_water(part), constants.molar_mass, carried["water"].molar_mass, fade)


def read_dilute(table: Table) -> Henry | None:
    """Henry's law over water, if a file gives it."""
    part = table.find_table("in_water", "dilute")
    if part is None:
        return None
    part.refuse_unknown(("solubility", "slope", "unit", "source", "status"))
    part.text("unit", 'write unit = "mol/m3/Pa"', among=("mol/m3/Pa",))
    part.source_and_status()
    return Henry(part.bare_number("solubility", 1e-7, 1e4), part.bare_number("slope", 0.0, 2e4))


def read_azeotrope(table: Table) -> Azeotrope | None:
    """Azeotrope with water, if a file gives it."""
    part = table.find_table("in_water", "azeotrope")
    if part is None:
        return None
    part.refuse_unknown(("mass_percent", "temperature", "temperature_unit", "source", "status"))
    part.source_and_status()
    share = part.bare_number("mass_percent", 1.0, 99.9) / 100.0
    one = part._replace(content={**part.content, "temperature": [part.required("temperature")]})
    (T,) = one.column("temperature", "K", 290.0, 480.0, units="temperature_unit")
    organic = share / read_constants(table).molar_mass
    return Azeotrope(organic / (organic + (1.0 - share) / WATER_MOLAR_MASS), T)


def read_in_water(part: Table) -> InWater:
    """Data of the mixtures with water."""
    import numpy as np

    part.refuse_unknown(("density", "viscosity", "surface_tension", "dilute", "azeotrope"))
    tables = {}
    for key in ("density", "viscosity", "surface_tension"):
        one = part.sub_table(key, "give mass_percent and value, from 0 to 100 mass per cent of the organic")
        one.refuse_unknown(("mass_percent", "value", "polynomial", "temperature", "temperature_unit", "unit", "source",
                             "status"))  # fmt: skip
        one.source_and_status()
        tables[key] = one
    density = tables["density"]
    if "polynomial" in density.content:
        powers = density.column("polynomial", "kg/m3", -1e7, 1e7)
        w = np.concatenate([[0.0], np.linspace(0.02, 0.98, 49), [1.0]])
        dense = w, sum(c * w**k for k, c in enumerate(powers))
    else:
        dense = _fractions(density), np.array(density.column("value", "kg/m3", 300.0, 3000.0))
    viscous = tables["viscosity"]
    temperatures = viscous.column("temperature", "K", 250.0, 400.0, units="temperature_unit")
    rows = viscous.required("value", "give one row of viscosities for each temperature")
    if not isinstance(rows, list) or len(rows) != len(temperatures):
        raise InputError(viscous.field("value"), rows, "is not one row for each temperature", "write [[...], [...]]")
    parts = [viscous._replace(content={**viscous.content, "value": row}) for row in rows]
    sets = {T: np.array(row.column("value", "Pa s", 1e-5, 1.0)) for T, row in zip(temperatures, parts, strict=True)}
    surface = tables["surface_tension"]
    tension = np.array(surface.column("value", "N/m", 1e-3, 0.2))
    made = InWater(dense, (_fractions(viscous), sets), (_fractions(surface), tension))
    for key, w, values in (("density", *made.density), ("surface_tension", *made.surface_tension)):
        _check_span(tables[key], w, values)
    for values in sets.values():
        _check_span(viscous, made.viscosity[0], values)
    return made


def _fractions(table: Table) -> Any:
    import numpy as np

    return np.array(table.column("mass_percent", "-", 0.0, 100.0, units="")) / 100.0


def _check_span(table: Table, w: Any, values: Any) -> None:
    if len(w) != len(values) or len(w) < 6 or w[0] != 0.0 or w[-1] != 1.0:
        problem = f"is not one share for each of {len(values)} values, from 0 to 100 per cent, six or more"
        remedy = "begin with pure water and end with the pure organic"
        raise InputError(table.field("mass_percent"), list(100.0 * w), problem, remedy)
