"""Predictions with honest bands, and which unknown matters."""

from burnsim.lazy import attach

__getattr__, __dir__, __all__ = attach(__name__, __file__)
