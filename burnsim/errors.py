"""Exceptions and warnings of the library, and the refusals that many places share."""

import math
from collections.abc import Callable, Iterable, Mapping
from difflib import get_close_matches
from typing import Any, TypeGuard

_LONGEST = 60
_LONGEST_NAME = 200


class BurnsimError(Exception):
    """Base of every error that the library raises on purpose."""


class InputError(BurnsimError, ValueError):
    """A value that was given cannot be used; the sentence says which, why, and what to do.

    Parameters
    ----------
    field : what was given, as a dotted path where there is one ("burner.jets.diameter").
    value : what it was.
    problem : what is wrong, a predicate with the allowed range: "is out of range; allowed 0.1 mm to 5 mm".
    remedy : what to do instead: "give the hole diameter, for example '0.9 mm'".

    >>> print(InputError("pot.water", -1.0, "is below 0", "give a volume, for example '600 ml'"))
    pot.water = -1.0 is below 0: give a volume, for example '600 ml'
    >>> print(InputError("pot.metal", "tin", "is not a known metal", "did you mean 'titanium'?"))
    pot.metal = 'tin' is not a known metal: did you mean 'titanium'?
    """

    def __init__(self, field: str, value: object, problem: str, remedy: str) -> None:
        super().__init__(field, value, problem, remedy)
        self.field = field
        self.value = value
        self.problem = problem
        self.remedy = remedy

    def __str__(self) -> str:
        """Return one sentence: the field, its value, the problem and the remedy."""
        name = _named(self.field)
        subject = name if self.value is None else f"{name} = {_shown(self.value)}"
        return f"{subject} {self.problem}: {self.remedy}"


class SolverError(BurnsimError):
    """A burn could not be solved; the sentence says where it stopped."""


class ValidityWarning(UserWarning):
    """A law was used outside the range in which it holds."""


def nearest(word: str, choices: Iterable[str]) -> str | None:
    """Find the choice that a misspelt word most likely meant, as it is spelt there, or None when none is near.

    Case, and hyphens, underscores or spaces, do not count. A choice with which the word begins comes before one that is
    only somewhat like it: "boil_time" means "boil" rather than "boil_volume".

    >>> nearest("etanol", ["methanol", "ethanol", "water"])
    'ethanol'
    >>> nearest("Isopropyl", ["methanol", "water"]) is None
    True

    References
    ----------
    Ratcliff and Obershelp's likeness as in Python's difflib, from 0.6 upward.
    """
    spelt: dict[str, str] = {}
    for choice in choices:
        spelt.setdefault(_plain(choice), choice)
    meant = _plain(word)
    found = get_close_matches(meant, list(spelt), n=1, cutoff=0.6)
    begun = [one for one in spelt if one and meant.startswith(f"{one} ")]
    if begun and not get_close_matches(meant, found, cutoff=0.8) and not any(one.startswith(meant) for one in found):
        found = [max(begun, key=len)]
    return spelt[found[0]] if found else None


def guess(word: object, choices: Iterable[str], otherwise: str) -> str:
    """The remedy for a misspelt word: the choice that was most likely meant, or what to do where none is near.

    >>> guess("etanol", ["methanol", "ethanol"], "choose one"), guess("tin", ["brass"], "choose one")
    ("did you mean 'ethanol'?", 'choose one')
    """
    found = nearest(str(word), choices)
    return f"did you mean {found!r}?" if found else otherwise


def unknown(
    field: str,
    value: object,
    known: Iterable[str],
    problem: str = "is not known",
    otherwise: str = "choose one of them",
    word: object = None,
    show: Callable[[str], str] = str,
) -> InputError:
    """The error for a word that is not one of those that are known; `word` is what was misspelt, if not the value.

    The words are shown as they are, or in quotes by `repr`.

    >>> print(unknown("pot.metal", "titan", ["steel", "titanium"]))
    pot.metal = 'titan' is not known; allowed: steel, titanium: did you mean 'titanium'?
    """
    choices = list(known)
    meant = value if word is None else word
    remedy = guess(meant, choices, otherwise) if isinstance(meant, str) else otherwise
    return InputError(field, value, f"{problem}; allowed: {', '.join(map(show, choices))}", remedy)


def is_number(value: object) -> TypeGuard[int | float]:
    """Whether a value is a finite number; true and false are not.

    >>> is_number(1.5), is_number(True), is_number(math.nan), is_number("1")
    (True, False, False, False)
    """
    return isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < math.inf


def check_whole(
    field: str,
    value: object,
    low: int,
    high: float = math.inf,
    remedy: str = "leave it out",
    problem: str = "",
) -> None:
    """Refuse what is not a whole number from `low` to `high`; true and false are not.

    >>> check_whole("draws", 8.5, 0, 4096)
    Traceback (most recent call last):
        ...
    burnsim.errors.InputError: draws = 8.5 is not a whole number from 0 to 4096: leave it out
    """
    if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
        span = f"{low} to {high}" if high < math.inf else f"{low} upward"
        told = f"{problem}; allowed {span}" if problem else f"is not a whole number from {span}"
        raise InputError(field, value, told, remedy)


def as_list(field: str, values: object, example: str) -> list[Any]:
    """What is in a list, tuple or array; a text, a table or a single value is refused.

    >>> as_list("fuels", "ethanol", '["ethanol"]')
    Traceback (most recent call last):
        ...
    burnsim.errors.InputError: fuels = 'ethanol' is not a list: write ["ethanol"], say
    """
    if isinstance(values, str | bytes | Mapping) or not isinstance(values, Iterable):
        raise InputError(field, values, "is not a list", f"write {example}, say")
    return list(values)


def _plain(word: str) -> str:
    """Return a word without case and word separators."""
    return " ".join(word.casefold().replace("_", " ").replace("-", " ").split())


def _named(field: str) -> str:
    """Return a field's name on one line and in printable characters, cut when it is long."""
    text = str(field)
    if not text.isprintable():
        text = "".join(one if one.isprintable() else ascii(one)[1:-1] for one in text)
    return text if len(text) <= _LONGEST_NAME else text[: _LONGEST_NAME - 3] + "..."


def _shown(value: object) -> str:
    """Return a value as it is written, cut when it is long."""
    try:
        text = repr(value)
    except Exception as error:  # a value that cannot even be shown must not hide the error about it
        text = f"<{type(value).__name__}, not printable: {type(error).__name__}>"
    return text if len(text) <= _LONGEST else text[: _LONGEST - 3] + "..."
