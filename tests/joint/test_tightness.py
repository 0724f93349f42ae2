"""The tightness window: closed cases, and a brute-force search for a sample that leaves it."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladehold.joint.preload import thermal_mismatch, thermal_preload_change
from bladehold.joint.setting import Spread
from bladehold.joint.stiffness import clamped_clevis_stiffness, in_series
from bladehold.joint.tightness import (
    Clamp,
    clamp_moment,
    drooping_moment,
    hand_moment,
    preload_at,
    pull_window,
    seasons,
    window,
)

SPREAD = Spread(
    diameter=5e-3,
    nut_factor_low=0.2,
    nut_factor_high=0.2,
    scatter_up=0.35,
    scatter_down=0.35,
    relaxation=0.05,
)
CLAMP = Clamp(radius=4.5e-3, friction_low=0.10, friction_high=0.20, gain=4.0)
LOCKED = replace(SPREAD, nut_factor_low=0.16, wrench=0.04, prevailing_low=0.05, prevailing_high=0.1)
WIDE = (0.02, 0.9)
SWING = np.array([-10.0, 0.0, 20.0])


def test_by_hand_without_temperature():
    """55.6 N to 166.7 N; 55.6 x 1 mm / (0.65 x 0.95) = 0.0900 N m; 166.7 x 1 mm / 1.35 = 0.1235 N m."""
    found = window(0.05, 0.30, CLAMP, SPREAD, [0.0])
    assert found.preload_least == pytest.approx([55.556], abs=1e-3)
    assert found.preload_greatest == pytest.approx([166.667], abs=1e-3)
    assert found.torque_least == pytest.approx(0.08997, abs=1e-5)
    assert found.torque_greatest == pytest.approx(0.12346, abs=1e-5)
    assert found.width == pytest.approx(1.3722, abs=1e-4)
    assert found.serves
    assert found.missing == 0.0


def test_by_hand_with_temperature_no_torque_serves_and_it_says_by_how_much():
    """95.6 N needed for the cold, 86.7 N allowed for the heat: 0.1548 and 0.0642 N m."""
    found = window(0.05, 0.30, CLAMP, SPREAD, SWING)
    assert not found.serves
    assert found.torque_least == pytest.approx(95.556e-3 / (0.65 * 0.95), abs=1e-5)
    assert found.torque_greatest == pytest.approx(86.667e-3 / 1.35, abs=1e-5)
    assert found.missing == pytest.approx(found.torque_least - found.torque_greatest)
    assert (int(found.limits_least), int(found.limits_greatest)) == (0, 2)


@given(st.floats(-50, 50), st.floats(-50, 50))
def test_one_material_everywhere_does_not_know_temperature(cold, hot):
    mismatch = thermal_mismatch(1.0, [4e-3, 8e-3, 4e-3], [11.7e-6] * 3, 11.7e-6)
    steel = replace(CLAMP, gain=thermal_preload_change(80e6, 200e6, mismatch))
    still = window(*WIDE, steel, SPREAD, [0.0])
    moved = window(*WIDE, steel, SPREAD, [cold, hot])
    assert moved.torque_least == pytest.approx(float(still.torque_least))
    assert moved.torque_greatest == pytest.approx(float(still.torque_greatest))


@given(st.floats(0, 30), st.floats(0, 30), st.floats(-6, 6))
def test_a_wider_temperature_range_never_widens_the_window(half, more, gain):
    clamp = replace(CLAMP, gain=gain)
    narrow, wide = (window(*WIDE, clamp, LOCKED, [-span, span]) for span in (half, half + more))
    assert wide.width <= narrow.width * (1 + 1e-12)


@given(st.floats(0, 0.5), st.floats(0, 0.4))
def test_more_scatter_never_widens_the_window(scatter, more):
    less, worse = (
        window(*WIDE, CLAMP, replace(SPREAD, scatter_up=s, scatter_down=s), SWING)
        for s in (scatter, scatter + more)
    )
    assert worse.width <= less.width * (1 + 1e-12)


@given(st.floats(0, 5), st.floats(0, 5), st.floats(0.0, 0.1), st.floats(0.0, 0.1))
def test_more_mismatch_or_doubt_about_friction_never_widens_the_window(gain, more, doubt, extra):
    def width(rate, spread):
        clamp = replace(CLAMP, gain=rate, friction_low=0.15 - spread / 2, friction_high=0.15 + spread / 2)
        return window(*WIDE, clamp, SPREAD, SWING).width

    assert width(gain + more, doubt) <= width(gain, doubt) * (1 + 1e-12)
    assert width(gain, doubt + extra) <= width(gain, doubt) * (1 + 1e-12)


def sample(torque, clamp, spread, changes, generator, size):
    """Friction moments of random joints: every scatter from end to end, corners among them."""

    def between(low, high):
        share = np.clip(generator.uniform(-0.3, 1.3, size), 0.0, 1.0)  # a quarter at each end
        return low + (high - low) * share

    wrench = torque * (1 + between(-spread.wrench, spread.wrench))
    above = np.maximum(wrench - between(spread.prevailing_low, spread.prevailing_high), 0.0)
    nominal = above / (between(spread.nut_factor_low, spread.nut_factor_high) * spread.diameter)
    preload = nominal * (1 + between(-spread.scatter_down, spread.scatter_up))
    kept = preload * (1 - between(0.0, spread.relaxation))
    force = preload_at(kept, clamp.gain, between(min(changes), max(changes)))
    return clamp.faces * between(clamp.friction_low, clamp.friction_high) * clamp.radius * force


@settings(deadline=None, max_examples=25)
@given(st.floats(-3, 3), st.floats(0, 1), st.integers(0, 1000))
def test_no_sample_inside_the_band_leaves_the_bounds_and_some_just_outside_does(gain, place, seed):
    clamp = replace(CLAMP, gain=gain)
    generator = np.random.default_rng(seed)
    found = window(*WIDE, clamp, LOCKED, SWING)
    assert found.serves
    low, high = float(found.torque_least), float(found.torque_greatest)
    inside = sample(low + place * (high - low), clamp, LOCKED, SWING, generator, 40000)
    assert inside.min() >= WIDE[0] * (1 - 1e-9)
    assert inside.max() <= WIDE[1] * (1 + 1e-9)
    assert sample(0.97 * low, clamp, LOCKED, SWING, generator, 200000).min() < WIDE[0]
    assert sample(1.03 * high, clamp, LOCKED, SWING, generator, 200000).max() > WIDE[1]


def test_aluminium_plates_with_a_steel_screw_tighten_with_heat_and_loosen_with_cold():
    """Common practice, no source. 16 mm of aluminium under steel, 10 K: 16e-3 x 11.7e-6 x 10 = 1.872 um,
    times 60 N/um = 112 N."""
    mismatch = thermal_mismatch(1.0, [4e-3, 8e-3, 4e-3], [23.4e-6] * 3, 11.7e-6)
    gain = thermal_preload_change(100e6, 150e6, mismatch)
    assert 10 * gain == pytest.approx(112.3, abs=0.1)
    clamp = replace(CLAMP, gain=gain)
    cold, set_, hot = clamp_moment(300.0, clamp, [-10.0, 0.0, 10.0]).minimum
    assert cold < set_ < hot
    assert clamp_moment(100.0, clamp, -10.0).maximum == 0.0


def test_a_gap_at_setting_that_heat_closes_too_far_leaves_no_torque():
    found = window(
        0.01,
        0.05,
        replace(CLAMP, gain=50.0),
        replace(SPREAD, prevailing_low=0.1, prevailing_high=0.2),
        [40.0],
    )
    assert found.torque_greatest == 0.0
    assert found.width == 0.0


def test_springs_under_the_head_widen_the_window_and_a_titanium_screw_in_aluminium_does_not():
    def clamp(screw, expansion):
        joint = clamped_clevis_stiffness([900e6, 900e6], 8e-3, 200e-6, 71e9)
        mismatch = thermal_mismatch(1.0, [4e-3, 8e-3, 4e-3], [23.4e-6] * 3, expansion)
        return replace(CLAMP, gain=thermal_preload_change(screw, joint, mismatch))

    plain, sprung, titanium = (
        window(*WIDE, clamp(*screw), SPREAD, SWING).width
        for screw in ((150e6, 11.7e-6), (in_series([150e6, 4e6]), 11.7e-6), (150e6, 8.6e-6))
    )
    assert sprung > plain > titanium


def test_setting_anew_by_season_widens_the_window():
    widths = []
    for parts in (1, 2, 4):
        middle, change = seasons(263.15, 308.15, parts)
        assert change.shape == (parts, 2)
        assert middle[:, None] + change == pytest.approx(
            np.stack(
                [np.linspace(263.15, 308.15, parts + 1)[:-1], np.linspace(263.15, 308.15, parts + 1)[1:]], -1
            )
        )
        widths.append(float(window(*WIDE, CLAMP, SPREAD, change).width.min()))
    assert widths[0] < widths[1] < widths[2]


def test_a_spring_balance_needs_no_nut_factor():
    """0.05 to 0.30 N m, mu 0.1 to 0.2, -40 N and +80 N: from 0.05 + 0.2 x 9 mm x 40 = 0.122 to
    0.30 - 0.2 x 9 mm x 80 = 0.156 N m, with 5 % reading error and relaxation 0.1352 to 0.1486."""
    found = pull_window(0.05, 0.30, CLAMP, SWING)
    assert found.moment_least == pytest.approx(0.122 / 0.95**2)
    assert found.moment_greatest == pytest.approx(0.156 / 1.05)
    assert found.serves
    assert not window(0.05, 0.30, CLAMP, SPREAD, SWING).serves
    pull = found.pull(0.25)
    assert (pull.minimum, pull.maximum) == pytest.approx((0.122 / 0.95**2 / 0.25, 0.156 / 1.05 / 0.25))


@given(st.floats(-5, 5), st.floats(0.1, 0.2), st.floats(0, 1), st.floats(-1, 1), st.floats(0, 0.05))
def test_a_moment_set_inside_the_pull_window_stays_inside(gain, friction, place, misread, lost):
    clamp = replace(CLAMP, gain=gain)
    found = pull_window(*WIDE, clamp, SWING)
    moment = float(found.moment_least + place * (found.moment_greatest - found.moment_least))
    start = moment * (1 + 0.05 * misread) * (1 - lost)
    force = preload_at(start / (2 * friction * 4.5e-3), gain, SWING)
    acting = 2 * friction * 4.5e-3 * force
    assert np.all(acting >= WIDE[0] * (1 - 1e-9))
    assert np.all(acting <= WIDE[1] * (1 + 1e-9))


def test_a_weak_screw_takes_from_the_top():
    """120 N the screw may bear, 4 N/K, +20 K: 40 N at setting, 0.0296 N m; by pull 0.1 x 9 mm x 40 N."""
    free = window(0.02, 0.30, CLAMP, SPREAD, SWING)
    weak = window(0.02, 0.30, CLAMP, SPREAD, SWING, greatest_preload=120.0)
    assert weak.torque_least == free.torque_least
    assert weak.torque_greatest == pytest.approx(40e-3 / 1.35)
    assert window(0.02, 0.30, CLAMP, SPREAD, SWING, greatest_preload=1e6).width == free.width
    pull = pull_window(0.02, 0.30, CLAMP, SWING, greatest_preload=120.0)
    assert pull.moment_greatest == pytest.approx(0.1 * 9e-3 * 40.0 / 1.05)


def test_windows_go_over_many_pivots_at_once():
    clamp = replace(CLAMP, gain=np.array([0.0, 2.0, 4.0])[:, None])
    found = window(*WIDE, clamp, SPREAD, SWING)
    assert found.width.shape == (3,)
    for place, gain in enumerate((0.0, 2.0, 4.0)):
        one = window(*WIDE, replace(CLAMP, gain=gain), SPREAD, SWING)
        assert found.width[place] == pytest.approx(float(one.width))


def test_bounds_by_hand():
    assert drooping_moment(34e-3 * 102e-3, 2.0) == pytest.approx(2 * 9.80665 * 3.468e-3)
    assert hand_moment(8.0, 0.25) == pytest.approx(2.0)
    assert clamped_clevis_stiffness([300e6, 300e6], 8e-3, 100e-6, 80e9) == pytest.approx(
        1 / (2 / 300e6 + 1 / 1000e6)
    )


def test_nothing_to_hold_asks_for_no_torque():
    found = window(0.0, 0.3, CLAMP, SPREAD, SWING)
    assert found.torque_least == 0.0
    assert np.isinf(found.width)


def test_friction_the_wrong_way_round_is_refused():
    with pytest.raises(ValueError, match="greatest friction"):
        replace(CLAMP, friction_low=0.3)
