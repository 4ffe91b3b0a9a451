"""Every page and picture to build from, of every example and of five odd designs, as images to look at.

python tests/pages/make_pages.py FOLDER [PART OF A DESIGN'S NAME ...]

Needs pdftoppm (poppler) for pages of PDF and Chromium for SVG and HTML; what is not installed is left out.
"""

import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import burnsim
from burnsim.model.description.setup import Setup

EXAMPLES = Path(__file__).parents[2] / "examples"
PDFTOPPM = shutil.which("pdftoppm")
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
PHONE, SCREEN = 390, 1280  # widths at which pages of HTML are shown [CSS pixels]
SMALL: dict[str, Any] = {
    "burner.outer_diameter": "35 mm", "burner.height": "30 mm", "burner.gallery_gap": "3 mm", "burner.jets.count": 12,
    "burner.jets.diameter": "0.6 mm", "burner.jets.height": "26 mm", "burner.wick.height": "6 mm",
    "burner.wick.thickness": "1 mm", "charge.volume": "9 ml", "charge.primer": "0.4 ml", "pot.diameter": "8 cm",
    "pot.height": "6 cm", "pot.water": "0.15 l",
}  # fmt: skip
ODD: dict[str, tuple[str, dict[str, Any]]] = {
    "hundred": (
        "weekend_double_wall",
        {"name": "a hundred jets in four rows", "burner.jets.count": 100, "burner.jets.rows": 4,
         "burner.jets.diameter": "0.75 mm", "burner.jets.height": "36 mm",
         "burner.relief": {"count": 3, "width": "3 mm", "depth": "1.5 mm"}},
    ),
    "small": ("weekend_double_wall", {"name": "a cup of 35 mm", **SMALL}),
    "long": (
        "workshop_sealed_chamber",
        {"name": "third try of the brass chamber with a lower lid, sixteen wider jets and the old felt wick, kept dry"},
    ),
    "inches": (
        "porch_open_well",
        {"name": "porch, in inches", "burner.jets": {"count": 24, "rows": 2, "diameter": "#65 drill",
         "direction": "top"}, "burner.relief": {"count": 4, "width": "1/8 in", "depth": "1/16 in"},
         "burner.gallery_gap": "1/4 in", "burner.wall_thickness": "0.012 in",
         "burner.wick": {"height": "1/2 in", "thickness": "1/16 in"}, "charge.primer": "0.1 fl oz",
         "pot.rest": "bumps", "pot.gap": "1/8 in"},
    ),
    "drop": (
        "garden_open_cup",
        {"name": "one millilitre", "burner.outer_diameter": "20 mm", "burner.height": "8 mm", "charge.volume": "1 ml",
         "pot.diameter": "5 cm", "pot.height": "3 cm", "pot.water": "20 ml", "pot.gap": "20 mm"},
    ),
}  # fmt: skip
"""Odd designs: the example that each starts from, and what is changed."""
US = ("inches", "porch_open_well")
"""Designs whose pages are made in US units, on US Letter."""


def designs() -> dict[str, Setup]:
    """Every example and the odd designs, by their names."""
    found = {
        path.stem: burnsim.load(path)
        for path in sorted(EXAMPLES.glob("*.toml"))
        if "[burner]" in path.read_text(encoding="utf-8")  # designs only
    }
    return found | {name: burnsim.vary(found[start], changes) for name, (start, changes) in ODD.items()}


def units_of(name: str) -> str:
    """The units in which a design's pages are made."""
    return "us" if name in US else "si"


def template(name: str, setup: Setup, folder: Path) -> Iterator[Path]:
    """The drilling template in its three formats."""
    for suffix in ("pdf", "svg", "dxf"):
        path = folder / f"{name}-template.{suffix}"
        paper = "letter" if units_of(name) == "us" else "a4"
        burnsim.papers.save_template(setup, path, paper=paper)
        yield path


def section(name: str, setup: Setup, folder: Path) -> Iterator[Path]:
    """The cross-section with its measures, and without."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    from burnsim.plots.style import in_style

    for kind, dimensions in (("measures", True), ("section", False)):
        for size in ((7.0, 5.0), (3.8, 3.7), (3.1, 3.3)) if dimensions else ((7.0, 5.0),):
            path = folder / f"{name}-{kind}-{size[0]:g}in.png"
            with in_style():
                figure = Figure(figsize=size, layout="constrained")
                FigureCanvasAgg(figure)
                burnsim.plots.section(setup, figure.subplots(), dimensions=dimensions, units=units_of(name))
                figure.savefig(path, dpi=130)
            yield path


def plan(name: str, setup: Setup, folder: Path) -> Iterator[Path]:
    """The page to build from, as PDF and as HTML."""
    for suffix in ("pdf", "html"):
        path = folder / f"{name}-plan.{suffix}"
        units = units_of(name)
        burnsim.papers.save_plan(setup, path, units=units, paper="letter" if units == "us" else "a4")
        yield path


def curves(name: str, setup: Setup, folder: Path) -> Iterator[Path]:
    """A burn, its levels, where its heat goes, and the flows at one instant."""
    burn = burnsim.burn(setup)
    for kind, draw in (
        ("burn", lambda: burnsim.plots.burn(burn, units=units_of(name))),
        ("levels", lambda: burnsim.plots.levels(burn, units=units_of(name))),
        ("ledger", lambda: burnsim.plots.ledger(burn)),
        ("flows", lambda: burnsim.plots.flows(burn, at=0.4 * burn.duration, units=units_of(name))),
    ):
        yield _saved(draw(), folder / f"{name}-{kind}.png")


def studies(name: str, setup: Setup, folder: Path) -> Iterator[Path]:
    """What many burns of a design tell, few enough to be quick: fill, spirits, start, bands, unknowns, a sweep."""
    units = units_of(name)
    limits = burnsim.find_fill_limit(setup, scan=5)
    for kind, result in (
        ("fill", limits),
        ("fuels", burnsim.compare_fuels(setup, ["methanol", "ethanol 95", "2-propanol 70"], find_least=False)),
        ("start", burnsim.map_starts(setup, [263.15, 283.15, 303.15], [0.0, 2000.0])),
        ("bands", burnsim.predict(setup, n=32, workers=1)),
        ("unknowns", burnsim.analyse_sensitivity(setup, n=4, workers=1)),
    ):
        yield _saved(result.plot(units=units), folder / f"{name}-{kind}.png")
    if setup.burner.has_inner_wall:
        yield _saved(burnsim.plots.head(limits, units=units), folder / f"{name}-head.png")
    loads = [share * setup.charge.volume for share in (0.6, 0.8, 1.0, 1.2, 3.0)]
    waters = [share * setup.pot.water for share in (0.5, 0.75, 1.0, 1.25)] if setup.pot is not None else []
    found = burnsim.sweep(setup, {"charge.volume": loads, "pot.water": waters}, workers=1)
    for variable in ("boil", "efficiency"):
        yield _saved(burnsim.plots.sweep(found, variable, units=units), folder / f"{name}-{variable}-map.png")


def _saved(drawn: Any, path: Path) -> Path:
    from matplotlib import pyplot

    burnsim.plots.save(drawn, path, dpi=110)
    pyplot.close("all")
    return path


def sheet(name: str, setup: Setup, folder: Path) -> Iterator[Path]:
    """The sheet with all that is found, as PDF and as HTML."""
    from burnsim.report.sheet import find

    units = units_of(name)
    findings = find(setup, burns=64)
    for suffix in ("pdf", "html"):
        path = folder / f"{name}-sheet.{suffix}"
        paper = "letter" if units == "us" else "a4"
        burnsim.papers.save_sheet(setup, path, units=units, paper=paper, findings=findings)
        yield path


def card(name: str, setup: Setup, folder: Path) -> Iterator[Path]:
    """The pour card of the design's place, as PDF and as HTML."""
    from burnsim.report.sheet.card import save_pour_card

    units = units_of(name)
    found = burnsim.fill.make_pour_card(setup, engine="compiled")
    for suffix in ("pdf", "html"):
        path = folder / f"{name}-card.{suffix}"
        save_pour_card(found, path, units=units, paper="letter" if units == "us" else "a4")
        yield path


PAGES: tuple[Callable[[str, Setup, Path], Iterator[Path]], ...] = (
    template,
    section,
    plan,
    sheet,
    card,
    curves,
    studies,
)
"""What makes files of a design; add more here."""


def images(path: Path, dots: int = 90) -> list[Path]:
    """A file as images beside it: pages of PDF, SVG as it is, HTML as a screen and as a phone show it.

    Parameters
    ----------
    path : a file that was made
    dots : per inch
    """
    if path.suffix == ".pdf" and PDFTOPPM:
        stem = path.with_name(f"{path.stem}-page")
        subprocess.run([PDFTOPPM, "-r", str(dots), "-png", str(path), str(stem)], check=True)
        return sorted(path.parent.glob(f"{stem.name}*.png"))
    if path.suffix == ".svg" and CHROMIUM:
        return [_shot(path, SCREEN, 900, path.with_suffix(".svg.png"))]
    if path.suffix == ".html" and CHROMIUM:
        return [_shot(path, wide, 4 * 900, path.with_suffix(f".{wide}.png")) for wide in (SCREEN, PHONE)]
    return [path] if path.suffix == ".png" else []


def _shot(page: Path, width: int, height: int, target: Path) -> Path:
    assert CHROMIUM is not None
    with tempfile.TemporaryDirectory() as profile:
        subprocess.run(
            [CHROMIUM, "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", f"--user-data-dir={profile}",
             f"--window-size={width},{height}", f"--screenshot={target}", page.as_uri()],
            check=True, capture_output=True, timeout=120,
        )  # fmt: skip
    return target


def main(folder: Path, parts: list[str]) -> None:
    """Make everything, and say where each image lies."""
    folder = folder.resolve()
    folder.mkdir(parents=True, exist_ok=True)
    for name, setup in designs().items():
        if parts and not any(part in name for part in parts):
            continue
        for make in PAGES:
            for path in make(name, setup, folder):
                print(*images(path) or [path], sep="\n")


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2:])
