"""Whole numbers given on the command line."""

from burnsim.errors import InputError


def whole(text: str, option: str, low: int = 0, high: int | None = None) -> int:
    """Read a whole number.

    Parameters
    ----------
    text : as it was given
    option : what it is for; errors name it
    low, high : allowed, both included; default from 0 without an end

    >>> whole("512", "--burns")
    512
    """
    number = int(text) if text.strip().isdecimal() else None
    if number is None or number < low or (high is not None and number > high):
        least = f"from {low}" if high is None else f"from {low} to {high}"
        raise InputError(option, text, f"is not a whole number {least}", f"write it like {option} 512")
    return number
