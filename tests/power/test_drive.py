"""Battery, cables, controllers and motors together: energy, limits, collapse."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from trains import ideal_pack, train

from bladehold.power import Controller, Limits, PowerTrain, drive_state, motor_from_sheet, thrust_per_power


def balance(state):
    """Chemical power less all that becomes of it, over it."""
    motor = state.motor
    spent = state.internal + state.other
    spent = spent + sum(
        part.sum(axis=-1) for part in (state.controller, state.wiring, motor.copper, motor.iron)
    )
    return (state.chemical - spent - motor.shaft.sum(axis=-1)) / state.chemical


@settings(deadline=None)
@given(
    st.lists(st.floats(50.0, 500.0), min_size=1, max_size=8),
    st.floats(0.05, 1.2),
    st.floats(0.1, 1.0),
    st.floats(0.0, 1.5),
    st.floats(0.0, 0.05),
)
def test_no_energy_is_made_or_lost(speeds, torque, charge, slow, wiring):
    state = drive_state(
        train(controller=Controller(0.004, 0.01, wiring)),
        np.array(speeds),
        torque,
        charge,
        air_temperature=300.0,
        slow_voltage=slow,
    )
    if not state.collapsed and np.all(np.isfinite(state.motor.current)):
        assert abs(balance(state)) < 1e-9


def test_without_losses_between_them_the_battery_gives_the_shaft_power():
    lossless = PowerTrain(
        motor_from_sheet(13.6, 1e-9, 0.0), Controller(0.0, 0.0, 0.0), ideal_pack(), Limits(), 1e-9, 250.0
    )
    state = drive_state(lossless, [400.0, 300.0], [1.0, 0.5], 0.5, air_temperature=300.0)
    assert state.pack_current == pytest.approx((400.0 + 150.0) / 48.0, rel=1e-6)
    assert state.throttle == pytest.approx(np.array([400.0, 300.0]) / 13.6 / 48.0, rel=1e-6)


def test_throttle_grows_with_thrust_and_as_the_battery_empties():
    speed = np.linspace(100.0, 450.0, 20)[:, np.newaxis]
    ones = np.ones((20, 6))
    torque = 4.5e-6 * np.square(speed)
    full, low = (
        drive_state(train(), speed * ones, torque * ones, charge, air_temperature=300.0).throttle[:, 0]
        for charge in (1.0, 0.2)
    )
    assert np.all(np.diff(full) > 0.0) and np.all(low > full)


def test_every_limit_is_told():
    tight = train(Limits(current=10.0, temperature=320.0, pack_current=20.0))
    easy = drive_state(tight, np.full(6, 100.0), 0.1, 1.0, air_temperature=300.0)
    hard = drive_state(tight, np.full(6, 450.0), 1.0, 1.0, air_temperature=300.0)
    assert easy.fits and not hard.fits
    assert hard.over_current.all() and hard.over_temperature.all() and hard.over_pack_current
    assert drive_state(train(), np.full(6, 700.0), 0.1, 1.0, air_temperature=300.0).saturated.all()


def test_a_collapse_is_a_state_not_a_number():
    state = drive_state(train(resistance=0.5), np.full(6, 450.0), 1.0, 0.5, air_temperature=300.0)
    assert state.collapsed and not state.fits and np.isnan(state.pack_voltage)


def test_given_windings_are_kept_and_felt():
    cool, warm = (
        drive_state(train(), np.full(6, 400.0), 0.8, 0.5, air_temperature=300.0, temperature=t)
        for t in (300.0, 380.0)
    )
    assert np.all(warm.temperature == 380.0) and np.all(warm.motor.copper > cool.motor.copper)


def test_grams_for_a_watt():
    assert thrust_per_power(9.80665, 100.0) == pytest.approx(10.0)


@pytest.mark.parametrize("name", ["resistance", "switching", "wiring"])
def test_a_controller_that_gives_power_is_refused(name):
    with pytest.raises(ValueError, match=name):
        Controller(**{"resistance": 0.0, "switching": 0.0, "wiring": 0.0} | {name: -0.1})
