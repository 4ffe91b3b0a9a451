"""Pictures of designs side by side and of steps: what is drawn is what was found."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from matplotlib.figure import Figure

import burnsim
from burnsim.studies.compare import DesignComparison
from burnsim.studies.compare.paired import PairedDifference
from burnsim.studies.levers import Levers
from burnsim.studies.predict.prediction import Quantile
from burnsim.units import plain
from tests.studies.levers.test_levers import BASE, Counted

CUP = burnsim.Burner("open cup", "60 mm", "30 mm")
POT = burnsim.Pot("10 cm", "8 cm", "40 ml", rest="stand", gap="30 mm")
SETUP = burnsim.Setup(CUP, burnsim.Charge("ethanol", "6 ml"), POT, name="cup")


@pytest.fixture(scope="module")
def compared(tmp_path_factory: pytest.TempPathFactory) -> DesignComparison:
    other = burnsim.vary(SETUP, {"pot.water": "60 ml", "name": "more water"})
    path = tmp_path_factory.mktemp("logs") / "log.csv"
    path.write_text(burnsim.bench.synthesise_log(SETUP, seed=1, every=20.0, name="log"), encoding="utf-8")
    log = burnsim.bench.read(path)
    return burnsim.compare([SETUP, other], n=0, logs=[log, log])


@pytest.fixture(scope="module")
def found() -> Levers:
    return burnsim.find_levers(BASE, n=8, engine=Counted())


@pytest.mark.parametrize("units", ["si", "us"])
def test_all_curves_share_their_axes(compared: DesignComparison, units: str) -> None:
    ax = compared.plot(ax=Figure(figsize=(7.0, 6.0)).subplots(), units=units)
    water, power, fuel = ax.figure.axes
    assert water.get_shared_x_axes().joined(water, fuel)
    for burn, mark in zip(compared.burns, "AB", strict=True):
        [line] = [line for line in power.get_lines() if line.get_label() == mark]
        assert np.asarray(line.get_ydata()) == pytest.approx(burn.series("power"))
        assert any(line.get_label() == f"{mark}, bench" for line in water.get_lines())
    styles = {str(line.get_linestyle()) for line in power.get_lines()}
    assert len(styles) == 2  # told apart in grey
    legend = fuel.get_legend()
    assert legend is not None
    assert [plain(text.get_text()) for text in legend.get_texts()] == ["A: cup", "B: more water"]


def test_the_title_tells_what_each_design_warns_of() -> None:
    file = Path(__file__).parents[2] / "examples" / "garden_open_cup.toml"
    pair = burnsim.compare([file, burnsim.vary(file, {"pot.gap": "6 mm"})], n=0)
    title = " ".join(plain(pair.plot(ax=Figure(figsize=(7.0, 6.0)).subplots()).get_title()).split())
    assert title.endswith("than A; B warned of: smothered")
    assert "A warned" not in title


def test_the_title_tells_which_design_does_not_boil() -> None:
    file = Path(__file__).parents[2] / "examples" / "garden_open_cup.toml"
    little = burnsim.vary(file, {"charge.volume": "5 ml"})
    title = " ".join(plain(burnsim.compare([file, little], n=0).plot().get_title()).split())
    assert title.startswith("2 designs side by side: B does not boil the water")


def test_the_title_tells_that_one_design_boils_less_often(compared: DesignComparison) -> None:
    """Eight of its draws in sixty-four do not boil where those of the other do."""
    [against] = compared.against
    end = Quantile(0.5, 60.0, None, None)
    pair = PairedDifference("boil", end, end, end, 0, 50, 8, 0, 64)
    odd = replace(compared, against=(replace(against, paired={"boil": pair}),))
    title = " ".join(plain(odd.plot().get_title()).split())
    assert "but A boils in 58 of 64 draws, B in 50" in title


def test_each_bar_is_the_change_of_its_step(found: Levers) -> None:
    ax = burnsim.plots.levers(found, Figure(figsize=(8.0, 6.0)).subplots())
    words = [plain(tick.get_text()) for tick in ax.get_yticklabels()]
    bars = {word: bar.get_width() for word, bar in zip(words, ax.patches, strict=True)}
    by = {one.value: one.changes["boil"].typical for one in found.steps if one.path == "burner.jets.count"}
    assert bars["burner.jets.count 26 \N{RIGHTWARDS ARROW} 27"] == pytest.approx(by[27])
    assert bars["burner.jets.count 26 \N{RIGHTWARDS ARROW} 25"] == pytest.approx(by[25])
    assert list(bars.values()) == sorted(bars.values())  # the best on top
    assert "left is better" in ax.get_xlabel()


def test_a_design_that_fails_is_shown_what_mends_it() -> None:
    """No boil can be set beside one that never comes: the bars tell in how many draws each step works."""
    found = burnsim.find_levers(burnsim.vary(BASE, {"burner.jets.diameter": "0.8 mm"}), n=8, engine=Counted())
    ax = burnsim.plots.levers(found, Figure(figsize=(8.0, 6.0)).subplots())
    words = [plain(tick.get_text()) for tick in ax.get_yticklabels()]
    assert "burner.jets.diameter 0.8 \N{RIGHTWARDS ARROW} 0.85 mm" in words
    assert [bar.get_width() for bar in ax.patches] == [100.0] * len(words)
    assert "works" in ax.get_xlabel()


@pytest.mark.parametrize("objective", ["fuel", "efficiency", "spill"])
def test_every_objective_has_a_picture_in_both_units(objective: str, tmp_path: Path) -> None:
    one = burnsim.find_levers(BASE, objective, n=8, engine=Counted())
    for units in ("si", "us"):
        ax = burnsim.plots.levers(one, Figure(figsize=(8.0, 6.0)).subplots(), units=units)
        ax.figure.savefig(tmp_path / "levers.png")
    assert "right is better" in ax.get_xlabel() or objective == "fuel"
