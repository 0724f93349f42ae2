"""What one check is before it is asked: where it belongs, how it is found, and the function that finds it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from bladehold.study.record import Outcome
from bladehold.study.situation import Situation

YIELD, RUPTURE, FATIGUE, SERVICE = "yield", "rupture", "fatigue", "service"


@dataclass(frozen=True)
class Rule:
    """One check: where it belongs, how it is found, and the function that finds it.

    held_by - the part whose material sets the capacity, where it is another than `part`.
    """

    part: str
    mode: str
    level: str
    formula: str
    source: str
    advice: str
    function: Callable[[Situation], Outcome | None]
    service: bool = False
    held_by: str | None = None

    @property
    def key(self) -> str:
        """A name for this check that stays the same from build to build."""
        return f"{self.part}: {self.mode} ({self.level})"
