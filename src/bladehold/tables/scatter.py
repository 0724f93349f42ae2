"""How the quantities that a joint rests on scatter from one to the next, unless the user says otherwise."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from bladehold.tables.lookup import find, keyed
from bladehold.tables.provenance import Provenance
from bladehold.tables.reader import Line, parse_table, read_table

COLUMNS = ("name", "kind", "mean", "deviation", "meaning", "source", "mark")


@dataclass(frozen=True)
class Scatter:
    """One quantity: kind of distribution, mean and standard deviation in the unit that `meaning` tells."""

    name: str
    kind: str
    mean: float
    deviation: float
    meaning: str
    provenance: Provenance


def _scatter(line: Line) -> Scatter:
    return Scatter(
        line.text("name"),
        line.text("kind"),
        line.number("mean"),
        line.number("deviation"),
        line.text("meaning"),
        line.provenance(),
    )


@cache
def _scatters() -> dict[str, Scatter]:
    return keyed((line.text("name"), _scatter(line)) for line in read_table("scatter.csv", COLUMNS))


def scatter_names() -> tuple[str, ...]:
    """Return the names of all quantities that scatter, in table order."""
    return tuple(_scatters())


def scatter(name: str) -> Scatter:
    """Return how a quantity scatters; raise UnknownName for any other.

    >>> scatter("blade mass").deviation
    0.01
    """
    return find("quantity that scatters", name, _scatters())


def scatters_of(text: str, file: str) -> tuple[Scatter, ...]:
    """Return the rows of a table of the user's own, of the same columns as the packaged one.

    Arguments: text - comma-separated; file - its name, for messages. Errors: TableError for a faulty table,
    UnknownName for a quantity that is none.
    """
    own = tuple(_scatter(line) for line in parse_table(text, file, COLUMNS))
    for row in own:
        scatter(row.name)
    return own


def as_table(rows: Iterable[Scatter]) -> list[dict[str, str | float]]:
    """Return rows as the table has them."""
    return [
        {
            "name": row.name,
            "kind": row.kind,
            "mean": row.mean,
            "deviation": row.deviation,
            "meaning": row.meaning,
            "source": row.provenance.source,
            "mark": row.provenance.mark,
        }
        for row in rows
    ]
