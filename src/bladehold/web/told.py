"""What the command line prints, as paragraphs, lists and tables of a page: the same words, said once."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterable
from typing import Any

from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from bladehold.cautions import CAUTIONS, INVENTED

_TITLES = {"italic", "bold"}
_STATES = {"red": "fails", "yellow": "little", "green": "holds"}
Block = dict[str, Any]


class _Listening(Console):
    """A console that keeps what is printed instead of showing it."""

    def __init__(self) -> None:
        super().__init__(file=io.StringIO(), markup=False, emoji=False, highlight=False)
        self.heard: list[Any] = []

    def print(self, *objects: Any, **_: Any) -> None:
        self.heard += objects


def told_by(show: Callable[[Console], None]) -> list[Block]:
    """Return what a function prints as blocks that a template lays out.

    A block is {"kind": "words", "text", "state"}, {"kind": "list", "title", "lines"} or {"kind": "table",
    "title", "columns": [{"title", "number"}], "rows": [[{"text", "state"}]]}. Its first line, which is the
    headline, and the cautions are left out: a page has both in their own places.
    """
    console = _Listening()
    show(console)
    blocks: list[Block] = []
    for one in console.heard[1:]:
        if isinstance(one, Table):
            blocks.append(_table(one, _title_out_of(blocks)))
        elif isinstance(one, Padding):
            if not blocks or blocks[-1]["kind"] != "list":
                blocks.append({"kind": "list", "title": _title_out_of(blocks), "lines": []})
            blocks[-1]["lines"].append(str(one.renderable).removeprefix("- "))
        elif (text := str(one)) not in {INVENTED, *CAUTIONS}:
            kind = "title" if isinstance(one, Text) and str(one.style) in _TITLES else "words"
            blocks.append({"kind": kind, "text": text, "state": _state(one)})
    return blocks


def _title_out_of(blocks: list[Block]) -> str:
    """The line above a table or a list, which is its title."""
    return str(blocks.pop()["text"]) if blocks and blocks[-1]["kind"] == "title" else ""


def _table(table: Table, title: str) -> Block:
    columns = [{"title": str(column.header), "number": column.justify == "right"} for column in table.columns]
    cells: Iterable[tuple[Any, ...]] = zip(*(column.cells for column in table.columns), strict=True)
    rows = [[{"text": str(cell), "state": _state(cell)} for cell in row] for row in cells]
    return {"kind": "table", "title": title or str(table.title or ""), "columns": columns, "rows": rows}


def _state(words: Any) -> str:
    """The state that words are coloured for."""
    style = str(words.style) if isinstance(words, Text) else ""
    return next((state for colour, state in _STATES.items() if colour in style), "")
