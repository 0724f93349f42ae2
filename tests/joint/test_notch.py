"""Stress concentration at holes and shoulders."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.joint import notch

RATIOS = np.linspace(1.5, 4.5, 31)


def test_open_hole_between_its_limits():
    assert notch.open_hole_factor(1.0, 1e-6) == pytest.approx(3.0, abs=1e-5)
    assert notch.open_hole_factor(1.0, 1.0 - 1e-6) == pytest.approx(2.0, abs=1e-5)
    x = 1.0 / RATIOS  # Heywood's 2 + (1 - x)^3 is a second curve of the same plate
    assert notch.open_hole_factor(RATIOS, 1.0) == pytest.approx(2.0 + (1.0 - x) ** 3, rel=0.03)


def test_pin_pulls_harder_than_a_plate():
    for factor in notch.PIN_LOADED.values():
        assert np.all(factor(RATIOS[5:], 1.0) > notch.open_hole_factor(RATIOS[5:], 1.0))


def test_two_readings_of_the_pin_loaded_hole():
    """Ekvall and Peterson lie within 15 % up to w/D of 4; beyond, Peterson has up to 22 % more."""
    apart = notch.PIN_LOADED["peterson"](RATIOS, 1.0) / notch.PIN_LOADED["ekvall"](RATIOS, 1.0) - 1.0
    assert np.all(np.abs(apart[RATIOS < 4.01]) < 0.15)
    assert np.all(np.abs(apart) < 0.22)


def test_petersons_two_factors_tell_of_one_peak():
    """The same peak over the net section and over the bearing area: Kt,net x/(1 - x) = Kt,bearing."""
    x = np.linspace(0.2, 0.7, 11)
    bearing = 0.2880 + 8.820 * x - 23.196 * x**2 + 29.167 * x**3
    assert notch.pin_loaded_factor_peterson(1.0, x) * x / (1.0 - x) == pytest.approx(bearing, rel=0.04)


def test_shoulder_reads_the_published_steps():
    assert notch.shoulder_factor(30e-3, 20e-3, 2e-3) == pytest.approx(0.93836 * 0.1**-0.25759)
    assert notch.shoulder_factor(60e-3, 10e-3, 1e-3) == notch.shoulder_factor(80e-3, 10e-3, 1e-3)
    assert notch.shoulder_factor(10e-3, 10e-3, 1e-3) == 1.0
    assert notch.shoulder_factor(12.5e-3, 10e-3, 0.5e-3) > notch.shoulder_factor(12.5e-3, 10e-3, 1e-3)
    assert notch.FILLET.breach(0.005) is not None


@given(st.floats(1, 7), st.floats(0, 1), st.floats(0.01, 0.3))
def test_a_larger_step_is_never_milder(step, more, ratio):
    assert notch.shoulder_factor(step + more, 1.0, ratio) >= notch.shoulder_factor(step, 1.0, ratio) - 1e-12


def test_sensitivity_grows_with_radius_and_strength():
    q = notch.notch_sensitivity(np.array([0.2e-3, 0.5e-3, 2e-3]), 1040e6)
    assert np.all(np.diff(q) > 0)
    assert notch.notch_sensitivity(0.5e-3, 1220e6) > notch.notch_sensitivity(0.5e-3, 500e6)
    assert notch.notch_sensitivity(0.5e-3, 9e9) <= 1.0
    assert notch.fatigue_factor(2.0, np.array([0.0, 0.5, 1.0])) == pytest.approx([1.0, 1.5, 2.0])


def test_refusals():
    with pytest.raises(ValueError, match="width must be greater than hole diameter"):
        notch.open_hole_factor(5e-3, 6e-3)
    with pytest.raises(ValueError, match="larger less smaller diameter"):
        notch.shoulder_factor(4e-3, 5e-3, 1e-3)
    with pytest.raises(ValueError, match="1 - notch sensitivity"):
        notch.fatigue_factor(2.0, 1.5)
