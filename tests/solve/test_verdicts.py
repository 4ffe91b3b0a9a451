"""Verdicts: which are told, in which order, and what they advise."""

import re
from functools import cache
from pathlib import Path

import pytest
from burners import burnt

import burnsim
from burnsim.solve.results.result import Burn
from burnsim.units import parse, plain

EXAMPLES = Path(__file__).parents[2] / "examples"
WEEKEND = burnsim.load(EXAMPLES / "weekend_double_wall.toml")
SEALED = burnsim.load(EXAMPLES / "workshop_sealed_chamber.toml")


@cache
def sealed(**changes: object) -> Burn:
    return burnt(burnsim.vary(SEALED, {name.replace("__", "."): value for name, value in changes.items()}))


@cache
def weekend(**changes: object) -> Burn:
    return burnt(burnsim.vary(WEEKEND, {name.replace("__", "."): value for name, value in changes.items()}))


def codes(burn: Burn) -> list[str]:
    return [verdict.code for verdict in burn.verdicts]


def text(burn: Burn, code: str) -> str:
    return next(verdict.text for verdict in burn.verdicts if verdict.code == code)


def test_a_chamber_that_may_burst_comes_first_and_is_not_to_be_primed_more() -> None:
    few = sealed(burner__jets__count=1, burner__jets__diameter="0.24 mm")
    assert few.gallery_pressure_max > 2e5
    assert codes(few)[0] == "pressure"
    assert "do not build or light this" in text(few, "pressure")
    assert "ore primer" not in text(few, "quenched")


def test_a_little_above_the_limit_is_no_bomb() -> None:
    limit = 0.5 * sealed().gallery_pressure_max
    told = text(sealed(pressure_limit=limit), "pressure")
    assert "burst" not in told
    assert "do not light this. Use more or wider jets, or less primer." in told


def test_a_cold_pot_on_the_rim_takes_a_part_of_what_the_flames_give() -> None:
    """Both watts are told in an order that says why the jets go out, and what is done about it."""
    icy = {"pot__rest": "full ring", "pot__water_temperature": "1 degC"}
    burn = weekend(charge__fuel="ethanol 95", burner__rim_width="2 mm", **icy)
    said = plain(text(burn, "quenched"))
    given, taken = map(float, re.findall(r"(\d+) W", said))
    assert 0.25 * given < taken < given
    assert "of the" in said.partition("that the flames give rim and wall the pot takes")[0]
    assert said.endswith("Stand the pot on bumps or a stand, or start with warmer water.")


def test_metal_that_melts_is_told_at_what() -> None:
    """Alloys of drink cups and pots begin to melt at 629 degC (ASM, of 3004; from memory): no pot gets hotter whole."""
    burn = weekend(charge__volume="70 ml", pot__water="0.1 l")
    assert text(burn, "boiled dry") == "The pot boils dry: take it off before."
    assert "and its metal melts at 629\u00a0°C." in text(burn, "pot melts")


def test_relief_is_asked_of_a_burner_that_can_have_it() -> None:
    """Notches in the rim of a sealed chamber are refused: there is nothing for them to vent."""
    assert "relief" not in text(sealed(pressure_limit=1.0), "pressure")
    assert "more relief" in text(weekend(pressure_limit=1.0), "pressure")


def test_vapour_leaves_the_jets_no_faster_than_sound() -> None:
    """Vapour of methanol at 400 K: sqrt(1.13 R T/M) = 342 m/s."""
    few = sealed(burner__jets__count=1, burner__jets__diameter="0.3 mm")
    speed = float(text(few, "lift-off").split("up to ")[1].split("\u00a0")[0])
    assert 200.0 < speed < 450.0


def test_flames_that_flare_up_are_told_with_their_height() -> None:
    """Heskestad: 4.2 kW on 70 mm stand 0.35 m high; the weekend burner's 2.4 kW stay below 0.3 m."""
    assert "flare" in codes(sealed(charge__primer="5 ml"))
    assert sealed().power_max == pytest.approx(sealed().series("power").max(), rel=0.01)
    assert "flare" not in codes(weekend())
    assert "flare" in codes(weekend(charge__primer="30 ml"))


def test_upward_flames_crowded_under_a_pot_are_told() -> None:
    assert "flames on the pot" in codes(sealed(pot__gap="2 mm"))
    assert "flames on the pot" not in codes(sealed())


def test_a_well_is_smothered_only_where_a_flame_lives_over_it() -> None:
    """Below the gap in which flames live, and inside lit jets, its vapour burns with theirs, which count the air."""
    assert "smothered" in codes(burnt(burnsim.vary(EXAMPLES / "porch_open_well.toml", {"pot.gap": "4 mm"})))
    assert [("smothered" in codes(weekend(pot__gap=gap))) for gap in ("2.1 mm", "2.2 mm", "3 mm")] == [False] * 3


@pytest.mark.parametrize(
    ("file", "gap"), [("porch_open_well", "4 mm"), ("garden_open_cup", "4 mm"), ("garden_open_cup", "6 mm")]
)
def test_a_smothered_well_has_its_air_at_the_height_that_is_told(file: str, gap: str) -> None:
    """And not a quarter of the way there, so that the height is no idle one."""
    low = burnsim.vary(EXAMPLES / f"{file}.toml", {"pot.gap": gap, "pot.rest": "stand"})
    said = text(burnt(low), "smothered")
    told_height = parse(plain(said).partition("Raise the pot to some ")[2].partition(" above the rim.")[0], "length")
    assert "smothered" not in codes(burnt(burnsim.vary(low, {"pot.gap": told_height})))
    assert "smothered" in codes(burnt(burnsim.vary(low, {"pot.gap": 0.75 * low.pot.gap + 0.25 * told_height})))


def test_flames_crowded_under_a_pot_have_room_at_the_height_that_is_told() -> None:
    said = text(sealed(pot__gap="2 mm"), "flames on the pot")
    height = plain(said).partition("Raise the pot to ")[2].partition(" above the rim or more.")[0]
    assert parse(height, "length") > 2e-3
    assert "flames on the pot" not in codes(sealed(pot__gap=height))


def test_no_pot_is_to_be_raised_out_of_reach() -> None:
    """One jet of 0.9 mm has a flame of almost half a metre: no stand is as high, but more jets have shorter flames."""
    one = text(sealed(burner__jets__count=1, burner__jets__diameter="0.9 mm"), "flames on the pot")
    assert "Raise" not in one
    assert one.endswith("Use more jets, or narrower ones.")


def test_holes_in_a_thin_wall_let_a_flame_back_sooner_than_tubes() -> None:
    """2.1 mm between plates, 3.2 mm in tubes (Lewis and von Elbe, from memory)."""
    wide = weekend(burner__jets__count=8, burner__jets__diameter="3 mm")
    assert text(wide, "light-back").endswith("strike back into it. Drill narrower jets.")
    assert "light-back" not in codes(weekend())


UNLIT = {"burner__wick": None, "charge__primer": 0.0, "pot__rest": "full ring", "burner__jets__diameter": "2.5 mm"}


def test_a_match_at_wide_jets_may_flash_into_an_unlit_gallery() -> None:
    """Methanol at 20 degC has 12.8 % of vapour (Antoine: 13 kPa), of limits of 6 and 36 %: 2.5 mm pass its flame."""
    burn = weekend(**UNLIT)
    assert burn.ended == "never lit"
    assert "nothing to light" not in text(burn, "never lit")
    assert "2.5 mm are wider" in plain(text(burn, "light-back"))
    assert text(burn, "light-back").endswith("a match at them may flash into the gallery. Drill narrower jets.")
    assert "light-back" not in codes(weekend(**UNLIT | {"burner__jets__diameter": "1.9 mm"}))


def test_vapour_too_lean_or_too_rich_does_not_flash() -> None:
    """Ethanol at -5 degC has 1.1 % (lower limit 3.3 %), methanol at 45 degC 44 % (upper limit 36 %)."""
    lean = weekend(**UNLIT | {"charge__fuel": "ethanol", "charge__temperature": "-5 degC"})
    assert "light-back" not in codes(lean)
    assert "light-back" not in codes(weekend(**UNLIT | {"charge__temperature": "45 degC"}))
    assert "light-back" in codes(weekend(**UNLIT | {"charge__fuel": "ethanol", "charge__temperature": "20 degC"}))


def test_a_match_at_wide_notches_may_flash_into_the_well() -> None:
    def notched(depth: str) -> Burn:
        relief = burnsim.Notches(3, "5 mm", depth)
        return weekend(**UNLIT | {"burner__jets__diameter": "1 mm", "burner__relief": relief})

    assert "a match at them may flash into the well" in text(notched("4 mm"), "light-back")
    assert "light-back" not in codes(notched("1.5 mm"))


def test_a_pot_narrower_than_the_ring_loses_its_heat_step_by_step() -> None:
    """Beside a pot of the ring's own width the gas still climbs its wall; without a wind no wind is blamed."""
    shares = []
    for wide in ("64 mm", "62 mm", "60 mm", "58 mm", "55 mm"):
        burn = weekend(pot__diameter=wide, pot__height="20 cm", pot__water="0.3 l")
        shares.append(burn.efficiency or 0.0)
        assert "wind" not in codes(burn)
    assert shares == sorted(shares, reverse=True)
    assert shares[1] > 0.97 * shares[0]
    assert "beside the pot" in codes(weekend(pot__diameter="58 mm", pot__height="20 cm", pot__water="0.3 l"))


def test_what_spills_is_never_no_percent() -> None:
    few = weekend(charge__volume="37 ml", charge__primer="3.2 ml", site__tilt="16 deg")
    for verdict in few.verdicts:
        assert "(0\u00a0%" not in verdict.text


def test_a_spirit_that_was_watery_from_the_bottle_is_not_told_to_have_boiled_off() -> None:
    """Ethanol of 40 % by volume is 83 % of water by molecules as poured; on jets that its primer's flame reaches."""
    fuel = {"ethanol": 0.4, "water": 0.6}
    weak = {"charge.fuel": fuel, "burner.jets.height": "24 mm", "factors.flame_to_rim": 0.2}
    watery = burnt(burnsim.vary(WEEKEND, weak))
    told = text(watery, "quenched")
    assert "boiled off" not in told
    assert "stronger spirit" in told


def test_jets_above_a_watery_primers_flame_ask_for_a_stronger_spirit() -> None:
    watery = burnt(burnsim.vary(WEEKEND, {"charge.fuel": {"ethanol": 0.45, "water": 0.55}}))
    told = text(watery, "never blooms")
    assert "lit nothing above" in told
    assert told.endswith("use a higher wick or lower jets, or a stronger spirit.")


def test_alcohol_that_has_boiled_off_is_no_quench() -> None:
    """Rubbing alcohol of 70 % boils the water, burns on and goes out on its own water: the charge has done its work."""
    burn = weekend(charge__fuel="2-propanol 70")
    assert burn.boil.time is not None
    assert burn.energy.left < 0.05 * burn.energy.charged
    assert "quenched" not in codes(burn)
    told = plain(text(burn, "water left"))
    assert "Pour them away" in told
    left = float(told.split(" on ")[1].split(" ml")[0])
    assert left * 1e-6 * 970.0 == pytest.approx(burn.mass.left, rel=0.1)  # hot water with a little alcohol in it


def test_jets_that_go_out_on_spirit_are_quenched() -> None:
    burn = weekend(charge__fuel="2-propanol 70", pot__rest="full ring", pot__water_temperature="1 degC")
    assert "water left" not in codes(burn)


def test_a_burner_that_does_not_light_is_told_what_may_light_it() -> None:
    """Cold ethanol in an open well: with a wick a primer may do it, without one the burner lacks a wick."""
    cold = {"charge.fuel": "ethanol", "site.air_temperature": "-20 degC", "pot.rest": "stand", "pot.gap": "30 mm"}
    bare = burnsim.vary(WEEKEND, cold | {"charge.primer": "0 ml", "pot.water_temperature": "4 degC"})
    assert "Pour a primer on the wick" in text(burnt(bare), "never lit")
    assert "ive the burner a wick and a primer, or use a stronger spirit" in text(
        burnt(burnsim.vary(bare, {"burner.wick": None})), "never lit"
    )


def test_a_chamber_without_a_primer_is_told_of_nothing_else() -> None:
    """No spirit lies open to a match, so that a stronger or a warmer one lights no better."""
    chamber = burnsim.load(EXAMPLES / "workshop_sealed_chamber.toml")
    bare = burnsim.vary(chamber, {"charge.primer": "0 ml", "site.air_temperature": "-15 degC"})
    assert text(burnt(bare), "never lit").endswith("no flame would stay lit. Pour a primer on the wick.")
    without = text(burnt(burnsim.vary(bare, {"burner.wick": None})), "never lit")
    assert without.endswith("no flame would stay lit. Give the burner a wick and a primer.")


@pytest.mark.parametrize(("rest", "primer", "told"), [("full ring", "4 ml", True), ("stand", "0.7 ml", False)])
def test_a_pot_that_cools_the_rim_is_lifted_before_the_primer_is_raised(rest: str, primer: str, told: bool) -> None:
    """Common practice, no source: a cold pot on the whole rim keeps jets from lighting, however much is primed."""
    jets = {"count": 12, "diameter": "0.8 mm", "height": "24 mm"}
    cold = {"site.air_temperature": "-15 degC", "pot.water_temperature": "1 degC", "burner.jets": jets}
    chamber = burnsim.load(EXAMPLES / "workshop_sealed_chamber.toml")
    burn = burnt(burnsim.vary(chamber, cold | {"pot.rest": rest, "charge.primer": primer}))
    found = text(burn, "never blooms")
    assert ("; stand the pot on bumps or a stand, prime with more" in found) is told
    assert ("; prime with more" in found) is not told


def test_an_open_well_without_a_wick_is_not_told_to_prime_with_more() -> None:
    """A pot so near that the well's flame hardly warms the gallery."""
    well = burnsim.load(EXAMPLES / "porch_open_well.toml")
    found = text(burnt(burnsim.vary(well, {"pot.gap": "3 mm", "charge.volume": "3 ml"})), "never blooms")
    assert "give the burner a wick and a primer" in found
    assert "prime with more" not in found


def test_powers_are_told_without_exponents() -> None:
    """A full wick under a few drops in the chamber wraps jets that would give far more than 100 W each."""
    chamber = burnsim.load(EXAMPLES / "workshop_sealed_chamber.toml")
    found = burnt(burnsim.vary(chamber, {"charge.volume": "3 ml", "charge.primer": "9 ml", "pot.gap": "60 mm"}))
    assert "wrapped the jets" in text(found, "never blooms")
    assert re.search(r"vapour enough, \d{2,3} W each", plain(text(found, "never blooms")))


def test_nobody_is_told_to_warm_spirit() -> None:
    """A pot that closes the cup is lifted, a watery primer made stronger; spirit is heated for neither."""
    cup = burnsim.load(EXAMPLES / "garden_open_cup.toml")
    covered = text(burnt(burnsim.vary(cup, {"pot.rest": "full ring"})), "never lit")
    assert covered.endswith("Stand the pot higher.")
    dry = text(burnt(burnsim.vary(WEEKEND, {"charge.primer": "0 ml"})), "never lit")
    assert dry.endswith("Pour a primer on the wick, or stand the pot higher.")
    cold = text(burnt(burnsim.vary(cup, {"site.air_temperature": "-15 degC"})), "never lit")
    assert "Use a stronger spirit. Never heat spirit" in cold
    thin = {"charge.fuel": {"basis": "mass", "ethanol": 0.02, "water": 0.98}}
    water = text(burnt(burnsim.vary(cup, thin)), "never lit")
    assert "Use a stronger spirit." in water
    few = text(burnt(burnsim.vary(WEEKEND, {"charge.primer": "0.01 ml"})), "never lit")
    assert few.endswith("Pour more primer, or use a stronger spirit.")
    assert all("arm the spirit" not in one for one in (covered, dry, cold, water, few))


def test_a_wick_that_is_full_is_not_to_be_primed_more() -> None:
    """The wick of the weekend's burner holds 4.6 ml: what is poured beyond runs off, whatever a quench asks for."""
    out = {"pot.water_temperature": "1 degC", "burner.jets.count": 10, "burner.metal": "stainless steel"}
    for primer, asked in (("2 ml", "More primer, less fuel"), ("4.8 ml", "A larger wick with more primer, less fuel")):
        assert asked in text(burnt(burnsim.vary(WEEKEND, out | {"charge.primer": primer})), "quenched")


def test_an_open_cup_has_no_well() -> None:
    low = burnt(burnsim.vary(EXAMPLES / "garden_open_cup.toml", {"pot.gap": "6 mm"}))
    assert "over the cup" in text(low, "smothered")


def test_a_run_that_is_cut_off_has_no_last_flame() -> None:
    """A deep burner on two jets burns for longer than runs go on: half of its charge is left then, still burning."""
    slow = {
        "burner": {
            "kind": "double wall", "outer_diameter": "58 mm", "height": "80 mm", "gallery_gap": "3.6 mm",
            "wall_thickness": "0.1 mm", "jets": {"count": 2, "diameter": "1.3 mm", "height": "64.6 mm"},
            "feed_slots": {}, "wick": {"height": "6 mm", "thickness": "1 mm"},
        },
        "charge": {"fuel": "methanol", "volume": "152.7 ml", "primer": "15 ml"},
        "pot": {"diameter": "8 cm", "height": "13 cm", "water": "0.42 l", "rest": "bumps", "gap": "1 mm",
                "water_temperature": "60 degC"},
        "site": {"air_temperature": "25 degC", "altitude": "3500 m"},
    }  # fmt: skip
    long = burnt(burnsim.Setup.from_dict(slow))
    assert "cut off" in codes(long)
    assert text(long, "fuel left").endswith("is left in the burner when the run ends.")
    assert text(sealed(burner__jets__count=1, burner__jets__diameter="0.3 mm"), "fuel left").endswith("goes out.")
