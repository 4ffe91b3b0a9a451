"""How likely a design spills, its uncertain factors and the hand that builds and fills it being what they are."""

import math
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from burnsim.answers import Drawn, Told
from burnsim.bounds import within
from burnsim.errors import InputError, check_whole
from burnsim.model import Design, Setup, as_setup
from burnsim.model.description import geometry
from burnsim.model.description.conditions import STEEPEST
from burnsim.model.description.factors import BANDS, LIMITS, Factors
from burnsim.studies.calibrate.posterior import correlation_of, root
from burnsim.studies.calibrate.sizes import NORMAL_90
from burnsim.studies.counting import expect
from burnsim.studies.fill.spill_runs import look
from burnsim.studies.predict.prediction import share
from burnsim.studies.sweep.plan import spec_at

if TYPE_CHECKING:
    import numpy as np

LEAST_BURNS = 10
MOST_BURNS = 100_000  # a quarter of an hour of machine code; the odds are then known to a third of a per cent


@dataclass(frozen=True)
class Hand:
    """How exactly a burner is built, filled and stood: standard deviations of normal errors; judgement, no source.

    Parameters
    ----------
    load : of the volume poured in, as a share, default 3 %
    jet_height : [m], default 0.5 mm
    gallery_gap : [m], default 0.2 mm
    notch_depth : as a share, default 10 %
    tilt : of the stand, in each of two directions [rad], default 1 degree
    """

    load: float = 0.03
    jet_height: float = 0.5e-3
    gallery_gap: float = 0.2e-3
    notch_depth: float = 0.10
    tilt: float = math.radians(1.0)


STEADY = Hand()


@dataclass(frozen=True, repr=False)
class SpillOdds(Told, Drawn):
    """How likely it is that a design spills.

    Attributes
    ----------
    probability : share of the sampled burns that spilled
    error : its standard error by sampling, binomial
    low, high : Wilson's interval for it, 95 %
    samples : burns that could be solved
    failed : burns that could not be solved; they count on neither side
    leads : what led how many of the spills, keys of `burnsim.solve.results.spill.MECHANISMS`
    unproven : how many went out or never lit before they could spill, by what befell them; they prove nothing, and
        yet count as burns that did not spill
    """

    probability: float
    error: float
    low: float
    high: float
    samples: int
    failed: int
    leads: Mapping[str, int]
    unproven: Mapping[str, int]

    @property
    def telling(self) -> int:
        """How many burns tell whether it spills: those that did, and those that burnt until the fuel was gone."""
        return self.samples - sum(self.unproven.values())


def estimate_spill_odds(setup: Design, samples: int = 400, *, seed: int = 0, hand: Hand = STEADY) -> SpillOdds:
    """Sample the uncertain factors and the builder's hand, burn each, and count the spills.

    Parameters
    ----------
    setup : the design with its load
    samples : number of burns, `LEAST_BURNS` to `MOST_BURNS`
    seed : of the random numbers; the same seed gives the same burns
    hand : how exactly it is built, filled and stood

    Raises
    ------
    InputError
        For too few samples, or if no burn can be solved.

    Notes
    -----
    Factors are lognormal about the setup's own, with the bands of `burnsim.BANDS` as their central 90 %; those of
    `burnsim.calibration.CORRELATIONS` are drawn together. The probability is that of this model: what it leaves out
    does not count.
    """
    setup = as_setup(setup)
    import numpy as np

    check_whole("samples", samples, LEAST_BURNS, MOST_BURNS, problem="is not a number of burns")
    source = np.random.default_rng(seed)
    expect(samples)
    seen = look([sampled(setup, source, hand) for _ in range(samples)])
    solved = [one for one in seen if not math.isnan(one.clearance)]
    if not solved:
        raise InputError("setup", setup.name, "burns in no sample that can be solved", "look at one burn of it first")
    spills = [one for one in solved if one.clearance <= 0.0]
    leads = Counter(one.levels.lead if one.levels is not None else "overfill" for one in spills)
    unproven = Counter(one.fate for one in solved if one.clearance > 0.0 and not one.stayed_lit)
    n = len(solved)
    odds = share(len(spills), n)
    error = math.sqrt(odds.value * (1.0 - odds.value) / n)
    return SpillOdds(
        probability=odds.value, error=error, low=odds.low, high=odds.high, samples=n, failed=len(seen) - n,
        leads=dict(leads.most_common()), unproven=dict(unproven.most_common()),
    )  # fmt: skip


def sampled(setup: Setup, source: "np.random.Generator", hand: Hand = STEADY) -> Setup:
    """One of the burners that a drawing turns into, as it is filled and stood by a hand.

    The same number of random numbers is drawn whatever the design.
    """
    factors = {}
    normal = root(correlation_of(tuple(BANDS))) @ source.standard_normal(len(BANDS))
    for (name, band), far in zip(BANDS.items(), normal.tolist(), strict=True):
        spread = (math.log(band.high) - math.log(band.low)) / (2.0 * NORMAL_90)
        middle = math.sqrt(band.low * band.high)
        drawn = getattr(setup.factors, name) * middle * math.exp(spread * far)
        factors[name] = within(drawn, *LIMITS[name])
    error = source.standard_normal(6).tolist()
    burner = setup.burner
    if burner.gallery_gap is not None:
        widest = 0.98 * (0.5 * geometry.inner_diameter(burner) - burner.wall_thickness - 1e-3)
        gap = min(max(burner.gallery_gap + hand.gallery_gap * error[0], spec_at("burner.gallery_gap").low), widest)
        burner = replace(burner, gallery_gap=gap)
    jets = burner.jets
    if jets is not None and jets.height is not None and jets.direction == "side":
        highest = geometry.highest_side_jets(burner.height, jets)
        height = min(max(jets.height + hand.jet_height * error[1], 0.5 * jets.diameter), highest)
        burner = replace(burner, jets=replace(jets, height=height))
    if burner.relief is not None:
        depth = burner.relief.depth * max(1.0 + hand.notch_depth * error[2], 0.1)
        allowed = spec_at("burner.relief.depth")
        depth = min(within(depth, allowed.low, allowed.high), 0.95 * burner.height)
        burner = replace(burner, relief=replace(burner.relief, depth=depth))
    load = setup.charge.volume * max(1.0 + hand.load * error[3], 0.1)
    load = min(load, geometry.capacity(burner), spec_at("charge.volume").high)
    leaning = math.hypot(setup.site.tilt + hand.tilt * error[4], hand.tilt * error[5])
    return replace(
        setup, burner=burner, charge=replace(setup.charge, volume=load),
        site=replace(setup.site, tilt=min(leaning, STEEPEST)), factors=Factors(**factors),
    )  # fmt: skip
