"""Reader of the resolved cases in cases.toml."""

import tomllib
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any

TABLE = Path(__file__).with_name("cases.toml")
SCALES = {"mm": 1e-3, "K": 1.0, "W": 1.0, "s": 1.0, "%": 1.0}
FLAMES = ("slot", "jets", "top jets", "wick", "wick and slot", "pool", "well", "well and slot")
STATUSES = ("settled", "puffs", "coarse", "not settled")


@dataclass(frozen=True, kw_only=True)
class Case:
    """One resolved case, in SI units; None where nothing was recorded. cases.toml says what each field means."""

    name: str
    set: str
    note: str
    flame: str
    status: str
    fuel: str = "methanol"
    of: str  # what the pot's share is a share of: "released" or "fuel"
    gap: float | None = None  # rim to pot; None: no pot
    pot_diameter: float
    pot_temperature: float
    rim_temperature: float
    high_wall_temperature: float
    low_wall_temperature: float | None = None
    jets: float = 0.0
    top_jets: int = 0  # how many
    jet_diameter: float | None = None  # of a top jet
    jet_ring: float | None = None  # diameter of the circle on which top jets lie
    wick: float = 0.0
    pool: float = 0.0
    released: float | None = None
    bottom: float | None = None
    side: float | None = None
    share: float | None = None  # [%]
    rim_top: float | None = None
    rim_side: float | None = None
    below: float | None = None
    low_wall: float | None = None
    high_wall: float | None = None
    burner: float | None = None
    surface: float | None = None
    sheet: float | None = None  # radius of a pool's flame half-way from the rim to the pot
    inner_wall: float | None = None
    well_diameter: float | None = None
    ullage: float = 0.0
    pedestal: float = 0.0  # height of a foot that keeps a burner off the table
    flue: float | None = None
    unburnt: float | None = None  # at the pot's edge [% of the fuel]
    excess: tuple[float, float] | None = None
    gas_temperature: float | None = None
    cells: int | None = None
    courant: float
    seconds: float | None = None  # simulated
    remark: str = ""
    balance: float | None = None  # error of the energy balance [% of the heat released]

    @property
    def nominal(self) -> float:
        """Heat of all the fuel that is let in [W]."""
        return self.jets + self.wick + self.pool

    @property
    def power(self) -> float:
        """Heat that is released, or where that was not recorded the nominal power [W]."""
        return self.nominal if self.released is None else self.released

    @property
    def wall_heat(self) -> float | None:
        """Heat to the burner's wall but a burning surface, from 30 mm up or, with a wick, from it up [W].

        Of slots and side jets without the closed top: it faces the pot, with which it exchanges heat across the gap.
        Of a ring of top jets that top alone: their flames stand on it, and cold air sweeps the wall. Air takes as much
        from the rest of the top as the flame of one jet gives it.
        """
        if self.top_jets > 0:
            return self.rim_top if self.top_jets > 1 else None
        if self.burner is not None:
            return self.burner
        parts = (self.rim_side, self.below)
        if self.inner_wall is not None:
            parts = (self.inner_wall, self.rim_top or 0.0, *(parts if self.jets > 0.0 else ()))
        return None if None in parts else sum(part for part in parts if part is not None)

    @property
    def judged(self) -> bool:
        """Whether the case is settled well enough to hold a law against it."""
        return self.status in ("settled", "puffs")


def read(path: Path = TABLE) -> tuple[Case, ...]:
    """Read every case of a table.

    Raises
    ------
    ValueError
        Where a row has an unknown field, flame or status, or lacks one that it needs; names the row.
    """
    with path.open("rb") as file:
        table = tomllib.load(file)
    names = {field.name for field in fields(Case)}
    scales = {key: SCALES[unit] for key, unit in table["units"].items()}
    found = []
    for row in table["case"]:
        merged: dict[str, Any] = {**table["sets"][row["set"]], **row}
        unknown = set(merged) - names
        if unknown:
            raise ValueError(f"{row['name']}: unknown fields {sorted(unknown)}")
        if "excess" in merged:
            merged["excess"] = (float(merged["excess"][0]), float(merged["excess"][1]))
        case = Case(**{key: value * scales[key] if key in scales else value for key, value in merged.items()})
        if case.flame not in FLAMES or case.status not in STATUSES:
            raise ValueError(f"{case.name}: flame {case.flame!r} or status {case.status!r} is not known")
        found.append(case)
    if len({case.name for case in found}) < len(found):
        raise ValueError("two cases have the same name")
    return tuple(found)


def once(cases: tuple[Case, ...]) -> tuple[Case, ...]:
    """The judged cases, each flame on its finest grid alone: solved twice, it is no second flame."""
    finer = {one.name.removesuffix(", fine") for one in cases if one.name.endswith(", fine")}
    return tuple(one for one in cases if one.judged and one.name not in finer)


def case(name: str) -> Case:
    """The case of a name."""
    return next(one for one in read() if one.name == name)
