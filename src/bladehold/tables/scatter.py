"""How the quantities that a joint rests on scatter from one to the next, unless the user says otherwise."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import cache

from bladehold.tables.lookup import UnknownName, find, keyed
from bladehold.tables.provenance import Provenance
from bladehold.tables.reader import Line, TableError, lines_and_faults, read_table

COLUMNS = ("name", "kind", "mean", "deviation", "meaning", "source", "mark")
_LIMITS = ("least", "most", "widest")
_MOST_FAULTS = 40


@dataclass(frozen=True)
class Scatter:
    """One quantity: kind of distribution, mean and standard deviation in the unit that `meaning` tells."""

    name: str
    kind: str
    mean: float
    deviation: float
    meaning: str
    provenance: Provenance


@dataclass(frozen=True)
class _Allowed:
    """Between which means, and to which deviation, a quantity can be meant: own choice."""

    least: float
    most: float
    widest: float


def _scatter(line: Line) -> Scatter:
    return Scatter(
        line.text("name"),
        line.text("kind"),
        line.number_of_any_size("mean"),
        line.number_of_any_size("deviation"),
        line.text("meaning"),
        line.provenance(),
    )


@cache
def _scatters() -> dict[str, tuple[Scatter, _Allowed]]:
    return keyed(
        (line.text("name"), (_scatter(line), _Allowed(*(line.number(limit) for limit in _LIMITS))))
        for line in read_table("scatter.csv", (*COLUMNS, *_LIMITS))
    )


def scatter_names() -> tuple[str, ...]:
    """Return the names of all quantities that scatter, in table order."""
    return tuple(_scatters())


def scatter(name: str) -> Scatter:
    """Return how a quantity scatters; raise UnknownName for any other.

    >>> scatter("blade mass").deviation
    0.01
    """
    return find("quantity that scatters", name, _scatters())[0]


def scatters_of(text: str, file: str, proved: Callable[[Scatter], object]) -> tuple[Scatter, ...]:
    """Return the rows of a table of the user's own, of the columns that `as_table` gives.

    Arguments: text - comma-separated; file - its name, for messages; proved - raises ValueError for a row
    that is no distribution. Errors: TableError with every fault: a quantity that is none or stands twice,
    a mean or deviation outside what the packaged table allows, no distribution.
    """
    own: dict[str, Scatter] = {}
    told: list[str] = []
    for line, broken in lines_and_faults(text.removeprefix("\ufeff"), file, COLUMNS):
        faults = broken or [*_faults(line)]
        if not faults:
            row = _scatter(line)
            try:
                proved(row)
            except ValueError as error:
                faults.append(line.fault(f"{row.name}: {error}"))
            if row.name in own:
                faults.append(line.fault(f"{row.name} stands in the table already"))
            own[row.name] = row
        told += (str(fault) for fault in faults)
    if len(told) > _MOST_FAULTS:
        told[_MOST_FAULTS:] = [f"{file}: and {len(told) - _MOST_FAULTS} more problems"]
    if told:
        raise TableError(*told)
    return tuple(own.values())


def _faults(line: Line) -> Iterator[TableError]:
    """What is wrong with a line of the user's own."""
    name = line.text("name")
    allowed = None
    try:
        _, allowed = find("quantity that scatters", name, _scatters())
    except UnknownName as error:
        yield line.fault(str(error))
    for column in ("mean", "deviation"):
        try:
            value = line.number_of_any_size(column)
        except TableError as error:
            yield error
            continue
        if allowed is None:
            continue
        read = f"{name}: read {column} {line.text(column)[:40]}"
        if column == "mean" and not allowed.least <= value <= allowed.most:
            yield line.fault(f"{read}; allowed is {allowed.least:g} to {allowed.most:g}")
        if column == "deviation" and not 0.0 < value <= allowed.widest:
            yield line.fault(f"{read}; a standard deviation above 0 and up to {allowed.widest:g} is allowed")
    try:
        line.provenance()
    except TableError as error:
        yield error


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
