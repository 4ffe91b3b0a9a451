"""What to change: what each step that can be built does, and how far each cliff is."""

from burnsim.lazy import attach

__getattr__, __dir__, __all__ = attach(__name__, __file__)
