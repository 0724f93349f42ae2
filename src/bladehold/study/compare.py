"""Compare: two or more builds side by side, every answer of each in rows, what one cannot answer said so."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bladehold.air import GRAVITY
from bladehold.joint.intervals import life_in_flights
from bladehold.sheet.build import Build
from bladehold.study.blade_states import GONE
from bladehold.study.checks import FATIGUE
from bladehold.study.consequence import HAZARDOUS, ConsequenceAnswer, consequence_answer
from bladehold.study.drive import DriveAnswer, NoDriveError, drive_answer
from bladehold.study.flight_limit import FlightLimits, flight_limits
from bladehold.study.joint import JointAnswer, joint_answer
from bladehold.study.life import MemberLife
from bladehold.study.limit import Limit, limit
from bladehold.study.mass import retention_mass
from bladehold.study.record import Check
from bladehold.study.words import figures

FloatArray = NDArray[np.float64]

MORE, LESS, NEITHER = "more", "less", ""
"""Which way a number is better."""
VERDICT, MARGINS, FATIGUES, LIVES = "verdict", "margins of strength", "margins of fatigue", "lives"
MASS = "mass of the retention"
WHOLE = "mass of the retention, all parts"
FLOWN, LIMITS, POWER = "what is flown", "how far it goes", "motor and battery"
TIGHTNESS, LOST = "tightness of the pivot", "one member lost"
GROUPS = (VERDICT, MARGINS, FATIGUES, LIVES, MASS, WHOLE, FLOWN, LIMITS, POWER, TIGHTNESS, LOST)
SAME = 1e-9  # of a number, within which two are the same
_RPM = 30.0 / math.pi
_G_MM = 1e6  # g mm in a kg m


@dataclass(frozen=True)
class Entry:
    """What one build answers: a number, in the unit of its row, infinite where nothing bounds it; text - in
    words, beside it or alone; absent - why there is no answer, "" where there is one.
    """

    number: float | None = None
    text: str = ""
    absent: str = ""


@dataclass(frozen=True)
class Row:
    """One question to all builds: entries in their order; better - MORE, LESS or NEITHER."""

    group: str
    name: str
    unit: str
    better: str
    entries: tuple[Entry, ...]

    @property
    def differs(self) -> bool:
        """Whether any build answers other than the first."""
        first = self.entries[0]
        return any(not _same(first, other) for other in self.entries[1:])

    @property
    def best(self) -> int | None:
        """Place of the build that answers best; None where they answer alike or no way is better."""
        known = [(at, one.number) for at, one in enumerate(self.entries) if one.number is not None]
        if self.better == NEITHER or not self.differs or len(known) < 2:
            return None
        pick = max if self.better == MORE else min
        at, number = pick(known, key=lambda pair: pair[1])
        ties = sum(_close(number, other) for _, other in known)
        return at if ties == 1 else None


@dataclass(frozen=True)
class Comparison:
    """names of the builds, in order; holds - each, strength alone; lasts - whether no part that is checked
    ends before the service life; rows - every one, group by group.
    """

    names: tuple[str, ...]
    holds: tuple[bool, ...]
    lasts: tuple[bool, ...]
    rows: tuple[Row, ...]

    @property
    def differing(self) -> tuple[Row, ...]:
        """The rows in which the builds differ."""
        return tuple(row for row in self.rows if row.differs)


@dataclass(frozen=True)
class Asked:
    """One build and all its answers; lasts - whether no part that is checked ends before the service life."""

    build: Build
    lasts: bool
    answers: Mapping[_Key, Entry]


def asked_of(build: Build) -> Asked:
    """Ask a build all questions. Errors: ValueError from the rotor when a thrust cannot be reached;
    BalanceError from the blade.
    """
    joint = joint_answer(build)
    return Asked(build, not joint.short_lives, dict(_answers(build, joint)))


def compare(several: Sequence[Asked]) -> Comparison:
    """Put the answers of builds side by side.

    Arguments: several - two builds or more, asked. Returns Comparison: a question that only some can answer
    stands there for all. Errors: ValueError for fewer than two.
    """
    if len(several) < 2:
        raise ValueError(f"there is nothing to compare with: {len(several)} sheet given, 2 or more needed")
    asked = [one.answers for one in several]
    order: dict[_Key, None] = {}
    for group in GROUPS:
        for answers in asked:
            order.update(dict.fromkeys(key for key in answers if key.group == group))
    rows = tuple(
        Row(key.group, key.name, key.unit, key.better, tuple(_entry(answers, key) for answers in asked))
        for key in order
    )
    held = tuple(answers[_Key(VERDICT, "smallest margin", "", MORE)] for answers in asked)
    return Comparison(
        tuple(one.build.name for one in several),
        tuple((one.number or 0.0) >= 0.0 for one in held),
        tuple(one.lasts for one in several),
        rows,
    )


@dataclass(frozen=True)
class _Key:
    group: str
    name: str
    unit: str
    better: str


def _entry(answers: Mapping[_Key, Entry], key: _Key) -> Entry:
    if key in answers:
        return answers[key]
    whole = next((entry.absent for other, entry in answers.items() if other.group == key.group), "")
    return Entry(absent=whole or "there is none in this one")


def _same(one: Entry, other: Entry) -> bool:
    if (one.number is None) != (other.number is None) or (one.text, one.absent) != (other.text, other.absent):
        return False
    return one.number is None or other.number is None or _close(one.number, other.number)


def _close(one: float, other: float) -> bool:
    return one == other or math.isclose(one, other, rel_tol=SAME, abs_tol=SAME)


_Answers = Iterator[tuple[_Key, Entry]]


def _answers(build: Build, joint: JointAnswer) -> _Answers:
    yield from _verdict(joint)
    yield from _margins(joint)
    yield from _lives(joint)
    yield from _masses(build)
    yield from _flown(joint)
    yield from _limits(build, limit(build, joint.assessment.loads))
    yield from _flight(build)
    yield from _power(build)
    yield from _tightness(joint)
    yield from _lost(joint)
    yield from _failed(consequence_answer(joint.assessment, joint.losses))


def _verdict(joint: JointAnswer) -> _Answers:
    found = joint.assessment
    yield (
        _Key(VERDICT, "smallest margin", "", MORE),
        Entry(found.margin, f"{found.verdict}: {found.governing.key}"),
    )
    yield _Key(VERDICT, "inputs assumed", "", LESS), Entry(float(len(found.build.assumptions)))
    short = joint.shortest
    lasts = Entry(absent="no life is checked") if short is None else Entry(short.hours, short.part)
    yield _Key(VERDICT, "shortest life", "h", MORE), lasts
    yield _Key(VERDICT, "service life wanted", "h", NEITHER), Entry(joint.service_hours)


def _margins(joint: JointAnswer) -> _Answers:
    checks = joint.assessment.checks
    yield from _weakest(MARGINS, (check for check in checks if check.governs))
    yield from _weakest(FATIGUES, (check for check in checks if check.level == FATIGUE))


def _weakest(group: str, checks: Iterable[Check]) -> _Answers:
    """The first check of every part, of checks with the smallest margin first."""
    seen: set[str] = set()
    for check in checks:
        if check.part not in seen:
            seen.add(check.part)
            words = f"{check.mode} ({check.level}), {check.condition}"
            yield _Key(group, check.part, "", MORE), Entry(check.margin, words)


def _lives(joint: JointAnswer) -> _Answers:
    for life in joint.lives:
        yield _Key(LIVES, f"{life.part}: {life.mode}", "h", MORE), _life(life, joint.build)


def _life(life: MemberLife, build: Build) -> Entry:
    """Hours of a life, and flights in words."""
    if life.hours is None:
        return Entry(absent="; ".join(["not checked", *life.breaches]))
    if not math.isfinite(life.hours):
        return Entry(life.hours)
    flights = float(life_in_flights(life.hours, build.flying.flight_time))
    count = "over 1e6" if flights >= 1e6 else "less than 1" if flights < 1.0 else figures(flights)
    return Entry(life.hours, f"{count} flights")


def _masses(build: Build) -> _Answers:
    found = retention_mass(build)
    for part, mass in found.items():
        yield _Key(MASS, part, "g", LESS), Entry(1e3 * mass)
    whole = sum(found.values())
    yield _Key(WHOLE, "of one rotor", "g", LESS), Entry(1e3 * whole)
    yield _Key(WHOLE, "of the aircraft", "g", LESS), Entry(1e3 * whole * build.aircraft.rotors)


def _flown(joint: JointAnswer) -> _Answers:
    loads, flying = joint.assessment.loads, joint.build.flying
    hard = int(loads.thrust[:-1].argmax())
    fast = int(loads.speed[:-1].argmax())
    pull = loads.root.centrifugal
    yield _Key(FLOWN, "thrust used, steady", "kgf", NEITHER), Entry(flying.used_thrust / GRAVITY)
    yield (
        _Key(FLOWN, "thrust in the hardest condition", "kgf", NEITHER),
        Entry(float(loads.thrust[hard]) / GRAVITY, loads.names[hard]),
    )
    yield (
        _Key(FLOWN, "fastest turning", "rpm", NEITHER),
        Entry(float(loads.speed[fast]) * _RPM, loads.names[fast]),
    )
    yield _Key(FLOWN, "greatest pull of a blade in flight", "N", LESS), Entry(float(pull[:-1].max()))
    swing = loads.root.flap_cyclic[:-1]
    at = int(swing.argmax())
    yield (
        _Key(FLOWN, "greatest swing of its flap moment", "N·m", LESS),
        Entry(float(swing[at]), loads.names[at]),
    )


def _limits(build: Build, found: Limit) -> _Answers:
    low = found.lowest
    yield _Key(LIMITS, "steady thrust held", "kgf", MORE), Entry(low.thrust / GRAVITY, low.part)
    for part in found.parts:
        alone = Entry(part.thrust / GRAVITY, "" if math.isfinite(part.thrust) else "not reached")
        yield _Key(LIMITS, f"steady thrust held by the {part.part}", "kgf", MORE), alone
    yield _Key(LIMITS, "hardest thrust held, of the rating", "%", MORE), _rated(build, found)


def _rated(build: Build, found: Limit) -> Entry:
    if not build.flying.claimed_thrust:
        return Entry(absent="the sheet has no claimed_thrust")
    if found.lowest.thrust <= 0.0:
        return Entry(0.0, f"{found.lowest.part} fails unloaded")
    share = found.share_of_claim
    return Entry(absent="no limit is reached") if share is None else Entry(100.0 * share)


def _flight(build: Build) -> _Answers:
    keys = (
        _Key(LIMITS, "level speed at the sheet's load factor", "m/s", MORE),
        _Key(LIMITS, "load factor at the sheet's top speed", "", MORE),
    )
    try:
        found: FlightLimits = flight_limits(build)
    except ValueError as error:
        yield from ((key, Entry(absent=str(error))) for key in keys)
        return
    speed, factor = found.speed, found.load_factor
    yield keys[0], Entry(speed.speed, speed.part if math.isfinite(speed.speed) else "not reached")
    yield (
        keys[1],
        Entry(factor.load_factor, factor.part if math.isfinite(factor.load_factor) else "not reached"),
    )


def _power(build: Build) -> _Answers:
    try:
        found = drive_answer(build)
    except NoDriveError as error:
        yield _Key(POWER, "serves", "", NEITHER), Entry(absent=str(error))
        return
    for name, unit, better, ask in _POWER:
        number = ask(found)
        yield (
            _Key(POWER, name, unit, better),
            Entry(number) if not math.isnan(number) else Entry(absent="the battery collapses"),
        )
    yield _Key(POWER, "serves", "", NEITHER), Entry(text="yes" if found.serves else "no")


def _hover(found: DriveAnswer, values: FloatArray) -> float:
    """The greatest of all rotors in hover."""
    return float(np.max(values[found.hover]))


_POWER: tuple[tuple[str, str, str, Callable[[DriveAnswer], float]], ...] = (
    ("power in hover", "W", LESS, lambda found: _hover(found, found.flown.power)),
    (
        "thrust for power in hover",
        "g/W",
        MORE,
        lambda found: _hover(found, found.flown.thrust_per_power),
    ),
    (
        "throttle in hover",
        "%",
        LESS,
        lambda found: 100.0 * _hover(found, found.flown.full.throttle),
    ),
    ("throttle left at the reserve", "%", MORE, lambda found: 100.0 * found.throttle_left),
    ("greatest thrust, battery full", "kgf", MORE, lambda found: found.greatest[0].thrust / GRAVITY),
    ("thrust over weight, battery full", "", MORE, lambda found: found.greatest[0].over_weight),
    ("hover alone", "min", MORE, lambda found: found.hover_endurance / 60.0),
    ("the mission, over and over", "min", MORE, lambda found: float(found.mission.longest.ends) / 60.0),
)


def _tightness(joint: JointAnswer) -> _Answers:
    found = joint.tightness
    if found is None:
        folds = joint.build.propeller.folding
        why = "nothing clamps the pivot" if folds else "the blades do not fold"
        yield _Key(TIGHTNESS, "what serves", "", NEITHER), Entry(absent=why)
        return
    now = found.as_built
    yield _Key(TIGHTNESS, "what serves", "", NEITHER), Entry(text=found.verdict.replace("N*m", "N·m"))
    yield _Key(TIGHTNESS, "window of torque, greatest over least", "", MORE), Entry(now.torque_width)
    yield _Key(TIGHTNESS, "least torque", "N·m", NEITHER), Entry(now.torque_least)
    yield _Key(TIGHTNESS, "greatest torque", "N·m", NEITHER), Entry(now.torque_greatest)
    yield _Key(TIGHTNESS, "window of pull at the tip, greatest over least", "", MORE), Entry(now.pull_width)
    yield _Key(TIGHTNESS, "least pull at the tip", "N", NEITHER), Entry(now.pull_least)
    yield _Key(TIGHTNESS, "greatest pull at the tip", "N", NEITHER), Entry(now.pull_greatest)
    right = {True: "yes", False: "no", None: "not known"}[joint.set_right]
    yield _Key(TIGHTNESS, "set right by the sheet", "", NEITHER), Entry(text=right)


def _lost(joint: JointAnswer) -> _Answers:
    for loss in joint.losses:
        # However many there are, the loss of one is the same question.
        how = "one lost" if loss.how.startswith("one of ") else loss.how.partition(":")[0]
        name = f"{loss.member}, {how}"
        does = f"hover: {loss.in_hover}; all flight: {loss.in_all_flight}; {loss.advice}"
        yield _Key(LOST, f"{name}: the blade", "", NEITHER), Entry(text=does)
        weak = loss.weakest
        left = (
            Entry(absent="nothing is left to hold")
            if weak is None
            else Entry(weak.margin, f"{weak.part}, {weak.mode}")
        )
        yield _Key(LOST, f"{name}: smallest margin left", "", MORE), left
        hours = Entry(absent="not asked") if loss.hours is None else Entry(loss.hours, loss.hours_part)
        yield _Key(LOST, f"{name}: then lasts", "h", MORE), hours


def _failed(found: ConsequenceAnswer) -> _Answers:
    """What follows the losses: for the rotor, the arm, the aircraft and the people around."""
    bad = [row for row in found.rows if row.loss is not None and row.effect == HAZARDOUS]
    words = "; ".join(f"{row.member}, {row.how}" for row in bad)
    yield _Key(LOST, "single failures of screws that are hazardous", "", LESS), Entry(float(len(bad)), words)
    grams = Entry(_G_MM * found.states[GONE].unbalance)
    yield _Key(LOST, "a blade lost: unbalance", "g mm", LESS), grams
    arm = found.arm
    held = Entry(absent=found.no_arm) if arm is None else Entry(float(arm.stress.margin[arm.hover]))
    yield _Key(LOST, "a blade lost: margin of the arm in hover", "", MORE), held
    control = found.control
    hover = Entry(absent=found.no_control) if control is None else Entry(text=control.worst.hover)
    yield _Key(LOST, "a rotor lost: hover is", "", NEITHER), hover
    yield _Key(LOST, "stand-off for tests", "m", LESS), Entry(found.release.stand_off)
