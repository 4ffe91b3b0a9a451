"""How many jets, and how wide? Time to boil and millilitres for a grid of both, as a table and a picture.

python examples/sweep_jets.py [FOLDER FOR THE PICTURE]
"""

import sys
from pathlib import Path

import matplotlib.pyplot as plt

import burnsim

COUNTS = (16, 24, 32, 40)
DIAMETERS_MM = (0.7, 0.9, 1.1, 1.3)


def main(folder: Path) -> None:
    setup = burnsim.load(Path(__file__).with_name("weekend_double_wall.toml"))
    print(f"{setup.name}: time to boil [min], fuel to boil [ml], median power [W]")
    print("diameter " + "".join(f"{count:>17} jets" for count in COUNTS))
    minutes: dict[float, list[float | None]] = {}
    for diameter in DIAMETERS_MM:
        minutes[diameter] = []
        cells = []
        for count in COUNTS:
            design = burnsim.vary(setup, {"burner.jets.count": count, "burner.jets.diameter": f"{diameter} mm"})
            burn = burnsim.burn(design)
            boil = burn.milestones.boil.time
            minutes[diameter].append(None if boil is None else boil / 60.0)
            if boil is None:  # the first verdict says why
                cells.append(burn.verdicts[0].code)
            else:
                figures = burn.to_dict()
                cells.append(f"{boil / 60.0:.1f} {figures['fuel_to_boil_ml']:.1f} {figures['power_median_W']:.0f}")
        print(f"{diameter:>5} mm " + "".join(f"{cell:>22}" for cell in cells))

    figure, ax = plt.subplots(figsize=(6.0, 4.0), layout="constrained")
    for (diameter, times), marker in zip(minutes.items(), "o^sD", strict=True):
        shown = [(count, time) for count, time in zip(COUNTS, times, strict=True) if time is not None]
        if shown:
            ax.plot(*zip(*shown, strict=True), marker=marker, color="black", linewidth=1, label=f"{diameter} mm")
    ax.set(xlabel="jets", ylabel="time to boil [min]", title=setup.name, xticks=COUNTS)
    ax.set_ylim(bottom=0.0)
    ax.legend(title="jet diameter")
    folder.mkdir(parents=True, exist_ok=True)
    figure.savefig(folder / "sweep_jets.png", dpi=150)
    print(f"picture: {folder / 'sweep_jets.png'}")


if __name__ == "__main__":
    main(Path(sys.argv[1] if len(sys.argv) > 1 else "pictures"))
