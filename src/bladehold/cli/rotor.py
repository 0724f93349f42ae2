"""The command that shows what the rotor of a sheet does."""

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
    told_written,
    write_pictures,
)

if TYPE_CHECKING:
    from bladehold.sheet import Build

POINTS = 37  # of the lines of the chart


class Picture(StrEnum):
    """What --out draws."""

    PERFORMANCE = "performance"
    LOADING = "loading"
    DISC = "disc"
    PLANFORM = "planform"


def register(app: typer.Typer) -> None:
    """Add the command to the application."""
    app.command()(rotor)


def rotor(
    sheet: SheetPath,
    chart: Annotated[
        Picture | None, typer.Option("--chart", help="What --out draws; performance if left out.")
    ] = None,
    out: Pictures = None,
    as_json: AsJson = False,
    as_csv: AsCsv = False,
) -> None:
    """Show thrust, torque, power and efficiency of the rotor over its speeds, and draw rotor and blade."""
    one_format(as_json, as_csv)
    chart_needs_file(chart, out)
    with refusals(sheet):
        from bladehold.report import data
        from bladehold.report.rotor import rotor_csv_rows, rotor_data, show_rotor
        from bladehold.study.performance import performance_of

        known_endings(out or [])
        build = build_of(sheet)
        found = performance_of(build)
        write_pictures(partial(_drawn, build, chart or Picture.PERFORMANCE), out or [])
        if as_json:
            print(data.as_json(rotor_data(found, build)))
        elif as_csv:
            print(data.as_csv(rotor_csv_rows(found)), end="")
        else:
            show_rotor(console(), found, build)
            told_written(out or [])
    raise typer.Exit(HOLDS)


def _drawn(build: Build, chart: Picture, kind: str) -> bytes:
    """The chart asked for as a file of one kind."""
    from numpy import linspace

    from bladehold.report.disc_charts import forward_chart
    from bladehold.report.planform import planform_drawing
    from bladehold.report.render import render, render_drawing
    from bladehold.report.rotor_charts import loading_chart, performance_chart
    from bladehold.study.forward import forward_flight
    from bladehold.study.performance import SPEED_SHARES, performance_of

    if chart is Picture.PLANFORM:
        return render_drawing(planform_drawing(build), kind)
    if chart is Picture.LOADING:
        return render(loading_chart(performance_of(build), build), kind)
    if chart is Picture.DISC:
        return render(forward_chart(build, forward_flight(build)), kind)
    fine = performance_of(build, linspace(SPEED_SHARES[0], SPEED_SHARES[-1], POINTS))
    return render(performance_chart(fine, build), kind)
