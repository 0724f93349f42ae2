"""Unbalance of blades at unlike lag angles: vectors by hand, brute force, and the way back from a grade."""

import itertools

import numpy as np
import pytest
from _folders import MASS, TOP, E, X, blade
from hypothesis import given
from hypothesis import strategies as st

from bladehold.blade import (
    angle_tolerance,
    balance_grade,
    friction_tolerance,
    lag_band,
    lag_unbalance,
    permissible_unbalance,
    scatter_sum,
    unbalance_force,
)


def summed(angles, pivot_radius):
    """First moment about the rotor axis, pivots and blades, added as plane vectors."""
    total = np.zeros(2)
    for k, lag in enumerate(angles):
        arm, own = 2 * np.pi * k / len(angles), 2 * np.pi * k / len(angles) - lag
        total += MASS * pivot_radius * np.array([np.cos(arm), np.sin(arm)])
        total += MASS * X * np.array([np.cos(own), np.sin(own)])
    return np.hypot(*total)


angles_of_blades = st.integers(2, 6).flatmap(lambda n: st.lists(st.floats(-3.0, 3.0), min_size=n, max_size=n))


@given(angles_of_blades, st.floats(0.0, 0.1))
def test_unbalance_is_the_vector_sum_whatever_the_pivot_radius(angles, pivot_radius):
    assert float(lag_unbalance(MASS, X, angles)) == pytest.approx(summed(angles, pivot_radius), abs=1e-14)


@given(angles_of_blades, st.floats(-1.0, 1.0))
def test_common_angle_does_nothing(angles, common):
    turned = [angle + common for angle in angles]
    alone = float(lag_unbalance(MASS, X, angles))
    assert float(lag_unbalance(MASS, X, turned)) == pytest.approx(alone, abs=1e-14)
    assert float(lag_unbalance(MASS, X, [common] * len(angles))) == pytest.approx(0.0, abs=1e-16)


def test_one_blade_of_two_by_hand():
    unbalance = lag_unbalance(MASS, X, [np.radians(1.0), 0.0])
    assert float(unbalance) == pytest.approx(2 * MASS * X * np.sin(np.radians(0.5)), rel=1e-12)
    assert float(unbalance_force(unbalance, TOP)) == pytest.approx(float(unbalance) * TOP**2)


@pytest.mark.parametrize("blades", [2, 3, 4, 5, 6])
def test_scatter_sum_by_trying_all_signs(blades):
    place = np.exp(2j * np.pi * np.arange(blades) / blades)
    greatest = max(abs(np.dot(signs, place)) for signs in itertools.product((-1, 1), repeat=blades))
    assert scatter_sum(blades) == pytest.approx(greatest, rel=1e-12)


@pytest.mark.parametrize("blades", [2, 3, 4, 6])
def test_angles_within_the_tolerance_keep_the_grade(blades):
    tolerance = np.radians(2.0)
    allowed = MASS * X * scatter_sum(blades) * np.sin(tolerance)
    assert float(angle_tolerance(allowed, MASS, X, blades)) == pytest.approx(tolerance, rel=1e-12)
    choice = np.linspace(-tolerance, tolerance, 5)
    tried = np.array(list(itertools.product(choice, repeat=blades)))
    greatest = lag_unbalance(MASS, X, tried).max()
    assert allowed <= greatest * (1 + 1e-12)
    assert greatest <= allowed * (1.0 + 1e-9 if blades == 2 else 1.02)


@given(st.floats(1e-4, 0.5), st.floats(0.0, 1.5), st.floats(100.0, 600.0))
def test_friction_tolerance_makes_the_band_that_wide(tolerance, drag, speed):
    plain = blade(clamp_friction=0.0, friction_arm=0.0, drag_constant=drag / TOP**2)
    friction = friction_tolerance(plain, speed, tolerance)
    body = blade(clamp_friction=friction, friction_arm=0.0, drag_constant=drag / TOP**2)
    band = lag_band(body, speed)
    assert float(band.trailing) < np.pi / 2
    assert float(band.half_width) == pytest.approx(tolerance, rel=1e-7)


def test_grade_and_permissible_unbalance_are_inverse():
    allowed = permissible_unbalance(6.3e-3, 0.4, TOP)
    assert float(balance_grade(allowed, 0.4, TOP)) == pytest.approx(6.3e-3)
    # the usual form: 9549 G m / n, in mm/s, kg, rpm, g mm; 9549 is 30000/pi cut off
    assert 1e6 * float(allowed) == pytest.approx(9549 * 6.3 * 0.4 / (TOP * 30 / np.pi), rel=1e-4)


def test_fewer_than_two_blades_are_refused():
    with pytest.raises(ValueError, match="blades"):
        scatter_sum(1)


def test_pull_too_weak_for_the_drag_leaves_no_friction():
    weak = blade(drag_constant=2.0 * E * MASS * X)
    assert float(friction_tolerance(weak, TOP, 0.01)) == 0.0
