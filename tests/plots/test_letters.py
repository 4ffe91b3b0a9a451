"""The one set of letters: figures of one width, every sign that we write, embedded wherever it is shown."""

import re
from base64 import b64decode
from io import BytesIO
from pathlib import Path

import matplotlib as mpl
import pytest
from fontTools.ttLib import TTFont
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from pages.words import ASCENT, DESCENT

import burnsim
from burnsim.plots.letters import FAMILY, FILES, face, font_css
from burnsim.plots.style import in_style

pypdf = pytest.importorskip("pypdf")
SIGNS = "°²³×±−Ø–…≤≥→½′″\N{NO-BREAK SPACE}"


@pytest.mark.parametrize("weight", FILES)
def test_figures_are_of_one_width_and_all_signs_are_there(weight: str) -> None:
    font = TTFont(face(weight))
    known = font.getBestCmap()
    assert len({font["hmtx"][known[ord(figure)]][0] for figure in "0123456789"}) == 1
    assert not [sign for sign in SIGNS if ord(sign) not in known]
    assert font["OS/2"].fsType == 0  # may be embedded


def test_letters_stay_within_the_height_that_pages_count_with() -> None:
    font = TTFont(face())
    known, glyphs, em = font.getBestCmap(), font["glyf"], font["head"].unitsPerEm
    for letter in "AbdfghjklpqQy0123456789Ø°()/":
        shape = glyphs[known[ord(letter)]]
        assert shape.yMax <= ASCENT * em, letter
        assert shape.yMin >= -DESCENT * em, letter


def test_a_page_carries_the_letters_that_it_shows() -> None:
    rules = font_css("20 °C − 3 mm²")
    fonts = [b64decode(data) for data in re.findall(r"base64,([^)]+)\)", rules)]
    assert len(fonts) == 2
    for data in fonts:
        known = TTFont(BytesIO(data)).getBestCmap()
        assert all(ord(letter) in known for letter in "aZ09°−²")
        assert ord("Ж") not in known
        assert len(data) < 25_000


def test_pictures_come_in_these_letters_and_leave_the_settings_alone(tmp_path: Path) -> None:
    setup = burnsim.load(Path(__file__).parents[2] / "examples" / "weekend_double_wall.toml")
    before = mpl.rcParams["font.family"]
    figure = Figure(layout="constrained")
    FigureCanvasAgg(figure)
    with in_style():
        ax = figure.subplots()
        ax.plot([0.0, 1.0], [0.0, 1.0])
        burnsim.plots.section(setup, figure.add_subplot())
        figure.savefig(tmp_path / "p.pdf")
    assert mpl.rcParams["font.family"] == before
    fonts = pypdf.PdfReader(tmp_path / "p.pdf").pages[0]["/Resources"]["/Font"].values()
    for font in fonts:
        assert font.get_object()["/Subtype"] == "/Type0"  # TrueType, not curves
        assert FAMILY.replace(" ", "") in font["/BaseFont"]
