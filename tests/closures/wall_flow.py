"""Laminar boundary layer of a wall fire, marched up an upright wall: an outside check of `closures/wall_fire`.

Momentum, mixture and heat of a natural-convection layer with a sheet of infinitely fast chemistry (Le 1, Pr 0.7), in
the variables of the similarity solution; backward differences up the wall, iterated to convergence at every height.
Below the band's edge fuel leaves the wall at a given rate, or as fast as the heat that arrives evaporates it; above it
the wall is dry and has a given temperature.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import solve_banded

Vector = NDArray[np.float64]
PRANDTL, GAS_HEAT, AMBIENT, GRAVITY = 0.7, 1300.0, 293.0, 9.80665
POINTS, FAR = 300, 9.0


class WallFire(NamedTuple):
    """What the march found, by height."""

    height: Vector  # [m]
    flux: Vector  # of heat to the wall [W/m2]
    burning: Vector  # [kg/m2/s]
    sheet: Vector  # distance of the flame from the wall [m]; 0 above its tip
    hottest: Vector  # of the gas [K]

    def mean(self, of: Vector, low: float, high: float) -> float:
        """Mean over a stretch."""
        size = np.diff(self.height, prepend=0.0)
        part = (self.height > low) & (self.height <= high * (1.0 + 1e-9))
        return float((of * size)[part].sum() / size[part].sum())

    @property
    def tip(self) -> float:
        """Height of the flame [m]."""
        return float(self.height[self.sheet > 0.0].max())


def layer(
    lam: Vector, stream: Vector, sink: Vector, source: Vector, size: Vector, wall: tuple[float, float, float]
) -> Vector:
    """Solve (lam y')' + stream y' - sink y + source = 0 with a y + b y' = c at the wall and y = 0 far off."""
    n = len(lam)
    a, b, c = wall
    middle = 0.5 * (lam[1:] + lam[:-1])
    below, above = size[:-1], size[1:]
    west, east = middle[:-1] / below / (0.5 * (below + above)), middle[1:] / above / (0.5 * (below + above))
    gentle = np.abs(stream[1:-1]) * np.maximum(below, above) < 1.8 * lam[1:-1]
    push = stream[1:-1]
    east_push = np.where(gentle, push / (below + above), np.where(push > 0.0, push / above, 0.0))
    west_push = np.where(gentle, -push / (below + above), np.where(push < 0.0, -push / below, 0.0))
    bands, right = np.zeros((3, n)), np.zeros(n)
    bands[2, : n - 2] = west + west_push
    bands[0, 2:] = east + east_push
    bands[1, 1:-1] = -(west + east) - sink[1:-1] - east_push - west_push
    right[1:-1] = -source[1:-1]
    bands[1, 0], bands[0, 1], right[0] = a - b / size[0], b / size[0], c
    bands[1, -1] = 1.0
    return np.asarray(solve_banded((1, 1), bands, right), dtype=float)


def march(
    band: float, top: float, wall: float, power: float | None, heat: float, need: float, gasify: float, rise: float
) -> WallFire:
    """March a wall fire up.

    Parameters
    ----------
    band, top : height of the band, and where to end [m]
    wall : temperature of the dry wall [K]
    power : of the band [W/m]; None for what its own heat evaporates
    heat : of combustion [J/kg]
    need : air-fuel ratio
    gasify : heat of gasification [J/kg]
    rise : of the flame's temperature above the ambient [K]
    """
    surface = 338.0
    stoichiometric = 1.0 / (1.0 + need)
    viscous = 1.82e-5
    kinematic = viscous / 1.204
    scale = (GRAVITY / (4.0 * kinematic**2)) ** 0.25
    eta = FAR * np.linspace(0.0, 1.0, POINTS) ** 1.5
    size = np.diff(eta)
    heights = np.concatenate(
        [np.linspace(0.02 * band, band, 30), band + (top - band) * np.linspace(0.0, 1.0, 91)[1:] ** 1.3]
    )

    def burnt(mixture: Vector) -> Vector:
        return np.where(mixture < stoichiometric, mixture / stoichiometric, (1.0 - mixture) / (1.0 - stoichiometric))

    def integral(speed: Vector, start: float) -> Vector:
        return start + np.concatenate([[0.0], np.cumsum(0.5 * (speed[1:] + speed[:-1]) * size)])

    speed, mixture, excess = 0.3 * eta * np.exp(-eta), 0.6 * np.exp(-eta), np.zeros(POINTS)
    stream = integral(speed, -0.2)
    rows = []
    for k, x in enumerate(heights):
        old = (stream, speed, mixture, excess)
        r = 0.0 if k == 0 else 4.0 * x / (x - heights[k - 1])
        blowing = 0.0
        for _ in range(400):
            temperature = np.clip(AMBIENT + rise * burnt(mixture) + excess, 250.0, 3000.0)
            lam = (temperature / AMBIENT) ** -0.3
            gradient = (temperature[1] - temperature[0]) / size[0]
            wet = x <= band * (1.0 + 1e-9)
            if not wet:
                blowing = 0.0
            elif power is None:
                blowing = GAS_HEAT * lam[0] * gradient / PRANDTL / gasify
            else:
                blowing = power / (band * heat) / (viscous * scale * x**-0.25)
            first = -blowing / (3.0 if power is None else 4.0)
            start = (r * old[0][0] - blowing) / (3.0 + r) if k else 0.5 * (stream[0] + first)
            across = 3.0 * stream + r * (stream - old[0])
            along = r * np.maximum(speed, 0.0)
            pull = temperature / AMBIENT - 1.0 + r * speed * old[1]
            faster = layer(lam, across, 2.0 * speed + r * speed, pull, size, (1.0, 0.0, 0.0))
            feed = blowing * PRANDTL / lam[0]
            richer = np.clip(layer(lam / PRANDTL, across, along, along * old[2], size, (-feed, 1.0, -feed)), 0.0, 0.999)
            held = surface if wet else wall
            known = held - AMBIENT - rise * float(burnt(richer[:1])[0])
            warmer = layer(lam / PRANDTL, across, along, along * old[3], size, (1.0, 0.0, known))
            change = max(float(np.abs(faster - speed).max()), float(np.abs(richer - mixture).max()))
            weight = 0.5 if k == 0 else 0.7
            speed = speed + weight * (faster - speed)
            mixture = mixture + weight * (richer - mixture)
            excess = excess + weight * (warmer - excess)
            stream = integral(speed, start)
            if change < 1e-5:
                break
        temperature = AMBIENT + rise * burnt(mixture) + excess
        lam = (temperature / AMBIENT) ** -0.3
        unit = viscous * scale * x**-0.25
        depth = integral(temperature / AMBIENT, 0.0) / scale * x**0.25
        inside = np.flatnonzero(mixture >= stoichiometric)
        rows.append(
            (
                x,
                GAS_HEAT * unit * lam[0] / PRANDTL * (temperature[1] - temperature[0]) / size[0],
                blowing * unit,
                depth[inside[-1]] if len(inside) else 0.0,
                float(temperature.max()),
            )
        )
    return WallFire(*np.array(rows).T)
