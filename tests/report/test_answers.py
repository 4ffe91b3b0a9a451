"""Answers that are one number or a few: words, plain values, rows and a picture, in both systems of units."""

import json
from functools import cache
from typing import Any

import numpy as np
import pytest
from matplotlib.figure import Figure

import burnsim
from burnsim import Charge, Pot, Setup, Site
from burnsim.studies.calibrate.next_burn import NextBurns, Proposal
from burnsim.studies.fill.margins import SpillMap
from burnsim.studies.fill.record import USUAL
from burnsim.studies.fill.relief import Relief
from burnsim.studies.fill.spill_odds import SpillOdds
from burnsim.studies.fuels.charge import LeastCharge
from burnsim.studies.fuels.distillation import Distillation
from burnsim.studies.fuels.water_limit import WaterLimit
from burnsim.studies.start.primer import Primer
from burnsim.units import plain

CUP = Setup(
    burnsim.Burner("open cup", "60 mm", "30 mm"),
    Charge("ethanol", "2 ml"),
    Pot("10 cm", "8 cm", "20 ml", rest="stand", gap="30 mm"),
    Site(),
    name="cup",
)
TRIED = ((20e-6, None), (25e-6, 600.0), (40e-6, 540.0))
TIMES = np.linspace(0.0, 120.0, 5)
HALVES = np.full((5, 2), 0.5)

ANSWERS: dict[str, Any] = {
    "charge": LeastCharge(25e-6, "", 40e-6, True, TRIED),
    "no charge": LeastCharge(None, "the charge burns away first", 20e-6, True, TRIED[:1]),
    "primer": Primer(2e-6, "", 5e-6, 31.0, None, False, ((1e-6, False), (2e-6, True), (4e-6, False), (5e-6, True))),
    "no primer": Primer(None, "the wick dries", 5e-6, None, None, True, ((5e-6, False),)),
    "relief": Relief(1.2e-6, 1, 3e-3, 1.5e-3, 40e-6, "the well pushes its liquid over", True, False),
    "no relief": Relief(0.0, 0, 3e-3, 1.5e-3, 10e-6, "the load is low", True, False),
    "odds": SpillOdds(0.25, 0.04, 0.18, 0.34, 100, 1, {"swell": 20, "pressure": 5}, {"its jets go out": 10}),
    "water": WaterLimit(burnsim.blend("ethanol"), 0.0, 0.4, 0.3, None, {"boils": "the flame is too weak"}, True),
    "next": NextBurns(
        CUP, "boil", 600.0, (0.8, 1.25), (Proposal(("the same burn again",), ({},), 0.5),),
        (Proposal(("half the water", "pot off"), ({}, {}), 0.4),), {"twice the gap": "it does not boil"},
    ),
    "map": SpillMap(
        CUP, USUAL, np.array([20e-6, 40e-6]), np.array([0.0, 1e-6]), np.array([[4e-3, -1e-3], [5e-3, np.nan]]),
        np.array([39e-6, np.nan]), np.array([35e-6, np.nan]), True, np.array([[False, False], [True, False]]),
    ),
    "still": Distillation(
        ("ethanol", "water"), TIMES, np.linspace(20e-6, 1e-6, 5), HALVES, HALVES, np.full(5, 2e7), np.full(5, 300.0)
    ),
}  # fmt: skip


@cache
def came() -> Any:
    return burnsim.burn_many([CUP], engine="plain")[0]


def answer(name: str) -> Any:
    return came() if name == "outcome" else ANSWERS[name]


@pytest.mark.parametrize("name", [*ANSWERS, "outcome"])
@pytest.mark.parametrize("units", ["si", "us"])
def test_an_answer_is_told_and_drawn(name: str, units: str) -> None:
    found = answer(name)
    words = found.summary(units)
    assert words.strip()
    assert not words.endswith(".."), "one stop at the end"
    assert str(found) == found.summary()
    json.dumps(found.to_dict(), allow_nan=False)
    ax = Figure(layout="constrained").subplots()
    assert found.plot(ax=ax, units=units) is ax
    ax.figure.canvas.draw()
    if units == "us" and name not in ("odds", "water", "next", "outcome"):
        assert " ml" not in plain(words)


def test_the_rows_are_what_was_tried() -> None:
    assert ANSWERS["charge"].to_dataframe()["boil_s"].tolist()[1:] == [600.0, 540.0]
    assert ANSWERS["primer"].to_dataframe()["starts"].tolist() == [False, True, False, True]
    still = ANSWERS["still"].to_dataframe()
    assert still["liquid_mass_fraction.water"].tolist() == [0.5] * 5
    spills = ANSWERS["map"].to_dataframe()
    assert spills["clearance_mm"].tolist()[:3] == pytest.approx([4.0, -1.0, 5.0])
    assert spills["clearance_mm"].isna().tolist() == [False, False, False, True]
    assert spills["went_out"].tolist() == [False, False, True, False]


def test_an_outcome_says_what_its_burn_says() -> None:
    """The course is not kept, so that laws outside their range are not known: all else is."""
    whole = burnsim.burn(CUP)
    told, kept = whole.to_dict(), came().to_dict()
    assert kept.pop("validity") is None
    assert told.pop("validity") is not None
    assert {name: kept[name] for name in ("boil_s", "burnout_s", "efficiency", "power_max_W")} == pytest.approx(
        {name: told[name] for name in ("boil_s", "burnout_s", "efficiency", "power_max_W")}, rel=1e-9
    )
    assert came().summary().splitlines()[0] == whole.summary().splitlines()[0] == "cup"


def test_a_limit_is_a_row() -> None:
    limits = burnsim.find_fill_limit(CUP, scan=5, engine="plain").to_dataframe().set_index("limit")
    assert "cold_level" in limits.index
    assert limits.loc["cold_level", "volume_ml"] > 0.0
