"""Sweeps: any fields of a design, every combination, drawn samples or pairs, in one dataset."""

from burnsim.lazy import attach

__getattr__, __dir__, __all__ = attach(__name__, __file__)
