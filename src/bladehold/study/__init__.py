"""The answers: assess, size, limit, advise, range, blade, joint."""

from bladehold.study.advise import Advice, Advices, advise
from bladehold.study.assess import Assessment, assess
from bladehold.study.blade import BladeAnswer, blade_answer
from bladehold.study.joint import JointAnswer, joint_answer
from bladehold.study.limit import Limit, limit
from bladehold.study.loads import Loads, loads_of
from bladehold.study.range_chart import RangeRow, range_rows
from bladehold.study.record import Check
from bladehold.study.size import Sizing, size

__all__ = [
    "Advice",
    "Advices",
    "Assessment",
    "BladeAnswer",
    "Check",
    "JointAnswer",
    "Limit",
    "Loads",
    "RangeRow",
    "Sizing",
    "advise",
    "assess",
    "blade_answer",
    "joint_answer",
    "limit",
    "loads_of",
    "range_rows",
    "size",
]
