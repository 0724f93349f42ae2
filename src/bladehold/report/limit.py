"""How far hardware may be loaded, in the terminal."""

from __future__ import annotations

import math

from rich.console import Console
from rich.table import Table
from rich.text import Text

from bladehold.air import GRAVITY
from bladehold.report.terminal import show_cautions
from bladehold.sheet import Build
from bladehold.study.limit import Limit
from bladehold.study.words import limit_sentence, rpm


def show_limit(console: Console, build: Build, limit: Limit) -> None:
    """Print the limits part by part."""
    console.print(Text(f"{build.name}: {limit_sentence(limit)}", style="bold"))
    table = Table(title="Where each part's margin is zero", title_justify="left", padding=(0, 1))
    table.add_column("part")
    for title in ("steady thrust\nkgf", "hardest condition\nkgf", "fastest\nrpm"):
        table.add_column(title, justify="right")
    for part in limit.parts:
        if not math.isfinite(part.thrust):
            table.add_row(part.part, "not reached", "", "")
        elif part.thrust <= 0.0:
            table.add_row(part.part, "0 (fails unloaded)", "", "")
        else:
            table.add_row(
                part.part,
                f"{part.thrust / GRAVITY:.2f}",
                f"{part.peak_thrust / GRAVITY:.2f}",
                f"{rpm(part.speed):.0f}",
            )
    console.print(table)
    show_cautions(console, invented=build.invented)
