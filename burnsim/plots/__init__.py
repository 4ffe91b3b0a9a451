"""Pictures of designs, burns and studies.

Every picture takes `ax=` and returns it (two of them, where it has two panels); `units="us"` changes numbers and labels
together. Lines differ in style and areas in hatching, so that all can be told apart in black and white.
"""

from burnsim.lazy import attach

__getattr__, __dir__, __all__ = attach(__name__, __file__)
