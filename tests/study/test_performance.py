"""The rotor over its speeds: laws of the coefficients, and what is told with them."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from bladehold.air import GRAVITY
from bladehold.rotor import solve_axial
from bladehold.rotor.correction import Correction
from bladehold.sheet import load_sheet, resolve
from bladehold.study.performance import SPEED_SHARES, calibrated, performance_of
from bladehold.study.shape import blade_of

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def build():
    return resolve(load_sheet(EXAMPLES / "tarn6_repaired.toml"))


@pytest.fixture(scope="module")
def found(build):
    return performance_of(build)


def test_the_thrust_used_is_met_at_its_speed(build, found):
    assert found.hover.thrust == pytest.approx(build.flying.used_thrust, rel=1e-5)
    used = SPEED_SHARES.index(1.0)
    assert found.solution.thrust[used] == pytest.approx(build.flying.used_thrust, rel=1e-5)
    speeds = found.solution.rotation_speed / found.hover.rotation_speed
    assert speeds == pytest.approx(np.array(SPEED_SHARES))


def test_coefficients_give_thrust_and_power_back(build, found):
    turns, diameter = found.solution.rotation_speed / (2 * np.pi), build.propeller.diameter
    rho = float(found.air.density)
    thrust = found.thrust_coefficient * rho * turns**2 * diameter**4
    power = found.power_coefficient * rho * turns**3 * diameter**5
    assert thrust == pytest.approx(found.solution.thrust)
    assert power == pytest.approx(found.solution.power)
    # figure of merit from both coefficients, propeller convention
    merit = np.sqrt(2 / np.pi) * found.thrust_coefficient**1.5 / found.power_coefficient
    assert found.figure_of_merit == pytest.approx(merit)
    kilograms = found.thrust_per_power * found.solution.power / 1e3
    assert kilograms * GRAVITY == pytest.approx(found.solution.thrust)


def test_speeds_beyond_the_fastest_tip_are_left_out(build):
    found = performance_of(build, [1.0, 2.0, 3.0, 4.0])
    assert 1 <= found.solution.thrust.size < 4
    assert found.solution.tip_mach.max() <= 0.9
    assert len(found.breaches) == found.solution.thrust.size


def test_only_the_speeds_that_leave_a_range_say_so(build):
    found = performance_of(build, [0.08, 1.0])
    assert found.breaches[1] == ()
    assert any("Reynolds" in text for text in found.breaches[0])
    assert found.solution.breaches


def test_the_calibration_is_in_the_numbers_and_told(build):
    assert not calibrated(build)
    fit = Correction(pitch_offset=0.02, chord_scale=1.1, profile_drag_factor=1.2)
    taught = replace(
        build,
        propeller=replace(build.propeller, correction=fit),
        assumptions=tuple(a for a in build.assumptions if a.key != "propeller.calibration"),
    )
    found = performance_of(taught)
    assert calibrated(taught)
    geometry, polar = blade_of(taught)
    air = found.air
    own = solve_axial(
        geometry,
        2,
        found.hover.rotation_speed,
        0.0,
        density=air.density,
        viscosity=air.viscosity,
        speed_of_sound=air.speed_of_sound,
        polar=polar,
    )
    assert found.hover.torque == pytest.approx(own.torque)


def test_a_measured_speed_is_compared(build, found):
    assert found.measured_over_model is None
    speed = 1.05 * float(found.hover.rotation_speed)
    measured = replace(build, flying=replace(build.flying, used_speed=speed))
    assert performance_of(measured).measured_over_model == pytest.approx(1.05)
