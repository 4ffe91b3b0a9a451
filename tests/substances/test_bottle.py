"""What a label means: per cent of the finished liquid's volume, against the alcohol tables."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from burnsim.errors import InputError
from burnsim.substances.blend import blend, bottle, composition, density, find_strength, watered

# OIML R 22 (1973), density of ethanol and water at 20 degC [kg/m3], powers of the mass fraction (from memory)
OIML = (998.20123, -192.9769495, 389.1238958, -1668.103923, 13522.15441, -88292.78388,
        306287.4042, -613838.1234, 747017.2998, -547846.1354, 223446.0334, -39032.85426)  # fmt: skip
PURE, WATER = 789.24, 998.20


def table_density(w: float) -> float:
    return sum(c * w**k for k, c in enumerate(OIML))


def table_mass_fraction(share: float) -> float:
    """Mass fraction of ethanol in a bottle of so much by volume: w rho(w)/rho(1) = share, by the tables' formula."""
    low, high = 0.0, 1.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if middle * table_density(middle) / PURE < share else (low, middle)
    return low


@pytest.mark.parametrize("percent", [20, 40, 50, 60, 70, 80, 90, 95, 96])
def test_ethanol_meets_the_alcohol_tables(percent: int) -> None:
    made = find_strength(bottle("ethanol", percent / 100.0))
    expected = table_mass_fraction(percent / 100.0)
    assert made.mass == pytest.approx(expected, abs=2e-3)
    assert made.density == pytest.approx(table_density(expected), rel=2e-3)


def test_forty_per_cent_is_a_third_by_mass() -> None:
    """Alcohol tables: 40 % by volume are 33.3 % by mass, 948.0 kg/m3 (from memory, unverified)."""
    made = find_strength(bottle("ethanol", 0.40))
    assert made.mass == pytest.approx(0.333, abs=2e-3)
    assert made.density == pytest.approx(948.0, rel=3e-3)


def test_a_recipe_before_mixing_is_stronger_than_a_bottle_of_the_same_figure() -> None:
    mixed, bottled = blend("ethanol 95"), bottle("ethanol", 0.95)
    assert bottle("ethanol", "95 %") == bottled
    assert find_strength(mixed).before_mixing == pytest.approx(0.95, abs=1e-12)
    assert find_strength(mixed).bottle > 0.955
    assert find_strength(mixed).mass > find_strength(bottled).mass


def test_contraction_is_what_the_densities_say() -> None:
    """A kilogram of each: volumes before mixing from the pure liquids' densities, after mixing from the blend's."""
    half = blend({"ethanol": 0.5, "water": 0.5}, "mass")
    before = 0.5 / PURE + 0.5 / WATER
    assert find_strength(half).contraction == pytest.approx(1.0 - 1.0 / table_density(0.5) / before, abs=2e-3)
    assert find_strength(blend("ethanol")).contraction == 0.0


@settings(deadline=None)
@given(st.sampled_from(["methanol", "ethanol", "2-propanol", "acetone"]), st.floats(0.06, 1.0))
def test_a_bottle_is_what_its_label_says(name: str, share: float) -> None:
    made = find_strength(bottle(name, share))
    assert made.bottle == pytest.approx(share, abs=1e-9)
    assert made.density == pytest.approx(density(bottle(name, share)), rel=1e-12)


@settings(deadline=None)
@given(st.floats(0.0, 0.98))
def test_watering_keeps_the_spirits_in_proportion(water: float) -> None:
    shares = composition(watered(blend("methylated spirit"), water), "volume")
    assert shares["methanol"] / shares["ethanol"] == pytest.approx(5.0 / 90.0)
    assert shares.get("water", 0.0) == pytest.approx(water, abs=1e-8)


def test_watered_to_its_own_water_it_is_the_same_spirit() -> None:
    spirit = blend("ethanol 95")
    assert watered(spirit, 0.05) is spirit


@pytest.mark.parametrize("share", [0.0, 0.04, 1.01, -1.0, float("nan"), True, "95"])
def test_a_share_out_of_range_is_refused(share: object) -> None:
    with pytest.raises(InputError, match="share"):
        bottle("ethanol", share)  # type: ignore[arg-type]


@pytest.mark.parametrize("water", [-0.1, 1.0, float("nan"), True, "1"])
def test_water_out_of_range_is_refused(water: object) -> None:
    with pytest.raises(InputError, match="water"):
        watered(blend("ethanol"), water)  # type: ignore[arg-type]


def test_an_unknown_spirit_is_refused() -> None:
    with pytest.raises(InputError, match="did you mean 'ethanol'"):
        bottle("etanol", 0.9)


def test_a_label_can_be_written_wherever_a_fuel_is_named() -> None:
    made = blend("Ethanol 95 % bottle")
    assert find_strength(made).bottle == pytest.approx(0.95, abs=1e-9)
    assert made.mole_fractions == pytest.approx(bottle("ethanol", 0.95).mole_fractions, abs=1e-12)
    assert bottle("ethanol", 0.95).name == "ethanol 95 bottle"
    assert find_strength(blend("methylated spirit 90 bottle")).bottle == pytest.approx(0.90, abs=1e-9)


@pytest.mark.parametrize(
    "spec", ["ethanol bottle", "95 bottle", "ethanol x bottle", "ethanol 120 bottle", "etanol 90 bottle"]
)
def test_a_label_that_cannot_be_read_is_refused(spec: str) -> None:
    with pytest.raises(InputError):
        blend(spec)


def test_a_label_is_by_volume() -> None:
    with pytest.raises(InputError, match="basis"):
        blend("ethanol 95 bottle", "mass")
