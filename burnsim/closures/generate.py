"""Writes the combustion records of the ready fuels: `python -m burnsim.closures.generate`."""

from dataclasses import asdict

from burnsim.closures.combustion import CARRIED, computed_record, fingerprint
from burnsim.io.text_file import write_atomically
from burnsim.substances.blend import blend
from burnsim.substances.recipe import READY


def ready_text() -> str:
    """Text of the file of records."""
    lines = ["# Combustion of the ready fuels by Cantera; written by burnsim.closures.generate, do not edit."]
    for name in READY:
        fuel = blend(name)
        lines += ["", f'["{name}"]', f'of = "{fingerprint(fuel)}"']
        for key, value in asdict(computed_record(fuel)).items():
            lines.append(f"{key} = {list(value) if isinstance(value, tuple) else value!r}")
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    write_atomically(CARRIED, ready_text())
