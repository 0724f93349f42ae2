"""Gusts: shapes, the aeroplane's alleviation, and increments of loads."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from bladehold.blade import (
    GUST_ANGLE_RANGE,
    RootComponents,
    aeroplane_gust_alleviation,
    aeroplane_mass_ratio,
    gust_case,
    gust_increment,
    gusts,
    one_minus_cosine_gust,
    sharp_edged_gust,
)

FOOT = 0.3048


@pytest.mark.parametrize(
    ("name", "feet"), [("rotorcraft", 30), ("aeroplane-cruise", 50), ("aeroplane-dive", 25)]
)
def test_table_holds_the_feet_per_second_of_the_rules(name, feet):
    gust = gusts()[name]
    assert gust.velocity == pytest.approx(feet * FOOT, abs=1e-9)
    assert f"{feet} ft/s" in gust.source


def test_shape_starts_peaks_and_ends():
    distance = np.array([-1.0, 0.0, 25.0, 50.0, 75.0, 100.0, 101.0])
    shape = one_minus_cosine_gust(8.0, 50.0, distance)
    assert shape == pytest.approx([0.0, 0.0, 4.0, 8.0, 4.0, 0.0, 0.0], abs=1e-12)
    assert quad(lambda s: float(one_minus_cosine_gust(8.0, 50.0, s)), 0.0, 100.0)[0] == pytest.approx(400.0)
    assert sharp_edged_gust(8.0, distance).tolist() == [0.0, 0.0, 8.0, 8.0, 8.0, 8.0, 8.0]


@given(st.floats(0.01, 1e4), st.floats(1.01, 10.0))
def test_alleviation_grows_with_the_mass_ratio_towards_its_end(ratio, factor):
    light, heavy = aeroplane_gust_alleviation(ratio), aeroplane_gust_alleviation(factor * ratio)
    assert 0.0 < light < heavy < 0.88


def test_mass_ratio_in_the_units_of_the_rule():
    # W/S 30 lb/ft^2, 0.002378 slug/ft^3, chord 5 ft, slope 5.5 per rad, 32.174 ft/s^2
    in_feet = 2 * 30 / (0.002378 * 5 * 5.5 * 32.174)
    loading = 30 * 4.4482216152605 / FOOT**2
    density = 0.002378 * 14.593902937 / FOOT**3
    ratio = float(aeroplane_mass_ratio(loading, density, 5 * FOOT, 5.5))
    assert ratio == pytest.approx(in_feet, rel=1e-5)


def test_weightless_aeroplane_is_refused():
    with pytest.raises(ValueError, match="mass_ratio"):
        aeroplane_gust_alleviation(0.0)


@given(st.floats(-5.0, 10.0), st.floats(-9.0, 9.0))
def test_increment_of_a_straight_load_is_slope_times_gust(velocity, gust):
    found = gust_increment(lambda v: 100.0 - 3.0 * v, velocity, gust)
    assert float(found) == pytest.approx(3.0 * gust, abs=1e-9)


def test_case_goes_up_and_down():
    steady = RootComponents.of(centrifugal=1300.0, normal_shear=np.array([40.0, 20.0]), flap=5.0)
    slope = RootComponents.of(normal_shear=3.0, flap=np.array([0.4, 0.2]))
    case = gust_case(steady, slope, gusts()["rotorcraft"].velocity, events=12.0)
    assert case.span.flap == pytest.approx([2 * 0.4 * 9.144, 2 * 0.2 * 9.144])
    assert case.peak.normal_shear == pytest.approx([40.0 + 27.432, 20.0 + 27.432])
    assert case.span.centrifugal.tolist() == [0.0, 0.0]
    half = gust_case(steady, slope, gusts()["rotorcraft"].velocity, events=12.0, alleviation=0.5)
    assert half.span.flap == pytest.approx(0.5 * case.span.flap)


def test_strong_gusts_are_told():
    assert "stall" in GUST_ANGLE_RANGE.breach(9.144 / (0.75 * 250.0 * 0.3))
    assert GUST_ANGLE_RANGE.breach(9.144 / (0.75 * 540.0 * 0.3)) is None
