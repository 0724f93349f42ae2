"""The command that writes everything about a sheet into documents to hand on."""

from __future__ import annotations

import os
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bladehold.cli.common import (
    FAILS,
    HOLDS,
    SheetPath,
    console,
    refusals,
    refuse,
    tap_test,
    told_written,
    write_pictures,
)

if TYPE_CHECKING:
    from bladehold.study.dossier import Dossier

_EPOCH = "SOURCE_DATE_EPOCH"


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("report")(report)


def report(
    sheet: SheetPath,
    out: Annotated[
        list[Path] | None,
        typer.Option("--out", help="Document: .html, .pdf, .xlsx or .csv; may be given again."),
    ] = None,
    stated: Annotated[
        str | None, typer.Option("--date", help="Day that the report carries, like 2026-01-31; else today.")
    ] = None,
) -> None:
    """Write a report on a sheet: verdict, pictures, margins, lives, tightness, a card for the workshop wall.

    The PDF has the card on a page of its own. The day is that of SOURCE_DATE_EPOCH where that is set and no
    --date given. Ends with 1 where a check of strength does not hold.
    """
    if not out:
        refuse("--out: a report is a file; name one that ends with .html, .pdf, .xlsx or .csv")
    from bladehold.report.document_files import FORMATS, document_file

    for path in out:
        if path.suffix.lower().lstrip(".") not in FORMATS:
            refuse(f"--out {path}: reports are written as {', '.join(FORMATS)}; give one of these endings")
    day = _day(stated)
    with refusals(sheet):
        found = _dossier(sheet, day)
        write_pictures(lambda kind: document_file(found, kind), out)
    from rich.text import Text

    from bladehold.report.terminal import show_cautions
    from bladehold.study.words import verdict_sentence

    screen = console()
    screen.print(Text(verdict_sentence(found.assessment), style="bold"))
    told_written(out)
    show_cautions(screen, invented=found.build.invented)
    raise typer.Exit(HOLDS if found.holds else FAILS)


def _dossier(path: Path, day: date) -> Dossier:
    """Everything about the sheet at a path, read once."""
    from bladehold.sheet import parse_sheet, resolve
    from bladehold.sheet.reader import text_of
    from bladehold.study.dossier import gather

    text = text_of(path)
    with tap_test(path):
        sheet = parse_sheet(text, str(path))
        return gather(sheet, resolve(sheet, path.parent), text, day, path.parent)


def _day(stated: str | None) -> date:
    """The day of the report: as given, as the environment fixes it for reproducible files, or today."""
    if stated is not None:
        try:
            return date.fromisoformat(stated)
        except ValueError:
            refuse(f"--date: read {stated!r}; give a day as year-month-day, like 2026-01-31")
    fixed = os.environ.get(_EPOCH)
    if fixed is None:
        return date.today()
    try:
        return datetime.fromtimestamp(int(fixed), tz=UTC).date()
    except (ValueError, OverflowError, OSError):
        refuse(f"{_EPOCH}: read {fixed!r}; it is a whole number of seconds since 1970, or leave it unset")
