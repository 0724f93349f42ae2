"""Size: the smallest pivot screw that holds, over threads and property classes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bladehold.sheet.build import Build
from bladehold.study.assess import weakest
from bladehold.study.change import MisfitError, with_pivot_screw
from bladehold.study.checks import STRENGTH
from bladehold.study.checks.parts import BUSH, INBOARD, LUG, PIVOT, PLATES
from bladehold.study.loads import Loads, loads_of
from bladehold.study.situation import Situation
from bladehold.tables import property_class, thread_names

USUAL_CLASSES = ("A2-70", "8.8", "10.9", "12.9")
TOUCHED = tuple(rule for rule in STRENGTH if rule.part in (PIVOT, LUG, BUSH, PLATES) and rule.mode != INBOARD)
"""Checks of what the pivot screw and its holes touch; plates that bend farther in want other plates."""


UNTOUCHED = tuple(rule for rule in STRENGTH if rule not in TOUCHED)


@dataclass(frozen=True)
class Candidate:
    """One thread and class: its smallest margin over what the screw touches, and what sets it.

    margin is None where the screw does not fit; `reason` then says why.
    """

    thread: str
    property_class: str
    margin: float | None
    reason: str

    @property
    def holds(self) -> bool:
        """Whether lug, bush, plates and the screw itself all hold."""
        return self.margin is not None and self.margin >= 0.0


@dataclass(frozen=True)
class Sizing:
    """All candidates, smallest thread and weakest class first; `smallest` is the first that holds.

    rest - the smallest margin of all that the pivot screw does not touch, and its check, with any of the
    smallest screws that hold in their class, else with the present one: such a hub wants more than a screw
    where it is negative.
    """

    candidates: tuple[Candidate, ...]
    rest: tuple[float, str]

    @property
    def smallest(self) -> Candidate | None:
        """The smallest thread, in its weakest class, that holds; None when none does."""
        return next((candidate for candidate in self.candidates if candidate.holds), None)

    def by_class(self) -> dict[str, Candidate | None]:
        """Return the smallest thread that holds in every class."""
        names = dict.fromkeys(candidate.property_class for candidate in self.candidates)
        return {
            name: next((c for c in self.candidates if c.property_class == name and c.holds), None)
            for name in names
        }


def size(
    build: Build,
    threads: Sequence[str] | None = None,
    classes: Sequence[str] = USUAL_CLASSES,
    loads: Loads | None = None,
    *,
    every: bool = True,
) -> Sizing:
    """Try every thread and class as the pivot screw of a build.

    Arguments: build; threads - names, default all of the table; classes - property classes; loads - if known;
    every - False to pass over the larger threads of a class once one holds, for whoever wants only the
    smallest.
    Returns Sizing. What the pivot screw does not touch (ties, mounting, plates between lug and root) does not
    count.
    Errors: UnknownName for a thread or class that is not in the tables.
    """
    found = loads_of(build) if loads is None else loads
    strengths = sorted((property_class(name) for name in classes), key=lambda row: row.yield_strength)
    candidates: list[Candidate] = []
    rests: list[tuple[float, str]] = []
    for size_name in threads or thread_names():
        for strength in strengths:
            if not every and any(c.holds and c.property_class == strength.name for c in candidates):
                continue
            try:
                changed = with_pivot_screw(build, size_name, strength)
            except MisfitError as misfit:
                candidates.append(Candidate(size_name, strength.name, None, str(misfit)))
                continue
            margin, key = weakest(Situation(changed, found), TOUCHED)
            this = Candidate(size_name, strength.name, margin, key)
            if this.holds and not any(c.holds and c.property_class == strength.name for c in candidates):
                rests.append(weakest(Situation(changed, found), UNTOUCHED))
            candidates.append(this)
    rest = min(rests, default=None) or weakest(Situation(build, found), UNTOUCHED)
    return Sizing(tuple(candidates), rest)
