"""Flow through small holes and slots in thin walls, from creeping flow to choking.

One law serves gas and liquid: pressure loss = rho u^2/2 (K_inf + K_lam/Re). Its low limit is exact creeping
flow through a hole (Sampson) in series with a tube (Poiseuille); its high limit is the sharp hole or the
short tube.
"""

from math import expm1, log1p, log10, pi, sqrt

from burnsim.bounds import at_least, within
from burnsim.closures._validity import closure
from burnsim.constants import GAS_CONSTANT

THIN_PLATE_DISCHARGE = 0.61
"""Discharge coefficient of a sharp hole in a thin plate at high Reynolds number [-]."""

CREEPING_LOSS = 12.0 * pi
"""K Re of a hole in an infinitely thin wall, Sampson's exact solution [-]."""

_TUBE_DISCHARGE = 0.827
_TUBE_DISCHARGE_SLOPE = -0.0085
_LONGEST_TUBE = 10.0
_ATTACHED = 2.4
_FASTEST = 1e9
_SLOW = 1e-3
_QUARTER_PI = 0.25 * pi


@closure(length_ratio=(0.0, 10.0))
def inertial_loss(length_ratio: float) -> float:
    """Loss coefficient of a hole at high Reynolds number, by its length over its diameter.

    Parameters
    ----------
    length_ratio : wall thickness over hole diameter, L/d [-], 0 to 10.

    Returns
    -------
    K_inf [-], from 1/0.61^2 for a sharp thin plate down to that of a short tube in which the jet re-attaches.

    Notes
    -----
    K_inf = 1/(0.827 - 0.0085 L/d)^2 + (1/0.61^2 - 1/0.827^2) tau(L/d)/tau(0), with the re-attachment
    function of thick-edged orifices tau = (2.4 - L/d) 10^-phi, phi = 0.25 + 0.535 r^8/(0.05 + r^7), r =
    L/d, 0 beyond 2.4. The ends are the published ones; scaling tau to meet both is ours.

    >>> round(inertial_loss(0.0) ** -0.5, 3)
    0.61
    >>> round(inertial_loss(2.0) ** -0.5, 2)
    0.81

    References
    ----------
    Short tube: A. Lichtarowicz, R. K. Duggins, E. Markland 1965, J. Mech. Eng. Sci. 7, 210. tau: I. E.
    Idelchik, Handbook of Hydraulic Resistance, thick-edged orifice (diagram 4-18 in the third edition; from
    memory, unverified). Thin plate 0.61: standard value.
    """
    ratio = within(length_ratio, 0.0, _LONGEST_TUBE)
    tube = _TUBE_DISCHARGE + _TUBE_DISCHARGE_SLOPE * ratio
    loss = 1.0 / (tube * tube)
    if ratio < _ATTACHED:
        power = ratio**7
        detached = (1.0 - ratio / _ATTACHED) * 10.0 ** (-0.535 * ratio * power / (0.05 + power))
        loss += (1.0 / THIN_PLATE_DISCHARGE**2 - 1.0 / _TUBE_DISCHARGE**2) * detached
    return loss


@closure(length_ratio=(0.0, 10.0))
def laminar_loss(length_ratio: float) -> float:
    """Product of loss coefficient and Reynolds number of a hole in creeping flow.

    Parameters
    ----------
    length_ratio : wall thickness over hole diameter, L/d [-].

    Returns
    -------
    K_lam = K Re [-].

    Notes
    -----
    K_lam = 12 pi + 64 L/d: Sampson's hole (Q = d^3 dp/(24 mu)) in series with Poiseuille's tube.

    >>> d, dp, mu = 1e-3, 2.0, 1e-5
    >>> u = dp * 2.0 * d / (laminar_loss(0.0) * mu)            # K rho u^2/2 = dp with K = K_lam mu/(rho u d)
    >>> abs(u * pi * d**2 / 4.0 / (d**3 * dp / (24.0 * mu)) - 1.0) < 1e-12
    True

    References
    ----------
    R. A. Sampson 1891, Phil. Trans. R. Soc. A 182, 449. Series addition: Z. Dagan, S. Weinbaum, R. Pfeffer
    1982, J. Fluid Mech. 115, 505 (within 1.5 %; from memory, unverified).
    """
    return CREEPING_LOSS + 64.0 * at_least(length_ratio, 0.0)


@closure(reynolds=(0.0, 1e5), length_ratio=(0.0, 10.0))
def loss_coefficient(reynolds: float, length_ratio: float) -> float:
    """Loss coefficient of a hole, dp = K rho u^2/2 with u the flow over the full area of the hole.

    Parameters
    ----------
    reynolds : u d/nu with that velocity [-].
    length_ratio : wall thickness over hole diameter, L/d [-].

    Returns
    -------
    K [-] = K_inf(L/d) + K_lam(L/d)/Re.

    Notes
    -----
    Both ends are sound and the sum bridges them. Between Re 30 and 300 sharp thin holes are reported to
    pass some 10 to 20 % more than this (the jet contracts less), which the uncertainty of the discharge
    must cover.

    >>> round(loss_coefficient(100.0, 0.1), 2)                  # 44.1/100 on top of 2.64
    3.08

    References
    ----------
    See `inertial_loss` and `laminar_loss`; their sum over all Re is the usual engineering interpolation.
    """
    return inertial_loss(length_ratio) + laminar_loss(length_ratio) / at_least(reynolds, 1e-9)


@closure(reynolds=(0.0, 1e5), length_ratio=(0.0, 10.0))
def discharge_coefficient(reynolds: float, length_ratio: float) -> float:
    """Discharge coefficient of a hole, the flow over that of an ideal hole of the same area.

    Parameters
    ----------
    reynolds : u d/nu with the velocity u over the full area of the hole [-].
    length_ratio : wall thickness over hole diameter, L/d [-].

    Returns
    -------
    Cd [-] = 1/sqrt(K).

    >>> round(discharge_coefficient(1e5, 0.0), 3)
    0.61

    References
    ----------
    See `loss_coefficient`.
    """
    return 1.0 / sqrt(loss_coefficient(reynolds, length_ratio))


@closure(reynolds=(10.0, 2e4), length_ratio=(2.0, 10.0))
def lichtarowicz_discharge(reynolds: float, length_ratio: float) -> float:
    """Discharge coefficient of a long orifice, an independent formula to check the others by.

    Parameters
    ----------
    reynolds : d/nu sqrt(2 dp/rho), that is with the *theoretical* velocity [-], 10 to 20 000.
    length_ratio : L/d [-], 2 to 10.

    Returns
    -------
    Cd [-].

    Notes
    -----
    1/Cd = 1/Cdu + 20/Re (1 + 2.25 L/d) - 0.005 (L/d)/(1 + 7.5 (log10(0.00015 Re))^2), Cdu = 0.827 - 0.0085
    L/d. The theoretical velocity is the real one over Cd: a real Re of 100 at L/d = 4 is a theoretical one
    of 218.

    >>> round(lichtarowicz_discharge(100.0 / 0.459, 4.0), 3)
    0.459

    References
    ----------
    A. Lichtarowicz, R. K. Duggins, E. Markland 1965, J. Mech. Eng. Sci. 7, 210.
    """
    re = at_least(reynolds, 1e-3)
    ratio = within(length_ratio, 0.0, 50.0)
    ultimate = _TUBE_DISCHARGE + _TUBE_DISCHARGE_SLOPE * ratio
    bend = 0.005 * ratio / (1.0 + 7.5 * log10(1.5e-4 * re) ** 2)
    return 1.0 / (1.0 / ultimate + 20.0 / re * (1.0 + 2.25 * ratio) - bend)


@closure(diameter=(1e-5, 0.1), density=(0.01, 2e4), viscosity=(1e-7, 1.0))
def pressure_drop(
    velocity: float, density: float, viscosity: float, diameter: float, k_inf: float, k_lam: float
) -> float:
    """Pressure lost by a flow of constant density through a hole or slot.

    Parameters
    ----------
    velocity : flow over the full area of the opening [m/s]; its sign is the sign of the result.
    density : of the fluid [kg/m3].
    viscosity : of the fluid [Pa s].
    diameter : of the hole, or hydraulic diameter of the slot [m].
    k_inf, k_lam : from `inertial_loss` and `laminar_loss` [-].

    Returns
    -------
    Pressure difference [Pa].

    Notes
    -----
    dp = rho/2 (K_inf u |u| + K_lam nu/d u), which is K rho u^2/2 with K = K_inf + K_lam/Re. Odd in u.

    >>> round(pressure_drop(1.0, 1000.0, 0.0, 1e-3, 2.0, 40.0), 9)
    1000.0

    References
    ----------
    See `loss_coefficient`.
    """
    u = velocity if -_FASTEST < velocity < _FASTEST else _FASTEST if velocity > 0.0 else -_FASTEST
    size = diameter if diameter > 1e-12 else 1e-12
    return 0.5 * u * (density * k_inf * (u if u > 0.0 else -u) + k_lam * viscosity / size)


@closure(diameter=(1e-5, 0.1), density=(0.01, 2e4), viscosity=(1e-7, 1.0))
def velocity(
    pressure_drop: float, density: float, viscosity: float, diameter: float, k_inf: float, k_lam: float
) -> float:
    """Velocity of a flow of constant density through a hole or slot: the exact inverse of `pressure_drop`.

    Parameters
    ----------
    pressure_drop : across the opening [Pa]; its sign is the sign of the result.
    density, viscosity, diameter, k_inf, k_lam : as in `pressure_drop` [kg/m3, Pa s, m, -, -].

    Returns
    -------
    Velocity over the full area of the opening [m/s].

    Notes
    -----
    u = 4 dp/rho / (b + sqrt(b^2 + 8 K_inf |dp|/rho)), b = K_lam nu/d: the root written without
    cancellation, so that it passes smoothly through zero with the laminar slope.

    >>> u = velocity(3.7, 790.0, 1.2e-3, 2e-3, 2.6, 44.0)
    >>> round(pressure_drop(u, 790.0, 1.2e-3, 2e-3, 2.6, 44.0), 9)
    3.7

    References
    ----------
    See `loss_coefficient`.
    """
    rho = density if density > 1e-9 else 1e-9
    head = pressure_drop / rho
    b = k_lam * viscosity / (rho * (diameter if diameter > 1e-12 else 1e-12))
    square = b * b + 8.0 * k_inf * (head if head > 0.0 else -head)
    root = b + sqrt(square if square > 0.0 else 0.0)
    return 4.0 * head / (root if root > 1e-30 else 1e-30)


@closure(
    mass_flow=(0.0, 1e-2),
    diameter=(1e-5, 0.1),
    temperature=(200.0, 2500.0),
    molar_mass=(2e-3, 0.3),
    gamma=(1.01, 1.67),
    viscosity=(1e-7, 1e-3),
    ambient_pressure=(1e4, 1e6),
)
def gas_pressure(
    mass_flow: float,
    diameter: float,
    k_inf: float,
    k_lam: float,
    temperature: float,
    molar_mass: float,
    gamma: float,
    viscosity: float,
    ambient_pressure: float,
) -> float:
    """Gauge pressure upstream that drives a flow of gas through one hole to the open air.

    Parameters
    ----------
    mass_flow : through one hole [kg/s]; its sign is the sign of the result.
    diameter : of the hole [m].
    k_inf, k_lam : from `inertial_loss` and `laminar_loss` [-].
    temperature : of the gas before the hole [K].
    molar_mass : of the gas [kg/mol].
    gamma : ratio of its heat capacities [-].
    viscosity : of the gas [Pa s].
    ambient_pressure : absolute [Pa].

    Returns
    -------
    Pressure before the hole less the ambient pressure [Pa]; never a difference of two absolute pressures.

    Notes
    -----
    m = Cd A p M sqrt(gamma Mw/(R T)) sqrt(1 + a M^2), a = (gamma - 1)/2, Cd = 1/sqrt(K_inf + K_lam/Re), Re
    = 4 m/(pi d mu). That is a quadratic in the square of the exit Mach number M. Then gauge = p ((1 + a
    M^2)^(gamma/(gamma - 1)) - 1) up to M = 1, and beyond that (choked) the upstream pressure is
    proportional to m/Cd. For small flows it becomes K rho u^2/2, and 0 at 0.

    Choked air: the mass flow per area, 0.0404 p0/sqrt(T0), is the textbook figure for gamma = 1.4.

    >>> area = pi / 4.0 * 1e-3**2
    >>> flow = 0.0404 * 3e5 / 300.0**0.5 * area
    >>> p0 = gas_pressure(flow, 1e-3, 1.0, 0.0, 300.0, 0.028965, 1.4, 1.8e-5, 1e5) + 1e5
    >>> abs(p0 / 3e5 - 1.0) < 2e-3
    True

    References
    ----------
    Isentropic nozzle flow: any text on gas dynamics, for example A. H. Shapiro 1953. Cd: see
    `loss_coefficient`.
    """
    flow = mass_flow if mass_flow >= 0.0 else -mass_flow
    flow = flow if flow < _FASTEST else _FASTEST
    d = diameter if diameter > 1e-9 else 1e-9
    g = gamma if gamma > 1.0001 else 1.0001
    a = 0.5 * (g - 1.0)
    pull = _QUARTER_PI * d * d * (ambient_pressure if ambient_pressure > 1.0 else 1.0)
    inertia = g * molar_mass * pull * pull
    ideal_squared = flow * (k_inf * flow + k_lam * _QUARTER_PI * d * viscosity)  # (m/Cd)^2
    s = ideal_squared * GAS_CONSTANT * temperature / (inertia if inertia > 1e-60 else 1e-60)
    if s <= 0.0:
        return 0.0
    mach_squared = 2.0 * s / (1.0 + sqrt(1.0 + 4.0 * a * s))  # s = M^2 (1 + a M^2)
    x = a * mach_squared
    y = 0.5 * g * mach_squared
    if y < _SLOW:  # a hundred pascals: (1 + x)^(y/x) - 1 as a binomial series, exact there, and quicker
        rest = 1.0 + (y - 2.0 * x) / 3.0 * (1.0 + 0.25 * (y - 3.0 * x))
        gauge = ambient_pressure * y * (1.0 + 0.5 * (y - x) * rest)
    elif mach_squared <= 1.0:
        gauge = ambient_pressure * expm1(y / x * log1p(x))
    else:
        gauge = ambient_pressure * ((1.0 + a) ** (y / x) * sqrt(s / (1.0 + a)) - 1.0)
    return gauge if mass_flow >= 0.0 else -gauge
