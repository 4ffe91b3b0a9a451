"""Designs go round: out of the constructors, into a file, back to an equal setup; a mass stands for a volume."""

import tomllib
from dataclasses import replace
from pathlib import Path

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import burnsim
from burnsim import Burner, Charge, FeedSlots, InputError, Jets, Notches, Pot, Setup, Site, Wick, vary
from burnsim.model.description.design_file import design_text
from burnsim.studies.sweep.plan import make_plan
from burnsim.substances.blend import density
from tests.burners import PALM
from tests.substances.test_own_materials import SCRATCH

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
POT = Pot(diameter="14 cm", height="9 cm", water="1/2 l", water_temperature="12 degC", rest="bumps", gap="1.5 mm")
SETUP = Setup(PALM, Charge("methanol", "37 ml", "3 ml"), POT, Site(tilt="5 deg"), name='a "palm", 2 3/8 in')


def test_constructors_read_quantities_as_design_files_do() -> None:
    assert Jets(count=24, diameter="1 mm", height="38 mm") == Jets(count=24, diameter=1e-3, height=38e-3)
    assert Jets(count=24, diameter="#60 drill").diameter == 1.016e-3  # ASME B94.11M: 0.0400 in
    assert Burner("open cup", "60 mm", "3 cm").height == 0.03
    assert Site("68 degF", humidity="40 %").humidity == 0.4
    with pytest.raises(InputError, match=r"jets.diameter = '1 ml' is a volume, not a length; allowed from 0\.1 mm"):
        Jets(count=24, diameter="1 ml")


def test_constructors_read_quantities_of_pint() -> None:
    units = pint.UnitRegistry()
    assert Jets(24, units.Quantity(1.0, "mm")).diameter == pytest.approx(1e-3, rel=1e-15)
    assert Site(units.Quantity(20.0, "degC")).air_temperature == pytest.approx(293.15)
    assert vary(SETUP, {"charge.volume": units.Quantity(30, "ml")}).charge.volume == pytest.approx(30e-6)
    with pytest.raises(InputError, match="is not a length"):
        Jets(24, units.Quantity(1.0, "ml"))
    with pytest.raises(InputError, match="more than one value"):
        Jets(24, units.Quantity([1.0, 2.0], "mm"))


@pytest.mark.parametrize("units", ["si", "us"])
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_a_saved_design_reads_back_equal(path: Path, units: str, tmp_path: Path) -> None:
    setup = burnsim.load(path)
    setup.save(tmp_path / "again.toml", units=units)
    assert burnsim.load(tmp_path / "again.toml") == setup
    assert burnsim.load(tmp_path / "again.toml").name == setup.name


@pytest.mark.parametrize(
    "changes",
    [
        {"pot": None},
        {"charge.fuel": {"basis": "mass", "ethanol": 0.9, "methanol": 0.03, "water": 0.07}},
        {"charge.fuel": "ethanol 95 bottle"},
        {"charge.fuel": {"name": "ethanol 90", "ethanol": "85 %", "water": "15 %"}},  # a name that promises another
        {"factors.entrainment": 1.0 / 3.0, "burner.relief": Notches(3, 3e-3, 1e-3)},
        {"name": 'odd "name" \\ of #1', "site.air_temperature": 293.15000000000003},
    ],
    ids=str,
)
def test_whatever_was_varied_reads_back_equal(changes: dict[str, object], tmp_path: Path) -> None:
    setup = vary(SETUP, changes)
    setup.save(tmp_path / "it.toml")
    again = burnsim.load(tmp_path / "it.toml")
    assert again == setup
    assert (again.name, again.charge.fuel.name) == (setup.name, setup.charge.fuel.name)


@settings(max_examples=60, deadline=None)
@given(st.floats(0.5e-3, 1.1e-3), st.floats(0.1e-6, 30e-6), st.floats(274.0, 320.0), st.sampled_from(["si", "us"]))
def test_every_float_reads_back(diameter: float, volume: float, warm: float, units: str) -> None:
    fields = {"burner.jets.diameter": diameter, "charge.volume": volume, "site.air_temperature": warm}
    setup = vary(SETUP, fields)
    assert Setup.from_dict(tomllib.loads(design_text(setup, units=units))) == setup


def test_a_saved_design_is_written_for_people(tmp_path: Path) -> None:
    vary(SETUP, {"pot": None}).save(tmp_path / "it.toml")
    text = (tmp_path / "it.toml").read_text(encoding="utf-8")
    for line in (
        'diameter = "1 mm"                # diameter of a jet',
        'volume = "37 ml"                 # volume poured into the burner',
        'air_temperature = "20 degC"      # temperature of the air',
        "# no [pot]: the pot",
    ):
        assert line in text.splitlines()


def test_materials_of_ones_own_stand_in_the_file_whole(tmp_path: Path) -> None:
    """A saved design burns where the files of its fuel and its metal are not."""
    made = (Path(__file__).parents[2] / "burnsim/substances/data/metals/brass.toml").read_text(encoding="utf-8")
    (tmp_path / "my_brass.toml").write_text(made.replace('"brass"', '"my brass"', 1), encoding="utf-8")
    wet = SCRATCH + '\n[in_water]\nlike = "ethanol"\nsource = "x"\nstatus = "estimated"\n'
    (tmp_path / "scratch.toml").write_text(wet, encoding="utf-8")
    own = {"burner.metal": str(tmp_path / "my_brass.toml")}
    for fuel in (str(tmp_path / "scratch.toml"), {"basis": "mass", str(tmp_path / "scratch.toml"): 0.9, "water": 0.1}):
        setup = vary(SETUP, {**own, "charge.fuel": fuel})
        setup.save(tmp_path / "it.toml")
        text = (tmp_path / "it.toml").read_text(encoding="utf-8")
        assert str(tmp_path) not in text
        assert '[charge.fuel.own."scratch spirit"]' in text
        assert 'source = "made up"' in text
        assert Setup.from_dict(setup.to_dict()) == setup
        with_files = list(tmp_path.glob("*.toml"))
        (tmp_path / "moved").mkdir(exist_ok=True)
        (tmp_path / "it.toml").rename(tmp_path / "moved/it.toml")
        assert len(with_files) == 3
        assert burnsim.load(tmp_path / "moved/it.toml") == setup


def test_a_fuel_that_stands_in_a_design_is_read_as_strictly_as_its_file(tmp_path: Path) -> None:
    (tmp_path / "scratch.toml").write_text(SCRATCH, encoding="utf-8")
    setup = vary(SETUP, {"charge.fuel": str(tmp_path / "scratch.toml")})
    setup.save(tmp_path / "it.toml")
    text = (tmp_path / "it.toml").read_text(encoding="utf-8")
    for old, new, says in (
        ("value = 46.07,", "value = 46070.0,", r"charge.fuel.own.scratch spirit: constants.molar_mass.value = 46070"),
        ('name = "scratch spirit"', 'name = "itch spirit"', r"name = 'itch spirit' is not the name of its table"),
    ):
        assert text.rindex(old) > text.index("[charge.fuel.own")
        head, tail = text[: text.rindex(old)], text[text.rindex(old) + len(old) :]
        (tmp_path / "it.toml").write_text(head + new + tail, encoding="utf-8")
        with pytest.raises(InputError, match=says):
            burnsim.load(tmp_path / "it.toml")
    with pytest.raises(InputError, match=r"charge.fuel.own = 'scratch.toml' is not a table of fuels' data"):
        vary(SETUP, {"charge.fuel": {"ethanol": 1.0, "own": "scratch.toml"}})


def test_what_stands_for_a_setup(tmp_path: Path) -> None:
    SETUP.save(tmp_path / "it.toml")
    for design in (SETUP, tmp_path / "it.toml", str(tmp_path / "it.toml"), SETUP.to_dict()):
        assert vary(design, {}) == SETUP
    cup = {"burner": {"kind": "open cup", "outer_diameter": "60 mm", "height": "30 mm"}}
    cup["charge"] = {"fuel": "ethanol", "volume": "0.5 ml"}
    assert burnsim.burn(cup).ended == "burnt out"
    (outcome,) = burnsim.burn_many([cup])
    assert isinstance(outcome, burnsim.Outcome)
    assert outcome.setup == Setup.from_dict(cup)


def test_a_part_can_be_taken_away() -> None:
    assert vary(SETUP, {"pot": None}).pot is None


def test_a_mass_is_the_volume_that_weighs_it_at_the_fuels_temperature() -> None:
    cold = Charge("ethanol", "25 g", temperature="0 degC")
    assert cold.volume == pytest.approx(0.025 / density(cold.fuel, 273.15), rel=1e-12)
    by_air = Setup(PALM, Charge("ethanol", "25 g", "2 g"), site=Site("0 degC")).charge
    assert (by_air.volume, type(by_air.volume)) == (pytest.approx(cold.volume, rel=1e-12), float)
    assert by_air.primer == pytest.approx(0.08 * cold.volume, rel=1e-12)
    alone = Charge("ethanol", "25 g")
    assert alone.volume == pytest.approx(0.025 / 789.2e0, rel=1e-3)  # CRC Handbook: 0.7893 g/ml at 20 degC
    assert replace(alone, temperature="0 degC").volume == pytest.approx(cold.volume, rel=1e-12)


def test_a_mass_takes_the_place_of_a_volume_in_files_changes_and_sweeps() -> None:
    by_mass = vary(SETUP, {"charge.volume": "25 g", "charge.fuel": "ethanol"})
    assert by_mass.charge.volume == pytest.approx(0.025 / density(by_mass.charge.fuel, 293.15), rel=1e-12)
    table = {**SETUP.to_dict(), "charge": {"fuel": "ethanol", "volume": "25 g"}}
    assert Setup.from_dict(table).charge.volume == by_mass.charge.volume
    plan = make_plan(SETUP, {"charge.volume": ["20 g", "25 g"]})
    assert plan.axes[0].values[1] == pytest.approx(0.025 / density(SETUP.charge.fuel, 293.15), rel=1e-12)
    with pytest.raises(InputError, match="goes with one fuel only"):
        make_plan(SETUP, {"charge.volume": ["20 g"], "charge.fuel": ["ethanol", "methanol"]})


def test_errors_say_how_a_charge_was_read() -> None:
    with pytest.raises(InputError, match=r"'5 kg' is weighed, 63.* ml of methanol, which is out of range"):
        vary(SETUP, {"charge.volume": "5 kg"})
    with pytest.raises(InputError, match=r"'1 oz' is a mass, not a volume; .* write 'fl oz' .* a mass goes in grams"):
        vary(SETUP, {"charge.volume": "1 oz"})


def test_a_setup_tells_what_it_is() -> None:
    assert repr(vary(SETUP, {"name": "palm"})) == "<Setup 'palm': double wall, 37 ml of methanol, 500 ml of water>"
    assert "outer_diameter     62" in str(SETUP)
    assert repr(replace(SETUP, pot=None)).endswith("no pot>")
    assert replace(PALM, feed_slots=FeedSlots(), wick=Wick(thickness="2 mm")) == PALM
