"""Thermal radiation between grey surfaces."""

from math import sqrt

from burnsim.bounds import at_least, within
from burnsim.closures._validity import closure
from burnsim.constants import STEFAN_BOLTZMANN

_HOTTEST = 1e5
_LARGEST = 1e6


@closure(emissivity=(0.0, 1.0), T_hot=(0.0, 3000.0), T_cold=(0.0, 3000.0))
def radiation_exchange(emissivity: float, T_hot: float, T_cold: float) -> float:
    r"""Net heat flux radiated from one temperature to another.

    Parameters
    ----------
    emissivity : effective, of the pair [-]; that of the surface itself when the other side is wide.
    T_hot, T_cold : absolute temperatures [K].

    Returns
    -------
    Heat flux [W/m2], negative when `T_cold` is the hotter.

    Notes
    -----
    .. math:: \dot q'' = \varepsilon \sigma (T_\mathrm{hot}^4 - T_\mathrm{cold}^4)

    factored so that equal temperatures give exactly 0.

    >>> round(radiation_exchange(1.0, 1000.0, 0.0))
    56704

    References
    ----------
    Any text on heat transfer; the constant of Stefan and Boltzmann is that of CODATA 2018.
    """
    return linear_coefficient(emissivity, T_hot, T_cold) * (T_hot - T_cold)


@closure(emissivity=(0.0, 1.0), T_hot=(0.0, 3000.0), T_cold=(0.0, 3000.0))
def linear_coefficient(emissivity: float, T_hot: float, T_cold: float) -> float:
    r"""Heat transfer coefficient of radiation, exact between two temperatures.

    Parameters
    ----------
    emissivity : effective, of the pair [-].
    T_hot, T_cold : absolute temperatures [K].

    Returns
    -------
    h [W/m2/K] with :math:`\dot q'' = h (T_\mathrm{hot} - T_\mathrm{cold})`.

    Notes
    -----
    .. math:: h = \varepsilon \sigma (T_\mathrm{hot} + T_\mathrm{cold}) (T_\mathrm{hot}^2 + T_\mathrm{cold}^2)

    which is :math:`4 \varepsilon \sigma T^3` for equal temperatures.

    >>> round(linear_coefficient(1.0, 300.0, 300.0), 2)         # the familiar 6 W/m2/K of a room
    6.12

    References
    ----------
    Any text on heat transfer.
    """
    hot = within(T_hot, 0.0, _HOTTEST)
    cold = within(T_cold, 0.0, _HOTTEST)
    return emissivity * STEFAN_BOLTZMANN * (hot + cold) * (hot * hot + cold * cold)


@closure(length=(1e-4, 1.0), radius=(1e-3, 1.0))
def line_to_disc_view(length: float, radius: float) -> float:
    r"""Share of the radiation of an upright line that meets the disc at its foot.

    Parameters
    ----------
    length : of the line, evenly bright [m].
    radius : of the disc, the line standing on its middle [m].

    Returns
    -------
    Share [-], :math:`\tfrac{1}{2} (1 - (\sqrt{L^2 + R^2} - R)/L)`: the mean of the solid angle
    :math:`\tfrac{1}{2} (1 - z/\sqrt{z^2 + R^2})` of a disc seen from a height z.

    A short line sees half:

    >>> round(line_to_disc_view(1e-4, 0.1), 3), round(line_to_disc_view(0.15, 0.025), 3)
    (0.5, 0.076)

    References
    ----------
    Solid angle of a disc on its axis, integrated.
    """
    size = at_least(length, 1e-6)
    return 0.5 * (1.0 - (sqrt(size * size + radius * radius) - radius) / size)


@closure(radius=(1e-3, 1.0), other=(1e-3, 1.0), distance=(1e-4, 10.0))
def disc_to_disc_view(radius: float, other: float, distance: float) -> float:
    r"""Share of the radiation of a disc that meets another one, level with it and on its axis.

    Parameters
    ----------
    radius : of the disc that radiates [m].
    other : radius of the one that it meets [m].
    distance : between the two [m].

    Returns
    -------
    Share [-], of radii a and b at a distance L, as :math:`\tfrac{1}{2} (s - \sqrt{s^2 - 4 b^2/a^2})` without its
    difference of large numbers:

    .. math:: F = \frac{2 b^2/a^2}{s + \sqrt{s^2 - 4 b^2/a^2}}, \qquad s = 1 + \frac{L^2 + b^2}{a^2}

    Equal discs one radius apart see 38 % of each other:

    >>> round(disc_to_disc_view(0.1, 0.1, 0.1), 3)
    0.382

    References
    ----------
    Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, table 13.2, coaxial parallel disks; from memory.
    """
    size = within(radius, 1e-6, _LARGEST)
    gap, far = within(distance, 0.0, _LARGEST) / size, within(other, 1e-6, _LARGEST) / size
    total = 1.0 + gap * gap + far * far
    return 2.0 * far * far / (total + sqrt(total * total - 4.0 * far * far))


@closure(width=(1e-4, 1.0), distance=(1e-4, 10.0))
def strip_to_strip_view(width: float, distance: float) -> float:
    r"""Share of the radiation of a long strip that meets another one as wide, level with it and right opposite.

    Parameters
    ----------
    width : of either strip [m].
    distance : between the two [m].

    Returns
    -------
    Share [-], by crossed strings, without a difference of large numbers:

    .. math:: F = \sqrt{1 + H^2} - H = \frac{1}{\sqrt{1 + H^2} + H}, \qquad H = \frac{L}{w}

    Strips one width apart:

    >>> round(strip_to_strip_view(0.1, 0.1), 3)
    0.414

    References
    ----------
    H. C. Hottel, A. F. Sarofim 1967, Radiative Transfer, chapter 2; Incropera and DeWitt, table 13.1, parallel plates
    with midlines connected by perpendicular; from memory.
    """
    far = within(distance, 0.0, _LARGEST) / within(width, 1e-6, _LARGEST)
    return 1.0 / (sqrt(1.0 + far * far) + far)


@closure(emissivity=(0.0, 1.0), other=(0.0, 1.0), view=(0.0, 1.0))
def enclosed_emissivity(emissivity: float, other: float, view: float) -> float:
    r"""Effective emissivity of two alike grey faces that look at each other from the ends of an enclosure.

    Parameters
    ----------
    emissivity, other : of the two faces [-].
    view : share of the radiation of either that meets the other directly [-]; the rest meets the walls between.

    Returns
    -------
    Effective emissivity [-] of the pair, for `radiation_exchange`; 0 when either face emits nothing.

    Notes
    -----
    The walls between send back or on what meets them (reradiating: insulated, or in the mean as bright as half-way
    between the faces). Of two faces of equal area A:

    .. math:: \frac{1}{\varepsilon} = \frac{1}{\varepsilon_1} + \frac{1}{\varepsilon_2} - 2 + \frac{1}{\bar F},
        \qquad \bar F = F + \frac{1}{2/(1 - F)} = \frac{1 + F}{2}

    All walls count as one: through a deep enclosure less comes. Between black discs one radius apart this gives 0.69,
    and 0.59 at two radii, where the exact shares are 0.672 and 0.514 (P. Clausing 1932, Ann. Phys. 404, 961: rarefied
    gas in a tube is the same problem; from memory).

    The textbook's paint oven, two faces and a reradiating one, each 1 m wide, in a triangle: emissivities of 0.8 and
    0.4, 1200 and 500 K, 37 kW for each metre of its length:

    >>> round(radiation_exchange(enclosed_emissivity(0.8, 0.4, 0.5), 1200.0, 500.0) / 1e3)
    37

    References
    ----------
    Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, section 13.3.5 and example 13.5 (from memory);
    H. C. Hottel, A. F. Sarofim 1967, Radiative Transfer, chapter 3.
    """
    hot, cold = within(emissivity, 0.0, 1.0), within(other, 0.0, 1.0)
    through = 0.5 * (1.0 + within(view, 0.0, 1.0))
    product = hot * cold
    if product <= 0.0:
        return 0.0
    return product * through / (product * (1.0 - 2.0 * through) + (hot + cold) * through)
