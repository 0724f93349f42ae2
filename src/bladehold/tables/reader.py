"""Reads the tables packaged with the program, strictly: a faulty table stops at once."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from bladehold.tables.provenance import Provenance

_NUMBER = re.compile(r"-?[0-9]+(\.[0-9]+)?")
_POWER = re.compile(_NUMBER.pattern + r"([eE][-+]?[0-9]+)?")

MILLI = -3
MICRO = -6
MEGA = 6
GIGA = 9
"""Powers of ten between a table's unit and SI (millimetre, 1e-6/K, megapascal, gigapascal)."""


class TableError(ValueError):
    """A table breaks its own rules; the message names file, line and column, and is a line for each fault."""

    def __str__(self) -> str:
        return "\n".join(self.faults)

    @property
    def faults(self) -> tuple[str, ...]:
        """Every fault found, each in one line."""
        return tuple(str(fault) for fault in self.args)


@dataclass(frozen=True)
class Line:
    """One line of a table: cells by column name, blank cells as empty text."""

    file: str
    number_of_line: int
    cells: Mapping[str, str]

    def fault(self, what: str) -> TableError:
        """Return an error that says where in which file `what` was found."""
        return TableError(f"{self.file}, line {self.number_of_line}: {what}")

    def text(self, column: str) -> str:
        """Return the cell as text, possibly empty."""
        return self.cells[column]

    def number(self, column: str, exponent: int = 0) -> float:
        """Return the cell times 10**exponent; raise TableError when it is not a plain decimal number."""
        cell = self.cells[column]
        if not _NUMBER.fullmatch(cell):
            raise self.fault(f"{column} is {cell!r}, not a number")
        # Read as text with its exponent, so that 0.7 mm becomes exactly the float 0.0007.
        return float(f"{cell}e{exponent}")

    def number_of_any_size(self, column: str) -> float:
        """Return the cell, which may have a power of ten as 1e-9 has; raise TableError for what is none."""
        cell = self.cells[column]
        if not _POWER.fullmatch(cell):
            raise self.fault(f"{column} is {cell!r}, not a number")
        return float(cell)

    def optional_number(self, column: str, exponent: int = 0) -> float | None:
        """Return the cell times 10**exponent, or None when it is blank."""
        return self.number(column, exponent) if self.cells[column] else None

    def provenance(self, group: str = "") -> Provenance:
        """Return source and mark of a group of columns, from `<group>_source` and `<group>_mark`."""
        prefix = f"{group}_" if group else ""
        try:
            return Provenance(self.cells[f"{prefix}source"], self.cells[f"{prefix}mark"])
        except ValueError as error:
            raise self.fault(f"{group or 'row'}: {error}") from error

    def optional_provenance(self, group: str, *values: float | None) -> Provenance | None:
        """Return the provenance of a group that may be wholly blank: then None.

        Arguments: group - prefix of the source and mark columns; values - the group's numbers.
        Raises TableError when numbers lack a source, or a source stands beside no number.
        """
        stated = bool(self.cells[f"{group}_source"] or self.cells[f"{group}_mark"])
        if any(value is not None for value in values):
            return self.provenance(group)
        if stated:
            raise self.fault(f"{group}: a source without a number")
        return None


def separation_fault(header: Sequence[str]) -> str | None:
    """Return what is wrong with the separators of a file, seen in its column names; None if nothing is."""
    if any(";" in column for column in header):
        return "columns are separated by commas; this file has semicolons"
    return None


def parse_table(
    text: str, file: str, required: tuple[str, ...], optional: tuple[str, ...] = ()
) -> tuple[Line, ...]:
    """Return the lines of a table.

    Arguments: text - comma-separated values with a header; file - its name, for messages;
    required - columns that every line fills; optional - columns that may be blank.
    Raises TableError for another separator, an unknown, missing or doubled column, a line that is too
    short or too long, a blank required cell, stray blanks around a cell, or a table without lines.
    """
    lines = []
    for line, faults in lines_and_faults(text, file, required, optional):
        if faults:
            raise faults[0]
        lines.append(line)
    return tuple(lines)


def lines_and_faults(
    text: str, file: str, required: tuple[str, ...], optional: tuple[str, ...] = ()
) -> tuple[tuple[Line, list[TableError]], ...]:
    """Return every line of a table with what is wrong with it; arguments as for `parse_table`.

    Raises TableError for what concerns the whole table: separator, columns, no lines.
    """
    try:
        header, *body = list(csv.reader(text.splitlines())) or [[]]
    except csv.Error as error:
        raise TableError(f"{file}: not comma-separated text: {error}") from None
    if fault := separation_fault(header):
        raise TableError(f"{file}: {fault}")
    expected = set(required) | set(optional)
    if unknown := [column for column in header if column not in expected]:
        raise TableError(f"{file}: unknown columns {unknown}")
    if len(set(header)) != len(header) or set(header) != expected:
        raise TableError(f"{file}: columns {sorted(expected - set(header))} missing or one given twice")
    if not body:
        raise TableError(f"{file}: no lines")
    found = []
    for number, cells in enumerate(body, start=2):
        line = Line(file, number, dict(zip(header, cells, strict=False)))
        found.append((line, list(_faults(line, len(cells), len(header), required))))
    return tuple(found)


def _faults(line: Line, cells: int, columns: int, required: tuple[str, ...]) -> Iterator[TableError]:
    if cells != columns:
        yield line.fault(f"{cells} cells for {columns} columns")
        return
    for column, cell in line.cells.items():
        if cell != cell.strip():
            yield line.fault(f"{column} has blanks around its text")
        if not cell and column in required:
            yield line.fault(f"{column} is blank")


@cache
def read_table(file: str, required: tuple[str, ...], optional: tuple[str, ...] = ()) -> tuple[Line, ...]:
    """Return the lines of a packaged table, read once; arguments and errors as for `parse_table`."""
    text = files("bladehold.tables").joinpath("data", file).read_text(encoding="utf-8")
    return parse_table(text, file, required, optional)
