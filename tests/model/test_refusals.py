"""What the model refuses when it is called from Python with what is no design."""

import math

import pytest

from burnsim import setup_from_dict
from burnsim.errors import InputError
from burnsim.model.fields import shown
from burnsim.model.vary import vary

CUP = {"kind": "open cup", "outer_diameter": "60 mm", "height": "30 mm"}
DESIGN = {"burner": CUP, "charge": {"fuel": "ethanol", "volume": "20 ml"}}


def test_vary_wants_a_setup_and_a_mapping() -> None:
    with pytest.raises(InputError, match="is not a Setup"):
        vary(DESIGN, {})  # type: ignore[arg-type]
    with pytest.raises(InputError, match="is not a mapping"):
        vary(setup_from_dict(DESIGN), [("charge.volume", "10 ml")])  # type: ignore[arg-type]


def test_shares_beyond_all_are_refused_with_their_range() -> None:
    design = {**DESIGN, "charge": {"fuel": {"ethanol": 1.2, "water": 0.1}, "volume": "20 ml"}}
    with pytest.raises(InputError, match="allowed from 0 to 1") as caught:
        setup_from_dict(design)
    assert caught.value.field == "charge.fuel.ethanol"


def test_a_number_that_is_none_is_shown_as_it_is() -> None:
    assert shown(math.inf, "length", "m") == "inf"
