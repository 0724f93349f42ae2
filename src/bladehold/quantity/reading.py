"""Reading "26 in" strictly: the number and the unit are split by us, never by an evaluator.

An expression evaluator reads "1,5 mm" as 15 mm and "10-32" as -22. Here a text is one
plain decimal number, a space or nothing, and one listed unit; everything else is refused
with a sentence that says what would be right.
"""

from __future__ import annotations

import difflib
import math
import re
from dataclasses import dataclass

from bladehold.quantity.conversion import to_si
from bladehold.quantity.kinds import KINDS, SPELLINGS, Kind

_NUMBER_THEN_UNIT = re.compile(r"\s*([+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?)\s*(\S.*?)?\s*", re.ASCII)
_DECIMAL_COMMA = re.compile(r"\s*[+-]?\d+,\d+")
_MORE_DIGITS = re.compile(
    r"[-+.,]?\d+(?!/)"
)  # "1 500 mm" or "10-32": a second number where the unit should stand
_LARGEST_WHOLE = 10**300  # a larger whole number does not fit a float
_LONGEST = 60  # no honest quantity is longer, and a longer one should not flood the terminal


class QuantityError(ValueError):
    """A text that is not a quantity of the wanted kind; the message says what is allowed."""


@dataclass(frozen=True)
class Quantity:
    """A value read from the border: SI inside, and the user's own text and unit kept beside it."""

    si: float
    kind: str
    text: str

    def __str__(self) -> str:
        return self.text


def read(raw: object, kind_name: str) -> Quantity:
    """Read one quantity of the named kind.

    Arguments: raw - what stood in the sheet (a text such as "8.2 kgf"); kind_name - a key
    of KINDS. Returns a Quantity with its SI value. Errors: QuantityError naming what was
    read and what is allowed.

    >>> read("26 in", "length").si
    0.6604
    >>> read("1,5 mm", "length")
    Traceback (most recent call last):
    ...
    bladehold.quantity.reading.QuantityError: read "1,5 mm": write the decimal with a point, as in "1.5 mm"
    """
    kind = KINDS[kind_name]
    if isinstance(raw, bool) or not isinstance(raw, str | int | float):
        raise QuantityError(f"read {shown(raw)}: a {kind.name} is a text with a unit, as in {_example(kind)}")
    if not isinstance(raw, str):
        raise QuantityError(
            f"read the bare number {shown(raw)}: a {kind.name} needs a unit, "
            f"as in {_example(kind)}; allowed: {kind.allowed}"
        )
    match = _NUMBER_THEN_UNIT.fullmatch(raw) if len(raw) <= _LONGEST else None
    if _DECIMAL_COMMA.match(raw):
        right = shown(raw.strip().replace(",", ".", 1))
        raise QuantityError(f"read {shown(raw)}: write the decimal with a point, as in {right}")
    if match is None or _MORE_DIGITS.match(match.group(2) or ""):
        raise QuantityError(
            f"read {shown(raw)}: a {kind.name} is one number and one unit, as in {_example(kind)}"
        )
    number, unit = float(match.group(1)), _canonical(match.group(2) or "")
    if not math.isfinite(number):
        raise QuantityError(f"read {shown(raw)}: the number is too large to be a {kind.name}")
    if unit not in kind.units:
        raise QuantityError(_wrong_unit(raw, unit, kind))
    si = to_si(number, kind.name, unit)
    if not math.isfinite(si):
        raise QuantityError(f"read {shown(raw)}: the number is too large to be a {kind.name}")
    if kind.name == "temperature" and si < 0.0:
        raise QuantityError(f"read {shown(raw)}: this lies below absolute zero")
    return Quantity(si, kind.name, f"{match.group(1)} {unit}")


def read_fraction(raw: object) -> Quantity:
    """Read a pure ratio: a bare number (0.5) or a percentage ("50 %").

    >>> read_fraction("50 %").si
    0.5
    """
    if isinstance(raw, int | float) and not isinstance(raw, bool):
        value = float(raw) if isinstance(raw, float) or abs(raw) < _LARGEST_WHOLE else math.inf
        text = shown(raw)
    elif (
        isinstance(raw, str)
        and len(raw) <= _LONGEST
        and (match := _NUMBER_THEN_UNIT.fullmatch(raw))
        and match.group(2) in (None, "%")
    ):
        value = float(match.group(1)) * (0.01 if match.group(2) else 1.0)
        text = raw.strip()
    else:
        raise QuantityError(
            f'read {shown(raw)}: a pure ratio is a plain number or a percentage, as in 0.5 or "50 %"'
        )
    if not math.isfinite(value):
        raise QuantityError(f"read {shown(raw)}: a ratio must be a finite number of ordinary size")
    return Quantity(value, "ratio", text)


def _canonical(unit: str) -> str:
    plain = unit.replace("·", "*").replace("²", "^2").replace("³", "^3").replace(" ", "")
    return SPELLINGS.get(plain, plain)


def printable(text: str) -> str:
    """Return a text with whatever could move a cursor or change a colour replaced by question marks."""
    return "".join(c if c.isprintable() else "?" for c in text)


def shown(raw: object) -> str:
    """Return what was read as it may stand in a message: on one line, printable, not too long.

    >>> shown("26 in"), shown(True), shown([1, 2]), shown("x" * 99)[-6:]
    ('"26 in"', 'true', 'a list', 'xx..."')
    """
    if isinstance(raw, str):
        text = printable(raw[: _LONGEST + 1])
        return f'"{text}"' if len(text) <= _LONGEST else f'"{text[: _LONGEST - 3]}..."'
    if isinstance(raw, bool):
        return "true" if raw else "false"
    if isinstance(raw, dict | list):
        return "a table" if isinstance(raw, dict) else "a list"
    if isinstance(raw, int) and abs(raw) >= 10**_LONGEST:
        return f"a whole number of more than {_LONGEST} digits"  # Python refuses to write out the longest
    return str(raw)


def _example(kind: Kind) -> str:
    return f'"12 {next(iter(kind.units))}"'


def _wrong_unit(raw: str, unit: str, kind: Kind) -> str:
    if not unit:
        return f"read {shown(raw)}: the unit is missing; allowed for a {kind.name}: {kind.allowed}"
    others = [other.name for other in KINDS.values() if unit in other.units]
    if others:
        return (
            f"read {shown(raw)}: {unit} is a unit of {' or '.join(others)}, "
            f"but a {kind.name} is wanted here; allowed: {kind.allowed}"
        )
    near = difflib.get_close_matches(unit, kind.units, n=1)
    hint = f" (nearest: {near[0]})" if near else ""
    return f"read {shown(raw)}: no such unit for a {kind.name}{hint}; allowed: {kind.allowed}"
