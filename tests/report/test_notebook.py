"""A design and what came of it, as a notebook shows them: one line, words, and HTML with the drawing."""

from xml.etree import ElementTree

import pytest

import burnsim
from burnsim import Charge, Setup
from burnsim.studies.fill.record import FillLimits
from tests.burners import PALM, burnt

SETUP = Setup(PALM, Charge("methanol", "20 ml", "3 ml"), name="palm & cup")


@pytest.fixture(scope="module")
def burn() -> burnsim.Burn:
    return burnt(SETUP)


@pytest.fixture(scope="module")
def limits() -> FillLimits:
    return burnsim.find_fill_limit(SETUP, scan=5, engine="compiled")


@pytest.mark.parametrize("which", ["setup", "burn", "limits"])
def test_html_has_the_drawing_the_figures_and_the_cautions(which: str, burn: burnsim.Burn, limits: FillLimits) -> None:
    shown: Setup | burnsim.Burn | FillLimits = {"setup": SETUP, "burn": burn, "limits": limits}[which]
    text = shown._repr_html_()
    whole = ElementTree.fromstring(f"<div>{text}</div>")
    assert whole.find(".//{http://www.w3.org/2000/svg}path") is not None
    words = " ".join(" ".join(whole.itertext()).split())
    assert "palm & cup" in words
    assert "burnsim.CAUTIONS" in words
    figure = {"setup": "20.0", "burn": "jets light (bloom)", "limits": "safe on every count"}[which]
    assert figure in words
    assert shown._repr_html_() != text  # two in one page do not share the names of their parts


def test_a_line_stands_for_each_and_print_tells_it(burn: burnsim.Burn, limits: FillLimits) -> None:
    for result in (burn, limits):
        assert len(repr(result)) < 130
        assert "\n" not in repr(result)
        assert str(result) == result.summary()
    assert "Follows from the drawing" in str(SETUP)
