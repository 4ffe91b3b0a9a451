r"""Flow through small holes and slots in thin walls, from creeping flow to choking.

One law serves gas and liquid:

.. math:: \Delta p = \frac{\rho u^2}{2} \left( K_\infty + \frac{K_\mathrm{lam}}{\mathrm{Re}} \right)

Its low limit is exact creeping flow through a hole (Sampson) in series with a tube (Poiseuille); its high limit is the
sharp hole or the short tube.
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
    r"""Loss coefficient of a hole at high Reynolds number, by its length over its diameter.

    Parameters
    ----------
    length_ratio : wall thickness over hole diameter, L/d [-], 0 to 10.

    Returns
    -------
    Loss coefficient [-], from :math:`1/0.61^2` for a sharp thin plate down to that of a short tube in which the jet
    re-attaches.

    Notes
    -----
    With :math:`r = L/d`,

    .. math:: K_\infty = \frac{1}{(0.827 - 0.0085 r)^2}
        + \left( \frac{1}{0.61^2} - \frac{1}{0.827^2} \right) \frac{\tau(r)}{\tau(0)}

    and the re-attachment function of thick-edged orifices

    .. math:: \tau = (2.4 - r)\, 10^{-\varphi}, \quad \varphi = 0.25 + \frac{0.535 r^8}{0.05 + r^7}

    0 beyond 2.4. The ends are the published ones; scaling :math:`\tau` to meet both is ours.

    >>> round(inertial_loss(0.0) ** -0.5, 3)
    0.61
    >>> round(inertial_loss(2.0) ** -0.5, 2)
    0.81

    References
    ----------
    Short tube: A. Lichtarowicz, R. K. Duggins, E. Markland 1965, J. Mech. Eng. Sci. 7, 210. Re-attachment: I. E.
    Idelchik, Handbook of Hydraulic Resistance, thick-edged orifice (diagram 4-18 in the third edition; from memory,
    unverified). Thin plate 0.61: standard value.
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
    r"""Product of loss coefficient and Reynolds number of a hole in creeping flow.

    Parameters
    ----------
    length_ratio : wall thickness over hole diameter, L/d [-].

    Returns
    -------
    Product [-] :math:`K_\mathrm{lam} = K\, \mathrm{Re}`.

    Notes
    -----
    .. math:: K_\mathrm{lam} = 12 \pi + 64 L/d

    Sampson's hole, :math:`Q = d^3 \Delta p / (24 \mu)`, in series with Poiseuille's tube.

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
    r"""Loss coefficient of a hole, by the speed over its full area.

    Parameters
    ----------
    reynolds : :math:`u d/\nu` with that speed [-].
    length_ratio : wall thickness over hole diameter, L/d [-].

    Returns
    -------
    Coefficient K [-] of :math:`\Delta p = K \rho u^2/2`.

    Notes
    -----
    .. math:: K = K_\infty(L/d) + K_\mathrm{lam}(L/d) / \mathrm{Re}

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
    r"""Discharge coefficient of a hole, the flow over that of an ideal hole of the same area.

    Parameters
    ----------
    reynolds : :math:`u d/\nu` with the speed u over the full area of the hole [-].
    length_ratio : wall thickness over hole diameter, L/d [-].

    Returns
    -------
    Coefficient [-], :math:`C_d = 1/\sqrt K`.

    >>> round(discharge_coefficient(1e5, 0.0), 3)
    0.61

    References
    ----------
    See `loss_coefficient`.
    """
    return 1.0 / sqrt(loss_coefficient(reynolds, length_ratio))


@closure(reynolds=(10.0, 2e4), length_ratio=(2.0, 10.0))
def lichtarowicz_discharge(reynolds: float, length_ratio: float) -> float:
    r"""Discharge coefficient of a long orifice, an independent formula to check the others by.

    Parameters
    ----------
    reynolds : :math:`(d/\nu) \sqrt{2 \Delta p/\rho}`, that is with the theoretical velocity [-], 10 to 20 000.
    length_ratio : L/d [-], 2 to 10.

    Returns
    -------
    Cd [-].

    Notes
    -----
    With :math:`r = L/d` and :math:`C_u = 0.827 - 0.0085 r`,

    .. math:: \frac{1}{C_d} = \frac{1}{C_u} + \frac{20}{\mathrm{Re}} (1 + 2.25 r)
        - \frac{0.005 r}{1 + 7.5\, (\log_{10} 0.00015\, \mathrm{Re})^2}

    The theoretical velocity is the real one over :math:`C_d`: a real Re of 100 at :math:`r = 4` is a theoretical one of
    218.

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
    r"""Pressure lost by a flow of constant density through a hole or slot.

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
    .. math:: \Delta p = \frac{\rho}{2} \left( K_\infty u |u| + K_\mathrm{lam} \frac{\nu}{d} u \right)

    which is :math:`K \rho u^2/2` with :math:`K = K_\infty + K_\mathrm{lam}/\mathrm{Re}`. Odd in u.

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
def pressure_drop_slope(
    velocity: float, density: float, viscosity: float, diameter: float, k_inf: float, k_lam: float
) -> float:
    r"""Slope of `pressure_drop` by the velocity.

    Parameters
    ----------
    velocity : flow over the full area of the opening [m/s].
    density : of the fluid [kg/m3].
    viscosity : of the fluid [Pa s].
    diameter : of the hole, or hydraulic diameter of the slot [m].
    k_inf, k_lam : from `inertial_loss` and `laminar_loss` [-].

    Returns
    -------
    Slope [Pa s/m].

    Notes
    -----
    .. math:: \frac{d \Delta p}{du} = \rho K_\infty |u| + \frac{\rho}{2} K_\mathrm{lam} \frac{\nu}{d}

    >>> round(pressure_drop_slope(-1.0, 1000.0, 0.0, 1e-3, 2.0, 40.0), 9)
    2000.0

    References
    ----------
    See `loss_coefficient`.
    """
    fast = abs(velocity)
    size = diameter if diameter > 1e-12 else 1e-12
    return density * k_inf * (fast if fast < _FASTEST else _FASTEST) + 0.5 * k_lam * viscosity / size


@closure(diameter=(1e-5, 0.1), density=(0.01, 2e4), viscosity=(1e-7, 1.0))
def velocity(
    pressure_drop: float, density: float, viscosity: float, diameter: float, k_inf: float, k_lam: float
) -> float:
    r"""Velocity of a flow of constant density through a hole or slot: the exact inverse of `pressure_drop`.

    Parameters
    ----------
    pressure_drop : across the opening [Pa]; its sign is the sign of the result.
    density, viscosity, diameter, k_inf, k_lam : as in `pressure_drop` [kg/m3, Pa s, m, -, -].

    Returns
    -------
    Velocity over the full area of the opening [m/s].

    Notes
    -----
    .. math:: u = \frac{4 \Delta p/\rho}{b + \sqrt{b^2 + 8 K_\infty |\Delta p|/\rho}}, \quad b = K_\mathrm{lam}\, \nu/d

    The root is written without cancellation, so that it passes smoothly through zero with the laminar slope.

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
    mass_flow=(0.0, 1e-2), diameter=(1e-5, 0.1), temperature=(200.0, 2500.0), molar_mass=(2e-3, 0.3),
    gamma=(1.01, 1.67), viscosity=(1e-7, 1e-3), ambient_pressure=(1e4, 1e6),
)  # fmt: skip
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
    r"""Gauge pressure upstream that drives a flow of gas through one hole to the open air.

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
    With :math:`a = (\gamma - 1)/2`, :math:`C_d = (K_\infty + K_\mathrm{lam}/\mathrm{Re})^{-1/2}` and
    :math:`\mathrm{Re} = 4 \dot m / (\pi d \mu)`,

    .. math:: \dot m = C_d A p M \sqrt{\frac{\gamma M_w}{R T}} \sqrt{1 + a M^2}

    is a quadratic in the square of the exit Mach number M. Up to M = 1 the gauge pressure is

    .. math:: p \left( (1 + a M^2)^{\gamma/(\gamma - 1)} - 1 \right)

    and beyond that (choked) the upstream pressure is proportional to :math:`\dot m / C_d`. For small flows it becomes
    :math:`K \rho u^2/2`, and 0 at 0.

    Choked air: the mass flow per area, :math:`0.0404\, p_0/\sqrt{T_0}`, is the textbook figure for
    :math:`\gamma = 1.4`.

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
