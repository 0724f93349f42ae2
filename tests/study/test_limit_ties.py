"""Parts that hold no thrust at all: the one that `check` names comes first."""

from dataclasses import replace

from sheets import repaired

from bladehold.study.assess import assess
from bladehold.study.limit import limit


def test_of_parts_that_hold_nothing_the_weakest_is_named():
    build = repaired()
    screw = build.ties.screw
    tight = replace(screw, tightening=replace(screw.tightening, torque=3.5))
    torn = replace(build, ties=replace(build.ties, screw=tight))
    found = limit(torn)
    nothing = [part.part for part in found.parts if part.thrust == 0.0]
    assert len(nothing) >= 2
    assert nothing[0] == assess(torn).governing.part
