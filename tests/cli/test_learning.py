"""The commands bench, predict, calibrate and search, and --factors: output, files and exit codes.

A stand-in burns, so that the tests are quick; the studies behind the commands have tests with the model.
"""

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from burnsim import InputError, calibrate, plots, predict
from burnsim.cli import main
from burnsim.plots.designs import answers
from burnsim.studies import burn_many
from burnsim.studies.bench.synthetic import synthesise_log
from burnsim.studies.calibrate.factors_file import load_factors, save_factors
from burnsim.studies.calibrate.posterior import posterior_of, set_factors
from burnsim.units import plain
from tests.studies.calibrate.test_calibrate import rule
from tests.studies.stand_in import design, engine

BURN = engine(rule)
LOG = """[charge]
fuel = "methanol"
volume = "37 ml"
used_to_boil = "24 ml"
[pot]
water = "0.6 l"
water_temperature = "15 degC"
[site]
altitude = "0 m"
[seen]
bloom = "0:20"
boil = "10:20"
---
time [s], water [degC]
"""
ROWS = "\n".join(f"{t}, {15.0 + 85.0 * (t - 20.0) / 600.0:.2f}" for t in range(30, 620, 30))


@pytest.fixture(autouse=True)
def _stand_in(monkeypatch: pytest.MonkeyPatch) -> None:
    def outcomes(setups, *, water_at=(), engine="auto", rtol=None):
        return BURN(list(setups), water_at)

    monkeypatch.setattr(burn_many, "burn_many", outcomes)
    monkeypatch.setattr(burn_many, "prepare", lambda setups, burns: "auto")  # nothing to compile
    monkeypatch.setattr(burn_many, "cores", lambda: 1)  # another process would not have the stand-in


@pytest.fixture
def files(tmp_path: Path) -> Path:
    lines = []
    table = design().to_dict()

    def write(part: dict[str, object], path: str) -> None:
        for key, value in part.items():
            if not isinstance(value, dict):
                lines.append(f"{key} = {json.dumps(value)}")
        for key, value in part.items():
            if isinstance(value, dict):
                inner = f"{path}.{key}" if path else key
                lines.append(f"[{inner}]")
                write(value, inner)

    write(table, "")
    (tmp_path / "design.toml").write_text("\n".join(lines), encoding="utf-8")
    (tmp_path / "log.csv").write_text(LOG + ROWS, encoding="utf-8")
    for seed in (1, 2):
        text = synthesise_log(set_factors(design(), {"flame_to_pot": 0.9}), seed=seed, name=f"s{seed}", engine=BURN)
        (tmp_path / f"s{seed}.csv").write_text(text, encoding="utf-8")
    (tmp_path / "search.toml").write_text(
        'design = "bumps.toml"\nobjective = "boil_fuel"\nevaluations = 120\ndraws = 8\n[free]\n"burner.jets.count" = '
        '{ low = 12, high = 30 }\n[limits]\nbloom = { most = "60 s" }\n',
        encoding="utf-8",
    )
    flat = (tmp_path / "design.toml").read_text(encoding="utf-8")
    (tmp_path / "bumps.toml").write_text(flat.replace('"full ring"', '"bumps"'), encoding="utf-8")
    return tmp_path


def run(capsys: pytest.CaptureFixture[str], *arguments: object) -> tuple[int, str, str]:
    code = main([str(one) for one in arguments])
    said = capsys.readouterr()
    return code, said.out, said.err


def test_bench_prints_figures_and_json(files: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = (files / "log.csv").read_bytes()
    code, out, _ = run(capsys, "bench", files / "log.csv", files / "s1.csv", "--plot", files / "bench.png")
    assert code == 0
    assert "efficiency to boil [%]" in out
    assert (files / "bench.png").stat().st_size > 1000
    assert (files / "log.csv").read_bytes() == before
    code, out, _ = run(capsys, "bench", files / "log.csv", "--json")
    table = json.loads(out)["logs"][0]
    # 0.6 l from 15 to 100 degC over 24 ml of methanol: 0.5995*4190*85/(0.019*19.9e6)
    assert table["efficiency_to_boil"] == pytest.approx(0.5995 * 4190.0 * 85.0 / (24e-6 * 792.0 * 19.9e6), rel=0.01)
    assert table["efficiency"] is None
    assert table["efficiency_reason"]


def test_bench_draws_readings_over_the_prediction(files: Path, capsys: pytest.CaptureFixture[str]) -> None:
    picture = files / "over.svg"
    code, _, err = run(
        capsys, "bench", files / "s1.csv", files / "s2.csv", "--design", files / "design.toml", "--plot", picture
    )
    assert code == 0, err
    assert "128 times a log" in err
    text = picture.read_text(encoding="utf-8")
    assert "s1: over 128 predicted burns" in text
    assert "s2: over 128 predicted burns" in text
    assert "measured less median [K]" in text


def test_a_log_of_another_design_is_told_as_such(files: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """By the stand-in, flames that heat the rim more than twice as much boil sooner and burn out sooner."""
    own = run(capsys, "bench", files / "s1.csv", "--design", files / "design.toml")[1]
    assert "Beside the prediction" in own
    assert "outside" not in own
    command = ("bench", files / "s1.csv", "--design", files / "design.toml", "--set", "factors.flame_to_rim=2.5")
    other = run(capsys, *command)[1]
    assert other.count(": outside") == 2
    assert "2 of 3 outside. Is it noted right" in other
    beside = json.loads(run(capsys, *command, "--json")[1])["logs"][0]["beside_the_prediction"]
    assert {mark: one["outside"] for mark, one in beside.items()} == {"bloom": False, "boil": True, "burnout": True}


def test_what_a_log_states_otherwise_than_the_design_is_told(files: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = (files / "s1.csv").read_text(encoding="utf-8")
    assert 'volume = "37 ml"' in text
    (files / "less.csv").write_text(text.replace('volume = "37 ml"', 'volume = "30 ml"'), encoding="utf-8")
    out = run(capsys, "bench", files / "less.csv", "--design", files / "design.toml")[1]
    assert "otherwise than drawn: charge.volume 37 → 30 ml" in plain(out)


def test_bad_logs_are_bad_input_with_their_line(files: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (files / "bad.csv").write_text(LOG + "30, 700\n", encoding="utf-8")
    code, out, err = run(capsys, "bench", files / "bad.csv")
    assert (code, out) == (2, "")
    assert "bad.csv, line 15" in err
    assert run(capsys, "bench", files / "none.csv")[0] == 2
    for words in (("bench",), ("calibrate", "--design", files / "design.toml")):
        code, _, err = run(capsys, *words, files / "s1.csv", files / "." / "s1.csv")
        assert code == 2
        assert "is named twice: it would count as two burns" in plain(err)
    assert run(capsys, "bench", files / "log.csv", "--plot", files / "log.csv")[0] == 2


def test_predict_prints_bands(files: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = files / "design.toml"
    code, out, err = run(
        capsys, "predict", file, "-n", 64, "--plot", files / "p.png", "--tolerance", "charge.volume=3%"
    )
    assert code == 0
    assert "median" in out
    assert "Cautions" in out
    assert "64 times" in err
    assert (files / "p.png").stat().st_size > 1000
    table = json.loads(run(capsys, "predict", file, "-n", 64, "--json")[1])
    assert table["figures"]["spill"]["quantiles"] is None
    assert table["figures"]["boil"]["happens"]["value"] == 1.0
    for wrong in (("-n", "3"), ("-n", "many"), ("--tolerance", "charge.volume"), ("--factors", files / "none.toml")):
        assert run(capsys, "predict", file, *wrong)[0] == 2


def test_predict_tells_what_matters(files: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, "predict", files / "design.toml", "-n", 8, "--sobol")
    assert code == 0
    assert "Which unknown matters" in out
    assert out.index("flame_to_rim") > out.index("last flame out") > 0


def test_calibrate_writes_factors_that_predict_takes(files: Path, capsys: pytest.CaptureFixture[str]) -> None:
    learnt = files / "learnt.toml"
    arguments = ("calibrate", "--design", files / "design.toml", files / "s1.csv", files / "s2.csv")
    code, out, _ = run(
        capsys,
        *arguments,
        "--out",
        learnt,
        "--plot",
        files / "c.png",
        "--fit",
        "flame_to_pot,wick_heat,entrainment,flame_to_rim",
    )
    assert code == 0
    assert "flame_to_pot" in out
    assert load_factors(learnt).names == ("flame_to_pot", "wick_heat", "entrainment", "flame_to_rim")
    assert (files / "c.png").stat().st_size > 1000
    wide = json.loads(run(capsys, "predict", files / "design.toml", "-n", 64, "--json")[1])
    narrow = json.loads(run(capsys, "predict", files / "design.toml", "-n", 64, "--json", "--factors", learnt)[1])
    quantiles = [table["figures"]["boil"]["quantiles"] for table in (wide, narrow)]
    width = [levels[-1]["value"] - levels[0]["value"] for levels in quantiles]
    assert width[1] < 0.25 * width[0]
    code, _, err = run(capsys, "predict", files / "design.toml", "-n", 8, "--sobol", "--factors", learnt)
    assert code == 0
    assert "hang together" in err


def test_a_bad_fit_writes_nothing_unless_forced(files: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = (files / "s1.csv").read_text(encoding="utf-8")
    head, rows = text.split("water [degC]\n")
    pairs = [row.split(",") for row in rows.strip().split("\n")]
    shaken = "\n".join(f"{t}, {5.0 + 0.66 * float(T):.2f}" for t, T in pairs)
    (files / "bad.csv").write_text(head + "water [degC]\n" + shaken, encoding="utf-8")
    learnt = files / "learnt.toml"
    arguments = (
        "calibrate",
        "--design",
        files / "design.toml",
        files / "bad.csv",
        "--fit",
        "flame_to_pot",
        "--out",
        learnt,
    )
    code, out, err = run(capsys, *arguments)
    assert code == 1
    assert "BAD" in out
    assert "was not written" in err
    assert not learnt.exists()
    assert run(capsys, *arguments, "--force")[0] == 0
    assert learnt.exists()


def test_logs_are_never_written_over(files: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (files / "log.toml").write_text(LOG.split("---", maxsplit=1)[0], encoding="utf-8")
    before = (files / "s1.csv").read_bytes()
    assert (
        run(capsys, "calibrate", "--design", files / "design.toml", files / "s1.csv", "--out", files / "s1.csv")[0] == 2
    )
    assert (files / "s1.csv").read_bytes() == before


def test_search_prints_the_best(files: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, "search", files / "search.toml", "--plot", files / "search.png")
    assert code == 0
    assert "Best" in out
    assert (files / "search.png").stat().st_size > 1000
    table = json.loads(run(capsys, "search", files / "search.toml", "--json", "--evaluations", 110, "--seed", 2)[1])
    assert table["best"]
    assert isinstance(table["best"][0]["changes"]["burner.jets.count"], int)
    text = (files / "search.toml").read_text(encoding="utf-8")
    for old, new in (("objective", "objektive"), ('"bumps.toml"', '"none.toml"'), ("[free]", "[fre]"), ("120", "'x'")):
        (files / "wrong.toml").write_text(text.replace(old, new), encoding="utf-8")
        assert run(capsys, "search", files / "wrong.toml")[0] == 2


def test_a_log_that_is_learnt_from_twice_is_told(files: Path, capsys: pytest.CaptureFixture[str]) -> None:
    design, learnt, both = files / "design.toml", files / "learnt.toml", files / "both.toml"
    assert run(capsys, "calibrate", "--design", design, files / "s1.csv", "--out", learnt)[0] == 0
    further = ("calibrate", "--design", design, "--factors", learnt, "--out", both)
    assert "counted twice" not in run(capsys, *further, files / "s2.csv")[2]
    assert all(name in load_factors(both).note for name in ("s1.csv", "s2.csv"))
    assert "learnt.toml was learnt from " in run(capsys, *further, files / "s1.csv")[2]
    assert "counted twice" in run(capsys, *further, files / "s1.csv")[2]


def test_logs_and_factors_may_be_given_as_files(files: Path) -> None:
    """As designs may, in Python."""
    learnt = files / "learnt.toml"
    found = calibrate(design(), [str(files / "s1.csv")], starts=1)
    save_factors(found.posterior, learnt)
    by_file, by_value = (predict(design(), n=8, posterior=known) for known in (str(learnt), load_factors(learnt)))
    assert by_file.quantiles("boil") == by_value.quantiles("boil")
    assert repr(found.posterior).startswith("<Posterior: flame_to_rim")
    with pytest.raises(InputError, match="posterior = 3"):
        predict(design(), n=8, posterior=3)  # type: ignore[arg-type]
    with pytest.raises(InputError, match="is not a list"):
        calibrate(design(), str(files / "s1.csv"))


def test_burn_takes_learnt_factors(files: Path, capsys: pytest.CaptureFixture[str]) -> None:
    learnt = files / "learnt.toml"
    save_factors(posterior_of(["flame_to_pot"], [0.2], [[0.01]]), learnt)
    text = (files / "design.toml").read_text(encoding="utf-8")
    assert '"full ring"' in text  # flat on the rim, this pot puts the jets out
    (files / "design.toml").write_text(text.replace('"full ring"', '"bumps"'), encoding="utf-8")
    code, out, _ = run(capsys, "burn", files / "design.toml", "--factors", learnt, "--json")
    assert code == 0
    assert json.loads(out)["boil_s"] < json.loads(run(capsys, "burn", files / "design.toml", "--json")[1])["boil_s"]


def test_a_factor_is_not_set_beside_a_file_that_gives_it(files: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """One of the two would be passed over without a word."""
    learnt = files / "beside.toml"
    save_factors(posterior_of(["flame_to_pot"], [0.2], [[0.01]]), learnt)
    both = ("--factors", learnt, "--set", "factors.flame_to_pot=0.9")
    code, _, err = run(capsys, "burn", files / "design.toml", *both)
    assert code == 2
    assert "--set = 'factors.flame_to_pot=0.9' sets what --factors gives: leave one of them out" in err


def test_the_factors_file_is_read_once(
    files: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A sheet burns the design with the medians and draws its bands: both from one reading."""
    learnt = files / "once.toml"
    save_factors(posterior_of(["flame_to_pot"], [0.2], [[0.01]]), learnt)
    read = []

    def counted(path: str) -> object:
        read.append(path)
        return load_factors(path)

    monkeypatch.setattr("burnsim.studies.calibrate.factors_file.load_factors", counted)
    sheet = ("sheet", files / "design.toml", "-o", files / "sheet.html", "--short", "--factors", learnt)
    code, _, err = run(capsys, *sheet)
    assert code == 0, err
    assert read == [str(learnt)]


def test_what_the_factors_were_learnt_from_is_told_with_what_they_made(
    files: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    learnt = files / "learnt.toml"
    save_factors(posterior_of(["flame_to_pot"], [0.2], [[0.01]]), learnt, note="learnt from s1.csv")
    given = ("--factors", learnt)
    for command in (
        ("burn",),
        ("predict", "-n", "8"),
        ("sweep", "--vary", "charge.primer=2ml,3ml"),
        ("levers", "-n", "8"),
    ):
        name, *more = command
        out = run(capsys, name, files / "design.toml", *more, *given)[1]
        assert f"\nFactors from {learnt}, learnt from s1.csv.\n" in out, command
        assert "Factors from" not in run(capsys, name, files / "design.toml", *more)[1]


def test_calibrate_tells_which_burn_comes_next(files: Path, capsys: pytest.CaptureFixture[str]) -> None:
    arguments = ("calibrate", "--design", files / "design.toml", "--next", "boil")
    code, out, _ = run(capsys, *arguments)
    assert code == 0
    assert "Which burn next?" in out
    assert "the same burn again" in out
    assert "Cautions" in out
    out = run(capsys, *arguments, files / "s1.csv")[1]
    assert out.index("Learnt from") < out.index("Which burn next?") < out.index("Cautions")
    assert out.count("Cautions") == 1
    table = json.loads(run(capsys, *arguments, files / "s1.csv", "--json")[1])
    shares = [one["shrinkage"] for one in table["single"]]
    assert shares == sorted(shares)
    assert 0.0 < shares[0] <= 1.0
    assert run(capsys, "calibrate", "--design", files / "design.toml")[0] == 2
    code, _, err = run(capsys, "calibrate", "--design", files / "design.toml", files / "s1.csv", "--fit", "warmth")
    assert code == 2
    assert "--fit = 'warmth' is not an uncertain factor" in err


@pytest.mark.parametrize(
    ("more", "picture"),
    [(("s1.csv",), "calibration"), (("s1.csv", "--next", "boil"), "next_burns"), (("--next", "boil"), "next_burns")],
)
def test_a_picture_is_of_what_was_asked(
    files: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    more: tuple[str, ...],
    picture: str,
) -> None:
    monkeypatch.chdir(files)
    drawn = []

    def noted(own: Callable[..., object], name: str) -> Callable[..., object]:
        return lambda *given, **named: (drawn.append(name), own(*given, **named))[1]

    for module, name in ((answers, "next_burns"), (plots, "calibration")):
        monkeypatch.setattr(module, name, noted(getattr(module, name), name))
    assert run(capsys, "calibrate", "--design", "design.toml", "--plot", "it.png", *more)[0] == 0
    assert drawn == [picture]
    assert (files / "it.png").stat().st_size > 1000


def test_calibrate_takes_sizes_in_doubt_and_a_design_a_log(files: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file, learnt = files / "design.toml", files / "learnt.toml"
    arguments = ("calibrate", files / "s1.csv", files / "s2.csv", "--design", file, "--design", file, "--out", learnt)
    code, out, _ = run(capsys, *arguments, "--tolerance", "burner.height=5%", "--tolerance", "charge.fuel=3%")
    assert code == 0
    assert "burner.height" in out
    assert load_factors(learnt).tolerances == {"burner.height": 0.05, "charge.fuel": 0.03}
    code, out, _ = run(capsys, "predict", file, "-n", 16, "--factors", learnt)
    assert code == 0
    assert "another build" in out
    assert run(capsys, *arguments, "--tolerance", "pot.rest=5%")[0] == 2
