"""Burners that several rooms are tested on."""

from burnsim.model.description.burner import Burner
from burnsim.model.description.parts import FeedSlots, Jets, Wick

PALM = Burner(
    "double wall",
    outer_diameter=62e-3,
    height=45e-3,
    gallery_gap=4.5e-3,
    jets=Jets(26, 1.0e-3, 39e-3),
    feed_slots=FeedSlots(),
    wick=Wick(thickness=2e-3),
)
BRASS = Burner(
    "sealed chamber",
    outer_diameter=70e-3,
    height=30e-3,
    wall_thickness=0.3e-3,
    metal="brass",
    jets=Jets(16, 0.9e-3, direction="top", ring_diameter=50e-3),
    wick=Wick(height=10e-3, thickness=2.5e-3),
)
