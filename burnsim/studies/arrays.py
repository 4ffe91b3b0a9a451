"""Arrays of floats, as their types are written, and points that fill the unit cube."""

from typing import Any

import numpy as np
from numpy.typing import NDArray

Vector = NDArray[np.float64]  # of shape (n,), unless it says otherwise
Matrix = NDArray[np.float64]  # of two dimensions or more


def unit_points(mode: str, dimensions: int, count: int, seed: int) -> Matrix:
    """Draw points that fill the unit cube evenly, shape (count, dimensions), each from 0 to 1.

    By mode "sobol" (scrambled; best when `count` is a power of two), "halton" (scrambled) or "latin hypercube". Equal
    seeds give equal points with one version of SciPy.

    References
    ----------
    Owen, "Scrambling Sobol' and Niederreiter-Xing points", 1998; McKay, Beckman and Conover, 1979 (latin hypercube).
    """
    from scipy.stats import qmc

    random: Any = np.random.default_rng(seed)
    if mode == "sobol":
        power = max(count - 1, 0).bit_length()
        return np.asarray(qmc.Sobol(dimensions, seed=random).random_base2(power)[:count])
    engine = qmc.Halton(dimensions, seed=random) if mode == "halton" else qmc.LatinHypercube(dimensions, seed=random)
    return np.asarray(engine.random(count))
