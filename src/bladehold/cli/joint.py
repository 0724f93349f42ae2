"""The command that shows what the retention joint of a sheet does, how to set it and how long it lasts."""

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
    tap_test,
    told_written,
    write_pictures,
)

if TYPE_CHECKING:
    from bladehold.study import JointAnswer


class Picture(StrEnum):
    """What --out draws."""

    SECTION = "section"
    TENSION = "tension"
    TIGHTNESS = "tightness"
    LIFE = "life"


def register(app: typer.Typer) -> None:
    """Add the command to the application."""
    app.command()(joint)


def joint(
    sheet: SheetPath,
    chart: Annotated[
        Picture | None, typer.Option("--chart", help="What --out draws; section if left out.")
    ] = None,
    condition: Annotated[
        str | None,
        typer.Option("--condition", help="Whose forces the section shows; else the one that governs."),
    ] = None,
    out: Pictures = None,
    as_json: AsJson = False,
    as_csv: AsCsv = False,
) -> None:
    """Show the retention joint: forces in the clevis, how tight to set it, life by part, lost screws.

    Ends with 1 where a check does not hold, a part lasts less than the service life, the pivot cannot be set
    as it is built, or the torque or friction of the sheet does not serve.
    """
    one_format(as_json, as_csv)
    chart_needs_file(chart, out)
    if condition is not None and (not out or chart not in {None, Picture.SECTION}):
        refuse("--condition is for the section: draw it with --chart section --out FILE")
    with refusals(sheet):
        from bladehold.report import data
        from bladehold.report.joint import show_joint
        from bladehold.report.joint_data import joint_csv_rows, joint_data
        from bladehold.study import joint_answer

        known_endings(out or [])
        build = build_of(sheet)
        with tap_test(sheet):
            found = joint_answer(build)
        if chart is Picture.TIGHTNESS and found.tightness is None:
            why = "nothing clamps its pivot" if build.propeller.folding else "its blades do not fold"
            refuse(f"no tightness is asked of this hub, {why}: there is none to draw")
        names = found.assessment.loads.names
        if condition is not None and condition not in names:
            refuse(f"no condition {condition!r}; give one of: {'; '.join(names)}")
        write_pictures(partial(_drawn, found, chart or Picture.SECTION, condition), out or [])
        if as_json:
            print(data.as_json(joint_data(found)))
        elif as_csv:
            print(data.as_csv(joint_csv_rows(found)), end="")
        else:
            show_joint(console(), found)
            told_written(out or [])
    raise typer.Exit(HOLDS if found.holds else FAILS)


def _drawn(found: JointAnswer, chart: Picture, condition: str | None, kind: str) -> bytes:
    """The picture asked for as a file of one kind."""
    from bladehold.report.render import render, render_drawing

    if chart is Picture.SECTION:
        from bladehold.report.clevis_drawing import clevis_svg

        return render_drawing(clevis_svg(found.assessment, condition), kind)
    from bladehold.report.joint_charts import life_chart, tension_chart
    from bladehold.report.joint_words import headline
    from bladehold.report.tightness_chart import tightness_chart

    if chart is Picture.LIFE:
        return render(life_chart(found, headline(found)), kind)
    draw = {Picture.TENSION: tension_chart, Picture.TIGHTNESS: tightness_chart}[chart]
    return render(draw(found), kind)
