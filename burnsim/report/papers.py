"""Paper for the bench: plan, template, pour card and sheet, each written to a file."""

from burnsim.lazy import attach

__getattr__, __dir__, __all__ = attach(__name__, __file__)
