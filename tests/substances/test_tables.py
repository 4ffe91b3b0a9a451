"""The shipped coefficients are what the generator makes, and the Wilson pairs follow UNIFAC."""

import math
import tomllib
from importlib.util import find_spec

import pytest

from burnsim.errors import InputError, ValidityWarning
from burnsim.io.text_file import read_text
from burnsim.substances import fuel_file
from burnsim.substances.blend import blend, fuel_record
from burnsim.substances.catalogue import SUBSTANCES
from burnsim.substances.data_file import DATA, read_data
from burnsim.substances.equilibrium import activity_coefficients, bubble_pressure, vapour_composition
from burnsim.substances.fitting import generate
from burnsim.substances.fuel import gas_heat_capacity
from burnsim.substances.substance import AqueousPair

# found, not loaded: that takes seconds in all processes that collect; thermo leaves a file open when it meets CoolProp
pytestmark = [
    pytest.mark.skipif(find_spec("thermo") is None or find_spec("CoolProp") is None, reason="needs the libraries"),
    pytest.mark.filterwarnings(
        "ignore::DeprecationWarning", "ignore::SyntaxWarning", "ignore::ResourceWarning",
        "ignore::pytest.PytestUnraisableExceptionWarning",
    ),
]  # fmt: skip

ORGANICS = ("methanol", "ethanol", "acetone", "2-propanol")  # in the order in which a blend lists them
PAIRS = [(a, b) for i, a in enumerate((*ORGANICS, "water")) for b in (*ORGANICS, "water")[i + 1 :]]
TERNARIES = [
    ("methanol", "ethanol", "water"),
    ("ethanol", "2-propanol", "water"),
    ("methanol", "ethanol", "acetone"),
    ("ethanol", "acetone", "2-propanol"),
]
ACETONE_TERNARIES = [(alcohol, "acetone", "water") for alcohol in ("methanol", "ethanol", "2-propanol")]
# Wilson misses by 5.4 % in the watery corner of the first; acetone is worse
HARD_TERNARIES = [("methanol", "2-propanol", "water"), *ACETONE_TERNARIES]
SPREAD = [(0.8, 0.1, 0.1), (0.1, 0.8, 0.1), (0.1, 0.1, 0.8), (0.34, 0.33, 0.33), (0.5, 0.1, 0.4), (0.25, 0.45, 0.3)]


def unifac(T, x, names):
    """Dortmund UNIFAC by the library, which ours is compared with below."""
    from thermo.unifac import DOUFIP2016, DOUFSG, UNIFAC

    number = {group.group: k for k, group in DOUFSG.items()}
    parts = [{number[group]: count for group, count in SUBSTANCES[n].groups} for n in names]
    model = UNIFAC.from_subgroups(T, list(x), parts, version=1, interaction_data=DOUFIP2016, subgroups=DOUFSG)
    return [math.log(gamma) for gamma in model.gammas()]


FITTED = (*fuel_file.FITTED, *AqueousPair._fields, *SUBSTANCES, "ln_conductivity", "heat_capacity")


def same(shipped, fresh):
    """Tables of the same keys, whose numbers agree."""
    assert list(shipped) == list(fresh)
    for key, value in shipped.items():
        if isinstance(value, dict):
            same(value, fresh[key])
        elif key in FITTED or isinstance(value, float):
            assert value == pytest.approx(fresh[key], rel=1e-4, abs=1e-12), key
        else:
            assert value == fresh[key], key


FILES = sorted((DATA / "fuels").glob("*.toml"))


def test_shipped_fits_are_what_the_generator_makes():
    for path, text in generate.texts_of(FILES).items():
        same(tomllib.loads(read_text(path)), tomllib.loads(text))


def test_shipped_fits_of_air_are_what_the_generator_makes():
    text = read_text(DATA / "air.toml")
    same(tomllib.loads(text), tomllib.loads(generate.rewritten(text, generate.fit_air())))


def test_shipped_groups_are_those_of_the_library():
    assert read_text(DATA / "unifac.toml") == generate.unifac_text()


@pytest.mark.parametrize("names", [("ethanol", "water"), ("methanol", "2-propanol", "water"), ("acetone", "ethanol")])
def test_our_unifac_is_that_of_the_library(names):
    from burnsim.substances.fitting.unifac import ln_activity

    x = [0.2, 0.5, 0.3][: len(names)]
    x = [v / sum(x) for v in x]
    ours = ln_activity([290.0, 350.0], [x, x], [dict(SUBSTANCES[n].groups) for n in names])
    for row, T in zip(ours, (290.0, 350.0), strict=True):
        assert list(row) == pytest.approx(unifac(T, x, names), rel=1e-9)


NASA = {"methanol": "CH3OH", "ethanol": "C2H5OH", "2-propanol": "C3H8O,2propanol", "water": "H2O"}


@pytest.mark.parametrize("name", NASA)
def test_gas_heat_capacity_follows_nasa(name):
    """McBride, Zehe and Gordon (2002), NASA/TP-2002-211556, as Cantera ships them; propanol's sources differ by 2 %."""
    cantera = pytest.importorskip("cantera")
    gas = next(s for s in cantera.Species.list_from_file("nasa_gas.yaml") if s.name == NASA[name]).thermo
    c = SUBSTANCES[name].gas_heat_capacity
    for T in range(300, 701, 25):
        assert gas_heat_capacity(c, T, T) == pytest.approx(
            1e-3 * gas.cp(T), rel=0.025 if name == "2-propanol" else 0.015
        )


def test_gas_heat_capacity_of_acetone_follows_lemmon_and_span():
    """Ideal-gas part of the equation of state of Lemmon and Span (2006), which CoolProp evaluates."""
    from CoolProp.CoolProp import PropsSI

    c = SUBSTANCES["acetone"].gas_heat_capacity
    for T in range(300, 541, 20):
        published = PropsSI("CP0MOLAR", "T", float(T), "P", 1000.0, "Acetone")
        assert gas_heat_capacity(c, T, T) == pytest.approx(published, rel=0.015)


@pytest.mark.parametrize("name", NASA)
def test_mean_gas_heat_capacity_is_that_of_the_enthalpy(name):
    cantera = pytest.importorskip("cantera")
    gas = next(s for s in cantera.Species.list_from_file("nasa_gas.yaml") if s.name == NASA[name]).thermo
    c = SUBSTANCES[name].gas_heat_capacity
    for low, high in ((300.0, 450.0), (350.0, 600.0), (520.0, 340.0)):
        published = 1e-3 * (gas.h(high) - gas.h(low)) / (high - low)
        assert gas_heat_capacity(c, low, high) == pytest.approx(published, rel=0.015)


def pressure_and_vapour(T, x, names):
    """Bubble pressure and vapour composition with UNIFAC in place of Wilson."""
    rec = fuel_record(blend(dict.fromkeys(names, 1.0 / len(names)), "mole"))
    ln_gamma = unifac(T, x, names)
    wilson = activity_coefficients(x, T, rec)
    total = bubble_pressure(x, T, rec)
    y = vapour_composition(x, T, rec)
    parts = [total * y[i] * math.exp(ln_gamma[i]) / wilson[i] for i in range(len(names))]
    return (total, y), (sum(parts), [p / sum(parts) for p in parts])


@pytest.mark.parametrize("pair", PAIRS)
@pytest.mark.parametrize("x", [0.05, 0.1, 0.2, 0.35, 0.5, 0.65, 0.8, 0.9, 0.97])
def test_binary_pressure_and_vapour_follow_unifac(pair, x):
    for T in (290.0, 320.0, 350.0):
        (p, y), (q, z) = pressure_and_vapour(T, (x, 1.0 - x), pair)
        assert p == pytest.approx(q, rel=0.04)
        assert y[0] == pytest.approx(z[0], abs=0.03)


def ternary_misfit(names):
    """Largest relative error of pressure and largest error of the vapour's mole fractions.

    Ethanol in much water is left out: there its pair follows measured Henry's law, from which UNIFAC is far.
    """
    worst = [0.0, 0.0]
    for x in SPREAD:
        if names[-1] == "water" and "ethanol" in names and x[-1] > 0.7:
            continue
        for T in (300.0, 345.0):
            (p, y), (q, z) = pressure_and_vapour(T, x, names)
            worst[0] = max(worst[0], abs(p / q - 1.0))
            worst[1] = max(worst[1], *(abs(a - b) for a, b in zip(y, z, strict=True)))
    return worst


@pytest.mark.parametrize("names", TERNARIES)
def test_ternary_pressure_and_vapour_follow_unifac(names):
    pressure, vapour = ternary_misfit(names)
    assert pressure < 0.04
    assert vapour < 0.03


@pytest.mark.parametrize("T", [298.15, 335.0])
def test_ethanol_in_much_water_is_nearer_to_henrys_law_than_unifac_is(T):
    """Sander 2015, Atmos. Chem. Phys. 15, 4399: 1.9 mol/m3/Pa (1.7 to 2.0) at 25 degC, falling by 5800 K in 1/T."""
    published = 1.9 * math.exp(5800.0 * (1.0 / T - 1.0 / 298.15))
    rec, x = fuel_record(blend({"ethanol": 0.5, "water": 0.5}, "mole")), (1e-6, 1.0 - 1e-6)
    pure = bubble_pressure((1.0, 0.0), T, rec)
    ours, library = (
        55345.0 / (gamma * pure)
        for gamma in (activity_coefficients(x, T, rec)[0], math.exp(unifac(T, x, ("ethanol", "water"))[0]))
    )
    assert abs(ours / published - 1.0) < 0.15
    assert abs(ours - published) < 0.7 * abs(library - published)


@pytest.mark.parametrize("names", HARD_TERNARIES)
@pytest.mark.filterwarnings("ignore:acetone with an alcohol")
@pytest.mark.xfail(strict=True, reason="Wilson pairs cannot follow UNIFAC here; fuel_record warns of acetone")
def test_hard_ternaries_follow_unifac(names):
    pressure, vapour = ternary_misfit(names)
    assert pressure < 0.04
    assert vapour < 0.03


@pytest.mark.parametrize("names", ACETONE_TERNARIES)
@pytest.mark.filterwarnings("ignore:acetone with an alcohol")
def test_the_warning_about_acetone_states_a_true_bound(names):
    steps = [(a / 6.0, b / 6.0, (6 - a - b) / 6.0) for a in range(1, 5) for b in range(1, 6 - a)]
    for x in steps:
        for T in (285.0, 345.0):
            (p, _), (q, _) = pressure_and_vapour(T, x, names)
            assert p == pytest.approx(q, rel=0.40)


def test_acetone_alcohol_and_water_warn():
    with pytest.warns(ValidityWarning, match="acetone"):
        fuel_record(blend({"ethanol": 0.8, "acetone": 0.1, "water": 0.1}))


def test_a_method_that_a_substance_lacks_is_told():
    table = read_data(DATA / "fuels" / "ethanol.toml")
    curves = {**table.content["curves"], "viscosity": {"method": "NO_SUCH", "source": "x", "status": "library"}}
    with pytest.raises(InputError, match=r"ethanol.toml: curves.viscosity.method = 'NO_SUCH' is not known"):
        generate.sample(table._replace(content={**table.content, "curves": curves}), "viscosity")


def test_pressures_and_boiling_points_end_with_the_tables_range():
    from burnsim.substances.equilibrium import bubble_temperature, vapour_pressure
    from burnsim.substances.fuel import COLDEST, HOTTEST

    curve = SUBSTANCES["ethanol"].ln_vapour_pressure
    assert vapour_pressure(curve, COLDEST - 100.0) == vapour_pressure(curve, COLDEST)
    assert vapour_pressure(curve, HOTTEST + 100.0) == vapour_pressure(curve, HOTTEST)
    rec = fuel_record(blend("ethanol"))
    assert bubble_temperature((1.0,), 1e-30, rec) == pytest.approx(COLDEST, abs=1e-3)
    assert bubble_temperature((1.0,), 1e30, rec) == pytest.approx(HOTTEST, abs=1e-3)
