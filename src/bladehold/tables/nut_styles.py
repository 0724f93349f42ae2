"""Styles of nut and threaded hole: what they hold, how warm they may get, and engagement by parent metal."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from bladehold.tables.lookup import find, keyed
from bladehold.tables.provenance import Provenance
from bladehold.tables.reader import MEGA, Line, read_table

_ZERO_CELSIUS = 273.15


@dataclass(frozen=True)
class NutStyle:
    """One style: form in words; thread_share - of its height that carries; temperature_limit K or None.

    reuse - "any", or blank where a running torque must be measured before every reuse; note - what to know.
    """

    style: str
    form: str
    thread_share: float
    temperature_limit: float | None
    reuse: str
    provenance: Provenance
    note: str


@dataclass(frozen=True)
class Engagement:
    """Printed engagement of a tapped hole: parent and its strength (Pa), property class, length over d."""

    parent: str
    property_class: str
    tensile_strength: float
    over_diameter: float
    provenance: Provenance


_COLUMNS = ("style", "form", "thread_share", "source", "mark")


def _style(line: Line) -> NutStyle:
    limit = line.optional_number("temperature_limit_C")
    return NutStyle(
        style=line.text("style"),
        form=line.text("form"),
        thread_share=line.number("thread_share"),
        temperature_limit=None if limit is None else limit + _ZERO_CELSIUS,
        reuse=line.text("reuse"),
        provenance=line.provenance(),
        note=line.text("note"),
    )


@cache
def _styles() -> dict[str, NutStyle]:
    lines = read_table("nut_styles.csv", _COLUMNS, ("temperature_limit_C", "reuse", "note"))
    return keyed((line.text("style"), _style(line)) for line in lines)


def nut_style_names() -> tuple[str, ...]:
    """Return the names of the styles in table order."""
    return tuple(_styles())


def nut_style(name: str) -> NutStyle:
    """Return the style called `name`, such as "insert"; raise UnknownName for any other.

    >>> nut_style("insert").temperature_limit
    393.15
    """
    return find("nut style", name, _styles())


@cache
def engagements() -> tuple[Engagement, ...]:
    """Return the printed engagements of tapped holes, in table order."""
    columns = ("parent", "class", "tensile_MPa", "engagement_over_d", "source", "mark")
    return tuple(
        Engagement(
            parent=line.text("parent"),
            property_class=line.text("class"),
            tensile_strength=line.number("tensile_MPa", MEGA),
            over_diameter=line.number("engagement_over_d"),
            provenance=line.provenance(),
        )
        for line in read_table("engagement.csv", columns)
    )
