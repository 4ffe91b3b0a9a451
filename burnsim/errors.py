"""Exceptions and warnings of the library, and the near-match helper that they use."""

from collections.abc import Iterable
from difflib import get_close_matches

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
    """Find the choice that a misspelt word most likely meant.

    Parameters
    ----------
    word : as written; case, and hyphens, underscores or spaces, do not count.
    choices : the words that are allowed.

    Returns
    -------
    The nearest choice as it is spelt there, or None when none is near.

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
    found = get_close_matches(_plain(word), list(spelt), n=1, cutoff=0.6)
    return spelt[found[0]] if found else None


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
