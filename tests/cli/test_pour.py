"""`burnsim pour`: the card in words and as JSON, on made-up laws in place of burns."""

import json
import math
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import pytest
from pages.words import words_of

import burnsim
from burnsim import cli
from burnsim.model.description import geometry
from burnsim.model.description.setup import Setup
from burnsim.report.pour import reasons, short
from burnsim.studies.fill import card as room
from burnsim.studies.fill import limit
from burnsim.studies.fill.card import PourPlace, make_pour_card
from burnsim.studies.fill.spill_runs import Seen
from burnsim.units import plain, written
from burnsim.units.writing import Quantity, Text

DESIGN = str(Path(__file__).parents[2] / "examples" / "weekend_double_wall.toml")
ROOT = Path(DESIGN).parent
WEEKEND = burnsim.load(DESIGN)
ML = 1e-6


def law(setups: Sequence[Setup], engine: str = "auto") -> list[Seen]:
    """38 mm of room; 80 ml spill on the level, 3 ml less for every degree, and 1 ml less for every kelvin of warmth."""
    found = []
    for setup in setups:
        room = 80 * ML - 3 * ML * math.degrees(setup.site.tilt) - 1 * ML * (setup.site.air_temperature - 293.15)
        clearance = 38e-3 * (1.0 - setup.charge.volume / room)
        found.append(Seen(clearance, None, False, True, ""))
    return found


@pytest.fixture(autouse=True)
def _made_up(monkeypatch: pytest.MonkeyPatch) -> None:
    """Below 0 degC it takes 5 ml of primer; below -15 degC none does. 50 ml boil the water, 70 ml of ethanol."""

    def primer(setup: Setup) -> SimpleNamespace:
        cold = setup.site.air_temperature
        if cold < 258.15:
            return SimpleNamespace(volume=None, reason="it stays cold")
        return SimpleNamespace(volume=5 * ML if cold < 273.15 else 1 * ML, reason="")

    def least(setup: Setup) -> SimpleNamespace:
        return SimpleNamespace(volume=70 * ML if setup.charge.fuel.name == "ethanol" else 50 * ML, reason="")

    monkeypatch.setattr(limit, "look", law)
    monkeypatch.setattr(room, "find_primer", primer)
    monkeypatch.setattr(room, "find_least_charge", least)


def test_why_a_place_has_no_charge_is_told_in_its_units(monkeypatch: pytest.MonkeyPatch) -> None:
    reason = Text("the water reached {}", Quantity(285.15, "temperature"))
    monkeypatch.setattr(room, "find_least_charge", lambda setup: SimpleNamespace(volume=None, reason=reason))
    card = make_pour_card(WEEKEND, tilts=(0.0,))
    assert "no charge boils the water: the water reached 12 degC" in plain(card.summary())
    assert "no charge boils the water: the water reached 54 degF" in plain(card.summary("us"))


def test_no_more_primer_is_told_than_the_wick_holds() -> None:
    """The rest would run off and burn round the foot; the design's 20 ml are no reason to pour it."""
    much = burnsim.vary(WEEKEND, {"charge.primer": "20 ml"})
    [place] = make_pour_card(much, tilts=(0.0,)).places
    holds = geometry.wick_capacity(WEEKEND.burner)
    assert place.primer == pytest.approx(holds)
    assert place.setup.charge.primer == place.primer < 20 * ML


def test_where_no_load_is_safe_none_is_called_too_little_to_boil(monkeypatch: pytest.MonkeyPatch) -> None:
    """Heating less water or levelling the stand is no remedy there."""
    monkeypatch.setattr(limit, "look", lambda setups, engine="auto": [one._replace(lit=False) for one in law(setups)])
    told = plain(make_pour_card(WEEKEND, tilts=(0.0,)).summary())
    assert "none" in told
    assert "*" not in told


def test_each_load_is_the_limit_of_its_slope_and_place() -> None:
    tilts = (0.0, math.radians(5.0), math.radians(9.0))
    found = make_pour_card(WEEKEND, tilts=tilts, air_temperatures=(268.15, 293.15), altitudes=(0.0, 1500.0))
    assert [place.setup.site.altitude for place in found.places] == [0.0, 0.0, 1500.0, 1500.0]
    for place in found.places:
        for k, tilt in enumerate(tilts):
            assert place.most(k) == burnsim.find_fill_limit(place.setup, tilt=tilt, scan=room.SCAN).safe
        loads = [place.most(k) for k in range(3)]
        assert loads == sorted(loads, reverse=True)
    cold, warm = found.places[:2]
    assert cold.most(0) > warm.most(0)
    assert cold.primer == 5 * ML
    assert warm.primer == WEEKEND.charge.primer  # more than it takes
    assert warm.charge == 50 * ML
    assert [warm.fits(k) for k in range(3)] == [True, True, False]  # at most 72, 58 and 48 ml


def test_a_level_stand_is_advised_only_where_it_helps() -> None:
    """What boils the water, 50 ml, fits on the level and not on 10 degrees; 80 ml fit on neither."""
    card = make_pour_card(WEEKEND)
    assert short(card).endswith("heat less of it, or level the stand")
    much = replace(card, places=tuple(replace(place, charge=80 * ML) for place in card.places))
    assert short(much).endswith("heat less of it")


def test_slopes_and_places_may_be_written_with_units() -> None:
    found = make_pour_card(WEEKEND, tilts=["5 deg"], air_temperatures=["5 degC"], altitudes=["1000 ft"])
    assert found.tilts == pytest.approx([math.radians(5.0)])
    assert found.places[0].setup.site.air_temperature == pytest.approx(278.15)
    assert found.places[0].setup.site.altitude == pytest.approx(304.8)
    with pytest.raises(burnsim.InputError, match=r"site.tilt = .* is out of range"):
        make_pour_card(WEEKEND, tilts=["50 deg"])


def test_a_slope_that_is_unknown_in_the_first_place_has_its_entry(monkeypatch: pytest.MonkeyPatch) -> None:
    card = make_pour_card(WEEKEND, tilts=(0.0, math.radians(5.0)), air_temperatures=(268.15, 293.15))
    most = PourPlace.most
    monkeypatch.setattr(PourPlace, "most", lambda one, k: None if k and one is card.places[0] else most(one, k))
    words = [text.get_text() for text in card.plot().get_legend().get_texts()]
    assert [text for text in words if text.startswith("most")] == ["most, level", "most, 5°"]


def test_a_steeper_slope_never_allows_more(monkeypatch: pytest.MonkeyPatch) -> None:
    """On the level its jets go out above 30 ml, so that nothing is known of more; on the slope they burn on."""

    def dark(setups: Sequence[Setup], engine: str = "auto") -> list[Seen]:
        pairs = zip(setups, law(setups), strict=True)
        return [
            seen._replace(quenched=one.site.tilt <= 0.0 and one.charge.volume > 30 * ML and seen.clearance > 0.0)
            for one, seen in pairs
        ]

    monkeypatch.setattr(limit, "look", dark)
    [place] = make_pour_card(WEEKEND, tilts=(0.0, math.radians(5.0))).places
    assert place.setup.pot.water_temperature == WEEKEND.pot.water_temperature
    assert place.limits[1].safe > place.limits[0].safe
    assert place.most(1) == place.most(0) == place.limits[0].safe


def test_a_card_tells_what_the_burn_that_boils_warns_of(monkeypatch: pytest.MonkeyPatch) -> None:
    """A pot so near over the well that its flame lacks air, where each burn says so."""
    near = burnsim.vary(Path(DESIGN).with_name("porch_open_well.toml"), {"pot.gap": "4 mm"})
    monkeypatch.setattr(room, "find_least_charge", lambda setup: SimpleNamespace(volume=20 * ML, reason=""))
    [place] = make_pour_card(near, tilts=(0.0,)).places
    assert "smothered" in [verdict.code for verdict in burnsim.burn(place.setup).verdicts]
    assert place.warned == ("smothered",)
    card = make_pour_card(near, tilts=(0.0,), altitudes=(0.0, 100.0))
    assert "Warned of: smothered in 2 of 2 places: burnsim burn with such air" in plain(card.summary())
    assert card.to_dict()["places"][0]["warned_of"] == ["smothered"]
    monkeypatch.setattr(room, "burn_batch", lambda setups: [burnsim.Failure(setup=setups[0], reason="made up")])
    assert make_pour_card(near, tilts=(0.0,)).places[0].warned == ()


@pytest.mark.parametrize("text", ["0, 5", "0deg,5deg", "0:5:5", "0deg:5deg:5"])
def test_slopes_without_a_unit_are_degrees_as_those_of_fill(text: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["pour", DESIGN, "--tilt", text]) == 0
    assert "most, level  most, 5deg" in plain(capsys.readouterr().out)
    assert cli.main(["pour", DESIGN, "--tilt", "steep"]) == 2
    assert "write it like 0deg,5deg" in capsys.readouterr().err


def test_the_card_in_words(capsys: pytest.CaptureFixture[str]) -> None:
    options = ["--ambient", "-20degC:25degC:45", "--fuels", "methanol, ethanol", "--tilt", "0deg,8deg"]
    assert cli.main(["pour", DESIGN, *options]) == 0
    out = plain(capsys.readouterr().out)
    rows = [line.split() for line in out.splitlines() if line.startswith(("  methanol", "  ethanol"))]
    assert len(rows) == 4
    assert rows[0][5:9] == ["1", "degC", "-", "-"]  # frost: the water is as cold as may be, and no primer does
    assert "no primer starts it: it stays cold" in out
    assert rows[3][-2].startswith("*") or rows[3][-4].startswith("*")
    assert "* less than boils the water" in out
    assert "Margin kept" in out
    assert "Never refill a hot or lit burner" in out
    lines = [line for line in out.splitlines() if line.strip()]
    assert len(set(lines)) == len(lines)


def test_the_card_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["pour", DESIGN, "--water", "8 degC", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    [place] = told["places"]
    assert told["tilts_deg"] == pytest.approx([0.0, 5.0, 10.0])
    assert place["water_temperature_K"] == pytest.approx(281.15)
    assert place["charge_to_boil_ml"] == pytest.approx(50.0)
    assert place["largest_load_ml"] == sorted(place["largest_load_ml"], reverse=True)
    assert place["charge_fits"][0] is True
    assert any("Never refill" in caution for caution in told["cautions"])


@pytest.mark.parametrize(
    ("options", "words"),
    [(["--tilt", "45deg"], "tilt"), (["--ambient", "300degC"], "--ambient"), (["--fuels", "petrol"], "--fuels")],
)
def test_bad_input_is_exit_2(options: list[str], words: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["pour", DESIGN, *options]) == 2
    assert words in plain(capsys.readouterr().err)


EM = 1.257  # height of a word's box over the size of its letters
PLACES = ["--ambient", "-5degC:25degC:10", "--altitude", "0m:2000m:2000", "--fuels", "methanol, ethanol 95"]


@pytest.mark.parametrize(("paper", "units"), [("a4", "si"), ("letter", "us")])
@pytest.mark.parametrize("options", [[], PLACES], ids=["one place", "sixteen"])
def test_the_card_is_one_page_of_large_letters(
    options: list[str], paper: str, units: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    target = tmp_path / "card.pdf"
    command = ["pour", DESIGN, *options, "--units", units]
    assert cli.main([*command, "-o", str(target), "--paper", paper]) == 0
    assert capsys.readouterr().out == ""
    [page] = words_of(target)
    assert page.outside() == []
    assert page.overlapping() == []
    assert cli.main([*command, "--json"]) == 0
    loads = [load for place in json.loads(capsys.readouterr().out)["places"] for load in place["largest_load_ml"]]
    words = {word.text.lstrip("*"): word.bottom - word.top for word in page.words}
    for load in loads:
        text = plain(written(load * ML, "volume", units, toward=-1)).split()[0]
        assert words[text] > EM * (9.0 if options else 14.0)
    text = plain(" ".join(word.text for word in page.words))
    for told in ("Most: the largest load known", "the primer goes on the wick besides", "Never refill", "Margin kept"):
        assert told in text
    head = max(word.bottom - word.top for word in page.words if word.top < 60.0)
    assert head > 12.0


def test_the_card_as_a_page_of_html(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    target = tmp_path / "card.html"
    assert cli.main(["pour", DESIGN, *PLACES, "--json", "-o", str(target)]) == 0
    assert len(json.loads(capsys.readouterr().out)["places"]) == 16
    html = target.read_text(encoding="utf-8")
    assert html.count("<table") == 4
    assert "<script" not in html
    assert "http" not in html
    assert "ethanol 95, at 2000" in html
    assert cli.main(["pour", DESIGN, "-o", str(tmp_path / "card.txt")]) == 2
    assert ".pdf" in capsys.readouterr().err


def test_each_reason_stands_with_the_slopes_that_it_limits() -> None:
    """A flat open cup: on the level it is the rim at rest; on a slope the low side of the rim."""
    card = make_pour_card(ROOT / "garden_open_cup.toml", tilts=("0 deg", "5 deg", "10 deg"))
    lines = list(reasons(card, "si"))
    told = [line.partition(":")[0] for line in lines if "no more" in line]
    assert sorted(slope for line in told for slope in plain(line).split(", ")) == ["10deg", "5deg", "Level"]
    one = make_pour_card(ROOT / "garden_open_cup.toml", tilts=("0 deg",))
    assert next(reasons(one, "si")).startswith("No more, because")
