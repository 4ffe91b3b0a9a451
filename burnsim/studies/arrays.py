"""Arrays of floats, as their types are written."""

import numpy as np
from numpy.typing import NDArray

Vector = NDArray[np.float64]
"""Of shape (n,), unless it says otherwise."""
Matrix = NDArray[np.float64]
"""Of two dimensions or more."""
