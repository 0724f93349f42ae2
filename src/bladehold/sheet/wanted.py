"""What a hub may be chosen from, as people write it: threads, thicknesses, ties, bushes, materials."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from bladehold.quantity import QuantityError, read, shown
from bladehold.sheet.listing import numbered_rows
from bladehold.sheet.problem import Problem, SheetError, first_few
from bladehold.sheet.reader import text_of
from bladehold.tables import UnknownName, material, nearest_name, property_class, separation_fault, thread

_TIE = re.compile(r"\s*(\d{1,2})\s*x\s*(\S+)\s+(\S+)\s*")
_BUSH = re.compile(r"\s*(\S+\s*[a-z]+)\s+(\S+)\s*")
_NONE = "none"
_MOST_TIES = 6
_THINNEST, _THICKEST = 0.2e-3, 50e-3  # m, of plates, lugs and walls


@dataclass(frozen=True)
class Tie:
    """Tie screws of one blade: their number, 0 for none, thread and property class."""

    count: int
    size: str = ""
    strength: str = ""


@dataclass(frozen=True)
class Bush:
    """A bush of a wall, m, and a material; wall 0 for none."""

    wall: float
    material: str = ""


def _length(text: str) -> float:
    found = read(text, "length").si
    if not _THINNEST <= found <= _THICKEST:
        limits = f"{1e3 * _THINNEST:g} mm to {1e3 * _THICKEST:g} mm"
        raise ValueError(f"read {shown(text)}: allowed is {limits}")
    return found


def _tie(text: str) -> Tie:
    if text.strip() == _NONE:
        return Tie(0)
    found = _TIE.fullmatch(text)
    if found is None or not 1 <= int(found[1]) <= _MOST_TIES:
        raise ValueError(f'read {shown(text)}: write the ties of one blade as "2 x M4 8.8", or "none"')
    return Tie(int(found[1]), thread(found[2]).name, property_class(found[3]).name)


def _bush(text: str) -> Bush:
    if text.strip() == _NONE:
        return Bush(0.0)
    found = _BUSH.fullmatch(text)
    if found is None:
        raise ValueError(f'read {shown(text)}: write wall and material as "1 mm 17-4PH", or "none"')
    return Bush(_length(found[1]), material(found[2]).name)


_READERS: dict[str, Callable[[str], Any]] = {
    "thread": lambda text: thread(text).name,
    "class": lambda text: property_class(text).name,
    "plates": _length,
    "lug": _length,
    "ties": _tie,
    "bush": _bush,
    "plate-material": lambda text: material(text).name,
    "lug-material": lambda text: material(text).name,
}
PARTS = tuple(_READERS)
"""Of what items are named."""


def read_item(part: str, text: str) -> Any:
    """Return one item as the search wants it: a name, a length in m, a Tie or a Bush.

    Arguments: part - one of PARTS; text - as written.
    Errors: ValueError naming what was read and what is allowed, for a part too.
    """
    if part not in _READERS:
        near = nearest_name(part[:200], PARTS)
        hint = f"did you mean {near}?" if near else f"allowed: {', '.join(PARTS)}"
        raise ValueError(f"no such part {shown(part)}; {hint}")
    return _READERS[part](text)


def read_items(texts: Mapping[str, Sequence[str]]) -> dict[str, tuple[Any, ...]]:
    """Return the items named on the command line, part by part, each once.

    Errors: ValueError that begins with the part whose item is wrong.
    """
    found = {}
    for part, several in texts.items():
        try:
            found[part] = tuple(dict.fromkeys(read_item(part, text) for text in several))
        except (QuantityError, UnknownName, ValueError) as error:
            raise ValueError(f"--{_option(part)}: {error}") from None
    return {part: items for part, items in found.items() if items}


def _option(part: str) -> str:
    return {"plates": "plate", "ties": "tie"}.get(part, part)


def load_stock(path: str | Path) -> dict[str, tuple[Any, ...]]:
    """Read a list of what can be had: columns part and item, a line each.

    Errors: SheetError with every fault and its line.
    """
    name = str(path)
    lines = numbered_rows(text_of(Path(path)), name)
    if not lines or lines[0][1] != ["part", "item"]:
        where, header = lines[0] if lines else (None, [])
        fault = separation_fault(header) or "a stock list has the columns part,item"
        raise SheetError([Problem(name, where, "", fault)])
    found: dict[str, list[Any]] = {}
    faults = []
    for number, row in lines[1:]:
        if len(row) != 2:
            faults.append(Problem(name, number, "", f"{len(row)} cells for 2 columns"))
            continue
        try:
            found.setdefault(row[0], []).append(read_item(*row))
        except (QuantityError, UnknownName, ValueError) as error:
            faults.append(Problem(name, number, "", str(error)))
    if not faults and not found:
        faults.append(Problem(name, None, "", "nothing is in stock: no line below the columns"))
    if faults:
        raise SheetError(first_few(faults))
    return {part: tuple(dict.fromkeys(items)) for part, items in found.items()}
