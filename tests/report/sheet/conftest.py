"""What a sheet is made from in these tests."""

from pathlib import Path

import numpy as np
import pytest
from burners import burnt

import burnsim
import burnsim.studies.calibrate.posterior
from burnsim.report.paper import PAPERS
from burnsim.report.sheet import Findings
from burnsim.report.sheet.content import make_sheet
from burnsim.report.sheet.html import html_sheet
from burnsim.report.sheet.pdf import pdf_sheet
from burnsim.studies.calibrate.repeats import repeats_of
from burnsim.studies.fill.record import USUAL, FillLimits, Limit
from burnsim.studies.fill.relief import Relief
from burnsim.studies.fuels.charge import LeastCharge
from burnsim.studies.fuels.comparison import FuelComparison, FuelRow
from burnsim.studies.fuels.spirit import describe_spirit
from burnsim.studies.predict.prediction import FIGURES, Prediction


@pytest.fixture(scope="session")
def whole() -> Findings:
    """A real burn and two real fuels; limits and bands made up, as the studies would hand them over."""
    setup = burnsim.load(Path(__file__).parents[3] / "examples" / "weekend_double_wall.toml")
    burn = burnt(setup)
    safe = Limit(41e-6, 46e-6, "swell", "boiling swells it to a froth", "head")
    none = Limit(None, None, None, "no load that was looked at spills")
    fill = FillLimits(setup, USUAL, safe, safe, safe, safe, safe, none, None)
    relief = Relief(4.2e-6, 3, 3e-3, 1.5e-3, 37e-6, "the well's pressure pushes the liquid over", True, False)
    rows = tuple(fuel_row(name, boil) for name, boil in (("methanol", 540.0), ("2-propanol 70", None)))
    fuels = FuelComparison(setup, "fixed", 1, rows)
    values = np.linspace(0.9, 1.1, 9)
    figures = {name: np.full(9, np.nan) for name in FIGURES}
    figures |= {"bloom": 20.0 * values, "boil": 600.0 * values, "power_median": 500.0 * values}
    figures["boil"][:3] = np.nan
    told = Prediction(
        setup, burnsim.studies.calibrate.posterior.make_prior(setup.factors), {}, 0, (), np.empty((9, 0)), figures,
        tuple(frozenset() for _ in range(9)), np.full(9, True), (), np.empty(0), np.empty((9, 0)),
        repeats_of(9, pace=0.0), None,
    )  # fmt: skip
    return Findings(burn, fill, relief, fuels, told)


@pytest.fixture(scope="session")
def whole_pdf(whole: Findings) -> bytes:
    """It as pages of A4."""
    return pdf_sheet(make_sheet(whole.burn.setup, whole), PAPERS["a4"])


@pytest.fixture(scope="session")
def whole_html(whole: Findings) -> str:
    """It as a page for a screen."""
    return html_sheet(make_sheet(whole.burn.setup, whole))


def fuel_row(name: str, boil: float | None) -> FuelRow:
    reasons = {} if boil else {"boil": "made up"}
    least = LeastCharge(None, "made up", 60e-6, True, ())
    nothing = (None,) * 8  # efficiency to carried volume
    return FuelRow(
        describe_spirit(burnsim.blend(name)), 37e-6, 3e-6, least, 20.0, boil, 900.0, boil and 16e-3, 480.0, *nothing,
        None,
        ("no boil",) if boil is None else (), reasons, None,
    )  # fmt: skip
