"""Where a burner starts: each place against a burn of its own, trends, and flash points."""

import json
import pickle
from functools import cache
from pathlib import Path

import burners
import pytest
from burners import PALM
from matplotlib.figure import Figure

import burnsim
from burnsim import Burner, Charge, InputError, Pot, Setup, blend, vary
from burnsim.report.start import start_text, start_word
from burnsim.solve.run import DEFAULT_RTOL
from burnsim.studies.start.grid import (
    BLOOMS,
    GOES_OUT,
    MORE_PRIMER,
    NEVER_BLOOMS,
    NEVER_LIGHTS,
    StartCell,
    StartMap,
    map_starts,
    placed,
)
from burnsim.studies.start.primer import shortfall
from burnsim.substances.blend import density
from burnsim.units import plain

EXAMPLES = Path(__file__).parents[3] / "examples"
FREEZING = 273.15
ML = 1e-6
BURNER = Setup(
    PALM,
    Charge(blend("ethanol"), volume=22 * ML, primer=0.9 * ML),
    Pot(diameter=0.14, height=0.09, water=0.3e-3, rest="bumps", gap=1.5e-3),
    name="two cups",
)
CUP = Setup(
    Burner("open cup", outer_diameter=65e-3, height=25e-3, wall_thickness=0.3e-3, metal="steel"),
    Charge(blend("ethanol"), volume=15 * ML),
    Pot(diameter=0.14, height=0.09, water=0.2e-3, rest="stand", gap=35e-3),
)
COLD, WARM = FREEZING - 20.0, FREEZING + 25.0
ALTITUDES = (0.0, 3000.0)


@cache
def burnt() -> tuple[StartMap, list[burnsim.Outcome | burnsim.Failure]]:
    """The map, and the burns of its warm places, at once: both by the engine that is at hand."""
    found = map_starts(BURNER, [WARM, COLD], ALTITUDES, points=3, tolerance=0.5 * ML)
    return found, burnsim.burn_many([placed(BURNER, WARM, altitude) for altitude in ALTITUDES], rtol=DEFAULT_RTOL)


def mapped() -> StartMap:
    return burnt()[0]


def cell(altitude: float, air: float) -> StartCell:
    result = mapped()
    return result.cells[result.altitudes.index(altitude)][result.air_temperatures.index(air)]


def test_axes_rise() -> None:
    assert mapped().air_temperatures == (COLD, WARM)
    assert mapped().altitudes == ALTITUDES


def test_each_place_is_a_burn() -> None:
    for altitude, alone in zip(ALTITUDES, burnt()[1], strict=True):
        found = cell(altitude, WARM)
        assert isinstance(alone, burnsim.Outcome)
        assert found.verdict == BLOOMS
        assert found.primer == BURNER.charge.primer
        assert found.bloom == pytest.approx(alone.milestones.bloom.time, rel=1e-6)
        assert found.boil == pytest.approx(alone.milestones.boil.time, rel=1e-6)


def test_more_primer_starts_it_and_its_own_does_not() -> None:
    found = cell(0.0, COLD)
    assert found.verdict == MORE_PRIMER
    assert found.primer is not None
    assert found.primer > BURNER.charge.primer
    place = placed(BURNER, COLD, 0.0)
    assert shortfall(burners.burnt(place), "hold") != ""
    assert shortfall(burners.burnt(vary(place, {"charge.primer": found.primer})), "hold") == ""


def test_colder_spirit_lies_below_its_flash_point_and_thin_air_lowers_it() -> None:
    """Ethanol flashes near 12 degC; at 3 km (70.12 kPa) some 5 K lower, where a thinner vapour burns."""
    for altitude in (0.0, 3000.0):
        assert cell(altitude, COLD).below_flash
        assert not cell(altitude, WARM).below_flash
        assert cell(altitude, COLD).match is not None
    low, high = cell(0.0, WARM).flash, cell(3000.0, WARM).flash
    assert low is not None
    assert high is not None
    star = next(line for line in plain(mapped().summary()).splitlines() if line.startswith("  *"))
    assert f"too thin to burn below {low - 273.15:.0f} degC at 0 m (flash points of tables" in star
    assert 3.0 < low - high < 10.0
    assert cell(0.0, COLD).match > 0.0 == cell(0.0, WARM).match  # type: ignore[operator]


def test_water_is_never_ice() -> None:
    pot = placed(BURNER, COLD, 0.0).pot
    assert pot is not None
    assert pot.water_temperature == FREEZING + 1.0
    warm = placed(BURNER, WARM, 0.0).pot
    assert warm is not None
    assert warm.water_temperature == WARM
    given = placed(vary(BURNER, {"pot.water_temperature": FREEZING + 50.0}), COLD, 0.0).pot
    assert given is not None
    assert given.water_temperature == FREEZING + 50.0


def test_water_is_as_cold_as_the_air_unless_it_is_told_for_the_map() -> None:
    """The temperature that the design gives is that of its own place."""
    tepid = vary(BURNER, {"pot.water_temperature": "50 degC"})
    for water, held in ((None, None), ("40 degC", 313.15)):
        found = map_starts(tepid, [WARM], [0.0], water=water)
        assert found.setup.pot.water_temperature == held
        assert (found.cells[0][0].boil < map_starts(BURNER, [WARM], [0.0]).cells[0][0].boil) == (water is not None)
    with pytest.raises(InputError, match="pot"):
        map_starts(vary(BURNER, {"pot": None}), [WARM], [0.0], water="40 degC")


def test_warm_water_boils_sooner_than_cold() -> None:
    assert cell(0.0, WARM).boil < cell(0.0, COLD).boil  # type: ignore[operator]
    assert cell(0.0, WARM).used < cell(0.0, COLD).used  # type: ignore[operator]


def test_text_and_values() -> None:
    text = plain(mapped().summary())
    assert "two cups" in text
    assert "3000 m" in text
    assert "yes" in text
    assert "Minutes to boil" in text
    assert "hold the match" in text
    values = json.loads(json.dumps(mapped().to_dict(), allow_nan=False))
    assert values["cells"][0][1]["boil_s"] == cell(0.0, WARM).boil
    assert values["cells"][0][0]["verdict"] == MORE_PRIMER
    assert pickle.loads(pickle.dumps(mapped())).to_dict() == mapped().to_dict()


def test_a_cup_that_no_match_lights() -> None:
    """A pool is not warmed to its flash point by a match where it is 30 K colder; it lights at room temperature."""
    result = map_starts(CUP, [COLD, WARM], [0.0])
    cold, warm = result.cells[0]
    assert cold.verdict == NEVER_LIGHTS
    assert "flash point" in cold.reason
    assert cold.bloom is cold.boil is cold.used is cold.match is None
    assert warm.verdict == BLOOMS
    assert warm.bloom is None
    assert "Does it light?" in plain(result.summary())
    assert "unlit" in plain(result.summary())
    assert result.most_primer is None


def test_no_primer_helps_a_watery_spirit() -> None:
    weak = vary(BURNER, {"charge.fuel": "ethanol 25", "charge.primer": 1.0 * ML})
    found = map_starts(weak, [WARM], [0.0], most_primer=1.5 * ML, points=2, tolerance=ML).cells[0][0]
    assert found.verdict in (NEVER_BLOOMS, NEVER_LIGHTS, GOES_OUT)
    assert plain(found.reason)
    assert found.boil is None


def test_words() -> None:
    own = BURNER.charge.primer
    found = cell(0.0, COLD)
    assert found.primer is not None
    told = float(plain(start_word(found, own)).removeprefix("+").removesuffix(" ml*"))
    assert found.primer - own <= told * ML < found.primer - own + 0.1 * ML + 1e-12  # rounded up: it is enough
    nearly = found._replace(primer=own + 0.004 * ML)
    assert plain(start_word(nearly, own)) == "+0.1 ml*"
    assert plain(start_word(nearly, own, "us")) == "+0.01 fl oz*"
    assert plain(start_word(cell(0.0, WARM), own)) == "yes "


@pytest.mark.parametrize(
    ("air", "altitudes", "field"),
    [
        ([], [0.0], "air_temperatures"),
        ([280.0, 280.0], [0.0], "air_temperatures"),
        ([280.0], [], "altitudes"),
        ([float("nan")], [0.0], "air_temperatures"),
        ([100.0], [0.0], "site.air_temperature"),
        ([280.0], [9000.0], "site.altitude"),
        ([True], [0.0], "air_temperatures"),
        (["20 mm"], [0.0], "air_temperatures"),
        ([280.0], ["high"], "altitudes"),
    ],
)
def test_refuses(air: list[float | str], altitudes: list[float | str], field: str) -> None:
    with pytest.raises(InputError, match=field):
        map_starts(BURNER, air, altitudes)


def test_places_may_be_written_with_units() -> None:
    found = map_starts(CUP, ["20 degC", "5 degC"], ["1000 ft"])
    assert found.air_temperatures == pytest.approx([278.15, 293.15])
    assert found.altitudes == pytest.approx([304.8])


def test_refuses_primer_without_a_wick() -> None:
    with pytest.raises(InputError, match="most_primer"):
        map_starts(CUP, [WARM], [0.0], most_primer=ML)


def test_more_spirit_where_it_is_warmer_is_told_with_its_reasons() -> None:
    tepid = vary(BURNER, {"pot.water_temperature": "12 degC"})
    one = StartCell(258.15, 0.0, BLOOMS, "", None, 280.0, False, 1.0, 20.0, 700.0, 20.0 * ML)
    swollen = 20.0 * ML * density(BURNER.charge.fuel, 258.15) / density(BURNER.charge.fuel, 298.15)

    def told(used: float, setup: Setup) -> str:
        warm = one._replace(air_temperature=298.15, boil=600.0, used=used)
        return " ".join(plain(start_text(StartMap(setup, (258.15, 298.15), (0.0,), None, ((one, warm),)))).split())

    assert "12 degC in every place" in told(20.0 * ML, tepid)
    assert "More where it is warmer" not in told(20.0 * ML, tepid)
    assert "More where it is warmer" not in told(21.0 * ML, BURNER)  # its water is as cold as the air
    # ethanol swells by 1.1e-3 a kelvin (CRC Handbook, from memory): 4.4 % over 40 K
    lighter = "at 0 m by 4 %: the spirit, poured in at the air's temperature, is lighter there by 4 %."
    assert lighter in told(swollen, tepid)
    more = told(swollen * 1.03, tepid)
    assert "by mass it takes 3 % more: it burns faster, and a smaller share of its heat reaches the water." in more


def test_what_the_burns_of_a_map_warn_of_is_told() -> None:
    """A pot so near over the well that its flame lacks air: the map may not say "yes" and leave it there."""
    near = vary(EXAMPLES / "porch_open_well.toml", {"pot.gap": "4 mm"})
    found = map_starts(near, ["15 degC", "20 degC"], [0.0])
    for cell in found.cells[0]:
        burn = burners.burnt(placed(near, cell.air_temperature, cell.altitude))
        assert cell.verdict == BLOOMS
        assert cell.warned == tuple(verdict.code for verdict in burn.verdicts)
    count = sum("smothered" in cell.warned for cell in found.cells[0])
    assert count > 0
    assert f"smothered in {count} of 2 places" in plain(found.summary())
    legend = found.plot(ax=Figure().subplots()).get_legend()
    assert any(f"smothered in {count} of 2" in text.get_text() for text in legend.get_texts())
    assert found.to_dict()["cells"][0][-1]["warned_of"] == list(found.cells[0][-1].warned)
