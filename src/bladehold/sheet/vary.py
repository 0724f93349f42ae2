"""Sheets that differ in a few numbers: keys to vary, over which ranges, and the sheet at each point."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from bladehold.quantity import Quantity, shown
from bladehold.sheet.locate import Path as KeyPath
from bladehold.sheet.problem import Problem, SheetError, dotted, in_words
from bladehold.sheet.reader import checked, plain_types, text_of, toml_of, unknown_key
from bladehold.sheet.sheet import Sheet, section_at

_PART = re.compile(r'(?:"([^"]{1,200})"|([A-Za-z0-9_-]{1,200}))(?:\[(\d{1,4})\])?')
_END = re.compile(r"([+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?)\s*([^\d.,\s].*)?", re.ASCII)
_COUNT = re.compile(r"(.*?)\s*:\s*(\d+)\s*", re.DOTALL)
_FORM = 'write KEY=LOW..HIGH or KEY=LOW..HIGH:POINTS, as "hub.plate_thickness=3 mm..5 mm:5"'
LEAST, MOST = 2, 10_000  # points along one key


@dataclass(frozen=True)
class Axis:
    """One key that is varied: path; low, high - numbers in its unit; unit - "" for a plain number; whole -
    whether it counts things; points - along it in a grid, None where not said.
    """

    path: KeyPath
    low: float
    high: float
    unit: str
    whole: bool
    points: int | None

    @property
    def key(self) -> str:
        """The key as people write it."""
        return dotted(self.path)

    @property
    def title(self) -> str:
        """The key with its unit."""
        return f"{self.key}, {self.unit}" if self.unit else self.key

    @property
    def words(self) -> str:
        """The key in words with its unit."""
        return f"{in_words(self.key)}, {self.unit}" if self.unit else in_words(self.key)

    def written(self, number: float) -> str | float | int:
        """Return a number as a sheet has it."""
        if self.whole:
            return round(number)
        return f"{number!r} {self.unit}" if self.unit else number


@dataclass(frozen=True)
class Source:
    """A sheet to vary: its file, folder, text and what TOML makes of it."""

    name: str
    folder: str
    text: str
    data: dict[str, Any]

    @property
    def title(self) -> str:
        """What the sheet calls itself."""
        return str(self.data["about"]["name"])


def load_source(path: str | Path) -> Source:
    """Read a sheet that is valid as it stands. Errors: SheetError with every fault."""
    where = Path(path)
    text = text_of(where)
    data = toml_of(text, str(path))
    checked(data, str(path), text)
    return Source(str(path), str(where.parent), text, data)


def read_axis(text: str, source: Source) -> Axis:
    """Read one range for a key of a sheet.

    Arguments: text - KEY=LOW..HIGH, with :POINTS or without; source - the sheet.
    Errors: ValueError that says what was read and what is allowed, with the nearest key.
    """
    key, equals, span = text.partition("=")
    low_text, dots, rest = span.partition("..")
    if not (equals and dots and key.strip()):
        raise ValueError(f"read {shown(text)}: {_FORM}")
    counted = _COUNT.fullmatch(rest)
    high_text, count = (counted[1], int(counted[2])) if counted else (rest, None)
    path = _path(key.strip(), source.data)
    whole = _numeric(path, key.strip())
    (low, unit), (high, other) = _end(low_text, text), _end(high_text, text)
    if bool(unit) != bool(other) and not whole:
        example = f"{low:g} {unit or other}..{high:g} {unit or other}"
        raise ValueError(f"read {shown(text)}: each end needs its unit, as {example}")
    if unit != other:
        raise ValueError(f"read {shown(text)}: write both ends in one unit, not in {unit!r} and {other!r}")
    if not low < high:
        raise ValueError(f"read {shown(text)}: the low end must be below the high end")
    if whole and (low != int(low) or high != int(high) or unit):
        raise ValueError(f"read {shown(text)}: {dotted(path)} counts things: give whole numbers")
    if count is not None and not LEAST <= count <= MOST:
        raise ValueError(f"read {shown(text)}: {LEAST} to {MOST} points are allowed")
    axis = Axis(path, low, high, unit, whole, count)
    for end in (low, high):
        _fits(axis, end, source)
    return axis


def _end(text: str, whole: str) -> tuple[float, str]:
    found = _END.fullmatch(text.strip())
    if found is None:
        raise ValueError(f"read {shown(whole)}: {shown(text.strip())} is no number with a unit; {_FORM}")
    return float(found[1]), (found[2] or "").strip()


def _path(key: str, data: dict[str, Any]) -> KeyPath:
    """Parts of a key, list places counted from 0. Errors: ValueError for what is no key, or no such place."""
    path: list[str | int] = []
    here: Any = data
    for number, part in enumerate(re.split(r"\.(?=(?:[^\"]*\"[^\"]*\")*[^\"]*$)", key)):
        found = _PART.fullmatch(part)
        if found is None:
            raise ValueError(f"read {shown(key)}: {shown(part)} is no part of a key; {_FORM}")
        name = found[1] or found[2]
        path.append(name)
        here = here.get(name) if isinstance(here, dict) else None
        if number == 0 and name not in Sheet.fields_by_key():
            raise ValueError(f"{dotted(tuple(path))}: {unknown_key(tuple(path))}")
        if found[3] is not None:
            place = int(found[3]) - 1
            count = len(here) if isinstance(here, list) else 0
            if not 0 <= place < count:
                raise ValueError(
                    f"read {shown(key)}: the sheet has {count} {dotted(tuple(path))}, counted from 1"
                )
            path.append(place)
            here = here[place]
        elif isinstance(here, list):
            raise ValueError(
                f"read {shown(key)}: say which {dotted(tuple(path))}, as {dotted(tuple(path))}[1]"
            )
    return tuple(path)


def _numeric(path: KeyPath, key: str) -> bool:
    """Whether a key counts things. Errors: ValueError for a key that is none, or holds no number."""
    if len(path) < LEAST:
        raise ValueError(f"{shown(key)}: is a table; name a key in it")
    section, name = section_at(path[:-1]), path[-1]
    fields = section.fields_by_key() if section is not None else {}
    if name not in fields:
        raise ValueError(f"{shown(key)}: {unknown_key(path)}")
    kinds = plain_types(fields[str(name)].annotation)
    if Quantity in kinds:
        return False
    if int in kinds:
        return True
    raise ValueError(f"{shown(key)}: holds no number, so there is no range to vary it over")


def _fits(axis: Axis, number: float, source: Source) -> None:
    """Refuse an end that the key itself does not allow, whatever else the sheet says."""
    from pydantic import ValidationError

    from bladehold.sheet.reader import fault_of

    try:
        Sheet.model_validate(with_values(source.data, [axis], [number]))
    except ValidationError as error:
        for detail in error.errors(include_url=False):
            if tuple(detail["loc"])[: len(axis.path)] == axis.path:
                raise ValueError(f"{axis.key}: {fault_of(detail)[1]}") from None


def with_values(data: dict[str, Any], axes: Sequence[Axis], numbers: Sequence[float]) -> dict[str, Any]:
    """Return what TOML would make of the sheet with some numbers changed; tables on the way are copied."""
    changed = dict(data)
    copied: dict[KeyPath, Any] = {(): changed}
    for axis, number in zip(axes, numbers, strict=True):
        here: Any = changed
        for place, part in enumerate(axis.path[:-1]):
            above = axis.path[: place + 1]
            if above not in copied:
                held = here[part] if isinstance(part, int) else here.get(part, {})
                here[part] = copied[above] = list(held) if isinstance(held, list) else dict(held)
            here = copied[above]
        here[axis.path[-1]] = axis.written(float(number))
    return changed


def sheet_at(source: Source, axes: Sequence[Axis], numbers: Sequence[float]) -> Sheet:
    """Return the sheet at a point, checked as if typed. Errors: SheetError with every fault."""
    try:
        return checked(with_values(source.data, axes, numbers), source.name)
    except SheetError as error:
        # Lines of the file would point at the numbers that stand there, not at these.
        raise SheetError([Problem(p.file, None, p.key, p.message) for p in error.problems]) from None


def source_of(text: str, name: str = "sheet", folder: str = ".") -> Source:
    """Return a sheet's text as a source to vary. Errors: SheetError with every fault."""
    data = tomllib.loads(text)
    checked(data, name, text)
    return Source(name, folder, text, data)
