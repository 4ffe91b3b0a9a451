"""A pour card in words and as plain values."""

from collections.abc import Iterator, Sequence

from burnsim.report.cautions import cautions
from burnsim.report.fields import OFTEN_MORE, aligned, factors_text, on_wick, warned_text, water_text
from burnsim.report.fill import MARGIN, at_most, kept_words, pour_words, why_no_more
from burnsim.report.values import Keys
from burnsim.studies.fill.card import PourCard, PourPlace
from burnsim.units import told, written
from burnsim.units.writing import shown

LESS = (
    "For one place, burnsim fill looks at more loads and may prove more than this card, as a rule a few per cent. Both "
    "are safe."
)
FEW = 2  # places that are named; more are counted


def components(card: PourCard) -> tuple[str, ...]:
    """What the card's spirits are made of."""
    return tuple(sorted({name for place in card.places for name in place.setup.charge.fuel.components}))


def _water(place: PourPlace) -> float | None:
    pot = place.setup.pot
    return None if pot is None else pot.water_temperature or place.setup.site.air_temperature


PLACE: Keys = {
    "fuel": "setup.charge.fuel", "altitude_m": "setup.site.altitude",
    "air_temperature_K": "setup.site.air_temperature", "primer_ml": "primer", "charge_to_boil_ml": "charge",
    "warned_of": "warned", "water_temperature_K": _water,
    "largest_load_ml": lambda place: [place.most(k) for k in range(len(place.limits))],
    "charge_fits": lambda place: [place.fits(k) for k in range(len(place.limits))],
    "binding": lambda place: [pour_words(limits, "si") for limits in place.limits],
    "reason": lambda place: told(place.reason),
}  # fmt: skip
CARD: Keys = {
    "name": "setup.name", "tilts_deg": "tilts", "margin": ("margin", MARGIN), "places": ("places", PLACE),
    "cautions": lambda card: cautions([card.setup], components(card)),
}  # fmt: skip


def pour_lines(card: PourCard, units: str = "si") -> Iterator[str]:
    """The card in words: one line a place, then why where the answer is no."""
    setup = card.setup
    water = "" if setup.pot is None else f", for {water_text(setup.pot.water, units)} of water"
    yield f"{setup.name or 'burner'}: what to pour{water}"
    yield kept_words(card.places[0].limits[0], units) + "."
    yield ""
    table = [heads(card, units), *(cells(card, place, units) for place in card.places)]
    yield from (line.rstrip() for line in aligned(table, left=1))
    if any("*" in cell for row in table for cell in row):
        yield f"  * {short(card)}"
    yield ""
    yield meaning(card)
    yield from reasons(card, units)
    yield LESS
    yield factors_text(card.setup, ".")


def short(card: PourCard) -> str:
    """What a star at a load means, and what helps: a level stand where it holds what boils the water."""
    level = any(place.fits(0) and not all(map(place.fits, range(len(card.tilts)))) for place in card.places)
    return "less than boils the water: heat less of it" + (", or level the stand" if level else "")


def meaning(card: PourCard) -> str:
    """What the loads of a card are."""
    burner, pot = card.setup.burner, card.setup.pot
    boils = "" if pot is None else f"Boils on: the least charge that boils the water; {OFTEN_MORE}. "
    besides = "" if burner.wick is None else " These go into the burner; the primer goes on the wick besides."
    return f"{boils}Most: the largest load known to be safe on that slope.{besides}"


def heads(card: PourCard, units: str) -> list[str]:
    """Heads of the columns of `cells`."""
    slopes = ["level" if tilt <= 0.0 else shown(tilt, "angle", units, 3) for tilt in card.tilts]
    return ["spirit", "altitude", "air", "water", "primer", "boils on", *(f"most, {slope}" for slope in slopes)]


def cells(card: PourCard, place: PourPlace, units: str) -> list[str]:
    """A row of the card; a load with a star is less than boils the water."""
    site, water = place.setup.site, _water(place)
    row = [
        place.setup.charge.fuel.name,
        written(site.altitude, "altitude", units),
        written(site.air_temperature, "temperature", units),
        "-" if water is None else written(water, "temperature", units),
        "-" if place.primer is None else on_wick(place.primer, units, toward=1),
        "-" if place.charge is None else written(place.charge, "volume", units, toward=1),
    ]
    for k in range(len(card.tilts)):
        most = place.most(k)
        short = "*" if place.charge is not None and most is not None and not place.fits(k) else ""
        row.append(short + at_most(most, units))
    return row


def reasons(card: PourCard, units: str, *, short: bool = False) -> Iterator[str]:
    """What limits the loads, each reason once and where it does, and why a place has no primer or no charge.

    In short, under a heading that asks why no more.
    """
    limited: dict[tuple[str, bool], list[tuple[int, int]]] = {}
    for row, place in enumerate(card.places):
        if place.reason:
            yield f"{_place_text(place, units)}: {told(place.reason, units)}."
        for column, limits in enumerate(place.limits):
            why = why_no_more(limits, units)
            limited.setdefault((why, limits.safe is not None), []).append((row, column))
    for (why, some), cells_so in limited.items():
        where = _where(card, cells_so, units) if len(limited) > 1 else ""
        text = why if short else f"{'no more' if some else 'none'}, because {why}"
        yield (f"{where}: {text}" if where else text[:1].upper() + text[1:]) + "."
    if warned := warned_text([place.warned for place in card.places]):
        yield f"Warned of: {warned}: burnsim burn with such air, altitude and charge tells what to do."


def _place_text(place: PourPlace, units: str) -> str:
    site = place.setup.site
    warm, high = written(site.air_temperature, "temperature", units), written(site.altitude, "altitude", units)
    return f"{place.setup.charge.fuel.name}, air {warm}, {high}"


def _where(card: PourCard, cells_so: Sequence[tuple[int, int]], units: str) -> str:
    """Places and slopes of some cells of the card; places are left out where it has one, slopes where all have it."""
    rows, columns = (sorted(set(one)) for one in zip(*cells_so, strict=True))
    parts = []
    if len(card.places) > 1:
        many = f"{len(rows)} of {len(card.places)} places"
        parts.append("; ".join(_place_text(card.places[k], units) for k in rows) if len(rows) <= FEW else many)
    if len(columns) < len(card.tilts):
        slopes = [heads(card, units)[k - len(card.tilts)].removeprefix("most, ") for k in columns]
        parts.append(", ".join(slopes))
    text = "; ".join(parts)
    return text[:1].upper() + text[1:]
