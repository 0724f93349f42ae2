"""Throttle steps, blows on stops, start and stop."""

import numpy as np
import pytest
from _folders import INERTIA, MASS, TOP, E, X, blade
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from bladehold.blade import (
    RootComponents,
    SpeedHistory,
    folding_blade,
    inertial_in_plane_force,
    inertial_lag_moment,
    lag_swing,
    rotor_acceleration,
    start_stop_case,
    stop_case,
    stop_moment,
    swing_case,
    throttle_case,
)

STEADY = RootComponents.of(
    centrifugal=1300.0, normal_shear=40.0, in_plane_shear=8.0, flap=5.0, lag=0.9, feathering=0.1
)


def test_inertial_loads_of_a_rod_by_quadrature():
    length, line, slope = 0.27, 0.13, 3000.0
    rod = folding_blade(line * length, E, length / 2, line * length**3 / 3)
    force = quad(lambda s: line * (E + s) * slope, 0.0, length)[0]
    moment = quad(lambda s: line * (E + s) * s * slope, 0.0, length)[0]
    assert float(inertial_in_plane_force(rod, slope)) == pytest.approx(force, rel=1e-12)
    assert float(inertial_lag_moment(rod, slope)) == pytest.approx(moment, rel=1e-12)


def test_torque_step_speeds_up_the_rotor():
    assert float(rotor_acceleration(1.5, 5e-4)) == pytest.approx(3000.0)


@given(st.floats(0.0, 5000.0), st.floats(0.0, 5000.0))
def test_throttle_step_of_a_clamped_root(up, down):
    body = blade()
    case = throttle_case(body, STEADY, TOP, up, down, events=40.0, folding=False)
    lever = INERTIA + E * MASS * X
    assert float(case.span.lag) == pytest.approx(lever * (up + down), abs=1e-9)
    assert float(case.span.in_plane_shear) == pytest.approx(MASS * (E + X) * (up + down), abs=1e-9)
    assert abs(case.peak.lag) == pytest.approx(max(abs(0.9 + lever * up), abs(0.9 - lever * down)))
    assert float(case.span.centrifugal) == float(case.span.flap) == 0.0
    assert float(case.repeats) == 40.0


def test_pivot_passes_on_no_more_than_its_friction():
    body = blade(clamp_friction=0.5, friction_arm=0.0)
    steady = RootComponents.of(lag=0.2)
    case = throttle_case(body, steady, TOP, np.array([100.0, 4000.0]), 4000.0, events=1.0, folding=True)
    assert case.peak.lag.tolist() == [-0.5, 0.5]
    assert float(case.span.lag[1]) == 1.0


def test_blow_on_a_stop_in_a_case():
    body = blade(clamp_friction=0.0, friction_arm=0.0)
    braking = SpeedHistory(np.array([0.0, 0.2, 0.3]), np.array([TOP, 150.0, 150.0]))
    swing = lag_swing(body, braking, 0.04, leading_stop=0.0)
    case = stop_case(body, swing, 900.0, RootComponents.of(centrifugal=1300.0), events=25.0)
    moment = float(stop_moment(INERTIA, swing.blow_ahead, 900.0))
    assert moment > 0.0
    assert float(case.peak.lag) == pytest.approx(-moment)
    assert float(case.span.lag) == pytest.approx(moment)
    assert float(case.span.in_plane_shear) == pytest.approx(moment * MASS * X / INERTIA)
    assert float(case.repeats) == 25.0
    pressed = stop_case(body, swing, 900.0, STEADY, events=25.0, pressing_moment=2.0)
    assert float(pressed.history.lag[3]) == 0.9  # no blow on the trailing stop, nothing pressing


def test_swing_in_a_case_ends_at_the_steady_loads():
    body = blade()
    ramp = SpeedHistory(np.array([0.0, 0.5, 1.0]), np.array([0.0, TOP, TOP]))
    case = swing_case("start", body, lag_swing(body, ramp, 1.0), STEADY, TOP, events=1.0)
    assert case.history.normal_shear[0] == 0.0
    assert case.history.normal_shear[-1] == pytest.approx(40.0)
    assert case.history.flap[-1] == pytest.approx(5.0)
    assert case.history.centrifugal[-1] == pytest.approx(MASS * (E + X) * TOP**2, rel=2e-3)
    assert float(case.span.feathering) == pytest.approx(0.1)


def test_start_and_stop_is_one_cycle_of_everything():
    case = start_stop_case(STEADY, flights=2.0)
    for part in ("centrifugal", "normal_shear", "in_plane_shear", "flap", "lag", "feathering"):
        assert float(getattr(case.span, part)) == float(getattr(STEADY, part))
        assert float(getattr(case.peak, part)) == float(getattr(STEADY, part))
    assert float(case.repeats) == 2.0
