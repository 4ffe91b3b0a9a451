"""Which burner boils half a litre on the least fuel, within limits? The best few, what each limit costs, a picture.

python examples/search_design.py [FOLDER FOR THE PICTURE]

Slow burners take the least fuel: within 13 minutes in nine of ten burns takes some speed in hand. The pot must stand so
low that the flames end under it, the well must not lack air, and a quarter of the charge is left to simmer on.
`burnsim search examples/search/least_fuel.toml` asks the same of a file, with more burns.
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
    "pot.gap": ("0.5 mm", "2.5 mm"),  # in steps of half a millimetre; higher, the flame over the well lacks air
}


def main(folder: Path) -> None:
    base = burnsim.vary(burnsim.load(Path(__file__).with_name("weekend_double_wall.toml")), TEA)
    found = burnsim.search(
        base,
        FREE,
        "boil_fuel",
        limits={"boil": {"most": "13 min"}, "fuel_margin": {"least": 0.25}},  # each in 9 of 10 burns
        forbid={"spills": 0.01, "flames past the pot": 0.05, "smothered": 0.05},  # with the chance that is allowed
        draws=32,
        evaluations=700,  # burns at most; 4000, the default, come nearer to the best
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
