"""Which spirit to buy? Four spirits in the same burner under the same pot, as a table and a picture.

python examples/compare_spirits.py [FOLDER FOR THE PICTURE]
"""

import sys
from pathlib import Path

import matplotlib.pyplot as plt

import burnsim

SPIRITS = ("methanol", "ethanol 95", "methylated spirit", "2-propanol 91")
STYLES = ("-", "--", "-.", ":")


@burnsim.plots.in_style()
def main(folder: Path) -> None:
    setup = burnsim.load(Path(__file__).with_name("weekend_double_wall.toml"))
    figure, ax = plt.subplots(figsize=(7.0, 4.0), layout="constrained")
    print(f"{'spirit':<18} {'bloom':>7} {'boil':>8} {'to boil':>8} {'burn-out':>9} {'power':>7} {'efficiency':>11}")
    for spirit, style in zip(SPIRITS, STYLES, strict=True):
        burn = burnsim.burn(burnsim.vary(setup, {"charge.fuel": spirit}))
        figures = burn.to_dict()
        minutes = burn.time / 60.0
        ax.plot(minutes, burn.series("water_temperature") - 273.15, color="black", linestyle=style, label=spirit)
        if burn.milestones.boil.time is None:
            print(f"{spirit:<18} no boil: {burn.milestones.boil.reason}; {'; '.join(v.code for v in burn.verdicts)}")
            continue
        print(
            f"{spirit:<18} {figures['bloom_s']:>5.0f} s {figures['boil_s'] / 60.0:>4.1f} min "
            f"{figures['fuel_to_boil_ml']:>5.1f} ml {figures['burnout_s'] / 60.0:>5.1f} min "
            f"{figures['power_median_W']:>5.0f} W {figures['efficiency_to_boil'] * 100.0:>9.1f} %"
        )
    ax.set(xlabel="time [min]", ylabel="water [°C]", title=f"{setup.name}: the same charge of four spirits")
    ax.set_xlim(left=0.0)
    ax.legend(loc="lower right")
    folder.mkdir(parents=True, exist_ok=True)
    figure.savefig(folder / "compare_spirits.png", dpi=150)
    print(f"picture: {folder / 'compare_spirits.png'}")


if __name__ == "__main__":
    main(Path(sys.argv[1] if len(sys.argv) > 1 else "pictures"))
