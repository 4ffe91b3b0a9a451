"""Searches for the design worth building, within limits."""

from burnsim.lazy import attach

__getattr__, __dir__, __all__ = attach(__name__, __file__)
