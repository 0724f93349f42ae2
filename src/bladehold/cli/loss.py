"""The command that tells what one failure does."""

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
    from bladehold.study.consequence import ConsequenceAnswer


class LossPicture(StrEnum):
    """What --out draws."""

    ARM = "arm"
    CONTROL = "control"
    THROW = "throw"


def register(app: typer.Typer) -> None:
    """Add the command to the application."""
    app.command()(loss)


def loss(
    sheet: SheetPath,
    chart: Annotated[
        LossPicture | None, typer.Option("--chart", help="What --out draws; throw if left out.")
    ] = None,
    out: Pictures = None,
    as_json: AsJson = False,
    as_csv: AsCsv = False,
) -> None:
    """Show what each failure does: blade, unbalance, arm, control, debris; how it is noticed, what lowers it.

    Ends with 1 where a single failure of a screw that leaves anything to hold is hazardous.
    """
    one_format(as_json, as_csv)
    chart_needs_file(chart, out)
    with refusals(sheet):
        from bladehold.report import data
        from bladehold.report.loss import loss_data, loss_rows, show_loss
        from bladehold.study import assess
        from bladehold.study.consequence import consequence_answer

        known_endings(out or [])
        found = consequence_answer(assess(build_of(sheet)))
        why = {LossPicture.ARM: found.no_arm, LossPicture.CONTROL: found.no_control}.get(
            chart or LossPicture.THROW, ""
        )
        if why:
            refuse(f"{sheet}: {why}: there is nothing to draw")
        write_pictures(partial(_drawn, found, chart or LossPicture.THROW), out or [])
        if as_json:
            print(data.as_json(loss_data(found)))
        elif as_csv:
            print(data.as_csv(loss_rows(found)), end="")
        else:
            show_loss(console(), found)
            told_written(out or [])
    raise typer.Exit(HOLDS if found.contained else FAILS)


def _drawn(found: ConsequenceAnswer, chart: LossPicture, kind: str) -> bytes:
    from bladehold.report.loss_charts import loss_chart
    from bladehold.report.render import render

    return render(loss_chart(found, chart.value), kind)
