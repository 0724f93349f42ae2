"""The document about one build, as HTML and PDF alike have it: words, tables and pictures by section."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from bladehold.report.terminal import signed_margin


@dataclass(frozen=True)
class Words:
    """A paragraph; tone - "", "lead", "fails", "little", "holds" or "caution"."""

    text: str
    tone: str = ""


@dataclass(frozen=True)
class Points:
    """A list of sentences; tone as of words."""

    items: tuple[str, ...]
    tone: str = ""


@dataclass(frozen=True)
class Table:
    """A table of ready words under a caption.

    heads - of the columns; rows - cells, the first names the row; numbers - columns of numbers; tones - of
    every row, "" for most.
    """

    caption: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    numbers: frozenset[int] = frozenset()
    tones: tuple[str, ...] = ()

    def tone(self, place: int) -> str:
        """The tone of one row."""
        return self.tones[place] if self.tones else ""


@dataclass(frozen=True, eq=False)
class Picture:
    """A chart (Vega-Lite, plain data) or a drawing (SVG text): key - a name for anchors; notes - below it."""

    key: str
    title: str
    notes: tuple[str, ...]
    chart: dict[str, Any] | None = None
    drawing: str = ""


@dataclass(frozen=True)
class Listing:
    """Text that keeps its lines, such as the sheet."""

    text: str
    about: str


Block = Words | Points | Table | Picture | Listing


@dataclass(frozen=True)
class Section:
    """One section: key - a name for anchors."""

    key: str
    title: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True)
class Part:
    """Blocks under a heading of the card."""

    title: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True)
class Card:
    """What hangs on the workshop wall: stop - why it must not fly, "" where nothing forbids; rows - of parts
    that stand side by side where there is room.
    """

    title: str
    stop: str
    rows: tuple[tuple[Part, ...], ...]


@dataclass(frozen=True)
class Document:
    """title; line - version, day and digest in one; digest - of the sheet; sections, in order; card - that
    stands in the section CARD_KEY.
    """

    title: str
    line: str
    digest: str
    sections: tuple[Section, ...]
    card: Card


CARD_KEY = "card"
"""Key of the section that is the card for the workshop wall, in every form of the document."""


def margin_words(margin: float, marginal: float) -> str:
    """Return a margin with its sign and word."""
    return " ".join(signed_margin(margin, marginal).plain.split())


def table(
    caption: str,
    heads: Sequence[str],
    rows: Iterable[Sequence[str]],
    numbers: Iterable[int] = (),
    tones: Sequence[str] = (),
) -> Table:
    """Return a table out of any sequences."""
    return Table(caption, tuple(heads), tuple(tuple(row) for row in rows), frozenset(numbers), tuple(tones))


def points(lines: Iterable[str], tone: str = "") -> tuple[Block, ...]:
    """Return lines as a list, or as a word that there are none."""
    listed = tuple(lines)
    return (Points(listed, tone),) if listed else (Words("None."),)
