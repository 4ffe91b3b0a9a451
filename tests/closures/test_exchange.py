"""Exchanger effectiveness against the `ht` library."""

import pytest

from burnsim.closures.exchange import ntu_effectiveness


@pytest.mark.parametrize("ntu", [1e-6, 0.1, 1.0, 5.0])
def test_effectiveness_by_library(ntu):
    """Boiler (capacity ratio 0) in the `ht` library."""
    from ht import effectiveness_from_NTU

    assert ntu_effectiveness(ntu) == pytest.approx(effectiveness_from_NTU(NTU=ntu, Cr=0.0, subtype="boiler"), rel=1e-9)


def test_effectiveness_is_between_none_and_all():
    assert ntu_effectiveness(-3.0) == 0.0
    assert ntu_effectiveness(1e9) == 1.0
