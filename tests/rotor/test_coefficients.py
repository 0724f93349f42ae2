"""Coefficients in both conventions."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.rotor import (
    figure_of_merit,
    ideal_induced_velocity,
    propeller_power_coefficient,
    propeller_thrust_coefficient,
    rotor_thrust_coefficient,
    rotor_torque_coefficient,
)

POSITIVE = st.floats(0.01, 1000.0)


@given(POSITIVE, POSITIVE, POSITIVE, POSITIVE)
def test_the_two_conventions_differ_by_powers_of_pi(force, density, speed, radius):
    thrust = propeller_thrust_coefficient(force, density, speed, 2 * radius)
    power = propeller_power_coefficient(force * speed, density, speed, 2 * radius)
    assert thrust == pytest.approx(rotor_thrust_coefficient(force, density, speed, radius) * np.pi**3 / 4)
    assert power == pytest.approx(rotor_torque_coefficient(force, density, speed, radius) * np.pi**4 / 4)


@given(POSITIVE, st.floats(0.0, 50.0), POSITIVE, POSITIVE)
def test_ideal_induction_meets_momentum(thrust, climb, density, radius):
    induced = ideal_induced_velocity(thrust, climb, density, radius)
    momentum = 2.0 * density * np.pi * radius**2 * (climb + induced) * induced
    assert momentum == pytest.approx(thrust, rel=1e-6)


def test_the_ideal_disc_has_figure_of_merit_one():
    thrust = np.array([1.0, 40.0])
    power = thrust * ideal_induced_velocity(thrust, 0.0, 1.2, 0.3)
    assert figure_of_merit(thrust, power, 1.2, 0.3) == pytest.approx(1.0)
