"""Spirits and blends compared on paper, in the same burner under the same pot."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal, get_args

from burnsim.answers import Drawn, Tabled, Told
from burnsim.errors import InputError, SolverError, as_list, check_whole, is_number, unknown
from burnsim.model import Design, Setup, as_setup, vary
from burnsim.model.at_site import poured_density
from burnsim.model.balances.state import State, Tallies
from burnsim.model.description import geometry
from burnsim.model.parameters.record import Parameters
from burnsim.solve import Burn
from burnsim.solve.results.ledger import fuel_moles
from burnsim.solve.results.outcome import fuel_left
from burnsim.studies.batches import burn_whole
from burnsim.studies.calibrate.repeats import MILESTONES
from burnsim.studies.counting import count, expect
from burnsim.studies.fuels.charge import LeastCharge, least_charges
from burnsim.studies.fuels.spirit import CARBON_DIOXIDE_MASS, Spirit, describe_spirit
from burnsim.substances.air import pressure_at_altitude
from burnsim.substances.blend import Blend, blend
from burnsim.substances.fuel import liquid_volume, mass_of
from burnsim.substances.recipe import READY
from burnsim.substances.substance import T20

MOSTLY_WATER = 0.5
"""Mass share of water in what is left, from which on a spirit counts as one that leaves its water behind."""
TRACE = 0.01  # share of the charge below which what is left does not count
NOT_SOUGHT = "the least charge was not searched for"

ChargeRule = Literal["fixed", "least"]


@dataclass(frozen=True)
class FuelRow:
    """One spirit in the burner. What did not happen is None, and `reasons` says why."""

    spirit: Spirit  # what it is worth on paper
    charge: float  # poured into the burner, for the figures of this row [m3]
    primer: float  # poured onto the wick [m3]
    least: LeastCharge  # the least charge that boils the water
    bloom: float | None = None  # [s]
    boil: float | None = None  # [s]
    burnout: float | None = None  # [s]
    used: float | None = None  # liquid gone from burner and wick by the boil [kg]
    power: float | None = None  # median of all flames [W]
    # heat in water and steam at the boil over the heating value of what is gone by then, component by component [-];
    # a blend that distils burns its spirit first, and counted by the bulk's heating value it would look better than
    # it is
    efficiency: float | None = None
    residue: float | None = None  # liquid left in burner and wick at the end, at 20 degC [m3]
    residue_water: float | None = None  # mass share of water in it [-]; None if nothing is left
    flame: float | None = None  # longest flame on a jet [m]; None if the jets never burn
    # greatest share of the flames' heat released above the pot [-]; None without a pot or a flame
    flame_beyond: float | None = None
    carbon_dioxide: float | None = None  # from the match to the boil [kg]
    carried: float | None = None  # mass of spirit for all boils [kg]
    carried_volume: float | None = None  # the same at 20 degC [m3]
    cost: float | None = None  # of that, in the currency of the prices; None without a price
    verdicts: tuple[str, ...] = ("failed",)  # codes of what a practitioner would warn of
    reasons: Mapping[str, str] = field(default_factory=dict)  # why figures are missing, by their names
    burn: Burn | None = None  # the burn itself; None if it could not be solved

    @property
    def used_volume(self) -> float | None:
        """Liquid gone by the boil as a volume of the spirit as poured, at the charge's temperature [m3]."""
        if self.used is None:
            return None
        return self.used / (self.spirit.density if self.burn is None else poured_density(self.burn.setup))

    @property
    def waters(self) -> bool:
        """Whether little but water is left of the charge at the end: what is saved at the boil is weaker than new."""
        share = self.residue_water or 0.0
        return share > MOSTLY_WATER and (self.residue or 0.0) > TRACE * (self.charge + self.primer)


@dataclass(frozen=True, repr=False)
class FuelComparison(Tabled, Told, Drawn):
    """Spirits side by side: one row a spirit, in the order asked for.

    Attributes
    ----------
    setup : the burner that they are compared in
    charge : "fixed" (the setup's charge of each) or "least" (the least charge that boils the water)
    boils : how many boils `carried` and `cost` are for
    rows : one a spirit
    """

    setup: Setup
    charge: ChargeRule
    boils: int
    rows: tuple[FuelRow, ...]


def compare_fuels(
    setup: Design,
    fuels: Sequence[str | Mapping[str, float] | Blend] | None = None,
    *,
    prices: Mapping[str, float] | None = None,
    boils: int = 1,
    charge: ChargeRule = "fixed",
    find_least: bool = True,
) -> FuelComparison:
    """Burn each spirit in the same burner under the same pot.

    Parameters
    ----------
    setup : burner, pot and site
    fuels : names, recipes by volume before mixing, or blends; default none: every ready blend, and the setup's own
        spirit before them where it is none of these
    prices : of a litre, by the names of the fuels, in any currency
    boils : how many boils to carry spirit for, 1 or more
    charge : "fixed" burns the setup's charge of each, and counts what is gone by the boil as used: the rest is taken to
        be saved by putting the fire out. "least" burns the least charge that boils the water, and counts all of it.
    find_least : whether to search for the least charge, some 17 burns a spirit; the rule "least" does so anyway
    """
    setup = as_setup(setup)
    given = list(READY) if fuels is None else as_list("fuels", fuels, '["methanol", "ethanol 95"]')
    chosen = [blend(one) for one in given]
    if fuels is None and setup.charge.fuel not in chosen:
        chosen.insert(0, setup.charge.fuel)
    if not chosen:
        raise InputError("fuels", fuels, "is empty", "name at least one, or leave it out for all ready blends")
    check_whole("boils", boils, 1, remedy="write 1 for one pot of water")
    if charge not in get_args(ChargeRule):
        raise unknown("charge", charge, get_args(ChargeRule), show=repr)
    cost = _prices(prices or {}, chosen)
    setups = [vary(setup, {"charge.fuel": fuel}) for fuel in chosen]
    expect(len(setups))
    if setup.pot is None or (charge == "fixed" and not find_least):
        why = NOT_SOUGHT if setup.pot is not None else "there is no pot"
        least = [LeastCharge(None, why, 0.0, True, ())] * len(setups)
    else:
        full = 0.999 * geometry.capacity_below_jets(setup.burner)
        least = least_charges(setups, most=max(full, setup.charge.volume))
    rows = []
    for one, found in zip(setups, least, strict=True):
        loaded = one
        if charge == "least" and found.volume is not None:
            loaded = vary(one, {"charge.volume": found.volume})
        rows.append(_row(loaded, found, charge, boils, cost.get(one.charge.fuel.name)))
        count()
    return FuelComparison(setup, charge, boils, tuple(rows))


def _prices(prices: Mapping[str, float], fuels: Sequence[Blend]) -> dict[str, float]:
    """Price of a litre by the name of the fuel."""
    names = {fuel.name.lower(): fuel.name for fuel in fuels}
    found = {}
    for name, price in prices.items():
        if name.lower() not in names:
            raise unknown("prices", name, names, "is not one of the fuels compared")
        if not is_number(price) or price < 0.0:
            raise InputError(f"price of {name}", price, "is not a number of 0 or more", "give the price of a litre")
        found[names[name.lower()]] = float(price)
    return found


def _row(setup: Setup, least: LeastCharge, charge: ChargeRule, boils: int, price: float | None) -> FuelRow:
    spirit = describe_spirit(setup.charge.fuel, pressure_at_altitude(setup.site.altitude))
    try:
        result = burn_whole(setup)
    except SolverError as error:
        names = (*MILESTONES, "used", "power", "efficiency", "residue", "residue_water", "flame", "flame_beyond")
        reasons = dict.fromkeys((*names, "carbon_dioxide", "carried", "cost"), f"the run failed: {error}")
        return FuelRow(spirit, setup.charge.volume, setup.charge.primer, least, reasons=reasons)
    marks = result.milestones
    p = result.parameters
    reasons = {name: mark.reason for name, mark in marks._asdict().items() if name in MILESTONES and mark.time is None}
    used = dioxide = carried = useful = None
    if marks.boil.time is None:
        for name in ("used", "carbon_dioxide", "carried", "efficiency"):
            reasons[name] = marks.boil.reason
    else:
        state, tallies = result.state(marks.boil.time)
        first = result.state(0.0)[0]
        used = fuel_left(first, p) - fuel_left(state, p)
        dioxide = carbon_dioxide(tallies, setup.charge.fuel)
        carried = boils * (used if charge == "fixed" else fuel_left(first, p))
        useful = result.efficiency_to_boil
    if result.power_median is None:
        reasons["power"] = "the jets burn too short a time" if marks.bloom.time is not None else marks.bloom.reason
    if price is None:
        reasons["cost"] = "no price was given"
    elif carried is None:
        reasons["cost"] = marks.boil.reason
    residue, watery = _residue(result.state(float(result.time[-1]))[0], p)
    flame, beyond = _flames(result)
    if flame is None:
        reasons["flame"] = reasons["flame_beyond"] = marks.bloom.reason or "the jets' flames have no length"
    elif beyond is None:
        reasons["flame_beyond"] = "there is no pot"
    volume = None if carried is None else carried / spirit.density
    return FuelRow(
        spirit=spirit, charge=setup.charge.volume, primer=setup.charge.primer, least=least, bloom=marks.bloom.time,
        boil=marks.boil.time, burnout=marks.burnout.time, used=used, power=result.power_median, efficiency=useful,
        residue=residue, residue_water=watery, flame=flame, flame_beyond=beyond, carbon_dioxide=dioxide,
        carried=carried, carried_volume=volume,
        cost=None if volume is None or price is None else volume * 1e3 * price,
        verdicts=tuple(verdict.code for verdict in result.verdicts), reasons=reasons, burn=result,
    )  # fmt: skip


def carbon_dioxide(tallies: Tallies, fuel: Blend) -> float:
    """Carbon dioxide of what of the fuel has burnt so far [kg]; burning is taken as complete."""
    carbon = sum(n * one.atoms[0] for n, one in zip(tallies.burnt, fuel.substances, strict=True))
    return carbon * CARBON_DIOXIDE_MASS


def _residue(state: State, p: Parameters) -> tuple[float, float | None]:
    """Volume of all liquid at 20 degC [m3], and the mass share of water in it."""
    moles = tuple([max(n, 0.0) for n in fuel_moles(state, p)])
    mass = mass_of(moles, p.fuel)
    if mass <= 0.0:
        return 0.0, None
    w = p.fuel.water_index
    water = moles[w] * p.fuel.molar_mass[w] if w >= 0 else 0.0
    return liquid_volume(moles, T20, p.fuel), water / mass


def _flames(result: Burn) -> tuple[float | None, float | None]:
    """Longest flame of a burning jet [m] and the greatest share of the flames outside the pot; None if none burns."""
    flows = [result.flows(time) for time in result.time.tolist()]
    burning = [f for f in flows if f.regime.jets > 0.0 and f.fire.flame_length > 0.0]
    if not burning:
        return None, None
    longest = max(f.fire.flame_length for f in burning)
    return longest, None if result.setup.pot is None else max(f.pot.flame_beyond for f in burning)
