"""Fuels: spirits on paper and side by side in a burner, distilled, watered down, and bottled."""

from burnsim.lazy import attach

__getattr__, __dir__, __all__ = attach(__name__, __file__)
