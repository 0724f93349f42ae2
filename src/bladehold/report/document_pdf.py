"""A document as PDF pages, one of them the card for the workshop wall; alike on every machine.

Words travel as data beside the template, never inside it, and only fonts that the typesetter brings are used.
"""

from __future__ import annotations

import json
import re
from datetime import UTC, datetime, time
from importlib.resources import files
from typing import Any

from bladehold.cautions import CAUTIONS
from bladehold.report.document import (
    CARD_KEY,
    Block,
    Document,
    Listing,
    Picture,
    Points,
    Table,
    Words,
)
from bladehold.report.document_pictures import svg_of
from bladehold.report.document_sections import document_of
from bladehold.study.dossier import Dossier

_VIEW = re.compile(r'viewBox="[\d.-]+ [\d.-]+ ([\d.]+) ([\d.]+)"')
_LONG_WORD = re.compile(r"(\S{18})(?=\S{6})")
_BREAK = "\u200b"  # a place where a word may be broken
_WIDE, _HIGH, _SCALE = 493.0, 560.0, 0.6  # points: of the page's body, of a picture, for a pixel of a chart
_NAME = 60  # letters of the name at the head of every page
_LETTERS, _LONGEST = 128, 22  # of a line across a table; of a word that is not broken


def pdf_of(found: Dossier) -> bytes:
    """Return the document about a build as PDF."""
    return pages_of(document_of(found), found)


def pages_of(document: Document, found: Dossier) -> bytes:
    """Return a document as PDF; its day is that of the dossier."""
    import typst

    template = (files("bladehold.report") / "templates" / "document.typ").read_bytes()
    day = found.origin.stated
    made = datetime.combine(day, time(), tzinfo=UTC)
    content: bytes = typst.compile(
        template,
        format="pdf",
        ignore_system_fonts=True,
        sys_inputs={"data": json.dumps(_data(document, found))},
        timestamp=int(made.timestamp()),
    )
    return content


def _data(document: Document, found: Dossier) -> dict[str, Any]:
    """All that the template writes."""
    day = found.origin.stated
    return {
        "title": _soft(document.title),
        "name": _soft(_short(found.build.name)),
        "line": document.line,
        "digest": document.digest,
        "date": [day.year, day.month, day.day],
        "caution": CAUTIONS[0],
        "card-key": CARD_KEY,
        "sections": [
            {"key": one.key, "title": one.title, "blocks": [_block(block) for block in one.blocks]}
            for one in document.sections
        ],
        "card": {
            "title": document.card.title,
            "stop": document.card.stop,
            "rows": [
                [{"title": part.title, "blocks": [_block(block) for block in part.blocks]} for part in row]
                for row in document.card.rows
            ],
        },
    }


def _block(one: Block) -> dict[str, Any]:
    match one:
        case Words():
            return {"kind": "words", "text": _soft(one.text), "tone": one.tone}
        case Points():
            return {"kind": "points", "items": [_soft(text) for text in one.items], "tone": one.tone}
        case Table():
            return _table(one)
        case Picture():
            return _picture(one)
        case Listing():
            return {"kind": "listing", "lines": [_soft(line) for line in one.text.splitlines()]}


def _table(one: Table) -> dict[str, Any]:
    return {
        "kind": "table",
        "caption": _soft(one.caption),
        "heads": list(one.heads),
        "rows": [[_soft(cell) for cell in row] for row in one.rows],
        "numbers": sorted(one.numbers),
        "tones": [one.tone(place) for place in range(len(one.rows))],
        "widths": _widths(one),
    }


def _widths(one: Table) -> list[float]:
    """How wide the columns of words are beside each other; 0 for one that is as wide as its numbers.

    Every column has room for its longest word; what is left goes to those whose cells are long.
    """
    columns = [[one.heads[at], *(row[at] for row in one.rows)] for at in range(len(one.heads))]
    taken = sum(2 + max(map(len, column)) for at, column in enumerate(columns) if at in one.numbers)
    words = {at: column for at, column in enumerate(columns) if at not in one.numbers}
    least = {at: 2 + min(max(map(_longest, column)), _LONGEST) for at, column in words.items()}
    wished = {at: max(least[at], _usual(column)) for at, column in words.items()}
    spare = max(_LETTERS - taken - sum(least.values()), 0.0)
    asked = sum(wished.values()) - sum(least.values())
    share = min(spare / asked, 1.0) if asked > 0.0 else 0.0
    given = {at: least[at] + share * (wished[at] - least[at]) for at in words}
    return [given.get(at, 0.0) for at in range(len(columns))]


def _longest(text: str) -> int:
    return max(map(len, text.split()), default=0)


def _usual(column: list[str]) -> float:
    """Letters between the middle and the greatest of a column's cells."""
    lengths = [len(cell) for cell in column]
    return 2.0 + 0.5 * (max(lengths) + sum(lengths) / len(lengths))


def _picture(one: Picture) -> dict[str, Any]:
    drawn = svg_of(one)
    view = _VIEW.search(drawn)
    wide, high = (float(size) for size in view.groups()) if view else (_WIDE, _HIGH)
    width = min(_WIDE, _HIGH * wide / high, _WIDE if one.drawing else _SCALE * wide)
    return {
        "kind": "picture",
        "title": one.title,
        "notes": [_soft(note) for note in one.notes],
        "svg": drawn,
        "width": width,
    }


def _short(name: str) -> str:
    return name if len(name) <= _NAME else f"{name[: _NAME - 1]}…"


def _soft(text: str) -> str:
    """A text whose very long words may be broken."""
    return _LONG_WORD.sub(rf"\1{_BREAK}", text)
