"""Reads the tables packaged with the program, strictly: a faulty table stops at once."""

from __future__ import annotations

import csv
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from bladehold.tables.provenance import Provenance

_NUMBER = re.compile(r"-?[0-9]+(\.[0-9]+)?")

MILLI = -3
MICRO = -6
MEGA = 6
GIGA = 9
"""Powers of ten between a table's unit and SI (millimetre, 1e-6/K, megapascal, gigapascal)."""


class TableError(ValueError):
    """A packaged table breaks its own rules; the message names file, line and column."""


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


def parse_table(
    text: str, file: str, required: tuple[str, ...], optional: tuple[str, ...] = ()
) -> tuple[Line, ...]:
    """Return the lines of a table.

    Arguments: text - comma-separated values with a header; file - its name, for messages;
    required - columns that every line fills; optional - columns that may be blank.
    Raises TableError for an unknown, missing or doubled column, a line that is too short or too
    long, a blank required cell, stray blanks around a cell, or a table without lines.
    """
    header, *body = list(csv.reader(text.splitlines())) or [[]]
    expected = set(required) | set(optional)
    if unknown := [column for column in header if column not in expected]:
        raise TableError(f"{file}: unknown columns {unknown}")
    if len(set(header)) != len(header) or set(header) != expected:
        raise TableError(f"{file}: columns {sorted(expected - set(header))} missing or one given twice")
    if not body:
        raise TableError(f"{file}: no lines")
    lines = []
    for number, cells in enumerate(body, start=2):
        if len(cells) != len(header):
            raise TableError(f"{file}, line {number}: {len(cells)} cells for {len(header)} columns")
        line = Line(file, number, dict(zip(header, cells, strict=True)))
        for column, cell in line.cells.items():
            if cell != cell.strip():
                raise line.fault(f"{column} has blanks around its text")
            if not cell and column in required:
                raise line.fault(f"{column} is blank")
        lines.append(line)
    return tuple(lines)


@cache
def read_table(file: str, required: tuple[str, ...], optional: tuple[str, ...] = ()) -> tuple[Line, ...]:
    """Return the lines of a packaged table, read once; arguments and errors as for `parse_table`."""
    text = files("bladehold.tables").joinpath("data", file).read_text(encoding="utf-8")
    return parse_table(text, file, required, optional)
