"""What the model refuses when it is called from Python with what is no design."""

import math

import pytest

from burnsim import Setup
from burnsim.errors import InputError
from burnsim.model.description.burner import Burner
from burnsim.model.description.vary import vary
from burnsim.units.writing import spelt

CUP = {"kind": "open cup", "outer_diameter": "60 mm", "height": "30 mm"}
DESIGN = {"burner": CUP, "charge": {"fuel": "ethanol", "volume": "20 ml"}}


def test_vary_wants_a_setup_and_a_mapping() -> None:
    with pytest.raises(InputError, match="is not a design"):
        vary([DESIGN], {})  # type: ignore[arg-type]
    with pytest.raises(InputError, match="is not a mapping"):
        vary(Setup.from_dict(DESIGN), [("charge.volume", "10 ml")])  # type: ignore[arg-type]


def test_a_number_that_is_none_is_shown_as_it_is() -> None:
    assert spelt(math.inf, "length") == "inf"


def test_walls_as_thick_as_the_burner_is_high_are_refused() -> None:
    with pytest.raises(InputError, match="is as thick as the burner is high; allowed below 5 mm") as caught:
        Burner("open cup", outer_diameter=60e-3, height=5e-3, wall_thickness=5e-3)
    assert caught.value.field == "burner.wall_thickness"


@pytest.mark.parametrize(
    ("fuel", "field", "words"),
    [
        (3, "charge.fuel", "neither the name of a fuel nor a table of shares"),
        ({"basis": "weight", "ethanol": 1.0}, "charge.fuel.basis", "allowed: 'volume', 'mass', 'mole'"),
        ({"ethanol": True}, "charge.fuel.ethanol", "is not a share; allowed from 0 to 1"),
        ({"ethanol": "much"}, "charge.fuel.ethanol", "allowed from 0 to 1"),
        ({"basis": "mass", "ethanol": 0.5, "water": 0.1}, "charge.fuel", "1"),
    ],
)
def test_fuels_that_are_none_are_refused(fuel: object, field: str, words: str) -> None:
    with pytest.raises(InputError, match=words) as caught:
        Setup.from_dict({**DESIGN, "charge": {"fuel": fuel, "volume": "20 ml"}})
    assert caught.value.field.startswith(field)
