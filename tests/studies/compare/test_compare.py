"""Real designs side by side: signs that follow from physics, and what a reader is told."""

from pathlib import Path

import pytest

import burnsim
from burnsim.errors import InputError
from burnsim.studies.compare import DesignComparison
from burnsim.units import plain

CUP = burnsim.Burner("open cup", "60 mm", "30 mm")
POT = burnsim.Pot("10 cm", "8 cm", "40 ml", rest="stand", gap="30 mm")
SETUP = burnsim.Setup(CUP, burnsim.Charge("ethanol", "6 ml"), POT, name="cup")


@pytest.fixture(scope="module")
def found() -> DesignComparison:
    other = burnsim.vary(SETUP, {"pot.water": "60 ml", "site.air_temperature": "25 degC", "name": "more water"})
    return burnsim.compare([SETUP, other], n=8, workers=1)


def test_a_design_differs_from_itself_by_nothing() -> None:
    same = burnsim.compare([SETUP, burnsim.vary(SETUP, {"name": "twin"})], n=8, workers=1)
    [against] = same.against
    assert against.changes == {}
    assert all(one.whole in (0.0, None) and one.parts == () for one in against.causes)
    assert against.flips == ()
    for one in against.paired.values():
        assert one.typical in (0.0, None)
        assert not one.sure
    assert "A and B do not differ" in same.summary()


def test_more_water_boils_later_and_warmer_sooner(found) -> None:
    [against] = found.against
    [boil] = [one for one in against.causes if one.figure == "boil"]
    shares = {part.paths: part.share for part in boil.parts}
    assert set(shares) == {("pot.water",), ("site.air_temperature",)}
    assert shares[("pot.water",)] > 0.0 > shares[("site.air_temperature",)]
    assert sum(shares.values()) == pytest.approx(boil.whole, rel=1e-9)
    times = [burn.milestones.boil.time for burn in found.burns]
    assert boil.whole == pytest.approx(times[1] - times[0], abs=0.2)
    assert against.paired["boil"].sure


def test_the_words_hold_both_designs_and_the_causes(found) -> None:
    text = plain(found.summary())
    assert "A  cup" in text
    assert "B  more water" in text
    for words in (
        "water boils",
        "Where the heat went",
        "Verdicts",
        "Which change made B differ from A",
        ": yes",
    ):
        assert words in text
    assert plain(found.summary("us")) != text
    assert found.to_dict()["against_first"][0]["causes"]["boil"]["method"] == "Shapley"
    assert len(found.to_dataframe()) == 2


def test_burns_and_files_are_taken_and_names_told_apart(tmp_path: Path) -> None:
    path = tmp_path / "cup.toml"
    SETUP.save(path)
    three = burnsim.compare([burnsim.burn(SETUP), path, SETUP], n=0)
    assert three.names == ("cup", "cup (2)", "cup (3)")
    assert three.draws is None
    assert [one.changes for one in three.against] == [{}, {}]


def test_a_log_goes_to_the_design_of_its_build(tmp_path: Path) -> None:
    other = burnsim.vary(SETUP, {"name": "twin"})
    text = burnsim.bench.synthesise_log(other, seed=1, every=30.0, name="saturday")
    path = tmp_path / "saturday.csv"
    path.write_text(text, encoding="utf-8")
    log = burnsim.bench.read(path)
    if log.build == "twin":
        assert burnsim.compare([SETUP, other], logs=[path], n=0).logs[1] is not None
    assert burnsim.compare([SETUP, other], logs=[log, log], n=0).logs == (log, log)
    with pytest.raises(InputError, match="builds of no such design"):
        burnsim.compare([SETUP, burnsim.vary(SETUP, {"name": "third"})], logs=[log], n=0)


@pytest.mark.parametrize(
    ("designs", "field"), [([SETUP], "designs"), (SETUP, "designs"), ([SETUP] * 7, "designs"), ([SETUP, 3], "setup")]
)
def test_what_cannot_be_compared_is_refused(designs: object, field: str) -> None:
    with pytest.raises(InputError) as caught:
        burnsim.compare(designs, n=0)  # type: ignore[arg-type]
    assert caught.value.field == field
