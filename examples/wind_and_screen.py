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


DOUBT = (1.0, 0.5, 2.0)  # what a screen makes of a wind is known within a factor of two


def boil(outcome: burnsim.Outcome | burnsim.Failure) -> tuple[float, float] | None:
    """Minutes and grams to the boil; None where the water does not boil."""
    if isinstance(outcome, burnsim.Failure) or outcome.milestones.boil.time is None:
        return None
    return outcome.milestones.boil.time / 60.0, 1e3 * (outcome.milestones.boil.fuel or 0.0)


@burnsim.plots.in_style()
def main(folder: Path) -> None:
    setup = burnsim.load(Path(__file__).with_name("weekend_double_wall.toml"))
    asked = [(name, d, u) for name in SCREENS for d in (DOUBT if SCREENS[name] else DOUBT[:1]) for u in WINDS]
    setups = [burnsim.vary(setup, {"site.wind": d * u, "screen": SCREENS[name]}) for name, d, u in asked]
    found = dict(zip(asked, map(boil, burnsim.burn_many(setups)), strict=True))

    figure, pictures = plt.subplots(1, 2, figsize=(9.0, 4.2), layout="constrained", sharex=True)
    print(f"{setup.name}: minutes to the boil and grams, in winds of {WINDS} m/s")
    for name, line in zip(SCREENS, LOOKS, strict=True):
        told = [(u, *both) for u in WINDS if (both := found[name, 1.0, u]) is not None]
        cells = (
            "never" if (both := found[name, 1.0, u]) is None else "{:.1f} min {:.1f} g".format(*both) for u in WINDS
        )
        print(f"  {name:<40} " + ", ".join(cells))
        band = [u for u in WINDS if found.get((name, 0.5, u)) and found.get((name, 2.0, u))]
        for k, ax in enumerate(pictures):
            ax.plot(
                [row[0] for row in told],
                [row[1 + k] for row in told],
                "o",
                ls=line,
                color="black",
                label=name if k == 0 else None,
            )
            low, high = ([found[name, d, u][k] for u in band] for d in DOUBT[1:])  # type: ignore[index]
            ax.fill_between(band, low, high, color="0.6", alpha=0.25, linewidth=0.0)
    minutes, grams = pictures
    minutes.set(xlabel="wind [m/s]", ylabel="minutes to the boil")
    minutes.set_title("A line ends where the water no longer boils;\nshaded: half and twice the wind")
    grams.set(xlabel="wind [m/s]", ylabel="fuel to the boil [g]")
    figure.legend(loc="outside lower center", ncols=2, frameon=False)
    folder.mkdir(parents=True, exist_ok=True)
    figure.savefig(folder / "wind_and_screen.png", dpi=150)
    print(f"picture: {folder / 'wind_and_screen.png'}")


if __name__ == "__main__":
    main(Path(sys.argv[1] if len(sys.argv) > 1 else "pictures"))
