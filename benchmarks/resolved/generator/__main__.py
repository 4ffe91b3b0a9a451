"""Command line of the generator of resolved cases."""

import argparse
import os
import subprocess
import sys
from dataclasses import MISSING, fields
from pathlib import Path

from resolved.generator.layout import Question
from resolved.generator.measure import measure, newest, question_of, row
from resolved.generator.write import write

INVERSE = Path(__file__).with_name("inverse.cpp")


def asked(options: argparse.Namespace) -> Question:
    """The question of the command line; lengths in millimetres there, metres here."""
    gap = None if options.gap == "none" else 1e-3 * float(options.gap)
    given = {
        field.name: getattr(options, field.name)
        for field in fields(Question)
        if field.name not in ("gap", "pot_radius") and getattr(options, field.name) is not None
    }
    return Question(gap=gap, pot_radius=0.5e-3 * options.pot_diameter, **given)


def clean(folder: Path) -> None:
    """Remove instants that hold readings alone and lie after the last whole one: no run can go on from them."""
    instants = {float(path.name): path for path in folder.iterdir() if path.name.replace(".", "", 1).isdigit()}
    whole = [time for time, path in instants.items() if (path / "U").exists()]
    for time, path in instants.items():
        if time > max(whole):
            for file in path.iterdir():
                file.unlink()
            path.rmdir()


def run(folder: Path, start: Path | None) -> int:
    """Mesh if need be, and run the solver in a folder to its end; from the last instant of another run if given."""
    if not (folder / "constant/polyMesh").exists():
        with (folder / "log.mesh").open("w") as log:
            subprocess.run(["blockMesh"], cwd=folder, stdout=log, check=True)
            if start is not None:
                begin = ["mapFields", start.resolve(), "-consistent", "-sourceTime", newest(start)]
                subprocess.run(begin, cwd=folder, stdout=log, check=True)
    clean(folder)
    environment = dict(os.environ)
    if question_of(folder).top_jets > 1:
        mended = folder / "inverse.so"
        subprocess.run(["g++", "-O1", "-shared", "-fPIC", "-o", mended, INVERSE], check=True)
        environment["LD_PRELOAD"] = str(mended.resolve())
    with (folder / "log").open("a") as log:
        done = subprocess.run(
            ["fireFoam"], cwd=folder, stdout=log, stderr=subprocess.STDOUT, env=environment, check=False
        )
    return done.returncode


def main() -> int:
    parser = argparse.ArgumentParser(prog="resolved.generator", description=__doc__)
    parser.add_argument("task", choices=("write", "run", "measure"))
    parser.add_argument("folder", type=Path)
    parser.add_argument("--gap", default="1.5", help="rim to pot [mm], or none for no pot")
    parser.add_argument("--pot-diameter", type=float, default=140.0, help="[mm]")
    parser.add_argument("--average", type=float, default=0.2, help="measure over the last so many seconds")
    parser.add_argument("--start", type=Path, help="run from the last instant of this folder, on another mesh")
    for field in fields(Question):
        if field.name in ("gap", "pot_radius"):
            continue
        read = field.type if field.type in (str, int) else float
        default = None if field.default is MISSING else field.default
        parser.add_argument(f"--{field.name.replace('_', '-')}", type=read, default=default)
    options = parser.parse_args()
    if options.task == "write":
        mesh = write(asked(options), options.folder)
        print(f"{options.folder}: {mesh.cells} cells")
        return 0
    if options.task == "run":
        return run(options.folder, options.start)
    print(row(measure(options.folder, options.average)))
    return 0


if __name__ == "__main__":
    sys.exit(main())
