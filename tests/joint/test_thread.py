import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.joint import thread

D, P = 5e-3, 0.8e-3
H = np.sqrt(3) / 2 * P
PITCH, MINOR = D - 0.75 * H, D - 1.25 * H
tolerances = st.floats(0, 0.15e-3)


@given(tolerances, tolerances, st.floats(0, 0.05e-3))
def test_tolerance_form_equals_limit_sizes_for_the_screw(minor, pitch, allowance):
    ours = thread.external_strip_area(6e-3, P, MINOR + minor, minor, pitch, allowance)
    limits = thread.external_strip_area_limits(6e-3, P, MINOR + minor, PITCH - pitch - allowance)
    assert ours == pytest.approx(float(limits), rel=1e-9)


@given(tolerances, tolerances, st.floats(0, 0.05e-3))
def test_tolerance_form_equals_limit_sizes_for_the_nut(major, pitch, allowance):
    least = D - major - allowance
    ours = thread.internal_strip_area(6e-3, P, least, major, pitch, allowance)
    limits = thread.internal_strip_area_limits(6e-3, P, least, PITCH + pitch)
    assert ours == pytest.approx(float(limits), rel=1e-9)


def test_shear_area_is_the_cut_through_the_flanks():
    """Basic profile: at the nut's minor diameter the screw's thread is 3/4 P wide, at d the nut's 7/8 P."""
    assert thread.external_strip_area(P, P, MINOR) == pytest.approx(np.pi * MINOR * 0.75 * P)
    assert thread.internal_strip_area(P, P, D) == pytest.approx(np.pi * D * 0.875 * P)


def test_simple_forms_count_less_than_a_perfect_thread():
    perfect = thread.external_strip_area(6e-3, P, MINOR)
    assert thread.external_strip_area_simple(6e-3, MINOR) == pytest.approx(float(perfect) * 0.625 / 0.75)
    perfect = thread.internal_strip_area(6e-3, P, D)
    assert thread.internal_strip_area_simple(6e-3, D) == pytest.approx(float(perfect) * 0.75 / 0.875)


@given(tolerances, st.floats(1e-6, 0.1e-3))
def test_looser_threads_strip_sooner(minor, more):
    areas = [thread.external_strip_area(6e-3, P, MINOR, t) for t in (minor, minor + more)]
    assert areas[1] < areas[0]


@given(st.floats(1, 2e4), st.floats(50e6, 500e6))
def test_needed_engagement_just_strips(force, strength):
    length = thread.engagement_needed(force, thread.internal_strip_area_simple(1.0, D), strength)
    area = thread.internal_strip_area_simple(length, D)
    assert thread.stripping_force(area, strength) == pytest.approx(force)


def test_thread_with_nothing_left_is_refused():
    with pytest.raises(ValueError, match="thread width left"):
        thread.external_strip_area(6e-3, P, MINOR, 2e-3)
