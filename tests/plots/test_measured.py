"""Readings over a prediction: what is drawn is what was measured, and what is left is the difference."""

from collections.abc import Iterator

import numpy as np
import pytest
from matplotlib import pyplot as plt

import burnsim
from burnsim.studies.bench.log import BenchLog, parse_bench_log
from burnsim.studies.predict.prediction import Prediction, predict
from burnsim.units import plain
from tests.studies.calibrate.test_calibrate import BURN, bench
from tests.studies.stand_in import design


@pytest.fixture(scope="module")
def found() -> Prediction:
    return predict(design(), n=64, engine=BURN)


@pytest.fixture(autouse=True)
def _closed() -> Iterator[None]:
    yield
    plt.close("all")


def drawn(ax: plt.Axes, label: str) -> tuple[np.ndarray, np.ndarray]:
    (line,) = [line for line in ax.get_lines() if line.get_label() == label]
    return np.asarray(line.get_xdata(), dtype=float), np.asarray(line.get_ydata(), dtype=float)


@pytest.mark.parametrize(("units", "size", "zero"), [("si", 1.0, 273.15), ("us", 5.0 / 9.0, 459.67 * 5.0 / 9.0)])
def test_points_are_the_readings_and_what_is_left_is_their_difference(
    found: Prediction, units: str, size: float, zero: float
) -> None:
    log: BenchLog = bench({}, 1)
    upper, lower = burnsim.plots.measured(log, found, units=units)
    when, what = log.water()
    minutes, readings = drawn(upper, "measured")
    assert minutes == pytest.approx(when / 60.0)
    assert readings == pytest.approx((what - zero) / size)
    time, middle = found.water_quantiles((0.5,), 0.5, "next")
    minutes, left = drawn(lower, "measured")
    assert left == pytest.approx(
        (np.interp(60.0 * minutes, time, middle[0]) * -1.0 + what[: len(left)]) / size, abs=1e-9
    )
    (band,) = [area for area in lower.collections if plain(str(area.get_label())) == "90 % of next burns"]
    assert (
        band.get_paths()[0].contains_points(np.column_stack([minutes, left])).mean() >= 0.9
    )  # a burn of the mean build
    upper.figure.canvas.draw()
    boxes = [axis.get_position() for axis in (upper, lower)]
    assert (boxes[0].x0, boxes[0].x1) == pytest.approx((boxes[1].x0, boxes[1].x1))  # one time stands above the other
    assert upper.get_xlim() == lower.get_xlim()
    seen = [line for line in upper.get_lines() if line.get_marker() == "X"]
    assert [float(line.get_xdata()[0]) * 60.0 for line in seen] == pytest.approx(
        [log.bloom.time, log.boil.time, log.burnout.time]
    )


def test_it_draws_on_axes_that_are_given_and_milestones_alone(found: Prediction) -> None:
    axes = plt.subplots(2, 1)[1]
    log = parse_bench_log("seen.bloom = 0:20\nseen.boil = 10:00")
    assert burnsim.plots.measured(log, found, axes) == tuple(axes)
    assert len([line for line in axes[0].get_lines() if line.get_marker() == "X"]) == 2
    assert not len(drawn(axes[1], "measured")[0])
