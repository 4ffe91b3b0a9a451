"""How many jets, and how wide? Time to boil and grams for a grid of both, as a table and a picture.

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
    found = burnsim.sweep(
        setup,
        {"burner.jets.count": COUNTS, "burner.jets.diameter": [f"{diameter} mm" for diameter in DIAMETERS_MM]},
        workers=1,  # so few burns are not worth starting processes
    )
    print(f"{setup.name}: time to boil [min], fuel to boil [g], median power [W]")
    print("diameter " + "".join(f"{count:>17} jets" for count in COUNTS))
    for row, diameter in enumerate(DIAMETERS_MM):
        cells = []
        for column in range(len(COUNTS)):
            one = found.isel({"burner.jets.count": column, "burner.jets.diameter": row})
            boil = float(one.boil) / 60.0
            boils = boil > 0.0  # what does not boil has no number for a time
            if boils:
                cells.append(f"{boil:.1f} {1e3 * float(one.boil_fuel):.1f} {float(one.power_median):.0f}")
            else:  # the verdicts say why
                cells.append(one.verdicts.item())
        print(f"{diameter:>5} mm " + "".join(f"{cell:>22}" for cell in cells))

    figure, ax = plt.subplots(figsize=(6.8, 4.8), layout="constrained")
    burnsim.plots.sweep(found, "boil", ax)
    folder.mkdir(parents=True, exist_ok=True)
    figure.savefig(folder / "sweep_jets.png", dpi=150)
    print(f"picture: {folder / 'sweep_jets.png'}")


if __name__ == "__main__":
    main(Path(sys.argv[1] if len(sys.argv) > 1 else "pictures"))
