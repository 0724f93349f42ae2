"""What is wrong with a sheet: one line of words per problem, all problems at once."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Problem:
    """One fault: the file, the line (if it has one), the key in dots, and what to do about it."""

    file: str
    line: int | None
    key: str
    message: str

    def __str__(self) -> str:
        place = self.file if self.line is None else f"{self.file}, line {self.line}"
        return f"{place}: {self.key}: {self.message}" if self.key else f"{place}: {self.message}"


class SheetError(ValueError):
    """A sheet that cannot be used; `problems` holds every fault found."""

    def __init__(self, problems: list[Problem]) -> None:
        self.problems = problems
        super().__init__("\n".join(str(problem) for problem in problems))


def dotted(path: tuple[str | int, ...]) -> str:
    """Return a path as people write it, list places counted from one.

    >>> dotted(("propeller", "station", 0, "chord"))
    'propeller.station[1].chord'
    """
    text = ""
    for part in path:
        text += f"[{part + 1}]" if isinstance(part, int) else (f".{part}" if text else part)
    return text
