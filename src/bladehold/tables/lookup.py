"""Finding a table row by its name, and what to say when there is none."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping
from difflib import get_close_matches
from typing import TypeVar

from bladehold.tables.reader import TableError

Row = TypeVar("Row")
Key = TypeVar("Key", bound=Hashable)


class UnknownName(LookupError):  # noqa: N818  # named for what went wrong, like LookupError itself
    """A name that no table row bears.

    Attributes: kind - what was looked up ("material", "thread" ...); name - what was asked for;
    nearest - the known name most like it, or None; allowed - every known name in table order.
    """

    def __init__(self, kind: str, name: str, nearest: str | None, allowed: tuple[str, ...]) -> None:
        """Keep all four parts, so that faces can word their own message."""
        super().__init__(kind, name, nearest, allowed)
        self.kind = kind
        self.name = name
        self.nearest = nearest
        self.allowed = allowed

    def __str__(self) -> str:
        """One sentence with the nearest known name and the full list."""
        hint = f"did you mean {self.nearest!r}? " if self.nearest is not None else ""
        return f"unknown {self.kind} {self.name!r}: {hint}known are {', '.join(self.allowed)}"


def keyed(pairs: Iterable[tuple[Key, Row]]) -> dict[Key, Row]:
    """Return rows by key, in the order given; raise TableError when two rows share a key."""
    rows: dict[Key, Row] = {}
    for key, row in pairs:
        if key in rows:
            raise TableError(f"two rows are called {key!r}")
        rows[key] = row
    return rows


def nearest_name(name: str, allowed: tuple[str, ...]) -> str | None:
    """Return the allowed name most like `name`, upper and lower case alike, or None when none is close.

    >>> nearest_name("7075t6", ("6061-T6", "7075-T6"))
    '7075-T6'
    """
    by_folded = {candidate.casefold(): candidate for candidate in allowed}
    close = get_close_matches(name.casefold(), by_folded, n=1, cutoff=0.6)
    return by_folded[close[0]] if close else None


def find(kind: str, name: str, rows: Mapping[str, Row]) -> Row:
    """Return the row called `name`.

    Arguments: kind - what the rows are, for the message; name - exact name; rows - rows by name.
    Raises UnknownName when there is no such row.
    """
    try:
        return rows[name]
    except KeyError:
        allowed = tuple(rows)
        raise UnknownName(kind, name, nearest_name(name, allowed), allowed) from None


def of_size(kind: str, size: str, variant: str, rows: Mapping[tuple[str, str], Row]) -> Row:
    """Return the row for a thread size and a variant, such as a head kind or a hole fit.

    Arguments: kind - what the rows are, for the message; size - thread name; variant - second key;
    rows - rows by (size, variant).
    Raises UnknownName for an unknown variant, or a size that the variant is not made in.
    """
    variants = tuple(dict.fromkeys(known for _, known in rows))
    if variant not in variants:
        raise UnknownName(f"{kind} kind", variant, nearest_name(variant, variants), variants)
    of_variant = {known: row for (known, made_as), row in rows.items() if made_as == variant}
    return find(f"{variant} {kind} size", size, of_variant)
