"""Rows of a separated text with the line each begins on: what lists and stand runs are read from."""

from __future__ import annotations

import csv
import io

from bladehold.sheet.problem import Problem, SheetError


def numbered_rows(text: str, name: str, *, delimiter: str = ",") -> list[tuple[int, list[str]]]:
    """Return every row with anything in it and the line it begins on; lines beginning with # are left out.

    Arguments: text - of the file; name - what errors call the file. Cells are stripped of blanks.
    Errors: SheetError with the line where the text cannot be taken apart.
    """
    lines = io.StringIO(text.removeprefix("\ufeff"))
    reader = csv.reader(
        ("" if line.startswith("#") else line for line in lines), delimiter=delimiter, strict=True
    )
    rows, begin = [], 1
    try:
        for row in reader:
            rows.append((begin, [cell.strip() for cell in row]))
            begin = reader.line_num + 1
    except csv.Error as error:
        kind = "comma" if delimiter == "," else "semicolon"
        raise SheetError([Problem(name, begin, "", f"not {kind}-separated text: {error}")]) from None
    return [(line, row) for line, row in rows if any(row)]
