"""The interface is one that can be guessed: verbs, the setup first, `at`, `ax`, and every result answers alike."""

import inspect
from collections.abc import Callable, Iterator
from importlib import import_module
from types import ModuleType
from typing import Any, get_args

import pytest

import burnsim
from burnsim.answers import Drawn, Tabled, Told
from burnsim.plots.style import PICTURES as DRAWN
from burnsim.report import TELLINGS

NOUNS = ("plots", "closures")
"""Namespaces in which a function is named by what it draws or computes."""
QUESTIONS = {"ok", "has_verdict"}
VERBS = {
    "analyse", "apply", "blend", "boil", "bottle", "burn", "calibrate", "compare", "compute", "describe", "distil",
    "estimate", "find", "get", "load", "make", "map", "parse", "pool", "predict", "propose", "rank", "read", "sample",
    "save", "search", "select", "set", "sweep", "synthesise", "vary",
}  # fmt: skip


def functions(*without: str) -> Iterator[tuple[str, Callable[..., Any]]]:
    """Public functions by name, those of some namespaces apart."""
    for name in burnsim.__all__:
        thing = getattr(burnsim, name)
        if isinstance(thing, ModuleType) and name not in without:
            yield from ((f"{name}.{one}", getattr(thing, one)) for one in thing.__all__)
        else:
            yield name, thing


ASKED = {name: one for name, one in functions(*NOUNS) if inspect.isfunction(one)}
PICTURES = {name: getattr(burnsim.plots, name) for name in burnsim.plots.__all__}
OTHER_PICTURES = {"save", "draw", "in_style", "sweep_panels"}
"""What saves pictures, lends its style, or fills a whole figure."""


@pytest.mark.parametrize("name", ASKED)
def test_a_function_is_named_by_a_verb(name: str) -> None:
    last = name.rpartition(".")[2]
    assert last in QUESTIONS or last.partition("_")[0] in VERBS


@pytest.mark.parametrize("name", ASKED)
def test_the_setup_comes_first(name: str) -> None:
    asked = list(inspect.signature(ASKED[name]).parameters)
    assert not {"base", "design"} & set(asked[:1]), "a setup is called setup"
    assert "setup" not in asked or asked[0] == "setup"


@pytest.mark.parametrize("name", sorted(set(PICTURES) - OTHER_PICTURES))
def test_a_picture_takes_axes(name: str) -> None:
    parameters = inspect.signature(PICTURES[name]).parameters
    assert parameters["ax"].default is None
    assert parameters["ax"].kind is inspect.Parameter.POSITIONAL_OR_KEYWORD


@pytest.mark.parametrize(
    ("name", "one"),
    [
        *functions(*NOUNS),
        *PICTURES.items(),
        *((f"Burn.{name}", one) for name, one in vars(burnsim.Burn).items() if not name.startswith("_")),
    ],
)
def test_an_instant_is_called_at(name: str, one: object) -> None:
    """`time` is what holds many of them, as the axis of a curve does."""
    if inspect.isfunction(one):
        parameters = inspect.signature(one).parameters
        assert not {"instant", "moment", "when", "t"} & set(parameters), name
        assert "time" not in parameters or name == "bands"


RECORDS = {
    "BenchLog", "Blend", "Boiled", "Comparison", "Efficiency", "Figure", "Plan", "Posterior", "Ranked", "Repeats",
    "Sample", "Spirit", "Strength", "Failure", "Metal", "WickMaterial",
}  # fmt: skip
"""What is handed in again, or a few plain figures: no answer to a question."""
WITHOUT_ROWS = {"Setup", "Outcome", "Relief", "SpillOdds", "WaterLimit"}


def returned(annotation: object) -> Iterator[type]:
    """Classes of the package in what a function gives back."""
    if inspect.isclass(annotation) and annotation.__module__.startswith("burnsim."):
        yield annotation
    for part in get_args(annotation):
        yield from returned(part)


RESULTS = {
    one.__name__: one
    for function in ASKED.values()
    for one in returned(inspect.signature(function).return_annotation)
    if one.__name__ not in RECORDS
}


def test_there_are_many_results() -> None:
    assert set(RESULTS) >= {"Burn", "Outcome", "FillLimits", "Primer", "LeastCharge", "SpillMap", "Distillation"}
    assert set(RESULTS) == set(TELLINGS) == set(DRAWN)


@pytest.mark.parametrize("name", RESULTS)
def test_every_result_answers_in_words_values_and_a_picture(name: str) -> None:
    result = RESULTS[name]
    assert issubclass(result, Told)
    assert issubclass(result, Drawn)
    telling = TELLINGS[name]
    words = import_module(f"burnsim.report.{telling.module}")
    assert callable(getattr(words, telling.words))
    values = getattr(words, telling.values, None)
    assert "to_dict" in vars(result) or callable(values) or isinstance(values, dict)
    module, function = DRAWN[name]
    assert PICTURES[function] is getattr(import_module(f"burnsim.plots.{module}"), function)
    assert hasattr(result, "to_dataframe") == (name not in WITHOUT_ROWS)
    assert issubclass(result, Tabled) == bool(telling.rows)
