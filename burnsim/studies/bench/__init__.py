"""Bench logs: what was measured on real burns, and what it says."""

from burnsim.lazy import attach

__getattr__, __dir__, __all__ = attach(__name__, __file__)
