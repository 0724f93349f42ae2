"""Factors and limits that the checks apply unless the user sets others."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from bladehold.tables.lookup import find, keyed
from bladehold.tables.provenance import Provenance
from bladehold.tables.reader import Line, read_table


@dataclass(frozen=True)
class Factor:
    """One factor or limit of the policy: its value (a pure number) and what it multiplies or bounds."""

    name: str
    value: float
    meaning: str
    provenance: Provenance


def governing_special_factor(factors: Iterable[float]) -> float:
    """Return the one special factor that applies where several are pertinent: the highest, not the product.

    Arguments: factors - pertinent special factors (fitting, bearing, casting ...), none below 1.
    Returns the highest, 1.0 when there is none.
    Raises ValueError for a factor below 1, which would relax the check.
    Source: 14 CFR 25.619.

    >>> governing_special_factor([1.15, 1.25])
    1.25
    """
    pertinent = [1.0, *factors]
    if min(pertinent) < 1.0:
        raise ValueError(f"a special factor is at least 1, not {min(pertinent):g}")
    return max(pertinent)


def _factor(line: Line) -> Factor:
    return Factor(line.text("name"), line.number("value"), line.text("meaning"), line.provenance())


@cache
def _factors() -> dict[str, Factor]:
    lines = read_table("factors.csv", ("name", "value", "meaning", "source", "mark"))
    return keyed((line.text("name"), _factor(line)) for line in lines)


def factor_names() -> tuple[str, ...]:
    """Return the names of the policy's factors in table order."""
    return tuple(_factors())


def factor(name: str) -> Factor:
    """Return the factor called `name`, such as "limit_to_ultimate"; raise UnknownName for any other.

    >>> factor("limit_to_ultimate").value
    1.5
    """
    return find("factor", name, _factors())
