"""Paper to take to the bench: for each design here its drilling template, the plan to build from, and its sheet.

python examples/paper_for_the_bench.py [FOLDER FOR THE FILES]
"""

import sys
import tomllib
from pathlib import Path

import burnsim
from burnsim.report.sheet import find, save_sheet


def main(folder: Path) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    for path in sorted(Path(__file__).parent.glob("*.toml")):
        if "burner" not in tomllib.loads(path.read_text(encoding="utf-8")):
            continue  # no design
        setup = burnsim.load(path)
        for ending in ("pdf", "svg", "dxf"):
            burnsim.papers.save_template(setup, folder / f"{path.stem}_template.{ending}", paper="letter")
        for ending in ("pdf", "html"):
            burnsim.papers.save_plan(setup, folder / f"{path.stem}_plan.{ending}", units="us", paper="letter")
        findings = find(setup, short=True)  # leave short=True out for bands, fill limits and other fuels
        save_sheet(setup, folder / f"{path.stem}_sheet.html", findings=findings, units="us")
        save_sheet(setup, folder / f"{path.stem}_sheet.pdf", findings=findings)
        print(f"{setup.name}: template, plan and sheet in {folder}")


if __name__ == "__main__":
    main(Path(sys.argv[1] if len(sys.argv) > 1 else "pictures"))
