"""The rigid blade in edgewise flight."""

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from bladehold.rotor import (
    ADVANCE_RANGE,
    DISC_ANGLE_RANGE,
    blade_from_measures,
    cyclic_share,
    edgewise_inflow,
    flap_moment_harmonics,
    half_range,
    linear_twist_fit,
    root_shear_harmonics,
)

NODES, WEIGHTS = np.polynomial.legendre.leggauss(8)
X, DX = 0.5 * (NODES + 1.0), 0.5 * WEIGHTS
PSI = np.arange(24) * np.pi / 12.0
FLIGHT = {
    "mu": st.floats(0.0, 0.35),
    "th0": st.floats(-0.1, 0.5),
    "th1": st.floats(-0.4, 0.2),
    "inflow": st.floats(-0.1, 0.2),
}


def by_quadrature(mu, th0, th1, inflow, arm):
    """Load over the turn, [psi], of the element integrated along the span with a power of x as arm."""
    speed = X + mu * np.sin(PSI)[:, None]
    return (speed**2 * (th0 + th1 * X) - inflow * speed) * X**arm @ DX


@pytest.mark.parametrize(("harmonics", "arm"), [(flap_moment_harmonics, 1), (root_shear_harmonics, 0)])
@given(**FLIGHT)
def test_the_closed_form_is_the_quadrature(harmonics, arm, mu, th0, th1, inflow):
    load = harmonics(mu, th0, th1, inflow)
    series = load.mean + load.sine * np.sin(PSI) + load.cosine2 * np.cos(2.0 * PSI)
    assert series == pytest.approx(by_quadrature(mu, th0, th1, inflow, arm), abs=1e-13)


@given(**FLIGHT)
@example(mu=0.25, th0=2.2e-313, th1=0.0, inflow=0.125)  # a part twice per turn too small to divide by
def test_half_range_is_that_of_the_series(mu, th0, th1, inflow):
    load = flap_moment_harmonics(mu, th0, th1, inflow)
    psi = np.linspace(0.0, 2.0 * np.pi, 4001)
    series = load.mean + load.sine * np.sin(psi) + load.cosine2 * np.cos(2.0 * psi)
    assert half_range(load) == pytest.approx(0.5 * np.ptp(series), rel=1e-5, abs=1e-9)


def test_shares_broadcast_and_vanish_in_hover():
    share = cyclic_share(np.array([0.0, 0.1, 0.2]), 0.25, -0.15, 0.05)
    assert share.flap_moment[0] == share.root_shear[0] == 0.0
    assert np.all(np.diff(share.flap_moment) > 0.0)
    assert np.all(np.diff(share.root_shear) > 0.0)


def test_a_share_of_no_load_is_refused():
    with pytest.raises(ValueError, match="inflow_ratio"):
        cyclic_share(0.1, 0.05, 0.0, 0.2)


def test_a_linear_twist_is_found_and_a_real_one_is_weighted_to_the_tip():
    measures = {
        "diameter": 0.7,
        "hub_radius": 0.03,
        "geometric_pitch": 0.23,
        "widest_chord": 0.07,
        "widest_fraction": 0.35,
        "tip_chord": 0.025,
        "thickness_ratio": 0.1,
        "section": "clark-y",
    }
    blade = blade_from_measures(**measures)
    th0, th1 = linear_twist_fit(blade, zero_lift_angle=-0.06)
    x = blade.r / blade.radius
    error = th0 + th1 * x - (blade.twist + 0.06)
    outer = x > 0.6
    assert np.max(np.abs(error[outer])) < 0.035
    assert np.max(np.abs(error)) > 0.1  # the root is let go
    exact = blade.__class__(**(vars(blade) | {"twist": 0.3 - 0.2 * x}))
    assert linear_twist_fit(exact) == pytest.approx((0.3, -0.2))


@settings(max_examples=200)
@given(st.floats(0.0, 0.05), st.floats(0.0, 0.5), st.floats(-1.2, 1.5))
def test_inflow_meets_glauert(ct, mu, angle):
    inflow = edgewise_inflow(ct, mu, angle)
    induced = inflow - mu * np.tan(angle)
    assert induced * np.hypot(mu, inflow) == pytest.approx(ct / 2.0, abs=1e-11)


def test_inflow_limits_and_shapes():
    inflow = edgewise_inflow(np.array([[0.008], [0.016]]), np.array([0.0, 0.4]), 0.0)
    assert inflow[:, 0] == pytest.approx(np.sqrt([0.004, 0.008]))
    assert inflow[:, 1] == pytest.approx([0.01, 0.02], rel=2e-3)  # CT / (2 mu) when fast


@pytest.mark.parametrize(
    ("arguments", "word"), [((-0.01, 0.1, 0.0), "thrust_coef"), ((0.01, np.nan, 0.0), "advance")]
)
def test_inflow_names_what_cannot_be(arguments, word):
    with pytest.raises(ValueError, match=word):
        edgewise_inflow(*arguments)


def test_ranges_speak():
    assert "reverse flow" in (ADVANCE_RANGE.breach(0.4) or "")
    assert "several inflows" in (DISC_ANGLE_RANGE.breach(-1.3) or "")
