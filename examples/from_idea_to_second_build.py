"""The whole job in one script to read and change: idea, first build, bench, learning, second build.

python examples/from_idea_to_second_build.py [FOLDER FOR PICTURES]

The parts marked `# %%` are cells for an editor that runs them one by one. The bench logs here are synthetic: the model
with other factors, plus noise. With a burner of your own, read yours with `burnsim.bench.read(path)` instead.
"""

# %% An idea: half a litre of cool water, a cup of 66 mm, ethanol from the hardware shop.
import math
import sys
from pathlib import Path

import matplotlib.pyplot as plt

import burnsim

folder = Path(sys.argv[1] if len(sys.argv) > 1 else "pictures")
folder.mkdir(parents=True, exist_ok=True)

idea = burnsim.Setup(
    name="balcony burner",
    burner=burnsim.Burner(
        kind="double wall",
        outer_diameter=66e-3,
        height=42e-3,
        gallery_gap=5e-3,
        jets=burnsim.Jets(count=24, diameter=0.9e-3, height=36e-3),
        feed_slots=burnsim.FeedSlots(),
        relief=burnsim.Notches(count=4, width=3e-3, depth=1.5e-3),
        wick=burnsim.Wick(),
    ),
    charge=burnsim.Charge(fuel=burnsim.blend("ethanol 95"), volume=35e-6, primer=3e-6),
    pot=burnsim.Pot(diameter=0.15, height=0.09, water=0.5e-3, water_temperature=283.15, rest="bumps", gap=1.5e-3),
    site=burnsim.Site(air_temperature=288.15),
)
print(burnsim.burn(idea).summary())

# %% From here on there are many burns: run them as machine code. It is compiled once, then kept.
burnsim.burn_many([idea], engine="compiled")

# %% Which jets? The boil in minutes over count and diameter; NaN stands where the water does not boil, and why follows.
jets = burnsim.sweep(
    idea,
    {"burner.jets.count": [18, 22, 26, 30], "burner.jets.diameter": ["0.8 mm", "0.9 mm", "1 mm"]},
    workers=1,
)
print((jets.boil / 60.0).round(1).to_pandas())
for count in jets["burner.jets.count"].values:
    for diameter in jets["burner.jets.diameter"].values:
        one = jets.sel({"burner.jets.count": count, "burner.jets.diameter": diameter})
        if one.boil.isnull():
            size = f"{count} jets of {1e3 * diameter:.1f} mm"
            print(f"{size} do not boil the water ({one.verdicts.item()}): they go out at {one.quench.item():.0f} s,")
            print(
                f"  soon after the primer has at {one.primer_out.item():.0f} s; a little more of it may carry them over"
            )
for row in burnsim.sweeps.rank(jets, "boil", count=2):
    print(row)
design = burnsim.vary(idea, {"burner.jets.count": 26})

# %% How much may go in before it spits? Cold, tilted, and over the whole burn.
limits = burnsim.find_fill_limit(design, tilt=0.05, scan=9)
print(limits.summary())
figure, ax = plt.subplots(figsize=(8.0, 4.8), layout="constrained")
burnsim.plots.fill_levels(limits, ax)
figure.savefig(folder / "first_build_levels.png", dpi=120)

# %% The idea's 35 ml are more than is known to be safe: load less. How sure is the boil, before anything was built?
assert limits.safe is not None
design = burnsim.vary(design, {"charge.volume": f"{math.floor(1e6 * limits.safe)} ml"})
before = burnsim.predict(design, n=64, seed=1, workers=1)
print(before.summary())

# %% The first build on the bench, twice: here the model with factors that we pretend not to know.
unknown = burnsim.calibration.set_factors(design, {"flame_to_pot": 0.88, "wick_heat": 1.2})
logs = []
for seed in (1, 2):
    path = folder / f"synthetic_bench_{seed}.csv"
    path.write_text(burnsim.bench.synthesise_log(unknown, seed=seed, every=60.0, name=path.stem), encoding="utf-8")
    logs.append(burnsim.bench.read(path))
print(burnsim.bench.analyse(logs[0], design).summary())

# %% What the logs teach, and what they cannot tell apart.
learnt = burnsim.calibrate(design, logs, factors=("flame_to_pot", "wick_heat"), starts=1, workers=1)
print(learnt.summary())
figure, axes = plt.subplots(2, 1, figsize=(8.0, 6.0), layout="constrained")
burnsim.plots.calibration(learnt, axes)
figure.savefig(folder / "learnt.png", dpi=120)

# %% The second build, with wider jets that go out less often, predicted with what was learnt: the band has shrunk.
second = burnsim.vary(design, {"charge.volume": "25 ml", "burner.jets.diameter": "1 mm"})
after = burnsim.predict(second, n=64, seed=1, posterior=learnt.posterior, workers=1)
print(after.summary())

# %% Look at it, then take paper to the bench.
figure, (left, right) = plt.subplots(1, 2, figsize=(11.0, 5.0), layout="constrained")
burnsim.plots.section(second, ax=left, dimensions=True)
burnsim.plots.burn(burnsim.burn(second), ax=right)
figure.savefig(folder / "second_build.png", dpi=120)
burnsim.papers.save_template(second, folder / "second_build_template.pdf")
print(f"pictures and template are in {folder}")
