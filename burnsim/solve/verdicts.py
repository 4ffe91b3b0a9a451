"""Verdicts in words: what a practitioner should know about a burn."""

from typing import TYPE_CHECKING, NamedTuple

from burnsim.closures.flame import heated_burning_velocity, lift_off_velocity, quenching_diameter
from burnsim.closures.flammability import BURNING_VELOCITY
from burnsim.model import geometry
from burnsim.model.balances import Flows
from burnsim.model.kettle import LAST_WATER
from burnsim.substances import air
from burnsim.substances.metals import METALS

if TYPE_CHECKING:
    from burnsim.solve.result import Burn


class Verdict(NamedTuple):
    """One finding: a stable code for scripts and a sentence for people."""

    code: str
    text: str


def verdicts(burn: "Burn", flows: list[Flows]) -> tuple[Verdict, ...]:
    """Everything that a practitioner would want to be warned of, most serious first.

    Parameters
    ----------
    burn : the result
    flows : flows at the ends of its steps
    """
    found: list[Verdict] = []
    marks = burn.milestones
    has_jets = burn.setup.burner.jets is not None
    if marks.burnout.time is None and burn.course.ended == "never lit":
        found.append(Verdict("never lit", f"It does not light: {marks.burnout.reason}."))
    elif has_jets and marks.bloom.time is None:
        found.append(Verdict("never blooms", f"The jets never light: {marks.bloom.reason}."))
    if marks.quench.time is not None:
        found.append(_quenched(burn))
    if marks.spill.time is not None:
        found.append(_spill(burn))
    if burn.setup.pot is not None and marks.boil.time is None and burn.course.ended != "never lit":
        found.append(Verdict("no boil", f"The water does not boil: {marks.boil.reason}."))
    peak = max(burn.gallery_pressure_max, burn.well_pressure_max)
    if peak > burn.setup.pressure_limit:
        found.append(
            Verdict(
                "pressure",
                f"The chamber pressure reaches {peak:.0f} Pa, above the stated limit of "
                f"{burn.setup.pressure_limit:.0f} Pa: use more or wider jets, or more relief.",
            )
        )
    found.extend(_flames(burn, flows))
    if burn.course.ended == "horizon":
        found.append(Verdict("cut off", f"The run was cut off at {burn.time[-1]:.0f} s with flames still standing."))
    if burn.course.ended == "flutter":
        found.append(
            Verdict(
                "flutter",
                f"The flames went out and relit many times; the run was ended at {burn.time[-1]:.0f} s.",
            )
        )
    soaked = geometry.wick_capacity(burn.setup.burner)
    if burn.setup.burner.wick is not None and burn.setup.charge.primer > 1.05 * soaked:
        found.append(
            Verdict(
                "primer runs off",
                f"The wick soaks up {soaked * 1e6:.1f} ml of {burn.setup.charge.primer * 1e6:.1f} ml of primer; the "
                "rest runs off and burns where it lies. The run burns it all on the wick.",
            )
        )
    found.extend(_too_hot(burn, flows))
    if burn.course.forced > 0:
        found.append(
            Verdict(
                "uneven",
                f"The flows jumped {burn.course.forced} times, as when a compartment nearly runs dry; times after "
                "that are less sure.",
            )
        )
    left = burn.mass.left / burn.mass.charged
    if burn.course.ended != "never lit" and left > 0.1:
        found.append(
            Verdict(
                "fuel left",
                f"{100.0 * left:.0f} % of the charge is left unburnt in the burner when the last flame goes out.",
            )
        )
    lost = burn.mass.unburnt / burn.mass.charged
    if lost > 0.03:
        found.append(
            Verdict("unburnt vapour", f"{100.0 * lost:.0f} % of the charge leaves as vapour that does not burn.")
        )
    return tuple(found)


def _quenched(burn: "Burn") -> Verdict:
    when = burn.milestones.quench.time or 0.0
    instant = burn.flows_at(max(when - 0.5, 0.0))
    taken = instant.walls.contact
    gained = instant.fire.jets_to_rim + instant.fire.wick_to_rim
    start = f"The jets go out at {when:.0f} s with fuel left: "
    pot = burn.setup.pot
    if pot is not None and pot.rest == "full ring" and taken > 0.25 * max(gained, 1e-9):
        return Verdict(
            "quenched",
            f"{start}the pot takes {taken:.0f} W from the rim, and the flames give it {gained:.0f} W. Stand the pot on "
            "bumps or a stand, or warm it first.",
        )
    water = burn.parameters.fuel.water_index
    if water >= 0 and instant.gallery.fractions[water] > 0.8:
        return Verdict(
            "quenched",
            f"The jets go out at {when:.0f} s: the alcohol has boiled off and what is left is almost all water. "
            "Use a stronger spirit.",
        )
    return Verdict(
        "quenched",
        f"{start}the flames give the rim {gained:.0f} W, too little for the vapour that holds them. More or wider "
        "jets, more primer or a warmer start may carry it over.",
    )


def _too_hot(burn: "Burn", flows: list[Flows]) -> list[Verdict]:
    """A pot boiled dry, and metal near its melting point."""
    found = []
    pot = burn.setup.pot
    last = burn.state_at(float(burn.time[-1]))[0]
    if pot is not None and burn.course.ended != "never lit" and last.water <= LAST_WATER:
        found.append(Verdict("boiled dry", "The pot boils dry: take it off in time."))
    rim = max(f.rim_temperature for f in flows)
    if rim > METALS[burn.setup.burner.metal].melting_point:
        found.append(Verdict("rim melts", f"The rim reaches {rim - 273.15:.0f} degC, where its metal melts."))
    hottest = max(f.pot_temperature for f in flows)
    if pot is not None and hottest > METALS[pot.metal].melting_point:
        found.append(Verdict("pot melts", f"The dry pot reaches {hottest - 273.15:.0f} degC, where its metal melts."))
    return found


def _spill(burn: "Burn") -> Verdict:
    when = burn.milestones.spill.time or 0.0
    instant = burn.flows_at(when)
    edge = burn.parameters.jets.lower_edge
    level = instant.gallery.level
    pushed = instant.gas.well_pressure / (9.80665 * max(instant.gallery.density, 1.0))
    if level >= edge and when <= 0.0:
        how = "it is filled above the jets"
    elif pushed > 0.25 * edge:
        how = (
            f"the well's pressure of {instant.gas.well_pressure:.0f} Pa pushes the liquid over into the gallery; "
            "it needs relief notches or bumps"
        )
    elif level >= 0.95 * edge:
        how = "the liquid expands as it warms"
    else:
        how = "boiling swells it to a froth"
    return Verdict("spills", f"Liquid or froth reaches the jets at {when:.0f} s: {how}.")


def _flames(burn: "Burn", flows: list[Flows]) -> list[Verdict]:
    """Length, lift-off and light-back of the jets' flames."""
    found = []
    jets = burn.setup.burner.jets
    if burn.setup.pot is not None:
        burning = [f for f in flows if f.fire.jet_power > 0.0]
        beyond = max((f.kettle.flame_beyond for f in burning), default=0.0)
        if beyond > 0.05:
            longest = max(f.fire.flame_length for f in burning)
            found.append(
                Verdict(
                    "flame beyond pot",
                    f"The flames reach {longest * 1e3:.0f} mm and up to {100.0 * beyond:.0f} % of their length lies "
                    "outside the pot: use a wider pot or smaller jets.",
                )
            )
    if jets is None or burn.milestones.bloom.time is None:
        return found
    components = burn.setup.charge.fuel.components
    slow = min(BURNING_VELOCITY[name] for name in components if name in BURNING_VELOCITY)
    diffusivity = air.thermal_diffusivity(298.15, burn.parameters.site.pressure)
    fastest = max(f.fire.exit_velocity for f in flows if f.fire.jet_power > 0.0)
    limit = lift_off_velocity(jets.diameter, slow, diffusivity)
    if fastest > limit:
        found.append(
            Verdict(
                "lift-off",
                f"The vapour leaves the jets at up to {fastest:.1f} m/s; above about {limit:.1f} m/s (within a factor "
                "of two) flames may lift off the holes.",
            )
        )
    warmest = max(f.gas.jet_temperature for f in flows)
    velocity = heated_burning_velocity(max(BURNING_VELOCITY[n] for n in components if n in BURNING_VELOCITY), warmest)
    widest = quenching_diameter(velocity, air.thermal_diffusivity(warmest, burn.parameters.site.pressure))
    mixed = any(f.gas.air_fraction > 0.05 and f.fire.jet_limit >= 1.0 and f.fire.jet_power > 0.0 for f in flows)
    if jets.diameter > widest and mixed:
        found.append(
            Verdict(
                "light-back",
                f"Holes of {jets.diameter * 1e3:.1f} mm are wider than the quenching diameter of about "
                f"{widest * 1e3:.1f} mm while there is still air in the gallery: the flame may strike back into it.",
            )
        )
    return found
