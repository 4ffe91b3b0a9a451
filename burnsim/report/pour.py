"""A pour card in words and as plain values."""

import math
from collections.abc import Iterator

from burnsim.report.cautions import cautions
from burnsim.report.fields import water_text
from burnsim.report.fill import kept_words, pour_words
from burnsim.studies.fill.card import PourCard, PourPlace
from burnsim.units import told, written
from burnsim.units.writing import shown


def pour_text(card: PourCard, units: str = "si") -> str:
    """The card in words: one line a place, then why where the answer is no.

    Parameters
    ----------
    card : of `pour_card`
    units : "si" or "us"
    """
    return "\n".join(_lines(card, units))


def pour_dict(card: PourCard) -> dict[str, object]:
    """The card as plain values; None where nothing does, or nothing is known to be safe.

    Parameters
    ----------
    card : of `pour_card`
    """
    return {
        "name": card.setup.name,
        "tilts_deg": [math.degrees(tilt) for tilt in card.tilts],
        "margin": {"head_mm": 1e3 * card.margin.head, "share": card.margin.share},
        "places": [
            {
                "fuel": place.setup.charge.fuel.name,
                "altitude_m": place.setup.site.altitude,
                "air_temperature_K": place.setup.site.air_temperature,
                "water_temperature_K": _water(place),
                "primer_ml": _ml(place.primer),
                "charge_to_boil_ml": _ml(place.charge),
                "largest_load_ml": [_ml(place.most(k)) for k in range(len(card.tilts))],
                "charge_fits": [place.fits(k) for k in range(len(card.tilts))],
                "binding": [pour_words(limits, "si") for limits in place.limits],
                "reason": told(place.reason),
            }
            for place in card.places
        ],
        "cautions": list(cautions(card.setup.burner.has_gallery, _components(card))),
    }


def _components(card: PourCard) -> tuple[str, ...]:
    return tuple(sorted({name for place in card.places for name in place.setup.charge.fuel.components}))


def _water(place: PourPlace) -> float | None:
    pot = place.setup.pot
    return None if pot is None else pot.water_temperature or place.setup.site.air_temperature


def _ml(volume: float | None) -> float | None:
    return None if volume is None else volume * 1e6


def _lines(card: PourCard, units: str) -> Iterator[str]:
    setup = card.setup
    water = "" if setup.pot is None else f", for {water_text(setup.pot.water, units)} of water"
    yield f"{setup.name or 'burner'}: what to pour{water}"
    yield kept_words(card.places[0].limits[0], units) + "."
    yield ""
    head = ["spirit", "altitude", "air", "water", "primer", "boils on"]
    slopes = ["level" if tilt <= 0.0 else shown(tilt, "angle", units, 3) for tilt in card.tilts]
    table = [[*head, *(f"most, {slope}" for slope in slopes)]]
    table += [_row(card, place, units) for place in card.places]
    widths = [max(len(row[k]) for row in table) for k in range(len(table[0]))]
    for row in table:
        cells = [
            cell.ljust(width) if k == 0 else cell.rjust(width)
            for k, (cell, width) in enumerate(zip(row, widths, strict=True))
        ]
        yield "  " + "  ".join(cells).rstrip()
    places = [(place, k) for place in card.places for k in range(len(card.tilts))]
    if any(place.charge is not None and not place.fits(k) for place, k in places):
        yield "  * less than boils the water: heat less of it, or level the stand"
    yield ""
    yield from _why(card, units)


def _row(card: PourCard, place: PourPlace, units: str) -> list[str]:
    site, water = place.setup.site, _water(place)
    cells = [
        place.setup.charge.fuel.name,
        written(site.altitude, "altitude", units),
        written(site.air_temperature, "temperature", units),
        "-" if water is None else written(water, "temperature", units),
        "-" if place.primer is None else written(place.primer, "volume", units),
        "-" if place.charge is None else written(place.charge, "volume", units),
    ]
    for k in range(len(card.tilts)):
        most = place.most(k)
        short = "*" if place.charge is not None and not place.fits(k) else ""
        cells.append(("none" if most is None else written(most, "volume", units)) + short)
    return cells


def _why(card: PourCard, units: str) -> Iterator[str]:
    """What limits the loads, each reason once, and why a place has no primer or no charge."""
    heard: list[str] = []
    for place in card.places:
        where = (
            f"{place.setup.charge.fuel.name}, air {written(place.setup.site.air_temperature, 'temperature', units)}, "
        )
        where += written(place.setup.site.altitude, "altitude", units)
        if place.reason:
            heard.append(f"{where}: {told(place.reason, units)}.")
        for limits in place.limits:
            answer, _, because = pour_words(limits, units).partition(", because ")
            text = (
                f"No more, because {because}."
                if limits.safe is not None
                else f"{answer[0].upper()}{answer[1:]}, because {because}."
            )
            if text not in heard:
                heard.append(text)
    yield from heard
