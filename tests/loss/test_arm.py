"""Arm with a mass at its tip: against finite elements made here, against limits, in all ratios."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.linalg import eigh

from bladehold.loss import (
    ArmBeam,
    bending_frequencies,
    bending_roots,
    matched_stiffness,
    rod_frequency,
    rod_response,
    tip_mode,
    tip_response,
    torsion_roots,
)

ratios = st.floats(0.0, 1e4)


def elements(stiffness, line, length, mass, inertia, count=24):
    """Stiffness and mass matrices of a clamped beam of cubic elements, tip last."""
    h = length / count
    k = np.array([[12, 6 * h, -12, 6 * h], [6 * h, 4 * h**2, -6 * h, 2 * h**2]])
    k = np.vstack([k, -k[0], [6 * h, 2 * h**2, -6 * h, 4 * h**2]]) * stiffness / h**3
    m = np.array(
        [
            [156, 22 * h, 54, -13 * h],
            [22 * h, 4 * h**2, 13 * h, -3 * h**2],
            [54, 13 * h, 156, -22 * h],
            [-13 * h, -3 * h**2, -22 * h, 4 * h**2],
        ]
    )
    m = m * line * h / 420
    whole_k, whole_m = np.zeros((2 * count + 2,) * 2), np.zeros((2 * count + 2,) * 2)
    for at in range(count):
        part = slice(2 * at, 2 * at + 4)
        whole_k[part, part] += k
        whole_m[part, part] += m
    whole_m[-2, -2] += mass
    whole_m[-1, -1] += inertia
    return whole_k[2:, 2:], whole_m[2:, 2:]


@pytest.mark.parametrize("mass", [0.0, 0.1, 1.0, 30.0])
@pytest.mark.parametrize("inertia", [0.0, 1e-3, 0.05, 2.0])
def test_roots_are_those_of_finite_elements(mass, inertia):
    square = eigh(*elements(1.0, 1.0, 1.0, mass, inertia, 40), eigvals_only=True)[:4]
    assert bending_roots(mass, inertia, 4) ** 4 == pytest.approx(square, rel=2e-5)


@given(ratios, ratios)
def test_roots_solve_the_equation_and_rise(mass, inertia):
    b = bending_roots(mass, inertia, 4)
    cosh, sinh, cos, sin = np.cosh(b), np.sinh(b), np.cos(b), np.sin(b)
    terms = np.stack(
        [
            1 + cosh * cos,
            mass * b * (sinh * cos - cosh * sin),
            -inertia * b**3 * (cosh * sin + sinh * cos),
            mass * inertia * b**4 * (1 - cosh * cos),
        ]
    )
    # Each term is a difference of numbers of the size of its factors.
    size = cosh * (1 + mass * b) * (1 + inertia * b**3)
    assert np.all(np.abs(terms.sum(axis=0)) < 1e-9 * size)
    assert np.all(np.diff(b) > 0) and b[0] > 0


@given(ratios, ratios, st.floats(1.01, 3.0))
def test_more_at_the_tip_is_never_faster(mass, inertia, factor):
    here = bending_roots(mass, inertia, 3)
    assert np.all(bending_roots(mass * factor, inertia, 3) <= here * (1 + 1e-9))
    assert np.all(bending_roots(mass, inertia * factor, 3) <= here * (1 + 1e-9))


def test_limits_are_the_known_beams():
    assert bending_roots(0.0, 0.0, 2) == pytest.approx([1.87510407, 4.69409113])
    assert bending_roots(1e12, 0.0, 3)[1:] == pytest.approx([3.92660231, 7.06858275], rel=1e-6)
    assert bending_roots(1e12, 1e12, 4)[2:] == pytest.approx([4.73004074, 7.85320462], rel=1e-6)
    assert bending_roots(0.0, 1e12, 3)[1:] == pytest.approx([2.36502037, 5.49780392], rel=1e-6)


def test_a_light_arm_is_a_spring():
    beam = ArmBeam(stiffness=100.0, line_mass=1e-7, length=0.5, tip_mass=0.6)
    assert bending_frequencies(beam, 1)[0] == pytest.approx(
        np.sqrt(300.0 / 0.5**3 / 0.6) / (2 * np.pi), rel=1e-6
    )
    assert rod_frequency(40.0, 1e-9, 0.5, 0.002) == pytest.approx(
        np.sqrt(80.0 / 0.002) / (2 * np.pi), rel=1e-6
    )


def test_roots_broadcast():
    both = bending_roots(np.array([0.0, 1.0, 5.0]), np.array([[0.0], [0.1]]), 2)
    assert both.shape == (2, 3, 2)
    assert both[1, 2] == pytest.approx(bending_roots(5.0, 0.1, 2))


def test_torsion_of_a_bare_rod_is_a_quarter_wave():
    assert torsion_roots(0.0, 3) == pytest.approx(np.pi * np.array([0.5, 1.5, 2.5]))


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: bending_roots(-1.0), "mass_ratio"),
        (lambda: bending_roots(1.0, np.inf), "inertia_ratio"),
        (lambda: bending_roots(1.0, modes=0), "modes"),
        (lambda: torsion_roots(np.nan), "inertia_ratio"),
        (lambda: torsion_roots(1.0, 0), "modes"),
        (lambda: matched_stiffness(ArmBeam(1.0, 1.0, 1.0, 1.0), 0.0), "tapped frequency"),
        (lambda: tip_response(ArmBeam(1.0, 1.0, 1.0, 1.0), 0.0, 1.0), "speed"),
        (lambda: rod_response(1.0, 1.0, 1.0, 1.0, 0.01, -1.0, 1.0), "speed"),
    ],
)
def test_impossible_numbers_are_refused(call, words):
    with pytest.raises(ValueError, match=words):
        call()


def test_a_tapped_frequency_comes_back():
    beam = ArmBeam(120.0, 0.3, 0.6, 0.55, 2e-3)
    stiff = matched_stiffness(beam, 17.0)
    assert bending_frequencies(ArmBeam(stiff, 0.3, 0.6, 0.55, 2e-3), 1)[0] == pytest.approx(17.0)


def test_the_shaken_arm_is_that_of_finite_elements():
    values = (110.0, 0.31, 0.6, 0.55, 3e-3)
    k, m = elements(*values)
    beam = ArmBeam(*values, damping=0.02)
    first = 2 * np.pi * bending_frequencies(beam, 2)
    for speed in (0.2 * first[0], first[0], 1.4 * first[0], first[1], 300.0):
        whole = k * (1 + 0.04j) - speed**2 * m
        for force, moment in ((3.0, 0.0), (0.0, 0.7), (1.0, -0.4j)):
            load = np.zeros(k.shape[0], dtype=complex)
            load[-2:] = force, moment
            motion = np.linalg.solve(whole, load)
            found = tip_response(beam, speed, force, moment)
            assert found.displacement == pytest.approx(motion[-2], rel=1e-5)
            assert found.slope == pytest.approx(motion[-1], rel=1e-5)
            # At the clamp: what the first element hands on, 4 of its length with the inertia it carries.
            h = values[2] / 24
            bent = values[0] * (1 + 0.04j) / h**3
            inertia = values[1] * h / 420 * speed**2
            held = [-12 * bent, 6 * h * bent], [-6 * h * bent, 2 * h**2 * bent]
            own = [54 * inertia, -13 * h * inertia], [13 * h * inertia, -3 * h**2 * inertia]
            there = (np.array(held) - own) @ motion[:2]
            assert found.shear == pytest.approx(-there[0], rel=1e-4)
            assert found.moment == pytest.approx(-there[1], rel=1e-4)


def test_at_rest_the_clamp_has_what_the_tip_is_given():
    beam = ArmBeam(110.0, 0.31, 0.6, 0.55, 3e-3, 0.02)
    slow = 2 * np.pi * 0.01 * bending_frequencies(beam, 1)[0]
    pushed, turned = tip_response(beam, slow, force=2.0), tip_response(beam, slow, moment=2.0)
    assert abs(pushed.moment) == pytest.approx(1.2, rel=1e-3)
    assert abs(pushed.shear) == pytest.approx(2.0, rel=1e-3)
    assert abs(turned.moment) == pytest.approx(2.0, rel=1e-3)
    assert abs(pushed.displacement) == pytest.approx(2.0 * 0.6**3 / 330.0, rel=2e-3)


def test_near_its_first_mode_the_arm_is_one_mass():
    beam = ArmBeam(110.0, 0.31, 0.6, 0.55, 3e-3, 0.01)
    mode = tip_mode(beam)
    assert mode.frequency == pytest.approx(bending_frequencies(beam, 1)[0])
    for ratio in (0.97, 1.0, 1.02):
        speed = 2 * np.pi * mode.frequency * ratio
        one = 1.0 / (mode.stiffness * (1.02j - 1j + 1 - ratio**2))
        found = tip_response(beam, speed, force=1.0).displacement
        assert abs(found) == pytest.approx(abs(one), rel=2e-3)
        moved = tip_response(beam, speed, moment=1.0).displacement
        assert abs(moved) == pytest.approx(abs(one * mode.slope), rel=5e-3)


def test_a_bare_beam_has_a_quarter_of_its_mass_in_the_first_mode():
    mode = tip_mode(ArmBeam(1.0, 1.0, 1.0, 0.0))
    assert mode.mass == pytest.approx(0.25, rel=1e-9)
    assert mode.slope == pytest.approx(1.3765, rel=1e-4)


def test_the_rod_against_a_chain_of_discs():
    stiffness, line, length, tip, count = 30.0, 2e-4, 0.6, 3e-3, 400
    spring, disc = stiffness * count / length, line * length / count
    k = spring * (2 * np.eye(count) - np.eye(count, k=1) - np.eye(count, k=-1))
    k[-1, -1] = spring
    m = np.full(count, disc)
    m[-1] = disc / 2 + tip
    first = 2 * np.pi * rod_frequency(stiffness, line, length, tip)
    assert np.sqrt(eigh(k, np.diag(m), eigvals_only=True)[0]) == pytest.approx(first, rel=1e-5)
    for speed in (0.5 * first, first, 3.0 * first):
        load = np.zeros(count)
        load[-1] = 1.0
        motion = np.linalg.solve(k * (1 + 0.04j) - speed**2 * np.diag(m), load)
        end, clamp = rod_response(stiffness, line, length, tip, 0.02, speed, 1.0)
        assert end == pytest.approx(motion[-1], rel=1e-3)
        assert clamp == pytest.approx(spring * (1 + 0.04j) * motion[0], rel=1e-3)
