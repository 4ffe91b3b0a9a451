"""A design goes round: idea, sweep, pick, save, sheet and template, and no file is edited by hand.

python examples/design_goes_round.py [FOLDER FOR THE FILES]
"""

import sys
from pathlib import Path

import burnsim
from burnsim import Burner, Charge, FeedSlots, Jets, Pot, Setup, Wick


def main(folder: Path) -> None:
    folder.mkdir(parents=True, exist_ok=True)

    # the idea, as one would say it
    idea = Setup(
        Burner(
            "double wall", "60 mm", "42 mm", gallery_gap="5 mm",
            jets=Jets(count=24, diameter="1 mm", height="36 mm"), feed_slots=FeedSlots(), wick=Wick(thickness="2 mm"),
        ),
        Charge("methanol", volume="24 g", primer="2 g"),
        Pot("14 cm", "9 cm", water="0.4 l", water_temperature="15 degC", rest="bumps", gap="1.5 mm"),
        name="round idea",
    )  # fmt: skip
    first = burnsim.burn(idea)
    print(first.summary())

    # which jets? Pick what boils soonest, of the designs that are fit
    found = burnsim.sweep(
        idea, {"burner.jets.count": [20, 24, 28], "burner.jets.diameter": ["0.9 mm", "1.1 mm"]}, workers=1
    )
    best = burnsim.sweeps.best(found, "boil")[0]
    design = burnsim.vary(best.setup, {"name": "round pick"})

    # beside the first, at the same instants
    second = burnsim.burn(design)
    for burn in (first, second):
        table = burn.to_dataframe(every="2 min", units="si")
        print(repr(burn), table[["water_temperature", "power", "fuel_left"]].round(1).to_string(), sep="\n")

    # save it, read it back, and put it on paper
    design.save(folder / "round_pick.toml")
    again = burnsim.load(folder / "round_pick.toml")
    assert again == design
    second.save(folder / "round_pick.npz")
    burnsim.save_sheet(again, folder / "round_pick_sheet.html", short=True)
    burnsim.save_template(folder / "round_pick.toml", folder / "round_pick_template.pdf")
    print(f"design, burn, sheet and template in {folder}")


if __name__ == "__main__":
    main(Path(sys.argv[1] if len(sys.argv) > 1 else "pictures"))
