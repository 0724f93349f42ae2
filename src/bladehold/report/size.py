"""The screws tried, in the terminal."""

from __future__ import annotations

from rich.console import Console
from rich.table import Table
from rich.text import Text

from bladehold.report.terminal import show_cautions, signed_margin
from bladehold.sheet import Build
from bladehold.study.size import Sizing
from bladehold.study.words import size_sentence


def show_sizing(console: Console, build: Build, sizing: Sizing) -> None:
    """Print every candidate screw with its margin or the reason it is out."""
    console.print(Text(f"{build.name}: {size_sentence(sizing)}", style="bold"))
    table = Table(title="Pivot screws tried", title_justify="left", padding=(0, 1))
    for title in ("thread", "class", "margin", "what sets it"):
        table.add_column(title, overflow="fold")
    for candidate in sizing.candidates:
        margin = (
            Text("does not fit")
            if candidate.margin is None
            else signed_margin(candidate.margin, build.policy.marginal)
        )
        table.add_row(candidate.thread, candidate.property_class, margin, candidate.reason)
    console.print(table)
    show_cautions(console, invented=build.invented)
