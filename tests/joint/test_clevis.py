"""The closed forms against the strip model itself, solved numerically with a screw of any stiffness."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from bladehold.joint import clevis

A, WIDTH, FOUNDATION = 8e-3, 12e-3, 1e13  # m, m, Pa/m
FACE = 2 * A * WIDTH * FOUNDATION  # N/m


def face(sinking, slope):
    """Force and moment about the screw axis of a strip pressed by sinking + slope x, no tension."""
    reach = min(A + sinking / slope, 2 * A)
    if reach <= 0:
        return 0.0, 0.0
    low = FOUNDATION * (sinking + slope * (A - reach))
    high = FOUNDATION * (sinking + slope * A)
    force = (low + high) / 2 * reach * WIDTH
    moment = WIDTH * reach * (low * (A - reach / 2) + (high - low) / 2 * (A - reach / 3))
    return force, moment


def strip_model(slope, lift, preload, screw):
    """Flap moment and screw tension for a lug rotation; faces, screw and a free upper plate in balance."""
    start = preload / FACE

    def lower_sinking(upper):
        return 2 * start - (face(upper, slope)[0] - preload) / screw - upper

    def unbalance(upper):
        return face(upper, slope)[0] - face(lower_sinking(upper), slope)[0] - lift

    span = 2 * start + 2 * slope * A + 4 * (lift + preload) / FACE + 4 * lift / screw
    upper = brentq(unbalance, -span, span, xtol=1e-18, rtol=1e-14)
    tension, moment = face(upper, slope)
    return moment + face(lower_sinking(upper), slope)[1], tension


slopes = st.floats(1e-6, 0.05)
stiffnesses = st.floats(-3, 6).map(lambda e: FACE * 10**e)
RIGID = FACE * 1e9


@settings(max_examples=200)
@given(slopes, st.floats(0, 3000), st.floats(0, 5000), stiffnesses)
def test_strip_model_keeps_within_the_bounds(slope, lift, preload, screw):
    moment, tension = strip_model(slope, lift, preload, screw)
    bounds = clevis.screw_tension_clamped(moment, lift, A, preload, "strip")
    slack = 1e-6 * (tension + 1)
    assert bounds.least - slack <= tension <= bounds.greatest + slack


@given(slopes, st.floats(0, 3000))
def test_open_strip_method_is_the_strip_model_with_a_rigid_screw(slope, lift):
    moment, tension = strip_model(slope, lift, 0.0, RIGID)
    ours = clevis.contact_forces(moment, lift, A, "strip")
    assert clevis.screw_tension_open(ours) == pytest.approx(tension, rel=1e-5, abs=1e-3)


@given(slopes, st.floats(0, 3000), stiffnesses)
def test_open_strip_model_lies_between_the_two_methods(slope, lift, screw):
    moment, tension = strip_model(slope, lift, 0.0, screw)
    edge, strip = (clevis.contact_forces(moment, lift, A, m).greatest for m in ("edge", "strip"))
    slack = 1e-6 * (tension + 1)
    assert edge - slack <= tension <= strip + slack


@given(st.floats(10, 5000), stiffnesses, st.floats(0.01, 0.999))
def test_nothing_changes_before_the_first_gap(preload, screw, share):
    gap_slope = preload / FACE / A
    moment, tension = strip_model(share * gap_slope, 0.0, preload, screw)
    assert moment == pytest.approx(share * float(clevis.first_gap_moment(preload, A)), rel=1e-6)
    assert tension == pytest.approx(preload, rel=1e-6)
    bounds = clevis.screw_tension_clamped(moment * (1 - 1e-6), 0.0, A, preload, "strip")
    assert bounds.least == bounds.greatest == preload


@pytest.mark.parametrize("ratio", [1.0, 2.0, 10.0])
def test_rigid_screw_meets_the_upper_bound_at_the_first_gap_and_stays_near(ratio):
    """Beyond it the bound is too high by Fp/2 - T/(2 f), never by more than half the clamp force."""
    preload = 1000.0
    moment, tension = strip_model(ratio * preload / FACE / A, 0.0, preload, RIGID)
    bound = clevis.screw_tension_clamped(moment, 0.0, A, preload, "strip").greatest
    assert tension == pytest.approx(preload * (ratio + 1) ** 2 / (4 * ratio), rel=1e-6)
    assert bound - tension == pytest.approx(preload / 2 - tension / (2 * ratio), abs=1e-3)


@given(st.floats(10, 5000), st.floats(0, 4000), stiffnesses)
def test_lift_never_opens_a_face_before_the_stated_moment(preload, lift, screw):
    stated = clevis.first_gap_moment(preload, A, lift)
    assert 0 <= stated <= clevis.first_gap_moment(preload, A)
    if stated > 0:
        slope = 1.5 * float(stated) / (FOUNDATION * WIDTH * 2 * A**3)  # M = (4/3) k w a^3 theta, both faces
        moment, _ = strip_model(0.5 * slope, lift, preload, screw)
        assert moment == pytest.approx(0.5 * float(stated), rel=1e-6)  # linear, so no face has gaped


moments = st.floats(-50, 50)
lifts = st.floats(-3000, 3000)


@given(moments, lifts, st.sampled_from(sorted(clevis.CONTACT_ARMS)))
def test_lug_is_in_balance(moment, lift, method):
    contact = clevis.contact_forces(moment, lift, A, method)
    assert contact.upper - contact.lower == pytest.approx(lift, abs=1e-9)
    assert min(contact.upper, contact.lower) >= -1e-9
    # the couple about the screw axis that the faces can give reaches the flap moment
    assert (contact.upper + contact.lower) * A >= abs(moment) * (1 - 1e-12)


@given(moments, lifts)
def test_direction_does_not_matter_to_the_screw(moment, lift):
    for method in clevis.CONTACT_ARMS:
        forward = clevis.contact_forces(moment, lift, A, method)
        mirrored = clevis.contact_forces(-moment, -lift, A, method)
        assert forward.upper == pytest.approx(float(mirrored.lower), abs=1e-9)
        assert forward.greatest == pytest.approx(float(mirrored.greatest))


@given(st.floats(0.01, 50), st.floats(0, 3000), st.floats(1.001, 3))
def test_tension_rises_with_moment_and_lift(moment, lift, factor):
    for method in clevis.CONTACT_ARMS:
        base = clevis.contact_forces(moment, lift, A, method).greatest
        assert clevis.contact_forces(factor * moment, lift, A, method).greatest >= base * (1 - 1e-12)
        assert clevis.contact_forces(moment, factor * lift, A, method).greatest >= base * (1 - 1e-12)
        both = clevis.contact_forces(factor * moment, factor * lift, A, method).greatest
        assert both == pytest.approx(factor * float(base))


def test_by_hand():
    """M 12 N m, L 300 N, a 8 mm: edge couple 1500 N; strip 2250 + 10 N."""
    edge, strip = (clevis.contact_forces(12.0, 300.0, A, m) for m in ("edge", "strip"))
    assert (edge.upper, edge.lower) == pytest.approx((900.0, 600.0))
    assert (strip.upper, strip.lower) == pytest.approx((1280.0, 980.0))
    assert clevis.screw_tension_open(edge) == pytest.approx(900.0)
    assert clevis.screw_tension_lever(edge, 16e-3) == pytest.approx(1350.0)
    assert clevis.tie_force(edge, 16e-3, 2) == pytest.approx(225.0)
    assert clevis.first_gap_moment(3000.0, A) == pytest.approx(16.0)
    assert clevis.first_gap_moment(3000.0, A, 300.0) == pytest.approx(14.4)
    assert clevis.first_gap_moment(200.0, A, 300.0) == 0.0
    assert clevis.edge_contact_pressure(900.0, WIDTH, A) == pytest.approx(18.75e6)


def test_levering_plate_is_in_balance():
    """Upper plate: contact up at +c, screw down at 0, heel push up at -b."""
    contact, b = clevis.contact_forces(12.0, 300.0, A, "edge"), 20e-3
    tension = clevis.screw_tension_lever(contact, b)
    heel = tension - contact.upper
    assert heel >= 0
    assert contact.upper * contact.arm == pytest.approx(float(heel * b))


def test_pressure_is_continuous_at_the_first_gap():
    """Just before, uniform pressure doubled at the edge; just after, a triangle over the whole length."""
    preload = 1000.0
    assert clevis.edge_contact_pressure(preload, WIDTH, 2 * A) == pytest.approx(2 * preload / (2 * A * WIDTH))


def test_unknown_method_is_refused():
    with pytest.raises(ValueError, match="edge, strip"):
        clevis.contact_forces(1.0, 0.0, A, "middle")
    with pytest.raises(ValueError, match="half-length"):
        clevis.contact_forces(1.0, 0.0, np.array([A, 0.0]))


def disc_model(share, preload):
    """Moment and tension of round faces of radius A under a rigid screw.

    P = p0 (1 + share x / A), not below 0.
    """
    x = np.linspace(-A, A, 40001)
    width = 2 * np.sqrt(np.maximum(A**2 - x**2, 0.0))
    p0 = preload / (np.pi * A**2)
    upper = np.maximum(p0 * (1 + share * x / A), 0.0)
    lower = np.maximum(p0 * (1 - share * x / A), 0.0)
    force = np.trapezoid(upper * width, x), np.trapezoid(lower * width, x)
    moment = np.trapezoid(upper * x * width, x) - np.trapezoid(lower * x * width, x)
    return moment, force


@pytest.mark.parametrize("share", [1.0, 1.5, 3.0, 10.0, 300.0])
def test_round_faces_under_a_rigid_screw_keep_within_the_bounds(share):
    moment, (tension, _) = disc_model(share, 1000.0)
    bounds = clevis.screw_tension_clamped(moment, 0.0, A, 1000.0, "round")
    assert bounds.least <= tension * (1 + 1e-6) and tension <= bounds.greatest * (1 + 1e-4)
    if share == 1.0:
        assert moment == pytest.approx(1000.0 * A / 2, rel=1e-4)
        assert bounds.greatest == pytest.approx(tension, rel=1e-4)


def test_open_round_faces_are_the_disc_model():
    moment, (tension, _) = disc_model(1e6, 1.0)
    ours = clevis.contact_forces(moment, 0.0, A, "round").greatest
    assert ours == pytest.approx(tension, rel=1e-3)
    x = np.linspace(-A, A, 40001)
    width, shift = 2 * np.sqrt(np.maximum(A**2 - x**2, 0.0)), 0.1 * A
    up, down = np.maximum(x + shift, 0.0), np.maximum(-x - shift, 0.0)
    upper, lower = np.trapezoid(up * width, x), np.trapezoid(down * width, x)
    moment = np.trapezoid(up * x * width, x) - np.trapezoid(down * x * width, x)
    ours = clevis.contact_forces(moment, upper - lower, A, "round")
    assert ours.upper == pytest.approx(upper, rel=5e-3)
    assert ours.lower == pytest.approx(lower, rel=2e-2)
