"""Designs side by side: what differs, which change did what, and whether that is more than is unknown."""

from burnsim.lazy import attach

__getattr__, __dir__, __all__ = attach(__name__, __file__)
