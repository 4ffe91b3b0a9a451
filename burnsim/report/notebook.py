"""A design or a result as HTML for a notebook: its drawing and its key figures, or its words."""

from collections.abc import Callable, Iterator
from html import escape
from itertools import count
from typing import TYPE_CHECKING, Any

from burnsim import plots
from burnsim.answers import Told
from burnsim.model.description import geometry
from burnsim.model.description.setup import Setup
from burnsim.report.burn import key_figures
from burnsim.report.fields import site_text
from burnsim.report.fill import at_most, told_rows
from burnsim.report.sheet.blocks import Picture
from burnsim.report.sheet.pictures import as_svg
from burnsim.solve.results.result import Burn
from burnsim.studies.fill.record import FillLimits
from burnsim.units import told, written

if TYPE_CHECKING:
    from matplotlib.axes import Axes

Rows = Iterator[tuple[str, str]]

ROW = '<tr><td style="text-align: left">{}</td><td style="text-align: left">{}</td></tr>'
CAUTION = "Flames of spirit are nearly invisible. Before you light anything, read burnsim.CAUTIONS."
_numbers = count()


def html(result: Told) -> str:
    """A design or a result as HTML."""
    caution = f"<p><small>{CAUTION}</small></p>"
    if isinstance(result, Setup):
        return _page(result.name or "Design", lambda ax: plots.section(result, ax), _setup(result)) + caution
    if isinstance(result, Burn):
        name = result.setup.name or "Burn"
        remarks = "".join(f"<li>{escape(told(verdict.text))}</li>" for verdict in result.verdicts)
        return _page(name, lambda ax: plots.section(result.setup, ax), key_figures(result), remarks=remarks) + caution
    if isinstance(result, FillLimits):
        name = result.setup.name or "Fill limits"
        return _page(name, lambda ax: plots.fill_levels(result, ax), _limits(result), (6.4, 4.2)) + caution
    return f"<pre>{escape(result.summary())}</pre>{caution}"


def _page(
    title: str,
    draw: "Callable[[Axes], Any]",
    rows: Rows,
    size: tuple[float, float] = (4.4, 3.4),
    remarks: str = "",
) -> str:
    """A drawing of a size [in] beside a table."""
    svg = as_svg(Picture(f"drawing{next(_numbers)}", title, draw, *size, size))
    table = "<table>" + "".join(ROW.format(escape(what), escape(figure)) for what, figure in rows) + "</table>"
    return (
        '<div style="display: flex; flex-wrap: wrap; gap: 1rem">'
        f'<div style="flex: 0 1 26rem" role="img" aria-label="Cross-section, to scale">{svg}</div>'
        f'<div style="flex: 1 1 20rem">{table}<ul>{remarks}</ul></div></div>'
    )


def _limits(found: FillLimits) -> Rows:
    yield "safe on every count", "none is proven" if found.safe is None else at_most(found.safe, "si")
    yield from ((name, f"{amount}: {why}") for name, amount, why in told_rows(found, "si"))


def _setup(setup: Setup) -> Rows:
    burner, charge = setup.burner, setup.charge
    across, height = written(burner.outer_diameter, "length"), written(burner.height, "length")
    yield "burner", f"{burner.kind}, {across} wide, {height} high"
    if burner.jets is not None:
        yield "jets", f"{burner.jets.count} of {written(burner.jets.diameter, 'length', decimals=2)}"
        yield "holds to the jets", written(geometry.capacity_below_jets(burner), "volume")
    primer = f" + {written(charge.primer, 'volume')} on the wick" if charge.primer > 0.0 else ""
    yield "charge", f"{written(charge.volume, 'volume')} of {charge.fuel.name}{primer}"
    if setup.pot is None:
        yield "pot", "none"
    else:
        pot = setup.pot
        start = written(pot.water_temperature or setup.site.air_temperature, "temperature")
        yield "pot", f"{written(pot.diameter, 'length')} wide, {written(pot.water, 'volume')} of water at {start}"
    yield "site", site_text(setup, "si")
    if setup.screen is not None:
        screen = setup.screen
        yield (
            "windscreen",
            f"{written(screen.height, 'length')} high, {written(screen.clearance, 'length')} off the pot, "
            f"{written(screen.open_share, 'fraction')} open",
        )
