"""Spirits on paper: energy, sooting, carbon dioxide."""

import chemicals
import pytest

from burnsim import InputError, blend
from burnsim.studies.fuels.distillation import boil_away
from burnsim.studies.fuels.spirit import Spirit, closed_cup, describe_spirit
from burnsim.substances.catalogue import SUBSTANCES
from burnsim.substances.recipe import READY

CAS = {"methanol": "67-56-1", "ethanol": "64-17-5", "2-propanol": "67-63-0", "acetone": "67-64-1"}
CLOSED_CUP = {name: one.fire.flash_point for name, one in SUBSTANCES.items() if one.fire is not None}


def paper(name: str) -> Spirit:
    return describe_spirit(blend(name))


@pytest.mark.parametrize(
    ("name", "value"), [("methanol", 19.94), ("ethanol", 26.82), ("2-propanol", 30.45), ("acetone", 28.54)]
)
def test_heat_by_mass_and_by_volume(name: str, value: float) -> None:
    """Formation enthalpies in `chemicals`; densities of the CRC Handbook at 20 degC (from memory, unverified)."""
    density = {"methanol": 791.0, "ethanol": 789.2, "2-propanol": 785.5, "acetone": 790.3}[name]
    assert paper(name).heating_value == pytest.approx(1e6 * value, rel=5e-3)
    assert paper(name).heating_value_volume == pytest.approx(1e6 * value * density, rel=6e-3)


def test_order_by_millilitre() -> None:
    """2-propanol holds most and methanol least; every dilution holds less than its spirit."""
    names = ("2-propanol", "acetone", "ethanol", "methanol")
    values = [paper(name).heating_value_volume for name in names]
    assert values == sorted(values, reverse=True)
    for weak, strong in (
        ("2-propanol 70", "2-propanol 91"),
        ("2-propanol 91", "2-propanol"),
        ("ethanol 95", "ethanol"),
    ):
        assert paper(weak).heating_value_volume < paper(strong).heating_value_volume
        assert paper(weak).heating_value < paper(strong).heating_value


def test_carbon_dioxide_by_hand() -> None:
    """CH3OH -> CO2: 44.009 g of 32.042 g; C2H5OH -> 2 CO2: 88.018 g of 46.069 g."""
    assert paper("methanol").carbon_dioxide == pytest.approx(44.009 / 32.042, rel=1e-4)
    assert paper("ethanol").carbon_dioxide == pytest.approx(88.018 / 46.069, rel=1e-4)
    weak = paper("2-propanol 70")
    assert weak.carbon_dioxide == pytest.approx((1.0 - weak.water) * 3.0 * 44.009 / 60.096, rel=1e-4)


def test_free_carbon_by_hand_and_in_the_order_of_radiation() -> None:
    """C2H5OH has one free carbon: 12.011 g of 46.069 g. Sooty flames radiate: shares of NIST's MaCFP pools of 0.3 m."""
    assert paper("methanol").free_carbon == 0.0
    assert paper("ethanol").free_carbon == pytest.approx(12.011 / 46.069, rel=1e-4)
    pool = {"methanol": 0.22, "ethanol": 0.26, "acetone": 0.31}
    assert sorted(pool, key=lambda n: paper(n).free_carbon) == sorted(pool, key=lambda n: pool[n])
    assert paper("methylated spirit").free_carbon < paper("ethanol 95").free_carbon


def test_carbon_per_hydrogen_leaves_water_out() -> None:
    assert paper("methanol").carbon_per_hydrogen == 0.25
    assert paper("2-propanol 70").carbon_per_hydrogen == pytest.approx(3.0 / 8.0)
    assert paper("acetone").carbon_per_hydrogen == pytest.approx(0.5)


@pytest.mark.parametrize("name", CAS)
def test_pure_spirits_flash_where_the_standard_says(name: str) -> None:
    assert CLOSED_CUP[name] == pytest.approx(chemicals.T_flash(CAS[name], "NFPA 497 (2008)"), abs=0.01)
    assert closed_cup(blend(name)) == pytest.approx(CLOSED_CUP[name], abs=1e-6)


def test_thin_air_lowers_flash_and_boiling_points() -> None:
    """Water boils at 86.6 degC at 4 km (CoolProp); ethanol at 69.4 degC at 3 km, 70.12 kPa (CoolProp)."""
    high = describe_spirit(blend("ethanol"), 70120.0)
    assert high.boils - 273.15 == pytest.approx(69.4, abs=0.2)
    assert high.flash is not None
    assert 3.0 < CLOSED_CUP["ethanol"] - high.flash < 12.0


@pytest.mark.parametrize("name", READY)
def test_every_ready_spirit_has_its_figures(name: str) -> None:
    made = paper(name)
    assert 700.0 < made.density < 900.0
    assert 0.0 <= made.water < 0.4
    assert made.strength == pytest.approx(1.0 if made.water == 0.0 else made.strength)
    assert made.flash is not None


@pytest.mark.parametrize("pressure", [0.0, 2e4, 2e5, float("nan")])
def test_refuses_a_pressure_out_of_range(pressure: float) -> None:
    with pytest.raises(InputError, match="pressure"):
        describe_spirit(blend("ethanol"), pressure)


def test_a_name_or_a_recipe_stands_for_its_spirit() -> None:
    assert describe_spirit("ethanol 95") == describe_spirit(blend("ethanol 95"))
    assert describe_spirit({"ethanol": 1.0}).heating_value == describe_spirit("ethanol").heating_value
    assert boil_away("ethanol 95", steps=10) == boil_away(blend("ethanol 95"), steps=10)
