"""Bad input at the command line: exit 2, nothing on stdout, one sentence with field, value, range and remedy."""

import pickle
from collections.abc import Callable
from pathlib import Path

import pytest

import burnsim
from burnsim import cli
from burnsim.errors import InputError
from burnsim.model.description.files import LARGEST_FILE
from burnsim.units import plain

EXAMPLES = Path(__file__).parents[2] / "examples"
DESIGN = (EXAMPLES / "weekend_double_wall.toml").read_text(encoding="utf-8")

Complain = Callable[[str], str]


@pytest.fixture
def complaint(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Complain:
    """What the command says about a design that it must refuse."""

    def complain(text: str) -> str:
        path = tmp_path / "design.toml"
        path.write_text(text, encoding="utf-8")
        assert cli.main(["burn", str(path)]) == 2
        out, err = capsys.readouterr()
        assert out == ""
        assert len(err.splitlines()) == 1
        start = f"burnsim: bad input in {path}: "
        assert err.startswith(start)
        return err.removeprefix(start).strip()

    return complain


def changed(old: str, new: str) -> str:
    assert DESIGN.count(old) == 1
    return DESIGN.replace(old, new)


BAD: list[tuple[str, str, str, str, str]] = [
    # what to replace, with what, field and value as they must be named, allowed range, remedy
    # keys
    ("outer_diameter", "outer_diametr", "burner.outer_diametr = '62 mm'", "kind, outer_diameter", "'outer_diameter'?"),
    ("[burner.jets]", "[burner.jet]", "burner.jet = {", "jets, feed_slots", "did you mean 'jets'?"),
    ("[charge]", "[chrge]", "chrge = {", "burner, charge, pot", "did you mean 'charge'?"),
    ("[charge]", "[charge]\ncolour = 3", "charge.colour = 3", "fuel, volume", "leave it out"),
    ('outer_diameter = "62 mm"', "", "burner.outer_diameter is missing", "10 mm to 300 mm", "under [burner]"),
    ("count = 26", "", "burner.jets.count is missing", "from 1 to 400", "under [burner.jets]"),
    ('fuel = "methanol"', "", "charge.fuel is missing", "(what is burnt)", "add fuel = ... under [charge]"),
    # dimensions
    ('"37 ml"', '"30 mm"', "charge.volume = '30 mm' is a length", "0.1 ml to 2000 ml", "write it like '30 ml'"),
    ('"37 ml"', '"1 oz"', "charge.volume = '1 oz' is a mass", "0.1 ml to 2000 ml", "write 'fl oz'"),
    ('"62 mm"', '"62 degC"', "burner.outer_diameter = '62 degC' is a temp", "10 mm to 300 mm", "like '0.9 mm'"),
    ('"12 degC"', '"12 ml"', "pot.water_temperature = '12 ml' is a volume", "0 degC to", "like '20 degC'"),
    ('"37 ml"', '"37"', "charge.volume = '37' has no unit", "0.1 ml to 2000 ml", "write it like '30 ml'"),
    ('"37 ml"', "37", "charge.volume = 37 is a bare number", "0.1 ml to 2000 ml", "write its unit"),
    ('"37 ml"', '["37 ml"]', "charge.volume = ['37 ml'] is not a number", "0.1 ml to 2000 ml", "such as '30 ml'"),
    ('"37 ml"', "true", "charge.volume = True is not a number", "0.1 ml to 2000 ml", "such as '30 ml'"),
    ('"37 ml"', "2020-01-01", "charge.volume = datetime", "0.1 ml to 2000 ml", "such as '30 ml'"),
    ('"4.5 mm"', '"4,5 mm"', "burner.gallery_gap = '4,5 mm' has a comma", "0.3 mm to 100 mm", "decimal point"),
    ('"0.1 mm"', '"38 ga"', "burner.wall_thickness = '38 ga'", "0.02 mm to 5 mm", "give millimetres"),
    ('"1.0 mm"', '"#99 drill"', "burner.jets.diameter = '#99 drill'", "#1 to #80", "'#65 drill'"),
    ('"62 mm"', '"2 3/0 in"', "burner.outer_diameter = '2 3/0 in' divides by zero", "10 mm to", "like '0.9 mm'"),
    # not finite
    ('"62 mm"', "nan", "burner.outer_diameter = nan", "10 mm to 300 mm", "measure"),
    ('"62 mm"', "inf", "burner.outer_diameter = inf", "10 mm to 300 mm", "measure"),
    ('"62 mm"', '"nan mm"', "burner.outer_diameter = 'nan mm'", "10 mm to 300 mm", "like '0.9 mm'"),
    ('"62 mm"', '"1e400 mm"', "burner.outer_diameter = '1e400 mm'", "10 mm to 300 mm", "like '0.9 mm'"),
    ('"12 degC"', "nan", "pot.water_temperature = nan", "0 degC to", "liquid water"),
    ('"methanol"', "{ ethanol = nan, water = 0.2 }", "charge.fuel.ethanol = nan", "from 0 to 1", "like '95 %'"),
    ("[site]", "[factors]\nentrainment = nan\n[site]", "factors.entrainment = nan", "0.1 to 10", "burnsim.BANDS"),
    # negative and zero sizes
    ('"62 mm"', '"-62 mm"', "burner.outer_diameter = '-62 mm'", "10 mm to 300 mm", "measure"),
    ('"62 mm"', '"0 mm"', "burner.outer_diameter = '0 mm'", "10 mm to 300 mm", "measure"),
    ("count = 26", "count = 0", "burner.jets.count = 0", "from 1 to 400", "count the holes"),
    ("count = 26", "count = 26.5", "burner.jets.count = 26.5 is not a whole", "from 1 to 400", "count the holes"),
    ('"37 ml"', '"0 ml"', "charge.volume = '0 ml'", "0.1 ml to 2000 ml", "measure"),
    ('"3 ml"', '"-3 ml"', "charge.primer = '-3 ml'", "0 ml to 100 ml", "use 0 for none"),
    ('"0.6 l"', '"0 l"', "pot.water = '0 ml'", "1 ml to 50000 ml", "leave [pot] out"),
    # geometry
    ('"4.5 mm"', '"-3 mm"', "burner.gallery_gap = '-3 mm'", "0.3 mm to 100 mm", "narrower than the outer"),
    ('"4.5 mm"', '"31 mm"', "burner.gallery_gap = '31 mm'", "up to 29.8 mm", "make the gap narrower"),
    ('"39 mm"', '"46 mm"', "burner.jets.height = '46 mm' puts jets above", "0.5 mm to 44.5 mm", "lower the jets"),
    ('"39 mm"', '"0.3 mm"', "burner.jets.height = '0.3 mm' puts jets below", "0.5 mm to 44.5 mm", "raise the jets"),
    ("count = 26", "count = 200", "burner.jets.count = 200 makes jets of 1 mm overlap", "up to 194", "use fewer"),
    ('"37 ml"', '"200 ml"', "charge.volume = '200 ml' is more than the burner", "up to 134.24 ml", "load less fuel"),
    ('"14 cm"', '"14 cm"\nwall_thickness = "8 cm"', "pot.wall_thickness = '80 mm'", "to 20 mm", "measure"),
    ('"8 cm"', '"12 mm"\nwall_thickness = "15 mm"', "pot.wall_thickness = '15 mm'", "below 12 mm", "wall thinner"),
    ('"0.6 l"', '"3 l"', "pot.water = '3000 ml' is more than the pot", "up to 1201.4 ml", "use less water"),
    ('"14 cm"', '"5 cm"\nwall_thickness = "1 mm"', "pot.water", "up to", "larger pot"),
    # water
    ('"12 degC"', '"-2 degC"', "pot.water_temperature = '-2 degC'", "from 0 degC", "liquid water"),
    ('"12 degC"', '"101 degC"', "pot.water_temperature = '101 degC' is above", "0 degC to 99.97", "liquid water"),
    ('"12 degC"', '"-300 degC"', "pot.water_temperature = '-300 degC' is below abs", "from 0 degC", "like '20 degC'"),
    # charge and site
    ('"37 ml"', '"37 ml"\ntemperature = "90 degC"', "charge.temperature = '90 degC'", "-23 degC to 50", "never heat"),
    (
        '"37 ml"',
        '"37 ml"\ntemperature = "90 degC"',
        "charge.temperature = '90 degC'",
        "-23 degC to 50",
        "into hot metal",
    ),
    ('"37 ml"', '"37 ml"\ntemperature = "-60 degC"', "charge.temperature = '-60 degC'", "-23 degC to", "leave it out"),
    ('"37 ml"', '"37 ml"\ntemperature = inf', "charge.temperature = inf", "-23 degC to 50", "leave it out"),
    ('"20 degC"', '"90 degC"', "site.air_temperature = '90 degC'", "-23 degC to 50 degC", '"68 degF"'),
    ('"20 degC"', '"20 degC"\naltitude = "9000 m"', "site.altitude = '9000 m'", "-430 m to 6000 m", "the site"),
    ('"20 degC"', '"20 degC"\nhumidity = "150 %"', "site.humidity = 1.5", "from 0 to 1", '"50 %"'),
    ('"20 degC"', '"20 degC"\nwind = "-1 m/s"', "site.wind = '-1 m/s'", "0 m/s to 10 m/s", "outside the windscreen"),
    # fuels
    ('"methanol"', '"water"', "charge.fuel = 'water' is only water", "does not burn", "name at least one alcohol"),
    ('"methanol"', "{ water = 1.0 }", "charge.fuel = {'water': 1.0}", "does not burn", "at least one alcohol"),
    ('"methanol"', "{ ethanol = 0.5, water = 0.4 }", "charge.fuel = 0.9 is the sum", "must be 1 within", "every comp"),
    ('"methanol"', "{ ethanol = 1.2, water = -0.2 }", "charge.fuel.ethanol = 1.2", "from 0 to 1", '"95 %"'),
    ('"methanol"', '"methanool"', "charge.fuel = 'methanool' is not a known fuel", "ethanol 95", "'methanol'?"),
    ('"methanol"', "{ etanol = 1.0 }", "charge.fuel = 'etanol'", "methanol, ethanol", "did you mean 'ethanol'?"),
    # words
    ('"aluminium"', '"aluminum"', "burner.metal = 'aluminum'", "'steel'", "did you mean 'aluminium'?"),
    ('"bumps"', '"bump"', "pot.rest = 'bump'", "'full ring', 'bumps', 'stand'", "did you mean 'bumps'?"),
    ('"double wall"', '["double wall"]', "burner.kind = ['double wall']", "'sealed chamber'", "in quotes"),
    ('"14 cm"', '"14 cm"\nlid = "yes"', "pot.lid = 'yes'", "neither true nor false", "write true or false"),
    ('"weekend double wall"', "3", "name = 3", "not a text", "in quotes"),
    ("[pot]", "[[pot]]", "pot = [{", "not a table", "[pot]"),
]


@pytest.mark.parametrize(
    ("old", "new", "what", "allowed", "remedy"), BAD, ids=[f"{k}-{row[2][:40]}" for k, row in enumerate(BAD)]
)
def test_one_sentence_names_field_value_range_and_remedy(
    complaint: Complain, old: str, new: str, what: str, allowed: str, remedy: str
) -> None:
    sentence = plain(complaint(changed(old, new)))
    assert sentence.startswith(what)
    assert allowed in sentence.removeprefix(what)
    assert remedy in sentence.rpartition(": ")[2]


def test_a_missing_table(complaint: Complain) -> None:
    sentence = complaint(DESIGN[: DESIGN.index("[charge]")])
    assert sentence == "charge is missing (the fuel): add the table [charge]"


def test_water_that_would_boil_at_the_site(complaint: Complain) -> None:
    # Water boils near 93 degC at 2 km: US Standard Atmosphere 1976 and the steam tables.
    text = changed('"12 degC"', '"96 degC"').replace("[site]", '[site]\naltitude = "2 km"')
    assert complaint(text).startswith("pot.water_temperature = '96 degC' is above the boiling point at the site")


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"hello world", "is not TOML"),
        (b'{"burner": 1}', "is not TOML"),
        (b"", "is empty"),
        (b"# only a remark\n", "is empty"),
        (b"name = '\xe9'", "is not text in UTF-8"),
        (DESIGN.encode("utf-16"), "is not text in UTF-8"),
        (b"name = 'a\0b'", "is not TOML"),
        (b"[pot]\nrest = bumps  # of the rim\n", 'put the value of line 2 in quotes: rest = "bumps"'),
        (b"[pot]\n[pot]\n", "has [pot] twice, again in line 2"),
        (b"#" * (LARGEST_FILE + 1), "is larger than a design; allowed up to"),
    ],
    ids=["prose", "json", "empty", "remark", "latin-1", "utf-16", "nul", "no quotes", "twice", "huge"],
)
def test_files_that_are_no_designs(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], content: bytes, words: str
) -> None:
    path = tmp_path / "design.toml"
    path.write_bytes(content)
    assert_refused(str(path), words, capsys)


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("[burner]\n", '[burner]\nkind = "open cup"\n', "has kind twice, again in line "),
        ("[pot]\n", "[charge]\n", "has [charge] twice, again in line "),
        ("[charge]\n", "[charge]\nfuel = { ethanol = 0.5, ethanol = 0.5 }\n", "has ethanol twice, again in line "),
        ("[charge]\n", "---\n[charge]\n", "is a bench log, not a design: give it to `burnsim bench`"),
    ],
)
def test_what_stands_twice_or_is_no_design_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], old: str, new: str, words: str
) -> None:
    path = tmp_path / "design.toml"
    path.write_text(changed(old, new), encoding="utf-8")
    assert cli.main(["check", str(path)]) == 2
    err = capsys.readouterr().err
    assert words in err
    if "line" in words:
        number = int(err.partition("again in line ")[2].partition(":")[0])
        last = path.read_text(encoding="utf-8").split("\n")[number - 1]
        assert words.split()[1].strip("[]") in last
        assert "keep one of them" in err


def test_paths_that_are_no_files(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert_refused(str(tmp_path), "is a directory", capsys)
    assert_refused(str(tmp_path / "none.toml"), "does not exist", capsys)
    for device in ("/dev/null", "/dev/zero"):
        if Path(device).exists():
            assert_refused(device, "is a pipe or a device", capsys)


def assert_refused(path: str, words: str, capsys: pytest.CaptureFixture[str]) -> None:
    """The file is named once, with what is wrong and what to do."""
    for command in ("burn", "check"):
        assert cli.main([command, path]) == 2
        out, err = capsys.readouterr()
        assert out == ""
        assert len(err.splitlines()) == 1
        assert err.startswith(f"burnsim: bad input: file = {path!r} ")
        assert words in err
        assert err.count("file = ") == 1


def test_an_output_never_overwrites_the_design(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "design.toml"
    path.write_text(DESIGN, encoding="utf-8")
    (tmp_path / "curves.csv").symlink_to(path)
    for name, why in (("curves.csv", "is itself a file that is read"), ("design.toml", "allowed: .csv")):
        assert cli.main(["burn", str(path), "--series", str(tmp_path / name)]) == 2
        assert why in plain(capsys.readouterr().err)
    assert path.read_text(encoding="utf-8") == DESIGN


WORKING_UNITS = [
    ('"37 ml"', '"1 fl oz"', "volume             29.574 ml"),  # US, NIST Handbook 44
    ('"0.6 l"', '"2 cup"', "water              473.18 ml"),  # US customary, NIST Handbook 44
    ('"62 mm"', '"2 3/8 in"', "outer_diameter     60.325 mm"),
    ('"20 degC"', '"64 degF"', "air_temperature    17.778 degC"),
    ('"1.0 mm"', '"#65 drill"', "diameter           0.889 mm"),  # 0.0350 in, ASME B94.11M, from memory, unverified
]


@pytest.mark.parametrize(("old", "new", "line"), WORKING_UNITS, ids=[new for _, new, _ in WORKING_UNITS])
def test_units_of_the_trade_are_read(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], old: str, new: str, line: str
) -> None:
    path = tmp_path / "design.toml"
    path.write_text(changed(old, new), encoding="utf-8")
    assert cli.main(["check", str(path)]) == 0
    assert line in plain(capsys.readouterr().out)


BARELY = [
    ("no primer", '"3 ml"', '"0 ml"', "does not light"),
    ("hardly any fuel", '"37 ml"', '"0.2 ml"', "does not boil"),
    ("nearly water", '"methanol"', '{ water = "98 %", ethanol = "2 %" }', "does not light"),
    ("pinholes", '"1.0 mm"', '"0.1 mm"', "never light"),
    ("filled above the jets", '"37 ml"', '"130 ml"', "filled above the edge"),
    ("a cold night", '"20 degC"', '"-23 degC"', "-23 degC"),
]


@pytest.mark.parametrize(("old", "new", "words"), [row[1:] for row in BARELY], ids=[row[0] for row in BARELY])
def test_a_burner_that_does_not_work_is_a_result(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], old: str, new: str, words: str
) -> None:
    path = tmp_path / "design.toml"
    path.write_text(changed(old, new), encoding="utf-8")
    assert cli.main(["burn", str(path)]) == 0
    assert words in plain(capsys.readouterr().out)


NEVER_LIT = [
    ("no primer", '"3 ml"', '"0 ml"'),
    ("a wick that dies at once", '"methanol"', '{ water = "98 %", ethanol = "2 %" }'),
]


@pytest.mark.parametrize(("old", "new"), [row[1:] for row in NEVER_LIT], ids=[row[0] for row in NEVER_LIT])
def test_a_burner_that_never_lights_still_has_its_picture_and_curves(tmp_path: Path, old: str, new: str) -> None:
    path, picture, curves = (tmp_path / name for name in ("design.toml", "burn.png", "burn.csv"))
    path.write_text(changed(old, new).replace('"37 ml"', '"130 ml"'), encoding="utf-8")
    assert cli.main(["burn", str(path), "--plot", str(picture), "--series", str(curves)]) == 0
    assert picture.stat().st_size > 1000
    assert "water_temperature_K" in curves.read_text(encoding="utf-8")


def test_a_pot_narrower_than_the_flames_is_a_result(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = (EXAMPLES / "garden_open_cup.toml").read_text(encoding="utf-8")
    path = tmp_path / "design.toml"
    path.write_text(text.replace('"14 cm"', '"6 cm"').replace('"0.5 l"', '"0.15 l"'), encoding="utf-8")
    assert cli.main(["burn", str(path), "--json"]) == 0
    assert "water_max_K" in plain(capsys.readouterr().out)


SETUP = burnsim.load(EXAMPLES / "weekend_double_wall.toml")

WRONG_TYPES: list[tuple[str, str, Callable[[], object]]] = [
    ("file", "does not exist", lambda: burnsim.burn("x")),
    ("setup", "path of a design file", lambda: burnsim.burn(None)),  # type: ignore[arg-type]
    ("rtol", "is not a number", lambda: burnsim.burn(SETUP, rtol="a")),  # type: ignore[arg-type]
    ("rtol", "out of range", lambda: burnsim.burn(SETUP, rtol=float("nan"))),
    ("setups", "a list of them", lambda: burnsim.burn_many(SETUP)),  # type: ignore[arg-type]
    ("setups", "a list of them", lambda: burnsim.burn_many(None)),  # type: ignore[arg-type]
    ("file", "does not exist", lambda: burnsim.burn_many(["x"])),
    ("setup", "path of a design file", lambda: burnsim.vary(3, {})),  # type: ignore[arg-type]
    ("changes", "is not a mapping", lambda: burnsim.vary(SETUP, [1])),  # type: ignore[arg-type]
    ("changes", "is not a mapping", lambda: burnsim.vary(SETUP, None)),  # type: ignore[arg-type]
    ("1", "not a field", lambda: burnsim.vary(SETUP, {1: 2})),  # type: ignore[dict-item]
    ("site.wind", "not a number", lambda: burnsim.vary(SETUP, {"site.wind": [1]})),
    ("site", "not a table", lambda: burnsim.vary(SETUP, {"site": 3})),
    ("file", "is not a path", lambda: burnsim.load(None)),  # type: ignore[arg-type]
    ("path", "is a table", lambda: burnsim.load({"burner": {}})),  # type: ignore[arg-type]
    ("file", "is not a path", lambda: burnsim.load(3)),  # type: ignore[arg-type]
    ("file", "is not a path", lambda: burnsim.load(b"x")),  # type: ignore[arg-type]
]


@pytest.mark.parametrize(
    ("field", "words", "call"), WRONG_TYPES, ids=[f"{k}-{r[0]}" for k, r in enumerate(WRONG_TYPES)]
)
def test_wrong_types_are_input_errors_too(field: str, words: str, call: Callable[[], object]) -> None:
    with pytest.raises(InputError) as caught:
        call()
    assert caught.value.field == field
    assert words in plain(str(caught.value))


@pytest.mark.parametrize(
    ("path", "value", "text"),
    [
        ("site.humidity", 1.5, "site.humidity = 1.5 is out of range"),
        ("factors.entrainment", 20.0, "factors.entrainment = 20 is out of range"),
        ("burner.jets.height", 0.0446, "burner.jets.height = '44.6 mm' puts jets above the rim"),
    ],
)
def test_a_refused_number_stays_a_number(path: str, value: float, text: str) -> None:
    with pytest.raises(InputError) as caught:
        burnsim.vary(SETUP, {path: value})
    assert caught.value.value == value
    assert isinstance(caught.value.value, float)
    assert plain(str(caught.value)).startswith(text)
    assert pickle.loads(pickle.dumps(caught.value)).value == value


@pytest.mark.parametrize("name", ["kerosene", "petrol", "butanol", "diesel", "gasoline"])
def test_another_liquid_is_no_misspelling(name: str) -> None:
    for fuel in (name, {name: 1.0}):
        with pytest.raises(InputError) as caught:
            burnsim.vary(SETUP, {"charge.fuel": fuel})
        assert "did you mean" not in str(caught.value)
        listed = "methanol, ethanol, acetone, 2-propanol" in str(caught.value)
        assert listed if name == "butanol" else "never burn it in a burner made for spirit" in str(caught.value)
