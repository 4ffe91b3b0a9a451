"""The clearance below the jets over load and area of the relief."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from burnsim.errors import InputError
from burnsim.model.description.setup import Setup
from burnsim.model.description.vary import vary
from burnsim.studies.counting import expect
from burnsim.studies.fill.cold import cold_fill
from burnsim.studies.fill.limit import DARK
from burnsim.studies.fill.relief import LEAST_NOTCH, NOTCHES, notched_square
from burnsim.studies.fill.spill_runs import closed, look, may_quench, poor_contact

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

LOADS = 13
AREAS = (0.0, 0.1e-6, 0.2e-6, 0.3e-6, 0.5e-6, 1e-6, 2e-6, 4e-6)


@dataclass(frozen=True, eq=False)
class SpillMap:
    """Clearance below the lowest jet edge through the burn, over loads and areas of relief.

    Attributes
    ----------
    setup : the design, its pot flat on the rim
    loads : poured in [m3], shape (m,)
    areas : of the relief, of three square notches; 0 for none [m2], shape (n,)
    clearance : least through the burn [m], shape (n, m); 0 or less where it spills, nan where a burn was not solved
    warm : whether a pot with poor contact was taken, since the cold one put jets out
    dark : where it never lit or went out before it could spill, so that the clearance proves nothing, shape (n, m)
    """

    setup: Setup
    loads: "NDArray[np.float64]"
    areas: "NDArray[np.float64]"
    clearance: "NDArray[np.float64]"
    warm: bool
    dark: "NDArray[np.bool_] | None" = None


def spill_map(
    setup: Setup, loads: Sequence[float] | None = None, areas: Sequence[float] = AREAS, *, warm: bool = True
) -> SpillMap:
    """Burn a design, its pot flat on the rim, at every load and with every relief.

    Parameters
    ----------
    setup : the design; its own load, relief and rest of the pot do not count
    loads : [m3]; default evenly from a tenth of the cold limit up to it
    areas : of the relief, all notches together [m2]; 0 for none
    warm : take a pot that hardly cools the rim, so that no quench hides a spill

    Returns
    -------
    SpillMap

    Raises
    ------
    InputError
        If its well cannot be closed, or for a load or an area that the burner cannot have.
    """
    import numpy as np

    shut = mapped(setup)
    for area in areas:
        if area != 0.0 and not area >= NOTCHES * LEAST_NOTCH**2:
            raise InputError("areas", area, "is too small to cut; allowed 0, or from 3e-8 m2", "leave it out")
    if loads is None:
        most = cold_fill(setup, setup.site.tilt).volume
        loads = [most * (0.1 + 0.9 * k / (LOADS - 1)) for k in range(LOADS)]
    base = poor_contact(shut) if warm and may_quench(shut) else shut
    grid = [vary(notched_square(base, area), {"charge.volume": load}) for area in areas for load in loads]
    expect(len(grid))
    burns = look(grid)
    if not any(one.lit for one in burns):
        raise InputError("setup", setup.name, "has no map of its relief: " + DARK, "give it a wick and a primer")
    seen = np.array([one.clearance for one in burns]).reshape(len(areas), len(loads))
    seen[np.isinf(seen)] = math.nan
    dark = np.array([not one.stayed_lit and one.clearance > 0.0 for one in burns]).reshape(seen.shape)
    return SpillMap(replace(base, name=setup.name), np.array(loads), np.array(areas), seen, base is not shut, dark)


def mapped(setup: Setup) -> Setup:
    """The same with its pot flat on the rim, as it is mapped.

    Parameters
    ----------
    setup : the design

    Raises
    ------
    InputError
        If its well cannot be closed.
    """
    shut = closed(setup)
    if isinstance(shut, str) or not setup.burner.has_well:
        why = shut if isinstance(shut, str) else "a sealed chamber has no relief"
        raise InputError("setup", setup.name, f"has no map of its relief: {why}", "map a double wall under a flat pot")
    return shut
