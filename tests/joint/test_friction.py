import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.joint import friction


@given(st.floats(1e-3, 50e-3), st.floats(1.001, 10))
def test_effective_radii(inner, ratio):
    outer = ratio * inner
    wear, pressure = (radius(inner, outer) for radius in friction.EFFECTIVE_RADII.values())
    assert inner < wear <= pressure * (1 + 1e-9)
    assert pressure < outer


def test_uniform_pressure_integrates_the_face():
    r = np.linspace(2.5e-3, 6e-3, 20001)
    mean = np.trapezoid(r**2, r) / np.trapezoid(r, r)
    assert friction.effective_radius_uniform_pressure(2.5e-3, 6e-3) == pytest.approx(mean, rel=1e-6)


def test_uniform_wear_integrates_pressure_that_falls_with_radius():
    r = np.linspace(2.5e-3, 6e-3, 20001)
    pressure = 5e6 * 2.5e-3 / r
    force = np.trapezoid(2 * np.pi * r * pressure, r)
    assert friction.uniform_wear_force(5e6, 2.5e-3, 6e-3) == pytest.approx(force, rel=1e-9)
    moment = np.trapezoid(2 * np.pi * r**2 * 0.1 * pressure, r)
    radius = friction.effective_radius_uniform_wear(2.5e-3, 6e-3)
    assert friction.friction_moment(0.1, force, radius, faces=1) == pytest.approx(moment, rel=1e-6)


def test_clamped_lug_has_two_faces():
    assert friction.friction_moment(0.1, 1000.0, 5e-3) == pytest.approx(1.0)


def test_face_without_width_is_refused():
    with pytest.raises(ValueError, match="outer radius must be greater than inner radius"):
        friction.effective_radius_uniform_wear(5e-3, 5e-3)
