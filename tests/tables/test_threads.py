"""Thread profile: order, broadcasting, refusals, and the coarse series."""

from itertools import pairwise
from math import atan, degrees, pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.tables import basic_profile, thread, thread_names

diameters = st.floats(1e-3, 60e-3)
relative_pitches = st.floats(0.02, 0.4)


@given(diameters, relative_pitches)
def test_diameters_and_areas_are_in_order(nominal, relative):
    profile = basic_profile(nominal, relative * nominal)
    assert profile.root_diameter < profile.minor_diameter < profile.pitch_diameter < nominal
    assert profile.root_area < profile.stress_area < pi / 4 * profile.pitch_diameter**2


@given(diameters, relative_pitches, st.floats(0.1, 10))
def test_geometry_scales(nominal, relative, scale):
    small, large = (
        basic_profile(nominal, relative * nominal),
        basic_profile(scale * nominal, scale * relative * nominal),
    )
    assert large.pitch_diameter == pytest.approx(scale * small.pitch_diameter, rel=1e-12)
    assert large.stress_area == pytest.approx(scale**2 * small.stress_area, rel=1e-12)
    assert large.lead_tangent == pytest.approx(small.lead_tangent, rel=1e-12)


def test_arrays_broadcast_and_agree_with_floats():
    nominal = np.array([[3e-3], [5e-3]])
    pitch = np.array([0.35e-3, 0.5e-3, 0.8e-3])
    profile = basic_profile(nominal, pitch)
    assert profile.stress_area.shape == profile.lead_tangent.shape == (2, 3)
    for row, column in np.ndindex(2, 3):
        single = basic_profile(float(nominal[row, 0]), float(pitch[column]))
        assert profile.stress_area[row, column] == pytest.approx(single.stress_area, rel=1e-14)
        assert profile.root_area[row, column] == pytest.approx(single.root_area, rel=1e-14)
        assert profile.minor_diameter[row, column] == pytest.approx(single.minor_diameter, rel=1e-14)


@pytest.mark.parametrize(
    ("nominal", "pitch"),
    [(4e-3, 0.0), (4e-3, -1e-3), (1e-3, 1e-3), (np.array([4e-3, 1e-3]), np.array([0.7e-3, 1e-3]))],
)
def test_impossible_threads_are_refused(nominal, pitch):
    with pytest.raises(ValueError, match="positive pitch"):
        basic_profile(nominal, pitch)


def test_lead_angle_at_the_pitch_diameter():
    angles = [degrees(atan(thread(name).profile.lead_tangent)) for name in thread_names()]
    assert np.round(angles, 3).tolist() == [4.185, 3.712, 3.405, 3.596, 3.253, 3.405, 3.168, 3.028]


def test_the_metric_stress_area_is_not_the_inch_one():
    inch_form = pi / 4 * (10e-3 - 0.9743 * 1.5e-3) ** 2
    assert thread("M10").profile.stress_area > 1.012 * inch_form


def test_the_series_is_complete_and_grows():
    assert thread_names() == ("M2", "M2.5", "M3", "M4", "M5", "M6", "M8", "M10")
    threads = [thread(name) for name in thread_names()]
    assert all(f"M{row.nominal_diameter * 1e3:g}" == row.name for row in threads)
    for smaller, larger in pairwise(threads):
        assert smaller.nominal_diameter < larger.nominal_diameter
        assert smaller.pitch < larger.pitch
        assert smaller.profile.root_area < larger.profile.root_area
    assert all(row.profile == basic_profile(row.nominal_diameter, row.pitch) for row in threads)
