"""Write the example logs of this folder: burns of burnsim's own model with the errors of a bench, no real ones.

python examples/logs/write_logs.py [FOLDER]

The design is `weekend_double_wall.toml` with three factors off 1 (TRUTH), as another build would be. Times and
temperatures get the errors that a log has by default: the pace of the whole burn differs by 3 %, milestones by 2 %
(bloom 10 %) and a few seconds, the thermometer is off by 0.5 K and each reading by 0.3 K, all normal, seeded. The
logger's thermometer has the latter two alone.
"""

import sys
from pathlib import Path

import numpy as np

import burnsim

HERE = Path(__file__).parent
TRUTH = {"flame_to_pot": 0.9, "wick_heat": 1.1, "flame_to_rim": 1.1}
MADE = """\
# SYNTHETIC: written by examples/logs/write_logs.py from burnsim's own model plus noise. No such burn took place.
"""
HEAD = """\
build = "no. 1"
note = "synthetic: the model plus noise, not a real burn"
charge.fuel = "methanol"
charge.volume = "37 ml"
charge.primer = "3 ml"
pot.water = "0.6 l"
pot.water_temperature = "12 degC"
site.air_temperature = "20 degC"
site.altitude = "0 m"
"""
EVERY = 2.0  # between rows of the logger [s]
BEFORE = 60.0  # that it runs before the match [s]


def main(folder: Path) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    design = burnsim.load(HERE.parent / "weekend_double_wall.toml")
    true = burnsim.calibration.set_factors(design, TRUTH)
    typed = burnsim.bench.parse(burnsim.bench.synthesise_log(true, seed=1, every=60.0))
    rows = [f"{_clock(row.time)}, {row.water - 273.15:.1f}" for row in typed.readings if row.water is not None]
    seen = ((typed.bloom, "bloom"), (typed.boil, "boil"), (typed.burnout, "out"))
    rows += [f"{_clock(mark.time)}, , {word}" for mark, word in seen if mark.time is not None]
    lines = sorted(rows, key=lambda line: [int(part) for part in line.split(",")[0].split(":")])
    typed_text = MADE + HEAD + "---\ntime [mm:ss], water [degC], note\n0:00, 12.0\n" + "\n".join(lines) + "\n"
    (folder / "saturday.csv").write_text(typed_text, encoding="utf-8")
    few = burnsim.bench.parse(burnsim.bench.synthesise_log(true, seed=3, every=60.0))
    times = "".join(
        f"seen.{name} = {_clock(mark.time)}\n"
        for name, mark in (("bloom", few.bloom), ("boil", few.boil), ("burnout", few.burnout))
        if mark.time is not None
    )
    (folder / "stopwatch_only.csv").write_text(MADE + HEAD + times, encoding="utf-8")
    _write_logger(folder, burnsim.burn(true))


def _write_logger(folder: Path, burn: burnsim.Burn) -> None:
    """A thermocouple logger's file as such loggers write it, and beside it what it cannot know."""
    random = np.random.default_rng(3)
    at = np.arange(-BEFORE, burn.time[-1] + BEFORE, EVERY)
    water = np.interp(at, burn.time, burn.series("water_temperature")) - 273.15 + random.normal(0.0, 0.5)
    water += random.normal(0.0, 0.3, len(at))
    start = 14 * 3600 + 3 * 60
    lines = ["Thermocouple logger (synthetic);", "Interval [s];2", "Date/Time;T1 [°C]"]
    for time, value in zip((start + at).astype(int).tolist(), water.tolist(), strict=True):
        clock = f"{time // 3600}:{time // 60 % 60:02d}:{time % 60:02d}"
        lines.append(f"28.11.2026 {clock};{value:.1f}".replace(".", ",").replace("28,11,", "28.11."))
    (folder / "thermocouple.csv").write_text("\r\n".join(lines) + "\r\n", encoding="utf-8")
    bloom, boil = burn.milestones.bloom.time, burn.milestones.boil.time
    head = HEAD + f'clock.match = "14:03:00"\nseen.bloom = "{bloom:.0f} s"\nseen.boil = "{boil:.0f} s"\n'
    (folder / "thermocouple.toml").write_text(MADE + head, encoding="utf-8")


def _clock(seconds: float) -> str:
    return f"{int(seconds) // 60}:{int(seconds) % 60:02d}"


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else HERE)
