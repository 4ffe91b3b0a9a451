"""The cross-section with its measures: at the scale that it states, its words apart, its leaders across nothing."""

import re
from itertools import combinations

import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.text import Text
from pages.make_pages import designs

import burnsim
from burnsim.errors import InputError
from burnsim.plots.drawing.dimensions import SCALES, Frame, Layout, Spot, lay_out
from burnsim.plots.drawing.true_scale import room_of
from burnsim.plots.style import in_style
from burnsim.units import plain

SIZES = [(7.0, 5.0), (3.8, 3.7)]
MM = 1e3


def layout_of(name: str, size: tuple[float, float], units: str = "si") -> Layout:
    figure = Figure(figsize=size, layout="constrained")
    return lay_out(designs()[name], units, room_of(figure.subplots()))


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("units", ["si", "us"])
@pytest.mark.parametrize("name", designs())
def test_no_words_of_a_drawing_meet(name: str, units: str, size: tuple[float, float]) -> None:
    layout = layout_of(name, size, units)
    boxes = [(note.text, note.box(layout.scale)) for note in layout.notes]
    for (one, box), (other, another) in combinations(boxes, 2):
        apart = box[1] <= another[0] or another[1] <= box[0] or box[3] <= another[2] or another[3] <= box[2]
        assert apart, (plain(one), plain(other))


def crossing(one: tuple[Spot, Spot], other: tuple[Spot, Spot]) -> bool:
    """Whether two straight lines cross in the inside of both."""

    def side(a: Spot, b: Spot, c: Spot) -> float:
        return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

    return side(*one, other[0]) * side(*one, other[1]) < -1e-9 and side(*other, one[0]) * side(*other, one[1]) < -1e-9


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", designs())
def test_leaders_cross_neither_each_other_nor_a_wall(name: str, size: tuple[float, float]) -> None:
    setup = designs()[name]
    layout = layout_of(name, size)
    legs = [pair for one in layout.strokes for pair in zip(one.points, one.points[1:], strict=False)]
    leaders = [leg for leg in legs if leg[0][0] != leg[1][0] and leg[0][1] != leg[1][1]]
    assert leaders
    half, top = setup.burner.outer_diameter / 2.0 * MM, setup.burner.height * MM
    walls = [((x, 0.0), (x, top)) for x in (-half, half)]
    if setup.pot is not None:
        bottom, radius = top + setup.pot.above_rim * MM, setup.pot.diameter / 2.0 * MM
        walls.append(((-radius, bottom), (radius, bottom)))
    for one, other in combinations(leaders, 2):
        assert not crossing(one, other)
    for leader in leaders:
        assert not any(crossing(leader, wall) for wall in walls)


@pytest.mark.parametrize("size", [*SIZES, (3.1, 3.3)])
@pytest.mark.parametrize("name", ["weekend_double_wall", "drop", "long"])
def test_the_stated_scale_is_true_on_paper(name: str, size: tuple[float, float]) -> None:
    setup = designs()[name]
    with in_style():
        figure = Figure(figsize=size, layout="constrained")
        canvas = FigureCanvasAgg(figure)
        ax = burnsim.plots.section(setup, figure.subplots(), dimensions=True)
        canvas.figure.draw_without_rendering()
    [(one, other)] = re.findall(r"scale ([\d.]+) : ([\d.]+)", plain(ax.get_title()))
    scale = float(other) / float(one)
    assert scale in SCALES
    half = setup.burner.outer_diameter / 2.0 * MM
    (left, low), (right, high) = ax.transData.transform([(-half, 0.0), (half, half)]) / figure.dpi * 25.4
    assert right - left == pytest.approx(2.0 * half / scale, abs=0.01)
    assert high - low == pytest.approx(half / scale, abs=0.01)
    wide, tall = figure.bbox.width, figure.bbox.height
    for text in [*ax.texts, ax.title]:
        box = Text.get_window_extent(text, canvas.get_renderer())
        assert box.x0 >= 0.0 and box.y0 >= 0.0 and box.x1 <= wide and box.y1 <= tall, text.get_text()  # noqa: PT018


def test_a_given_scale_holds_with_and_without_measures() -> None:
    setup = designs()["small"]
    for dimensions in (False, True):
        figure = Figure(figsize=(7.0, 5.0), layout="constrained")
        canvas = FigureCanvasAgg(figure)
        ax = burnsim.plots.section(setup, figure.subplots(), dimensions=dimensions, scale=1.5)
        canvas.figure.draw_without_rendering()
        (left, _), (right, _) = ax.transData.transform([(-17.5, 0.0), (17.5, 0.0)]) / figure.dpi * 25.4
        assert right - left == pytest.approx(35.0 / 1.5, abs=0.01)
    with pytest.raises(InputError, match="scale"):
        burnsim.plots.section(setup, scale=0.0)


def test_what_is_cut_and_both_gaps_are_named() -> None:
    texts = [plain(note.text) for note in layout_of("hundred", (7.0, 5.0)).notes]
    for wanted in ("gallery 4.5 wide", "rim to pot 1.5", "3 notches 3 x 1.5 deep", "4 slots 4 x 2", "wick 12 x 2"):
        assert wanted in texts
    assert "100 jets Ø 0.75, 4 rows 1.5 apart" in texts
    assert "outside Ø 62" in texts
    assert "lowest jets at 36" in texts
    assert "highest jets at 40.5" in texts  # 36 + 3 x 2 x 0.75


def test_us_units_show_fractions_and_drill_numbers() -> None:
    texts = " ".join(plain(note.text) for note in layout_of("inches", (7.0, 5.0), "us").notes)
    for wanted in (
        "outside Ø 2 5/8 in",
        "rim at 1 3/4 in",
        "gallery 1/4 in wide",
        "24 jets #65",
        "1/8 in x 1/16 in deep",
    ):
        assert wanted in texts


def test_thick_metal_is_hatched_and_thin_metal_black() -> None:
    for thickness, hatched in (("0.1 mm", False), ("3 mm", True)):
        setup = burnsim.vary(designs()["long"], {"burner.wall_thickness": thickness})
        ax = burnsim.plots.section(setup, Figure().subplots(), dimensions=True)
        patches = [patch for patch in ax.patches if patch.get_label() == "_wall"]
        assert bool(patches) == hatched
        assert all(patch.get_hatch() for patch in patches)
        assert hatched != any(line.get_label() == "_wall" for line in ax.get_lines())


def test_the_view_from_above_shows_every_jet() -> None:
    for name in ("weekend_double_wall", "inches", "hundred"):
        setup = designs()[name]
        ax = burnsim.plots.section(setup, Figure(figsize=(8.0, 6.0)).subplots(), dimensions=True)
        shown = [one for one in [*ax.get_lines(), *ax.patches] if one.get_label() == "_jet from above"]
        assert setup.burner.jets is not None
        assert len(shown) == setup.burner.jets.count


def frame_holds(frame: Frame, box: Frame) -> bool:
    return frame[0] <= box[0] and box[1] <= frame[1] and frame[2] <= box[2] and box[3] <= frame[3]


@pytest.mark.parametrize("name", designs())
def test_the_frame_holds_all_words(name: str) -> None:
    layout = layout_of(name, (7.0, 5.0))
    assert all(frame_holds(layout.frame, note.box(layout.scale)) for note in layout.notes)


SCREENS = {
    "near": ("weekend_double_wall", {"height": "120 mm", "clearance": "12 mm"}),
    "far": ("garden_open_cup", {"height": "160 mm", "clearance": "60 mm"}),
    "low": ("small", {"height": "40 mm", "clearance": "5 mm"}),
}


@pytest.mark.parametrize("which", SCREENS)
def test_a_windscreen_stands_at_its_clearance_with_its_height(which: str) -> None:
    name, screen = SCREENS[which]
    setup = burnsim.vary(designs()[name], {"screen": screen})
    assert setup.pot is not None
    assert setup.screen is not None
    with in_style():
        figure = Figure(figsize=(7.2, 4.5), layout="constrained")
        FigureCanvasAgg(figure)
        ax = burnsim.plots.section(setup, figure.subplots(), dimensions=True)
    foot = -1e3 * setup.burner.wall_thickness
    radius = 1e3 * (setup.pot.diameter / 2.0 + setup.screen.clearance)
    walls = [line for line in ax.get_lines() if line.get_label() == "_screen"]
    assert sorted(line.get_xdata()[0] for line in walls) == pytest.approx([-radius, radius])
    assert [max(line.get_ydata()) for line in walls] == pytest.approx([1e3 * setup.screen.height + foot] * 2)
    openings = [line for line in ax.get_lines() if line.get_label() == "_openings"]
    assert [min(line.get_ydata()) for line in openings] == pytest.approx([foot] * 2)
    left, right, low, high = (*ax.get_xlim(), *ax.get_ylim())
    assert left < -radius
    assert right > radius
    assert low < foot
    assert high > 1e3 * setup.screen.height + foot
    layout = lay_out(setup, "si", room_of(ax))
    words = plain(" ".join(note.text for note in layout.notes))
    assert f"screen {screen['height'].split()[0]} high" in words
    assert f"{screen['clearance'].split()[0]} from the pot" in words
    boxes = [note.box(layout.scale) for note in layout.notes]
    assert not [
        (a, b) for a, b in combinations(boxes, 2) if a[0] < b[1] and b[0] < a[1] and a[2] < b[3] and b[2] < a[3]
    ]
