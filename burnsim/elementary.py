"""Elementary functions made of one exponential and one logarithm.

The C library takes 20 to 30 ns for a power, a cube root or a hyperbolic tangent, and 13 ns for an exponential and a
logarithm together; a burn asks for some hundred thousand. What is lost is a few units of the last place. Both engines
run this text, so that plain and compiled burns stay the same. A trial step may reach what is no number: it must come
out of every law as such, for the step to be refused.
"""

from math import exp, log, sqrt


def power(x: float, n: float) -> float:
    """A number to a power that is not whole; 0 for what is not positive, and NaN of NaN.

    >>> abs(power(7.0, 0.67) / 7.0**0.67 - 1.0) < 1e-15, power(-1.0, 0.67), power(float("nan"), 0.67)
    (True, 0.0, nan)
    """
    return exp(n * log(x)) if x > 0.0 else x - x


def third_root(x: float) -> float:
    """The cube root of a number; 0 for what is not positive, and NaN of NaN.

    >>> abs(third_root(27.0) / 3.0 - 1.0) < 1e-15, third_root(-1.0), third_root(float("nan"))
    (True, 0.0, nan)
    """
    return exp(log(x) / 3.0) if x > 0.0 else x - x


def tanh_up(x: float) -> float:
    """The hyperbolic tangent of a number that is not negative, to 1e-16.

    >>> from math import tanh
    >>> max(abs(tanh_up(0.01 * k) - tanh(0.01 * k)) for k in range(2000)) < 3e-16, tanh_up(1e300)
    (True, 1.0)
    """
    left = exp(-2.0 * x)
    return (1.0 - left) / (1.0 + left)


def served(want: float) -> float:
    """Share of a want that a supply of 1 serves: 1/(1 + want^4)^(1/4).

    Smooth, and within 16 % of the smaller of 1 and 1/want. `want*served(want)` is what is supplied.

    >>> [round(served(want), 3) for want in (0.0, 0.5, 1.0, 2.0, 10.0)]
    [1.0, 0.985, 0.841, 0.492, 0.1]
    """
    square = want * want
    return 1.0 / sqrt(sqrt(1.0 + square * square))


def served_sharply(want: float) -> float:
    """The same with eighth powers, within 9 %: 1/(1 + want^8)^(1/8).

    >>> [round(served_sharply(want), 3) for want in (0.0, 0.5, 1.0, 2.0, 10.0)]
    [1.0, 1.0, 0.917, 0.5, 0.1]
    """
    square = want * want
    fourth = square * square
    return 1.0 / sqrt(sqrt(sqrt(1.0 + fourth * fourth)))


def hypotenuse(x: float, y: float) -> float:
    """The root of the sum of two squares, of numbers that are not negative; without a root where the second is 0.

    >>> hypotenuse(3.0, 4.0), hypotenuse(0.1, 0.0)
    (5.0, 0.1)
    """
    return sqrt(x * x + y * y) if y > 0.0 else x
