"""A blade that leaves its rotor: speed, energies, pull and range in a vacuum, worked by hand.

A slender blade of 0.120 kg and 0.55 m whose centre of mass turns at 0.30 m with 3000 rpm; a throw of 100 m/s
from the ground. Standard gravity 9.80665 m/s^2.
"""

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from bladehold.air import GRAVITY
from bladehold.loss import (
    greatest_vacuum_range,
    lost_pull,
    release_speed,
    rod_inertia,
    rotation_energy,
    thrown,
    translation_energy,
)

SOURCE = "Rigid-body mechanics, worked by hand"
CASE = "0.120 kg at 0.30 m, slender, 0.55 m, 3000 rpm"
MASS, CENTRE, LENGTH, TURNING = 0.120, 0.30, 0.55, 100.0 * np.pi
OTHER = "Runge and Kutta's rule of order 8 (Dormand and Prince), SciPy, relative tolerance 1e-10"


def test_release(published):
    speed = release_speed(TURNING, CENTRE)
    figures = (
        ("speed, m/s", 94.248, speed, 3),
        ("energy of translation, J", 532.96, translation_energy(MASS, speed), 2),
        ("energy of rotation, J", 149.28, rotation_energy(rod_inertia(MASS, LENGTH), TURNING), 2),
        ("centrifugal force, N", 3553.06, lost_pull(MASS, CENTRE, TURNING), 2),
    )
    for quantity, printed, ours, places in figures:
        published(
            "loss", SOURCE, CASE, quantity, printed, ours, abs=0.5 * 10.0**-places, why=f"{places} decimals"
        )


def test_range_in_a_vacuum(published):
    published(
        "loss",
        SOURCE,
        "100 m/s from the ground, best angle, no air",
        "range, m",
        1019.72,
        greatest_vacuum_range(100.0, 0.0),
        abs=0.005,
        why="two decimals",
    )


@pytest.mark.parametrize(
    ("height", "angle", "rate"), [(1.5, 0.6, 2e-3), (1.5, 0.4, 0.12), (120.0, 0.0, 2e-3), (120.0, 0.5, 0.12)]
)
def test_throw_through_air(height, angle, rate, published):
    def rates(_, state):
        drag = rate * np.hypot(state[2], state[3])
        return [state[2], state[3], -drag * state[2], -GRAVITY - drag * state[3]]

    def ground(_, state):
        return state[1]

    ground.terminal, ground.direction = True, -1
    start = [0.0, height, 94.248 * np.cos(angle), 94.248 * np.sin(angle)]
    done = solve_ivp(rates, (0.0, 200.0), start, method="DOP853", rtol=1e-10, atol=1e-10, events=ground)
    landing = thrown(94.248, height, angle, rate)
    case = f"94.248 m/s, {height:g} m up, {angle:g} rad, k = {rate:g} 1/m"
    for quantity, there, ours in (
        ("distance, m", done.y_events[0][-1][0], landing.distance),
        ("striking speed, m/s", np.hypot(*done.y_events[0][-1][2:]), landing.speed),
    ):
        published(
            "loss", OTHER, case, quantity, float(there), ours, rel=2e-5, why="what the steps of ours are for"
        )
