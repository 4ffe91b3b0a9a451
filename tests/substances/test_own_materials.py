"""Materials of one's own: 1-propanol from what a property library carries, a scratch fuel, blends, a metal, a wick."""

import json
import pickle
import re
import subprocess
import sys
from pathlib import Path

import pytest

import burnsim
from burnsim.errors import InputError
from burnsim.substances.blend import blend, composition, density, find_strength, fuel_record, molar_volume, watered
from burnsim.substances.catalogue import SUBSTANCES
from burnsim.substances.data_file import DATA
from burnsim.substances.equilibrium import bubble_temperature, vapour_composition, vapour_pressure
from burnsim.substances.fuel import viscosity
from burnsim.substances.materials import read_wick_material

pytestmark = pytest.mark.filterwarnings(  # thermo leaves a file open when it meets CoolProp
    "ignore::DeprecationWarning",
    "ignore::SyntaxWarning",
    "ignore::ResourceWarning",
    "ignore::pytest.PytestUnraisableExceptionWarning",
)
PROPANOL = "71-23-8"
CUP = {"kind": "open cup", "outer_diameter": "60 mm", "height": "30 mm"}


def number(value: float, unit: str = "") -> str:
    kind = f', unit = "{unit}"' if unit else ""
    return f'{{ value = {value!r}{kind}, source = "chemicals", status = "library" }}'


def method(name: str) -> str:
    return f'{{ method = "{name}", source = "thermo", status = "library" }}'


def propanol_text() -> str:
    """The data file that a user would write for 1-propanol who has the property library."""
    import chemicals

    iec = "IEC 60079-20-1 (2010)"
    return f"""
kind = "fuel"
name = "1-propanol"
cas = "{PROPANOL}"
atoms = {{ C = 3, H = 8, O = 1 }}
unifac = {{ CH3 = 1, CH2 = 2, "OH(P)" = 1 }}
flame_gas = "C3H8O,1propanol"

[constants]
molar_mass = {number(chemicals.MW(PROPANOL), "g/mol")}
critical_temperature = {number(chemicals.Tc(PROPANOL), "K")}
critical_pressure = {number(chemicals.Pc(PROPANOL), "Pa")}
boiling_point = {number(chemicals.Tb(PROPANOL), "K")}

[flammability]
lower_limit = {number(chemicals.LFL(CASRN=PROPANOL, method=iec))}
upper_limit = {number(chemicals.UFL(CASRN=PROPANOL, method=iec))}
flash_point = {number(chemicals.T_flash(PROPANOL, iec), "K")}
burning_velocity = {{ value = 0.4, unit = "m/s", source = "as of the other alcohols", status = "estimated" }}
radiant_share = {{ value = 0.15, low = 0.08, high = 0.25, source = "as of 2-propanol", status = "estimated" }}

[curves]
vapour_pressure = {method("WAGNER_POLING")}
density = {method("VDI_PPDS")}
liquid_heat_capacity = {method("ZABRANSKY_SPLINE_C")}
latent_heat = {method("VDI_PPDS")}
surface_tension = {method("VDI_PPDS")}
viscosity = {method("DIPPR_PERRY_8E")}
gas_heat_capacity = {method("TRCIG")}
vapour_viscosity = {method("DIPPR_PERRY_8E")}
vapour_conductivity = {method("DIPPR_PERRY_8E")}

[in_water]
like = "2-propanol"
source = "volume and viscosity of its isomer in water"
status = "estimated"
"""


def columns(temperatures: list[float], values: list[float], unit: str) -> str:
    return (
        f'{{ temperature = {temperatures}, temperature_unit = "degC", value = {values}, unit = "{unit}", '
        'source = "made up", status = "estimated" }'
    )


def made(value: float, unit: str = "") -> str:
    return number(value, unit).replace("chemicals", "made up").replace("library", "estimated")


SCRATCH = f"""
kind = "fuel"
name = "scratch spirit"
atoms = {{ C = 2, H = 6, O = 1 }}
unifac = {{ CH3 = 1, CH2 = 1, "OH(P)" = 1 }}

[constants]
molar_mass = {made(46.07, "g/mol")}
critical_temperature = {made(515.0, "K")}
critical_pressure = {made(63.0, "bar")}
boiling_point = {made(78.3, "degC")}
formation_enthalpy = {made(-235.0, "kJ/mol")}

[flammability]
lower_limit = {made(3.3, "%")}
upper_limit = {made(19.0, "%")}
flash_point = {made(13.0, "degC")}
burning_velocity = {made(41.0, "cm/s")}
radiant_share = {{ value = 0.13, low = 0.06, high = 0.20, source = "made up", status = "estimated" }}

[curves]
vapour_pressure = {columns([0.0, 20.0, 40.0, 60.0, 78.3], [1.6, 5.85, 17.9, 47.0, 101.325], "kPa")}
density = {columns([20.0, 60.0], [0.789, 0.754], "g/cm3")}
liquid_heat_capacity = {columns([20.0, 60.0], [2.42, 2.85], "kJ/kg/K")}
latent_heat = {columns([20.0, 50.0, 78.3], [925.0, 890.0, 848.0], "kJ/kg")}
surface_tension = {columns([20.0, 60.0], [22.4, 18.9], "mN/m")}
viscosity = {columns([20.0, 40.0, 60.0], [1.19, 0.83, 0.59], "mPa s")}
gas_heat_capacity = {columns([27.0, 227.0, 427.0], [65.5, 95.0, 118.0], "J/mol/K")}
vapour_viscosity = {columns([25.0, 100.0], [8.9, 11.0], "uPa s")}
vapour_conductivity = {columns([25.0, 100.0], [15.0, 22.0], "mW/m/K")}
"""

BRONZE = f"""
kind = "metal"
name = "bronze"
density = {made(8800.0, "kg/m3")}
conductivity = {made(54.0, "W/m/K")}
heat_capacity = {made(0.42, "kJ/kg/K")}
emissivity = {made(0.25)}
melting_point = {made(880.0, "degC")}
"""

FELT = f"""
kind = "wick"
name = "felt"
porosity = {made(85.0, "%")}
pore_radius = {made(40.0, "um")}
"""


def blend_text(name: str, by: str, parts: dict[str, float]) -> str:
    rows = "\n".join(f'"{key}" = {value}' for key, value in parts.items())
    return f'kind = "blend"\nname = "{name}"\nby = "{by}"\nsource = "label"\nstatus = "measured"\n\n[parts]\n{rows}\n'


def keep(folder: Path, name: str, text: str) -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


# 1-propanol


@pytest.fixture(scope="module")
def propanol(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The file of 1-propanol, fitted."""
    pytest.importorskip("thermo")
    import warnings

    path = keep(tmp_path_factory.mktemp("own"), "1-propanol.toml", propanol_text())
    with pytest.raises(InputError, match=r"1-propanol.toml: curves.vapour_pressure.method.*generate"):
        blend(path)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        from burnsim.substances.fitting.generate import main

        main([str(path)])
    return path


def test_propanol_has_the_properties_that_other_sources_give(propanol: Path) -> None:
    """Perry's DIPPR equation and the VDI tables as carried by thermo; the file is fitted to Wagner's and VDI's."""
    import thermo

    (one,) = blend(propanol).substances
    other = thermo.VaporPressure(CASRN=PROPANOL)
    for T in (280.0, 310.0, 340.0, 370.0):
        assert vapour_pressure(one.ln_vapour_pressure, T) == pytest.approx(
            other.calculate(T, "DIPPR_PERRY_8E"), rel=0.02
        )
    assert bubble_temperature((1.0,), 101325.0, fuel_record(blend(propanol))) == pytest.approx(370.3, abs=0.3)
    assert density(blend(propanol)) == pytest.approx(803.5, rel=3e-3)  # CRC Handbook, 20 degC (from memory)
    assert 1e3 * viscosity(298.15, fuel_record(blend(propanol))) == pytest.approx(1.945, rel=0.05)  # CRC (from memory)


def test_propanol_burns_with_the_heat_of_its_formation(propanol: Path) -> None:
    import chemicals

    from burnsim.closures.combustion import combustion_record

    fuel = blend(propanol)
    burnt = 3 * chemicals.Hfg("124-38-9", "CRC") + 4 * chemicals.Hfg("7732-18-5", "CRC")
    formed = chemicals.Hfl(PROPANOL, "CRC") - burnt
    assert combustion_record(fuel).heating_value[0] == pytest.approx(formed, rel=0.005)
    assert 2200.0 < combustion_record(fuel).flame_temperature[0] < 2300.0


def test_propanol_and_water_have_their_azeotrope(propanol: Path) -> None:
    """71.7 mass per cent of 1-propanol at 87.7 degC; Lange's Handbook (from memory, unverified)."""
    fuel = blend({str(propanol): 0.717, "water": 0.283}, "mass")
    rec, x = fuel_record(fuel), fuel.mole_fractions
    T = bubble_temperature(x, 101325.0, rec)
    assert pytest.approx(87.7, abs=0.7) == T - 273.15
    assert vapour_composition(x, T, rec)[0] == pytest.approx(x[0], abs=0.03)


def test_propanol_holds_its_pairs_with_all_that_are_carried(propanol: Path) -> None:
    (one,) = blend(propanol).substances
    assert {name for name, _ in one.wilson} == set(SUBSTANCES)
    assert all("1-propanol" not in dict(other.wilson) for other in SUBSTANCES.values())


@pytest.mark.parametrize("parts", [{"": 1.0}, {"": 0.5, "ethanol 95": 0.5}])
def test_propanol_burns_in_a_cup(propanol: Path, parts: dict[str, float]) -> None:
    fuel = {key or str(propanol): share for key, share in parts.items()}
    setup = burnsim.Setup.from_dict({"burner": CUP, "charge": {"fuel": fuel, "volume": "5 ml"}})
    burn = burnsim.burn(setup)
    assert burn.milestones.burnout.time is not None
    assert abs(burn.mass.residual) < 1e-6
    assert abs(burn.energy.residual) < 1e-6
    assert burnsim.Setup.from_dict(setup.to_dict()) == setup


# a scratch fuel


def test_a_scratch_fuel_takes_two_files_and_burns(tmp_path: Path) -> None:
    """Its data file and this test: put beside those that the package carries, it is one of them."""
    data = tmp_path / "data"
    subprocess.run(["cp", "-r", str(DATA), str(data)], check=True)
    before = {path.relative_to(data) for path in data.rglob("*.toml")}
    keep(data / "fuels", "scratch.toml", SCRATCH)
    code = f"""
from pathlib import Path
import burnsim.substances.data_file as files
files.DATA = Path({str(data)!r})
import burnsim
from burnsim.substances.recipe import READY
assert "scratch spirit" in READY
for fuel in ("scratch spirit", "scratch spirit 70 %, methanol 30 %"):
    setup = burnsim.Setup.from_dict({{"burner": {CUP!r}, "charge": {{"fuel": fuel, "volume": "3 ml"}}}})
    burn = burnsim.burn(setup)
    print(burn.milestones.burnout.time, abs(burn.mass.residual) < 1e-6, abs(burn.energy.residual) < 1e-6)
"""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    for line in done.stdout.splitlines():
        time, mass, energy = line.split()
        assert (float(time) > 30.0, mass, energy) == (True, "True", "True")
    after = {path.relative_to(data) for path in data.rglob("*.toml")}
    touched = {str(path) for path in after - before} | {Path(__file__).name}
    assert len(touched) == 2


def test_columns_are_fitted_as_the_file_is_read(tmp_path: Path) -> None:
    (one,) = blend(keep(tmp_path, "scratch.toml", SCRATCH)).substances
    assert vapour_pressure(one.ln_vapour_pressure, 293.15) == pytest.approx(5850.0, rel=0.02)
    assert one.molar_mass / one.molar_volume[0] == pytest.approx(785.0, rel=2e-3)  # between 789 and 754, at 25 degC
    assert one.liquid_heat[0] == pytest.approx(46.07e-3 * 2474.0, rel=1e-3)
    # 0.01 atm/sqrt form of Fuller, Schettler and Giddings: that of ethanol, which has the same atoms
    assert one.diffusivity == pytest.approx(SUBSTANCES["ethanol"].diffusivity, rel=1e-3)


def test_it_says_nothing_of_water_until_its_file_does(tmp_path: Path) -> None:
    path = keep(tmp_path, "scratch.toml", SCRATCH)
    with pytest.raises(InputError, match=r"scratch spirit' says nothing of its mixtures with water"):
        fuel_record(blend({str(path): 0.9, "water": 0.1}, "mass"))
    like = SCRATCH + '\n[in_water]\nlike = "ethanol"\nsource = "x"\nstatus = "estimated"\n'
    wet = blend({str(keep(tmp_path, "wet.toml", like)): 0.9, "water": 0.1}, "mass")
    assert density(wet) == pytest.approx(density(blend({"ethanol": 0.9, "water": 0.1}, "mass")), rel=2e-3)
    assert find_strength(wet).contraction > 0.0
    assert watered(wet, 0.3).own == wet.own


WRONG = [
    ('"kJ/mol"', '"kcal/mol"', "constants.formation_enthalpy.unit = 'kcal/mol'", "allowed: J/mol, kJ/mol"),
    ("molar_mass", "molar_mas", "constants.molar_mas", "did you mean 'molar_mass'?"),
    ("value = 46.07,", "value = 46070.0,", "constants.molar_mass.value = 46070", "allowed from 0.01 to 0.3 kg/mol"),
    ("value = 46.07,", "value = 4607.0,", "= 4607.0 is 4.607 kg/mol, which is out of range", "allowed from 0.01"),
    ("value = 46.07,", 'value = "46 g",', "constants.molar_mass.value = '46 g'", "is not a number"),
    ('unit = "bar", ', "", "constants.critical_pressure.unit is missing", "write one of Pa"),
    ('status = "estimated"', 'status = "sure"', "status = 'sure'", "allowed: published, library, measured"),
    ('source = "made up", ', 'source = "", ', "source = ''", "say where the number comes from"),
    ("value = 78.3,", "value = 88.3,", "constants.boiling_point", "one atmosphere"),
    (
        "molar_mass =",
        'molar_mass = "46 g/mol" #',
        "'46 g/mol' lacks its unit, source and status",
        "{ value = ..., unit =",
    ),
    ("{ C = 2, H = 6, O = 1 }", "{ C = 2, H = 6, N = 1 }", "atoms.N", "allowed: C, H, O"),
    ("CH3 = 1, CH2", "CH3 = 1, CH5", "unifac.CH5", "did you mean"),
    ('kind = "fuel"', 'kind = "fule"', "kind = 'fule'", "did you mean 'fuel'?"),
    ("[20.0, 60.0], temp", "[20.0], temp", "curves.density.value", "is not one value for each"),
    ("low = 0.06", "low = 0.5", "flammability.radiant_share.low = 0.5", "allowed from 0 to 0.13"),
    ("formation_enthalpy", "# formation_enthalpy", "flame_gas is missing", "give one of them"),
    ("vapour_viscosity =", "# vapour_viscosity =", "curves.vapour_viscosity is missing", "give columns"),
]


@pytest.mark.parametrize(("old", "new", "what", "remedy"), WRONG, ids=[row[2] for row in WRONG])
def test_an_error_names_file_field_value_range_and_remedy(
    tmp_path: Path, old: str, new: str, what: str, remedy: str
) -> None:
    assert old in SCRATCH
    path = keep(tmp_path, "scratch.toml", SCRATCH.replace(old, new, 1))
    with pytest.raises(InputError) as caught:
        blend(path)
    sentence = str(caught.value)
    assert sentence.startswith("scratch.toml: ")
    assert what in sentence
    assert remedy in sentence


def test_fits_of_another_edition_are_refused(propanol: Path, tmp_path: Path) -> None:
    text = propanol.read_text(encoding="utf-8").replace("as of 2-propanol", "as of ethanol")
    with pytest.raises(InputError, match=r"edited.toml: fitted.of .* another edition"):
        blend(keep(tmp_path, "edited.toml", text))


# blends


def test_a_blend_by_mass_volume_or_mole(tmp_path: Path) -> None:
    for by in ("mass", "volume", "mole"):
        fuel = blend(keep(tmp_path, f"{by}.toml", blend_text("winter spirit", by, {"ethanol": 0.8, "methanol": 0.2})))
        assert fuel.name == "winter spirit"
        assert composition(fuel, by) == pytest.approx({"ethanol": 0.8, "methanol": 0.2})  # type: ignore[arg-type]


def test_a_blend_of_blends_mixes_finished_liquids(tmp_path: Path) -> None:
    """Half a litre of "2-propanol 70", which has shrunk, holds more than half of what went into a litre of parts."""
    keep(tmp_path, "base.toml", blend_text("base", "mass", {"ethanol": 0.9, "water": 0.1}))
    fuel = blend(keep(tmp_path, "top.toml", blend_text("top", "volume", {"base.toml": 0.5, "2-propanol 70": 0.5})))
    base, rubbing = blend(tmp_path / "base.toml"), blend("2-propanol 70")
    amounts: dict[str, float] = {}
    for one in (base, rubbing):
        for name, x in zip(one.components, one.mole_fractions, strict=True):
            amounts[name] = amounts.get(name, 0.0) + x / molar_volume(one)
    total = sum(amounts.values())
    assert dict(zip(fuel.components, fuel.mole_fractions, strict=True)) == pytest.approx(
        {name: n / total for name, n in amounts.items()}
    )
    assert fuel.components[-1] == "water"
    by_mass = blend({"methylated spirit": 0.5, "water": 0.5}, "mass")
    assert composition(by_mass, "mass")["ethanol"] == pytest.approx(
        0.5 * composition(blend("methylated spirit"), "mass")["ethanol"]
    )


def test_blends_that_name_each_other_are_refused(tmp_path: Path) -> None:
    keep(tmp_path, "a.toml", blend_text("a", "mass", {"b.toml": 1.0}))
    path = keep(tmp_path, "b.toml", blend_text("b", "mass", {"a.toml": 1.0}))
    with pytest.raises(InputError, match="name each other"):
        blend(path)


def test_an_error_in_a_blends_file_names_it(tmp_path: Path) -> None:
    path = keep(tmp_path, "odd.toml", blend_text("odd", "mass", {"ethanol": 0.8, "watr": 0.2}))
    with pytest.raises(InputError, match=r"odd.toml: fuel component = 'watr' .* 'water'"):
        blend(path)
    torn = keep(
        tmp_path, "torn.toml", blend_text("torn", "mass", {"ethanol": 1.0}).replace("[parts]", "[parts]\nw5.toml = 0.2")
    )
    with pytest.raises(InputError, match=r"torn.toml: parts.w5 = .* put the path in quotes: \"w5.toml\""):
        blend(torn)
    path = keep(tmp_path, "short.toml", blend_text("short", "mass", {"ethanol": 0.8}))
    with pytest.raises(InputError, match=r"short.toml: fuel fractions = 0.8 is the sum"):
        blend(path)


@pytest.mark.parametrize(
    ("name", "word"),
    [
        ("denatured alcohol", "label"),
        ("denatured", "label"),
        ("70% isopropyl", "2-propanol 70"),
        ("isopropyl 91", "2-propanol 91"),
        ("denatured alcohol 90.5 %", "label"),
        ("Surgical  Spirit", "2-propanol 70"),
        ("rubbing alcohol", "label"),
        ("wood alcohol", "methanol is toxic"),
        ("white spirit", "never burn it"),
        ("kerosene", "never burn it"),
    ],
)
def test_a_name_that_says_too_little_gets_a_hint(name: str, word: str) -> None:
    for spec in (name, {name: 1.0}):
        with pytest.raises(InputError, match="does not say what is in it") as caught:
            blend(spec)
        assert word in caught.value.remedy


@pytest.mark.parametrize(
    ("given", "meant"),
    [
        ("70% isopropyl alcohol", "isopropyl alcohol 70 %"),
        ("95 ethanol", "ethanol 95 %"),
        ("60% ethanol 95", "ethanol 95 60 %"),
    ],
)
def test_a_per_cent_before_the_name_is_kept_in_what_is_suggested(given: str, meant: str) -> None:
    """Without it, a watered spirit would burn as a pure one."""
    with pytest.raises(InputError) as caught:
        blend(given)
    assert caught.value.remedy == f"write per cents behind it: {meant!r}"
    assert blend(meant).components[-1] == "water"


# metal, wick, folder, designs


def test_the_guides_examples_are_read(tmp_path: Path) -> None:
    guide = (Path(__file__).parents[2] / "examples" / "README.md").read_text(encoding="utf-8")
    for k, text in enumerate(re.findall(r"```\n(kind = .*?)```", guide, flags=re.DOTALL)):
        keep(tmp_path, f"{k}.toml", text)
    found = burnsim.materials.read_materials(tmp_path)
    assert list(found) == ["winter spirit", "bronze"]
    assert found["winter spirit"].components == ("methanol", "ethanol", "water")  # type: ignore[union-attr]


def design(fuel: str, metal: str, wick: str) -> str:
    return f"""
[burner]
kind = "double wall"
outer_diameter = "62 mm"
height = "45 mm"
gallery_gap = "4.5 mm"
metal = "{metal}"
jets = {{ count = 26, diameter = "1 mm", height = "39 mm" }}
feed_slots = {{}}
wick = {{ material = "{wick}", height = "10 mm" }}

[charge]
fuel = "{fuel}"
volume = "12 ml"
primer = "2 ml"

[pot]
diameter = "14 cm"
height = "9 cm"
water = "0.2 l"
water_temperature = "15 degC"
metal = "{metal}"
rest = "bumps"
gap = "1.5 mm"
"""


@pytest.fixture
def shed(tmp_path: Path) -> Path:
    """A folder of materials, and a design beside it."""
    folder = tmp_path / "shed"
    folder.mkdir()
    for name, text in (("bronze", BRONZE), ("felt", FELT), ("scratch", SCRATCH)):
        keep(folder, f"{name}.toml", text)
    keep(folder, "mix.toml", blend_text("mix", "volume", {"scratch.toml": 0.5, "ethanol": 0.5}))
    keep(tmp_path, "design.toml", design("shed/mix.toml", "shed/bronze.toml", "shed/felt.toml"))
    return tmp_path


def test_a_folder_of_materials(shed: Path) -> None:
    found = burnsim.materials.read_materials(shed / "shed")
    assert list(found) == ["bronze", "felt", "mix", "scratch spirit"]
    assert found["bronze"] == burnsim.materials.read_metal(shed / "shed" / "bronze.toml")
    assert found["felt"] == read_wick_material(shed / "shed" / "felt.toml")
    assert found["mix"].components == ("ethanol", "scratch spirit")  # type: ignore[union-attr]
    keep(shed / "shed", "again.toml", BRONZE)
    with pytest.raises(InputError, match="name of another file"):
        burnsim.materials.read_materials(shed / "shed")
    with pytest.raises(InputError, match="is not a folder"):
        burnsim.materials.read_materials(shed / "nowhere")


def test_a_folder_of_materials_may_hold_designs_too(shed: Path) -> None:
    keep(shed / "shed", "design.toml", (shed / "design.toml").read_text(encoding="utf-8"))
    assert list(burnsim.materials.read_materials(shed / "shed")) == ["bronze", "felt", "mix", "scratch spirit"]
    keep(shed / "shed", "notes.toml", 'name = "notes"')
    with pytest.raises(InputError, match=r"notes.toml: kind is missing: write one of fuel, .* in another folder"):
        burnsim.materials.read_materials(shed / "shed")


def test_a_design_names_materials_by_paths_from_its_folder(shed: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir("/")
    setup = burnsim.load(shed / "design.toml")
    assert f"{setup.burner.metal}" == "bronze"
    assert setup.burner.wick is not None
    assert (setup.burner.wick.porosity, setup.burner.wick.height) == (0.85, 0.01)
    assert setup.burner.wick.pore_radius == pytest.approx(40e-6)
    assert burnsim.Setup.from_dict(setup.to_dict()) == setup
    assert pickle.loads(pickle.dumps(setup)) == setup
    burn = burnsim.burn(setup)
    assert abs(burn.energy.residual) < 1e-6


def test_a_metal_counts_by_its_numbers(shed: Path) -> None:
    """The same numbers under another name burn the same; a poor conductor does not."""
    setup = burnsim.vary(burnsim.load(shed / "design.toml"), {"charge.fuel": "ethanol", "pot": None})
    copper = burnsim.materials.METALS["copper"]._replace(name="mine")
    times = {
        name: burnsim.burn(burnsim.vary(setup, {"burner.metal": metal})).milestones.burnout.time
        for name, metal in (("copper", "copper"), ("mine", copper), ("bronze", setup.burner.metal))
    }
    assert times["copper"] == times["mine"] != times["bronze"]


def test_a_sweep_sends_materials_to_its_workers(shed: Path) -> None:
    base = burnsim.load(shed / "design.toml")
    values = {"charge.volume": ["8 ml", "10 ml"], "burner.metal": [base.burner.metal, "copper"]}
    alone = burnsim.sweep(base, values, workers=1)
    spread = burnsim.sweep(base, values, workers=2)
    # as plain Python or as machine code, whichever is at hand: they differ in the last digits
    assert spread["burnout"].values == pytest.approx(alone["burnout"].values, rel=1e-6)


@pytest.mark.parametrize(
    ("old", "new", "sentence"),
    [
        ("shed/bronze.toml", "shed/brnze.toml", "burner.metal: file = "),
        ("shed/bronze.toml", "shed/felt.toml", "burner.metal: felt.toml: kind = 'wick'"),
        ("shed/mix.toml", "shed/bronze.toml", "charge.fuel: bronze.toml: kind = 'metal'"),
        ("shed/bronze.toml", "shed/mix.toml", "burner.metal: mix.toml: kind = 'blend'"),
        ("shed/felt.toml", "felt", "burner.wick.material = 'felt' is not the path of a data file"),
    ],
)
def test_a_designs_error_names_its_field_and_the_file(shed: Path, old: str, new: str, sentence: str) -> None:
    text = (shed / "design.toml").read_text(encoding="utf-8").replace(old, new)
    with pytest.raises(InputError) as caught:
        burnsim.load(keep(shed, "other.toml", text))
    assert str(caught.value).startswith(sentence)


@pytest.mark.parametrize("units", ["si", "us"])
def test_a_saved_design_needs_no_file_of_its_metal_and_wick(shed: Path, units: str) -> None:
    setup = burnsim.vary(burnsim.load(shed / "design.toml"), {"charge.fuel": "ethanol"})
    setup.save(shed / "saved.toml", units=units)
    for name in ("bronze", "felt"):
        (shed / "shed" / f"{name}.toml").unlink()
    again = burnsim.load(shed / "saved.toml")
    assert again == setup
    assert again.burner.metal.source == setup.burner.metal.source != ""  # type: ignore[union-attr]
    assert again.burner.wick == setup.burner.wick
    text = (shed / "saved.toml").read_text(encoding="utf-8")
    assert 'material = "felt"' in text
    assert 'pore_radius = "0.04 mm"' in text
    assert burnsim.Setup.from_dict(json.loads(json.dumps(setup.to_dict()))) == setup


def test_numbers_of_a_metal_that_make_no_sense_are_refused(shed: Path) -> None:
    table = burnsim.load(shed / "design.toml").to_dict()
    metal = table["burner"]["metal"]  # type: ignore[index, call-overload]
    for key, value, said in (
        ("density", 8.8, "burner.metal: density = 8.8"),
        ("densty", 1.0, "did you mean 'density'"),
    ):
        with pytest.raises(InputError, match=said):
            burnsim.vary(burnsim.load(shed / "design.toml"), {"burner.metal": {**metal, key: value}})


def test_a_wick_is_made_of_what_a_file_says(shed: Path) -> None:
    """By path or as it was read, in a constructor and by `vary`; what else is said of it counts."""
    setup = burnsim.vary(burnsim.load(shed / "design.toml"), {"charge.fuel": "ethanol", "burner.wick": {}})
    felt = shed / "shed" / "felt.toml"
    read = read_wick_material(felt)
    wanted = burnsim.Wick(porosity=0.85, pore_radius="40 um", material="felt")
    assert burnsim.Wick(material=str(felt)) == burnsim.Wick(material=read) == wanted
    for given in (str(felt), read):
        assert burnsim.vary(setup, {"burner.wick.material": given}).burner.wick == wanted
        thinner = burnsim.vary(setup, {"burner.wick.material": given, "burner.wick.porosity": 0.8}).burner.wick
        assert (thinner.porosity, thinner.pore_radius, thinner.material) == (0.8, 40e-6, "felt")
    with pytest.raises(InputError, match=r"burner.wick.material = 'felt' is not the path of a data file"):
        burnsim.vary(setup, {"burner.wick.material": "felt"})
    with pytest.raises(InputError, match=r"burner.wick.material: file = .*does not exist"):
        burnsim.Wick(material="flt.toml")


def test_what_is_kept_names_no_file(shed: Path) -> None:
    assert ".toml" not in repr(burnsim.load(shed / "design.toml").to_dict())
