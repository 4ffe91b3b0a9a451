"""The gas of a covered well: natural convection of vapour and air under a cold pot, solved round the axis.

Liquid below and a pot above, both with the share of air at which they are saturated; a side wall that gets hotter
towards the rim; a gap at the top of the side. Momentum, share of air and heat on a staggered mesh, with a projection;
buoyancy by the ideal gas, the rest with even properties (Boussinesq). Velocities are means by moles: vapour that leaves
the liquid or condenses drives the gas, air that cannot pass either piles up there. Through the gap air diffuses back in
against what flows out. Vapour that boils is set free in the lowest row.

Steady unless the gas is driven from below alone. 40 by 54 cells carry 3 % less than 26 by 36.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import lil_matrix
from scipy.sparse.linalg import SuperLU, splu

GRAVITY = 9.81
AIR = 28.96e-3  # [kg/mol]
GAS_CONSTANT = 8.314

Array = NDArray[np.float64]


@dataclass(frozen=True, kw_only=True)
class Well:
    """What is asked, in SI units; by default methanol of 57 degC, a pot of 35 degC and a rim of 500 K."""

    liquid: float = 330.0
    pot: float = 308.0
    rim: float = 500.0
    heated: bool = True  # else no heat passes the side wall
    at_liquid: float = 0.732  # mole fraction of vapour there
    at_pot: float = 0.274
    mass: float = 32.04e-3  # of the vapour [kg/mol]
    diffusivity: float = 1.9e-5
    viscosity: float = 1.2e-5  # kinematic
    warming: float = 1.7e-5  # diffusivity of heat
    depth: float = 36e-3
    radius: float = 26.4e-3
    gravity: float = GRAVITY
    gap: float = 60e-6  # what diffuses through it for each step of the logarithm of air [mol/s]
    boiling: float = 0.0  # [mol/s]
    columns: int = 14
    rows: int = 20

    @property
    def concentration(self) -> float:
        """Moles in a volume of gas [mol/m3]."""
        return 101325.0 / (GAS_CONSTANT * 0.5 * (self.liquid + self.pot))

    @property
    def still(self) -> float:
        """What diffuses from liquid to pot through still gas, for each step of the logarithm of air [mol/s]."""
        return self.concentration * self.diffusivity * np.pi * self.radius**2 / self.depth


@dataclass(frozen=True)
class Passed:
    """Flows of vapour in the mean over the last third of the time [mol/s]."""

    evaporated: float
    condensed: float
    vented: float
    air: float  # mean share of it in the gas


def pressure_solver(faces: Array, discs: Array, rows: int, dr: float, dz: float) -> SuperLU:
    """Poisson's equation for the pressure, factored; in the first cell it is 0.

    Parameters
    ----------
    faces, discs : areas of the cells towards the sides and upwards [m2]
    rows : of cells
    dr, dz : size of a cell [m]
    """
    columns = len(discs)
    matrix = lil_matrix((columns * rows, columns * rows))
    for i in range(columns):
        for j in range(rows):
            sides = (
                (i + 1, j, faces[i + 1] / dr),
                (i - 1, j, faces[i] / dr),
                (i, j + 1, discs[i] / dz),
                (i, j - 1, discs[i] / dz),
            )
            for k, at, area in sides:
                if 0 <= k < columns and 0 <= at < rows:
                    matrix[i * rows + j, k * rows + at] += area
                    matrix[i * rows + j, i * rows + j] -= area
    matrix[0, :] = 0.0
    matrix[0, 0] = 1.0
    return splu(matrix.tocsc())


def carried(what: Array, u: Array, w: Array) -> tuple[Array, Array]:
    """Fluxes of something with the gas through the faces between cells: outwards and upwards."""
    out, up = np.zeros_like(u), np.zeros_like(w)
    out[1:-1] = u[1:-1] * 0.5 * (what[1:] + what[:-1]) - 0.05 * abs(u[1:-1]) * (what[1:] - what[:-1])
    up[:, 1:-1] = w[:, 1:-1] * 0.5 * (what[:, 1:] + what[:, :-1])
    up[:, 1:-1] -= 0.05 * abs(w[:, 1:-1]) * (what[:, 1:] - what[:, :-1])
    return out, up


def solved(case: Well, lasting: float = 15.0, step: float = 3e-3) -> Passed:  # noqa: PLR0915  (one set of balances)
    """What passes once the gas has settled."""
    n, m = case.columns, case.rows
    dr, dz = case.radius / n, case.depth / m
    edges, centres = np.arange(n + 1) * dr, (np.arange(n) + 0.5) * dr
    discs, faces = 2.0 * np.pi * centres * dr, 2.0 * np.pi * edges * dz
    volume = (discs * dz)[:, None]
    poisson = pressure_solver(faces, discs, m, dr, dz)
    concentration, diffusing = case.concentration, case.diffusivity
    air_below, air_above = 1.0 - case.at_liquid, 1.0 - case.at_pot
    wall = case.liquid + (case.rim - case.liquid) * (np.arange(m) + 0.5) / m
    u, w = np.zeros((n + 1, m)), np.zeros((n, m + 1))
    air = np.full((n, m), 0.5 * (air_below + air_above))
    warmth = np.full((n, m), 0.5 * (case.liquid + case.pot))
    freed = np.zeros((n, m))
    freed[:, 0] = case.boiling / concentration * discs / discs.sum()
    inner = edges[1:-1, None]
    found = []
    steps = round(lasting / step)
    for count in range(steps):
        # what leaves the liquid and condenses, so that no air passes either
        w[:, 0] = diffusing * (air[:, 0] - air_below) / (0.5 * dz) / air_below
        w[:, -1] = np.maximum(diffusing * (air_above - air[:, -1]) / (0.5 * dz) / air_above, 0.0)
        evaporated, condensed = concentration * (w[:, 0] * discs).sum(), concentration * (w[:, -1] * discs).sum()
        vented = evaporated + case.boiling - condensed
        u[-1, -1] = vented / concentration / faces[-1]

        out, up = carried(air, u, w)
        out[1:-1] -= diffusing * (air[1:] - air[:-1]) / dr
        up[:, 1:-1] -= diffusing * (air[:, 1:] - air[:, :-1]) / dz
        against = vented / case.gap
        leak = case.gap * (air[-1, -1] - 1.0)
        if abs(against) > 1e-6:
            leak = vented * (air[-1, -1] - np.exp(-against)) / (1.0 - np.exp(-against))
        out[-1, -1] = leak / concentration / faces[-1]
        gain = np.diff(faces[:, None] * out, axis=0) + np.diff(discs[:, None] * up, axis=1)
        mixed = air - step * gain / volume

        out, up = carried(warmth, u, w)
        out[1:-1] -= case.warming * (warmth[1:] - warmth[:-1]) / dr
        up[:, 1:-1] -= case.warming * (warmth[:, 1:] - warmth[:, :-1]) / dz
        up[:, 0] = w[:, 0] * case.liquid - case.warming * (warmth[:, 0] - case.liquid) / (0.5 * dz)
        up[:, -1] = w[:, -1] * case.pot - case.warming * (case.pot - warmth[:, -1]) / (0.5 * dz)
        out[-1, -1] = u[-1, -1] * warmth[-1, -1]
        if case.heated:
            out[-1] -= case.warming * (wall - warmth[-1]) / (0.5 * dr)
        gain = np.diff(faces[:, None] * out, axis=0) + np.diff(discs[:, None] * up, axis=1) - freed * case.liquid
        warmer = warmth - step * gain / volume

        density = (case.mass + (AIR - case.mass) * air) / warmth
        lift = case.gravity * (1.0 - density / density.mean())
        besides = np.pad(u, ((0, 0), (1, 1)))  # no slip at liquid, pot and wall
        besides[:, 0], besides[:, -1] = -u[:, 0], -u[:, -1]
        along = np.pad(w, ((1, 1), (0, 0)))
        along[0], along[-1] = w[0], -w[-1]
        faster, higher = u.copy(), w.copy()
        drift = 0.25 * (along[1:n, :-1] + along[1:n, 1:] + along[2 : n + 1, :-1] + along[2 : n + 1, 1:])
        slope = (u[2:] - u[:-2]) / (2.0 * dr)
        bent = (u[2:] - 2.0 * u[1:-1] + u[:-2]) / dr**2 + slope / inner - u[1:-1] / inner**2
        bent += (besides[1:-1, 2:] - 2.0 * u[1:-1] + besides[1:-1, :-2]) / dz**2
        turned = drift * (besides[1:-1, 2:] - besides[1:-1, :-2]) / (2.0 * dz)
        faster[1:-1] += step * (case.viscosity * bent - u[1:-1] * slope - turned)
        drift = 0.25 * (u[:-1, :-1] + u[1:, :-1] + u[:-1, 1:] + u[1:, 1:])
        slope = (along[2:, 1:-1] - along[:-2, 1:-1]) / (2.0 * dr)
        bent = (along[2:, 1:-1] - 2.0 * w[:, 1:-1] + along[:-2, 1:-1]) / dr**2 + slope / centres[:, None]
        bent += (w[:, 2:] - 2.0 * w[:, 1:-1] + w[:, :-2]) / dz**2
        turned = drift * slope + w[:, 1:-1] * (w[:, 2:] - w[:, :-2]) / (2.0 * dz)
        higher[:, 1:-1] += step * (case.viscosity * bent - turned + 0.5 * (lift[:, 1:] + lift[:, :-1]))
        left = np.diff(faces[:, None] * faster, axis=0) + np.diff(discs[:, None] * higher, axis=1) - freed
        left[0, 0] = 0.0
        pressure = poisson.solve(left.ravel() / step).reshape(n, m)
        faster[1:-1] -= step * np.diff(pressure, axis=0) / dr
        higher[:, 1:-1] -= step * np.diff(pressure, axis=1) / dz
        u, w, air, warmth = faster, higher, np.clip(mixed, 1e-3, 1.0), warmer
        if count > 0.67 * steps:
            found.append((evaporated, condensed, vented, air.mean()))
    return Passed(*(float(one) for one in np.mean(found, axis=0)))
