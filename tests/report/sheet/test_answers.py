"""The four answers at the head of a sheet are those of the burn, the prediction and the fill limits."""

import dataclasses

import burnsim
from burnsim.report.burn import poured
from burnsim.report.fill import pour_words
from burnsim.report.sheet import Findings
from burnsim.report.sheet.answers import answers
from burnsim.report.sheet.findings import SKIPPED
from burnsim.solve.results.milestones import Milestone
from burnsim.solve.results.verdicts import Verdict
from burnsim.studies.fill.record import FillLimits
from burnsim.studies.predict.prediction import Prediction
from burnsim.units import format_time, plain, written


def told(findings: Findings, units: str = "si") -> list[tuple[str, str, str]]:
    return [(one.question, plain(one.answer), plain("; ".join(one.below))) for one in answers(findings, units).answers]


def test_they_equal_what_the_studies_say(whole: Findings) -> None:
    burn, fill, found = whole.burn, whole.fill, whole.prediction
    assert isinstance(fill, FillLimits)
    assert isinstance(found, Prediction)
    boils, fuel, load, watch = told(whole)
    assert boils[:2] == ("boils in", plain(format_time(burn.milestones.boil.time or 0.0)))
    low, high = (plain(format_time(one.value)) for one in found.quantiles("boil", (0.05, 0.95), of="next"))
    assert boils[2] == f"in 67 % of the burns; 9 in 10 of those: {low} to {high}"
    used = poured(burn, burn.milestones.boil.fuel)
    assert used is not None
    assert fuel[:2] == ("on how much", plain(written(used, "volume")))
    assert "37.0 ml of methanol poured in, 3.0 ml on the wick" in fuel[2]
    assert load[:2] == ("pour at most", "41.0 ml")
    assert plain(pour_words(fill, "si")).startswith("pour at most 41.0 ml (1.38 fl oz)")
    assert load[2].startswith("(1.38 fl oz) on a level stand")
    assert watch[0] == "watch for"


def test_the_band_of_the_fuel_is_of_the_volume_that_was_poured(whole: Findings) -> None:
    found = whole.prediction
    assert isinstance(found, Prediction)
    mass = whole.burn.milestones.boil.fuel
    assert mass is not None
    same = dataclasses.replace(found, figures=found.figures | {"boil_fuel": 0.0 * found.figures["bloom"] + mass})
    _, answer, below = told(whole._replace(prediction=same))[1]
    assert below.startswith(f"9 in 10 burns: {answer};")


def test_us_units(whole: Findings) -> None:
    _, fuel, load, _ = told(whole, "us")
    assert fuel[1].endswith("fl oz")
    assert load[1] == "1.38 fl oz"
    assert load[2].startswith("(41.0 ml) on a level stand")


def test_what_does_not_happen_has_its_reason(whole: Findings) -> None:
    burn = whole.burn
    marks = burn.milestones._replace(boil=Milestone(None, "made up", None))
    cold = whole._replace(burn=dataclasses.replace(burn, milestones=marks))
    boils, fuel, _, _ = told(cold)
    assert boils[1] == "never"
    assert boils[2].startswith("made up")
    burnt = poured(burn, marks.burnout.fuel)
    assert burnt is not None
    assert fuel[:2] == ("burnt in all", plain(written(burnt, "volume")))  # not all that was poured
    assert told(whole._replace(fill=SKIPPED))[2][1:] == ("not known", SKIPPED)
    fill = whole.fill
    assert isinstance(fill, FillLimits)
    full = burnsim.vary(burn.setup, {"charge.volume": "43 ml"})
    over = whole._replace(fill=dataclasses.replace(fill, setup=full))
    assert "43.0 ml: 2.0 ml more than that" in told(over)[2][2]
    assert told(over)[3][1] == "too much fuel loaded"
    dark = dataclasses.replace(fill.burning_vented, dark="its jets go out", proven_to=30e-6)
    unproven = over._replace(fill=dataclasses.replace(over.fill, burning_vented=dark))
    assert told(unproven)[3][1] == "more fuel than is proven safe"
    spilling = dataclasses.replace(burn, verdicts=(Verdict("spills", "made up"),))
    assert told(over._replace(burn=spilling))[3][1] == "liquid or froth spills"
    out = dataclasses.replace(burn, verdicts=(Verdict("flare", "made up"), Verdict("quenched", "made up")))
    assert told(over._replace(burn=dataclasses.replace(out, verdicts=out.verdicts[1:])))[3][1] == (
        "the jets go out with fuel left"
    )
    assert told(over._replace(burn=out))[3][1] == "the flames flare up high"
    dark = dataclasses.replace(burn, milestones=marks, verdicts=(Verdict("never lit", "made up"),))
    assert told(over._replace(burn=dark))[1][1] == "nothing"  # burnt, of what was poured in


def test_the_gravest_is_watched_for(whole: Findings) -> None:
    found = whole.prediction
    assert isinstance(found, Prediction)
    calm = whole._replace(burn=dataclasses.replace(whole.burn, verdicts=()))
    assert told(calm)[3][1] == "nothing known"
    codes = [frozenset({"wind"})] * 5 + [frozenset({"wind", "spills"})] + [frozenset()] * 3
    struck = dataclasses.replace(found, codes=tuple(codes))
    assert told(calm._replace(prediction=struck))[3][1:] == (
        "liquid or froth spills", "not as drawn, but in 11 % of 9 burns"
    )  # fmt: skip
    rare = dataclasses.replace(found, codes=(frozenset({"wind"}), *[frozenset()] * 8))
    assert told(calm._replace(prediction=rare))[3][1].startswith("the wind")
    drawn = tuple(Verdict(code, "made up") for code in ("wind", "primer runs off", "spills"))
    windy = calm._replace(burn=dataclasses.replace(calm.burn, verdicts=drawn))
    assert told(windy)[3][1:] == ("liquid or froth spills", "in the burn as drawn, and 2 more, see below")
    choking = dataclasses.replace(found, codes=(frozenset({"wind", "smothered"}), *[frozenset({"wind"})] * 8))
    assert told(calm._replace(prediction=choking))[3][1].endswith("make carbon monoxide")
    runs = calm._replace(burn=dataclasses.replace(calm.burn, verdicts=drawn[1:2]))
    assert told(runs)[3][1] == "primer runs off the wick"
