"""Showing SI values again in units a person holds in the hand."""

from __future__ import annotations

from bladehold.quantity.conversion import from_si


def show(si: float, kind_name: str, unit: str, digits: int = 4) -> str:
    """Return an SI value as text in one of its kind's units, to `digits` significant figures.

    >>> show(0.6604, "length", "mm")
    '660.4 mm'
    """
    return f"{from_si(si, kind_name, unit):.{digits}g} {unit}"
