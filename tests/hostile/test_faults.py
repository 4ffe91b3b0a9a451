"""Faults from outside on real sweeps, and inputs damaged at random."""

import sys
from pathlib import Path

import pytest

if sys.platform == "win32":
    pytest.skip("no signals and limits of this kind", allow_module_level=True)

from hostile.faults import FAULTS, damaged_inputs


@pytest.mark.parametrize("name", FAULTS)
def test_a_sweep_holds_against(name: str, tmp_path: Path) -> None:
    if not FAULTS[name](tmp_path):
        pytest.skip("this user cannot bring it about")


def test_damaged_inputs_are_read_or_refused(tmp_path: Path) -> None:
    assert damaged_inputs(tmp_path, 300) == 300
