"""Combustion: what must hold beside the records of published values."""

import chemicals
import pytest

from burnsim.closures import combustion as co
from burnsim.substances.catalogue import SUBSTANCES

CAS = {"methanol": "67-56-1", "ethanol": "64-17-5", "2-propanol": "67-63-0", "acetone": "67-64-1"}


def test_acetone_data_are_those_named() -> None:
    """Formation enthalpy of CRC, and the vapour's enthalpy by Poling's heat capacity, as carried by `chemicals`."""
    acetone = SUBSTANCES["acetone"]
    assert chemicals.Hfg(CAS["acetone"], "CRC") == acetone.formation_enthalpy
    row = chemicals.heat_capacity.Cp_data_Poling.loc[CAS["acetone"]]
    for T in (330.0, 500.0, 700.0):
        terms = (float(row[f"a{k}"]) * (T ** (k + 1) - 298.15 ** (k + 1)) / (k + 1) for k in range(5))
        rise = co._vapour_enthalpy(acetone, T) - co._vapour_enthalpy(acetone, 298.15)
        assert rise == pytest.approx(8.314462618 * sum(terms), rel=0.02)
