"""Two or more sheets side by side: what each answers, row by row, and what they were asked with.

Every row is there for every sheet. What a sheet cannot answer stands as absent with the reason.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from bladehold.sheet import Build, Sheet
from bladehold.sheet.echo import ASSUMED, Echo, assumed, echo_of
from bladehold.study.compare_answers import Answered, answered
from bladehold.study.compare_rows import check_rows, life_rows, limit_rows, margin_rows, verdict_rows
from bladehold.study.compare_use import drive_rows, flying_rows, loss_rows, mass_rows, setting_rows
from bladehold.study.comparison import Row

SECTIONS = (
    verdict_rows,
    margin_rows,
    limit_rows,
    flying_rows,
    drive_rows,
    mass_rows,
    life_rows,
    setting_rows,
    loss_rows,
    check_rows,
)


@dataclass(frozen=True)
class Given:
    """One key of one sheet: written - as it stands there or was assumed, None where neither; si - its value,
    None for words; assumed - whether the sheet left it out.
    """

    written: str | None
    si: float | None
    assumed: bool


@dataclass(frozen=True)
class InputRow:
    """One key in all sheets, in their order."""

    key: str
    given: tuple[Given, ...]

    @property
    def differs(self) -> bool:
        """Whether values differ; the same value in other units does not, one that is assumed does."""
        first = self.given[0]
        return any(one.assumed != first.assumed or not _same(one, first) for one in self.given)


@dataclass(frozen=True, eq=False)
class Comparison:
    """answers - of each sheet by itself; rows; inputs - all keys of any sheet."""

    answers: tuple[Answered, ...]
    rows: tuple[Row, ...]
    inputs: tuple[InputRow, ...]

    @property
    def builds(self) -> tuple[Build, ...]:
        """The builds compared."""
        return tuple(answer.build for answer in self.answers)

    @property
    def holds(self) -> bool:
        """Whether every sheet holds, in all that it can answer."""
        return all(answer.holds for answer in self.answers)

    @property
    def differing(self) -> tuple[Row, ...]:
        """Rows in which the sheets differ."""
        return tuple(row for row in self.rows if row.differs)


def compare(sheets: Sequence[tuple[Sheet, Build]]) -> Comparison:
    """Return sheets side by side.

    Arguments: sheets - two or more, as written and complete. Returns Comparison. Errors: ValueError for fewer
    than two sheets, and from the rotor when a thrust cannot be reached; BalanceError from the blade.
    """
    return side_by_side(sheets, [answered(build) for _, build in sheets])


def side_by_side(sheets: Sequence[tuple[Sheet, Build]], answers: Sequence[Answered]) -> Comparison:
    """Return the comparison of sheets whose answers, in the same order, are known already."""
    if len(sheets) < 2:
        raise ValueError(f"a comparison needs two sheets or more, not {len(sheets)}")
    rows = [row for section in SECTIONS for row in section(tuple(answers))]
    return Comparison(tuple(answers), tuple(rows), _inputs(sheets))


def _inputs(sheets: Sequence[tuple[Sheet, Build]]) -> tuple[InputRow, ...]:
    """Every key that any sheet gives or leaves to be assumed, in the order in which they first appear."""
    columns = [{line.key: line for line in _echo(sheet, build)} for sheet, build in sheets]
    keys = dict.fromkeys(key for column in columns for key in column)
    return tuple(InputRow(key, tuple(_given(column.get(key)) for column in columns)) for key in keys)


def _echo(sheet: Sheet, build: Build) -> list[Echo]:
    return [*echo_of(sheet, build), *(assumed(item) for item in build.blade_assumptions)]


def _given(line: Echo | None) -> Given:
    if line is None:
        return Given(None, None, False)
    return Given(line.written, line.si, line.remark.startswith(ASSUMED))


def _same(one: Given, other: Given) -> bool:
    if one.si is not None and other.si is not None:
        return math.isclose(one.si, other.si, rel_tol=1e-9, abs_tol=1e-15)
    return one.written == other.written
