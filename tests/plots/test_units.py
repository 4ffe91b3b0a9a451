"""One switch of units for every picture: `units="us"` changes numbers and labels together."""

import inspect
from collections.abc import Iterator
from types import SimpleNamespace

import numpy as np
import pytest
from matplotlib.figure import Figure

import burnsim.plots
from burnsim import plots
from burnsim.errors import InputError
from burnsim.model.description.burner import Burner
from burnsim.model.description.conditions import Charge, Pot
from burnsim.model.description.setup import Setup
from burnsim.studies.calibrate.data import Residual
from burnsim.studies.fuels.charge import LeastCharge
from burnsim.studies.fuels.comparison import FuelComparison, FuelRow
from burnsim.studies.fuels.distillation import Distillation
from burnsim.studies.fuels.spirit import describe_spirit
from burnsim.studies.search.trial import Candidate
from burnsim.studies.start.grid import MORE_PRIMER, StartCell, StartMap
from burnsim.substances.blend import blend, density
from burnsim.units import parse, plain

CUP = Setup(
    Burner("open cup", outer_diameter=65e-3, height=25e-3, wall_thickness=0.3e-3, metal="steel"),
    Charge(blend("methanol"), volume=15e-6),
    Pot(diameter=0.14, height=0.09, water=0.5e-3, rest="stand", gap=35e-3),
    name="small cup",
)
OUNCE, FLUID_OUNCE = 28.349523125, 29.5735295625  # [g], [ml]; NIST Handbook 44
WITHOUT = {"bands"}
"""Watts and joules only, or numbers that the caller brings with their label."""


def all_plots() -> Iterator[tuple[str, object]]:
    for name in burnsim.plots.__all__:
        if name not in ("draw", "in_style", "save"):
            yield name, getattr(burnsim.plots, name)


def test_every_picture_takes_the_switch() -> None:
    drawn = dict(all_plots())
    assert len(drawn) > 15
    assert all("ax" in inspect.signature(plot).parameters for name, plot in drawn.items() if name != "sweep_panels")
    without = {name for name, plot in drawn.items() if "units" not in inspect.signature(plot).parameters}
    assert without == WITHOUT


def compared() -> FuelComparison:
    spirit = describe_spirit(blend("methanol"))
    nothing = (None,) * 8  # efficiency to carried volume
    least = LeastCharge(None, "made up", 60e-6, True, ())
    row = FuelRow(
        spirit, 15e-6, 0.0, least, None, 300.0, 900.0, OUNCE * 1e-3, 480.0, *nothing, None, (),
        {"bloom": "made up"}, None,
    )  # fmt: skip
    return FuelComparison(CUP, "fixed", 1, (row,))


def test_fuels() -> None:
    ax = plots.fuels(compared(), Figure().subplots(), units="us")
    assert plain(ax.get_xlabel()) == "spirit gone by the boil [fl oz]"
    [fluid] = (bar.get_width() for bar in ax.patches)
    assert "1.000 oz" in plain(ax.texts[0].get_text())
    assert fluid == pytest.approx(OUNCE / 0.7913 / FLUID_OUNCE, rel=2e-3)  # 0.7913 g/ml: CRC Handbook, from memory
    assert "it takes least of methanol to boil " in plain(ax.get_title())
    assert "fl oz" not in ax.get_title()  # its space is one that no line ends at
    assert " l " not in plain(ax.get_title())
    assert plots.fuels(compared(), Figure().subplots()).get_xlabel() == "spirit gone by the boil [ml]"
    with pytest.raises(InputError, match="units"):
        plots.fuels(compared(), Figure().subplots(), units="imperial")


def test_tables_of_fuels() -> None:
    lines = plain(compared().summary("us")).splitlines()
    [units] = [k for k, line in enumerate(lines) if "vol %" in line]
    assert lines[units].split() == [
        "vol", "%", "mass", "%", "oz/fl", "oz", "kJ/fl", "oz", "kJ/oz", "degF", "degF", "mass", "%"
    ]  # fmt: skip
    row = lines[units + 1].split()
    assert row[0] == "methanol"
    assert float(row[-3]) == pytest.approx(148.5, abs=1.0)  # 64.7 degC: CRC Handbook, from memory
    assert "1.00" in next(line for line in lines[units + 4 :] if line.startswith("  methanol"))  # oz to boil
    assert " ml" not in "\n".join(lines)
    assert "degC" not in "\n".join(lines)


def start() -> StartMap:
    cell = StartCell(273.15, 304.8, MORE_PRIMER, "", FLUID_OUNCE * 1e-6, 284.0, False, None, 20.0, 300.0, 59.15e-6)
    return StartMap(CUP, (273.15,), (304.8,), 60e-6, ((cell,),))


def test_start_map() -> None:
    ax = plots.start_map(start(), Figure().subplots(), units="us")
    assert (plain(ax.get_xlabel()), plain(ax.get_ylabel())) == ("air [degF]", "altitude [ft]")
    assert [plain(text.get_text()) for text in ax.get_xticklabels()] == ["32"]
    assert [plain(text.get_text()) for text in ax.get_yticklabels()] == ["1000"]
    words = plain(ax.texts[0].get_text())
    assert "+1.00 fl oz" in words
    assert "2.00 fl oz" in words
    assert "0.000 fl oz of primer" in plain(ax.get_title())
    told = plain(start().summary("us"))
    assert "1000 ft" in told
    assert "Fluid ounces to boil" in told
    assert "may lie 18 degF off" in told
    assert " ml" not in told
    assert "degC" not in told


def test_distillation_is_the_same_in_both() -> None:
    time = np.array([0.0, 60.0])
    half = np.full((2, 2), 0.5)
    told = Distillation(("ethanol", "water"), time, time, half, half, time, time)
    assert plots.distillation(told, Figure().subplots(), units="us").get_ylabel() == "share of the mass [%]"
    with pytest.raises(InputError, match="units"):
        plots.distillation(told, Figure().subplots(), units="imperial")


def test_calibration() -> None:
    rows = (Residual("one", "boil", 600.0, 1.0, 0.5, "s", 10.0), Residual("one", "water", 60.0, 2.0, 1.0, "K", 1.0))
    found = SimpleNamespace(residuals=rows, bad=False)
    for units, unit, size in (("si", "K", 1.0), ("us", "degF", 1.8)):
        _, lower = plots.calibration(found, Figure().subplots(2, 1), units=units)
        assert plain(lower.get_ylabel()) == f"water, model less bench [{unit}]"
        drawn = {str(line.get_label()): float(np.asarray(line.get_ydata())[0]) for line in lower.get_lines()}
        assert drawn["one, before"] == pytest.approx(2.0 * size)  # a difference: no zero is taken off
        assert drawn["one, after"] == pytest.approx(1.0 * size)


def test_a_calibration_without_readings_says_so() -> None:
    """Times alone are a log: the panel of the readings holds no empty scale, and no warning of a legend."""
    found = SimpleNamespace(residuals=(Residual("one", "boil", 600.0, 1.0, 0.5, "s", 10.0),), bad=False)
    _, lower = plots.calibration(found, Figure().subplots(2, 1))
    assert [text.get_text() for text in lower.texts] == ["no readings of the water"]
    assert not lower.axison


def test_search() -> None:
    one = Candidate({"burner.jets.diameter": 1e-3}, {"boil": 600.0, "boil_fuel": OUNCE * 1e-3}, (), "")
    found = SimpleNamespace(
        trade_off=("boil", "boil_fuel"), front=(one,), best=(one,), objective="boil_fuel", base=CUP, feasible=1,
        drawn=0, designs=2, nearest=None,
    )  # fmt: skip
    ax = plots.search(found, Figure().subplots(), units="us")
    assert (plain(ax.get_xlabel()), plain(ax.get_ylabel())) == ("time to boil [min]", "fuel burnt by the boil [fl oz]")
    [star] = [line for line in ax.get_lines() if line.get_marker() == "*" and line.get_label() != "_key"]
    poured = OUNCE * 1e-3 / density(CUP.charge.fuel, CUP.site.air_temperature) / parse("1 fl oz", "volume")
    assert (star.get_xdata()[0], star.get_ydata()[0]) == (pytest.approx(10.0), pytest.approx(poured))
    assert plain(ax.texts[0].get_text()) == "jets diameter 0.0394 in"
    assert plots.search(found, Figure().subplots()).get_ylabel() == "fuel burnt by the boil [ml]"
    other = SimpleNamespace(**{**vars(found), "best": (), "nearest": one._replace(changes={"charge.fuel": "ethanol"})})
    assert plots.search(other, Figure().subplots()).get_ylabel() == "fuel burnt by the boil [g]"  # each has its density


def test_powers_of_two_logs_differ_in_more_than_shade() -> None:
    never = SimpleNamespace(time=None)
    power = SimpleNamespace(
        time=np.array([0.0, 60.0]), slope=np.array([300.0, 290.0]), slope_error=np.array([9.0, 9.0])
    )
    results = [
        SimpleNamespace(
            log=SimpleNamespace(
                name=name, water=lambda: (np.array([0.0]), np.array([290.0])), bloom=never, boil=never, burnout=never
            ),
            power=power,
            boiling_point=373.15,
        )
        for name in ("one", "two")
    ]
    _, lower = plots.bench(results, Figure().subplots(2, 1))
    lines = lower.get_lines()
    assert [line.get_label() for line in lines] == ["one", "two"]
    assert len({line.get_linestyle() for line in lines}) == 2
    assert [plain(text.get_text()) for text in lower.get_legend().get_texts()] == ["one", "two"]


def test_bench() -> None:
    never = SimpleNamespace(time=None)
    log = SimpleNamespace(
        name="one", water=lambda: (np.array([0.0, 60.0]), np.array([273.15, 373.15])), bloom=never, boil=never,
        burnout=never,
    )  # fmt: skip
    results = [SimpleNamespace(log=log, power=None, boiling_point=373.15)]
    upper, lower = plots.bench(results, Figure().subplots(2, 1), units="us")
    assert not lower.get_lines()
    assert plain(upper.get_ylabel()) == "water [degF]"
    readings = next(line for line in upper.get_lines() if line.get_label() == "one")
    assert np.asarray(readings.get_ydata()) == pytest.approx([32.0, 212.0])
