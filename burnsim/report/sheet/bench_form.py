"""A blank bench log to fill in by hand: its fields are those that a bench log in a file may state."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from burnsim.report.fields import water_text
from burnsim.report.sheet.blocks import Block, Form, Heading, Words
from burnsim.units import measure, written

if TYPE_CHECKING:
    from burnsim.model.description.setup import Setup

ROWS = 29


def bench_form(setup: "Setup", units: str = "si") -> Iterator[Block]:
    """Heading, hints and the form.

    Parameters
    ----------
    setup : the design that it is for; what was planned is printed beside some blanks
    units : "si" or "us"
    """
    degrees, volume = measure("temperature", units).unit, measure("volume", units).unit
    charge, pot = setup.charge, setup.pot
    planned = f"plan {written(charge.volume, 'volume', units)}"
    primer = f"plan {written(charge.primer, 'volume', units)}"
    water = ""
    if pot is not None:
        water = f"plan {water_text(pot.water, units)}"
    fields = [
        ("build", ""),
        ("date", ""),
        ("fuel (what the bottle says)", ""),
        ("fuel poured in", planned),
        ("primer on the wick", primer),
        ("burner filled, on the scale", "g"),
        ("water, volume", water),
        ("water, mass", "g"),
        ("water, start", degrees),
        ("pot empty, mass", "g"),
        ("lid on?", ""),
        ("air", degrees),
        ("altitude or pressure", ""),
        ("humidity", "%"),
        ("wind", measure("velocity", units).unit),
        ("clock at the match", "min:s"),
        ("bloom: all jets lit", "min:s"),
        ("boil: full rolling boil", "min:s"),
        ("burn-out: last flame", "min:s"),
        ("spill seen? when", "min:s"),
        ("fuel left", volume),
        ("water left, mass", "g"),
        ("thermometer good to", degrees),
        ("clock good to", "s"),
    ]
    if setup.burner.wick is None:
        fields.remove(("primer on the wick", primer))
    if setup.burner.jets is None:
        fields.remove(("bloom: all jets lit", "min:s"))
    yield Heading(f"Bench log: {setup.name or 'burner'}")
    yield Words(
        "Weigh the burner before and after; stir before each reading; note the time on a running clock. Typed into a "
        "file as rows of time, water temperature, mass and note, it can be read back by burnsim.",
        small=True,
    )
    columns = (
        "time [min:s]",
        f"water [{degrees}]",
        "burner on the scale [g]",
        "note (boil, spill ...)" if setup.burner.jets is None else "note (bloom, boil, spill ...)",
    )
    yield Form(tuple(fields), columns, ROWS)
