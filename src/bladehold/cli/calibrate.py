"""The command that makes the rotor model the user's own."""

from __future__ import annotations

from functools import partial
from typing import Annotated

import typer

from bladehold.cli.common import (
    HOLDS,
    AsJson,
    Pictures,
    SheetPath,
    console,
    known_endings,
    refusals,
    told_written,
    write_pictures,
)


def register(app: typer.Typer) -> None:
    """Add the command to the application."""
    app.command()(calibrate)


def calibrate(
    sheet: SheetPath,
    write: Annotated[
        bool, typer.Option("--write", help="Store the result in the sheet; the old one is kept as .bak.")
    ] = False,
    out: Pictures = None,
    as_json: AsJson = False,
) -> None:
    """Fit pitch, chord, section drag and lift to the thrust-stand run that the sheet names under bench."""
    with refusals(sheet):
        from bladehold.bench import load_stand
        from bladehold.report.calibration import calibration_chart, calibration_data, show_calibration
        from bladehold.report.data import as_json as json_text
        from bladehold.report.files import write_whole
        from bladehold.report.render import render
        from bladehold.sheet import load_sheet, resolve
        from bladehold.sheet.problem import Problem, SheetError
        from bladehold.sheet.storing import with_calibration
        from bladehold.study.calibrate import calibrate as fit

        known_endings(out or [])
        read = load_sheet(sheet)
        bench = read.bench
        if bench is None or bench.temperature is None or bench.pressure is None:
            message = "a calibration needs a table [bench] with file, rpm, thrust, temperature and pressure"
            raise SheetError([Problem(str(sheet), None, "bench", message)])
        build = resolve(read, sheet.parent)
        efficiency = bench.drive_efficiency.si if bench.drive_efficiency else None
        run = load_stand(bench, sheet.parent)
        found = fit(build, run, bench.temperature.si, bench.pressure.si, efficiency)
        if out:
            chart = calibration_chart(found, build.name, invented=build.invented)
            write_pictures(partial(render, chart), out)
        if write:
            old = sheet.read_text(encoding="utf-8")
            new = with_calibration(
                old, found.correction, found.thrust_uncertainty, found.torque_uncertainty, run.name
            )
            write_whole(sheet.with_name(sheet.name + ".bak"), old.encode())
            write_whole(sheet, new.encode())
        if as_json:
            print(json_text(calibration_data(found, build)))
        else:
            show_calibration(console(), found, build)
            told_written(out or [])
            if write:
                print(f"Stored in {sheet}; the sheet as it was is {sheet.name}.bak")
    raise typer.Exit(HOLDS)
