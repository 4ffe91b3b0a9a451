"""Learn from the bench: two synthetic logs (the model plus noise, no real burns), calibration, and the next prediction.

python examples/synthetic_bench.py [FOLDER FOR LOGS AND PICTURE]
"""

import sys
from pathlib import Path

import burnsim

TRUTH = {"flame_to_pot": 0.85, "wick_heat": 1.25, "flame_to_rim": 1.1}
FITTED = ("flame_to_pot", "flame_to_rim", "entrainment", "wick_heat")


def main(folder: Path) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    design = burnsim.load(Path(__file__).with_name("weekend_double_wall.toml"))
    logs = []
    for seed in (1, 2):
        name = f"synthetic_{seed}"
        path = folder / f"{name}.csv"
        text = burnsim.synthetic_log(burnsim.with_factors(design, TRUTH), seed=seed, every=60.0, name=name)
        path.write_text(text, encoding="utf-8")
        logs.append(burnsim.read_bench_log(path))
    print(burnsim.bench_text(burnsim.analyse(logs[0], design)))
    found = burnsim.calibrate(logs, design, factors=FITTED, starts=1)
    print("\n" + burnsim.calibration_text(found))
    print("\nThe truth, known here only: " + ", ".join(f"{name} {value}" for name, value in TRUTH.items()))
    burnsim.save_factors(found.belief, folder / "factors.toml", note="learnt from synthetic logs")
    print(f"factors: {folder / 'factors.toml'}")


if __name__ == "__main__":
    main(Path(sys.argv[1] if len(sys.argv) > 1 else "pictures"))
