"""What a fill limit is, and the limits of one design."""

from dataclasses import dataclass, replace

from burnsim.answers import Drawn, Tabled, Told
from burnsim.errors import InputError, is_number
from burnsim.model import Setup
from burnsim.solve.results.spill import Levels
from burnsim.studies.fill.cold import ColdFill, gallery_holds
from burnsim.units.writing import Quantity, Text


@dataclass(frozen=True)
class Margin:
    """What a fill limit keeps below the load that spills: the stricter of a head and a share of the volume.

    Parameters
    ----------
    head : of liquid below the lowest edge [m], default 3 mm
    share : of the volume that spills, default 10 %
    """

    head: float = 3e-3
    share: float = 0.10

    def __post_init__(self) -> None:
        for name, value, most in (("head", self.head, 0.1), ("share", self.share, 0.9)):
            if not is_number(value) or not 0.0 <= value <= most:
                problem = f"is out of range; allowed 0 to {most:g}"
                raise InputError(f"margin.{name}", value, problem, "use Margin() for the usual one")

    def in_words(self) -> Text:
        """As a clause."""
        if self.head <= 0.0 and self.share <= 0.0:
            return Text("none")
        share = f"{self.share * 100.0:.3g}\u00a0%"
        return Text(
            "{} of head or {} of the volume, whichever allows less", Quantity(self.head, "length", digits=3), share
        )


USUAL = Margin()


def check_margin(margin: object) -> None:
    """Refuse what is no margin, such as a bare share."""
    if not isinstance(margin, Margin):
        raise InputError("margin", margin, "is not a Margin", "give burnsim.fill.Margin(head=3e-3, share=0.1)")


@dataclass(frozen=True)
class Limit:
    """One fill limit."""

    volume: float | None  # largest safe load, the margin kept [m3]; None if there is none
    spills: float | None  # load that just spills, without a margin [m3]; None if none does
    # what would spill it first, a key of `burnsim.solve.results.spill.MECHANISMS`; None without a limit
    binding: str | None
    reason: str  # the same in words, or why there is no limit
    kept: str = ""  # which margin decided, "head" or "share"; "" for none
    levels: Levels | None = None  # heights when the load that just spills begins to; None at rest or if none spills
    rest: ColdFill | None = None  # levels of the load `volume` at rest; None if there is no limit
    single: bool = True  # whether every load looked at above `spills` spills too
    notes: tuple[str, ...] = ()  # what else should be known
    # largest load looked at below `spills` that burnt to its end [m3]; None if none did, and at rest
    stayed_lit: float | None = None
    # what befell larger loads below `spills`, so that they prove nothing or are not safe; "" if the largest stayed lit
    dark: str = ""
    # largest load, the margin kept, that is proven all the same [m3]; read where `dark` is not ""
    proven_to: float | None = None
    monotone: bool = True  # whether no load that was looked at stays farther below the jets than a smaller one

    @property
    def proven(self) -> float | None:
        """Largest safe load for which burns that stayed lit stand [m3]; None if there is none."""
        return self.proven_to if self.dark else self.volume


def lower(cold: Limit, warm: Limit | None) -> Limit:
    """The lower of two limits, under a pot that cools the rim and one that hardly does; the second as far as known."""
    if warm is None:
        return cold
    if cold.volume is None and cold.binding is not None:
        return cold
    if cold.volume is None or warm.volume is None or warm.volume <= cold.volume:
        return warm
    proven = None if warm.proven is None else min(warm.proven, cold.volume)
    return replace(cold, stayed_lit=warm.stayed_lit, dark=warm.dark, proven_to=proven)


@dataclass(frozen=True, repr=False)
class FillLimits(Told, Tabled, Drawn):
    """How much a burner may be loaded.

    Attributes
    ----------
    setup : the design, on the slope that was asked for: `tilt` is its `site.tilt`
    margin : kept in every limit
    cold_level, cold_tilted : at rest, upright and on that slope, jets taken as wetted: surface tension holds nothing
        back
    cold_level_dry, cold_tilted_dry : the same while the outer faces of the jets are dry and hold liquid back
    burning_vented : over the whole burn as designed; where a pot flat on the rim puts jets out, the lower of that and
        of one under a pot that hardly cools it
    burning_sealed : over the whole burn with the well sealed, the fit of pot and rim at the tight end of the band of
        the factor `rim_leak`: a load that only a usual leak keeps down is not safe
    burning_sealed_warm : the same where the pot hardly cools the rim; None unless the pot put jets out in
        `burning_sealed`
    """

    setup: Setup
    margin: Margin
    cold_level: Limit
    cold_level_dry: Limit
    cold_tilted: Limit
    cold_tilted_dry: Limit
    burning_vented: Limit
    burning_sealed: Limit
    burning_sealed_warm: Limit | None

    @property
    def tilt(self) -> float:
        """Slope of the stand, in every limit but `cold_level` [rad]."""
        return self.setup.site.tilt

    @property
    def safe(self) -> float | None:
        """Load proven to keep every one of these limits [m3]; None if one of them allows none, or proves none."""
        named = (self.cold_level, self.cold_tilted, self.burning_vented, self.sealed)
        volumes = [limit.proven for limit in named if limit.volume or limit.binding]
        known = [volume for volume in volumes if volume is not None]
        return min(known) if len(known) == len(volumes) else None

    @property
    def sealed(self) -> Limit:
        """The limit with the well sealed, whether the pot cools the rim or hardly does: the lower of the two."""
        return lower(self.burning_sealed, self.burning_sealed_warm)

    @property
    def gallery_holds(self) -> float | None:
        """Load that fits into the gallery below the jets when hot, so that no pressure presses it out [m3]."""
        return gallery_holds(self.setup)
