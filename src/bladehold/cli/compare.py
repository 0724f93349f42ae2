"""The command that puts sheets side by side."""

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
    from bladehold.sheet import Build, Sheet
    from bladehold.study.compare import Comparison
    from bladehold.study.compare_answers import Answered


class ComparePicture(StrEnum):
    """What --out draws."""

    MARGINS = "margins"


def register(app: typer.Typer) -> None:
    """Add the command to the application."""
    app.command()(compare)


def compare(
    sheets: Annotated[
        list[Path], typer.Argument(help="Build sheets (TOML), two or more.", show_default=False)
    ],
    every: Annotated[
        bool, typer.Option("--all", help="Show what is equal, too, and the margin of every check.")
    ] = False,
    chart: Annotated[
        ComparePicture | None, typer.Option("--chart", help="What --out draws; margins if left out.")
    ] = None,
    out: Pictures = None,
    as_json: AsJson = False,
    as_csv: AsCsv = False,
) -> None:
    """Put sheets side by side: margins, limits, life, tightness, lost members, mass, flying, and the inputs.

    Ends with 1 where any sheet does not hold: a check, a life, the tightness, or motor and battery.
    """
    one_format(as_json, as_csv)
    chart_needs_file(chart, out)
    if len(sheets) < 2:
        refuse(f"compare needs two sheets or more, and was given one: {sheets[0]}")
    read, answers = [], []
    for path in sheets:
        sheet, answer = _answered(path)
        read.append(sheet)
        answers.append(answer)
    from bladehold.report import data
    from bladehold.report.compare import comparison_data, comparison_rows, show_comparison
    from bladehold.study.compare import side_by_side

    files = [str(path) for path in sheets]
    with refusals(sheets[0]):
        known_endings(out or [])
        found = side_by_side(read, answers)
        write_pictures(partial(_drawn, found, files), out or [])
    if as_json:
        print(data.as_json(comparison_data(found, files)))
    elif as_csv:
        print(data.as_csv(comparison_rows(found, files)), end="")
    else:
        show_comparison(console(), found, files, every=every)
        told_written(out or [])
    raise typer.Exit(HOLDS if found.holds else FAILS)


def _answered(path: Path) -> tuple[tuple[Sheet, Build], Answered]:
    """Read one sheet and answer it; what is wrong with it is told of this file."""
    with refusals(path):
        from bladehold.sheet import load_sheet, resolve
        from bladehold.study.compare_answers import answered

        sheet = load_sheet(path)
        build = resolve(sheet, path.parent)
        with tap_test(path):
            return (sheet, build), answered(build)


def _drawn(found: Comparison, files: list[str], kind: str) -> bytes:
    from bladehold.report.compare_chart import margin_chart
    from bladehold.report.render import render

    return render(margin_chart(found, files), kind)
