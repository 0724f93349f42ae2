"""The command that shows how the blade of a sheet moves and what that puts into its pivot."""

from __future__ import annotations

from enum import StrEnum
from functools import partial
from typing import TYPE_CHECKING, Annotated

import typer

from bladehold.cli.common import (
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
    tap_test,
    told_written,
    write_pictures,
)

if TYPE_CHECKING:
    from bladehold.sheet import Build
    from bladehold.study import BladeAnswer


class Picture(StrEnum):
    """What --out draws."""

    TURN = "turn"
    FREQUENCIES = "frequencies"
    SHAPES = "shapes"
    FOLDING = "folding"


def register(app: typer.Typer) -> None:
    """Add the command to the application."""
    app.command()(blade)


def blade(
    sheet: SheetPath,
    chart: Annotated[
        Picture | None, typer.Option("--chart", help="What --out draws; turn if left out.")
    ] = None,
    out: Pictures = None,
    as_json: AsJson = False,
    as_csv: AsCsv = False,
) -> None:
    """Show how the blade bends, folds and loads its pivot, with its frequencies, and draw it."""
    one_format(as_json, as_csv)
    chart_needs_file(chart, out)
    with refusals(sheet):
        from bladehold.report import data
        from bladehold.report.blade import show_blade
        from bladehold.report.blade_data import blade_csv_rows, blade_data
        from bladehold.study import blade_answer

        known_endings(out or [])
        build = build_of(sheet)
        if chart is Picture.FOLDING and not build.propeller.folding:
            refuse("the blades of this sheet do not fold (propeller.folding): there is no folding to draw")
        with tap_test(sheet):
            found = blade_answer(build)
        write_pictures(partial(_drawn, build, found, chart or Picture.TURN), out or [])
        if as_json:
            print(data.as_json(blade_data(found, build)))
        elif as_csv:
            print(data.as_csv(blade_csv_rows(found)), end="")
        else:
            show_blade(console(), found, build)
            told_written(out or [])
    raise typer.Exit(HOLDS)


def _drawn(build: Build, found: BladeAnswer, chart: Picture, kind: str) -> bytes:
    """The chart asked for as a file of one kind."""
    from bladehold.report.blade_charts import folding_chart, frequency_chart, shape_chart, turn_chart
    from bladehold.report.render import render

    draw = {
        Picture.TURN: turn_chart,
        Picture.FREQUENCIES: frequency_chart,
        Picture.SHAPES: shape_chart,
        Picture.FOLDING: folding_chart,
    }[chart]
    return render(draw(found, build), kind)
