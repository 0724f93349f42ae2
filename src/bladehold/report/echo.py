"""The echo of a sheet: every key as written, in SI, and what became of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel
from rich.console import Console
from rich.table import Table
from rich.text import Text

from bladehold.quantity import KINDS, Quantity
from bladehold.report.terminal import show_cautions
from bladehold.sheet import Build, Sheet
from bladehold.sheet.fields import Section
from bladehold.sheet.problem import dotted


@dataclass(frozen=True)
class Echo:
    """One line: key, the value as written, its SI value and unit (None for words), and a remark."""

    key: str
    written: str
    si: float | None
    unit: str
    remark: str


def echo_of(sheet: Sheet, build: Build) -> list[Echo]:
    """Return every key read, then every value assumed."""
    read = list(_lines(sheet, ()))
    assumed = [
        Echo(item.key, item.value, None, "", f"ASSUMED: {item.why}")
        for item in (*build.assumptions, *build.drive_assumptions, *build.loss_assumptions)
    ]
    return read + assumed


def _lines(section: BaseModel, path: tuple[str | int, ...]) -> Iterator[Echo]:
    assert isinstance(section, Section)
    for key, field in section.fields_by_key().items():
        name = next(n for n, f in type(section).model_fields.items() if f is field)
        value = getattr(section, name)
        used = not isinstance(field.json_schema_extra, dict) or field.json_schema_extra.get("used", True)
        yield from _value(value, (*path, key), used=bool(used))


def _value(value: Any, path: tuple[str | int, ...], *, used: bool) -> Iterator[Echo]:
    if value is None:
        return
    if isinstance(value, Section):
        yield from _lines(value, path)
    elif isinstance(value, dict):
        for key, item in value.items():
            yield from _value(item, (*path, key), used=used)
    elif isinstance(value, list):
        for place, item in enumerate(value):
            yield from _value(item, (*path, place), used=used)
    else:
        remark = "" if used else "kept; no check uses it yet"
        if isinstance(value, Quantity):
            unit = KINDS[value.kind].si_label if value.kind in KINDS else ""
            yield Echo(dotted(path), value.text, value.si, unit, remark)
        else:
            text = str(value).lower() if isinstance(value, bool) else str(value)
            yield Echo(dotted(path), text, None, "", remark)


def show_echo(console: Console, lines: list[Echo], build: Build) -> None:
    """Print the echo as a table, with the notes on the sheet and the cautions."""
    table = Table(title="What was read and what was assumed", title_justify="left", padding=(0, 1))
    for name in ("key", "as written", "in SI", "remark"):
        table.add_column(name, overflow="fold")
    for line in lines:
        si = "" if line.si is None else f"{line.si:.6g} {line.unit}".strip()
        table.add_row(line.key, line.written, si, Text(line.remark, style="yellow" if line.remark else ""))
    console.print(table)
    for note in build.notes:
        console.print(Text(f"Note: {note}", style="yellow"))
    show_cautions(console, invented=build.invented)
