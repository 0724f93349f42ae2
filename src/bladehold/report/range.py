"""A line of propellers, in the terminal."""

from __future__ import annotations

import math
from collections.abc import Sequence

from rich.box import SIMPLE_HEAD
from rich.console import Console
from rich.table import Table
from rich.text import Text

from bladehold.air import GRAVITY
from bladehold.report.terminal import show_cautions, show_notes, signed_margin
from bladehold.study.range_chart import BAND_NOTE, SCALING, RangeRow

COLUMNS = (
    "Margin: of all that the screw touches, at the thrust used; holds: the steady thrust at which the "
    "screw's own margin is zero."
)


def needed(row: RangeRow, name: str) -> str:
    """Return the screw that a propeller needs in a class, with its band below where that is wider."""
    middle = row.needed[name] or "none"
    low, high = (one or "none" for one in row.band[name])
    return middle if low == high == middle else f"{middle}\n{low}–{high}"


def _margin(row: RangeRow) -> Text:
    if row.why:
        return Text("not computed", style="yellow")
    return Text("does not fit") if row.present_margin is None else signed_margin(row.present_margin, 0.0)


def nearest(row: RangeRow) -> list[str]:
    """Return what comes nearest where no thread holds, classes that end alike in one."""
    classes: dict[str, list[str]] = {}
    for name, told in row.unmet.items():
        classes.setdefault(told, []).append(name)
    return [f"{', '.join(names)}: {told}" for told, names in classes.items()]


def show_range(console: Console, rows: Sequence[RangeRow], classes: Sequence[str], *, invented: bool) -> None:
    """Print the line of propellers with present and needed screws."""
    out = [f"{row.name}, {row.why}" for row in rows if row.why]
    failing = sum(not row.holds for row in rows) - len(out)
    aside = f"; {len(out)} could not be computed" if out else ""
    text = f"{failing} of {len(rows)} propellers do not hold with their present pivot screw{aside}."
    console.print(Text(text, style="bold"))
    table = Table(
        title="Pivot screw of each propeller", title_justify="left", box=SIMPLE_HEAD, padding=(0, 1, 0, 0)
    )
    for title in ("name", "used\nkgf", "claim\nkgf", "fitted", "margin", "holds\nkgf"):
        words = title in {"name", "fitted", "margin"}
        table.add_column(title, justify="left" if words else "right", overflow="fold")
    for name in classes:
        table.add_column(f"needs\n{name}", overflow="fold")
    for row in rows:
        table.add_row(
            row.name,
            f"{row.used_thrust / GRAVITY:.1f}",
            f"{row.claimed_thrust / GRAVITY:.1f}",
            f"{row.present_screw} {row.present_class}",
            _margin(row),
            f"{row.held_thrust / GRAVITY:.1f}" if math.isfinite(row.held_thrust) else "-",
            *("–" if row.why else needed(row, name) for name in classes),
        )
    console.print(table)
    console.print(Text(COLUMNS))
    console.print(Text(SCALING))
    console.print(Text(BAND_NOTE))
    show_notes(console, "Not computed", out)
    unmet = [f"{row.name} {told}" for row in rows for told in nearest(row)]
    show_notes(console, "Where no pivot screw holds, what comes nearest", unmet)
    besides = [f"{row.name}: {row.besides}" for row in rows if row.besides]
    show_notes(console, "No pivot screw mends these", besides)
    scaled = [f"{row.name}: {', '.join(row.assumed)}" for row in rows if row.assumed]
    show_notes(console, "Scaled from the base sheet", scaled)
    show_cautions(console, invented=invented)
