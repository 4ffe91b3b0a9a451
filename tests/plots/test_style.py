"""One style: a palette for all eyes and grey paper, words clear of each other, files that say what they are."""

import importlib.util
import re
from datetime import UTC, datetime
from itertools import combinations
from pathlib import Path

import matplotlib as mpl
import numpy as np
import pytest
from burners import burnt
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.colors import to_rgb
from matplotlib.figure import Figure
from matplotlib.text import Text
from matplotlib.transforms import Bbox
from numpy.typing import NDArray
from PIL import Image

from burnsim import Burn, InputError, plots, vary
from burnsim.plots import style
from burnsim.plots.labels import spread, whole_minutes
from burnsim.units import plain

pypdf = pytest.importorskip("pypdf")
SPEC = importlib.util.spec_from_file_location("make_pages", Path(__file__).parents[1] / "pages" / "make_pages.py")
assert SPEC is not None
assert SPEC.loader is not None
make_pages = importlib.util.module_from_spec(SPEC)
SPEC.loader.exec_module(make_pages)
DESIGNS = make_pages.designs()

PALETTE = {name: getattr(style, name) for name in ("INK", "BLUE", "VERMILION", "GREEN", "ORANGE", "SKY")}
OF_WORDS = ("INK", "PALE", "BLUE", "VERMILION")

EYES = {
    "usual": np.eye(3),
    "protanopia": np.array(
        [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]]
    ),
    "deuteranopia": np.array(
        [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]]
    ),
    "tritanopia": np.array(
        [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]]
    ),
}
"""How linear sRGB looks to each: Machado, Oliveira and Fernandes 2009, IEEE TVCG 15(6), table 1, from memory."""


def linear(colour: str) -> NDArray[np.float64]:
    """Linear sRGB: IEC 61966-2-1."""
    values = np.array(to_rgb(colour))
    return np.where(values <= 0.04045, values / 12.92, ((values + 0.055) / 1.055) ** 2.4)


def lab(light: NDArray[np.float64]) -> NDArray[np.float64]:
    """CIE 1976 L*a*b* of linear sRGB under D65."""
    to_xyz = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]])
    xyz = to_xyz @ np.clip(light, 0.0, 1.0) / np.array([0.9505, 1.0, 1.089])
    x, y, z = np.where(xyz > 0.008856, np.cbrt(xyz), 7.787 * xyz + 16.0 / 116.0)
    return np.array([116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)])


def contrast(colour: str) -> float:
    """Contrast against white paper: WCAG 2.1, 1.4.3."""
    return 1.05 / (float(linear(colour) @ np.array([0.2126, 0.7152, 0.0722])) + 0.05)


@pytest.mark.parametrize("eyes", EYES)
def test_colours_can_be_told_apart_by_all_eyes(eyes: str) -> None:
    seen = {name: lab(EYES[eyes] @ linear(colour)) for name, colour in PALETTE.items()}
    for one, other in combinations(seen, 2):
        assert np.linalg.norm(seen[one] - seen[other]) > 20.0, (one, other)  # 2.3 is just noticeable


def test_grey_paper_tells_the_colours_apart() -> None:
    lightness = sorted(float(lab(linear(colour))[0]) for colour in PALETTE.values())
    assert min(np.diff(lightness)) > 7.0


@pytest.mark.parametrize("name", OF_WORDS)
def test_words_stand_out_from_paper(name: str) -> None:
    assert contrast(getattr(style, name)) >= 4.5


def test_places_are_spread_no_more_than_it_takes() -> None:
    rising = np.sort(np.random.default_rng(3).uniform(0.0, 1.0, 12)).tolist()
    moved = spread(rising, 0.2)
    assert min(np.diff(moved)) >= 0.2 - 1e-9
    assert np.mean(moved) == pytest.approx(np.mean(rising))
    assert spread([0.0, 1.0, 2.0], 0.5) == [0.0, 1.0, 2.0]


def words(figure: Figure) -> list[tuple[str, Bbox]]:
    """All words that are seen, each with its room on the page [pixels]."""
    canvas = FigureCanvasAgg(figure)
    canvas.figure.draw_without_rendering()
    texts = []
    for ax in figure.axes:
        legend = ax.get_legend()
        texts += [*ax.texts, ax.title, *(legend.get_texts() if legend is not None else ())]
        if ax.axison:
            texts += [ax.xaxis.label, ax.yaxis.label, *_ticks(ax)]
    return [
        (plain(text.get_text()), Text.get_window_extent(text, canvas.get_renderer()))
        for text in texts
        if text.get_visible() and plain(text.get_text()).strip()
    ]


def _ticks(ax: Axes) -> list[Text]:
    """Words of the ticks that lie within the axes: others are not drawn."""
    frame, found = ax.get_window_extent(), []
    for axis, low, high in ((ax.xaxis, frame.x0, frame.x1), (ax.yaxis, frame.y0, frame.y1)):
        for tick in axis.get_major_ticks():
            at = ax.transData.transform((tick.get_loc(), tick.get_loc()))[0 if axis is ax.xaxis else 1]
            if low - 0.5 <= at <= high + 0.5:
                found += [label for label in (tick.label1, tick.label2) if label.get_visible()]
    return found


def check(figure: Figure) -> None:
    """No word upon another, and all of them on the page."""
    found = words(figure)
    page = figure.bbox
    for text, box in found:
        assert page.x0 - 1.0 <= box.x0, text
        assert box.x1 <= page.x1 + 1.0, text
        assert page.y0 - 1.0 <= box.y0, text
        assert box.y1 <= page.y1 + 1.0, text
    low, high = np.array([box.min for _, box in found]), np.array([box.max for _, box in found])
    shared = np.minimum(high[:, None], high[None]) - np.maximum(low[:, None], low[None])
    upon = np.argwhere(np.triu(shared.min(axis=2) >= 1.5, 1))
    assert [(found[one][0], found[other][0]) for one, other in upon] == []


@pytest.fixture(scope="module", params=DESIGNS)
def burn(request: pytest.FixtureRequest) -> Burn:
    return burnt(DESIGNS[request.param])


PICTURES = {
    "burn": plots.burn,
    "levels": plots.levels,
    "ledger": plots.ledger,
    "flows": lambda burn, ax: plots.flows(burn, ax, at=0.4 * burn.duration),
}


@pytest.mark.parametrize("name", ["burn", "levels"])  # the others: beside each other, below
def test_no_word_stands_on_another_or_leaves_the_page(burn: Burn, name: str) -> None:
    figure = Figure(figsize=(7.0, 5.4), layout="constrained")
    PICTURES[name](burn, figure.subplots())
    check(figure)


def test_pictures_beside_each_other_keep_clear(burn: Burn) -> None:
    figure = Figure(figsize=(14.0, 9.5), layout="constrained")
    for draw, ax in zip(PICTURES.values(), figure.subplots(2, 2).flat, strict=True):
        draw(burn, ax)
    check(figure)


@pytest.mark.parametrize("place", ["a grid", "a free place"])
def test_a_burn_takes_the_place_that_it_is_given(burn: Burn, place: str) -> None:
    figure = Figure(figsize=(7.0, 6.0))
    ax = figure.subplots() if place == "a grid" else figure.add_axes((0.15, 0.1, 0.65, 0.75))
    before = ax.get_position(original=True)
    assert plots.burn(burn, ax) is ax
    panels = figure.axes
    assert len(panels) == 3
    figure.draw_without_rendering()
    for panel in panels:
        now = panel.get_position()
        assert before.x0 - 1e-6 <= now.x0
        assert now.x1 <= before.x1 + 1e-6
        assert before.y0 - 1e-6 <= now.y0
        assert now.y1 <= before.y1 + 1e-6
    times = {panel.get_xlim() for panel in panels}
    assert times == {(0.0, float(burn.time[-1]) / 60.0)}  # no negative time


def test_ticks_of_time_are_whole_minutes(burn: Burn) -> None:
    for draw in (plots.burn, plots.levels):
        figure = Figure(figsize=(5.0, 4.0), layout="constrained")
        draw(burn, figure.subplots())
        for panel in figure.axes:
            assert all(tick >= 0.0 for tick in panel.get_xticks())
            assert burn.time[-1] < 120.0 or all(tick == round(tick) for tick in panel.get_xticks())


def test_a_burn_of_less_than_two_minutes_has_its_times_too() -> None:
    """Whole minutes left one tick, at 0."""
    for last in (0.4, 0.8, 1.9, 2.1):
        ax = Figure(figsize=(7.0, 4.0)).subplots()
        whole_minutes(ax, last)
        assert sum(0.0 < tick <= last for tick in ax.get_xticks()) >= 2


def test_the_title_of_a_burn_is_its_result() -> None:
    """The words of the bench note: "water boils  8 min 53 s  21.1 ml burnt"."""
    burn = burnt(DESIGNS["weekend_double_wall"])
    title = " ".join(plain(plots.burn(burn, Figure().subplots()).get_title()).split())
    [line] = [line for line in plain(burn.summary()).splitlines() if line.strip().startswith("water boils")]
    time, fuel = re.fullmatch(r"\s*water boils\s+(.*? s)\s+(.*? ml) burnt", line).groups()  # type: ignore[union-attr]
    assert title == f"weekend double wall: boils in {time} on {fuel}"


def test_a_burn_that_warns_does_so_in_its_title() -> None:
    """A pot may boil soon over a well that it smothers, and its picture must not praise that."""
    low = burnt(vary(DESIGNS["porch_open_well"], {"pot.gap": "4 mm"}))
    assert "smothered" in [verdict.code for verdict in low.verdicts]
    title = " ".join(plain(plots.burn(low, Figure().subplots()).get_title()).split())
    assert title.endswith("; warned of: smothered")


def test_the_primer_does_not_squash_the_rest() -> None:
    burn = burnt(DESIGNS["weekend_double_wall"])
    figure = Figure()
    plots.burn(burn, figure.subplots())
    power = figure.axes[1]
    out = burn.milestones.primer_out.time
    assert out is not None
    steady = burn.series("power")[burn.time > out + 5.0].max()
    peak = burn.series("power").max()
    assert peak > 2.0 * steady
    assert power.get_ylim()[1] < 1.6 * steady
    assert f"to {peak:.0f} W" in [plain(text.get_text()) for text in power.texts]


def test_the_power_is_that_of_the_flames(burn: Burn) -> None:
    figure = Figure()
    plots.burn(burn, figure.subplots())
    [total] = [line for line in figure.axes[1].get_lines() if line.get_label() == "power"]
    assert np.asarray(total.get_ydata()) == pytest.approx(burn.series("power"))
    tops = [area.get_paths()[0].vertices[:, 1].max() for area in figure.axes[1].collections]
    assert max(tops) == pytest.approx(burn.series("power").max(), rel=0.01)


def test_a_burn_is_not_drawn_over_another() -> None:
    burn = burnt(DESIGNS["garden_open_cup"])
    ax = plots.burn(burn, Figure().subplots())
    with pytest.raises(InputError, match=r"over another burn.*pyplot.subplots"):
        plots.burn(burn, ax)


def test_long_names_stay_within_the_title(burn: Burn) -> None:
    if len(burn.setup.name) < 60:
        pytest.skip("its name is short")
    for draw in PICTURES.values():
        figure = Figure(figsize=(4.0, 4.0), layout="constrained")
        ax = figure.subplots()
        draw(burn, ax)
        assert "…" in ax.get_title()
        check_title = ax.title.get_window_extent(FigureCanvasAgg(figure).get_renderer())
        assert check_title.width <= figure.bbox.width


def test_the_users_settings_stay_and_axes_that_they_bring_get_the_style() -> None:
    burn = burnt(DESIGNS["garden_open_cup"])
    before = dict(mpl.rcParams)
    figure = Figure(layout="constrained")
    ax = plots.burn(burn, figure.subplots())
    assert dict(mpl.rcParams) == before
    figure.draw_without_rendering()
    for panel in figure.axes:
        assert not panel.spines["top"].get_visible()
        for text in (panel.yaxis.label, ax.title, *panel.get_yticklabels()):
            assert style.FAMILY in text.get_fontfamily()


def test_files_carry_letters_title_and_day(tmp_path: Path) -> None:
    burn = burnt(DESIGNS["garden_open_cup"])
    ax = plots.burn(burn, Figure(layout="constrained").subplots())
    for ending in ("pdf", "svg", "png"):
        plots.save(ax, tmp_path / f"p.{ending}")
    title = " ".join(ax.get_title().split("\n"))
    page = pypdf.PdfReader(tmp_path / "p.pdf")
    assert page.metadata is not None
    assert page.metadata.title == title
    assert page.metadata.creation_date is not None
    assert page.metadata.creation_date.date() == datetime.now(UTC).date()
    for font in page.pages[0]["/Resources"]["/Font"].values():
        assert font["/Subtype"] == "/Type0"
    with Image.open(tmp_path / "p.png") as picture:
        assert picture.info["Title"] == title
    assert title in (tmp_path / "p.svg").read_text(encoding="utf-8")
