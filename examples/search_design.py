"""Which burner boils half a litre on the least fuel, within limits? The best few, what each limit costs, a picture.

python examples/search_design.py [FOLDER FOR THE PICTURE]

`burnsim search examples/search/least_fuel.toml` asks the same of a file, with more designs and with bands.
"""

import sys
from pathlib import Path

import matplotlib.pyplot as plt

import burnsim

TEA = {"pot.water": "0.5 l", "pot.water_temperature": "5 degC", "site.air_temperature": "10 degC"}
FREE = {
    "burner.jets.count": {"low": 16, "high": 36, "step": 2},
    "burner.jets.diameter": {"low": "0.7 mm", "high": "1.2 mm", "drills": "metric"},
    "charge.volume": {"low": "25 ml", "high": "45 ml", "step": "1 ml"},
}


def main(folder: Path) -> None:
    base = burnsim.vary(burnsim.load(Path(__file__).with_name("weekend_double_wall.toml")), TEA)
    found = burnsim.search(
        base,
        FREE,
        "boil_fuel",
        limits={"bloom": (None, 45.0), "boil": (None, 720.0), "fuel_margin": (0.1, None)},
        forbid=["spills", "flames past the pot"],
        evaluations=120,  # a thousand, the default, finds the last tenth of a millilitre
        seed=1,
        workers=1,
    )
    print(found.summary())

    figure, ax = plt.subplots(figsize=(7.0, 5.0), layout="constrained")
    burnsim.plots.search(found, ax)
    folder.mkdir(parents=True, exist_ok=True)
    figure.savefig(folder / "search.png", dpi=130)
    print(f"picture: {folder / 'search.png'}")


if __name__ == "__main__":
    main(Path(sys.argv[1] if len(sys.argv) > 1 else "pictures"))
