"""What is needed at least is rounded up and what is allowed at most down: what is printed does what it says."""

from dataclasses import replace

import pytest

import burnsim
from burnsim.report.fill import fill_lines
from burnsim.report.fuels import comparison_text
from burnsim.report.pour import cells
from burnsim.studies.fill.card import PourCard, PourPlace
from burnsim.studies.fuels.charge import LeastCharge
from burnsim.studies.start.primer import Primer
from burnsim.units import plain

CUP = burnsim.Setup(
    burnsim.Burner("open cup", "60 mm", "30 mm"),
    burnsim.Charge("ethanol", "2 ml"),
    burnsim.Pot("10 cm", "8 cm", "20 ml", rest="stand", gap="30 mm"),
    name="cup",
)


@pytest.mark.parametrize(("units", "amount"), [("si", "0.8 ml"), ("us", "0.03 fl oz")])
def test_a_primer_that_is_told_starts_the_jets(units: str, amount: str) -> None:
    found = Primer(0.7238e-6, "", 4e-6, 11.0, None, True, ((0.69e-6, False), (0.7238e-6, True)))
    words = plain(found.summary(units))
    assert words.startswith(f"{amount} of primer")
    assert "every second burn takes more" in words


@pytest.mark.parametrize(("units", "amount"), [("si", "12.7 ml"), ("us", "0.43 fl oz")])
def test_a_charge_that_is_told_boils_the_water(units: str, amount: str) -> None:
    found = LeastCharge(12.627e-6, "", 60e-6, True, ((12.5e-6, None), (12.627e-6, 400.0)))
    words = plain(found.summary(units))
    assert words.startswith(f"{amount} boils the water")
    assert "every second burn takes more" in words


def test_what_is_to_be_carried_is_enough() -> None:
    found = burnsim.compare_fuels(CUP, ["ethanol"], find_least=False)
    least = LeastCharge(12.627e-6, "", 60e-6, True, ())
    row = replace(found.rows[0], least=least, carried=14.2e-3, carried_volume=18.3e-6)
    words = [line.split() for line in plain(comparison_text(replace(found, rows=(row,)))).splitlines()]
    assert any(line[:1] == ["ethanol"] and "12.7" in line for line in words)
    assert any(line[:3] == ["ethanol", "15", "19"] for line in words)


def test_more_is_carried_of_a_spirit_that_leaves_its_water_behind() -> None:
    """What is saved at the boil is weaker: three boils take three least charges, each with its primer."""
    found = burnsim.compare_fuels(CUP, ["ethanol", "2-propanol 70"], boils=3, find_least=False)
    least = LeastCharge(12.627e-6, "", 60e-6, True, ())
    rows = tuple(replace(row, least=least, primer=1e-6) for row in found.rows)
    told = " ".join(plain(comparison_text(replace(found, rows=rows))).split())
    assert "2-propanol 70: what is saved at the boil is more watery than the bottle" in told
    assert "carry 40.9 ml, the least charge and its primer for each boil" in told
    assert "ethanol: what is saved" not in told


def test_what_a_spirit_takes_is_told_as_the_burn_tells_it() -> None:
    """As poured at the air's 35 degC, where spirit is lighter than at 20 degC; the note of the burn says the same."""
    warm = burnsim.vary(CUP, {"site.air_temperature": "35 degC"})
    row = burnsim.compare_fuels(warm, ["ethanol"], find_least=False).rows[0]
    assert row.used_volume is not None
    assert row.burn is not None
    boils = next(line for line in plain(row.burn.summary()).splitlines() if "water boils" in line)
    assert f"{row.used_volume * 1e6:.1f} ml burnt" in boils


def test_a_load_that_is_told_is_safe() -> None:
    found = burnsim.find_fill_limit(CUP)
    assert found.safe is not None
    limits = replace(found, cold_level=replace(found.cold_level, volume=52.38e-6))
    assert "52.3" in plain(next(line for line in fill_lines(limits) if line.startswith("  cold, level")))
    place = PourPlace(CUP, 0.7238e-6, 15.32e-6, "", (found,))
    row = cells(PourCard(CUP, found.margin, (0.0,), (place,)), place, "si")
    assert [plain(cell) for cell in row[4:6]] == ["0.8 ml", "15.4 ml"]
    most = float(plain(row[6]).split()[0])
    assert most <= 1e6 * found.safe < most + 0.1
