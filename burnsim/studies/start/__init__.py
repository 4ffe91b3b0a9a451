"""Starts: does it light in the cold and high up, and with how much primer."""

from burnsim.lazy import attach

__getattr__, __dir__, __all__ = attach(__name__, __file__)
