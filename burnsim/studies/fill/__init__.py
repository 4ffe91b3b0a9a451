"""Fill limits: how much may be loaded before liquid comes out, and the relief that a load needs."""

from burnsim.lazy import attach

__getattr__, __dir__, __all__ = attach(__name__, __file__)
