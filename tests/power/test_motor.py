"""The motor as a machine: energy, data sheets of one and two points, what is refused."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.power import (
    COPPER,
    REFERENCE,
    Motor,
    electrical_speed,
    friction_torque,
    motor_from_sheet,
    motor_state,
    speed_at,
    warm_resistance,
)

POSITIVE = st.floats(1e-3, 1e3)


@given(
    st.floats(1.0, 100.0),
    st.floats(1e-3, 1.0),
    st.floats(0.0, 5.0),
    st.floats(0.0, 800.0),
    st.floats(0.0, 5.0),
)
def test_no_power_is_made_or_lost(kv, ohm, idle, speed, torque):
    state = motor_state(motor_from_sheet(kv, ohm, idle), speed, torque, 350.0)
    electric = state.voltage * state.current
    assert electric == pytest.approx(state.shaft + state.iron + state.copper, rel=1e-12, abs=1e-12)
    assert min(state.iron, state.copper) >= -1e-12 * max(electric, 1.0)


def test_a_second_no_load_point_makes_friction_grow_and_is_met():
    motor = motor_from_sheet(13.6, 0.05, 1.0, 20.0, 1.5, 44.0)
    for volts, amps in ((20.0, 1.0), (44.0, 1.5)):
        speed, torque = speed_at(motor, volts, amps)
        assert torque == pytest.approx(0.0, abs=1e-12)
        assert motor_state(motor, speed, 0.0).current == pytest.approx(amps, rel=1e-12)
    assert friction_torque(motor, 500.0) > friction_torque(motor, 100.0)


def test_speed_and_torque_come_back():
    motor = motor_from_sheet(13.6, 0.05, 1.2)
    state = motor_state(motor, 420.0, 0.8)
    speed, torque = speed_at(motor, state.voltage, state.current)
    assert (speed, torque) == (pytest.approx(420.0), pytest.approx(0.8))


def test_copper_warms():
    assert warm_resistance(0.05, REFERENCE) == 0.05
    assert warm_resistance(0.05, REFERENCE + 100.0) == pytest.approx(0.05 * (1 + 100 * COPPER))
    cold, warm = (
        motor_state(motor_from_sheet(13.6, 0.05, 1.0), 400.0, 1.0, t).copper for t in (293.15, 393.15)
    )
    assert warm > cold


def test_electrical_speed_is_counted_by_pole_pairs():
    assert electrical_speed([4000.0, 100.0], 14).tolist() == [56000.0, 1400.0]


@pytest.mark.parametrize("field", ["speed_constant", "torque_constant", "resistance", "friction"])
@pytest.mark.parametrize("value", [-1.0, np.nan, np.inf])
def test_what_no_motor_has_is_refused_by_name(field, value):
    given = {"speed_constant": 10.0, "torque_constant": 0.1, "resistance": 0.05, "friction": 0.1}
    with pytest.raises(ValueError, match=field):
        Motor(**given | {field: value})


def test_nothing_turns_without_resistance():
    with pytest.raises(ValueError, match="resistance must be positive"):
        motor_from_sheet(13.6, 0.0, 1.0)


def test_a_second_point_at_no_higher_speed_is_refused():
    with pytest.raises(ValueError, match="fast_no_load_voltage"):
        motor_from_sheet(13.6, 0.05, 1.0, 44.0, 1.5, 20.0)


def test_broadcasts():
    state = motor_state(motor_from_sheet(np.array([[10.0], [20.0]]), 0.05, 1.0), [100.0, 200.0, 300.0], 0.5)
    assert state.current.shape == state.iron.shape == (2, 3)
