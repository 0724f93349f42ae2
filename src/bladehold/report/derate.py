"""The thrust that the hardware holds over temperature and altitude: table, data, chart."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from rich.console import Console
from rich.table import Table
from rich.text import Text

from bladehold.air import GRAVITY
from bladehold.report.chart_frame import MARK, inline
from bladehold.report.data import answer
from bladehold.report.joint_charts import framed_of
from bladehold.report.plain_table import number_table, show_table
from bladehold.report.render import MUTED
from bladehold.report.terminal import show_assumptions, show_cautions, show_notes
from bladehold.sheet import Build
from bladehold.study.derate import Cell, Derating
from bladehold.study.words import kgf, rpm

if TYPE_CHECKING:
    import altair

ZERO = 273.15
STATES = (("less than used", "#e9b9ad"), ("holds what is used", "#cfe0c8"), ("no figure", "#e6e6e6"))
_CELL_WIDTH, _CELL_HEIGHT = 104, 58


def headline(found: Derating, build: Build) -> str:
    """Return the least thrust of the table and where it is met, in one sentence."""
    cells = [cell for row in found.cells for cell in row if not cell.why]
    if not cells:
        return f"{build.name}: NO thrust can be told in any of these kinds of air."
    least = min(cells, key=lambda cell: cell.thrust)
    word = "HOLDS" if found.holds else "DOES NOT HOLD"
    return (
        f"{build.name}: the {kgf(found.used)} kgf used {word} in all of these kinds of air; the least is "
        f"{kgf(least.thrust)} kgf at {least.temperature - ZERO:.0f} °C and {least.altitude:.0f} m, by the "
        f"{least.part}."
    )


def show_derate(console: Console, found: Derating, build: Build) -> None:
    """Print the table."""
    console.print(Text(headline(found, build), style="bold" if found.holds else "bold red"))
    columns = [f"{altitude:.0f} m" for altitude in found.altitudes]
    title = "Steady thrust of a rotor at which the smallest margin is zero, kgf, over pressure altitude"
    show_table(console, title, _table(found, columns, _thrust))
    show_table(console, "Governed by", _table(found, columns, lambda cell: cell.part or cell.why))
    speeds = "Fastest turning there, rpm, and the density altitude, m"
    show_table(console, speeds, _table(found, columns, _speed))
    if found.claimed is not None:
        share = "Thrust of the hardest condition over the maker's rating, %"
        show_table(console, share, _table(found, columns, _share))
    show_notes(console, "Notes on the sheet", build.notes)
    show_assumptions(console, build.assumptions)
    show_cautions(console, invented=build.invented)


def _table(found: Derating, columns: list[str], said: Any) -> Table:
    table = number_table("", *columns)
    for column in table.columns[1:]:
        column.no_wrap = False
    for temperature, row in zip(found.temperatures, found.cells, strict=True):
        table.add_row(f"{temperature - ZERO:.0f} °C", *(said(cell) for cell in row))
    return table


def _thrust(cell: Cell) -> str:
    if cell.why:
        return "–"
    return "over all looked at" if math.isinf(cell.thrust) else kgf(cell.thrust)


def _speed(cell: Cell) -> str:
    fast = f"{rpm(cell.speed):.0f}" if math.isfinite(cell.speed) else "–"
    return f"{fast} ({cell.density_altitude:.0f})"


def _share(cell: Cell) -> str:
    return "–" if cell.share is None else f"{100 * cell.share:.0f}"


def derate_rows(found: Derating) -> list[dict[str, Any]]:
    """Return every cell as plain rows."""

    def plain(value: float) -> float | None:
        return value if math.isfinite(value) else None

    return [
        {
            "temperature_degC": round(cell.temperature - ZERO, 6),
            "altitude_m": cell.altitude,
            "density_altitude_m": cell.density_altitude,
            "thrust_N": plain(cell.thrust),
            "thrust_kgf": plain(cell.thrust / GRAVITY),
            "peak_thrust_N": plain(cell.peak_thrust),
            "speed_rpm": plain(rpm(cell.speed)),
            "part": cell.part,
            "share_of_claim": cell.share,
            "why": cell.why,
        }
        for row in found.cells
        for cell in row
    ]


def derate_data(found: Derating, build: Build) -> dict[str, Any]:
    """Return everything `derate` says as plain data."""
    return answer(
        build,
        {
            "sentence": headline(found, build),
            "holds": found.holds,
            "used_thrust_N": found.used,
            "claimed_thrust_N": found.claimed,
            "cells": derate_rows(found),
            "assumptions": [vars(item) for item in build.assumptions],
            "notes": list(build.notes),
        },
    )


def derate_chart(found: Derating, build: Build) -> altair.VConcatChart:
    """Return the table as a picture, coloured by whether the thrust used holds."""
    import altair as alt

    rows = [_field(found, cell) for row in found.cells for cell in row]
    across = [f"{altitude:.0f}" for altitude in found.altitudes]
    down = [f"{temperature - ZERO:.0f}" for temperature in found.temperatures[::-1]]
    x: Any = alt.X("altitude:N", sort=across, axis=alt.Axis(title="pressure altitude, m", labelAngle=0))
    y: Any = alt.Y("temperature:N", sort=down, axis=alt.Axis(title="air temperature, °C"))
    shade: Any = alt.Color(
        "state:N",
        scale=alt.Scale(domain=[name for name, _ in STATES], range=[colour for _, colour in STATES]),
        legend=alt.Legend(title="thrust held, kgf", orient="bottom", symbolStrokeColor=MUTED),
    )
    base: Any = alt.Chart(inline(rows)).encode(x=x, y=y)
    layers = [
        base.mark_rect(stroke="#ffffff", strokeWidth=2).encode(
            color=shade, tooltip=["temperature:N", "altitude:N", "thrust:N", "part:N", "speed:N", "share:N"]
        ),
        base.mark_text(dy=-14, fontSize=14, color=MARK).encode(text="thrust:N"),
        base.mark_text(dy=3, fontSize=11, color=MARK).encode(text="part:N"),
        base.mark_text(dy=18, fontSize=11, color=MARK).encode(text="share:N"),
    ]
    size = {"width": _CELL_WIDTH * len(across), "height": _CELL_HEIGHT * len(down)}
    notes = [
        f"Used is {kgf(found.used)} kgf steady per rotor. Everything flown in that air alone, parts as warm "
        "as the air; steady thrust at which the smallest margin is zero, the part that has it"
        + (", and the hardest condition there over the maker's rating." if found.claimed else "."),
    ]
    chart = alt.layer(*layers).properties(**size)
    return framed_of(alt.vconcat(chart), "thrust held over temperature and altitude", notes, build, ())


def _field(found: Derating, cell: Cell) -> dict[str, Any]:
    names = [name for name, _ in STATES]
    state = names[2] if cell.why else names[1] if cell.thrust >= found.used else names[0]
    return {
        "temperature": f"{cell.temperature - ZERO:.0f}",
        "altitude": f"{cell.altitude:.0f}",
        "thrust": _thrust(cell),
        "part": cell.part or "not reached",
        "speed": _speed(cell),
        "share": f"{_share(cell)} % of rating" if cell.share is not None else "",
        "state": state,
    }
