"""What lifts the liquid of the gallery towards the jets: the level broken down by mechanism."""

from typing import NamedTuple

from burnsim.closures.capillarity import hold_off_pressure, splash_margin
from burnsim.constants import GRAVITY
from burnsim.model.at_site import charge_temperature, poured_density
from burnsim.model.balances.chambers import liquid, liquid_under_vapour
from burnsim.model.balances.state import State
from burnsim.model.description import geometry
from burnsim.model.description.setup import Setup
from burnsim.model.parameters.record import Parameters
from burnsim.substances.fuel import liquid_volume, surface_tension
from burnsim.units.writing import Quantity, Text, format_time, joined

TOUCHING = 1e-5  # closer than this counts as reached [m]

MECHANISMS = {
    "overfill": "it is filled above the edge",
    "tilt": "the stand leans, and the low side reaches the edge",
    "expansion": "the liquid expands as it warms",
    "capillary": "the narrow gallery draws the liquid up",
    "pressure": "the well's pressure pushes the liquid over into the gallery",
    "swell": "boiling swells it to a froth",
    "notch": "it is filled above the lip of the well, or above the notches in it",
    "rim": "the gallery's pressure pushes the liquid up the well and over its rim",
}
"""What can lead a spill, in words."""

OVER_THE_LIP = ("notch", "rim")  # those that let liquid over the lip of the well, not out of the jets


class Levels(NamedTuple):
    """The froth in the gallery as a sum of heights [m]: cold + expansion + capillary + pressure + swell = froth.

    On a tilted stand it spills when it reaches `edge` - `tilt`. In an open cup the same holds for liquid and rim.
    """

    cold: float  # level of all the liquid aboard, at the charge's temperature and even in gallery and well
    expansion: float  # by which warmth raises it
    capillary: float  # by which surface tension lifts a narrow gallery
    pressure: float  # by which the well's pressure above the gallery's, and liquid on its way, lift the gallery
    swell: float  # by which vapour swells it
    froth: float  # their sum
    edge: float  # lowest edge of the jets, as drawn
    tilt: float  # by which the tilt lowers it
    well: float  # level in the well
    lip: float  # level at which the well runs over, the tilt taken off
    hold_off: float  # head that a jet holds back while its outer face is dry
    splash: float  # margin for bursting bubbles, stated and not in the sum
    well_rest: float = 0.0  # level in the well at rest, of all the liquid aboard at the charge's temperature

    @property
    def clearance(self) -> float:
        """From the froth up to the lowest edge [m]; negative when it spills."""
        return self.edge - self.tilt - self.froth

    @property
    def lead(self) -> str:
        """What leads, a key of `MECHANISMS`: what reaches the edge at rest, or else adds most as it burns."""
        still = self.cold + self.capillary
        if still >= self.edge:
            return "capillary" if self.capillary > max(0.25 * self.edge, self.edge - self.cold) else "overfill"
        if still + self.tilt >= self.edge:
            return "tilt"
        if self.well >= self.lip - TOUCHING and self.clearance > TOUCHING:
            return "notch" if self.well_rest >= self.lip - TOUCHING else "rim"
        parts = ("expansion", "pressure", "swell")
        return max(parts, key=lambda name: float(getattr(self, name)))


def levels(setup: Setup, p: Parameters, state: State, froth: float) -> Levels:
    """Break the level at the jets (in an open cup: at the rim) down at one instant.

    Parameters
    ----------
    setup, p : what burns
    state : conserved quantities of the instant
    froth : its level in the gallery [m]; not read for an open cup
    """
    burner = setup.burner
    tilt = setup.site.tilt
    area, volume = 0.0, 0.0
    held = [0.0] * p.components
    gallery = liquid_under_vapour(state.gallery, state.gallery_heat, state.chill, state.air, p.gallery, p)
    well = liquid(state.well, state.well_heat, 0.0, p.well, p)
    for chamber, body in ((p.gallery, gallery), (p.well, well)):
        if chamber.present > 0.0:
            area += chamber.area
            volume += body.volume
            held = [n + body.moles * x for n, x in zip(held, body.fractions, strict=True)]
    cold = liquid_volume(tuple(held), charge_temperature(setup), p.fuel) / area
    even = volume / area
    capillary, height, body, well_rest = 0.0, even, well, 0.0
    edge = geometry.lip_height(burner)
    spill_level = geometry.overflow_level(burner, tilt)
    hold_off = 0.0
    tension = surface_tension(well.temperature, p.fuel)
    if p.gallery.present > 0.0:
        body, height = gallery, froth
        edge = geometry.lowest_jet_edge(burner)
        spill_level = geometry.spill_level(burner, tilt)
        tension = surface_tension(body.temperature, p.fuel)
        hold_off = hold_off_pressure(tension, p.jets.outlet.diameter) / (body.density * GRAVITY)
        if p.well.present > 0.0:
            most = even * (area / p.gallery.area - 1.0)  # with all of it in the gallery
            capillary = min(p.slots.lift * p.well.area / area, most)
            well_rest = cold - capillary * p.gallery.area / p.well.area
    return Levels(
        cold=cold, expansion=even - cold, capillary=capillary, pressure=body.level - even - capillary,
        swell=height - body.level, froth=height, edge=edge, tilt=edge - spill_level,
        well=well.level if p.well.present > 0.0 else 0.0, lip=p.well.lip, hold_off=hold_off,
        splash=splash_margin(tension, body.density), well_rest=well_rest,
    )  # fmt: skip


def in_words(found: Levels) -> Text:
    """The breakdown as one clause; of what runs over the well's lip, its level.

    >>> from burnsim.units import plain
    >>> level = Levels(20e-3, 1e-3, 0.0, 15e-3, 3e-3, 39e-3, 38.5e-3, 0.0, 9e-3, 45e-3, 11e-3, 3e-3)
    >>> plain(in_words(level))
    'cold level 20.0 mm, expansion +1.0 mm, pressure +15.0 mm, swell +3.0 mm = 39.0 mm, edge at 38.5 mm'
    """
    if found.lead in OVER_THE_LIP:
        level = found.well_rest if found.lead == "notch" else found.well
        stands = "as it is poured the well stands" if found.lead == "notch" else "the well stands"
        return Text("{} at {}, its lip at {}", stands, _height(level), _height(found.lip))
    parts: list[str] = [Text("cold level {}", _height(found.cold))]
    for name in ("expansion", "capillary", "pressure", "swell"):
        part = float(getattr(found, name))
        if abs(part) >= 0.05e-3:
            label = "capillary lift" if name == "capillary" else name
            parts.append(Text("{} {}{}", label, "+" if part > 0.0 else "", _height(part)))
    total = Text("{} = {}", joined(", ", parts), _height(found.froth)) if len(parts) > 1 else parts[0]
    text = Text("{}, edge at {}", total, _height(found.edge))
    return Text("{} less {} for the tilt", text, _height(found.tilt)) if found.tilt > 0.0 else text


def spill_sentence(setup: Setup, time: float, found: Levels, highest: float, spilled: float) -> Text:
    """A spill in words, for people: when, what led, what adds up to it, how much leaves, and what dry jets change.

    It began at a time [s] with the levels that were found; the froth rose to its highest later, as it drained [m], and
    so much was spilled in all [kg].
    """
    amount = spilled / poured_density(setup)
    lead = found.lead
    where = "the rim" if lead in OVER_THE_LIP or setup.burner.jets is None else "the jets"
    when = (
        f"Liquid or froth reaches {where} at {format_time(time)}"
        if time > 0.0
        else f"Liquid reaches {where} before the match"
    )
    text = Text("{}: {} ({}). {} run out.", when, MECHANISMS[lead], in_words(found), Quantity(amount, "volume"))
    if where == "the jets":
        above = highest - (found.edge - found.tilt)
        more = "; it rises higher even than that." if above > found.hold_off else "."
        dry = "Dry faces of the jets hold back {} more, and wetted ones nothing{}"
        text = joined(" ", [text, Text(dry, _height(found.hold_off), more)])
    return joined(" ", [text, "The burner needs relief notches, or a pot on bumps."]) if lead == "pressure" else text


def _height(value: float) -> Quantity:
    return Quantity(value, "length")
