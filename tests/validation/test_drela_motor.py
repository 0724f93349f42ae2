"""Drela, First-Order DC Electric Motor Model (2007), formulas from memory: two motors worked by an
independent script.

The figures are those of the project's reference page, which marks them as recomputed there by a script of its
own.
"""

import numpy as np
import pytest

from bladehold.power import motor_from_sheet, motor_state, speed_at

SOURCE = "Drela, First-Order DC Electric Motor Model (from memory), worked by an independent script"
CASES = {
    "Kv 256 rpm/V, 0.111 ohm, 3 A, at 24 V and 20 A": (
        (256.0, 0.111, 3.0, 24.0, 20.0),
        (5575.7, 0.63413, 370.26, 0.7714),
    ),
    "Kv 100 rpm/V, 0.05 ohm, 0.8 A, at 48 V and 20 A": (
        (100.0, 0.05, 0.8, 48.0, 20.0),
        (4700.0, 1.83346, 902.40, 0.9400),
    ),
}
RPM = np.pi / 30.0


@pytest.mark.parametrize("case", CASES)
def test_motor(case, published):
    (constant, resistance, idle, voltage, current), printed = CASES[case]
    motor = motor_from_sheet(constant * RPM, resistance, idle)
    speed, torque = speed_at(motor, voltage, current)
    state = motor_state(motor, speed, torque)
    ours = (speed / RPM, torque, state.shaft, state.efficiency)
    names = ("speed, rpm", "torque, N m", "shaft power, W", "efficiency")
    for name, wanted, found, half in zip(names, printed, ours, (0.05, 5e-6, 5e-3, 5e-5), strict=True):
        published("power", SOURCE, case, name, wanted, float(found), abs=half, why="rounding of the figure")
