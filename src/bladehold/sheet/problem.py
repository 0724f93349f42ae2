"""What is wrong with a sheet: one line of words per problem, all problems at once."""

from __future__ import annotations

import re
from dataclasses import dataclass

from bladehold.quantity import printable, shown

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
