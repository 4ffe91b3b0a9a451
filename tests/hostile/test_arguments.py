"""What a person tries by guessing at the interface is refused in a sentence, before any work."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

import burnsim
from burnsim import InputError

CUP = burnsim.Setup(burnsim.Burner("open cup", "60 mm", "30 mm"), burnsim.Charge("ethanol", "6 ml"))
JETS = burnsim.load(Path(__file__).parents[2] / "examples" / "workshop_sealed_chamber.toml")

GUESSES: dict[str, tuple[str, Callable[[], Any]]] = {
    "a number for a list": ("air_temperatures", lambda: burnsim.map_starts(JETS, 268.0, ["0 m"])),  # type: ignore[arg-type]
    "a text for a list": ("altitudes", lambda: burnsim.map_starts(JETS, ["-5 degC"], "0 m")),
    "one spirit": ("fuels", lambda: burnsim.compare_fuels(JETS, "ethanol")),
    "one recipe": ("fuels", lambda: burnsim.compare_fuels(JETS, {"ethanol": 1.0})),  # type: ignore[arg-type]
    "one spirit to water": ("fuels", lambda: burnsim.fuels.find_water_limits(JETS, "ethanol")),
    "a spirit for a burn": ("burn", lambda: burnsim.fuels.distil("ethanol")),  # type: ignore[arg-type]
    "a result for what it holds": ("posterior", lambda: burnsim.calibration.save(JETS, "x.toml")),  # type: ignore[arg-type]
    "a plan nowhere": ("path", lambda: burnsim.papers.save_plan(CUP, "no/such/place/plan.pdf")),
    "a sheet nowhere": ("path", lambda: burnsim.papers.save_sheet(CUP, "no/such/place/sheet.html")),
    "a template nowhere": ("path", lambda: burnsim.papers.save_template(JETS, "no/such/place/holes.svg")),
}


@pytest.mark.parametrize("guess", GUESSES)
def test_a_guess_is_refused_by_the_name_of_its_argument(guess: str) -> None:
    field, tried = GUESSES[guess]
    with pytest.raises(InputError) as caught:
        tried()
    assert caught.value.field == field
    assert caught.value.remedy
