"""Reads what the solver noted: heat to pot and walls, air at the pot's edge, how settled it all is."""

import json
import re
import subprocess
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from resolved.generator.chemistry import reaction
from resolved.generator.layout import BURNER_HEIGHT, Question, around, edges
from resolved.generator.write import GAS_CONSTANT, PRESSURE, WALLS

Array = NDArray[np.float64]
WARM = 330.0  # gas that counts as the flame's at the pot's edge [K]
MEAN_MASS = 0.0283  # of its gas [kg/mol]
CARBON_DIOXIDE = 0.04401  # [kg/mol]


@dataclass(frozen=True)
class Measured:
    """Watts of the whole ring, averaged, and by how much the second half of the time differs from the first."""

    cells: int
    time: float  # [s]
    released: float
    spread: float  # standard deviation of the heat released
    walls: dict[str, tuple[float, float]]
    flue: float
    unburnt: float
    balance: float  # error [% of the heat released]
    excess: tuple[float, float] | None
    gas_temperature: float | None
    sheet: float | None  # radius of the hottest gas half-way from a burning surface's rim to the pot [m]
    hottest: float  # [K]


def question_of(folder: Path) -> Question:
    """What was asked in a folder."""
    return Question(**json.loads((folder / "question.json").read_text())["question"])


def series(folder: Path, name: str) -> Array:
    """Readings of one kind by time; of a run that went on, the later ones count."""
    rows: dict[float, list[float]] = {}
    for path in sorted((folder / "postProcessing" / name).glob("*/*.dat"), key=lambda path: float(path.parent.name)):
        for line in path.read_text().splitlines():
            if line and not line.startswith("#"):
                time, *values = map(float, line.split())
                rows[time] = values
    return np.array([[time, *rows[time]] for time in sorted(rows)])


def wall_series(folder: Path) -> dict[str, Array]:
    """Heat to each wall of what is solved, by time [s, W]."""
    rows: dict[str, dict[float, float]] = {}
    paths = sorted((folder / "postProcessing/walls").glob("*/*.dat"), key=lambda path: float(path.parent.name))
    for path in paths:
        for line in path.read_text().splitlines():
            if line and not line.startswith("#"):
                time, patch, _, _, total = line.split()[:5]
                rows.setdefault(patch, {})[float(time)] = -float(total)
    return {patch: np.array(sorted(found.items())) for patch, found in rows.items()}


def last(table: Array, average: float, column: int = 1) -> tuple[float, float]:
    """Mean over the last seconds, and by how much their second half is above the first."""
    values = table[table[:, 0] > table[-1, 0] - average + 1e-9, column]
    half = len(values) // 2
    return float(values.mean()), float(values[half:].mean() - values[:half].mean())


def field(folder: Path, time: str, name: str) -> Array:
    """Values of a field in every cell."""
    text = (folder / time / name).read_text()
    found = re.search(r"internalField\s+nonuniform List<(\w+)>\s*\n(\d+)\n\(\n(.*?)\n\)\n;", text, re.DOTALL)
    if found is None:
        even = re.search(r"internalField\s+uniform\s+([-\d.e+]+)", text)
        assert even is not None, f"{name} at {time} cannot be read"
        return np.array(float(even.group(1)))
    values = np.array(found.group(3).replace("(", "").replace(")", "").split(), float)
    return values.reshape(-1, 3) if found.group(1) == "vector" else values


def newest(folder: Path) -> str:
    """Name of the last whole instant."""
    instants = [path.name for path in folder.iterdir() if re.fullmatch(r"[\d.]+", path.name) and (path / "U").exists()]
    return max(instants, key=float)


def centres(folder: Path, time: str) -> Array:
    """Places of the cells [m]."""
    if not (folder / time / "C").exists():
        command = ["postProcess", "-func", "writeCellCentres", "-time", time]
        subprocess.run(command, cwd=folder, stdout=subprocess.DEVNULL, check=True)
    return field(folder, time, "C")


def sheet(folder: Path, gap: float) -> float:
    """Radius of the hottest gas half-way from the rim to a pot [m]."""
    time = newest(folder)
    places = centres(folder, time)
    away = np.abs(places[:, 2] - (BURNER_HEIGHT + 0.5 * gap))
    level = np.flatnonzero(away < away.min() + 1e-9)
    hottest = level[np.argmax(field(folder, time, "T")[level])]
    return float(np.hypot(*places[hottest, :2]))


def edge(folder: Path, question: Question, released: float) -> tuple[tuple[float, float], float]:
    """Least and most excess air and the mean temperature of the gas that passes the pot's edge.

    Three measures of the air: all gas that leaves, the warm gas alone, and the air that goes with the fuel's carbon.
    """
    record = json.loads((folder / "question.json").read_text())
    assert question.gap is not None
    bottom = BURNER_HEIGHT + question.gap
    radius = question.pot_radius
    time = newest(folder)
    made = reaction(question.fuel)
    places = centres(folder, time)
    carbon = made.molar_mass / (made.carbon_dioxide * CARBON_DIOXIDE)
    share = field(folder, time, made.species) + field(folder, time, "CO2") * carbon
    distance = np.hypot(places[:, 0], places[:, 1])
    temperature = field(folder, time, "T")
    speed = (field(folder, time, "U")[:, :2] * places[:, :2]).sum(axis=1) / distance
    flux = PRESSURE * MEAN_MASS / (GAS_CONSTANT * temperature) * speed
    radii = np.array(record["radii"])
    heights = np.array(record["heights"])
    edge_place = int(np.argmin(abs(radii - radius)))
    angles = np.radians(edges(around(question)))
    column = np.searchsorted(radii, distance) - 1
    layer = np.searchsorted(angles, np.arctan2(places[:, 1], places[:, 0])) - 1
    level = np.searchsorted(heights, places[:, 2]) - 1
    tops = heights[1:][level] < bottom + 1e-9

    def beside(values: Array) -> Array:
        found = []
        for side in (edge_place - 1, edge_place):
            here = tops & (column == side)
            found.append(values[here][np.lexsort((layer[here], level[here]))])
        return 0.5 * (found[0] + found[1])

    rows = np.diff(heights)[heights[1:] < bottom + 1e-9]
    mass = beside(flux) * np.outer(rows, np.diff(angles)).ravel() * radius * question.sectors
    gas, hot = beside(share), beside(temperature)
    out, warm = mass > 0.0, (mass > 0.0) & (hot > WARM)
    burnt = released / made.heating_value
    carried = (mass * gas)[out].sum()
    measures = [
        (mass[out].sum() / burnt - 1.0) / made.air_mass - 1.0,
        (mass[warm].sum() / burnt - 1.0) / made.air_mass - 1.0,
        (mass[out].sum() / carried - 1.0) / made.air_mass - 1.0,
    ]
    return (min(measures), max(measures)), float((mass * hot)[warm].sum() / max(mass[warm].sum(), 1e-12))


def measure(folder: Path, average: float) -> Measured:
    """Everything that a run tells, averaged over its last seconds."""
    record = json.loads((folder / "question.json").read_text())
    question = question_of(folder)
    made = reaction(question.fuel)
    ring = question.sectors
    heat = series(folder, "released")
    late = heat[heat[:, 0] > heat[-1, 0] - average + 1e-9, 1] * ring
    released = float(late.mean())
    walls = {
        patch: last(table * (1.0, ring), average) for patch, table in wall_series(folder).items() if patch in WALLS
    }
    carried, unburnt = 0.0, 0.0
    flue = 0.0
    for path in (folder / "postProcessing").glob("*Heat"):
        table = series(folder, path.name)
        own = last(table, average, 1)[0] * ring
        carried += own
        if path.name in ("topHeat", "outerHeat"):
            flue += own
            unburnt += last(table, average, 2)[0] * ring * made.heating_value
    total = sum(value for value, _ in walls.values()) + carried
    excess, temperature = edge(folder, question, released) if question.gap is not None else (None, None)
    hottest = float(field(folder, newest(folder), "T").max())
    return Measured(
        record["cells"],
        float(heat[-1, 0]),
        released,
        float(late.std()),
        walls,
        flue,
        unburnt,
        100.0 * (total - released) / released,
        excess,
        temperature,
        sheet(folder, question.gap) if question.pool > 0.0 and question.gap is not None else None,
        hottest,
    )


def row(found: Measured) -> str:
    """What was measured, as fields of cases.toml, with a comment on how settled it is."""
    names = {
        "bottom": "potBottom",
        "side": "potSide",
        "rim_top": "rimTop",
        "rim_side": "rimSide",
        "below": "below",
        "low_wall": "lowWall",
        "high_wall": "highWall",
        "surface": "surface",
        "wick_surface": "wick",
        "inner_wall": "innerWall",
    }
    lines = [
        f"# {found.time:.2f} s, heat released spreads by {found.spread:.0f} W, unburnt {found.unburnt:.0f} W, "
        f"hottest {found.hottest:.0f} K; drift "
        + ", ".join(f"{patch} {drift:+.1f}" for patch, (_, drift) in found.walls.items()),
        f"released = {found.released:.0f}",
    ]
    lines += [f"{name} = {found.walls[patch][0]:.0f}" for name, patch in names.items() if patch in found.walls]
    if "potBottom" in found.walls:
        pot = found.walls["potBottom"][0] + found.walls["potSide"][0]
        lines.append(f"share = {100.0 * pot / found.released:.1f}")
    if found.excess is not None:
        lines.append(f"excess = [{found.excess[0]:.1f}, {found.excess[1]:.1f}]")
        lines.append(f"gas_temperature = {found.gas_temperature:.0f}")
    if found.sheet is not None:
        lines.append(f"sheet = {1e3 * found.sheet:.0f}")
    lines += [
        f"flue = {found.flue:.0f}",
        f"cells = {found.cells}",
        f"seconds = {found.time:.2f}",
        f"balance = {found.balance:.1f}",
    ]
    return "\n".join(lines)
