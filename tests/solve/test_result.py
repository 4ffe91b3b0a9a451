"""The result of a burn: what may be asked of it and of a run, and what is refused."""

from dataclasses import astuple
from pathlib import Path

import numpy as np
import pytest

import burnsim
import burnsim.solve.march as march_room
from burnsim.errors import InputError
from burnsim.solve.results.result import Burn
from burnsim.solve.results.series import SERIES
from burnsim.solve.run import ready
from burnsim.units import plain

WEEKEND = burnsim.load(Path(__file__).parents[2] / "examples" / "weekend_double_wall.toml")


@pytest.fixture(scope="module")
def cut() -> Burn:
    """The first eight seconds of a burn."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(march_room, "HORIZON", 8.0)
        return burnsim.burn(WEEKEND)


@pytest.fixture(scope="module")
def dark() -> Burn:
    """A burner without primer: nothing lights."""
    return burnsim.burn(burnsim.vary(WEEKEND, {"charge.primer": 0.0}))


def test_every_series_is_a_column_over_the_time(cut: Burn) -> None:
    table = cut.to_dataframe()
    assert [table.index.name, *table.columns] == list(SERIES)
    assert table.index.name == "time"
    assert table.index.to_numpy().tolist() == cut.time.tolist()
    for name in ("water_temperature", "power"):
        assert table[name].to_numpy().tolist() == cut.series(name).tolist()
    assert np.isfinite(table.to_numpy(dtype=float)).all()


def test_a_series_that_is_none_is_refused_with_the_nearest(cut: Burn) -> None:
    with pytest.raises(InputError, match="did you mean 'water_temperature'") as caught:
        cut.series("water_temprature")
    assert caught.value.field == "series"
    with pytest.raises(InputError, match=r"is not a series of a burn: use one of .*power") as caught:
        cut.series("q")
    with pytest.raises(InputError, match="series = 3 is not a series"):
        cut.series(3)  # type: ignore[arg-type]


@pytest.mark.parametrize("time", [-0.1, 8.1, float("nan"), "9 s"])
def test_an_instant_outside_the_burn_is_refused_with_its_length(cut: Burn, time: float) -> None:
    for ask in (cut.flows, cut.state):
        with pytest.raises(InputError, match="is outside the burn; allowed 0 to 8 s: give an instant inside it"):
            ask(time)


def test_the_end_of_a_burn_is_inside_it(cut: Burn) -> None:
    """A last digit that was lost in a sum of steps is forgiven."""
    assert cut.state("2 s")[0] == cut.state(2.0)[0]
    end = float(cut.time[-1])
    at, beyond = cut.state(end), cut.state(end + 5e-10)
    for one, other in zip(astuple(at[0]), astuple(beyond[0]), strict=True):
        assert one == pytest.approx(other, rel=1e-12)


def test_what_never_lit_stays_as_it_was_poured(dark: Burn) -> None:
    assert dark.ended == "never lit"
    state, tallies = dark.state(0.0)
    assert state == ready(dark.setup).first
    assert sum(tallies.burnt) == 0.0
    assert dark.series("power").tolist() == [0.0]
    for milestone in dark.milestones:
        assert milestone.time is None
        assert milestone.reason


@pytest.mark.parametrize(
    ("rtol", "words"),
    [
        (True, "rtol = True is not a number: leave it out for 0.001"),
        ("1e-3", "rtol = '1e-3' is not a number: leave it out for 0.001"),
        (0.1, "rtol = 0.1 is out of range; allowed 1e-09 to 0.01: leave it out for 0.001"),
        (0.0, "rtol = 0.0 is out of range"),
        (float("nan"), "rtol = nan is out of range"),
    ],
)
def test_tolerances_that_make_no_sense_are_refused(rtol: float, words: str) -> None:
    for run in (lambda: burnsim.burn(WEEKEND, rtol=rtol), lambda: burnsim.burn_many([WEEKEND], rtol=rtol)):
        with pytest.raises(InputError) as caught:
            run()
        assert plain(str(caught.value)).startswith(words)


def test_what_is_no_setup_or_no_list_of_them_is_refused() -> None:
    with pytest.raises(InputError, match="is not a design: give a Setup, a table, or the path of a design file"):
        burnsim.burn(3)  # type: ignore[arg-type]
    with pytest.raises(InputError, match="is not several setups: give a list of them"):
        burnsim.burn_many(WEEKEND)  # type: ignore[arg-type]


def test_pressure_above_the_stated_limit_is_a_verdict() -> None:
    """The limit is only held against what the burn reaches."""
    low, high = (
        burnsim.burn(burnsim.vary(WEEKEND, {"charge.volume": "12 ml", "pressure_limit": limit})) for limit in (5.0, 2e5)
    )
    assert "pressure" not in {verdict.code for verdict in high.verdicts}
    (text,) = [plain(verdict.text) for verdict in low.verdicts if verdict.code == "pressure"]
    peak = max(low.gallery_pressure_max, low.well_pressure_max)
    assert peak > 5.0
    assert text.startswith(f"The chamber pressure reaches {peak:.0f} Pa, above the stated limit of 5 Pa")
    assert low.duration == high.duration


def test_holes_wider_than_a_flame_needs_may_let_it_strike_back() -> None:
    """Methanol flames pass holes of 2 mm in a thin plate (quenching distance, hot vapour; from memory, unverified)."""
    wide, narrow = (
        burnsim.burn(
            burnsim.vary(WEEKEND, {"charge.volume": "12 ml", "burner.jets.count": 4, "burner.jets.diameter": d})
        )
        for d in ("4 mm", "1.2 mm")
    )
    assert "light-back" not in {verdict.code for verdict in narrow.verdicts}
    (text,) = [plain(verdict.text) for verdict in wide.verdicts if verdict.code == "light-back"]
    assert text.startswith("Holes of 4.0 mm are wider than those that a flame cannot pass, about ")


def test_vapour_over_much_water_never_becomes_flammable() -> None:
    """Ethanol of 1 in 1000 by volume: even boiling its vapour has less than the 3 % that burn in air."""
    weak = burnsim.vary(WEEKEND, {"charge.fuel": {"ethanol": 0.001, "water": 0.999}})
    result = burnsim.burn(weak)
    assert result.ended == "never lit"
    assert result.milestones.bloom.reason == ("the vapour over the charge never becomes flammable, for the water in it")
