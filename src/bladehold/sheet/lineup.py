"""Reading a list of propellers (CSV): a row each, quantities with units, every fault with its line."""

from __future__ import annotations

import csv
import difflib
import io
from dataclasses import dataclass
from pathlib import Path

from bladehold.quantity import QuantityError
from bladehold.sheet import fields as f
from bladehold.sheet.fields import advice
from bladehold.sheet.problem import Problem, SheetError
from bladehold.sheet.reader import text_of
from bladehold.tables import property_class_names, thread_names

REQUIRED = ("name", "diameter", "claimed_thrust", "present_screw")
_LENGTHS = ("pitch", "balance_point", "pivot_radius", "lug_thickness", "lug_width", "plate_thickness")
OPTIONAL = ("present_class", "used_thrust", "blades", "blade_mass", *_LENGTHS)
_MOST_ROWS = 2000


@dataclass(frozen=True)
class Entry:
    """One propeller of a line: name, SI values of what is known, present screw and class (None: unknown)."""

    name: str
    present_screw: str
    present_class: str | None
    blades: int | None
    values: dict[str, float]
    line: int


def load_lineup(path: str | Path) -> list[Entry]:
    """Read a list of propellers. Errors: SheetError with every fault and its line."""
    text, name = text_of(Path(path)), str(path)
    try:
        rows = list(csv.reader(io.StringIO(text.removeprefix("\ufeff")), strict=True))
    except csv.Error as error:
        raise SheetError([Problem(name, None, "", f"not a comma-separated file: {error}")]) from None
    lines = [(number, [cell.strip() for cell in row]) for number, row in enumerate(rows, 1) if any(row)]
    lines = [(number, row) for number, row in lines if not row[0].startswith("#")]
    if len(lines) < 2:
        raise SheetError(
            [Problem(name, None, "", "a list has a line of column names and a line per propeller")]
        )
    if len(lines) > _MOST_ROWS:
        raise SheetError([Problem(name, None, "", f"more than {_MOST_ROWS} propellers")])
    header_line, header = lines[0]
    faults = [Problem(name, header_line, "", message) for message in _header_faults(header)]
    if faults:
        raise SheetError(faults)
    entries = []
    for number, row in lines[1:]:
        entry, problems = _entry(header, row, number, name)
        faults += problems
        if entry is not None:
            entries.append(entry)
    if faults:
        raise SheetError(faults)
    return entries


def _header_faults(header: list[str]) -> list[str]:
    allowed = (*REQUIRED, *OPTIONAL)
    faults = [f"the column {key} is missing" for key in REQUIRED if key not in header]
    for place, key in enumerate(header):
        if key in header[:place]:
            faults.append(f"the column {key} stands twice")
        elif key not in allowed:
            near = difflib.get_close_matches(key, allowed, n=1)
            hint = f"did you mean {near[0]}?" if near else f"allowed: {', '.join(allowed)}"
            faults.append(f'no such column "{key[:40]}"; {hint}')
    return faults


def _entry(header: list[str], row: list[str], line: int, file: str) -> tuple[Entry | None, list[Problem]]:
    """Return one row as an Entry, or None and what is wrong with it."""
    if len(row) != len(header):
        text = f"{len(row)} cells for {len(header)} columns"
        return None, [Problem(file, line, "", text)]
    cells = {key: cell for key, cell in zip(header, row, strict=True) if cell}
    faults = [Problem(file, line, key, "is missing") for key in REQUIRED if key not in cells]
    values: dict[str, float] = {}
    words: dict[str, str] = {}
    for key, cell in cells.items():
        try:
            if key in _READERS:
                values[key] = _READERS[key](cell)
            else:
                words[key] = _word(key, cell)
        except (QuantityError, ValueError) as error:
            faults.append(Problem(file, line, key, str(error)))
    if faults:
        return None, faults
    blades = int(words["blades"]) if "blades" in words else None
    entry = Entry(words["name"], words["present_screw"], words.get("present_class"), blades, values, line)
    return entry, []


def _word(key: str, cell: str) -> str:
    if key == "present_screw" and cell not in thread_names():
        raise ValueError(f'read "{cell[:40]}": {advice("thread", cell, thread_names())}')
    if key == "present_class" and cell not in property_class_names():
        raise ValueError(f'read "{cell[:40]}": {advice("property class", cell, property_class_names())}')
    if key == "blades" and cell not in {str(n) for n in range(2, 9)}:
        raise ValueError(f'read "{cell[:40]}": a whole number from 2 to 8 is wanted here')
    return cell


_READERS = {
    "diameter": f.reader(f.Diameter),
    "claimed_thrust": f.reader(f.Force),
    "used_thrust": f.reader(f.Force),
    "blade_mass": f.reader(f.PartMass),
    "pitch": f.reader(f.Diameter),
    **{key: f.reader(f.Length) for key in _LENGTHS if key != "pitch"},
}
