"""The command that charts a whole line of propellers."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import Annotated

import typer

from bladehold.cli.common import (
    FAILS,
    HOLDS,
    AsCsv,
    AsJson,
    Classes,
    Pictures,
    build_of,
    console,
    known_endings,
    one_format,
    refusals,
    told_written,
    write_pictures,
)


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("range")(range_command)


def range_command(
    lineup: Annotated[Path, typer.Argument(help="List of propellers (CSV).", show_default=False)],
    base: Annotated[Path, typer.Option("--base", help="Build sheet of the same construction.")],
    classes: Classes = None,
    out: Pictures = None,
    as_json: AsJson = False,
    as_csv: AsCsv = False,
) -> None:
    """Chart the pivot screw that each propeller of a line needs."""
    one_format(as_json, as_csv)
    with refusals(base):
        from bladehold.cautions import cautions
        from bladehold.report import data
        from bladehold.sheet.lineup import load_lineup
        from bladehold.study.range_chart import range_rows, row_as_dict

        names = tuple(dict.fromkeys(classes or ("A2-70", "8.8", "12.9")))
        known_endings(out or [])
        build = build_of(base)
        rows = range_rows(build, load_lineup(lineup), names)
        if out:
            from bladehold.report.chart import range_chart
            from bladehold.report.render import render

            chart = range_chart(rows, names, invented=build.invented)
            write_pictures(partial(render, chart), out)
        if as_json:
            listed = [row_as_dict(row) for row in rows]
            print(data.as_json({"propellers": listed, "cautions": cautions(invented=build.invented)}))
        elif as_csv:
            print(data.as_csv(row_as_dict(row) for row in rows), end="")
        else:
            from bladehold.report.range import show_range

            show_range(console(), rows, names, invented=build.invented)
            told_written(out or [])
    raise typer.Exit(HOLDS if all(row.holds for row in rows) else FAILS)
