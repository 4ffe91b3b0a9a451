"""How much water a spirit may hold before the burner fails."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from burnsim.answers import Drawn, Told
from burnsim.errors import InputError, as_list
from burnsim.model import Design, as_setup, vary
from burnsim.solve import Failure, Outcome
from burnsim.studies.burn_many import sought
from burnsim.studies.threshold import Threshold
from burnsim.substances.blend import Blend, blend, composition, watered

EXACT = 0.005  # width at which the search stops, as a share of the volume
WETTEST = 0.9  # the largest share of water that is tried
GOES_OUT = 0.1  # share of the charge's heat that a burner leaves unburnt when it goes out early


@dataclass(frozen=True, repr=False)
class WaterLimit(Told, Drawn):
    """How much water a spirit may hold, as a share of the volumes before mixing.

    Attributes
    ----------
    fuel : the spirit as it was given
    water : its own share of water
    blooms, lasts, boils : the largest share with which the jets light; with which the fire does not leave more than a
        tenth of the charge's heat unburnt in the burner; with which the water boils. At most 0.005 too small; None if
        it fails as it is
    reasons : why it fails just beyond each limit, by name; nothing where it never fails up to 90 % of water
    steady : whether it fails at every larger share that was tried, for all three
    """

    fuel: Blend
    water: float
    blooms: float | None
    lasts: float | None
    boils: float | None
    reasons: Mapping[str, str]
    steady: bool


def find_water_limits(
    setup: Design,
    fuels: Sequence[str | Mapping[str, float] | Blend],
    *,
    points: int = 10,
    tolerance: float = EXACT,
) -> tuple[WaterLimit, ...]:
    """Water each spirit down until the burner fails, by bisection, with a look at all larger shares first.

    Parameters
    ----------
    setup : burner, charge, pot and site; primer and charge are of the same watery spirit
    fuels : names, recipes by volume before mixing, or blends
    points : even shares of water from the spirit's own to 90 % that are tried first
    tolerance : width at which to stop [-]

    Returns
    -------
    tuple of WaterLimit

    Raises
    ------
    InputError
        For a spirit that makes no sense, or a burner without jets.
    """
    setup = as_setup(setup)
    if setup.burner.jets is None:
        raise InputError("burner.kind", setup.burner.kind, "has no jets to light", "ask this of a burner with jets")
    spirits = [blend(fuel) for fuel in as_list("fuels", fuels, '["methanol", "ethanol 95"]')]
    own = [composition(spirit, "volume").get("water", 0.0) for spirit in spirits]
    for spirit, share in zip(spirits, own, strict=True):
        if share > WETTEST - tolerance:
            raise InputError("fuel", spirit.name, "is nearly all water", f"allowed up to {WETTEST:.0%} of water")
    names = ("blooms", "lasts") if setup.pot is None else ("blooms", "lasts", "boils")
    questions = [(k, name) for k in range(len(spirits)) for name in names]
    found, seen = sought(
        [(own[k], WETTEST) for k, _ in questions], [k for k, _ in questions],
        lambda k, share: vary(setup, {"charge.fuel": watered(spirits[k], share)}),
        lambda q, burn: _why_not(burn, questions[q][1]) == "", points=points, tolerance=tolerance,
    )  # fmt: skip
    named = [{q[1]: one for q, one in zip(questions, found, strict=True) if q[0] == k} for k in range(len(spirits))]
    return tuple(_limit(k, spirit, own[k], named[k], seen) for k, spirit in enumerate(spirits))


Result = Outcome | Failure


def _why_not(burn: Result, name: str) -> str:
    """Why a burn does not do what it should; empty if it does."""
    if isinstance(burn, Failure):
        return f"the run failed: {burn.reason}"
    marks = burn.milestones
    if name == "boils":
        return marks.boil.reason
    if name == "blooms" or marks.bloom.time is None:
        return marks.bloom.reason
    if burn.energy.left <= GOES_OUT * burn.energy.charged:
        return ""
    share = burn.mass.left / burn.mass.charged
    return f"the fire goes out after {burn.duration:.0f} s with {100.0 * share:.0f} % of the charge left"


def _limit(
    k: int, spirit: Blend, own: float, found: Mapping[str, Threshold], burns: Mapping[tuple[int, float], Result]
) -> WaterLimit:
    shares: dict[str, float | None] = {"blooms": None, "lasts": None, "boils": None}
    reasons = {}
    steady = True
    for name, threshold in found.items():
        shares[name], beyond, single = threshold.until_no()
        steady = steady and single
        if beyond is not None:
            reasons[name] = _why_not(burns[k, beyond], name)
    return WaterLimit(spirit, own, shares["blooms"], shares["lasts"], shares["boils"], reasons, steady)
