"""Calibration: a known correction is found again, slips do not spoil it, nonsense is refused."""

from dataclasses import astuple, replace

import numpy as np
import pytest
from sheets import repaired

from bladehold.bench import StandRun
from bladehold.rotor import solve_axial
from bladehold.rotor.correction import Correction
from bladehold.study import loads_of
from bladehold.study.calibrate import ImplausibleFitError, calibrate
from bladehold.study.shape import blade_of

AIR = {"density": 1.2041, "viscosity": 1.81e-5, "speed_of_sound": 343.2}
ROOM = {"temperature": 293.15, "pressure": 101325.0}
TRUTH = Correction(np.radians(0.9), 1.03, 1.2, 0.06)


def model_of(build, correction, speed):
    geometry, polar = blade_of(replace(build, propeller=replace(build.propeller, correction=correction)))
    return solve_axial(geometry, build.propeller.blades, speed, 0.0, polar=polar, **AIR)


def run_of(build, correction, scatter=0.0, count=12, with_torque=True, speeds=(150.0, 480.0)):
    speed = np.linspace(*speeds, count)
    model = model_of(build, correction, speed)
    noise = 1 + scatter * np.sin(np.arange(2 * count) * 2.7).reshape(2, count)
    unknown = np.full(count, np.nan)
    torque = model.torque * noise[1] if with_torque else unknown
    power = unknown if with_torque else model.torque * speed / 0.8
    lines = np.arange(2, count + 2)
    return StandRun("made", speed, model.thrust * noise[0], torque, power, unknown, unknown, unknown, lines)


@pytest.mark.parametrize("scatter", [0.0, 0.01])
def test_thrust_and_torque_are_met_after_the_fit(scatter):
    build = repaired()
    run = run_of(build, TRUTH, scatter)
    found = calibrate(build, run, **ROOM, drive_efficiency=None)
    np.testing.assert_allclose(found.thrust, run.thrust, rtol=0.01 + 2 * scatter)
    np.testing.assert_allclose(found.torque, run.torque, rtol=0.01 + 2 * scatter)
    spread = np.sqrt(np.diag(found.covariance))
    assert np.all(np.abs(np.subtract(astuple(found.correction), astuple(TRUTH))) < 4 * spread)
    assert np.all(np.abs(found.uncalibrated_thrust / run.thrust - 1) > 0.05)
    assert not found.slips


def test_a_rise_of_lift_with_speed_is_found_again():
    build = repaired()
    found = calibrate(build, run_of(build, replace(TRUTH, lift_exponent=0.2)), **ROOM, drive_efficiency=None)
    assert found.correction.lift_exponent == pytest.approx(0.2, abs=0.02)
    assert found.covariance.shape == (4, 4)


def test_a_short_run_of_few_speeds_does_not_lead_astray():
    build = repaired()
    run = run_of(build, replace(TRUTH, lift_exponent=0.0), scatter=0.015, count=5, speeds=(380.0, 420.0))
    found = calibrate(build, run, **ROOM, drive_efficiency=None)
    assert abs(found.correction.lift_exponent) < 0.1
    fast = np.array([600.0])
    truth = model_of(build, replace(TRUTH, lift_exponent=0.0), fast).thrust
    assert model_of(build, found.correction, fast).thrust == pytest.approx(truth, rel=0.03)


def test_electric_power_serves_where_torque_is_missing():
    build = repaired()
    found = calibrate(build, run_of(build, TRUTH, with_torque=False), **ROOM, drive_efficiency=0.8)
    with_torque = calibrate(build, run_of(build, TRUTH), **ROOM, drive_efficiency=None)
    assert found.correction.profile_drag_factor == pytest.approx(
        with_torque.correction.profile_drag_factor, abs=1e-3
    )
    without = calibrate(build, run_of(build, TRUTH, with_torque=False), **ROOM, drive_efficiency=None)
    assert without.torque_uncertainty is None


def test_a_speed_typed_as_a_thrust_does_not_spoil_the_fit():
    build = repaired()
    run = run_of(build, TRUTH)
    wrong = run.thrust.copy()
    wrong[5] = run.speed[5] * 30 / np.pi
    spoilt = calibrate(build, replace(run, thrust=wrong), **ROOM, drive_efficiency=None)
    clean = calibrate(build, run, **ROOM, drive_efficiency=None)
    assert [slip.row for slip in spoilt.slips] == [5]
    assert "speed typed as a thrust" in spoilt.slips[0].reason
    assert spoilt.correction.pitch_offset == pytest.approx(clean.correction.pitch_offset, abs=2e-3)


def test_another_propeller_is_refused():
    build = repaired()
    run = run_of(build, TRUTH)
    with pytest.raises(ImplausibleFitError, match="not the section"):
        calibrate(build, replace(run, thrust=3.0 * run.thrust), **ROOM, drive_efficiency=None)


def test_too_few_points_are_refused():
    build = repaired()
    with pytest.raises(ValueError, match="needs 4"):
        calibrate(build, run_of(build, TRUTH, count=3), **ROOM, drive_efficiency=None)


def test_uncertainty_goes_on_to_the_loads():
    build = repaired()

    def with_uncertainty(u):
        return replace(build, propeller=replace(build.propeller, thrust_uncertainty=u))

    sure, unsure = loads_of(with_uncertainty(0.0)), loads_of(with_uncertainty(0.04))
    ratio = unsure.root.centrifugal[:-1] / sure.root.centrifugal[:-1]
    np.testing.assert_allclose(ratio, 1 + 1.645 * 0.04, rtol=1e-9)


def test_calibrated_rotor_is_used_in_the_loads():
    build = repaired()
    corrected = replace(build, propeller=replace(build.propeller, correction=TRUTH))
    assert np.all(loads_of(corrected).speed[:-1] < loads_of(build).speed[:-1])
