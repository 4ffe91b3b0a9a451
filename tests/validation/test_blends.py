"""Blends: what must hold beside the records of published values."""

import pytest
from validation_records.blends import OIML

from burnsim.substances.blend import blend, fuel_record
from burnsim.substances.equilibrium import bubble_temperature, vapour_composition

P = 101325.0
KELVIN = 273.15


def test_no_azeotrope_of_methanol_and_water():
    rec = fuel_record(blend("methanol 90"))
    for x in (0.02, 0.2, 0.5, 0.8, 0.98):
        T = bubble_temperature((x, 1.0 - x), P, rec)
        assert vapour_composition((x, 1.0 - x), T, rec)[0] > x


def test_alcohol_table_coefficients_end_at_the_pure_liquids():
    """OIML R 22 (1973), whose coefficients are quoted from memory."""
    assert OIML[0] == pytest.approx(998.20, abs=0.01)
    assert sum(OIML) == pytest.approx(789.24, abs=0.01)
