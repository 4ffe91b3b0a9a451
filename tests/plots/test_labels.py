"""Words in pictures: none struck through by a line, none upon another, none over a curve's first readings."""

from pathlib import Path

import pytest
from burners import burnt
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.text import Text
from matplotlib.transforms import Bbox

import burnsim
from burnsim import Burn
from burnsim.plots.curves import MARKS
from burnsim.units import format_time, plain

EXAMPLES = [
    path
    for path in sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
    if "[burner]" in path.read_text(encoding="utf-8")  # designs only
]


def drawn(width: float, height: float) -> tuple[FigureCanvasAgg, Axes]:
    figure = Figure(figsize=(width, height), layout="constrained")
    return FigureCanvasAgg(figure), figure.subplots()


def boxes(canvas: FigureCanvasAgg, texts: list[Text]) -> list[tuple[Text, Bbox]]:
    """Each text's own room on the page [pixels], without its ground and its arrow."""
    canvas.figure.draw_without_rendering()
    found = []
    for text in texts:
        if plain(text.get_text()):
            found.append((text, Text.get_window_extent(text, canvas.get_renderer())))
    return found


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda path: path.stem)
def burn(request: pytest.FixtureRequest) -> Burn:
    return burnt(burnsim.load(request.param))


def crossed(canvas: FigureCanvasAgg, ax: Axes) -> list[tuple[Text, float]]:
    """Words of a cross-section that a leg of the stand runs through, and the order of that leg."""
    legs = [line for line in ax.get_lines() if line.get_label() == "_stand"]
    found = []
    for text, box in boxes(canvas, ax.texts):
        for leg in legs:
            (x, low), (_, high) = leg.get_transform().transform(leg.get_xydata())
            if box.x0 <= x <= box.x1 and box.y1 >= min(low, high) and box.y0 <= max(low, high):
                found.append((text, leg.get_zorder()))
    return found


@pytest.mark.parametrize("units", ["si", "us"])
def test_legs_of_the_stand_stop_at_words(units: str) -> None:
    seen = 0
    for path in EXAMPLES:
        canvas, ax = drawn(4.0, 3.7)
        burnsim.plots.section(burnsim.load(path), ax, dimensions=True, units=units)
        for text, order in crossed(canvas, ax):
            ground = text.get_bbox_patch()
            assert ground is not None, plain(text.get_text())
            assert ground.get_facecolor() == (1.0, 1.0, 1.0, 1.0)
            assert text.get_zorder() > order
            seen += 1
    assert seen > 0  # some words do stand there


@pytest.mark.parametrize("size", [(3.5, 3.4), (5.8, 3.6), (7.0, 5.6)])
def test_milestones_stand_above_the_curves_with_their_times(burn: Burn, size: tuple[float, float]) -> None:
    for plot in (burnsim.plots.burn, burnsim.plots.levels):
        canvas, ax = drawn(*size)
        plot(burn, ax)
        marks = {label: getattr(burn.milestones, name).time for name, label in MARKS.items()}
        wanted = {f"{label} {format_time(time)}" for label, time in marks.items() if time is not None}
        names = boxes(canvas, [text for text in ax.texts if text.get_text() in wanted])
        assert {text.get_text() for text, _ in names} == wanted
        frame = ax.get_window_extent()
        for text, box in names:
            assert box.y0 > frame.y1 - 1.0, plain(text.get_text())


def test_a_sealed_chamber_has_no_gallery(burn: Burn) -> None:
    sealed = burn.setup.burner.kind == "sealed chamber"
    canvas, ax = drawn(7.0, 4.4)
    burnsim.plots.burn(burn, ax)
    canvas.figure.draw_without_rendering()
    words = " ".join(str(line.get_label()) for line in ax.get_lines())
    assert ("chamber" in words) == sealed
    if burn.setup.burner.kind == "double wall":
        assert "gallery fuel" in words
    assert ("well fuel" in words) == burn.setup.burner.has_inner_wall


def test_a_burn_says_what_its_lowest_panel_is_and_names_jets_once_they_burn(burn: Burn) -> None:
    _, ax = drawn(7.0, 5.6)
    burnsim.plots.burn(burn, ax)
    _, power, fuel = ax.figure.axes
    assert plain(fuel.get_ylabel()) == "fuel [ml]"
    bloom = burn.milestones.bloom.time
    [*named] = [text for text in power.texts if text.get_text() == "jets"]
    assert len(named) == (bloom is not None)
    assert all(text.get_position()[0] * 60.0 > bloom for text in named)
