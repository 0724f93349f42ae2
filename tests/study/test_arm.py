"""An unbalanced rotor on the example's arm: in proportion, by hand, with what is missing told."""

from dataclasses import replace

import numpy as np
import pytest
from sheets import delivered, repaired

from bladehold.loss import bending_frequencies, vibration_measure
from bladehold.study.arm import ACCEPTABLE, AXES, BETWEEN, TROUBLE, NoArmError, arm_answer
from bladehold.study.arm_model import arm_model
from bladehold.study.loads import loads_of
from bladehold.tables import material

UNBALANCE = 20e-6


@pytest.fixture(scope="module")
def build():
    return repaired()


@pytest.fixture(scope="module")
def loads(build):
    return loads_of(build)


@pytest.fixture(scope="module")
def found(build, loads):
    return arm_answer(build, UNBALANCE, loads)


def with_arm(build, **changes):
    return replace(build, arm=replace(build.arm, **changes))


def test_force_is_that_of_the_unbalance_at_every_speed(found):
    assert found.force == pytest.approx(UNBALANCE * found.speed**2, rel=1e-12)
    assert found.speed[0] == found.running[0] and found.speed[-1] == found.running[1]
    assert np.all(np.diff(found.speed) > 0)


def test_everything_grows_with_the_unbalance(build, loads, found):
    double = arm_answer(build, 2 * UNBALANCE, loads)
    for name in ("force", "clamp_moment", "clamp_torque", "tip_acceleration", "controller_acceleration"):
        assert getattr(double, name) == pytest.approx(2 * getattr(found, name))
    assert double.stress.mean == pytest.approx(found.stress.mean)
    assert np.all(double.stress.margin < found.stress.margin)


def test_the_tapped_frequency_is_met(found):
    assert found.frequencies["vertical bending"] == pytest.approx(21.0)
    assert found.model.stiffness_factor == pytest.approx(0.8125, rel=1e-3)
    assert list(found.frequencies.values()) == sorted(found.frequencies.values())


def test_a_tube_bends_alike_in_both_planes_but_for_the_tip_and_a_plate_does_not(build):
    plain = with_arm(build, rotor_height=0.0, tap_frequency=None)
    tube = arm_model(plain, plain.arm)
    assert tube.vertical.stiffness == tube.horizontal.stiffness
    flat = with_arm(plain, shape="plate", width=0.03, height=0.008)
    plate = arm_model(flat, flat.arm)
    first = [bending_frequencies(beam, 1)[0] for beam in (plate.vertical, plate.horizontal)]
    assert first[1] / first[0] == pytest.approx(30 / 8, rel=2e-2)


def test_modes_met_in_flight_are_told(build, found):
    met = {(one.mode, one.order) for one in found.meetings if one.inside}
    assert met == {("vertical bending", 1), ("horizontal bending", 1), ("twist", 2)}
    for one in found.meetings:
        assert one.speed * one.order == pytest.approx(2 * np.pi * one.frequency)
    assert {one.order for one in found.meetings} == {1, build.propeller.blades}


def test_across_the_arm_the_tip_moves_as_one_mode_does(found):
    """Near its peak, by hand: a mass on a spring whose damping goes with the motion, not with its speed."""
    hertz = found.frequencies["horizontal bending"]
    ratio = found.speed / (2 * np.pi * hertz)
    near = (ratio > 0.7) & (ratio < 1.3)
    mode = found.model.data.tip_mass + 0.236 * float(found.model.horizontal.mass)
    one = ratio**2 / np.hypot(1 - ratio**2, 0.04) * UNBALANCE / mode * found.speed**2
    assert found.tip_acceleration[0, near] == pytest.approx(one[near], rel=1e-2)


def test_the_peak_is_where_a_mode_meets_the_speed(found):
    peak = found.speed[int(found.clamp_moment[0].argmax())]
    # A force that grows with the speed squared peaks a little above the mode.
    assert peak == pytest.approx(2 * np.pi * found.frequencies["horizontal bending"], rel=5e-3)
    quasi_static = found.force * found.model.data.length
    assert found.clamp_moment[0].max() == pytest.approx(
        quasi_static[found.clamp_moment[0].argmax()] / 0.04, rel=0.03
    )


def test_stress_is_moment_over_section_and_margin_by_the_policy(build, found):
    stress, section, at = found.stress, found.model.section, found.hover
    bent = np.hypot(*found.clamp_moment[:, at]) * 0.035 / 2 / float(section.vertical)
    assert stress.bending[at] == pytest.approx(bent + found.force[at] / float(section.area))
    assert stress.amplitude[at] == pytest.approx(np.hypot(stress.bending[at], np.sqrt(3) * stress.shear[at]))
    whole = stress.mean[at] + stress.amplitude[at]
    assert stress.margin[at] == pytest.approx(450e6 / (1.5 * 1.15 * whole) - 1.0)
    lifted = build.flying.used_thrust - (build.arm.tip_mass + float(found.model.vertical.mass) / 2) * 9.80665
    assert stress.mean[at] == pytest.approx(lifted * 0.61 * 0.0175 / float(section.vertical))


def test_a_laminate_has_no_life_and_says_so(found):
    assert found.stress.hours is None
    assert any("no fatigue curve" in text for text in found.stress.remarks)
    assert found.stress.unconfirmed  # customary strength and stiffness of cloth


def test_an_aluminium_arm_has_a_life_that_shortens_with_the_unbalance(build, loads):
    alloy = with_arm(build, material=material("6061-T6"), tap_frequency=None)
    lives = [arm_answer(alloy, u, loads).stress for u in (200e-6, 1000e-6)]
    at_yield = alloy.policy.at_yield
    assert lives[0].factor == at_yield and lives[0].strength == alloy.arm.material.tensile_yield
    assert np.all(lives[1].hours <= lives[0].hours)
    assert np.any(lives[1].hours < lives[0].hours)


def test_the_measure_is_that_of_the_published_filters(found):
    hertz = found.speed / (2 * np.pi)
    assert found.measure == pytest.approx(vibration_measure(found.controller_acceleration, hertz))
    assert found.measure.shape == (len(AXES), found.speed.size)


def test_thresholds_sort_into_three(build, loads, found):
    at = int(found.measure.max(axis=0).argmax())
    per_unit = found.greatest_measure / UNBALANCE
    for wanted, level in ((ACCEPTABLE, 29.0), (BETWEEN, 45.0), (TROUBLE, 61.0)):
        assert arm_answer(build, level / per_unit, loads).feels(at) == wanted


def test_soft_mounts_quieten_hover_and_a_rigid_controller_feels_the_frame(build, loads, found):
    rigid = arm_answer(replace(build, controller=None), UNBALANCE, loads)
    assert rigid.controller_acceleration == pytest.approx(rigid.body_acceleration)
    assert np.all(
        found.controller_acceleration[:, found.hover] < 0.4 * rigid.controller_acceleration[:, rigid.hover]
    )


def test_less_damping_shakes_more(build, loads, found):
    loose = arm_answer(with_arm(build, damping=0.01), UNBALANCE, loads)
    assert loose.clamp_moment[0].max() == pytest.approx(2 * found.clamp_moment[0].max(), rel=0.03)


def test_a_tap_that_does_not_fit_is_told(build, loads):
    odd = arm_answer(with_arm(build, tap_frequency=90.0), UNBALANCE, loads)
    assert any("another motion was heard" in text for text in odd.breaches)


def test_what_cannot_be_answered_is_refused(build, loads):
    with pytest.raises(NoArmError, match=r"lacks \[arm\]"):
        arm_answer(replace(build, arm=None), UNBALANCE, loads)
    for bad in (0.0, -1.0, np.inf, np.nan):
        with pytest.raises(ValueError, match="unbalance must be above 0"):
            arm_answer(build, bad, loads)


def test_the_hub_as_delivered_tells_what_it_assumes_of_its_arm():
    keys = {item.key for item in delivered().loss_assumptions}
    assert {"arm.tap_frequency", "arm.damping", "arm.tip_mass", "flight_controller.mount_frequency"} <= keys
