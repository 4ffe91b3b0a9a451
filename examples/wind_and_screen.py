"""What does a wind cost, and what does a windscreen save? Minutes and grams of fuel against the wind, with and without.

python examples/wind_and_screen.py [FOLDER FOR THE PICTURE]
"""

import sys
from pathlib import Path

import matplotlib.pyplot as plt

import burnsim

WINDS = [0.0, 0.5, 1.0, 1.5, 2.0, 3.0]  # m/s, outside the screen
LOOKS = ("-", "--", "-.", ":")
SCREENS = {
    "no windscreen": None,
    "as high as the pot's bottom, 20 mm off": burnsim.Screen(height="47 mm", clearance="20 mm"),
    "half-way up the pot's side, 15 mm off": burnsim.Screen(height="87 mm", clearance="15 mm"),
    "the same, 6 mm off": burnsim.Screen(height="87 mm", clearance="6 mm"),
}


@burnsim.plots.in_style()
def main(folder: Path) -> None:
    setup = burnsim.load(Path(__file__).with_name("weekend_double_wall.toml"))
    setups = [burnsim.vary(setup, {"site.wind": u, "screen": s}) for s in SCREENS.values() for u in WINDS]
    found = burnsim.outcomes(setups)

    figure, (minutes, grams) = plt.subplots(1, 2, figsize=(9.0, 4.2), layout="constrained", sharex=True)
    print(f"{setup.name}: minutes to the boil and grams, in winds of {WINDS} m/s")
    for k, name in enumerate(SCREENS):
        burns = found[k * len(WINDS) : (k + 1) * len(WINDS)]
        boils = [(u, b.milestones.boil) for u, b in zip(WINDS, burns, strict=True) if isinstance(b, burnsim.Outcome)]
        told = [(u, boil.time / 60.0, 1e3 * boil.fuel) for u, boil in boils if boil.time is not None]
        print(f"  {name:<40} " + ", ".join(f"{time:.1f} min {fuel:.1f} g" for _, time, fuel in told))
        look = {"marker": "o", "color": "black", "linestyle": LOOKS[k]}
        minutes.plot([u for u, _, _ in told], [time for _, time, _ in told], label=name, **look)
        grams.plot([u for u, _, _ in told], [fuel for _, _, fuel in told], **look)
    minutes.set(xlabel="wind [m/s]", ylabel="minutes to the boil", title="A line ends where the water no longer boils")
    grams.set(xlabel="wind [m/s]", ylabel="fuel to the boil [g]")
    figure.legend(loc="outside lower center", ncols=2, frameon=False)
    folder.mkdir(parents=True, exist_ok=True)
    figure.savefig(folder / "wind_and_screen.png", dpi=150)
    print(f"picture: {folder / 'wind_and_screen.png'}")


if __name__ == "__main__":
    main(Path(sys.argv[1] if len(sys.argv) > 1 else "pictures"))
