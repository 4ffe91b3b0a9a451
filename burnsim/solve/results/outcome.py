"""What came of a burn: milestones, figures, ledgers and verdicts, read off its account.

Efficiency counts the components that are gone. A distilling blend has burnt its alcohol first; by its mean heating
value it is flattered.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from burnsim.answers import Drawn, Told
from burnsim.closures.flame import warm_quench_power
from burnsim.constants import AIR_MOLAR_MASS, DATUM
from burnsim.model.balances.pot.flows import LAST_WATER, latent_heat
from burnsim.model.balances.state import State, state_size, unpack, unpack_tallies
from burnsim.model.description import geometry
from burnsim.model.description.setup import Setup
from burnsim.model.parameters.record import Parameters
from burnsim.solve.ignition import Lighting
from burnsim.solve.results.account import Account, Moment
from burnsim.solve.results.ledger import EnergyLedger, MassLedger, energy_ledger, fuel_moles, mass_ledger
from burnsim.solve.results.milestones import Milestone, Milestones
from burnsim.solve.results.snapshot import Snapshot, water_share
from burnsim.solve.results.spill import Levels, levels
from burnsim.solve.results.verdicts import Verdict, verdicts
from burnsim.substances.fuel import mass_of
from burnsim.units.writing import Quantity, Text, with_unit

EVEN_INSTANTS = 401  # an odd number: the middle one is the median
SHORT_BURN = 20.0  # after bloom and primer: too little for a median or a share [s]
DILUTED = 0.3  # mole fraction of water from which a stronger spirit makes a much higher flame [-]
LEAST_USED = 0.01  # share of the charge's heat: below it an efficiency would mean nothing


@dataclass(frozen=True, eq=False, repr=False)
class Outcome(Told, Drawn):
    """What came of one burn.

    Attributes
    ----------
    setup : what was burnt
    ended : "burnt out", "never lit", "horizon" (cut off with flames standing) or "flutter"
    duration : from the match to the end of the run [s]
    milestones, verdicts : what happened, and what did not and why; each milestone is an attribute of its own too, such
        as `boil.time`
    mass, energy : ledgers with their residuals
    efficiency_to_boil : (m c dT + m_evaporated h_fg)/(m_fuel LHV) up to the boil; None without a boil
    efficiency : the same over the whole burn, None without a pot
    power_max : of all flames [W]
    power_median : of all flames between bloom (or lighting) and burn-out [W]; None if nothing burnt
    water_max : highest water temperature [K]; None without a pot
    gallery_pressure_max, well_pressure_max : gauge [Pa]
    froth_max : highest froth level in the gallery [m]
    heat_fed_back : share of the jets' and well's heat that reaches the fuel, once the primer is out; None if none burnt
    evaluations, steps, rejected : how hard it was
    rtol : tolerance of the steps
    water_at : the water's temperature at the times that were asked for [K]; None after the end
    spill_levels : what lifts the liquid when it begins to spill; None if it does not
    """

    setup: Setup
    ended: str
    duration: float
    milestones: Milestones
    verdicts: tuple[Verdict, ...]
    mass: MassLedger
    energy: EnergyLedger
    efficiency_to_boil: float | None
    efficiency: float | None
    power_max: float
    power_median: float | None
    water_max: float | None
    gallery_pressure_max: float
    well_pressure_max: float
    froth_max: float
    heat_fed_back: float | None
    evaluations: int
    steps: int
    rejected: int
    rtol: float
    water_at: tuple[float | None, ...]
    spill_levels: Levels | None

    @property
    def primer_out(self) -> Milestone:
        """When the primer's flame went out, or why it did not."""
        return self.milestones.primer_out

    @property
    def vapour(self) -> Milestone:
        """When enough vapour left the jets to hold flames."""
        return self.milestones.vapour

    @property
    def bloom(self) -> Milestone:
        """When the jets lit."""
        return self.milestones.bloom

    @property
    def boil(self) -> Milestone:
        """When the water boiled."""
        return self.milestones.boil

    @property
    def burnout(self) -> Milestone:
        """When the last flame went out."""
        return self.milestones.burnout

    @property
    def spill(self) -> Milestone:
        """When liquid or froth left through a jet or over the rim."""
        return self.milestones.spill

    @property
    def quench(self) -> Milestone:
        """When lit jets went out with fuel left."""
        return self.milestones.quench

    def __repr__(self) -> str:
        """Name, end and length of the burn, in one line."""
        return f"<{type(self).__name__} {self.setup.name!r}: {self.ended} after {self.duration:.1f} s>"


class Start(NamedTuple):
    """A setup made ready to burn."""

    parameters: Parameters
    first: State  # when the match is struck
    spark: Lighting  # what the match does


def judge(setup: Setup, start: Start, account: Account, rtol: float) -> Outcome:
    """Read what came of a burn off the account of its march, integrated with a relative tolerance."""
    p, first, _ = start
    n = p.components
    last = unpack(account.last, n)
    gallery_peak, well_peak, froth_peak = account.peaks
    highest = Snapshot(*account.snapshots.max(axis=0).tolist())._replace(
        gallery_pressure=gallery_peak, well_pressure=well_peak, froth=froth_peak
    )
    water_max = None
    if setup.pot is not None:
        wet = account.column("pot_temperature")[account.column("water") > LAST_WATER]
        water_max = float(wet.max()) if len(wet) else float(account.column("pot_temperature")[0])
    found = {moment.name: moment for moment in reversed(account.moments)}  # the first of each name
    if water_max is not None and "boil" in found:  # a last drop that boils is water too
        water_max = max(water_max, found["boil"].snapshot.pot_temperature)
    if account.ended == "burnt out":
        found["burnout"] = account.moments[-1]
    came: dict[str, Moment | None] = {**found, "bloom": found.get("jets_lit"), "quench": _quench(setup, p, account)}

    def mark(name: str) -> Milestone:
        moment = came.get(name)
        if moment is None:
            return Milestone(None, _reason(name, setup, start, account, highest, water_max), None)
        burnt = unpack_tallies(moment.vector[state_size(n) :], n).burnt
        return Milestone(moment.time, "", mass_of(burnt, p.fuel))

    milestones = Milestones(*map(mark, Milestones._fields))
    tallies = unpack_tallies(account.last[state_size(n) :], n)
    mass = mass_ledger(first, last, tallies, p)
    energy = energy_ledger(first, last, tallies, p)
    boil = found.get("boil")
    spill = found.get("spill")
    lifted = None if spill is None else levels(setup, p, unpack(spill.vector, n), spill.snapshot.froth)
    return Outcome(
        setup=setup, ended=account.ended, duration=float(account.time[-1]), milestones=milestones,
        verdicts=tuple(verdicts(setup, p, milestones, account, highest, mass, energy, last.water, lifted)), mass=mass,
        energy=energy, efficiency_to_boil=None if boil is None else efficiency(setup, p, first, unpack(boil.vector, n)),
        efficiency=efficiency(setup, p, first, last), power_max=highest.power,
        power_median=_median_power(account, milestones), water_max=water_max,
        gallery_pressure_max=highest.gallery_pressure, well_pressure_max=highest.well_pressure, froth_max=highest.froth,
        heat_fed_back=_fed_back(account), evaluations=account.evaluations, steps=len(account.time) - 1,
        rejected=account.rejected, rtol=rtol, water_at=(), spill_levels=lifted,
    )  # fmt: skip


def fuel_left(state: State, p: Parameters) -> float:
    """Liquid in burner and wick [kg]."""
    return mass_of(tuple(fuel_moles(state, p)), p.fuel)


def efficiency(setup: Setup, p: Parameters, first: State, now: State) -> float | None:
    """Standard efficiency from the match to a state: (m c dT + m_evaporated h_fg)/(heat of the fuel that is gone).

    The fuel that is gone counts component by component: a blend distils, and its alcohol leaves first. None without a
    pot, before a hundredth of the charge's heat is gone, or where the water took up more than that fuel gives: warm air
    heats cold water too, and the formula would credit the fire with it.
    """
    values = p.fire.heating_value
    start_fuel, now_fuel = fuel_moles(first, p), fuel_moles(now, p)
    charged = sum(start_fuel[i] * values[i] for i in range(p.components))
    used = charged - sum(now_fuel[i] * values[i] for i in range(p.components))
    if setup.pot is None or used <= LEAST_USED * abs(charged):
        return None
    water = p.pot.water_heat
    start = first.pot_heat / (first.water * water + p.pot.metal)
    end = now.pot_heat / (now.water * water + p.pot.metal)
    latent = latent_heat(DATUM + end, p)
    share = (first.water * water * (end - start) + (first.water - now.water) * latent) / used
    return share if share <= 1.0 else None


def _median_power(account: Account, marks: Milestones) -> float | None:
    """Median of the heat release over even instants from bloom and the end of the primer on; None if that is short."""
    start = max(marks.bloom.time or 0.0, marks.primer_out.time or 0.0)
    end = float(account.time[-1])
    if end - start < SHORT_BURN:
        return None
    grid = np.linspace(start, end, EVEN_INSTANTS)
    return float(np.sort(np.interp(grid, account.time, account.column("power")))[EVEN_INSTANTS // 2])


def _fed_back(account: Account) -> float | None:
    """Share of the heat of jets and well that reaches the fuel, once the primer is out."""
    length = np.diff(account.time) * (account.column("wick_power")[1:] <= 0.0)
    made = float(length @ account.column("made")[1:])
    fed = float(length @ account.column("fed")[1:])
    return fed / made if made > 0.0 and float(length.sum()) > 3.0 * SHORT_BURN else None


def _quench(setup: Setup, p: Parameters, account: Account) -> Moment | None:
    """When the jets went out for good with fuel left to burn; None if they ran dry or never lit."""
    changes = [moment for moment in account.moments if moment.name in ("jets_lit", "jets_out")]
    if not changes or changes[-1].name != "jets_out":
        return None
    out = changes[-1]
    return out if out.snapshot.volume > max(0.15 * setup.charge.volume, 2.0 * p.gallery.film_volume) else None


def _reason(name: str, setup: Setup, start: Start, account: Account, highest: Snapshot, water_max: float | None) -> str:
    """Why a milestone did not happen."""
    jets = setup.burner.jets is not None
    if name == "quench":
        lit = any(moment.name == "jets_lit" for moment in account.moments)
        why = "the jets burnt until the fuel was gone" if lit else "the jets never lit"
    elif name == "boil" and water_max is None:
        why = "there is no pot"
    elif start.spark.reason:
        why = start.spark.reason
    elif name == "primer_out":
        why = "no primer was lit"
    elif name == "burnout":
        why = f"flames still stood after {float(account.time[-1]):.0f} s"
    elif name == "boil" and water_max is not None:
        boiling = Quantity(start.parameters.pot.boiling_point, "temperature", 1)
        why = Text("the water reached {} and boils at {}", Quantity(water_max, "temperature", 1), boiling)
    elif name == "spill":
        edge = jets_edge(setup, start.parameters) if jets else ""
        froth = Quantity(highest.froth, "length")
        why = Text("froth rose to {}; the jets begin at {}", froth, edge) if jets else "the liquid stayed below the rim"
    else:
        why = _why_no_bloom(setup, account, highest, start.parameters) if jets else "an open cup has no jets"
    return why


def _why_no_bloom(setup: Setup, account: Account, highest: Snapshot, p: Parameters) -> str:
    """Why the jets of a burner that was lit have not, and what would help; of what the jets lack, the first."""
    air, let_in = highest.power / p.wick.heat_per_air, AIR_MOLAR_MASS * p.site.air
    if air > let_in:
        return Text(
            "the windscreen lets in {} of air, and flames of {} burn {}: give it more room or openings",
            Quantity(let_in, "mass flow", digits=2), Quantity(highest.power, "power", 0),
            Quantity(air, "mass flow", digits=2),
        )  # fmt: skip
    hottest = Quantity(highest.gallery_temperature, "temperature")
    cooled = setup.pot is not None and setup.pot.rest == "full ring"  # by a pot on the whole of the rim
    warmer = "prime with more, on a wick that holds it" if setup.burner.wick else "give the burner a wick and a primer"
    warmer = f"stand the pot on bumps or a stand, {warmer}" if cooled else warmer
    if highest.jet_limit < 1.0:
        return Text(
            "the gas from the jets stayed too lean to burn: the gallery reached only {} before the pilot flame "
            f"was gone; {warmer}, or pour in less",
            hottest,
        )
    vapour = account.column("jet_potential")
    lights = np.array([warm_quench_power(p.jets.light_power, wall) for wall in account.column("collar_temperature")])
    enough = vapour >= lights
    if not enough.any():
        k = int(np.argmax(vapour / lights))
        most, least = told_apart(float(vapour[k]), float(lights[k]))
        return Text(
            "the vapour at each jet reached {} before the pilot flame was gone, and it takes {} to light it; the "
            f"gallery reached {{}}; {warmer}, pour in less, or drill fewer jets",
            with_unit(most, "W"), with_unit(least, "W"), hottest,
        )  # fmt: skip
    pilot = account.column("reached")
    both = enough & (pilot >= 0.0)
    if not both.any():
        return _out_of_reach(float(pilot[enough].max()), float(pilot.max()), p)
    if ((1.0 - account.column("wrapped")) * vapour / lights)[both].max() < 1.0:
        gave, needed = (with_unit(_figures(one, 2), "W") for one in (highest.jet_potential, lights[enough].min()))
        return (
            f"the wick's flame wrapped the jets while they gave vapour enough, {gave} each; what it left them while it "
            f"reached them was less than the {needed} that light them: use a lower wick or higher jets"
        )
    return "the vapour at the jets holds so much steam that a flame would be too cold to live: use a stronger spirit"


def _out_of_reach(reached: float, ever: float, p: Parameters) -> Text:
    """What is said of jets that the wick's flame does not light, however much vapour they give.

    It reached so far while there was vapour enough, and at any time, over the way to the jets, less one.
    """
    height = (1.0 + reached) * p.jets.mouth
    remedy = "prime with more, on a wick that holds it" if ever >= 0.0 else "use a higher wick or lower jets"
    if water_share(p.wick.fractions, p) > DILUTED:
        remedy += ", or a stronger spirit"
    return Text(
        "while each jet gave vapour enough, the wick's flame stood {} high at most and lit nothing above {}, and the "
        "jets are {} up its way: " + remedy,
        Quantity(height / p.wick.kindling, "length"), Quantity(height, "length"), Quantity(p.jets.mouth, "length"),
    )  # fmt: skip


def jets_edge(setup: Setup, p: Parameters) -> Text:
    """Where the jets begin, and the mean level that reaches them on a tilted stand."""
    upright = Quantity(geometry.lowest_jet_edge(setup.burner), "length")
    if setup.site.tilt <= 0.0:
        return Text("{}", upright)
    return Text("{}, which a mean level of {} reaches on this tilt", upright, Quantity(p.jets.lower_edge, "length"))


def told_apart(reached: float, needed: float) -> tuple[str, str]:
    """Two figures with as many digits, two or more, as it takes to tell them apart; up to six.

    >>> told_apart(1.0, 2.41), told_apart(2.391, 2.412)
    (('1', '2.4'), ('2.39', '2.41'))
    """
    digits = next((n for n in range(2, 7) if _figures(reached, n) != _figures(needed, n)), 6)
    return _figures(reached, digits), _figures(needed, digits)


def _figures(value: float, digits: int) -> str:
    """A value to so many digits, without an exponent.

    >>> _figures(118.0, 2), _figures(0.0321, 2), _figures(3.94, 2)
    ('120', '0.032', '3.9')
    """
    return f"{float(f'{value:.{digits}g}'):g}"
