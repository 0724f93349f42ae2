"""How sheets stand beside each other in strength and life: verdicts, margins, limits of thrust, lives."""

from __future__ import annotations

import math

from bladehold.joint.intervals import life_in_flights
from bladehold.study.assess import FAILS, HOLDS, MARGINAL
from bladehold.study.checks import FATIGUE
from bladehold.study.compare_answers import ANSWERS, NO, YES, Answered, Answers, no_tightness, question, yes
from bladehold.study.comparison import HIGHER, Cell, Row, keyed_rows
from bladehold.study.life import MemberLife
from bladehold.study.record import Check

VERDICT, MARGINS, FATIGUES, CHECKS = "verdict", "margins of strength", "margins of fatigue", "every check"
LIMITS, LIVES, FLIGHTS = "thrust limit by part", "life by part", "life by part, in flights"
_VERDICTS = (FAILS, MARGINAL, HOLDS)


def _how(check: Check) -> str:
    return f"{check.mode} ({check.level}), {check.condition}"


def verdict_rows(answers: Answers) -> list[Row]:
    """How each sheet stands, in strength, life, setting and drive."""

    def least(one: Answered) -> Cell:
        check = one.joint.assessment.governing
        return Cell(check.margin, f"{check.part}: {_how(check)}")

    def lasts(one: Answered) -> Cell:
        short = one.joint.short_lives
        if not short:
            return Cell(YES)
        return Cell(NO, "; ".join(f"{life.part} ({life.mode})" for life in short))

    def can_be_set(one: Answered) -> Cell:
        return yes(one.joint.can_be_set, no_tightness(one.build))

    def serves(one: Answered) -> Cell:
        return yes(None if one.drive is None else one.drive.serves, one.no_drive)

    return [
        question(
            VERDICT,
            "all that can be answered holds",
            "",
            HIGHER,
            answers,
            lambda one: Cell(YES if one.holds else NO),
            ANSWERS,
        ),
        question(
            VERDICT,
            "strength",
            "",
            HIGHER,
            answers,
            lambda one: Cell(one.joint.assessment.verdict),
            _VERDICTS,
        ),
        question(VERDICT, "smallest margin", "", HIGHER, answers, least),
        question(
            VERDICT,
            "smallest margin in flight, without the proof",
            "",
            HIGHER,
            answers,
            lambda one: Cell(one.joint.assessment.flight_margin),
        ),
        question(VERDICT, "all parts last the service life", "", HIGHER, answers, lasts, ANSWERS),
        question(VERDICT, "the pivot can be set as built", "", HIGHER, answers, can_be_set, ANSWERS),
        question(VERDICT, "motor and battery serve", "", HIGHER, answers, serves, ANSWERS),
    ]


def _margin(check: Check) -> Cell:
    return Cell(check.margin, _how(check) if math.isfinite(check.margin) else f"{check.mode}: not loaded")


def margin_rows(answers: Answers) -> list[Row]:
    """The smallest margin of every part, in strength and in fatigue, with the check behind it."""
    strength = [
        {part: _margin(check) for part, check in one.joint.assessment.by_part().items()} for one in answers
    ]
    fatigue: list[dict[str, Cell]] = []
    for one in answers:
        column: dict[str, Cell] = {}
        for check in one.joint.assessment.checks:
            if check.level == FATIGUE:
                column.setdefault(check.part, _margin(check))
        fatigue.append(column)
    none = "no check of strength applies to such a part here"
    unchecked = "no fatigue of such a part is checked here"
    return [
        *keyed_rows(MARGINS, "", HIGHER, strength, lambda at, part: none),
        *keyed_rows(FATIGUES, "", HIGHER, fatigue, lambda at, part: unchecked),
    ]


def check_rows(answers: Answers) -> list[Row]:
    """The margin of every check."""
    columns = [
        {check.key: Cell(check.margin, check.condition) for check in one.joint.assessment.checks}
        for one in answers
    ]
    return keyed_rows(CHECKS, "", HIGHER, columns, lambda at, key: "does not apply to this build")


def limit_rows(answers: Answers) -> list[Row]:
    """The largest steady thrust that every part holds, and what the maker's rating is worth."""

    def held(thrust: float, peak: float) -> Cell:
        if thrust <= 0.0:
            return Cell(0.0, "does not hold even unloaded")
        if math.isinf(thrust):
            return Cell(thrust, "nothing within the rotor's reach breaks it")
        return Cell(thrust, f"{peak:.0f} N in the hardest condition")

    def lowest(one: Answered) -> Cell:
        first = one.limit.lowest
        return Cell(first.thrust, first.part)

    def share(one: Answered) -> Cell:
        found = one.limit.share_of_claim
        if found is not None:
            return Cell(found)
        if one.limit.claimed_thrust is None:
            return Cell(None, "the sheet gives no flying.claimed_thrust")
        return Cell(None, "no part limits the thrust, or one holds nothing")

    columns = [
        {part.part: held(part.thrust, part.peak_thrust) for part in one.limit.parts} for one in answers
    ]
    return [
        question(LIMITS, "lowest of all parts", "N", HIGHER, answers, lowest),
        question(LIMITS, "peak thrust held over the maker's rating", "", HIGHER, answers, share),
        *keyed_rows(LIMITS, "N", HIGHER, columns, lambda at, part: "no such part here"),
    ]


def life_rows(answers: Answers) -> list[Row]:
    """Life of every part and mode, in hours and in flights."""

    def cell(life: MemberLife, per_hour: float) -> Cell:
        if life.hours is None:
            return Cell(None, "; ".join(life.breaches) or "not checked")
        return Cell(life.hours * per_hour, "" if math.isfinite(life.hours) else "no damage")

    def columns(flights: bool) -> list[dict[str, Cell]]:
        return [
            {
                f"{life.part}, {life.mode}": cell(
                    life, float(life_in_flights(1.0, one.build.flying.flight_time)) if flights else 1.0
                )
                for life in one.joint.lives
            }
            for one in answers
        ]

    def absent(at: int, part: str) -> str:
        return "no such part here"

    return [
        *keyed_rows(LIVES, "h", HIGHER, columns(False), absent),
        *keyed_rows(FLIGHTS, "flights", HIGHER, columns(True), absent),
    ]
