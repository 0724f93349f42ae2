"""One row of a comparison: what several sheets answer to one question, and which answer is better."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import TypeVar

HIGHER, LOWER, NEITHER = "higher", "lower", "neither"
_CLOSE = 1e-9  # relative; the same sheet answers with the same digits

T = TypeVar("T")


@dataclass(frozen=True)
class Cell:
    """The answer of one sheet: value - number in the row's unit, or a word, None where it has none; note -
    what stands behind it, the reason where value is None.
    """

    value: float | str | None
    note: str = ""


@dataclass(frozen=True)
class Row:
    """One question: group it belongs to, name, unit in SI ("" for words and ratios), which values are better,
    one cell for each sheet; order - of words, the worst first.
    """

    group: str
    name: str
    unit: str
    better: str
    cells: tuple[Cell, ...]
    order: tuple[str, ...] = ()

    @property
    def differs(self) -> bool:
        """Whether any sheet answers otherwise than the first, in value or in what stands behind it."""
        first = self.cells[0]
        return any(not _alike(cell.value, first.value) or cell.note != first.note for cell in self.cells)

    @property
    def best(self) -> tuple[int, ...]:
        """Places of the sheets with the best value; none where all are alike or no direction is better."""
        ranks = [self._rank(cell.value) for cell in self.cells]
        known = [rank for rank in ranks if rank is not None]
        if self.better == NEITHER or not known:
            return ()
        top = max(known)
        places = tuple(at for at, rank in enumerate(ranks) if rank is not None and _alike(rank, top))
        return () if len(places) == len(known) else places

    def _rank(self, value: float | str | None) -> float | None:
        """A number that grows as values get better."""
        if isinstance(value, str):
            value = float(self.order.index(value)) if value in self.order else None
        if value is None:
            return None
        return value if self.better == HIGHER else -value


def keyed_rows(
    group: str, unit: str, better: str, columns: Sequence[dict[str, Cell]], absent: Callable[[int, str], str]
) -> list[Row]:
    """Return a row for every key of any sheet, in the order in which they first appear.

    Arguments: columns - the cells of each sheet by name of the row; absent - why a sheet, by its place, lacks
    a row.
    """
    names = ordered(name for column in columns for name in column)

    def cell(at: int, name: str) -> Cell:
        return columns[at].get(name) or Cell(None, absent(at, name))

    return [
        Row(group, name, unit, better, tuple(cell(at, name) for at in range(len(columns)))) for name in names
    ]


def ordered(values: Iterable[T]) -> list[T]:
    """Return values in order, each once."""
    return list(dict.fromkeys(values))


def _alike(one: float | str | None, other: float | str | None) -> bool:
    if isinstance(one, float) and isinstance(other, float):
        return math.isclose(one, other, rel_tol=_CLOSE, abs_tol=1e-12) or (
            math.isnan(one) and math.isnan(other)
        )
    return one == other
