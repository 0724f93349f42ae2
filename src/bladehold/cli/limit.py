"""The command that finds how far hardware may be loaded as it is."""

from __future__ import annotations

import typer

from bladehold.cli.common import (
    FAILS,
    HOLDS,
    AsCsv,
    AsJson,
    SheetPath,
    build_of,
    console,
    one_format,
    refusals,
)


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("limit")(limit)


def limit(sheet: SheetPath, as_json: AsJson = False, as_csv: AsCsv = False) -> None:
    """Find the largest thrust and speed that the hardware holds as it is."""
    one_format(as_json, as_csv)
    with refusals(sheet):
        from bladehold.report import data
        from bladehold.study.limit import limit as find

        build = build_of(sheet)
        found = find(build)
        if as_json:
            print(data.as_json(data.answer(build, data.limit_data(found))))
        elif as_csv:
            print(data.as_csv(data.limit_data(found)["parts"]), end="")
        else:
            from bladehold.report.limit import show_limit

            show_limit(console(), build, found)
    raise typer.Exit(HOLDS if found.lowest.thrust >= found.used_thrust else FAILS)
