"""Time of the fatigue of the parts of a retention: `make bench`. Nothing here asserts a time."""

import numpy as np

from bladehold.joint.damage import damage_per_hour, life_hours
from bladehold.joint.fatigue_parts import (
    ScrewThread,
    laminate_bearing_life,
    metal_hole_life,
    shank_life,
    thread_life,
)
from bladehold.joint.stress_life import KSI, HandbookCurve, steel_line

CASES = 200
PULL = np.linspace(500.0, 6000.0, CASES)
REST = 0.8 * PULL
MOMENT = 1e-3 * PULL
LOW = 0.2 * MOMENT
RATE = np.full(CASES, 1000.0)
CURVE = HandbookCurve(18.22, -7.77, 0.62, 10.15 * KSI)
SCREW = ScrewThread(5e-3, 14.2e-6, 940e6)


def four_parts():
    lives = (
        thread_life(0.1 * PULL, 0.1 * REST, SCREW, "vdi-rolled-before", 1e7, 0.3 * MOMENT, 0.3 * LOW),
        shank_life(MOMENT, LOW, 5e-3, steel_line(1040e6, 5e-3), 1e7, 1.5),
        metal_hole_life(PULL, REST, 20e-3, 6e-3, 4e-3, CURVE, 1e7, MOMENT, LOW),
        laminate_bearing_life(PULL, REST, 6e-3, 6e-3, 400e6, 1e7),
    )
    return [life_hours(damage_per_hour(RATE, life.cycles), 8.0) for life in lives]


def test_four_parts_in_200_cases(benchmark):
    """Target: below 3 ms."""
    assert len(benchmark(four_parts)) == 4
