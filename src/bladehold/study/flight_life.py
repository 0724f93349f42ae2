"""How long the parts last in the flying of a build: by part, what wears them, what to do, what would help."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bladehold.joint.intervals import inspection_interval, life_in_flights, life_ratio, life_without
from bladehold.sheet.build import Build
from bladehold.study.assess import Assessment, assess
from bladehold.study.checks.parts import MOUNTING, PIVOT, TIES
from bladehold.study.kinds import Kind, kinds_of
from bladehold.study.life import MemberLife, lives_of
from bladehold.study.loads import Loads, loads_of
from bladehold.study.situation import Situation

LESS_LOAD, HALF = 0.9, 0.5
SCREWS = (PIVOT, TIES, MOUNTING)

SAFE_LIFE = "retired at its safe life: no crack growth is computed, so no inspection prolongs it"
SEEN = "looked at three times in that life, own choice"
UNSEEN = "cannot be looked at without taking the hub apart: retired, not inspected"
UNSAID = "hub.inspectable is not said: taken as if it could not be seen"
LASTING = (
    "no damage found within the curves: goes with the service life, looked at three times in it, own choice"
)
TORQUE = "torque checked after the first flights, then at every inspection: common practice, no source"


@dataclass(frozen=True)
class Keeping:
    """What to do about one part: the shortest of its lives.

    life - that one; hours - at which it is retired, no later than the service life; flights - the same;
    interval - hours between looks, None where it cannot be looked at; rules - in words.
    """

    part: str
    life: MemberLife
    hours: float
    flights: float
    interval: float | None
    rules: tuple[str, ...]


@dataclass(frozen=True)
class Lever:
    """One change of the flying and by how much the shortest life grows with it."""

    change: str
    ratio: float


@dataclass(frozen=True, eq=False)
class LifeAnswer:
    """kinds - all that is flown; loads; assessment; lives - shortest first, those not checked last; keeping -
    by part, shortest first; levers - of the shortest life, the strongest first.
    """

    assessment: Assessment
    kinds: tuple[Kind, ...]
    lives: tuple[MemberLife, ...]
    keeping: tuple[Keeping, ...]
    levers: tuple[Lever, ...]

    @property
    def build(self) -> Build:
        """The build it is about."""
        return self.assessment.build

    @property
    def loads(self) -> Loads:
        """Loads of all conditions."""
        return self.assessment.loads

    @property
    def shortest(self) -> MemberLife | None:
        """The shortest life among the parts that are checked."""
        return next((life for life in self.lives if life.hours is not None), None)

    @property
    def service_hours(self) -> float:
        """The service life that is wanted, hours of flight."""
        return self.build.flying.service_life / 3600.0

    @property
    def lasts(self) -> bool:
        """Whether every part that is checked lasts the service life."""
        return all(life.hours is None or life.hours >= self.service_hours for life in self.lives)


def life_answer(build: Build) -> LifeAnswer:
    """Return how long the parts of a build last.

    Errors: ValueError from the rotor when a thrust cannot be reached.
    """
    now = Situation(build, loads_of(build))
    lives = tuple(sorted(lives_of(now), key=lambda life: (life.hours is None, life.hours or 0.0)))
    first = next((life for life in lives if life.hours is not None), None)
    return LifeAnswer(
        assessment=assess(build, situation=now),
        kinds=kinds_of(build),
        lives=lives,
        keeping=_keeping(build, lives),
        levers=() if first is None else _levers(first),
    )


def _keeping(build: Build, lives: tuple[MemberLife, ...]) -> tuple[Keeping, ...]:
    service = build.flying.service_life / 3600.0
    by_part: dict[str, MemberLife] = {}
    for life in lives:
        if life.hours is not None:
            by_part.setdefault(life.part, life)
    found = []
    for part, life in by_part.items():
        assert life.hours is not None
        hours = min(life.hours, service)
        seen = build.hub.inspectable is True or part in SCREWS
        rules = [SAFE_LIFE if life.hours < service else LASTING]
        if seen and life.hours < service:
            rules.append(SEEN)
        elif not seen:
            rules.append(UNSEEN if build.hub.inspectable is False else UNSAID)
        if part in SCREWS:
            rules.append(TORQUE)
        interval = float(inspection_interval(hours)) if seen else None
        flights = float(life_in_flights(hours, build.flying.flight_time))
        found.append(Keeping(part, life, hours, flights, interval, tuple(rules)))
    return tuple(found)


def _levers(life: MemberLife) -> tuple[Lever, ...]:
    """What a tenth less load would do to a life, and half as many of each group of cycles."""
    if not life.slope:
        return ()
    found = [Lever("all loads on the blade a tenth less", float(life_ratio(LESS_LOAD, life.slope)))]
    words = {
        "turns": "half as many turns in steady flight, as with larger, slower rotors",
        "start and stop": "flights twice as long, so half as many starts",
        "manoeuvres": "half as many hard manoeuvres",
        "gusts": "half as many gusts",
        "throttle": "half as many throttle steps and chops",
        "own cases": "half as many of the cases of the sheet",
    }
    for group, share in life.groups:
        ratio = float(life_without(share, HALF))
        if group in words and ratio > 1.0 and np.isfinite(ratio):
            found.append(Lever(words[group], ratio))
    return tuple(sorted(found, key=lambda lever: -lever.ratio))
