"""Frozen description of a windscreen round burner and pot."""

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, ClassVar

from burnsim.model.description.fields import Description, Given, quantity, usual


@dataclass(frozen=True)
class Screen(Description):
    """A windscreen: an upright wall round burner and pot.

    Parameters
    ----------
    height
        Of its top above the ground that the burner stands on [m].
    clearance
        From the pot's side to the screen, all round; without a pot, from the burner's side [m].
    open_share
        Share of the wall that is cut open, near the ground [-], default 0.1.

    >>> Screen(height=0.12, clearance=15e-3).open_share
    0.1
    """

    PATH: ClassVar[str] = "screen"

    height: float = field(
        metadata=quantity("length", 5e-3, 1.0, "height of the windscreen above the ground", "measure from the ground")
    )
    clearance: float = field(
        metadata=quantity(
            "length", 1e-3, 0.5, "clear width between pot and windscreen", "measure from the pot's side to the screen"
        )
    )
    open_share: float = usual(
        0.1, "fraction", 0.0, 0.9, "share of the windscreen that is open near the ground", 'write 0.1 or "10 %"'
    )

    if TYPE_CHECKING:

        def __init__(self, height: Given, clearance: Given, open_share: Given = 0.1) -> None: ...
