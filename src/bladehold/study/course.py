"""The course of a flight as far as loads go: which state follows which, and what is repeated within it.

A flight begins and ends at rest and passes once through all that is flown. What does not last is a loop
besides, between it and the state it comes out of, as often as it happens: one more than there is, on the safe
side.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bladehold.sheet.build_flying import Events
from bladehold.study.kinds import Kind

REST = -1
"""The place of rest among the conditions, the last of the loads."""

UP, DOWN = "pull-up in hover", "push-over in hover"


@dataclass(frozen=True)
class Loop:
    """From one condition to another and back: their places; times - in a flight; group - of damage."""

    first: int
    second: int
    times: float
    group: str


@dataclass(frozen=True)
class Course:
    """One flight: places - conditions in order, rest at both ends; share - of all flights; loops in it."""

    places: tuple[int, ...]
    share: float
    loops: tuple[Loop, ...]


def course_of(
    kinds: Sequence[Kind], start: int, share: float, events: Events, own: Sequence[tuple[int, float]] = ()
) -> Course:
    """Return the flight through all kinds, one after the other, whose conditions stand from `start` on.

    Kinds that take no part of the flight are left out.
    Arguments: kinds; start - place of the first kind among the conditions; share - of all flights that are
    flown in this air; events - of a flight; own - places of the user's cases, flown out of hover, and how
    often in a flight.
    """
    place = {kind.name: start + at for at, kind in enumerate(kinds)}
    order, loops = [REST], []
    for kind in kinds:
        if kind.share > 0.0 or kind.times > 0.0:
            order.append(place[kind.name])
        if kind.times > 0.0:
            loops.append(Loop(place[kind.base], place[kind.name], kind.times, kind.group))
    for at, times in own:
        if times > 0.0:
            order.append(at)
            loops.append(Loop(place["hover"], at, times, "own cases"))
    loops.append(Loop(place[UP], place[DOWN], float(events.throttle_steps), "throttle"))
    loops.append(Loop(place["hover"], REST, float(events.throttle_chops), "throttle"))
    return Course((*order, REST), share, tuple(loop for loop in loops if loop.times > 0.0))


def flown_places(courses: Sequence[Course]) -> set[int]:
    """Return every condition that a flight passes through, rest left out."""
    found = {place for course in courses for place in course.places}
    found |= {place for course in courses for loop in course.loops for place in (loop.first, loop.second)}
    return found - {REST}
