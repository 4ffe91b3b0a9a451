"""Combustion: what must hold beside the records of published values."""

import chemicals
import pytest

from burnsim.closures import combustion as co

CAS = {"methanol": "67-56-1", "ethanol": "64-17-5", "2-propanol": "67-63-0", "acetone": "67-64-1"}


def test_acetone_data_are_those_named() -> None:
    """Formation enthalpy of CRC and heat capacity of Poling, as carried by `chemicals`."""
    assert chemicals.Hfg(CAS["acetone"], "CRC") == co._ACETONE_FORMATION
    row = chemicals.heat_capacity.Cp_data_Poling.loc[CAS["acetone"]]
    assert [float(row[f"a{k}"]) for k in range(5)] == pytest.approx(co._ACETONE_CP, rel=1e-12)
