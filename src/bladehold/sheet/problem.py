"""What is wrong with a sheet: one line of words per problem, all problems at once."""

from __future__ import annotations

import re
from dataclasses import dataclass

from bladehold.quantity import printable, shown

MOST_PROBLEMS = 40
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]{1,60}")


@dataclass(frozen=True)
class Problem:
    """One fault: the file, the line (if it has one), the key in dots, and what to do about it."""

    file: str
    line: int | None
    key: str
    message: str

    def __str__(self) -> str:
        place = self.file if self.line is None else f"{self.file}, line {self.line}"
        return printable(f"{place}: {self.key}: {self.message}" if self.key else f"{place}: {self.message}")


class SheetError(ValueError):
    """A sheet that cannot be used; `problems` holds every fault found."""

    def __init__(self, problems: list[Problem]) -> None:
        self.problems = problems
        super().__init__("\n".join(str(problem) for problem in problems))


def first_few(problems: list[Problem], hidden: int = 0) -> list[Problem]:
    """Return at most MOST_PROBLEMS of the problems, and one that counts the rest and the `hidden` ones."""
    rest = hidden + max(len(problems) - MOST_PROBLEMS, 0)
    if not rest:
        return problems
    shown_ones = problems[:MOST_PROBLEMS]
    return [*shown_ones, Problem(shown_ones[0].file, None, "", f"and {rest} more problems")]


def dotted(path: tuple[str | int, ...]) -> str:
    """Return a path as people write it, list places counted from one, names that need quotes in quotes.

    >>> dotted(("propeller", "station", 0, "chord")), dotted(("classes", "my own", "yield"))
    ('propeller.station[1].chord', 'classes."my own".yield')
    """
    text = ""
    for part in path:
        if isinstance(part, int):
            text += f"[{part + 1}]"
        else:
            name = part if _BARE_KEY.fullmatch(part) else shown(part)
            text += f".{name}" if text else name
    return text


def in_words(key: str) -> str:
    """Return a dotted key as it is read out.

    >>> in_words("flying.segment[2].speed"), in_words("hub.plate_thickness")
    ('flying: segment 2: speed', 'hub: plate thickness')
    """
    return key.replace("[", " ").replace("]", "").replace(".", ": ").replace("_", " ")
