"""Air drawn in by flames, and the temperature of the mixture.

Flames draw air like laminar sheets (`burnsim.closures.sheet_spread`). Laws of turbulent line plumes, extended down to
flames of centimetres (Grashof number 1e4 to 1e6), draw about three times too much air; with that the example's pot does
not boil.
"""

from math import erf, exp, pi, sqrt

from burnsim.bounds import at_least, within
from burnsim.closures._validity import closure
from burnsim.constants import DATUM, GRAVITY

OPENING_DISCHARGE = 0.7
"""Discharge coefficient of an opening in a thin wall through which air and gas pass both ways [-]."""

LAYER_EXCHANGE = 0.0634
"""The integral of `layer_draught`; 1/4 without the friction of the air [-]."""

_THIRD = 1.0 / 3.0
_ERF_SLOPE = 2.0 / sqrt(pi)  # of the error function at 0
_COLDEST = 50.0


@closure(area=(0.0, 1.0), height=(1e-3, 2.0), density=(0.1, 2.0), T_gas=(400.0, 2400.0), T_ambient=(230.0, 330.0))
def opening_draught(area: float, height: float, density: float, T_gas: float, T_ambient: float) -> float:
    r"""Air that comes in through the lower part of an upright opening while hot gas leaves through its upper part.

    Parameters
    ----------
    area : of the opening [m2].
    height : of the opening [m].
    density : of the air [kg/m3].
    T_gas, T_ambient : of the gas behind the opening and of the air [K].

    Returns
    -------
    Mass flow [kg/s]: about :math:`0.5 A \sqrt H` in SI units for a room on fire.

    Notes
    -----
    Bernoulli on both sides of the neutral level, with :math:`r = T_\mathrm{gas}/T_a` and :math:`C_d = 0.7`:

    .. math:: \dot m = \tfrac{2}{3} C_d \rho A \sqrt{\frac{2 g H (1 - 1/r)}{(1 + r^{1/3})^3}}

    No friction: for openings of millimetres an upper estimate.

    >>> round(opening_draught(1.0, 1.0, 1.2, 1500.0, 293.15), 2)
    0.5

    References
    ----------
    K. Kawagoe 1958, Building Research Institute (Japan) Report 27; J. Prahl, H. W. Emmons 1975, Combust. Flame 25, 369
    (from memory, unverified).
    """
    ratio = within(T_gas / at_least(T_ambient, 1.0), 1.0, 100.0)
    drive = 2.0 * GRAVITY * at_least(height, 0.0) * (1.0 - 1.0 / ratio) / (1.0 + ratio**_THIRD) ** 3
    return 2.0 / 3.0 * OPENING_DISCHARGE * density * at_least(area, 0.0) * sqrt(drive)


@closure(height=(1e-3, 0.1), density=(0.1, 2.0), density_gas=(0.05, 1.0), viscosity=(1e-5, 1e-4))
def layer_draught(height: float, density: float, density_gas: float, viscosity: float) -> float:
    r"""Hot gas that friction lets out of the flat space between a burning pool and a pot, over air that comes in below.

    Parameters
    ----------
    height : of the space [m].
    density, density_gas : of air as warm as the pool's surface, and of the hot gas [kg/m3].
    viscosity : of the hot gas [Pa s].

    Returns
    -------
    Mass flow [kg/s], whatever the width of the pool.

    Notes
    -----
    Creeping flow of two layers between plates: gas of thickness h, made evenly over a disc, spreads under the pot, and
    as much air comes in below. Each layer rubs on its plate and on the interface. From the rim, where h = 0, to the
    axis, where h = H,

    .. math:: \dot m = \frac{\pi \rho_g (\rho - \rho_g) g H^4}{3 \mu_g} I, \quad
        I = \int_0^1 \frac{dx}{x^{-3} + (\nu/\nu_g) (1 - x)^{-3}}

    and I = 0.0634 for air of 345 K under gas of 1500 K, :math:`\nu/\nu_g = 0.086` (the tests integrate it). The radius
    of the pool drops out.

    Between plates 10 mm apart a fifth of the air that 300 W of methanol need, 0.1 g/s; at 30 mm eighty times as much:

    >>> round(1e6 * layer_draught(0.01, 1.02, 0.235, 5.5e-5), 0)
    22.0

    References
    ----------
    O. Reynolds 1886, Phil. Trans. R. Soc. 177, 157 (creeping flow between plates); derived above.
    """
    head = (density - density_gas) * GRAVITY * at_least(height, 0.0) ** 4
    return LAYER_EXCHANGE * pi * density_gas * head / (3.0 * at_least(viscosity, 1e-6))


@closure(height=(0.0, 0.3), diameter=(1e-3, 0.5), conductivity=(0.01, 0.2), buoyancy=(0.0, 1e12))
def vessel_conductance(height: float, diameter: float, conductivity: float, buoyancy: float) -> float:
    r"""Conductance between the gas in a vessel in which a flame burns and the vessel's wall above the fuel.

    Parameters
    ----------
    height : of the wall above the fuel [m].
    diameter : of the vessel [m].
    conductivity : of gas half as hot as both, with the wall [W/m/K].
    buoyancy : Rayleigh number of that gas beside the wall over the cube of the height [1/m3].

    Returns
    -------
    Conductance [W/K]; 0 without a wall. Each gas in the vessel has its share of it (`light_share`).

    Notes
    -----
    The flame's gas rises on one side while air comes down on the other, and both stray: the wall meets either in its
    share. Its film is that of natural convection along an upright plate,

    .. math:: G = 0.515\, \pi D k\, \mathrm{Ra}_H^{1/4}

    without the term for its edges, since the lip is heated from the flame's edge as it is.

    Flames of methanol resolved in three dimensions in a square well of 46 mm, 25 mm deep, give its wall of 350 K 63 and
    62 W, whether 500 or 800 W of vapour leave the surface: the air that comes down burns 300 W. Gas fills two thirds of
    the mouth. Resolved round an axis, as a ring of air about a column of gas, they give it half as much: so little
    touches the wall.

    Gas of 1200 K beside a wall of 420 K, in that well, has 13 W/m2/K:

    >>> round(vessel_conductance(0.025, 0.052, 0.0578, 9.1e8), 4)
    0.0531

    References
    ----------
    S. W. Churchill, H. H. S. Chu 1975, eq. 9, for air.
    """
    if height <= 0.0 or diameter <= 0.0:
        return 0.0
    rayleigh = at_least(buoyancy, 0.0) * height * height * height
    return 0.515 * pi * diameter * conductivity * sqrt(sqrt(rayleigh))


@closure(distance=(0.0, 0.1), speed=(0.01, 3.0), diffusivity=(1e-6, 1e-4), density=(0.1, 2.0))
def vapour_layer(distance: float, speed: float, diffusivity: float, density: float) -> float:
    r"""Air along a wall within the depth to which vapour has spread that seeps out of it further down.

    Parameters
    ----------
    distance : from where the vapour comes out [m].
    speed : of the air along the wall there [m/s]; it has grown with the root of the distance.
    diffusivity : of the vapour in air [m2/s].
    density : of the air [kg/m3].

    Returns
    -------
    Mass flow per width [kg/s/m] in the depth b at which the vapour has fallen to 1/e of what it is at the wall.

    Notes
    -----
    The vapour spreads as a Gaussian, :math:`b = \sqrt{4 D t}`, in the time :math:`t = 2 x/U` on the way:

    .. math:: \dot m' = \rho U b = \rho \sqrt{8 D U x}

    The share of the vapour within the mass flow m' y is erf(y).

    >>> round(1e3 * vapour_layer(0.01, 0.1, 1.5e-5, 1.0), 2)
    0.35

    References
    ----------
    J. Crank 1975, The Mathematics of Diffusion, eq. 2.7 (instantaneous plane source beside a wall).
    """
    return density * sqrt(at_least(8.0 * diffusivity * speed * distance, 0.0))


@closure(own=(0.0, 1e3), vapour=(0.0, 1e3))
def flame_catch(own: float, vapour: float) -> float:
    r"""Share of the vapour in the air along a wall that burns in a flame which draws that air.

    Parameters
    ----------
    own : air that makes the flame's own vapour just flammable, over that of `vapour_layer` [-].
    vapour : the same of the vapour in that layer [-].

    Returns
    -------
    Share [-], 0 without a flame.

    Notes
    -----
    A flame draws in the air next to the wall on which it stands first, and burns what is in it as long as all that it
    has taken so far, its own vapour counted, is no leaner than the lower limit: there it is as cold as flames live. So
    it takes the part y of the layer with

    .. math:: y = o + v\, \mathrm{erf}(y)

    and erf(y) of the vapour. Without a flame of any strength (o to 0) that is nothing, unless the layer is flammable
    by itself, :math:`2 v/\sqrt{\pi} > 1`; then it is lit, and burns but for its lean fringe. The largest root is found
    by Newton's method from above, where the equation is convex.

    >>> round(flame_catch(0.5, 0.0), 4), round(flame_catch(1e-9, 0.5), 4), round(flame_catch(1e-9, 2.0), 3)
    (0.5205, 0.0, 0.995)

    References
    ----------
    H. Le Chatelier 1891, Annales des Mines 19, 388 (limits of mixtures); derived above.
    """
    if own <= 0.0:
        return 0.0
    part = own + vapour
    for _ in range(60):
        excess = part - own - vapour * erf(part)
        if excess <= 1e-14 * part:
            break
        part -= excess / at_least(1.0 - _ERF_SLOPE * vapour * exp(-part * part), 1e-9)
    return erf(part)


@closure(enthalpy_rise=(0.0, 4e6), product_share=(0.0, 1.0), T_ambient=(230.0, 330.0))
def gas_temperature(
    enthalpy_rise: float,
    product_share: float,
    product_heat: tuple[float, float],
    air_heat: tuple[float, float],
    T_ambient: float,
) -> float:
    r"""Temperature of burnt gas mixed with air, from its enthalpy.

    Parameters
    ----------
    enthalpy_rise : above ambient temperature, per mass of all the gas [J/kg].
    product_share : mass share of stoichiometric combustion products in it [-]; the rest is air.
    product_heat, air_heat : (a, b) of their enthalpies above 298.15 K, :math:`a \vartheta + b \vartheta^2/2` [J/kg]
        with :math:`\vartheta = T - 298.15` K.
    T_ambient : [K].

    Returns
    -------
    Temperature [K], at least 50.

    Notes
    -----
    With a and b mixed by mass, and H the rise of enthalpy plus that of the mixture at ambient temperature,

    .. math:: a \vartheta + \tfrac{1}{2} b \vartheta^2 = H, \quad \vartheta = \frac{2 H}{a + \sqrt{a^2 + 2 b H}}

    a root free of cancellation.

    >>> round(gas_temperature(1.0e6, 1.0, (1000.0, 0.0), (1000.0, 0.0), 300.0), 9)
    1300.0

    References
    ----------
    Energy balance.
    """
    share = within(product_share, 0.0, 1.0)
    a = share * product_heat[0] + (1.0 - share) * air_heat[0]
    b = share * product_heat[1] + (1.0 - share) * air_heat[1]
    ambient = T_ambient - DATUM
    enthalpy = enthalpy_rise + ambient * (a + 0.5 * b * ambient)
    rise = 2.0 * enthalpy / at_least(a + sqrt(at_least(a * a + 2.0 * b * enthalpy, 0.0)), 1e-9)
    return at_least(DATUM + rise, _COLDEST)
