"""What a picture cannot draw is refused in a sentence that tells what to give instead."""

import inspect
from collections.abc import Iterator
from types import SimpleNamespace
from typing import Any

import pytest
from burners import burnt
from matplotlib import pyplot
from matplotlib.figure import Figure

import burnsim
from burnsim import InputError, plots

FURTHER: dict[str, Any] = {"flows": {"at": 10.0}, "sweep": {"variable": "boil"}, "sweep_map": {"variable": "boil"}}
FURTHER["sweep_panels"] = FURTHER["sweep"]
OF_THEIR_OWN = {"bands", "draw", "in_style", "save", "section"}
"""Pictures that check what they take themselves, or take numbers; and what is no picture."""
CUP = burnsim.Setup(
    burnsim.Burner("open cup", "60 mm", "30 mm"),
    burnsim.Charge("ethanol", "6 ml"),
    burnsim.Pot("10 cm", "8 cm", "40 ml", rest="stand", gap="30 mm"),
)


@pytest.fixture(autouse=True)
def _closed() -> Iterator[None]:
    """No picture that refuses leaves a figure open, and none closes one that was there."""
    pyplot.close("all")
    mine = pyplot.figure()
    yield
    assert pyplot.get_fignums() == [mine.number]
    pyplot.close(mine)


@pytest.mark.parametrize("name", sorted(set(plots.__all__) - OF_THEIR_OWN))
@pytest.mark.parametrize("wrong", [CUP, "my.toml", 3.0, SimpleNamespace()])
def test_what_lacks_what_is_drawn_is_refused_and_its_maker_named(name: str, wrong: object) -> None:
    drawn = getattr(plots, name)
    given = (wrong, wrong) if name == "measured" else (wrong,)
    with pytest.raises(InputError, match="cannot be drawn: it has no ") as caught:
        drawn(*given, **FURTHER.get(name, {}))
    assert caught.value.field in list(inspect.signature(drawn).parameters)[: len(given)]
    assert caught.value.value is wrong
    one: Any = SimpleNamespace(burnsim=burnsim)
    for part in caught.value.remedy.split("'")[1].split("."):
        one = getattr(one, part)
    assert callable(one)


@pytest.mark.parametrize("name", ["burn", "ledger", "levels", "section"])
@pytest.mark.parametrize("ax", [Figure(), Figure().subplots(2)])
def test_what_are_no_axes_is_refused(name: str, ax: object) -> None:
    burn = burnt(CUP)
    with pytest.raises(InputError, match=r"cannot be drawn on: it has no .*: give axes") as caught:
        getattr(plots, name)(burn.setup if name == "section" else burn, ax=ax)
    assert caught.value.field == "ax"


@pytest.mark.parametrize("ax", [Figure(), Figure().subplots(), Figure().subplots(3)])
@pytest.mark.parametrize("name", ["bench", "calibration"])
def test_a_pair_is_asked_for_by_its_number(name: str, ax: Any) -> None:
    found = SimpleNamespace(residuals=(), bad=False)
    with pytest.raises(InputError, match=r"is not two axes: give two, such as 'figure.subplots\(2\)' returns"):
        getattr(plots, name)(found, ax=ax)


def test_what_has_no_picture_is_told() -> None:
    with pytest.raises(InputError, match=r"result = 3\.0 has no picture"):
        plots.draw(3.0)


def test_a_fault_of_our_own_is_not_laid_on_what_was_given() -> None:
    """An attribute that something else lacks stays an error of its own."""

    def power() -> None:
        return None.power  # type: ignore[attr-defined]

    class Broken:
        @property
        def time(self) -> None:
            return power()

    with pytest.raises(AttributeError, match="'NoneType' object has no attribute 'power'"):
        plots.burn(Broken())  # type: ignore[arg-type]
