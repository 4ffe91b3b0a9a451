"""A burn in pictures: the design to scale, one instant of it, its curves, its levels, and where the heat goes.

python examples/draw_a_burn.py [FOLDER FOR THE PICTURES]
"""

import sys
from pathlib import Path

import matplotlib.pyplot as plt

import burnsim


def main(folder: Path) -> None:
    setup = burnsim.load(Path(__file__).with_name("weekend_double_wall.toml"))
    burn = burnsim.burn(setup)
    boil = burn.milestones.boil.time
    at = 0.5 * (boil if boil is not None else burn.duration)
    folder.mkdir(parents=True, exist_ok=True)

    figure, (left, right) = plt.subplots(1, 2, figsize=(11.0, 4.6), layout="constrained")
    burnsim.plots.section(setup, left, dimensions=True, scale=2.5)
    burnsim.plots.section(setup, right, burn=burn, at=at, scale=2.5)  # 1 : 2.5 in both
    figure.savefig(folder / "section.png", dpi=130)

    for name, draw in (
        ("burn", lambda ax: burnsim.plots.burn(burn, ax)),
        ("levels", lambda ax: burnsim.plots.levels(burn, ax)),
        ("ledger", lambda ax: burnsim.plots.ledger(burn, ax, title=f"{setup.name}: where the heat goes")),
        ("flows", lambda ax: burnsim.plots.flows(burn, ax, at=at)),
    ):
        figure, ax = plt.subplots(figsize=(8.0, 5.4), layout="constrained")
        draw(ax)
        figure.savefig(folder / f"{name}.png", dpi=130)
        plt.close(figure)
    print(f"pictures: {folder}/section.png, burn.png, levels.png, ledger.png, flows.png")
    print(f"unaccounted in the ledger of heat: {abs(burn.energy.residual):.0e} of the charge")


if __name__ == "__main__":
    main(Path(sys.argv[1] if len(sys.argv) > 1 else "pictures"))
