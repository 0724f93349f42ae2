"""A winding's warmth against an independent integration."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from bladehold.power import COPPER, REFERENCE, steady_temperature, temperature_after

HEATS = (st.floats(0.0, 200.0), st.floats(0.0, 100.0), st.floats(0.1, 2.0))


@given(*HEATS)
def test_the_steady_temperature_balances_heat(copper, iron, path):
    end = float(steady_temperature(copper, iron, path, 300.0))
    if path * copper * COPPER >= 1.0:
        assert end == np.inf
    else:
        heat = copper * (1 + COPPER * (end - REFERENCE)) + iron
        assert end - 300.0 == pytest.approx(path * heat, rel=1e-9, abs=1e-9)


@pytest.mark.parametrize(("copper", "path"), [(50.0, 1.0), (0.0, 0.9), (400.0, 1.0)])
def test_the_course_is_that_of_the_equation(copper, path):
    def slope(_, t):
        return (copper * (1 + COPPER * (t - REFERENCE)) + 20.0 - (t - 300.0) / path) / 250.0

    found = solve_ivp(slope, (0.0, 240.0), [310.0], rtol=1e-11, atol=1e-9).y[0, -1]
    assert temperature_after(310.0, 240.0, copper, 20.0, path, 250.0, 300.0) == pytest.approx(found, rel=1e-8)


@given(*HEATS, st.floats(1.0, 500.0))
def test_two_steps_are_one(copper, iron, path, time):
    args = (copper, iron, path, 250.0, 300.0)
    half = temperature_after(305.0, time / 2, *args)
    assert temperature_after(half, time / 2, *args) == pytest.approx(
        temperature_after(305.0, time, *args), rel=1e-9
    )


def test_where_cooling_just_cannot_keep_up_it_warms_evenly():
    path = 1.0 / (100.0 * COPPER)
    warm = temperature_after(300.0, [10.0, 20.0], 100.0, 0.0, path, 250.0, 300.0) - 300.0
    assert warm[1] == pytest.approx(2 * warm[0], rel=1e-6)
