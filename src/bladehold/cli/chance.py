"""The commands about uncertainty: how likely failure is, and the worst case."""

from __future__ import annotations

from enum import StrEnum
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bladehold.cli.common import (
    FAILS,
    HOLDS,
    AsCsv,
    AsJson,
    Pictures,
    SheetPath,
    build_of,
    chart_needs_file,
    console,
    known_endings,
    one_format,
    refusals,
    refuse,
    told_written,
    write_pictures,
)

if TYPE_CHECKING:
    from bladehold.study.chance import Chance
    from bladehold.tables import Scatter

ALLOWED = 1e-5  # own choice: one hub in a hundred thousand flights

OwnScatter = Annotated[
    Path | None,
    typer.Option(
        "--scatter", help="Table (CSV) of distributions in place of the usual ones; see --show-scatter."
    ),
]


class ChancePicture(StrEnum):
    """What --out draws."""

    PARTS = "parts"
    DRIVERS = "drivers"


def register(app: typer.Typer) -> None:
    """Add the commands to the application."""
    app.command()(chance)
    app.command()(worst)


def _shown_scatter(wanted: bool) -> None:
    if wanted:
        from bladehold.report import data
        from bladehold.tables import scatter, scatter_names
        from bladehold.tables.scatter import as_table

        print(data.as_csv(as_table(scatter(name) for name in scatter_names())), end="")
        raise typer.Exit


def chance(
    sheet: SheetPath,
    samples: Annotated[
        int, typer.Option("--samples", min=1000, max=10_000_000, help="Random draws.")
    ] = 100_000,
    seed: Annotated[
        int, typer.Option("--seed", min=0, help="Of the draws; the same seed, the same answer.")
    ] = 1,
    allowed: Annotated[
        float, typer.Option("--allowed", min=0.0, max=1.0, help="Probability per flight from which it fails.")
    ] = ALLOWED,
    scatter: OwnScatter = None,
    show_scatter: Annotated[
        bool,
        typer.Option("--show-scatter", callback=_shown_scatter, is_eager=True, help="Print the usual table."),
    ] = False,
    chart: Annotated[
        ChancePicture | None, typer.Option("--chart", help="What --out draws; parts if left out.")
    ] = None,
    out: Pictures = None,
    as_json: AsJson = False,
    as_csv: AsCsv = False,
) -> None:
    """Show how likely each part breaks or yields in a flight, what decides it, and what the number is worth.

    Ends with 1 where a part breaks in more than --allowed of flights.
    """
    one_format(as_json, as_csv)
    chart_needs_file(chart, out)
    with refusals(sheet):
        from bladehold.report import data
        from bladehold.report.chance import chance_data, chance_rows, show_chance
        from bladehold.study.chance import chance as find

        known_endings(out or [])
        own = _own(scatter)
        found = find(build_of(sheet), own, samples=samples, seed=seed)
        write_pictures(partial(_drawn, found, chart or ChancePicture.PARTS, allowed), out or [])
        if as_json:
            print(data.as_json(chance_data(found, allowed)))
        elif as_csv:
            print(data.as_csv(chance_rows(found)), end="")
        else:
            show_chance(console(), found, allowed)
            told_written(out or [])
    raise typer.Exit(FAILS if found.any_breaks.estimate.probability > allowed else HOLDS)


def _drawn(found: Chance, chart: ChancePicture, allowed: float, kind: str) -> bytes:
    from bladehold.report.chance_chart import driver_chart, part_chart
    from bladehold.report.render import render

    draw = {ChancePicture.PARTS: part_chart, ChancePicture.DRIVERS: driver_chart}[chart]
    return render(draw(found, allowed), kind)


def worst(
    sheet: SheetPath, scatter: OwnScatter = None, as_json: AsJson = False, as_csv: AsCsv = False
) -> None:
    """Show the margins with every assumed or uncertain input at its pessimistic end, all at once.

    Ends with 1 where a part does not hold then.
    """
    one_format(as_json, as_csv)
    with refusals(sheet):
        from bladehold.report import data
        from bladehold.report.chance import show_worst, worst_data, worst_rows
        from bladehold.study.worst import worst_case

        found = worst_case(build_of(sheet), _own(scatter))
        if as_json:
            print(data.as_json(worst_data(found)))
        elif as_csv:
            print(data.as_csv(worst_rows(found)), end="")
        else:
            show_worst(console(), found)
    raise typer.Exit(HOLDS if found.holds else FAILS)


def _own(path: Path | None) -> tuple[Scatter, ...]:
    """Return the rows of the user's own table."""
    if path is None:
        return ()
    from bladehold.chance import Marginal
    from bladehold.sheet.reader import text_of
    from bladehold.tables import TableError, scatters_of

    text = text_of(path)
    try:
        return scatters_of(text, str(path), lambda row: Marginal(row.kind, row.mean, row.deviation))
    except TableError as error:
        refuse(*error.faults)
