"""The command that puts sheets side by side."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bladehold.cli.common import (
    FAILS,
    HOLDS,
    AsCsv,
    AsJson,
    Pictures,
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


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("compare")(compare)


def compare(
    sheets: Annotated[
        list[Path], typer.Argument(help="Build sheets (TOML), two or more.", show_default=False)
    ],
    every: Annotated[bool, typer.Option("--all", help="Show what is alike, too.")] = False,
    out: Pictures = None,
    as_json: AsJson = False,
    as_csv: AsCsv = False,
) -> None:
    """Put two sheets or more side by side: margins, lives, mass, thrust, power, tightness, one member lost.

    Ends with 1 where any of them does not hold.
    """
    one_format(as_json, as_csv)
    from bladehold.report.compare import MOST

    if not 2 <= len(sheets) <= MOST:
        refuse(f"{len(sheets)} sheet given: name two to {MOST} to compare")
    known_endings(out or [])
    from bladehold.report import data
    from bladehold.report.compare import (
        comparison_chart,
        comparison_data,
        comparison_rows,
        differing_inputs,
        show_comparison,
    )
    from bladehold.report.render import render
    from bladehold.sheet import load_sheet, resolve
    from bladehold.study.compare import asked_of
    from bladehold.study.compare import compare as put_together

    known: dict[Path, tuple[tuple[Sheet, Build], Asked]] = {}
    for path in dict.fromkeys(sheets):
        with refusals(path), tap_test(path):
            sheet = load_sheet(path)
            build = resolve(sheet, path.parent)
            known[path] = (sheet, build), asked_of(build)
    pairs = [known[path][0] for path in sheets]
    found = put_together([known[path][1] for path in sheets])
    inputs = differing_inputs(pairs)
    invented = any(build.invented for _, build in pairs)
    with refusals(sheets[0]):
        write_pictures(lambda kind: render(comparison_chart(found, invented=invented), kind), out or [])
    if as_json:
        print(data.as_json(comparison_data(found, inputs, invented=invented)))
    elif as_csv:
        print(data.as_csv(comparison_rows(found)), end="")
    else:
        show_comparison(console(), found, inputs, every=every, invented=invented)
        told_written(out or [])
    raise typer.Exit(HOLDS if all(found.holds) else FAILS)
