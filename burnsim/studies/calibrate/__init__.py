"""Calibration: the uncertain factors, learnt from bench logs with their bands as priors."""

from burnsim.lazy import attach

__getattr__, __dir__, __all__ = attach(__name__, __file__)
