"""Every result that is a table is a DataFrame too, and answers in words, as plain values and as a line."""

from typing import Any

import pytest

import burnsim
from burnsim import Charge, Pot, Setup, Site

CUP = burnsim.Burner("open cup", "60 mm", "30 mm")
POT = Pot("10 cm", "8 cm", "20 ml", rest="stand", gap="30 mm")
SETUP = Setup(CUP, Charge("ethanol", "2 ml"), POT, Site(), name="cup")


@pytest.fixture(scope="module")
def results() -> dict[str, Any]:
    fuels = burnsim.compare_fuels(SETUP, ["methanol", "ethanol"], find_least=False)
    return {
        "fuels": fuels,
        "start": burnsim.map_starts(SETUP, [283.15, 293.15], [0.0]),
        "predict": burnsim.predict(SETUP, n=8, workers=1),
    }


@pytest.mark.parametrize(
    ("name", "rows", "columns"),
    [
        ("fuels", 2, {"fuel", "boil_s", "fuel_to_boil_ml"}),
        ("start", 2, {"air_temperature_K", "verdict", "boil_s"}),
        ("predict", None, {"name", "units", "quantiles.0.5.value"}),
    ],
)
def test_a_table_is_a_dataframe(name: str, rows: int | None, columns: set[str], results: dict[str, Any]) -> None:
    table = results[name].to_dataframe()
    assert columns <= set(table.columns)
    assert rows is None or len(table) == rows
    assert table.map(lambda value: not isinstance(value, dict)).all(axis=None)
    assert str(results[name]) == results[name].summary()
    assert "\n" not in repr(results[name])
    assert results[name]._repr_html_().startswith("<pre>")
    assert results[name].to_dict()


def test_the_row_of_a_spirit_is_that_of_its_values(results: dict[str, Any]) -> None:
    fuels = results["fuels"]
    table = fuels.to_dataframe().set_index("fuel")
    for row in fuels.rows:
        assert table.loc[row.spirit.fuel.name, "boil_s"] == row.boil
