"""Liquid between upright walls that are heated: natural convection, solved.

Laminar, Boussinesq, in vorticity and stream function; a heated wall is a thin fin of its own, the surface slips. A
general flow solver (buoyantBoussinesqPimpleFoam of OpenFOAM 1912) and the same equations on 48 by 75 cells agree within
1 % on the top, the mean and the bottom of ethanol 15 mm deep over 100 s; 24 by 30 cells are within 8 %. `beside` solves
two liquids and the thin wall between them.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

GRAVITY = 9.81
STRETCH = 1.4  # of the cells towards the walls

Array = NDArray[np.float64]


@dataclass(frozen=True, kw_only=True)
class Spirit:
    """Properties of the liquid, in SI units; the defaults are those of ethanol at 50 degC."""

    conductivity: float = 0.165
    density: float = 780.0
    capacity: float = 2600.0
    viscosity: float = 1.0e-6  # kinematic
    expansion: float = 1.15e-3

    @property
    def stored(self) -> float:
        """Heat capacity of a volume [J/m3/K]."""
        return self.density * self.capacity


@dataclass(frozen=True, kw_only=True)
class Slab:
    """What is asked: lengths in metres, the rest in SI units."""

    gap: float
    depth: float
    conductance: float  # conductivity x thickness of the heated wall [W/K]; 0: the heat is put in evenly
    heat: float  # of a metre of wall, put in at the waterline [W/m]
    spirit: Spirit = Spirit()
    wall_capacity: float = 400.0  # [J/m2/K]
    boils: float | None = None  # so much warmer than at first it boils, wherever it is [K]; None: never
    columns: int = 16
    rows: int = 20


@dataclass(frozen=True)
class Warmed:
    """How much warmer than at first everything is [K], and what boiled."""

    mean: float
    top: float
    wall: float  # at the waterline
    boiled: float  # share of the heat put in that left as vapour, over the last second


class Region:
    """Liquid between two walls, or between a wall and a plane of symmetry: its warmth, and how it flows.

    Parameters
    ----------
    gap, depth : [m]
    columns, rows : of cells
    spirit : the liquid
    symmetric : its far side is a plane of symmetry and no wall
    """

    def __init__(
        self, gap: float, depth: float, columns: int, rows: int, spirit: Spirit, *, symmetric: bool = False
    ) -> None:
        reach = np.tanh(STRETCH)
        if symmetric:
            x = gap * (1.0 - np.tanh(STRETCH * np.linspace(1.0, 0.0, columns + 1)) / reach)
        else:
            x = 0.5 * gap * (1.0 + np.tanh(STRETCH * np.linspace(-1.0, 1.0, columns + 1)) / reach)
        self.gap, self.depth, self.spirit, self.symmetric = gap, depth, spirit, symmetric
        self.dx, self.dz = np.diff(x), depth / rows
        self.wide = 0.5 * (np.append(self.dx, 0.0) + np.insert(self.dx, 0, 0.0))
        self.high = np.full(rows + 1, self.dz)
        self.high[[0, -1]] = 0.5 * self.dz
        self.volume = np.outer(self.wide, self.high)
        self.invert = poisson(x, self.dz, rows)
        self.warm, self.spin, self.stream = (np.zeros((columns + 1, rows + 1)) for _ in range(3))

    def mean(self) -> float:
        """How much warmer than at first it is, in the mean [K]."""
        return float(self.wide @ self.warm @ self.high / (self.gap * self.depth))

    def top(self) -> float:
        """The same on top [K]."""
        return float(self.wide @ self.warm[:, -1] / self.gap)

    def carried(self) -> Array:
        """What flow and conduction bring to each cell in a second [K m2/s]."""
        diffusivity = self.spirit.conductivity / self.spirit.stored
        corner = np.zeros((self.stream.shape[0] + 1, self.stream.shape[1] + 1))
        corner[1:-1, 1:-1] = 0.25 * (
            self.stream[1:, 1:] + self.stream[:-1, 1:] + self.stream[1:, :-1] + self.stream[:-1, :-1]
        )
        found = np.zeros_like(self.warm)
        flux = limited(self.warm, corner[1:-1, 1:] - corner[1:-1, :-1])
        flux -= diffusivity * np.diff(self.warm, axis=0) / self.dx[:, None] * self.high
        found[:-1] -= flux
        found[1:] += flux
        flux = limited(self.warm.T, (corner[:-1, 1:-1] - corner[1:, 1:-1]).T).T
        flux -= diffusivity * np.diff(self.warm, axis=1) / self.dz * self.wide[:, None]
        found[:, :-1] -= flux
        found[:, 1:] += flux
        return found

    def flow(self, step: float) -> None:
        """March vorticity and stream function by a step of time [s]."""
        dx, dz, spin, stream = self.dx, self.dz, self.spin, self.stream
        both = dx[:-1, None] + dx[1:, None]
        spin[0] = 2.0 * stream[1] / dx[0] ** 2
        spin[-1] = 0.0 if self.symmetric else 2.0 * stream[-2] / dx[-1] ** 2
        spin[:, 0] = 2.0 * stream[:, 1] / dz**2
        spin[:, -1] = 0.0
        u = (stream[1:-1, 2:] - stream[1:-1, :-2]) / (2.0 * dz)
        w = -(stream[2:, 1:-1] - stream[:-2, 1:-1]) / both
        inner = spin[1:-1, 1:-1]
        across = (spin[2:, 1:-1] - inner) / dx[1:, None] - (inner - spin[:-2, 1:-1]) / dx[:-1, None]
        along = (spin[1:-1, 2:] - 2.0 * inner + spin[1:-1, :-2]) / dz**2
        turned = -u * (spin[2:, 1:-1] - spin[:-2, 1:-1]) / both
        turned -= w * (spin[1:-1, 2:] - spin[1:-1, :-2]) / (2.0 * dz)
        lifted = GRAVITY * self.spirit.expansion * (self.warm[2:, 1:-1] - self.warm[:-2, 1:-1]) / both
        spin[1:-1, 1:-1] = inner + step * (turned + self.spirit.viscosity * (2.0 * across / both + along) - lifted)
        stream[1:-1, 1:-1] = self.invert(spin[1:-1, 1:-1])


def solved(slab: Slab, seconds: float, step: float = 4e-3) -> Warmed:
    """March a slab from rest.

    Parameters
    ----------
    slab : what is asked
    seconds : how long
    step : of time [s]; stable below a fifth of the square of the first cell over the viscosity
    """
    body = Region(slab.gap, slab.depth, slab.columns, slab.rows, slab.spirit)
    stored, high = slab.spirit.stored, body.high
    fin = np.linalg.inv(wall_matrix(slab, body.wide[0], body.dx[0], high, body.dz, step))
    put_in = np.zeros(slab.rows + 1)
    if slab.conductance > 0.0:
        put_in[-1] = slab.heat
    else:
        put_in[:] = slab.heat * high / slab.depth
    share = stored * body.wide[0] / (stored * body.wide[0] + slab.wall_capacity)
    pull = slab.spirit.conductivity / body.dx[0] * high
    beside_it = stored * body.wide[1] * high / step
    boiled = 0.0
    for count in range(round(seconds / step)):
        if count == round((seconds - 1.0) / step):
            boiled = 0.0
        gained = body.carried()
        across = pull / stored * (body.warm[1] - body.warm[0])  # implicit below
        gained[0] -= across
        gained[1] += across
        new = body.warm + step * gained / body.volume
        start = body.warm[0] + share * (new[0] - body.warm[0])
        right = (stored * body.wide[0] + slab.wall_capacity) * high / step * start + put_in
        right += pull * beside_it / (beside_it + pull) * new[1]
        new[0] = fin @ right
        new[1] = (beside_it * new[1] + pull * new[0]) / (beside_it + pull)
        if slab.boils is not None:
            over = np.maximum(new[1:] - slab.boils, 0.0)
            boiled += float((over * body.volume[1:]).sum()) * stored / slab.heat
            new[1:] -= over
        body.warm = new
        body.flow(step)
    return Warmed(mean=body.mean(), top=body.top(), wall=float(body.warm[0, -1]), boiled=boiled)


@dataclass(frozen=True)
class Passed:
    """What came of two liquids with a wall between them."""

    first: float  # how much warmer than at first each is, in the mean [K]
    second: float
    outer: float  # the outer wall at the waterline [K]
    wall: float  # the one between them [K]
    across: float  # from the first through the wall to the second, over the last second [W/m]


def beside(
    gaps: tuple[float, float],
    depth: float,
    heats: tuple[float, float],
    surface: float | None,
    seconds: float,
    *,
    conductance: float = 0.02,
    wall_capacity: float = 243.0,
    step: float = 2e-3,
    cells: tuple[int, int] = (16, 20),
) -> Passed:
    """March two liquids from rest: heat is put into the outer wall of the first and into the wall between them.

    The second has a plane of symmetry on its far side, and a surface that is kept warm, as a flame over it does. What
    goes through the wall from one to the other is what it passes beyond half of the heat that is put into it.

    Parameters
    ----------
    gaps : of both [m]
    depth : of both [m]
    heats : put into the outer wall and the one between them, at the waterline, of a metre of wall [W/m]
    surface : how much warmer than at first that of the second is kept [K]; None: it passes no heat
    seconds : how long
    conductance : conductivity x thickness of the walls [W/K]
    wall_capacity : [J/m2/K]
    step : of time [s]; the walls' own conduction has to be stable in it
    cells : columns in each liquid, and rows
    """
    spirit = Spirit()
    first = Region(gaps[0], depth, *cells, spirit)
    second = Region(gaps[1], depth, *cells, spirit, symmetric=True)
    stored, high = spirit.stored, first.high
    outer_mass = (wall_capacity + stored * first.wide[0]) * high
    between_mass = (wall_capacity + stored * (first.wide[-1] + second.wide[0])) * high
    taken = given = 0.0
    for count in range(round(seconds / step)):
        if count == round((seconds - 1.0) / step):
            taken = given = 0.0
        to_first, to_second = first.carried(), second.carried()
        gained = along(first.warm[0], conductance, first.dz, heats[0]) + stored * to_first[0]
        outer = first.warm[0] + step * gained / outer_mass
        middle = second.warm[0]
        gained = along(middle, conductance, first.dz, heats[1]) + stored * (to_first[-1] + to_second[0])
        between = middle + step * gained / between_mass
        rise = (between - middle) @ high * stored
        taken += first.wide[-1] * rise - step * stored * to_first[-1].sum()
        given += second.wide[0] * rise - step * stored * to_second[0].sum()
        first.warm = first.warm + step * to_first / first.volume
        second.warm = second.warm + step * to_second / second.volume
        first.warm[0], first.warm[-1], second.warm[0] = outer, between, between
        if surface is not None:
            second.warm[1:, -1] = surface
        first.flow(step)
        second.flow(step)
    return Passed(
        first=first.mean(),
        second=second.mean(),
        outer=float(first.warm[0, -1]),
        wall=float(second.warm[0, -1]),
        across=float(0.5 * (given - taken)),
    )


def along(wall: Array, conductance: float, dz: float, heat: float) -> Array:
    """What each cell of a wall gains by conduction along it, and by the heat put in at the waterline [W/m]."""
    flux = conductance * np.diff(wall) / dz
    gained = np.append(flux, heat)
    gained[1:] -= flux
    return gained


def poisson(x: Array, dz: float, nz: int) -> Callable[[Array], Array]:
    """Solver for the stream function of a vorticity: sines along the height, dense matrices across."""
    dx = np.diff(x)
    both = dx[:-1] + dx[1:]
    across = np.diag(-2.0 / dx[:-1] / dx[1:])
    across += np.diag(2.0 / dx[1:-1] / both[:-1], 1) + np.diag(2.0 / dx[1:-1] / both[1:], -1)
    number = np.arange(1, nz)
    sines = np.sqrt(2.0 / nz) * np.sin(np.pi * np.outer(number, number) / nz)
    eigen = (2.0 - 2.0 * np.cos(np.pi * number / nz)) / dz**2
    inverses = np.array([np.linalg.inv(across - e * np.eye(len(across))) for e in eigen])

    def solve(spin: Array) -> Array:
        return np.einsum("kij,jk->ik", inverses, spin @ sines) @ sines

    return solve


def wall_matrix(slab: Slab, wide: float, first: float, high: Array, dz: float, step: float) -> Array:
    """The heated wall and the liquid at it, implicit in time: its own conduction, and to the liquid beside it."""
    stored = slab.spirit.stored
    beside = stored * first * high / step
    pull = slab.spirit.conductivity / first * high
    found = np.diag((stored * wide + slab.wall_capacity) * high / step + pull * beside / (beside + pull))
    for j in range(len(high) - 1):
        found[j, j] += slab.conductance / dz
        found[j + 1, j + 1] += slab.conductance / dz
        found[j, j + 1] -= slab.conductance / dz
        found[j + 1, j] -= slab.conductance / dz
    return found


def limited(value: Array, flow: Array) -> Array:
    """What a flow between rows carries along, of second order but without new extremes (van Leer)."""
    step = np.diff(value, axis=0)
    before = np.vstack([np.zeros((1, value.shape[1])), step[:-1]])
    behind = np.vstack([step[1:], np.zeros((1, value.shape[1]))])

    def half(upwind: Array) -> Array:
        product = upwind * step
        return np.where(product > 0.0, product / np.where(product > 0.0, upwind + step, 1.0), 0.0)

    return np.where(flow > 0.0, flow * (value[:-1] + half(before)), flow * (value[1:] - half(behind)))
