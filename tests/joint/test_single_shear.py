"""The pin left in lug and one plate, and a bolt circle that has lost screws, against statics."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from bladehold.joint.pattern import circle_peak_force, loosened_circle_force
from bladehold.joint.single_shear import single_shear_moment, single_shear_peak

lengths = st.floats(1e-3, 30e-3)


@given(st.floats(1.0, 5000.0), lengths, st.floats(0.0, 3e-3))
def test_pressure_behind_the_moment_is_in_balance(force, thickness, gap):
    """The pressure adds up to P and turns about the middle of the gap with nothing else."""
    e = gap / (2 * thickness)

    def pressure(x):
        return force / thickness * (4 + 6 * e - 6 * (1 + 2 * e) * x / thickness)

    assert quad(pressure, 0, thickness)[0] == pytest.approx(force)
    turn = quad(lambda x: pressure(x) * (x + gap / 2), 0, thickness)[0]
    assert turn == pytest.approx(0.0, abs=1e-9 * force * thickness)
    assert pressure(0.0) * thickness / force == pytest.approx(float(single_shear_peak(thickness, gap)))
    x = np.linspace(0.0, thickness, 2001)
    shear = force - force / thickness * ((4 + 6 * e) * x - 3 * (1 + 2 * e) * x**2 / thickness)
    moment = force * gap / 2 + np.concatenate([[0.0], np.cumsum((shear[1:] + shear[:-1]) / 2 * np.diff(x))])
    assert float(single_shear_moment(force, thickness, gap)) == pytest.approx(moment.max(), rel=1e-5)


def test_single_shear_by_hand():
    assert float(single_shear_moment(900.0, 8e-3)) == pytest.approx(900.0 * 8e-3 * 4 / 27)


@given(st.floats(0.0, 500.0), st.floats(0.1, 50.0), lengths, st.integers(3, 12))
def test_whole_circle_is_the_known_form(thrust, moment, radius, screws):
    whole = float(loosened_circle_force(thrust, moment, radius, screws, 0))
    peak = float(circle_peak_force(moment, radius, screws))
    assert whole == pytest.approx(thrust / screws + peak)


@given(st.floats(1.0, 500.0), st.floats(0.0, 50.0), st.integers(4, 12), st.integers(1, 3))
def test_loosened_circle_against_least_squares(thrust, moment, screws, lost):
    """Springs of one stiffness under a rigid plate: displacement w + b x + c y, for every direction."""
    if screws - lost < 3:
        assert np.isinf(loosened_circle_force(thrust, moment, 1.0, screws, lost))
        return
    angle = 2 * np.pi * np.arange(lost, screws) / screws
    shape = np.stack([np.ones_like(angle), np.cos(angle), np.sin(angle)], axis=-1)
    stiffness = shape.T @ shape
    found = []
    for direction in np.linspace(0.0, 2 * np.pi, 721):
        load = np.array([thrust, moment * np.cos(direction), moment * np.sin(direction)])
        found.append((shape @ np.linalg.solve(stiffness, load)).max())
    assert float(loosened_circle_force(thrust, moment, 1.0, screws, lost)) == pytest.approx(
        max(found), rel=2e-5
    )
