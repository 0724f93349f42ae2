"""What one sheet answers, and a question put to several."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from bladehold.sheet import Build
from bladehold.study.comparison import Cell, Row
from bladehold.study.drive import DriveAnswer, NoDriveError, drive_answer
from bladehold.study.joint import JointAnswer, joint_answer
from bladehold.study.limit import Limit, limit
from bladehold.study.mass import retention_mass

YES, NO = "yes", "no"
ANSWERS = (NO, YES)


@dataclass(frozen=True, eq=False)
class Answered:
    """What one sheet answers: joint; drive - None without motor or battery, no_drive - then says why; limit;
    mass - kg, of one rotor, by part.
    """

    joint: JointAnswer
    drive: DriveAnswer | None
    no_drive: str
    limit: Limit
    mass: dict[str, float]

    @property
    def build(self) -> Build:
        """The build it is about."""
        return self.joint.build

    @property
    def holds(self) -> bool:
        """Whether the joint holds, and motor and battery serve where the sheet has them."""
        return self.joint.holds and (self.drive is None or self.drive.serves)


def answered(build: Build) -> Answered:
    """Return what one build answers.

    Errors: ValueError from the rotor when a thrust cannot be reached; BalanceError from the blade.
    """
    joint = joint_answer(build)
    drive, why = None, ""
    try:
        drive = drive_answer(build)
    except NoDriveError as error:
        why = str(error)
    held = limit(build, joint.assessment.loads) if drive is None else drive.held
    return Answered(joint, drive, why, held, retention_mass(build))


Answers = tuple[Answered, ...]


def question(
    group: str,
    name: str,
    unit: str,
    better: str,
    answers: Answers,
    cell: Callable[[Answered], Cell],
    order: tuple[str, ...] = (),
) -> Row:
    """One question put to each sheet."""
    return Row(group, name, unit, better, tuple(cell(answer) for answer in answers), order)


def yes(value: bool | None, why: str) -> Cell:
    """A yes or no, absent with the reason where it is neither."""
    return Cell(None, why) if value is None else Cell(YES if value else NO)


def no_tightness(build: Build) -> str:
    """Why no tightness is asked of a pivot, or none is possible."""
    if not build.propeller.folding:
        return "its blades do not fold"
    return "nothing clamps its pivot"
