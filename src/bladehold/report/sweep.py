"""What a sweep found: sentences, what moves the margin, the table of all points."""

from __future__ import annotations

import csv
import io
import math
from collections import Counter
from typing import Any

import numpy as np
from rich.console import Console
from rich.text import Text

from bladehold.cautions import cautions
from bladehold.report.plain_table import number_table, show_table, word_table
from bladehold.report.terminal import show_cautions
from bladehold.study.sweep import IMPOSSIBLE, REFUSED, SOBOL, Record, Swept

TABLES = ("csv", "parquet")


def headline(found: Swept) -> str:
    """Return how many of the points hold, in one sentence."""
    held = int(np.sum(found.margin >= 0.0))
    count = len(found.records)
    out = sum(found.states.get(state, 0) for state in (REFUSED, IMPOSSIBLE))
    aside = f"; {out} could not be assessed" if out else ""
    return f"{found.sweep.source.title}: {held} of {count} points hold{aside}."


def sentences(found: Swept) -> list[str]:
    """Return where the margin is greatest and least, where it crosses zero, and what was not assessed."""
    said = []
    if np.isfinite(found.margin).any():
        for word, at in (("Greatest", np.nanargmax(found.margin)), ("Least", np.nanargmin(found.margin))):
            record = found.records[int(at)]
            said.append(
                f"{word} margin {record['margin']:+.2f} at {where(found, record)}: {record['check']}, in "
                f"{record['condition']}."
            )
    for number in found.crossings:
        axis = found.sweep.axes[0]
        said.append(f"The margin crosses zero near {axis.key} = {number:.4g} {axis.unit}".rstrip() + ".")
    reasons = Counter(record["why"] for record in found.records if record["why"])
    said += [f"! Not assessed, {count} times: {why}" for why, count in reasons.most_common(3)]
    return said


def where(found: Swept, record: Record) -> str:
    """Return the numbers of a point in words."""
    axes = found.sweep.axes
    return ", ".join(f"{axis.key} = {record[axis.title]:.4g} {axis.unit}".rstrip() for axis in axes)


def show_sweep(console: Console, found: Swept, *, invented: bool) -> None:
    """Print what a sweep found."""
    sweep = found.sweep
    kind = "quasi-random points" if sweep.kind == SOBOL else "points of a full grid"
    console.print(Text(headline(found), style="bold"))
    console.print(Text(f"{sweep.count} {kind}, every one a full assessment."))
    for sentence in sentences(found):
        console.print(Text(sentence, style="yellow" if sentence.startswith("!") else ""))
    moved = number_table("key", "from", "to", "unit", "margin at its low end", "at its high end")
    for effect in found.effects:
        axis = effect.axis
        moved.add_row(
            axis.key, f"{axis.low:g}", f"{axis.high:g}", axis.unit, *map(_signed, (effect.low, effect.high))
        )
    show_table(console, "What moves the margin most: its mean over the lowest and the highest quarter", moved)
    governs = Counter(record["part"] for record in found.records if "part" in record)
    table = word_table("part that governs", "points")
    for part, count in governs.most_common():
        table.add_row(part, str(count))
    if governs:
        show_table(console, "What governs", table)
    show_cautions(console, invented=invented)


def _signed(value: float) -> str:
    return f"{value:+.2f}" if math.isfinite(value) else "–"


def columns_of(found: Swept) -> list[str]:
    """Return the columns of the table, in the order in which they first come up."""
    return list(dict.fromkeys(name for record in found.records for name in record))


def table_of(found: Swept, ending: str) -> bytes:
    """Return the table of all points as a file of the ending "csv" or "parquet".

    Errors: ValueError for Parquet without its library.
    """
    columns = columns_of(found)
    if ending == "csv":
        text = io.StringIO()
        writer = csv.DictWriter(text, columns, restval="", lineterminator="\n")
        writer.writeheader()
        for record in found.records:
            writer.writerow({name: "" if value is None else value for name, value in record.items()})
        return text.getvalue().encode()
    try:
        import pyarrow as pa
        from pyarrow import parquet
    except ImportError:
        raise ValueError("Parquet needs the package pyarrow: pip install 'bladehold[parquet]'") from None
    whole = {name: [record.get(name) for record in found.records] for name in columns}
    sink = pa.BufferOutputStream()
    parquet.write_table(pa.table(whole), sink)
    return bytes(sink.getvalue().to_pybytes())


def sweep_data(found: Swept, *, invented: bool) -> dict[str, Any]:
    """Return what a sweep found as plain data, all points in it."""
    return {
        "sentence": headline(found),
        "sentences": sentences(found),
        "points": len(found.records),
        "states": found.states,
        "sweep": found.sweep.signature,
        "effects": [
            {
                "key": effect.axis.key,
                "unit": effect.axis.unit,
                "low": effect.axis.low,
                "high": effect.axis.high,
                "margin_low": effect.low if math.isfinite(effect.low) else None,
                "margin_high": effect.high if math.isfinite(effect.high) else None,
            }
            for effect in found.effects
        ],
        "crossings": list(found.crossings),
        "records": list(found.records),
        "cautions": cautions(invented=invented),
    }
