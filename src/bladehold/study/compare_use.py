"""How sheets stand beside each other in use: setting, lost members, mass, flying, motor and battery."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np

from bladehold.study.compare_answers import ANSWERS, Answered, Answers, no_tightness, question, yes
from bladehold.study.comparison import HIGHER, LOWER, NEITHER, Cell, Row, keyed_rows
from bladehold.study.drive import DriveAnswer
from bladehold.study.failsafe import LEAVES, PIVOT, STAYS, SWINGS, Loss
from bladehold.study.joint import JointAnswer

SETTING, LOST, MASSES = "tightness of the pivot", "one member lost", "mass of the retention"
FLYING, DRIVE = "thrust, speed, power", "motor and battery"
_OUTCOMES = (LEAVES, SWINGS, STAYS)


def setting_rows(answers: Answers) -> list[Row]:
    """The window in which the pivot may be set as built, and whether the sheet's setting lies in it."""

    def window(value: Callable[[JointAnswer], float], unit: str = "") -> Callable[[Answered], Cell]:
        def cell(one: Answered) -> Cell:
            if one.joint.tightness is None:
                return Cell(None, no_tightness(one.build))
            return Cell(value(one.joint))

        return cell

    def way(name: str) -> Callable[[JointAnswer], float]:
        def read(joint: JointAnswer) -> float:
            assert joint.tightness is not None
            return float(getattr(joint.tightness.as_built, name))

        return read

    def torque(one: Answered) -> Cell:
        given = one.build.pivot.tightening.torque
        return Cell(given) if given > 0.0 else Cell(None, "the sheet gives no pivot_screw.torque")

    def right(one: Answered) -> Cell:
        if one.joint.tightness is None:
            return Cell(None, no_tightness(one.build))
        return yes(one.joint.set_right, "neither torque nor measured friction, or no tightness is possible")

    return [
        question(SETTING, "torque of the sheet", "N*m", NEITHER, answers, torque),
        question(SETTING, "least torque", "N*m", NEITHER, answers, window(way("torque_least"))),
        question(SETTING, "greatest torque", "N*m", NEITHER, answers, window(way("torque_greatest"))),
        question(
            SETTING,
            "greatest over least torque, 1 and more serves",
            "",
            HIGHER,
            answers,
            window(way("torque_width")),
        ),
        question(
            SETTING,
            "greatest over least pull at the tip, 1 and more serves",
            "",
            HIGHER,
            answers,
            window(way("pull_width")),
        ),
        question(SETTING, "the setting of the sheet serves", "", HIGHER, answers, right, ANSWERS),
    ]


def _lost(loss: Loss) -> str:
    """A name of a loss that is the same whatever the count of screws."""
    return f"{loss.member} {loss.how}" if loss.member == PIVOT else f"one {loss.member} lost"


def loss_rows(answers: Answers) -> list[Row]:
    """What the loss of each member does: in hover, in all flight, what is left."""

    def rows(what: str, unit: str, cell: Callable[[Loss], Cell], order: tuple[str, ...] = ()) -> list[Row]:
        columns = [{f"{_lost(loss)}: {what}": cell(loss) for loss in one.joint.losses} for one in answers]
        found = keyed_rows(LOST, unit, HIGHER, columns, lambda at, name: "no such member here")
        return [replace(row, order=order) for row in found]

    def weakest(loss: Loss) -> Cell:
        weak = loss.weakest
        if weak is None:
            return Cell(None, "nothing is left to hold")
        return Cell(weak.margin, f"{weak.part}: {weak.mode}, {weak.condition}")

    def hours(loss: Loss) -> Cell:
        if loss.hours is None:
            return Cell(None, "no life is asked of what is left after this loss")
        return Cell(loss.hours, loss.hours_part)

    found = [
        *rows("the blade in hover", "", lambda loss: Cell(loss.in_hover), _OUTCOMES),
        *rows("the blade in all flight", "", lambda loss: Cell(loss.in_all_flight, loss.why), _OUTCOMES),
        *rows("smallest margin left", "", weakest),
        *rows("life of what is left", "h", hours),
    ]
    members = list(dict.fromkeys(row.name.split(": ")[0] for row in found))
    return sorted(found, key=lambda row: members.index(row.name.split(": ")[0]))


def mass_rows(answers: Answers) -> list[Row]:
    """Mass of what holds the blades: of one rotor by part, of one rotor, of the aircraft."""
    columns = [{part: Cell(mass) for part, mass in one.mass.items()} for one in answers]
    return [
        *keyed_rows(MASSES, "kg", LOWER, columns, lambda at, part: "no such part here"),
        question(MASSES, "one rotor", "kg", LOWER, answers, lambda one: Cell(sum(one.mass.values()))),
        question(
            MASSES,
            "all rotors",
            "kg",
            LOWER,
            answers,
            lambda one: Cell(one.build.aircraft.rotors * sum(one.mass.values())),
        ),
    ]


def flying_rows(answers: Answers) -> list[Row]:
    """Thrust, speed and shaft power of a rotor: steady and at their greatest in flight."""

    def hover(one: Answered) -> int:
        names = one.joint.assessment.loads.names
        return next(at for at, name in enumerate(names) if name.startswith("hover"))

    def peak(name: str) -> Callable[[Answered], Cell]:
        def cell(one: Answered) -> Cell:
            loads = one.joint.assessment.loads
            values = loads.torque * loads.speed if name == "power" else getattr(loads, name)
            flown = np.where(loads.flight > 0.0, values, -np.inf)
            place = int(np.argmax(flown))
            return Cell(float(flown[place]), loads.names[place])

        return cell

    def steady(name: str) -> Callable[[Answered], Cell]:
        def cell(one: Answered) -> Cell:
            loads, at = one.joint.assessment.loads, hover(one)
            values = loads.torque * loads.speed if name == "power" else getattr(loads, name)
            return Cell(float(values[at]), loads.names[at])

        return cell

    def used(one: Answered) -> Cell:
        return Cell(one.build.flying.used_thrust)

    return [
        question(FLYING, "steady thrust of a rotor", "N", NEITHER, answers, used),
        question(FLYING, "peak thrust of a rotor", "N", NEITHER, answers, peak("thrust")),
        question(FLYING, "speed in hover", "rad/s", NEITHER, answers, steady("speed")),
        question(FLYING, "greatest speed", "rad/s", NEITHER, answers, peak("speed")),
        question(FLYING, "shaft power of a rotor in hover", "W", LOWER, answers, steady("power")),
        question(FLYING, "greatest shaft power of a rotor", "W", LOWER, answers, peak("power")),
    ]


def drive_rows(answers: Answers) -> list[Row]:
    """Power, endurance and thrust that motor and battery give."""

    def of(value: Callable[[DriveAnswer], Cell]) -> Callable[[Answered], Cell]:
        return lambda one: Cell(None, one.no_drive) if one.drive is None else value(one.drive)

    def power(drive: DriveAnswer) -> Cell:
        return Cell(float(drive.flown.power[drive.hover]), drive.flown.names[drive.hover])

    def throttle(drive: DriveAnswer) -> Cell:
        left = drive.throttle_left
        return Cell(left, "" if math.isfinite(left) else "the battery collapses")

    return [
        question(DRIVE, "power out of the battery in hover", "W", LOWER, answers, of(power)),
        question(
            DRIVE,
            "endurance in hover",
            "s",
            HIGHER,
            answers,
            of(lambda drive: Cell(float(drive.hover_endurance))),
        ),
        question(
            DRIVE,
            "endurance in the flying of the sheet",
            "s",
            HIGHER,
            answers,
            of(lambda drive: Cell(float(drive.mission.longest.ends))),
        ),
        question(DRIVE, "throttle left at the reserve", "", HIGHER, answers, of(throttle)),
        question(
            DRIVE,
            "greatest thrust of a rotor, battery full",
            "N",
            HIGHER,
            answers,
            of(lambda drive: Cell(drive.greatest[0].thrust, drive.greatest[0].stop)),
        ),
        question(
            DRIVE,
            "thrust over weight, battery full",
            "",
            HIGHER,
            answers,
            of(lambda drive: Cell(drive.greatest[0].over_weight)),
        ),
    ]
