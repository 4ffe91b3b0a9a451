"""The clearance below the jets over load and area of the relief, and the load that just spills with each relief."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from burnsim.answers import Drawn, Tabled, Told
from burnsim.errors import InputError
from burnsim.model import Design, Setup, as_setup, vary
from burnsim.studies.counting import expect
from burnsim.studies.fill.limit import DARK, burning_limits, scanned
from burnsim.studies.fill.record import USUAL, Margin, check_margin
from burnsim.studies.fill.relief import LEAST_NOTCH, NOTCHES, notched_square
from burnsim.studies.fill.spill_runs import closed, look, may_quench, poor_contact

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

AREAS = (0.0, 0.1e-6, 0.2e-6, 0.3e-6, 0.5e-6, 1e-6, 2e-6, 4e-6)


@dataclass(frozen=True, eq=False, repr=False)
class SpillMap(Told, Tabled, Drawn):
    """Clearance below the lowest jet edge through the burn, over loads and areas of relief.

    Attributes
    ----------
    setup : the design, its pot flat on the rim
    margin : that is kept by `keeps`
    loads : poured in [m3], shape (m,)
    areas : of the relief, of three square notches; 0 for none [m2], shape (n,)
    clearance : least through the burn [m], shape (n, m); 0 or less where it spills, nan where a burn was not solved
    spills : load that just spills [m3], shape (n,), found as by `burning_limit`, one that was not solved counting as
        spilling; nan where none does
    keeps : largest load that is proven to keep the margin [m3], `Limit.proven`, shape (n,); nan where none is
    warm : whether a pot with poor contact was taken, since the cold one put jets out
    dark : where it never lit or went out before it could spill, so that the clearance proves nothing, shape (n, m)
    """

    setup: Setup
    margin: Margin
    loads: "NDArray[np.float64]"
    areas: "NDArray[np.float64]"
    clearance: "NDArray[np.float64]"
    spills: "NDArray[np.float64]"
    keeps: "NDArray[np.float64]"
    warm: bool
    dark: "NDArray[np.bool_] | None" = None


def map_spills(
    setup: Design,
    loads: Sequence[float] | None = None,
    areas: Sequence[float] = AREAS,
    *,
    margin: Margin = USUAL,
    warm: bool = True,
) -> SpillMap:
    """Burn a design, its pot flat on the rim, at every load and with every relief, and find what just spills with each.

    Parameters
    ----------
    setup : the design; its own load, relief and rest of the pot do not count
    loads : [m3]; default those that `burning_limit` burns first, from 5 % of the cold limit up to it
    areas : of the relief, all notches together [m2]; 0 for none
    margin : to keep below what spills
    warm : take a pot that hardly cools the rim, so that no quench hides a spill

    Raises
    ------
    InputError
        If its well cannot be closed, or for a load or an area that the burner cannot have.
    """
    setup = as_setup(setup)
    check_margin(margin)
    import numpy as np

    shut = mapped(setup)
    for area in areas:
        if area != 0.0 and not area >= NOTCHES * LEAST_NOTCH**2:
            raise InputError("areas", area, "is too small to cut; allowed 0, or from 3e-8 m2", "leave it out")
    if loads is None:
        loads = scanned(shut)
    base = poor_contact(shut) if warm and may_quench(shut) else shut
    rows = [notched_square(base, area) for area in areas]
    grid = [vary(row, {"charge.volume": load}) for row in rows for load in loads]
    expect(len(grid))
    burns = look(grid)
    if not any(one.lit for one in burns):
        raise InputError("setup", setup.name, "has no map of its relief: " + DARK, "give it a wick and a primer")
    seen = np.array([one.clearance for one in burns]).reshape(len(areas), len(loads))
    seen[np.isinf(seen)] = math.nan
    dark = np.array([not one.stayed_lit and one.clearance > 0.0 for one in burns]).reshape(seen.shape)
    known = [dict(zip(loads, burns[k * len(loads) :], strict=False)) for k in range(len(rows))]
    limits = burning_limits(list(zip(rows, known, strict=True)), margin=margin)
    spills, keeps = [], []
    for limit, drops in zip(limits, known, strict=True):
        wet = [load for load, one in drops.items() if not one.clearance > 0.0]  # a load of the caller's may lie between
        least = min([*wet, math.inf if limit.spills is None else limit.spills])
        spills.append(least if least < math.inf else math.nan)
        keeps.append(math.nan if limit.proven is None else min(limit.proven, (1.0 - margin.share) * least))
    shown = replace(base, name=setup.name)
    return SpillMap(
        shown, margin, np.array(loads), np.array(areas), seen, np.array(spills), np.array(keeps), base is not shut, dark
    )


def mapped(setup: Setup) -> Setup:
    """The same with its pot flat on the rim, as it is mapped; an `InputError` if its well cannot be closed."""
    shut = closed(setup)
    if isinstance(shut, str) or not setup.burner.has_well:
        why = shut if isinstance(shut, str) else "a sealed chamber has no relief"
        raise InputError("setup", setup.name, f"has no map of its relief: {why}", "map a double wall under a flat pot")
    return shut
