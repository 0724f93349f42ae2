"""The command that puts sheets side by side."""

from __future__ import annotations

from enum import StrEnum
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
    from bladehold.study.compare import Asked


class ComparePicture(StrEnum):
    """What --out draws: margins of strength or of fatigue."""

    MARGINS = "margins"
    FATIGUE = "fatigue"


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("compare")(compare)


def compare(
    sheets: Annotated[
        list[Path], typer.Argument(help="Build sheets (TOML), two or more.", show_default=False)
    ],
    every: Annotated[bool, typer.Option("--all", help="Show what is alike, too.")] = False,
    chart: Annotated[
        ComparePicture | None, typer.Option("--chart", help="What --out draws; margins if left out.")
    ] = None,
    out: Pictures = None,
    as_json: AsJson = False,
    as_csv: AsCsv = False,
) -> None:
    """Put two sheets or more side by side: margins, lives, mass, thrust, power, tightness, one member lost.

    Ends with 1 where any of them does not hold.
    """
    one_format(as_json, as_csv)
    chart_needs_file(chart, out)
    from bladehold.report.compare import MOST

    if not 2 <= len(sheets) <= MOST:
        refuse(f"{len(sheets)} sheet given: name two to {MOST} to compare")
    known_endings(out or [])
    from bladehold.report import data
    from bladehold.report.compare import (
        comparison_chart,
        comparison_data,
        comparison_rows,
        input_rows,
        inputs_of,
        show_comparison,
    )
    from bladehold.report.render import render
    from bladehold.sheet import load_sheet, resolve
    from bladehold.study.compare import FATIGUES, MARGINS, asked_of
    from bladehold.study.compare import compare as put_together

    known: dict[Path, tuple[tuple[Sheet, Build], Asked]] = {}
    for path in dict.fromkeys(sheets):
        with refusals(path), tap_test(path):
            sheet = load_sheet(path)
            build = resolve(sheet, path.parent)
            known[path] = (sheet, build), asked_of(build)
    pairs = [known[path][0] for path in sheets]
    found = put_together([known[path][1] for path in sheets])
    inputs = inputs_of(pairs)
    invented = any(build.invented for _, build in pairs)
    with refusals(sheets[0]):
        group = FATIGUES if chart is ComparePicture.FATIGUE else MARGINS
        write_pictures(
            lambda kind: render(comparison_chart(found, invented=invented, group=group), kind), out or []
        )
    if as_json:
        print(data.as_json(comparison_data(found, inputs, invented=invented)))
    elif as_csv:
        print(data.as_csv([*comparison_rows(found), *input_rows(inputs)]), end="")
    else:
        files = [str(path) for path in sheets]
        show_comparison(console(), found, inputs, files=files, every=every, invented=invented)
        for path in dict.fromkeys(path for path in sheets if sheets.count(path) > 1):
            print(f"Note: {path} is given {sheets.count(path)} times.")
        told_written(out or [])
    raise typer.Exit(HOLDS if all(found.holds) else FAILS)
