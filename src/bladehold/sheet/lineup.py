"""Reading a list of propellers (CSV): a row each, quantities with units, every fault with its line."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from bladehold.quantity import shown
from bladehold.sheet import fields as f
from bladehold.sheet.listing import numbered_rows
from bladehold.sheet.problem import Problem, SheetError, first_few
from bladehold.sheet.reader import text_of
from bladehold.tables import nearest_name, property_class_names, separation_fault, thread_names

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
    lines = numbered_rows(text, name)
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
        raise SheetError(first_few(faults))
    return entries


def _header_faults(header: list[str]) -> list[str]:
    if fault := separation_fault(header):
        return [fault]
    allowed = (*REQUIRED, *OPTIONAL)
    faults = [f"the column {key} is missing" for key in REQUIRED if key not in header]
    for place, key in enumerate(header):
        if key in header[:place]:
            faults.append(f"the column {shown(key)} stands twice")
        elif key not in allowed:
            near = nearest_name(key[:200], allowed)
            hint = f"did you mean {near}?" if near else f"allowed: {', '.join(allowed)}"
            faults.append(f"no such column {shown(key)}; {hint}")
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
        except ValueError as error:
            faults.append(Problem(file, line, key, str(error)))
    if not faults:
        faults = [Problem(file, line, key, message) for key, message in _misfits(values)]
    if faults:
        return None, faults
    blades = int(words["blades"]) if "blades" in words else None
    entry = Entry(words["name"], words["present_screw"], words.get("present_class"), blades, values, line)
    return entry, []


def _misfits(values: dict[str, float]) -> Iterator[tuple[str, str]]:
    """Yield the measures of a row that cannot belong to one propeller."""
    tip, pivot = values["diameter"] / 2, values.get("pivot_radius", 0.0)
    if pivot >= tip / 2:
        yield "pivot_radius", f"is more than half of the blade tip radius ({1e3 * tip:.0f} mm)"
    elif pivot + values.get("balance_point", 0.0) >= tip:
        yield "balance_point", f"lies beyond the blade tip ({1e3 * tip:.0f} mm)"


def _word(key: str, cell: str) -> str:
    if key == "present_screw" and cell not in thread_names():
        raise ValueError(f"read {shown(cell)}: {f.advice('thread', cell, thread_names())}")
    if key == "present_class" and cell not in property_class_names():
        raise ValueError(f"read {shown(cell)}: {f.advice('property class', cell, property_class_names())}")
    if key == "blades" and cell not in {str(n) for n in range(2, 9)}:
        raise ValueError(f"read {shown(cell)}: a whole number from 2 to 8 is wanted here")
    return f.free_text(cell)


_READERS = {
    "diameter": f.reader(f.Diameter),
    "claimed_thrust": f.reader(f.Force),
    "used_thrust": f.reader(f.Force),
    "blade_mass": f.reader(f.PartMass),
    "pitch": f.reader(f.Diameter),
    **{key: f.reader(f.Length) for key in _LENGTHS if key != "pitch"},
}
