"""Whole numbers given on the command line."""

from burnsim.errors import InputError


def whole(text: str, option: str) -> int:
    """Read a whole number from 0.

    >>> whole("512", "--burns")
    512
    """
    if not text.strip().isdecimal():
        raise InputError(option, text, "is not a whole number from 0", f"write it like {option} 512")
    return int(text)
