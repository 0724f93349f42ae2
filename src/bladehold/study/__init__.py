"""The answers: assess, size, limit, advise, range, blade, joint, aircraft, drive, life, arm, release."""

from bladehold.study.advise import Advice, Advices, advise
from bladehold.study.arm import ArmAnswer, NoArmError, arm_answer
from bladehold.study.assess import Assessment, assess
from bladehold.study.blade import BladeAnswer, blade_answer
from bladehold.study.drive import DriveAnswer, NoDriveError, drive_answer
from bladehold.study.envelope import AircraftAnswer, EnvelopeMap, aircraft_answer, envelope_map
from bladehold.study.flight_life import LifeAnswer, life_answer
from bladehold.study.joint import JointAnswer, joint_answer
from bladehold.study.limit import Limit, limit
from bladehold.study.loads import Loads, loads_of
from bladehold.study.range_chart import RangeRow, range_rows
from bladehold.study.record import Check
from bladehold.study.release import ReleaseAnswer, release_answer
from bladehold.study.size import Sizing, size

__all__ = [
    "Advice",
    "Advices",
    "AircraftAnswer",
    "ArmAnswer",
    "Assessment",
    "BladeAnswer",
    "Check",
    "DriveAnswer",
    "EnvelopeMap",
    "JointAnswer",
    "LifeAnswer",
    "Limit",
    "Loads",
    "NoArmError",
    "NoDriveError",
    "RangeRow",
    "ReleaseAnswer",
    "Sizing",
    "advise",
    "aircraft_answer",
    "arm_answer",
    "assess",
    "blade_answer",
    "drive_answer",
    "envelope_map",
    "joint_answer",
    "life_answer",
    "limit",
    "loads_of",
    "range_rows",
    "release_answer",
    "size",
]
