"""What a shaken arm does to the aircraft, held against finite elements of arm and body made here alone."""

import numpy as np
import pytest
from sheets import repaired

from bladehold.study.arm import arm_answer
from bladehold.study.loads import loads_of

COUNT = 30


def beam_matrices(beam):
    """Mass and stiffness [2 n + 2] of an even beam of cubic elements, with tip mass and inertia."""
    h, size = float(beam.length) / COUNT, 2 * COUNT + 2
    mass, stiff = np.zeros((size, size)), np.zeros((size, size))
    m = (
        float(beam.line_mass)
        * h
        / 420.0
        * np.array(
            [
                [156, 22 * h, 54, -13 * h],
                [22 * h, 4 * h**2, 13 * h, -3 * h**2],
                [54, 13 * h, 156, -22 * h],
                [-13 * h, -3 * h**2, -22 * h, 4 * h**2],
            ]
        )
    )
    k = (
        float(beam.stiffness)
        / h**3
        * np.array(
            [
                [12, 6 * h, -12, 6 * h],
                [6 * h, 4 * h**2, -6 * h, 2 * h**2],
                [-12, -6 * h, 12, -6 * h],
                [6 * h, 2 * h**2, -6 * h, 4 * h**2],
            ]
        )
    )
    for at in range(COUNT):
        part = slice(2 * at, 2 * at + 4)
        mass[part, part] += m
        stiff[part, part] += k
    mass[-2, -2] += float(beam.tip_mass)
    mass[-1, -1] += float(beam.tip_inertia)
    return mass, stiff


def body_acceleration(beam, whole, speed, force, couple):
    """Of a free body that moves along one axis and carries the arm: the clamp goes with it and does not turn.

    whole - mass of all, kg; force, couple - at the tip, N and N*m.
    """
    mass, stiff = beam_matrices(beam)
    arm = float(beam.line_mass) * float(beam.length) + float(beam.tip_mass)
    mass[0, 0] += whole - arm
    kept = np.array([0, *range(2, len(mass))])
    mass, stiff = mass[np.ix_(kept, kept)], stiff[np.ix_(kept, kept)]
    load = np.zeros(len(kept), dtype=complex)
    load[-2:] = force, couple
    found = np.linalg.solve((1.0 + 2.0j * float(beam.damping)) * stiff - speed**2 * mass, load)
    return abs(speed**2 * found[0])


@pytest.fixture(scope="module")
def found():
    build = repaired()
    return arm_answer(build, 0.034 * 0.132, loads_of(build))


@pytest.mark.parametrize(("axis", "name"), [(0, "horizontal"), (2, "vertical")])
def test_the_body_moves_as_finite_elements_say(found, axis, name):
    """3 %, most on the flank of a resonance: one mode is coupled, the others as if the body stood still."""
    beam = getattr(found.model, name)
    whole, height = found.build.aircraft.mass, found.model.data.rotor_height
    for at in range(0, found.speed.size, 4):
        speed, force = float(found.speed[at]), float(found.force[at])
        couple = force * height if name == "vertical" else 0.0
        wanted = body_acceleration(beam, whole, speed, 0.0 if couple else force, couple)
        ours = found.body_acceleration[axis, at]
        assert ours == pytest.approx(wanted, rel=0.03), speed
