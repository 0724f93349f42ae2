"""The command that finds how far hardware may be loaded as it is."""

from __future__ import annotations

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
    console,
    known_endings,
    one_format,
    refusals,
    refuse,
    told_written,
    write_pictures,
)

if TYPE_CHECKING:
    from bladehold.study.flight_limit import FlightLimits


def register(app: typer.Typer) -> None:
    """Add the commands."""
    app.command("limit")(limit)
    app.command("derate")(derate)


def limit(sheet: SheetPath, as_json: AsJson = False, as_csv: AsCsv = False) -> None:
    """Find the largest thrust, speed and load factor that the hardware holds as it is."""
    one_format(as_json, as_csv)
    with refusals(sheet):
        from bladehold.report import data
        from bladehold.study.flight_limit import flight_limits
        from bladehold.study.limit import limit as find

        build = build_of(sheet)
        found = find(build)
        flight: FlightLimits | str
        try:
            flight = flight_limits(build)
        except ValueError as error:
            flight = str(error)
        plain = data.limit_data(found)
        flown = None if isinstance(flight, str) else data.flight_limit_data(flight)
        if as_json:
            print(data.as_json(data.answer(build, {**plain, "flight": flown})))
        elif as_csv:
            from bladehold.report.limit import limit_rows

            print(data.as_csv(limit_rows(plain, flown)), end="")
        else:
            from bladehold.report.limit import show_limit

            show_limit(console(), build, found, flight)
    raise typer.Exit(HOLDS if found.lowest.thrust >= found.used_thrust else FAILS)


def derate(
    sheet: SheetPath,
    temperature: Annotated[
        list[str] | None,
        typer.Option("--temperature", help='Air temperature, as "20 degC"; may be given again.'),
    ] = None,
    altitude: Annotated[
        list[str] | None,
        typer.Option("--altitude", help='Pressure altitude, as "1500 m"; may be given again.'),
    ] = None,
    out: Pictures = None,
    as_json: AsJson = False,
    as_csv: AsCsv = False,
) -> None:
    """Find the thrust that the hardware holds over temperature and altitude.

    Ends with 1 where the thrust used does not hold in every kind of air.
    """
    one_format(as_json, as_csv)
    with refusals(sheet):
        from bladehold.report import data
        from bladehold.report.derate import derate_chart, derate_data, derate_rows, show_derate
        from bladehold.report.render import render
        from bladehold.study.derate import derating

        known_endings(out or [])
        try:
            rows = _read(temperature, "temperature", "temperature", (173.15, 343.15))
            columns = _read(altitude, "altitude", "length", (-2000.0, 11000.0))
        except ValueError as error:
            refuse(str(error))
        build = build_of(sheet)
        found = derating(build, rows, columns)
        write_pictures(lambda kind: render(derate_chart(found, build), kind), out or [])
        if as_json:
            print(data.as_json(derate_data(found, build)))
        elif as_csv:
            print(data.as_csv(derate_rows(found)), end="")
        else:
            show_derate(console(), found, build)
            told_written(out or [])
    raise typer.Exit(HOLDS if found.holds else FAILS)


def _read(texts: list[str] | None, option: str, kind: str, allowed: tuple[float, float]) -> list[float]:
    """Values of an option in SI. Errors: ValueError with the option's name."""
    from bladehold.quantity import QuantityError, read, shown

    found = []
    for text in texts or []:
        try:
            value = read(text, kind).si
        except QuantityError as error:
            raise ValueError(f"--{option}: {error}") from None
        if not allowed[0] <= value <= allowed[1]:
            low, high = allowed
            limits = (
                f"{low - 273.15:g} degC to {high - 273.15:g} degC"
                if kind == "temperature"
                else (f"{low:g} m to {high:g} m")
            )
            raise ValueError(f"--{option}: read {shown(text)}: allowed is {limits}")
        found.append(value)
    return found
