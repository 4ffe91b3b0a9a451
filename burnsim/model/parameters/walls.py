"""Parameters of the upper walls: collar, rim, top plate, and the strips between them and the liquid."""

from math import pi, sqrt
from statistics import fmean

from burnsim.closures.convection import (
    vertical_wall,
)
from burnsim.closures.radiation import linear_coefficient
from burnsim.constants import STEFAN_BOLTZMANN
from burnsim.model.balances.walls import SHORTEST_STRIP
from burnsim.model.description import geometry
from burnsim.model.description.setup import Setup
from burnsim.model.parameters.chambers import WARM_WALL, air_coefficient, wet_height
from burnsim.model.parameters.flames import (
    EDGE_SHAPE,
    collar_below,
    stirring,
    wall_above,
    wall_temperature_film,
    wall_thickness,
)
from burnsim.model.parameters.pot import (
    disc_efficiency,
    plate_conduction,
    plate_emission,
    rim_contact,
)
from burnsim.model.parameters.record import (
    Chamber,
    Collar,
    Walls,
)
from burnsim.substances import air

HOT_PLATE = 600.0  # of a closed top in the jets' flames: aluminium 500, brass 550, steel 610, stainless steel 730 [K]


def plate_share(setup: Setup) -> float:
    """Share of the top plate that would radiate as much if all of it were as hot as where the flames heat it.

    Inside of the ring of jets, or of its edge over side jets, a closed top is a disc that radiates from both faces and
    that its rim feeds (`disc_efficiency`, with the slope 8 eps sigma T^3 of what it radiates as its film). Beyond the
    ring it falls to the wall, evenly as far as wall and plate go down to the liquid, with half of the charge left. The
    ring of a double wall is narrow, and even.
    """
    burner = setup.burner
    if burner.has_inner_wall or burner.jets is None:
        return 1.0
    metal = burner.material
    whole = geometry.disc(geometry.inner_diameter(burner))
    ring = min(fmean(geometry.jet_rings(burner)), geometry.inner_diameter(burner))
    slope = linear_coefficient(metal.emissivity, HOT_PLATE, HOT_PLATE)
    sheet = metal.conductivity * wall_thickness(setup)
    within_ring = disc_efficiency(0.5 * ring * sqrt(2.0 * slope / sheet))
    plate, _ = geometry.plate_paths(burner)
    dry = burner.height - 0.5 * wet_height(setup)
    steeper = slope / linear_coefficient(metal.emissivity, HOT_PLATE, WARM_WALL)  # than the temperature it falls
    beyond = 1.0 / (1.0 + steeper * 0.5 * plate / (plate + dry))
    inside = geometry.disc(ring) / whole
    return inside * within_ring + (1.0 - inside) * beyond


def collar(setup: Setup, pressure: float) -> Collar:
    """The ring of outer wall that side jets heat, and the wall between it and the rim."""
    burner = setup.burner
    metal = burner.material
    thickness = wall_thickness(setup)
    outer = pi * burner.outer_diameter
    height = collar_below(setup)
    if height <= 0.0:
        return Collar(present=0.0, capacity=1.0, rise=0.0, loss=0.0, emission=0.0, beside=0.0)
    beside = outer / (outer + pi * geometry.inner_wall_diameter(burner))
    return Collar(
        present=1.0,
        capacity=0.5 * metal.density * metal.heat_capacity * thickness * outer * height,
        rise=metal.conductivity * thickness * outer / height,
        loss=bare_wall_loss(setup, pressure),
        emission=metal.emissivity * STEFAN_BOLTZMANN * (0.5 * outer * height + 0.2 * bare_wall(setup)),
        beside=beside,
    )


def bare_wall(setup: Setup) -> float:
    """Outside area of the wall between liquid and collar or rim [m2].

    Half of the height is taken as wet, and a tenth of it as dry at least.
    """
    burner = setup.burner
    dry = burner.height - collar_below(setup) - 0.5 * burner.height
    return pi * burner.outer_diameter * max(dry, 0.1 * burner.height)


def bare_wall_loss(setup: Setup, pressure: float) -> float:
    """What that wall loses to the air by convection, over how much warmer its upper end is [W/K]."""
    burner = setup.burner
    return 0.5 * air_coefficient(0.5 * burner.height, burner.outer_diameter, setup, pressure) * bare_wall(setup)


def walls(setup: Setup, well: Chamber, gallery: Chamber, open_share: float, sheet: float, pressure: float) -> Walls:
    """Rim node, strips and the heat that passes between the compartments.

    The rim node is the upper edge of the burner, with its plate, or where jets in the top heat that. From there the
    heat of the inner wall crosses the plate, and that of the outer wall too where jets in the top heat it. A flame over
    an open well heats the plate's inner edge by as much as goes down the inner wall, within some watts: no heat is then
    taken to cross the plate to that wall. What the same flame sends the other way before the jets burn crosses the
    plate unhindered.

    Parameters
    ----------
    setup : description
    well, gallery : compartments
    open_share : share of the well over which flames live
    sheet : temperature of the flames [K]
    pressure : of the air [Pa]
    """
    burner = setup.burner
    metal = burner.material
    thickness = wall_thickness(setup)
    per_area = metal.density * metal.heat_capacity * thickness
    outer = pi * burner.outer_diameter
    double = burner.has_inner_wall
    inner = pi * geometry.inner_wall_diameter(burner)
    half = 0.5 * burner.height
    top = geometry.gallery_area(burner)
    wet = wet_height(setup)
    to_collar = collar_below(setup)
    divider = 0.0
    bridge = 0.0
    if double:
        divider = inner / (1.0 / gallery.convection + 1.0 / well.convection)
        path = 0.25 * geometry.well_diameter(burner) + 0.5 * (burner.gallery_gap or 0.0)
        bridge = metal.conductivity * thickness * inner / path
    mouth = inner if double else outer
    share = plate_share(setup)
    to_pot, past_pot = plate_emission(setup)
    rim_height = wall_above(setup)
    own_height = rim_height - 0.5 * to_collar  # the other half is the collar's
    plate, inner_plate = geometry.plate_paths(burner)
    beyond = 0.0  # plate outside of the jets' ring
    if plate > 0.0:
        ring = fmean(geometry.jet_rings(burner))
        beyond = max(geometry.disc(geometry.inner_diameter(burner)) - geometry.disc(ring), 0.0)
    emission = metal.emissivity * STEFAN_BOLTZMANN
    return Walls(
        conductance=metal.conductivity * thickness,
        outer_perimeter=outer,
        inner_perimeter=inner,
        rim_base=burner.height - to_collar,
        top=burner.height,
        plate=plate,
        inner_plate=inner_plate * (1.0 - open_share),
        underside=share * top,
        underside_width=(burner.gallery_gap or 0.0) if double else geometry.inner_diameter(burner),
        emissivity=metal.emissivity,
        rim_capacity=per_area
        * (outer * (own_height + 2.0 * burner.rim_width) + 0.5 * inner * (burner.height - wet) + top - beyond),
        dry_capacity=per_area * (outer * max(burner.height - rim_height - wet, SHORTEST_STRIP) + beyond),
        rim_loss=0.0 if to_collar > 0.0 else bare_wall_loss(setup, pressure),
        rim_emission=share * past_pot
        + emission * (0.5 * outer * to_collar + (0.0 if to_collar > 0.0 else 0.2 * bare_wall(setup))),
        dry_loss=vertical_wall(half, WARM_WALL, setup.site.air_temperature, pressure) * mouth * 0.5 * burner.height,
        dry_emission=emission * mouth * 0.2 * burner.height,
        rim_area=outer * to_collar,
        contact=rim_contact(setup, pressure) + plate_conduction(setup, pressure),
        pot_emission=share * to_pot,
        divider=divider,
        bridge=bridge,
        edge=stirring(setup, sheet, pressure) * EDGE_SHAPE * mouth * air.conductivity(wall_temperature_film(sheet)),
    )
