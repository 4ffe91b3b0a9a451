"""What every result can be asked for: words, plain values, a picture.

Results know numbers only; the words and the pictures stand in layers above them (`burnsim.report`, `burnsim.plots`). A
result that is asked for them finds these by name when it is asked: this is the one place where a lower layer reaches
up, and the price of `result.summary()`.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import pandas as pd
    from matplotlib.axes import Axes


WIDEST = 100  # letters of a line that stands for a result


class Told:
    """A result that answers in words and as plain values; printed, it is its words."""

    def __repr__(self) -> str:
        """What it is, in one line."""
        words = self.summary().partition("\n")[0]
        return f"<{type(self).__name__}: {words if len(words) <= WIDEST else words[: WIDEST - 3] + '...'}>"

    def __str__(self) -> str:
        """The result in words, in SI with its habits."""
        return self.summary()

    def _repr_html_(self) -> str:
        """The result in a notebook: drawing and key figures where it has them, or its words."""
        words: Any = import_module("burnsim.report")
        return str(words.html(self))

    def summary(self, units: str = "si") -> str:
        """The result in words, in "si" or "us" units."""
        words: Any = import_module("burnsim.report")
        return str(words.summary(self, units))

    def to_dict(self) -> dict[str, Any]:
        """The result as plain values in SI, units in the names of its keys; None where something did not happen.

        They are texts, numbers, flags, None, and lists and dicts of them: ready for JSON.
        """
        words: Any = import_module("burnsim.report")
        values: dict[str, Any] = words.to_dict(self)
        return values


class Tabled:
    """A result that is a table."""

    def to_dataframe(self) -> "pd.DataFrame":
        """The rows of the result as a pandas DataFrame; needs pandas.

        In SI or with the unit in a column's name, as in `to_dict`; missing where something did not happen.
        """
        import pandas as pd

        words: Any = import_module("burnsim.report")
        return pd.json_normalize(words.rows(self))


class Drawn:
    """A result that draws itself."""

    def plot(self, *, ax: "Axes | None" = None, units: str = "si") -> "Axes":
        """The picture that tells most of the result, in "si" or "us" units, on axes that are given or on new ones."""
        pictures: Any = import_module("burnsim.plots")
        axes: Axes = pictures.draw(self, ax, units)
        return axes
