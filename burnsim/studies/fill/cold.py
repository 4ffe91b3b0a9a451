"""How much may be poured in before liquid stands at the jets or the rim: hydrostatics, level and tilted."""

import math
from typing import NamedTuple

from burnsim.closures.capillarity import gap_rise, hold_off_pressure
from burnsim.constants import GRAVITY
from burnsim.model import Setup
from burnsim.model.at_site import charge_temperature, fuel_boils, poured_density
from burnsim.model.description import geometry
from burnsim.substances.blend import density, fuel_record
from burnsim.substances.fuel import surface_tension


class ColdFill(NamedTuple):
    """A load at rest that just reaches an edge."""

    volume: float  # [m3]
    binding: str  # "jets" or "rim"
    gallery: float  # level of the gallery on the axis [m]
    well: float  # level of the well on the axis [m]


class Capillarity(NamedTuple):
    """What surface tension does to a cold charge."""

    lift: float  # of a narrow gallery above the well [m]
    hold_off: float  # head that a jet with a dry outer face holds back [m]


def cold_capillarity(setup: Setup) -> Capillarity:
    """Lift of the gallery and hold-off head of the jets for the charge as it is poured."""
    burner = setup.burner
    temperature = charge_temperature(setup)
    tension = surface_tension(temperature, fuel_record(setup.charge.fuel))
    rho = density(setup.charge.fuel, temperature)
    lift = 0.0
    if burner.has_inner_wall and burner.gallery_gap is not None:
        lift = min(gap_rise(tension, 1.0, rho, burner.gallery_gap), burner.height)
    hold = 0.0
    if burner.jets is not None:
        hold = hold_off_pressure(tension, burner.jets.diameter * setup.factors.hole_diameter) / (rho * GRAVITY)
    return Capillarity(lift, hold)


def cold_fill(setup: Setup, tilt: float, below: float = 0.0, dry: bool = False) -> ColdFill:
    """The load at rest whose surface just reaches the lowest jet edge or the lip of the well, on a tilt's low side.

    The load of the setup does not count. A head is kept `below` every edge [m]; `dry` counts the head that jets with
    dry outer faces hold back. One plane lies in gallery and well, but for the capillary lift of the gallery. With dry
    jets the liquid in a closed gallery stops at their upper edge, where they shut the air in above it, and only the
    well rises on; so the well's lip may bind.
    """
    burner = setup.burner
    slope = math.tan(tilt)
    lift, hold = cold_capillarity(setup)
    lip = geometry.lip_height(burner) - below - 0.5 * geometry.well_diameter(burner) * slope
    if not burner.has_gallery:
        return ColdFill(geometry.well_volume(burner, lip, tilt), "rim", lip, lip)
    edge = geometry.lowest_jet_edge(burner) - below - geometry.jet_reach(burner) * slope
    reached = edge + (hold if dry else 0.0)
    binding = "jets"
    gallery, well = reached, reached - lift
    if dry and burner.has_inner_wall and burner.jets is not None and burner.jets.direction == "side":
        shut = max(geometry.jet_heights(burner)) + 0.5 * burner.jets.diameter - geometry.jet_reach(burner) * slope
        gallery = min(gallery, shut - below)
    if burner.has_inner_wall and well > lip:
        binding, well = "rim", lip
        gallery = min(gallery, lip + lift)
    gallery = min(gallery, burner.height + geometry.jet_reach(burner) * slope)
    volume = geometry.gallery_volume(burner, gallery, tilt)
    if burner.has_inner_wall:
        volume += geometry.well_volume(burner, well, tilt)
    return ColdFill(volume, binding, gallery, well if burner.has_inner_wall else gallery)


def cold_fill_at(setup: Setup, volume: float, tilt: float) -> ColdFill:
    """Levels of a load at rest: the head below the edge at which the hydrostatic load is this one."""
    low, high = -setup.burner.height, 3.0 * setup.burner.height
    for _ in range(60):
        middle = 0.5 * (low + high)
        if cold_fill(setup, tilt, middle).volume > volume:
            low = middle
        else:
            high = middle
    return cold_fill(setup, tilt, high)


def gallery_holds(setup: Setup) -> float | None:
    """Load that fits, hot, into the gallery of a double wall below the jets [m3]; None for other burners."""
    burner = setup.burner
    if not burner.has_inner_wall:
        return None
    room = geometry.gallery_area(burner) * geometry.spill_level(burner, setup.site.tilt)
    return room * density(setup.charge.fuel, fuel_boils(setup)) / poured_density(setup)
