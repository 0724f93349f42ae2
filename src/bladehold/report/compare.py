"""Builds side by side: what differs, what is alike, and what one cannot answer; table, data, chart."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from string import ascii_uppercase
from typing import TYPE_CHECKING, Any

from rich.console import Console
from rich.table import Table
from rich.text import Text

from bladehold.cautions import CAUTIONS, INVENTED, cautions
from bladehold.report.chart_frame import COLOURS, MARK, ROW, SHAPES, beside, inline, titled
from bladehold.report.echo import Echo, echo_of
from bladehold.report.plain_table import show_table, word_table
from bladehold.report.terminal import show_cautions
from bladehold.sheet import Build, Sheet
from bladehold.study.compare import FATIGUES, GROUPS, MARGINS, Comparison, Entry, Row
from bladehold.study.words import span

if TYPE_CHECKING:
    import altair

MOST = len(ascii_uppercase)
_ASSUMED = "ASSUMED"  # what the echo marks such a value with
_BEST, _DIFFERS = "◂", "≠"
_LETTERS, _WIDTH = 84, 420
_NAMES, _NARROWEST = 22, 14  # letters of the first columns, and of a build at the least
_FARTHEST = 2.0  # margins beyond are drawn at the edge
_CLOSE = 1e-9  # of a quantity, within which two are the same in whatever units


@dataclass(frozen=True)
class InputRow:
    """One key of the sheets: what each has, written, assumed or nothing; differs - in value, not in units."""

    key: str
    values: tuple[str, ...]
    differs: bool


def headline(found: Comparison) -> str:
    """Return which hold and in how many answers they differ."""
    count = len(found.differing)
    held = [letter for letter, holds in zip(ascii_uppercase, found.holds, strict=False) if holds]
    one = "S" if len(held) == 1 else ""
    which = "none of them HOLDS in strength" if not held else f"{', '.join(held)} HOLD{one} in strength"
    if len(held) == len(found.holds):
        which = "all of them HOLD in strength"
    short = [letter for letter, lasts in zip(ascii_uppercase, found.lasts, strict=False) if not lasts]
    early = f"a part ends before the service life in {', '.join(short)}; " if short else ""
    return f"{which}; {early}{count} of {len(found.rows)} answers differ."


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
    if row.group in {MARGINS, FATIGUES} or "margin" in row.name:
        return f"{value:+.2f}"
    return f"{value:.4g}"


def show_comparison(
    console: Console,
    found: Comparison,
    inputs: Sequence[InputRow],
    *,
    files: Sequence[str],
    every: bool,
    invented: bool,
) -> None:
    """Print builds side by side: every - what is alike too; inputs - keys of the sheets; files -
    they were read from."""
    console.print(Text(headline(found)[:1].upper() + headline(found)[1:], style="bold"))
    for letter, name, file in zip(ascii_uppercase, found.names, files, strict=False):
        console.print(Text(f" {letter}  {name} ({file})"))
    beside = _beside(console.width, len(found.names))
    alike = 0
    for group in GROUPS:
        rows = [row for row in found.rows if row.group == group]
        shown = [row for row in rows if every or row.differs]
        alike += len(rows) - len(shown)
        for columns in beside if shown else ():
            title = f"{group[:1].upper()}{group[1:]}{_which(columns, beside)}"
            show_table(console, title, _table(shown, columns))
    listed = [row for row in inputs if every or row.differs]
    for columns in beside if listed else ():
        table = word_table("", "key of the sheet", *(ascii_uppercase[at] for at in columns))
        for row in listed:
            table.add_row(_DIFFERS if row.differs else "", row.key, *(row.values[at] for at in columns))
        which = "Inputs" if every else "Inputs that differ"
        show_table(console, f"{which}, as written or assumed{_which(columns, beside)}", table)
    console.print()
    told = f"{_DIFFERS} differs, {_BEST} is the better one."
    same = len(inputs) - len(listed)
    rest = f" {alike} answers are alike and {same} inputs: --all shows them too." if alike or same else ""
    console.print(Text(told + rest))
    show_cautions(console, invented=invented)


def _beside(width: int, count: int) -> list[range]:
    """Which builds stand beside each other, so that their words are not cut to pieces."""
    most = max((width - _NAMES) // _NARROWEST, 2)
    return [range(first, min(first + most, count)) for first in range(0, count, most)]


def _which(columns: range, beside: Sequence[range]) -> str:
    """The letters of a table's builds, where there are several tables."""
    return f": {', '.join(ascii_uppercase[at] for at in columns)}" if len(beside) > 1 else ""


def _table(rows: Sequence[Row], columns: range) -> Table:
    table = word_table("", "", *(ascii_uppercase[at] for at in columns))
    for row in rows:
        cells = []
        for at in columns:
            entry = row.entries[at]
            best = row.best == at
            cells.append(
                Text(f"{said(entry, row)}{f' {_BEST}' if best else ''}", style="bold" if best else "")
            )
        unit = "" if row.unit in {"", "h"} else f", {row.unit}"
        table.add_row(_DIFFERS if row.differs else "", f"{row.name}{unit}", *cells)
    return table


def inputs_of(pairs: Sequence[tuple[Sheet, Build]]) -> list[InputRow]:
    """Return every key that any sheet gives or leaves to be assumed, with what each has.

    One value in two units is alike; a value that one sheet assumes differs from the same written in another.
    """
    several = [{line.key: line for line in _echoed(sheet, build)} for sheet, build in pairs]
    rows = []
    for key in dict.fromkeys(key for lines in several for key in lines):
        found = [lines.get(key) for lines in several]
        differs = any(not _alike(found[0], other) for other in found[1:])
        rows.append(InputRow(key, tuple(_written(line) for line in found), differs))
    return rows


def _echoed(sheet: Sheet, build: Build) -> Iterator[Echo]:
    """What was read and assumed, for the moving blade too."""
    yield from echo_of(sheet, build)
    for item in build.blade_assumptions:
        yield Echo(item.key, item.value, None, "", f"{_ASSUMED}: {item.why}")


def _assumed(line: Echo) -> bool:
    return line.remark.startswith(_ASSUMED)


def _written(line: Echo | None) -> str:
    if line is None:
        return "not given"
    return f"{line.written}{' (assumed)' if _assumed(line) else ''}"


def _alike(one: Echo | None, other: Echo | None) -> bool:
    if one is None or other is None:
        return one is other
    if one.si is not None and other.si is not None:
        return math.isclose(one.si, other.si, rel_tol=_CLOSE, abs_tol=1e-15)
    return one.written == other.written and _assumed(one) == _assumed(other)


def comparison_rows(found: Comparison) -> list[dict[str, Any]]:
    """Return every answer as plain data: number and words of each build, by its letter."""
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


def comparison_data(found: Comparison, inputs: Sequence[InputRow], *, invented: bool) -> dict[str, Any]:
    """Return everything `compare` says as plain data."""
    return {
        "builds": dict(zip(ascii_uppercase, found.names, strict=False)),
        "holds": dict(zip(ascii_uppercase, found.holds, strict=False)),
        "lasts": dict(zip(ascii_uppercase, found.lasts, strict=False)),
        "sentence": headline(found),
        "rows": comparison_rows(found),
        "inputs": [
            {"key": row.key, "differs": row.differs, **dict(zip(ascii_uppercase, row.values, strict=False))}
            for row in inputs
        ],
        "cautions": cautions(invented=invented),
    }


def input_rows(inputs: Sequence[InputRow]) -> list[dict[str, Any]]:
    """Return the inputs as rows that stand below the answers: each in words, by the sheet's letter."""
    return [
        {
            "group": "input",
            "name": row.key,
            "unit": "",
            "differs": row.differs,
            "best": None,
            **{
                key: value
                for letter, said in zip(ascii_uppercase, row.values, strict=False)
                for key, value in ((letter, None), (f"{letter}_said", said))
            },
        }
        for row in inputs
    ]


def comparison_chart(found: Comparison, *, invented: bool, group: str = MARGINS) -> altair.VConcatChart:
    """Return the smallest margin of every part, a mark for each build; group - MARGINS or FATIGUES."""
    import altair as alt

    rows = [row for row in found.rows if row.group == group]
    names = [f"{letter}: {name}" for letter, name in zip(ascii_uppercase, found.names, strict=False)]
    marks = [
        {
            "part": row.name,
            "build": name,
            "margin": entry.number if math.isfinite(entry.number) else None,
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
        title=f"smallest margin of {group.removeprefix('margins of ')} (beyond {_FARTHEST:g} at the edge)"
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
    missing = [
        f"{row.name} of {letter} ({entry.absent})"
        for row in rows
        for letter, entry in zip(ascii_uppercase, row.entries, strict=False)
        if entry.absent
    ]
    notes += [f"No mark: {'; '.join(missing)}."] if missing else []
    notes.append(" ".join([*([INVENTED] if invented else []), CAUTIONS[0]]))
    whole: altair.VConcatChart = titled(
        alt.vconcat(chart), f"{group.capitalize()} side by side", notes, _LETTERS
    )
    return whole
