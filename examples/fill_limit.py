"""How much may be poured in before liquid comes out of the jets, and what the levels look like then? A note, a picture.

python examples/fill_limit.py [FOLDER FOR THE PICTURE]
"""

import sys
from pathlib import Path

import matplotlib.pyplot as plt

import burnsim


def main(folder: Path) -> None:
    design = burnsim.load(Path(__file__).with_name("weekend_double_wall.toml"))

    # Nine loads are burnt first; the lowest of them that spills is then bracketed. The default, 21, sees narrower gaps.
    limits = burnsim.find_fill_limit(design, scan=9)
    print(limits.summary())
    relief = burnsim.find_relief(design)
    print(f"\nRelief for {relief.load * 1e6:.1f} ml, the pot flat on the rim: {relief.summary()}.")

    figure, (left, right) = plt.subplots(1, 2, figsize=(11.0, 5.2), width_ratios=(2.3, 1.0), layout="constrained")
    burnsim.plots.fill_levels(limits, left)
    burnsim.plots.head(limits, right)
    folder.mkdir(parents=True, exist_ok=True)
    figure.savefig(folder / "fill_limit.png", dpi=130)
    print(f"picture: {folder / 'fill_limit.png'}")


if __name__ == "__main__":
    main(Path(sys.argv[1] if len(sys.argv) > 1 else "pictures"))
