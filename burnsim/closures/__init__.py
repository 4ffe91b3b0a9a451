"""Physical laws, one a function.

`burnsim.closures.NAME` is the public face of a law: positional floats or arrays in, the same out, with a
`ValidityWarning` when an argument leaves the range in which the law holds. The balances call the plain
scalar functions in the modules (`burnsim.closures.orifice` and so on) directly.
"""

from collections.abc import Callable
from importlib import import_module
from typing import Any

_MODULES: dict[str, tuple[str, ...]] = {
    "orifice": (
        "inertial_loss", "laminar_loss", "loss_coefficient", "discharge_coefficient", "lichtarowicz_discharge",
        "pressure_drop", "pressure_drop_slope", "velocity", "gas_pressure",
    ),
    "boiling": ("cooper_coefficient", "cooper_heat_flux", "superheat"),
    "evaporation": (
        "stefan_flux", "spalding_number", "film_burning_flux", "condensing_rate", "wind_transfer", "water_evaporation",
    ),
    "condensation": ("detached_bubble", "condensed_share"),
    "counterflow": ("counterflow_speed", "exchange_flow", "light_share"),
    "capillarity": (
        "capillary_rise", "gap_rise", "evaporating_contact_angle", "meniscus_height", "hold_off_pressure",
        "splash_margin", "wick_permeability", "darcy_supply",
    ),
    "filling": ("wall_stream",),
    "tilt": ("tilted_disc_volume", "tilted_annulus_volume"),
    "swell": ("drift_velocity", "uniform_swell", "froth_height"),
    "flame": (
        "roper_length", "foot_temperature", "reduced_gravity", "mixed_velocity", "jet_flame_reach", "flame_width",
        "wall_flame_height", "pool_flame_height", "lift_off_velocity", "quenching_diameter", "quenching_distance",
        "quench_power", "row_quench_power", "warm_quench_power", "heated_burning_velocity",
    ),
    "wall_fire": (
        "wall_fire_flux", "flux_yield", "wall_fire_coefficient", "wall_flame_tip", "flame_cover", "wall_flame_presence",
        "wall_plume_reach", "share_under_lid",
    ),
    "flammability": ("limit_sum",),
    "plume": (
        "opening_draught", "layer_draught", "vessel_conductance", "vapour_layer", "flame_catch", "gas_temperature",
    ),
    "wind": (
        "wind_drift", "share_outside", "lee_share", "blow_out_wind", "wind_behind_screen", "wind_through_openings",
        "screen_draught",
    ),
    "layer": (
        "sheet_spread", "mixture_at_wall", "flame_tip", "sheet_quench_flow", "burnt_share", "flame_share", "foot_reach",
        "heat_taken",
    ),
    "convection": (
        "rayleigh_number", "churchill_chu_plate", "vertical_wall", "wall_draught", "plate_up", "plate_down",
        "stagnation_disc", "churchill_bernstein", "wind_coefficient", "mixed_coefficient", "gap_coefficient",
        "layer_transfer",
    ),
    "radiation": (
        "radiation_exchange", "linear_coefficient", "line_to_disc_view", "disc_to_disc_view", "strip_to_strip_view",
        "enclosed_emissivity",
    ),
    "contact": (
        "jump_distance", "gap_conductance", "spot_conductance", "spot_radius", "sheet_conductance", "joint_conductance",
    ),
    "exchange": ("fin_uptake", "ring_path", "edge_shape_factor", "strip_shape_factor", "ground_coefficient"),
}  # fmt: skip
"""Laws by the module that they stand in."""

_HOME = {name: module for module, names in _MODULES.items() for name in names}

__all__ = sorted(_HOME)  # noqa: PLE0605  (names from the table above)


def __getattr__(name: str) -> Callable[..., Any]:
    """Find a law by its name and put the checks round it."""
    if name not in _HOME:
        raise AttributeError(f"burnsim.closures has no law {name!r}; it has {', '.join(__all__)}")
    from burnsim.closures._validity import checked

    face = checked(getattr(import_module(f"burnsim.closures.{_HOME[name]}"), name))
    globals()[name] = face
    return face


def __dir__() -> list[str]:
    """List the laws."""
    return __all__
