"""Builds side by side: what differs, what is alike, and what one cannot answer; table, data, chart."""

from __future__ import annotations

import math
from collections.abc import Sequence
from string import ascii_uppercase
from typing import TYPE_CHECKING, Any

from rich.console import Console
from rich.table import Table
from rich.text import Text

from bladehold.report.chart_frame import COLOURS, MARK, ROW, SHAPES, beside, inline, titled
from bladehold.report.data import cautions
from bladehold.report.echo import echo_of
from bladehold.report.plain_table import show_table, word_table
from bladehold.report.terminal import show_cautions
from bladehold.sheet import Build, Sheet
from bladehold.study.compare import GROUPS, MARGINS, Comparison, Entry, Row
from bladehold.study.words import CAUTIONS, INVENTED, span

if TYPE_CHECKING:
    import altair

Inputs = Sequence[tuple[str, tuple[str, ...]]]
"""Keys of sheets with what each sheet has."""

MOST = len(ascii_uppercase)
_BEST, _DIFFERS = "◂", "≠"
_LETTERS, _WIDTH = 84, 420
_FARTHEST = 2.0  # margins beyond are drawn at the edge


def headline(found: Comparison) -> str:
    """Return which hold and in how many answers they differ."""
    count = len(found.differing)
    held = [letter for letter, holds in zip(ascii_uppercase, found.holds, strict=False) if holds]
    which = "none of them HOLDS" if not held else f"{', '.join(held)} HOLD{'S' if len(held) == 1 else ''}"
    if len(held) == len(found.holds):
        which = "all of them HOLD"
    return f"{which}; {count} of {len(found.rows)} answers differ."


def said(entry: Entry, row: Row) -> str:
    """Return one answer in words, with what stands beside it."""
    if entry.absent:
        return f"– ({entry.absent})"
    if entry.number is None:
        return entry.text
    return f"{_number(entry.number, row)}{f', {entry.text}' if entry.text else ''}"


def _number(value: float, row: Row) -> str:
    if row.unit == "h":
        return "no damage" if math.isinf(value) else span(value)
    if math.isinf(value):
        return "none found"
    if row.group == MARGINS or "margin" in row.name:
        return f"{value:+.2f}"
    return f"{value:.4g}"


def show_comparison(
    console: Console,
    found: Comparison,
    inputs: Inputs,
    *,
    every: bool,
    invented: bool,
) -> None:
    """Print builds side by side: every - what is alike too; inputs - keys of the sheets that differ."""
    console.print(Text(headline(found)[:1].upper() + headline(found)[1:], style="bold"))
    for letter, name in zip(ascii_uppercase, found.names, strict=False):
        console.print(Text(f" {letter}  {name}"))
    letters = ascii_uppercase[: len(found.names)]
    alike = 0
    for group in GROUPS:
        rows = [row for row in found.rows if row.group == group]
        shown = [row for row in rows if every or row.differs]
        alike += len(rows) - len(shown)
        if shown:
            show_table(console, group[:1].upper() + group[1:], _table(shown, letters))
    if inputs:
        table = word_table("key of the sheet", *letters)
        for key, values in inputs:
            table.add_row(key, *values)
        show_table(console, "Inputs that differ, as written or assumed", table)
    console.print()
    told = f"{_DIFFERS} differs, {_BEST} is the better one."
    rest = f" {alike} answers are alike: --all shows them too." if alike else ""
    console.print(Text(told + rest))
    show_cautions(console, invented=invented)


def _table(rows: Sequence[Row], letters: str) -> Table:
    table = word_table("", "", *letters)
    for row in rows:
        cells = []
        for at, entry in enumerate(row.entries):
            best = row.best == at
            cells.append(
                Text(f"{said(entry, row)}{f' {_BEST}' if best else ''}", style="bold" if best else "")
            )
        unit = "" if row.unit in {"", "h"} else f", {row.unit}"
        table.add_row(_DIFFERS if row.differs else "", f"{row.name}{unit}", *cells)
    return table


def differing_inputs(pairs: Sequence[tuple[Sheet, Build]]) -> list[tuple[str, tuple[str, ...]]]:
    """Return every key that is not alike in all sheets, with what each has: written, assumed or nothing."""
    several = [
        {
            line.key: f"{line.written}{' (assumed)' if line.remark.startswith('ASSUMED') else ''}"
            for line in echo_of(sheet, build)
        }
        for sheet, build in pairs
    ]
    keys = dict.fromkeys(key for values in several for key in values)
    rows = [(key, tuple(values.get(key, "–") for values in several)) for key in keys]
    return [(key, values) for key, values in rows if len(set(values)) > 1]


def comparison_rows(found: Comparison) -> list[dict[str, Any]]:
    """Return every row as plain data: number and words of each build, by its letter."""
    rows = []
    for row in found.rows:
        plain: dict[str, Any] = {
            "group": row.group,
            "name": row.name,
            "unit": row.unit,
            "differs": row.differs,
        }
        plain["best"] = None if row.best is None else ascii_uppercase[row.best]
        for letter, entry in zip(ascii_uppercase, row.entries, strict=False):
            finite = entry.number is not None and math.isfinite(entry.number)
            plain[f"{letter}"] = entry.number if finite else None
            plain[f"{letter}_said"] = said(entry, row)
        rows.append(plain)
    return rows


def comparison_data(found: Comparison, inputs: Inputs, *, invented: bool) -> dict[str, Any]:
    """Return everything `compare` says as plain data."""
    return {
        "builds": dict(zip(ascii_uppercase, found.names, strict=False)),
        "holds": dict(zip(ascii_uppercase, found.holds, strict=False)),
        "sentence": headline(found),
        "rows": comparison_rows(found),
        "inputs": [
            {"key": key, **dict(zip(ascii_uppercase, values, strict=False))} for key, values in inputs
        ],
        "cautions": cautions(invented=invented),
    }


def comparison_chart(found: Comparison, *, invented: bool) -> altair.VConcatChart:
    """Return the smallest margin of every part, a mark for each build."""
    import altair as alt

    rows = [row for row in found.rows if row.group == MARGINS]
    names = [f"{letter}: {name}" for letter, name in zip(ascii_uppercase, found.names, strict=False)]
    marks = [
        {
            "part": row.name,
            "build": name,
            "margin": entry.number,
            "at": min(entry.number, _FARTHEST),
            "said": said(entry, row),
        }
        for row in rows
        for name, entry in zip(names, row.entries, strict=True)
        if entry.number is not None
    ]
    y, words = beside("part", [row.name for row in rows])
    low = -0.05 + min([-0.15, *(one.number for row in rows for one in row.entries if one.number is not None)])
    x: Any = alt.X("at:Q", scale=alt.Scale(domain=[low, _FARTHEST], nice=False)).axis(
        title=f"smallest margin of strength (beyond {_FARTHEST:g} at the edge)"
    )
    key = alt.Legend(title=None, orient="bottom", columns=1, labelLimit=0)
    colours = [COLOURS[at % len(COLOURS)] for at in range(len(names))]
    shapes = [SHAPES[at % len(SHAPES)] for at in range(len(names))]
    base: Any = alt.Chart(inline(marks)).mark_point(filled=True, size=110, opacity=0.9)
    points = base.encode(
        y=y,
        x=x,
        color=alt.Color("build:N", scale=alt.Scale(domain=names, range=colours), legend=key),
        shape=alt.Shape("build:N", scale=alt.Scale(domain=names, range=shapes), legend=key),
        tooltip=["build:N", "part:N", alt.Tooltip("margin:Q", format="+.2f"), "said:N"],
    )
    zero: Any = alt.Chart(inline([{"at": 0.0}])).mark_rule(color=MARK, strokeWidth=1.5).encode(x=x)
    chart = alt.layer(zero, points, *words).properties(width=_WIDTH, height=ROW * max(len(rows), 2))
    lives = [row for row in found.rows if row.name == "shortest life"]
    notes = [headline(found)[:1].upper() + headline(found)[1:]]
    notes += [
        "Shortest life: "
        + "; ".join(
            f"{letter} {said(entry, row)}"
            for letter, entry in zip(ascii_uppercase, row.entries, strict=False)
        )
        + "."
        for row in lives
    ]
    notes.append(" ".join([*([INVENTED] if invented else []), CAUTIONS[0]]))
    whole: altair.VConcatChart = titled(alt.vconcat(chart), "Margins side by side", notes, _LETTERS)
    return whole
