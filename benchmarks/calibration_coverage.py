"""Do calibrated bands cover as often as they claim? Known factors, synthetic logs, and the model fitted to them.

python benchmarks/calibration_coverage.py [--quick] [--benches N]

For each bench the factors are drawn from their bands, two burns of the model get the errors of a bench, and all factors
are learnt from the two logs. Counted are the 90 % intervals that hold the true factor, and the 90 % bands of the next
prediction (half the water, the same burner) that hold the true boil. A burner that does not boil is drawn again.
"""

import argparse
import time

import numpy as np

import burnsim
from burnsim.studies.burn_many import burner_pool
from burnsim.studies.calibrate.posterior import prior, with_factors

QUICK, FULL = 1, 200
DRAWS = 64


def main(benches: int, seed: int = 0) -> None:
    setup = burnsim.Setup.from_dict(
        {
            "burner": {
                "kind": "double wall",
                "outer_diameter": "62 mm",
                "height": "45 mm",
                "gallery_gap": "4.5 mm",
                "jets": {"count": 26, "diameter": "1 mm", "height": "39 mm"},
                "feed_slots": {},
                "wick": {"thickness": "2 mm"},
            },
            "charge": {"fuel": "methanol", "volume": "37 ml", "primer": "3 ml"},
            "pot": {"diameter": "14 cm", "height": "8 cm", "water": "0.6 l", "rest": "bumps", "gap": "1.5 mm"},
        }
    )
    quick = benches <= QUICK
    random, before = np.random.default_rng(seed), prior(names=("flame_to_pot", "flame_to_rim") if quick else None)
    hits: list[list[bool]] = []
    boils: list[bool] = []
    chances: list[float] = []
    fit_time, burns, drawn_again = 0.0, 0, 0
    with burner_pool(0 if quick else 700 * benches, 1) as engine:
        while len(hits) < benches:
            values = before.draw(random.random((1, len(before.names))))[0]
            true = with_factors(setup, dict(zip(before.names, values.tolist(), strict=True)))
            less = burnsim.vary(true, {"pot.water": 0.3e-3})
            real = engine([true, less], ())
            if any(isinstance(one, burnsim.Failure) or one.milestones.boil.time is None for one in real):
                drawn_again += 1
                continue
            logs = [
                burnsim.bench.parse(burnsim.bench.synthetic_log(true, seed=int(random.integers(2**31)), engine=engine))
                for _ in range(1 if quick else 2)
            ]
            start = time.perf_counter()
            found = burnsim.calibrate(setup, logs, factors=before.names, starts=1, engine=engine)
            fit_time += time.perf_counter() - start
            burns += found.burns
            band = found.posterior.band()
            hits.append([band[n][0] <= v <= band[n][1] for n, v in zip(before.names, values.tolist(), strict=True)])
            chances.append(found.chance)
            if not quick:
                what = burnsim.predict(
                    burnsim.vary(setup, {"pot.water": 0.3e-3}), n=DRAWS, posterior=found.posterior, engine=engine
                ).figures["boil"]
                low, high = np.nanquantile(what, [0.05, 0.95])
                boil = real[1].milestones.boil.time  # type: ignore[union-attr]
                boils.append(bool(boil is not None and low <= boil <= high))
    share = float(np.mean(hits))
    print(
        f"{benches} benches of {1 if quick else 2} logs, {drawn_again} drawn again, {burns} burns, "
        f"{fit_time:.1f} s of fitting"
    )
    print(f"90 % intervals that hold the true factor: {100 * share:.1f} %")
    if boils:
        print(f"90 % bands of the next boil that hold it: {100 * np.mean(boils):.1f} %")
        print(f"fits called bad: {100 * np.mean(np.array(chances) < 0.01):.1f} % (1 % expected)")


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true")
    parser.add_argument("--benches", type=int)
    options = parser.parse_args()
    main(options.benches or (QUICK if options.quick else FULL))
