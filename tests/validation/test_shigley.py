"""Budynas and Nisbett, Shigley's Mechanical Engineering Design, solutions to chapter 8.

Its metric class 8.8 has Sp 600 and Sut 830 MPa at every size, where ISO 898-1 has 580 and 800 up to M16:
strengths here are the source's.
"""

import numpy as np
import pytest

from bladehold.joint import fatigue, pattern, preload, separation, stiffness

SOURCE = "Shigley, ch. 8 solutions"
INCH, POUND = 0.0254, 4.4482216152605


@pytest.fixture
def problem_8_22():
    """M12x1.75 class 8.8; 20 mm steel on 25 mm cast iron; Ad 113, At 84.3 mm2, ld 30, lt 15 mm."""
    kb = stiffness.stepped_bolt_stiffness(113e-6, 30e-3, 84.3e-6, 15e-3, 207e9)
    constants = stiffness.EXPONENTIAL_CONSTANTS
    steel = stiffness.member_stiffness_exponential(207e9, 12e-3, 40e-3, constants["steel"])
    iron = stiffness.member_stiffness_exponential(100e9, 12e-3, 40e-3, constants["cast iron"])
    return kb, steel, iron


def test_8_22_stiffness(published, problem_8_22):
    kb, steel, iron = problem_8_22
    km = stiffness.in_series([2 * steel, 2 * iron])
    for quantity, printed, ours, unit in (
        ("bolt stiffness, MN/m", 466.8, kb, 0.05),
        ("steel, l = 40 mm, MN/m", 2361.0, steel, 0.5),
        ("cast iron, l = 40 mm, MN/m", 1124.0, iron, 0.5),
        ("members in series, MN/m", 1523.0, km, 0.5),
    ):
        published(
            "joint",
            SOURCE,
            "8-22",
            quantity,
            printed,
            ours / 1e6,
            abs=unit,
            why="half the last printed digit",
        )
    share = stiffness.load_factor(kb, km)
    published(
        "joint", SOURCE, "8-22", "load factor C", 0.2346, share, abs=0.00005, why="four figures printed"
    )


def test_8_22_load_factor_to_proof(published, problem_8_22):
    kb, steel, iron = problem_8_22
    share = stiffness.load_factor(kb, stiffness.in_series([2 * steel, 2 * iron]))
    proof = 600e6 * 84.3e-6
    external = 6e6 * np.pi / 4 * 0.150**2 / 10
    published(
        "joint",
        SOURCE,
        "8-22",
        "load per bolt, kN",
        10.6,
        external / 1e3,
        abs=0.05,
        why="one decimal printed",
    )
    factor = separation.tension_to_bolt_load(proof, 0.75 * proof, share) / external
    published("joint", SOURCE, "8-22", "load factor n", 5.1, factor, abs=0.05, why="one decimal printed")


def test_8_28_moment_on_bolt_circle(published):
    moment, radius = 12000 * POUND * INCH, 4 * INCH
    line = pattern.circle_line_load_force(moment, radius, np.radians(75), np.radians(105))
    discrete = pattern.circle_forces(moment, radius, np.radians(30) * np.arange(12)).max()
    for quantity, printed, ours in (
        ("line load over 75 to 105 deg, lbf", 494.0, line),
        ("2M/(RN), lbf", 500.0, pattern.circle_peak_force(moment, radius, 12)),
        ("discrete bolts, greatest, lbf", 500.0, discrete),
    ):
        published(
            "joint", SOURCE, "8-28", quantity, printed, ours / POUND, abs=0.5, why="whole pounds printed"
        )


def test_8_29_torque(published):
    force = 0.9 * 245e-6 * 600e6
    torque = preload.torque_from_preload(force, 0.18, 20e-3)
    published("joint", SOURCE, "8-29", "torque, N m", 476.0, torque, abs=0.5, why="whole N m printed")


def test_8_37_fatigue(published):
    area, share, external, proof = 561e-6, 0.33, 80e3, 600e6
    force = 0.75 * area * proof
    amplitude = fatigue.stress_amplitude(external, 0.0, area, share)
    strength = fatigue.gerber_amplitude(129e6, 830e6, force / area)
    to_proof = separation.tension_to_bolt_load(proof * area, force, share) / external
    opening = separation.separation_load(force, share) / external
    for quantity, printed, ours, unit in (
        ("stress amplitude, MPa", 23.53, amplitude / 1e6, 0.005),
        ("Gerber strength amplitude, MPa", 77.0, strength / 1e6, 0.05),
        ("fatigue factor", 3.27, strength / amplitude, 0.005),
        ("load factor to proof", 3.19, to_proof, 0.005),
        ("separation factor", 4.71, opening, 0.005),
    ):
        published(
            "joint", SOURCE, "8-37", quantity, printed, ours, abs=unit, why="half the last printed digit"
        )
