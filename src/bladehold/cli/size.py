"""The command that finds the screw a joint needs."""

from __future__ import annotations

from typing import Annotated

import typer

from bladehold.cli.common import (
    FAILS,
    HOLDS,
    AsCsv,
    AsJson,
    Classes,
    SheetPath,
    build_of,
    console,
    one_format,
    refusals,
)


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("size")(size)


def size(
    sheet: SheetPath,
    classes: Classes = None,
    threads: Annotated[
        list[str] | None, typer.Option("--thread", help="Thread to try; may be given again.")
    ] = None,
    as_json: AsJson = False,
    as_csv: AsCsv = False,
) -> None:
    """Find the smallest pivot screw that holds, over threads and property classes."""
    one_format(as_json, as_csv)
    with refusals(sheet):
        from bladehold.report import data
        from bladehold.study.size import USUAL_CLASSES
        from bladehold.study.size import size as find

        build = build_of(sheet)
        sizing = find(build, threads, classes or USUAL_CLASSES)
        if as_json:
            print(data.as_json(data.answer(build, data.sizing_data(sizing))))
        elif as_csv:
            print(data.as_csv(data.sizing_data(sizing)["candidates"]), end="")
        else:
            from bladehold.report.size import show_sizing

            show_sizing(console(), build, sizing)
    raise typer.Exit(HOLDS if sizing.smallest else FAILS)
