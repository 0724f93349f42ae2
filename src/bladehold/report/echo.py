"""The echo of a sheet as a table: every key as written, in SI, and what became of it."""

from __future__ import annotations

from rich.console import Console
from rich.table import Table
from rich.text import Text

from bladehold.report.terminal import show_cautions
from bladehold.sheet import Build
from bladehold.sheet.echo import Echo


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
