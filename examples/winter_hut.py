"""Which spirit to carry to a hut at 2500 m in frost, and does it start there? Two tables and a picture.

Light it outside the hut: any flame makes carbon monoxide, which kills in a closed room.

python examples/winter_hut.py [FOLDER FOR THE PICTURE]
"""

import sys
from pathlib import Path

import matplotlib.pyplot as plt

import burnsim

SPIRITS = ("methanol", "ethanol 95", "2-propanol 91")
FROST_K, HUT_M = 268.15, 2500.0  # -5 degC
TEA = {"pot.water": "0.5 l", "pot.water_temperature": "1 degC", "charge.primer": "2 ml", "charge.volume": "35 ml"}


def main(folder: Path) -> None:
    valley = burnsim.vary(burnsim.load(Path(__file__).with_name("weekend_double_wall.toml")), TEA)
    hut = burnsim.vary(valley, {"site.air_temperature": FROST_K, "site.altitude": HUT_M, "name": "winter hut"})

    # What to carry for a weekend of ten pots of melted snow, if each starts at all.
    print(burnsim.compare_fuels(hut, SPIRITS, boils=10, find_least=False).summary())

    # Where the kitchen spirit starts on its 2 ml of primer, and how much more it takes elsewhere.
    kitchen = burnsim.vary(valley, {"charge.fuel": "ethanol 95 bottle", "name": "kitchen spirit"})
    air = [258.15, FROST_K, 278.15]
    starts = burnsim.map_starts(kitchen, air, [0.0, HUT_M], water="1 degC", points=3, tolerance=0.2e-6)
    print()
    print(starts.summary())

    figure, ax = plt.subplots(figsize=(6.0, 3.6), layout="constrained")
    burnsim.plots.start_map(starts, ax=ax)
    folder.mkdir(parents=True, exist_ok=True)
    figure.savefig(folder / "winter_hut.png", dpi=150)
    print(f"picture: {folder / 'winter_hut.png'}")


if __name__ == "__main__":
    main(Path(sys.argv[1] if len(sys.argv) > 1 else "pictures"))
