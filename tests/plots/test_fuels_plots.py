"""Pictures of compared spirits, of distilling, and of start maps: what is drawn is what the results say."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

import burnsim
from burnsim import plots
from burnsim.model.description.burner import Burner
from burnsim.model.description.conditions import Charge, Pot
from burnsim.model.description.setup import Setup
from burnsim.studies.fuels.comparison import FuelComparison
from burnsim.studies.fuels.distillation import Distillation
from burnsim.studies.start.grid import (
    BLOOMS,
    FAILED,
    GOES_OUT,
    MORE_PRIMER,
    NEVER_BLOOMS,
    NEVER_LIGHTS,
    StartCell,
    StartMap,
)
from burnsim.substances.blend import blend
from burnsim.units import plain

CUP = Setup(
    Burner("open cup", outer_diameter=65e-3, height=25e-3, wall_thickness=0.3e-3, metal="steel"),
    Charge(blend("ethanol"), volume=15e-6),
    Pot(diameter=0.14, height=0.09, water=0.2e-3, rest="stand", gap=35e-3),
    name="small cup",
)


@cache
def compared() -> FuelComparison:
    return burnsim.compare_fuels(CUP, ["methanol", "ethanol 12"], find_least=False)


def test_bars_are_what_is_poured_and_the_mass_stands_beside() -> None:
    """One unit an axis: grams and millilitres on one made neither readable."""
    ax = Figure().subplots()
    assert plots.fuels(compared(), ax=ax) is ax
    used, density = compared().rows[0].used, compared().rows[0].spirit.density
    assert used is not None
    assert [bar.get_width() for bar in ax.patches] == pytest.approx([used / density * 1e6, 0.0])
    assert ax.get_xlabel().count("[") == 1
    assert ax.get_legend() is None
    assert [plain(label.get_text()) for label in ax.get_yticklabels()] == ["methanol", "ethanol 12"]
    beside = plain(ax.texts[0].get_text())
    assert beside.startswith(f"{used / density * 1e6:.1f} ml, {used * 1e3:.1f} g, ")
    assert ax.texts[1].get_text() in ("never lit", "no boil")


def test_spirits_that_are_warned_of_are_marked() -> None:
    found = compared()
    flaring = replace(found.rows[0], verdicts=("flare", "fuel left"))
    ax = plots.fuels(replace(found, rows=(flaring, found.rows[0])), ax=Figure().subplots())
    assert [bool(bar.get_hatch()) for bar in ax.patches] == [True, False]
    assert ax.texts[0].get_text().endswith("warned of: flare")
    assert "warned" not in ax.texts[1].get_text()
    codes = ("fire at the foot", "spills", "quenched", "no boil", "flare")
    spilling = replace(found.rows[0], boil=None, used=None, verdicts=codes)
    ax = plots.fuels(replace(found, rows=(spilling,)), ax=Figure().subplots())
    assert ax.texts[0].get_text() == "no boil: fire at the foot, spills, quenched"


def test_distilling_shows_water_in_liquid_and_vapour() -> None:
    time = np.array([0.0, 60.0, 120.0])
    liquid = np.array([[0.7, 0.3], [0.6, 0.4], [0.5, 0.5]])
    vapour = np.array([[0.9, 0.1], [0.85, 0.15], [0.8, 0.2]])
    told = Distillation(("ethanol", "water"), time, time, liquid, vapour, time, time)
    ax = Figure().subplots()
    assert plots.distillation(told, ax=ax) is ax
    lines = {str(line.get_label()): np.asarray(line.get_ydata()) for line in ax.get_lines()}
    assert lines["water, liquid"] == pytest.approx([30.0, 40.0, 50.0])
    assert lines["water, vapour"] == pytest.approx([10.0, 15.0, 20.0])
    assert set(lines) == {"water, liquid", "water, vapour"}


def test_three_components_are_all_shown() -> None:
    shares = np.full((2, 3), 1.0 / 3.0)
    time = np.array([0.0, 60.0])
    told = Distillation(("methanol", "ethanol", "water"), time, time, shares, shares, time, time)
    ax = plots.distillation(told, ax=Figure().subplots())
    assert len(ax.get_lines()) == 6


def made_up(verdict: str, primer: float | None = None, boil: float | None = None) -> StartCell:
    used = None if boil is None else 21e-6
    return StartCell(273.15, 0.0, verdict, "made up", primer, 285.0, True, 3.0, 20.0, boil, used)


def test_every_verdict_has_a_look_of_its_own() -> None:
    verdicts = (BLOOMS, MORE_PRIMER, GOES_OUT, NEVER_BLOOMS, NEVER_LIGHTS, FAILED)
    cells = tuple(made_up(verdict, 2e-6, 300.0 if verdict == BLOOMS else None) for verdict in verdicts)
    result = StartMap(CUP, tuple(260.0 + k for k in range(6)), (0.0,), 3e-6, (cells,))
    ax = Figure().subplots()
    assert plots.start_map(result, ax=ax) is ax
    boxes = [patch for patch in ax.patches if isinstance(patch, Rectangle)]
    looks = {(box.get_facecolor(), box.get_hatch()) for box in boxes}
    assert len(boxes) == len(looks) == 6
    texts = [plain(text.get_text()) for text in ax.texts]
    assert texts[0].splitlines() == ["yes*", "5.0 min", "21 ml"]
    assert texts[1].splitlines() == ["+2.0 ml*", "no boil"]
    assert [text.splitlines()[0] for text in texts[2:]] == ["goes out*", "no bloom*", "unlit*", "failed*"]
    legend = ax.get_legend()
    assert legend is not None
    assert len(legend.get_texts()) == 8  # six verdicts, the star, and what minutes and volumes count
    assert "min, ml: until the water boils" in [plain(text.get_text()) for text in legend.get_texts()]


def test_new_axes_if_none_are_given() -> None:
    from matplotlib import pyplot

    ax = plots.fuels(compared())
    assert plain(ax.get_title()).startswith("small cup")
    pyplot.close("all")
