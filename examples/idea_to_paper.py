"""From an idea to paper: sweep, pick, compare, change what matters, save, sheet and template; no file edited by hand.

python examples/idea_to_paper.py [FOLDER FOR THE FILES]

The parts marked `# %%` are cells for an editor that runs them one by one. `from_idea_to_second_build.py` goes on from
here to the bench, and to what its logs teach.
"""

# %% The idea, as one would say it.
import sys
from pathlib import Path

import matplotlib.pyplot as plt

import burnsim
from burnsim import Burner, Charge, FeedSlots, Jets, Pot, Setup, Wick

folder = Path(sys.argv[1] if len(sys.argv) > 1 else "pictures")
folder.mkdir(parents=True, exist_ok=True)

idea = Setup(
    Burner(
        "double wall", "60 mm", "42 mm", gallery_gap="5 mm",
        jets=Jets(count=24, diameter="0.9 mm", height="36 mm"), feed_slots=FeedSlots(), wick=Wick(thickness="2 mm"),
    ),
    Charge("methanol", volume="24 g", primer="2 g"),
    Pot("14 cm", "9 cm", water="0.4 l", water_temperature="15 degC", rest="bumps", gap="1.5 mm"),
    name="idea",
)  # fmt: skip
first = burnsim.burn(idea)
print(first.summary())
burnsim.burn_many([idea], engine="compiled")  # many burns come now: machine code, compiled once, then kept

# %% Which jets? Pick what boils soonest, of the designs that are fit.
found = burnsim.sweep(
    idea, {"burner.jets.count": [20, 24, 28], "burner.jets.diameter": ["0.9 mm", "1 mm", "1.1 mm"]}, workers=1
)
print((found.boil / 60.0).round(1).to_pandas())
pick = burnsim.vary(burnsim.sweeps.rank(found, "boil")[0].setup, {"name": "pick"})

# %% Which of the two, why, and is it sure?
side_by_side = burnsim.compare([first, pick], n=32, workers=1)
print(side_by_side.summary())
burnsim.plots.compare(side_by_side).figure.savefig(folder / "compare.png", dpi=120)
plt.close("all")

# %% What to change next, with the drills and the sheet in the box?
changes = burnsim.find_levers(
    pick, "boil", drills=["0.9 mm", "1 mm", "1.1 mm", "#55 drill"], sheets=["0.1 mm"], n=16, workers=1
)
print(changes.summary())
burnsim.plots.levers(changes).figure.savefig(folder / "levers.png", dpi=120)
plt.close("all")
step = next(one for one in changes.advice if one.path.startswith("burner."))
design = burnsim.vary(pick, {step.path: step.value, "name": "to build"})

# %% At even instants, as a table.
burn = burnsim.burn(design)
print(burn.to_dataframe(every="2 min", units="si")[["water_temperature", "power", "fuel_left"]].round(1).to_string())

# %% Save it, read it back, and put it on paper.
design.save(folder / "to_build.toml")
assert burnsim.load(folder / "to_build.toml") == design
burn.save(folder / "to_build.npz")
burnsim.papers.save_sheet(design, folder / "to_build_sheet.html", short=True)
burnsim.papers.save_template(folder / "to_build.toml", folder / "to_build_template.pdf")
print(f"pictures, design, burn, sheet and template are in {folder}")
