"""`burnsim fuels`: tables, JSON, picture, and bad input."""

import json
from pathlib import Path

import pytest

from burnsim import cli
from burnsim.cli.commands.fuels import price_list, spirits
from burnsim.errors import InputError
from burnsim.substances.blend import find_strength

ROOT = Path(__file__).parents[2]
CUP = ROOT / "examples" / "garden_open_cup.toml"


def test_tables_and_cautions(capsys: pytest.CaptureFixture[str]) -> None:
    assert (
        cli.main(["fuels", str(CUP), "--quick", "--fuels", "methanol", "--boils", "5", "--prices", "methanol=3"]) == 0
    )
    out, err = capsys.readouterr()
    assert "On paper" in out
    assert "5 boils" in out
    assert "cost" in out
    assert "Methanol poisons" in out
    assert err.startswith("burnsim: burning methanol ...")


def test_json_and_picture(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    picture = tmp_path / "fuels.png"
    arguments = [
        "fuels",
        str(CUP),
        "--quick",
        "--fuels",
        "methanol; ethanol 70 %, water 30 %",
        "--json",
        "--plot",
        str(picture),
    ]
    assert cli.main(arguments) == 0
    out, _ = capsys.readouterr()
    result = json.loads(out)
    assert [row["recipe"] for row in result["fuels"]] == ["methanol", "ethanol 70 %, water 30 % by volume"]
    assert all(row["bloom_s"] is None and row["reasons"]["bloom"] for row in result["fuels"])
    assert picture.stat().st_size > 1000


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--fuels", "metanol"], "did you mean 'methanol'"),
        (["--fuels", "methanol", "--prices", "ethanol=3"], "not one of the fuels"),
        (["--fuels", "methanol", "--prices", "methanol"], "not a name and a price"),
        (["--quick", "--fuels", "methanol", "--boils", "0"], "boils"),
        (["--fuels", "methanol", "--plot", "picture.txt"], "not a picture format"),
        (["--quick", "--fuels", "methanol", "--water"], "no jets"),
        (["--fuels", "ethanol 200 bottle"], "share"),
        (["--fuels", ","], "names no spirit"),
        (["--fuels", "ethanol 90 %, methanol 10 %"], "semicolon"),
    ],
)
def test_bad_input_is_exit_2(arguments: list[str], words: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["fuels", str(CUP), *arguments]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert words in err


def test_a_bottle_is_read_by_its_label() -> None:
    for text in ("ethanol 95 bottle", "ethanol 95 % bottle", "ethanol 95% Bottle"):
        assert find_strength(spirits(text)[0]).bottle == pytest.approx(0.95)
    assert find_strength(spirits("ethanol 95")[0]).bottle > 0.955


def test_a_semicolon_makes_it_one_recipe() -> None:
    assert [fuel.components for fuel in spirits("ethanol 90 %, methanol 10 %;")] == [("methanol", "ethanol")]
    assert [fuel.name for fuel in spirits("ethanol 95, methanol 90 %")] == ["ethanol 95", "methanol 90 %"]


def test_prices() -> None:
    assert price_list("methanol=2; ethanol 90 %, water 10 %=3.5") == {"methanol": 2.0, "ethanol 90 %, water 10 %": 3.5}
    with pytest.raises(InputError, match="prices"):
        price_list("methanol=cheap")
