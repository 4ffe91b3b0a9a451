"""The ledger of reference burns: figures of fixed designs, with how far each may move before it must be declared.

    python tests/reference/ledger.py            compare with the ledger; exit 1 if a figure has moved
    python tests/reference/ledger.py --write    write the figures of now into the ledger

These are our own figures, kept so that none moves unseen; they prove nothing of the world. A figure that moves
further than its tolerance, or a milestone that comes or goes, must be declared in EDITIONS.md beside this file
with the reason, in the same change that writes the new ledger. `tests/reference/test_ledger.py` holds both: the
figures, and that the ledger's edition is the newest one declared there.
"""

import argparse
import json
import re
import sys
from pathlib import Path
from typing import Any

import burnsim
from burnsim.model.description.setup import Setup
from burnsim.solve.results.result import Burn

ROOT = Path(__file__).parents[2]
LEDGER = Path(__file__).with_name("ledger.json")
CHANGELOG = Path(__file__).with_name("EDITIONS.md")

RELATIVE = 0.01
"""What a figure may move, as a share of itself; the numerical error of a burn is a hundredth of it."""

LEAST = {
    "bloom_s": 0.3,
    "primer_out_s": 0.3,
    "boil_s": 1.0,
    "burnout_s": 1.0,
    "gallery_pressure_Pa": 0.2,
    "well_pressure_Pa": 0.2,
}
"""What a figure may move whatever its size, in its own unit."""

CHANGES: dict[str, tuple[str, dict[str, object]]] = {
    "double wall, methanol": ("weekend_double_wall", {}),
    "double wall, ethanol": ("weekend_double_wall", {"charge.fuel": "ethanol"}),
    "double wall, methylated spirit": ("weekend_double_wall", {"charge.fuel": "methylated spirit"}),
    "double wall, cold": (
        "weekend_double_wall",
        {"site.air_temperature": "-5 degC", "pot.water_temperature": "1 degC"},
    ),
    "double wall, on a mountain": ("weekend_double_wall", {"site.altitude": "3000 m"}),
    "double wall, in wind": ("weekend_double_wall", {"site.wind": "1 m/s"}),
    "double wall, pot flat on the rim": ("weekend_double_wall", {"pot.rest": "full ring"}),
    "double wall, no pot": ("weekend_double_wall", {"pot": None}),
    "double wall, ten small jets": ("weekend_double_wall", {"burner.jets.count": 10, "burner.jets.diameter": "0.8 mm"}),
    "open well": ("porch_open_well", {}),
    "open well, 2-propanol 70": ("porch_open_well", {"charge.fuel": "2-propanol 70"}),
    "sealed chamber": ("workshop_sealed_chamber", {"charge.volume": "45 ml"}),
    "sealed chamber, methanol": ("workshop_sealed_chamber", {"charge.volume": "45 ml", "charge.fuel": "methanol"}),
    "open cup": ("garden_open_cup", {}),
    "open cup, ethanol": ("garden_open_cup", {"charge.fuel": "ethanol"}),
}


def setups() -> dict[str, Setup]:
    """The reference designs by name."""
    return {
        name: burnsim.vary(burnsim.load(ROOT / "examples" / f"{file}.toml"), changes)
        for name, (file, changes) in CHANGES.items()
    }


def figures(burn: Burn) -> dict[str, float | None]:
    """What of a burn is kept."""
    marks = burn.milestones
    found: dict[str, float | None] = {f"{name}_s": mark.time for name, mark in marks._asdict().items()}
    boil = marks.boil.fuel
    found |= {
        "fuel_to_boil_g": None if boil is None else 1e3 * boil,
        "efficiency_to_boil": burn.efficiency_to_boil,
        "efficiency": burn.efficiency,
        "power_W": burn.power_median,
        "water_max_K": burn.water_max,
        "gallery_pressure_Pa": burn.gallery_pressure_max,
        "well_pressure_Pa": burn.well_pressure_max,
        "froth_mm": 1e3 * burn.froth_max,
        "fed_back": burn.heat_fed_back,
    }
    return found


def read() -> dict[str, Any]:
    """The ledger: its edition, and the figures of each design."""
    return json.loads(LEDGER.read_text(encoding="utf-8"))  # type: ignore[no-any-return]


def moved(name: str, kept: dict[str, float | None], now: dict[str, float | None]) -> list[str]:
    """Figures of a design that moved by more than they may."""
    found = []
    for key, old in kept.items():
        new = now[key]
        if old is None or new is None:
            if old is not new:
                found.append(f"{name}: {key} was {old}, is {new}")
        elif abs(new - old) > max(RELATIVE * abs(old), LEAST.get(key, 0.0)):
            found.append(f"{name}: {key} was {old:.5g}, is {new:.5g}")
    return found


def declared() -> tuple[int, ...]:
    """Editions declared, newest first: their lines begin with "- Edition N"."""
    text = CHANGELOG.read_text(encoding="utf-8")
    return tuple(int(number) for number in re.findall(r"^- Edition (\d+)", text, flags=re.MULTILINE))


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--write", action="store_true", help="write the figures of now as the next edition")
    options = parser.parse_args()
    now = {name: figures(burnsim.burn(setup)) for name, setup in setups().items()}
    if options.write:
        edition = read()["edition"] + 1 if LEDGER.exists() else 1
        rounded = {
            name: {key: None if value is None else float(f"{value:.6g}") for key, value in row.items()}
            for name, row in now.items()
        }
        LEDGER.write_text(json.dumps({"edition": edition, "burns": rounded}, indent=1) + "\n", encoding="utf-8")
        print(f"edition {edition} written; declare it in tests/reference/EDITIONS.md")
        return 0
    kept = read()["burns"]
    found = [line for name, row in kept.items() for line in moved(name, row, now[name])]
    print("\n".join(found) or "no figure has moved")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
