"""One way to burn a batch: the guilty burn is lost alone, a refused setup is an error or a row; engines by name."""

from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest

import burnsim
from burnsim import Failure, InputError, Outcome, Setup, SolverError, vary
from burnsim.solve import engines
from burnsim.studies.batches import Refusal, burn_batch, burn_planned, planned
from burnsim.studies.burn_many import burner_pool
from tests.studies.stand_in import design, outcome

ROOT = Path(__file__).parents[2]
CHARGES = ("10 ml", "20 ml", "30 ml")
SETUPS = [vary(design(), {"charge.volume": charge}) for charge in CHARGES]


def breaking(error: Exception, calls: list[int] | None = None) -> Callable[..., list[Outcome | Failure]]:
    """Burns, but for the second setup."""

    def run(setups: list[Setup]) -> list[Outcome | Failure]:
        if calls is not None:
            calls.append(len(setups))
        if SETUPS[1] in setups:
            raise error
        return [outcome(setup) for setup in setups]  # type: ignore[misc]

    return run


@pytest.mark.parametrize(
    ("error", "reason"),
    [(SolverError("too stiff"), "too stiff"), (ZeroDivisionError("0/0"), "internal error: ZeroDivisionError: 0/0")],
)
def test_only_the_guilty_burn_is_lost(error: Exception, reason: str) -> None:
    calls: list[int] = []
    found = burn_batch(SETUPS, breaking(error, calls))
    assert calls == [3, 1, 1, 1]
    assert found[1] == Failure(SETUPS[1], reason)
    assert [found[k].setup for k in (0, 2)] == [SETUPS[0], SETUPS[2]]
    assert not any(isinstance(found[k], Failure) for k in (0, 2))


def test_a_refused_setup_is_an_error_or_is_kept() -> None:
    error = InputError("charge.volume", 20e-6, "is refused", "pour less")
    with pytest.raises(InputError, match="is refused"):
        burn_batch(SETUPS, breaking(error))
    found = burn_batch(SETUPS, breaking(error), keep_refusals=True)
    assert found[1] == Refusal(SETUPS[1], str(error))
    assert not isinstance(found[0], Failure)


def test_nothing_to_burn() -> None:
    assert burn_batch([], breaking(ValueError())) == []


def test_few_burns_compile_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    compiled: list[Setup] = []
    monkeypatch.setattr(engines, "_compile_for", compiled.append)
    assert engines.prepare(SETUPS, engines.WORTH_COMPILING - 1) == "auto"
    assert compiled == []
    assert engines.prepare(SETUPS, engines.WORTH_COMPILING) == "compiled"
    assert compiled == SETUPS


def test_a_search_burns_on_without_a_compiler(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(setup: Setup) -> None:
        raise OSError("no compiler")

    monkeypatch.setattr(engines, "_compile_for", refuse)
    setups = [vary(burnsim.load(ROOT / "examples" / "garden_open_cup.toml"), {"charge.volume": "2 ml", "pot": None})]
    ranges = [(1e-6, 3e-6)]
    plan = planned(setups, ranges, 100, 1e-7)
    with pytest.warns(RuntimeWarning, match="no compiler"):
        (found,) = burn_planned(setups, plan)
    assert isinstance(found, Outcome)
    with pytest.warns(RuntimeWarning, match="no compiler"), burner_pool(engines.WORTH_COMPILING, 1) as engine:
        (same,) = engine(setups, ())
    assert isinstance(same, Outcome)
    assert same.duration == found.duration


def test_a_plan_counts_what_bisection_takes() -> None:
    plan = planned([design()] * 2, [(0.0, 8.0)] * 2, 9, 0.25)
    assert plan == {1: 2 * (9 + 2)}  # steps of 1, halved twice


def test_what_burns_may_travel() -> None:
    import pickle

    run = partial(burnsim.burn_many, water_at=(1.0,), engine="auto")
    assert pickle.loads(pickle.dumps(partial(burn_batch, run=run))).keywords["run"].keywords == run.keywords
