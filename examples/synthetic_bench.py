"""Learn from the bench: two synthetic logs (the model plus noise, no real burns), calibration, and the next prediction.

python examples/synthetic_bench.py [FOLDER FOR LOGS AND PICTURES]
"""

import sys
from pathlib import Path

import matplotlib.pyplot as plt

import burnsim

TRUTH = {"flame_to_pot": 0.9, "wick_heat": 1.1, "flame_to_rim": 1.1}
FITTED = ("flame_to_pot", "flame_to_rim", "entrainment", "wick_heat")


def main(folder: Path) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    design = burnsim.load(Path(__file__).with_name("weekend_double_wall.toml"))
    logs = []
    for seed in (1, 2):
        name = f"synthetic_{seed}"
        path = folder / f"{name}.csv"
        true = burnsim.calibration.set_factors(design, TRUTH)
        text = burnsim.bench.synthesise_log(true, seed=seed, every=60.0, name=name)
        path.write_text(text, encoding="utf-8")
        logs.append(burnsim.bench.read(path))
    results = [burnsim.bench.analyse(log, design) for log in logs]
    print(results[0].summary())
    figure, axes = plt.subplots(2, 1, figsize=(7.0, 6.0), sharex=True, layout="constrained")
    burnsim.plots.bench(results, axes)
    figure.savefig(folder / "bench.png", dpi=130)
    found = burnsim.calibrate(design, logs, factors=FITTED, starts=1)
    print("\n" + found.summary())
    figure, axes = plt.subplots(2, 1, figsize=(8.0, 6.5), height_ratios=(1.0, 1.3), layout="constrained")
    burnsim.plots.calibration(found, axes)
    figure.savefig(folder / "calibration.png", dpi=130)
    print("\nThe truth, known here only: " + ", ".join(f"{name} {value}" for name, value in TRUTH.items()))
    burnsim.calibration.save(found.posterior, folder / "factors.toml", note="learnt from synthetic logs")
    print(f"factors: {folder / 'factors.toml'}; pictures: {folder}/bench.png, calibration.png")


if __name__ == "__main__":
    main(Path(sys.argv[1] if len(sys.argv) > 1 else "pictures"))
