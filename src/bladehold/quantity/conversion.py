"""Conversion between the allowed units and SI, by the factors of factors.csv.

The table is written by the units library (tools/make_unit_factors.py) and checked against it by the tests.
Loading the library itself at run time would take a quarter of the time a whole check may.
"""

from __future__ import annotations

import csv
from functools import cache
from importlib.resources import files


@cache
def _factors() -> dict[tuple[str, str], tuple[float, float]]:
    """Factor and offset by kind and unit: SI value = factor * value + offset."""
    text = files("bladehold.quantity").joinpath("factors.csv").read_text(encoding="utf-8")
    return {
        (row["kind"], row["unit"]): (float(row["factor"]), float(row["offset"]))
        for row in csv.DictReader(text.splitlines())
    }


def to_si(value: float, kind: str, unit: str) -> float:
    """Return a value of one kind in SI.

    Arguments: value - in `unit`; kind - a key of KINDS; unit - one of its unit texts. Raises KeyError for
    a unit the kind does not allow.

    >>> to_si(26.0, "length", "in")
    0.6604
    >>> round(to_si(77.0, "temperature", "degF"), 2)
    298.15
    """
    factor, offset = _factors()[kind, unit]
    return factor * value + offset


def from_si(si: float, kind: str, unit: str) -> float:
    """Return an SI value of one kind in one of its units; the inverse of `to_si`.

    >>> round(from_si(298.15, "temperature", "degC"), 9)
    25.0
    """
    factor, offset = _factors()[kind, unit]
    return (si - offset) / factor
