"""Validity ranges of the closures and the array-aware faces that watch them.

The raw closures are plain scalar functions: they are called inside the integration and must cost nothing
extra. `closure` only notes the ranges on them. `checked` builds the public face: floats or arrays in, the
same out, and a `ValidityWarning` when an argument leaves the range in which the law was measured or
derived.
"""

import inspect
import warnings
from collections.abc import Callable
from functools import wraps
from typing import Any, TypeVar

import numpy as np

from burnsim.errors import ValidityWarning

F = TypeVar("F", bound=Callable[..., Any])


def closure(**ranges: tuple[float, float]) -> Callable[[F], F]:
    """Note on a closure the range in which each argument is valid; the function itself stays as it is.

    Parameters
    ----------
    ranges : for any of the closure's arguments, (lowest, highest) valid value in that argument's unit.

    Returns
    -------
    A decorator that returns the very same function with the attribute ``validity``.

    >>> @closure(x=(0.0, 1.0))
    ... def square(x: float) -> float:
    ...     return x * x
    >>> square.validity
    {'x': (0.0, 1.0)}
    """

    def note(function: F) -> F:
        names = inspect.signature(function).parameters
        for name, (low, high) in ranges.items():
            if name not in names:
                raise TypeError(f"{function.__name__} has no argument {name!r}; it has {', '.join(names)}")
            if not low < high:
                raise ValueError(f"{function.__name__}: range of {name} is empty: {low} to {high}")
        vars(function)["validity"] = dict(ranges)
        return function

    return note


def checked(function: Callable[..., Any]) -> Callable[..., Any]:
    """Build the public face of a closure: floats or arrays in, the same out, ranges watched.

    Parameters
    ----------
    function : a scalar closure, with the ranges that `closure` noted (none is allowed).

    Returns
    -------
    A function of the same positional arguments. Lists and arrays are broadcast against each other; a tuple
    is a record (such as heat-capacity coefficients) and is handed on whole. Floats alone give a float (or a
    tuple of floats), and arrays give an array (or a tuple of arrays). An argument outside its range gives
    one `ValidityWarning` that names the argument, its value and the range; the value is computed all the
    same.

    >>> @closure(x=(0.0, 10.0))
    ... def square(x: float) -> float:
    ...     return x * x
    >>> face = checked(square)
    >>> face(3.0)
    9.0
    >>> [float(v) for v in face([1.0, 2.0])]
    [1.0, 4.0]
    """
    signature = inspect.signature(function)
    names = list(signature.parameters)
    ranges: dict[str, tuple[float, float]] = dict(vars(function).get("validity", {}))

    @wraps(function)
    def face(*args: Any) -> Any:
        signature.bind(*args)
        for name, value in zip(names, args, strict=False):
            if name in ranges:
                _watch(function.__name__, name, value, ranges[name])
        if not any(isinstance(value, list | np.ndarray) for value in args):
            return function(*args)
        return _broadcast(function, args)

    positional = [p.replace(kind=inspect.Parameter.POSITIONAL_ONLY) for p in signature.parameters.values()]
    vars(face)["__signature__"] = signature.replace(parameters=positional)
    return face


def _watch(function: str, name: str, value: Any, allowed: tuple[float, float]) -> None:
    """Warn when any element of an argument lies outside its range."""
    low, high = allowed
    numbers = np.asarray(value, dtype=float)
    outside = ~((numbers >= low) & (numbers <= high))
    if outside.any():
        worst = numbers[outside].flat[0]
        warnings.warn(
            f"{function}: {name} = {worst:.6g} is outside {low:.6g} to {high:.6g}, where this law holds; "
            "treat the result as an extrapolation",
            ValidityWarning,
            stacklevel=4,
        )


def _broadcast(function: Callable[..., Any], args: tuple[Any, ...]) -> Any:
    """Call a scalar function over broadcast arrays, handing tuples on whole."""
    moving = [k for k, value in enumerate(args) if not isinstance(value, tuple)]
    arrays = np.broadcast_arrays(*(np.asarray(args[k], dtype=float) for k in moving))
    shape = arrays[0].shape
    call = list(args)
    results = []
    for values in zip(*(a.ravel().tolist() for a in arrays), strict=True):
        for k, value in zip(moving, values, strict=True):
            call[k] = value
        results.append(function(*call))
    if results and isinstance(results[0], tuple):
        return tuple(np.array(column).reshape(shape) for column in zip(*results, strict=True))
    return np.array(results, dtype=float).reshape(shape)
