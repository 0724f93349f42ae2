"""Published figures that what follows a failure is held against or computed with."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from bladehold.tables.lookup import find, keyed
from bladehold.tables.provenance import Provenance
from bladehold.tables.reader import Line, read_table


@dataclass(frozen=True)
class Consequence:
    """One figure: its value in the unit named (SI, "1" for a pure number) and what it means."""

    name: str
    value: float
    unit: str
    meaning: str
    provenance: Provenance


def _consequence(line: Line) -> Consequence:
    return Consequence(
        line.text("name"), line.number("value"), line.text("unit"), line.text("meaning"), line.provenance()
    )


@cache
def _consequences() -> dict[str, Consequence]:
    lines = read_table("consequences.csv", ("name", "value", "unit", "meaning", "source", "mark"))
    return keyed((line.text("name"), _consequence(line)) for line in lines)


def consequence_names() -> tuple[str, ...]:
    """Return the names of the figures in table order."""
    return tuple(_consequences())


def consequence(name: str) -> Consequence:
    """Return the figure called `name`, such as "no_fatality"; raise UnknownName for any other.

    >>> consequence("no_fatality").value
    66.0
    """
    return find("figure of a consequence", name, _consequences())
