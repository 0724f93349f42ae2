"""The answers about one build as a workbook: numbers as numbers, units in headings, no formula anywhere."""

from __future__ import annotations

import io
import math
import re
import zipfile
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import datetime, time
from typing import TYPE_CHECKING, Any

from bladehold.cautions import cautions
from bladehold.report.data import check_rows, load_rows
from bladehold.report.joint_data import life_row, loss_row, way_row
from bladehold.report.joint_words import KELVIN, headline
from bladehold.report.life import keeping_row
from bladehold.report.loss import loss_rows
from bladehold.study.dossier import Dossier
from bladehold.study.words import advice_sentences, limit_sentence, verdict_sentence

if TYPE_CHECKING:
    from openpyxl.cell.cell import Cell
    from openpyxl.worksheet.worksheet import Worksheet

_WIDEST, _NARROWEST, _SAMPLE = 70, 9, 60  # letters of a column; rows that its width is taken from
_LINE_OF_TIME = re.compile(rb"(<dcterms:(?:created|modified)[^>]*>)[^<]*(<)")
_FIRST_DAY = (1980, 1, 1, 0, 0, 0)  # that an archive can name
Row = Mapping[str, Any]


def xlsx_of(found: Dossier) -> bytes:
    """Return the answers about a build as an XLSX workbook; the same dossier gives the same bytes."""
    from openpyxl import Workbook

    book = Workbook()
    book.remove(book.worksheets[0])
    for title, rows in _SHEETS.items():
        _fill(book.create_sheet(title), list(rows(found)))
    out = io.BytesIO()
    book.save(out)
    return _settled(out.getvalue(), datetime.combine(found.origin.stated, time()))


def _verdict(found: Dossier) -> Iterable[Row]:
    checks, origin, build = found.assessment, found.origin, found.build
    said = [
        ("name", build.name),
        ("verdict", checks.verdict),
        ("verdict in words", verdict_sentence(checks)),
        ("smallest margin", checks.margin),
        ("smallest margin in flight", checks.flight_margin),
        ("joint", headline(found.joint)),
        *(("advice", text) for text in advice_sentences(found.advices)),
        ("limit", limit_sentence(found.limit)),
        ("service life wanted, h", found.joint.service_hours),
        *(("not answered", f"{one.what}: {one.why}") for one in found.missing),
        *(("caution", text) for text in cautions(invented=build.invented)),
        ("version of bladehold", origin.version),
        ("stated on", origin.stated.isoformat()),
        ("SHA-256 of the sheet", origin.digest),
    ]
    return [{"what": what, "value": value} for what, value in said]


def _checks(found: Dossier) -> Iterable[Row]:
    return check_rows(found.assessment)


def _lives(found: Dossier) -> Iterable[Row]:
    return [_flat(life_row(one)) for one in found.joint.lives]


def _plan(found: Dossier) -> Iterable[Row]:
    return [keeping_row(one) for one in found.life.keeping]


def _losses(found: Dossier) -> Iterable[Row]:
    rows = []
    for one in found.joint.losses:
        plain = loss_row(one)
        del plain["remaining"]
        weak = one.weakest
        plain["weakest_left"] = None if weak is None else f"{weak.part}: {weak.mode}"
        plain["margin_left"] = None if weak is None else weak.margin
        rows.append(plain)
    return rows


def _tightness(found: Dossier) -> Iterable[Row]:
    return [{"set_at_degC": one.temperature - KELVIN, **way_row(one.way)} for one in found.windows]


def _assumptions(found: Dossier) -> Iterable[Row]:
    build = found.build
    groups = (
        ("every answer", build.assumptions),
        ("the moving blade", build.blade_assumptions),
        ("motor and battery", build.drive_assumptions),
        ("what follows a failure", build.loss_assumptions),
    )
    return [
        {"key": item.key, "assumed_value": item.value, "why": item.why, "rests_on_it": group}
        for group, items in groups
        for item in items
    ]


def _sources(found: Dossier) -> Iterable[Row]:
    return [
        {
            "source": one.text,
            "mark": one.mark,
            "meaning": one.meaning,
            "unconfirmed": one.unconfirmed,
            "rests_on_it": "; ".join(one.rests),
        }
        for one in found.sources
    ]


def _text(found: Dossier) -> Iterable[Row]:
    return [
        {"line": place, "sheet": line} for place, line in enumerate(found.origin.text.splitlines(), start=1)
    ]


_SHEETS: dict[str, Callable[[Dossier], Iterable[Row]]] = {
    "Verdict": _verdict,
    "Checks": _checks,
    "Loads": lambda found: load_rows(found.assessment.loads),
    "Lives": _lives,
    "Inspection": _plan,
    "Losses": _losses,
    "Failures": lambda found: loss_rows(found.consequence),
    "Tightness": _tightness,
    "Assumptions": _assumptions,
    "Sources": _sources,
    "Sheet": _text,
}
"""Sheets of the workbook, in order."""


def _flat(row: Row) -> Row:
    """A row whose lists have become words."""
    return {key: "; ".join(value) if isinstance(value, list) else value for key, value in row.items()}


def _fill(sheet: Worksheet, rows: Sequence[Row]) -> None:
    """Write rows below a heading that stays in sight."""
    from openpyxl.styles import Alignment, Font

    heads = list(rows[0]) if rows else ["none"]
    for column, head in enumerate(heads, start=1):
        cell = sheet.cell(1, column)
        _put(cell, head.replace("_", " "))
        cell.font = Font(bold=True)
        cell.alignment = Alignment(wrap_text=True, vertical="top")
    for place, row in enumerate(rows, start=2):
        for column, head in enumerate(heads, start=1):
            cell = sheet.cell(place, column)
            _put(cell, row[head])
            cell.alignment = Alignment(wrap_text=isinstance(row[head], str), vertical="top")
    for column, head in enumerate(heads):
        longest = max((len(str(row[head])) for row in rows[:_SAMPLE]), default=0)
        letter = sheet.cell(1, column + 1).column_letter
        sheet.column_dimensions[letter].width = min(max(longest, _NARROWEST, len(head) // 2), _WIDEST) + 2
    sheet.freeze_panes = "B2"


def _put(cell: Cell, value: Any) -> None:
    """Write a number as a number and all else as text, whatever it begins with; infinite is an empty cell."""
    from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE

    if value is None or isinstance(value, bool):
        cell.value = value
    elif isinstance(value, str):
        cell.value = ILLEGAL_CHARACTERS_RE.sub("", value)
        # Text that begins with = + - @ would be computed, here or where it is pasted.
        cell.data_type = "s"
        cell.quotePrefix = value[:1] in {"=", "+", "-", "@"}
    else:
        number = float(value)
        cell.value = number if math.isfinite(number) else None


def _settled(content: bytes, day: datetime) -> bytes:
    """The same workbook with all its times set to one day."""
    made = day.strftime("%Y-%m-%dT%H:%M:%SZ").encode()
    out = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(content)) as old,
        zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new,
    ):
        for name in old.namelist():
            kept = _LINE_OF_TIME.sub(rb"\g<1>" + made + rb"\g<2>", old.read(name))
            new.writestr(zipfile.ZipInfo(name, _FIRST_DAY), kept, zipfile.ZIP_DEFLATED)
    return out.getvalue()
