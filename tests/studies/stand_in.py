"""A stand-in for burning: outcomes from formulas, so that the right answers of a study are known exactly."""

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from types import SimpleNamespace

import numpy as np

from burnsim import Charge, Pot, Setup, Wick
from tests.burners import PALM

COLD, BOILING = 288.15, 373.15


def design() -> Setup:
    """A small burner with a pot."""
    burner = replace(PALM, wick=Wick())
    return Setup(burner, Charge("methanol", "37 ml", "3 ml"), Pot("14 cm", "8 cm", "0.6 l", "15 degC"), name="stand-in")


def outcome(
    setup: Setup,
    *,
    bloom: float | None = 20.0,
    boil: float | None = 600.0,
    burnout: float | None = 1000.0,
    codes: Sequence[str] = (),
    efficiency: float | None = 0.5,
    water_at: Sequence[float] = (),
    fuel: float = 0.02,
) -> SimpleNamespace:
    """What the studies read of an outcome; the water warms on a straight line from bloom to boil."""

    def mark(time: float | None, burnt: float | None = 0.02) -> SimpleNamespace:
        return SimpleNamespace(
            time=time, reason="" if time is not None else "so it is", fuel=None if time is None else burnt
        )

    end = burnout if burnout is not None else 1000.0
    times = np.array(water_at, dtype=np.float64)
    warmed = (
        np.zeros_like(times) if boil is None or bloom is None else np.clip((times - bloom) / (boil - bloom), 0.0, 1.0)
    )
    water = np.where(times > end, None, COLD + (BOILING - COLD) * warmed)  # type: ignore[call-overload]
    return SimpleNamespace(
        setup=setup,
        milestones=SimpleNamespace(
            primer_out=mark(40.0), bloom=mark(bloom), boil=mark(boil, fuel), burnout=mark(burnout), spill=mark(None),
            quench=mark(None),
        ),
        verdicts=tuple(SimpleNamespace(code=code, text=code) for code in codes),
        mass=SimpleNamespace(charged=0.03),
        efficiency_to_boil=efficiency,
        efficiency=efficiency,
        power_max=1000.0,
        power_median=500.0,
        water_max=BOILING if boil is not None else 350.0,
        gallery_pressure_max=10.0,
        well_pressure_max=1.0,
        froth_max=0.02,
        heat_fed_back=0.06,
        duration=end,
        water_at=tuple(water.tolist()),
    )  # fmt: skip


def engine(rule: Callable[[Setup], dict[str, object]]) -> Callable[..., list[object]]:
    """Make an engine from a rule that says what comes of a setup."""

    def burn(setups: Sequence[Setup], water_at: Sequence[float] = ()) -> list[object]:
        return [outcome(setup, water_at=water_at, **rule(setup)) for setup in setups]

    return burn


def log_factor(setup: Setup, name: str) -> float:
    """Natural logarithm of a factor of a setup."""
    return math.log(getattr(setup.factors, name))
