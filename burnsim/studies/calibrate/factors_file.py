"""Factors files: what is known of the uncertain factors, as a small TOML file of our own."""

import json
import math
import os
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import numpy as np

from burnsim.errors import InputError, is_number
from burnsim.io.text_file import read_toml, toml_key, write_atomically
from burnsim.studies.calibrate.posterior import Posterior, check_factor, posterior_of
from burnsim.studies.calibrate.repeats import PACE

VERSION = 1
FORMAT = "burnsim factors"
Table = Mapping[str, Any]
Known = Posterior | str | os.PathLike[str]  # what is known of the factors, or the file that keeps it
KEYS = ("format", "version", "note", "source", "factors", "sizes", "repeats", "logarithms", "draws")


def save_factors(posterior: Posterior, path: str | os.PathLike[str], *, note: str = "", option: str = "file") -> None:
    """Write what is known of the factors; the file is put in its place when it is whole.

    Parameters
    ----------
    posterior : of `calibrate`, say
    path : file to write
    note : free text, such as the logs that it was learnt from; default: the posterior's own
    option : what to call the path in an error
    """
    if not isinstance(posterior, Posterior):
        problem = "is nothing that is known of the factors"
        raise InputError("posterior", posterior, problem, "give the .posterior of what `calibrate` found")
    bands = posterior.band()
    lines = [
        f'format = "{FORMAT}"',
        f"version = {VERSION}",
        f"note = {json.dumps(note or posterior.note)}",
        "",
        "# Median of each factor, and its central 90 %. A factor that is not named here keeps its band.",
        "[factors]",
        *(
            f"{toml_key(name)} = {math.exp(mean):.6g}    # {bands[name][0]:.3g} to {bands[name][1]:.3g}"
            for name, mean in zip(posterior.names, posterior.mean, strict=True)
        ),
        "",
        "# Sizes as built over as drawn, of the drawing that was calibrated, are among them; here their tolerances.",
        "[sizes]",
        *(f"{toml_key(path)} = {width!r}" for path, width in posterior.tolerances.items()),
        "",
        "# Relative standard deviation of the pace of repeats.",
        "[repeats]",
        f"pace = {posterior.pace!r}",
        "",
        "# Joint normal distribution of their natural logarithms, and draws that follow the logs where it does not:",
        "# this is what is read.",
        "[logarithms]",
        f"names = {json.dumps(posterior.names)}",
        f"mean = {json.dumps(posterior.mean)}",
        "covariance = [",
        *(f"    {json.dumps(row)}," for row in posterior.covariance),
        "]",
        "",
        "[draws]",
        f"names = {json.dumps(posterior.drawn)}",
        "logarithms = [",
        *(f"    {json.dumps(row)}," for row in posterior.draws),
        "]",
        "",
    ]
    write_atomically(path, "\n".join(lines), option)


def as_posterior(given: Known | None, name: str = "posterior") -> Posterior | None:
    """What is known of the factors, given as such or as the path of its file; None as it is."""
    if given is None or isinstance(given, Posterior):
        return given
    if isinstance(given, str | os.PathLike):
        return load_factors(given)
    problem = "is nothing that is known of the factors"
    raise InputError(name, given, problem, "give the .posterior of what `calibrate` found, or its file")


def load_factors(path: str | os.PathLike[str]) -> Posterior:
    """Read a factors file.

    Parameters
    ----------
    path : of a file that `save_factors` wrote

    Raises
    ------
    InputError
        If it is not a factors file, of an unknown version, or was changed by hand so that its parts disagree.
    """
    table, name = read_toml(path, "factors file", "write a new one with 'burnsim calibrate'"), os.fspath(path)
    if table.get("format") != FORMAT:
        raise InputError("file", name, f'is not a factors file; it lacks format = "{FORMAT}"', "check the path")
    if (version := table.get("version")) is True or version != VERSION:
        problem = f"is not known; version {VERSION} is read here"
        raise InputError(f"{name}: version", version, problem, "update, or calibrate again")
    for key in table:
        if key not in KEYS:
            raise InputError(f"{name}: {key}", None, "is not a known key; allowed: " + ", ".join(KEYS), "leave it out")
    found = replace(_posterior(table, name), note=str(table.get("note", "")))
    shown = table.get("factors", {})
    for factor, median in zip(found.names, map(math.exp, found.mean), strict=True):
        stated = shown.get(factor) if isinstance(shown, Mapping) else None
        if stated is not None and not (is_number(stated) and math.isclose(stated, median, rel_tol=1e-4)):
            raise InputError(
                f"{name}: factors.{factor}", stated, f"disagrees with [logarithms], which says {median:.6g}",
                "do not change one without the other; set factors by hand in the design's [factors]",
            )  # fmt: skip
    return found


def _posterior(table: Table, name: str) -> Posterior:
    names, mean, covariance = _lists(table, "logarithms", ("names", "mean", "covariance"), name)
    drawn, draws = _lists(table, "draws", ("names", "logarithms"), name) if "draws" in table else ([], [])
    sizes, repeats = table.get("sizes", {}), table.get("repeats", {})
    if not isinstance(sizes, Mapping) or not isinstance(repeats, Mapping) or set(repeats) - {"pace"}:
        raise InputError(f"{name}: sizes, repeats", None, "are not tables of numbers", "calibrate again")
    for factor in names:
        check_factor(factor, sizes=True)
    try:
        matrix = np.array(covariance, dtype=np.float64).reshape(len(names), len(names))
        made = posterior_of(names, mean, matrix, sizes, float(repeats.get("pace", PACE)))
        return replace(made, drawn=tuple(drawn), draws=tuple(tuple(map(float, row)) for row in draws))
    except (ValueError, TypeError):
        problem = "holds lists that do not go together"
        raise InputError(f"{name}: logarithms", None, problem, "calibrate again") from None


def _lists(table: Table, part: str, keys: tuple[str, ...], name: str) -> list[list[Any]]:
    """The lists that a table of the file must hold, and nothing else."""
    found = table.get(part)
    if not isinstance(found, Mapping) or set(found) != set(keys):
        raise InputError(f"{name}: {part}", None, "does not hold " + ", ".join(keys), "calibrate again")
    lists = [found[key] for key in keys]
    if not all(isinstance(one, list) for one in lists):
        raise InputError(f"{name}: {part}", None, "does not hold lists", "calibrate again")
    return lists
