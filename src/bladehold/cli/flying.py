"""The commands about the aircraft: what flying asks of the rotors, motor and battery, how long parts last."""

from __future__ import annotations

from enum import StrEnum
from functools import partial
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
    from bladehold.study import AircraftAnswer, DriveAnswer, LifeAnswer


class AircraftPicture(StrEnum):
    """What --out draws of the aircraft."""

    MAP = "map"
    ROTORS = "rotors"


class DrivePicture(StrEnum):
    """What --out draws of motor and battery."""

    ENDURANCE = "endurance"
    FLIGHT = "flight"


class LifePicture(StrEnum):
    """What --out draws of the lives."""

    PARTS = "parts"
    WEAR = "wear"


def register(app: typer.Typer) -> None:
    """Add the commands to the application."""
    for command in (aircraft, drive, life):
        app.command()(command)


def aircraft(
    sheet: SheetPath,
    chart: Annotated[
        AircraftPicture | None, typer.Option("--chart", help="What --out draws; map if left out.")
    ] = None,
    out: Pictures = None,
    as_json: AsJson = False,
    as_csv: AsCsv = False,
) -> None:
    """Show what flying asks of each rotor: balance, thrust and speed in all that is flown, what governs.

    Ends with 1 where a check does not hold.
    """
    one_format(as_json, as_csv)
    chart_needs_file(chart, out)
    with refusals(sheet):
        from bladehold.report import data
        from bladehold.report.aircraft import aircraft_data, kind_rows, show_aircraft
        from bladehold.study import aircraft_answer

        known_endings(out or [])
        found = aircraft_answer(build_of(sheet))
        write_pictures(partial(_aircraft_drawn, found, chart or AircraftPicture.MAP), out or [])
        if as_json:
            print(data.as_json(aircraft_data(found)))
        elif as_csv:
            flat = [{k: v for k, v in row.items() if not isinstance(v, list)} for row in kind_rows(found)]
            print(data.as_csv(flat), end="")
        else:
            show_aircraft(console(), found)
            told_written(out or [])
    raise typer.Exit(HOLDS if found.assessment.holds else FAILS)


def _aircraft_drawn(found: AircraftAnswer, chart: AircraftPicture, kind: str) -> bytes:
    from bladehold.report.flight_charts import map_chart, rotor_chart
    from bladehold.report.render import render
    from bladehold.study import envelope_map

    if chart is AircraftPicture.ROTORS:
        return render(rotor_chart(found), kind)
    return render(map_chart(envelope_map(found.build), found.build), kind)


def drive(
    sheet: SheetPath,
    chart: Annotated[
        DrivePicture | None, typer.Option("--chart", help="What --out draws; endurance if left out.")
    ] = None,
    out: Pictures = None,
    as_json: AsJson = False,
    as_csv: AsCsv = False,
) -> None:
    """Show what motor and battery make of the flying: throttle, heat, greatest thrust, endurance.

    Ends with 1 where they cannot do what is flown, or the usual flight.
    """
    one_format(as_json, as_csv)
    chart_needs_file(chart, out)
    with refusals(sheet):
        from bladehold.report import data
        from bladehold.report.drive import drive_data, flown_rows, show_drive
        from bladehold.study import NoDriveError, drive_answer

        known_endings(out or [])
        try:
            found = drive_answer(build_of(sheet))
        except NoDriveError as error:
            refuse(f"{sheet}: {error}. `bladehold new` shows both tables with an example.")
        write_pictures(partial(_drive_drawn, found, chart or DrivePicture.ENDURANCE), out or [])
        if as_json:
            print(data.as_json(drive_data(found)))
        elif as_csv:
            print(data.as_csv(flown_rows(found)), end="")
        else:
            show_drive(console(), found)
            told_written(out or [])
    raise typer.Exit(HOLDS if found.serves else FAILS)


def _drive_drawn(found: DriveAnswer, chart: DrivePicture, kind: str) -> bytes:
    from bladehold.report.flight_charts import endurance_chart, flight_chart
    from bladehold.report.render import render

    draw = {DrivePicture.ENDURANCE: endurance_chart, DrivePicture.FLIGHT: flight_chart}[chart]
    return render(draw(found), kind)


def life(
    sheet: SheetPath,
    chart: Annotated[
        LifePicture | None, typer.Option("--chart", help="What --out draws; parts if left out.")
    ] = None,
    out: Pictures = None,
    as_json: AsJson = False,
    as_csv: AsCsv = False,
) -> None:
    """Show how long the parts last in what is flown, what wears them, when they are looked at and go.

    Ends with 1 where a part that is checked lasts less than the service life.
    """
    one_format(as_json, as_csv)
    chart_needs_file(chart, out)
    with refusals(sheet):
        from bladehold.report import data
        from bladehold.report.life import keeping_row, life_data, show_life
        from bladehold.study import life_answer

        known_endings(out or [])
        found = life_answer(build_of(sheet))
        write_pictures(partial(_life_drawn, found, chart or LifePicture.PARTS), out or [])
        if as_json:
            print(data.as_json(life_data(found)))
        elif as_csv:
            print(data.as_csv(keeping_row(one) for one in found.keeping), end="")
        else:
            show_life(console(), found)
            told_written(out or [])
    raise typer.Exit(HOLDS if found.lasts else FAILS)


def _life_drawn(found: LifeAnswer, chart: LifePicture, kind: str) -> bytes:
    from bladehold.report.flight_charts import wear_chart
    from bladehold.report.joint_charts import life_chart
    from bladehold.report.life import headline
    from bladehold.report.render import render

    if chart is LifePicture.WEAR:
        return render(wear_chart(found), kind)
    return render(life_chart(found, headline(found)), kind)
