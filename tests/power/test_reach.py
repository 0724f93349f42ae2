"""How fast the rotors can turn, against closed forms of each stop."""

import numpy as np
import pytest
from trains import ideal_pack, train

from bladehold.power import STOPS, Controller, Limits, PowerTrain, motor_from_sheet, reach

FACTOR = 4.5e-6
CASE = {"rotors": 6, "fastest": 900.0, "air_temperature": 300.0}


def torque_at(speed):
    return FACTOR * np.square(speed)


def plain(limits):
    """A train whose only loss is copper of constant resistance and friction."""
    motor = motor_from_sheet(13.6, 0.05, 1.0)
    return PowerTrain(motor, Controller(0.0, 0.0, 0.0), ideal_pack(), limits, 1e-9, 250.0)


def test_full_throttle_is_where_motor_and_battery_voltage_meet():
    found = reach(plain(Limits()), torque_at, charge=0.5, **CASE)
    # Omega / Kv + R (k Omega^2 + Qf) Kv = U, the winding at the temperature of the air
    warm = 0.05 * (1 + 0.00393 * (300.0 - 293.15))
    a, b, c = warm * FACTOR * 13.6, 1 / 13.6, warm * 1.0 - 48.0
    wanted = (-b + np.sqrt(b * b - 4 * a * c)) / (2 * a)
    assert STOPS[int(found.stop)] == "full throttle"
    assert found.speed == pytest.approx(wanted, rel=1e-6)


def test_the_motor_current_stops_at_its_torque():
    found = reach(plain(Limits(current=15.0)), torque_at, charge=0.5, **CASE)
    assert STOPS[int(found.stop)] == "current of the motor"
    assert found.speed == pytest.approx(np.sqrt(14.0 / 13.6 / FACTOR), rel=1e-9)


@pytest.mark.parametrize(
    ("limits", "stop"),
    [
        (Limits(temperature=330.0), "temperature of the winding"),
        (Limits(pack_current=40.0), "current of the battery"),
    ],
)
def test_other_stops_come_first_where_they_are_low(limits, stop):
    found = reach(train(limits), torque_at, charge=1.0, **CASE)
    assert STOPS[int(found.stop)] == stop and found.speed == found.by_stop.min()


def test_a_weak_battery_collapses_first():
    found = reach(train(resistance=1.0), torque_at, charge=[1.0, 0.3], **CASE)
    assert [STOPS[at] for at in found.stop] == ["collapse of the battery"] * 2
    assert found.speed[1] < found.speed[0]


def test_what_is_not_met_is_infinite():
    found = reach(plain(Limits()), torque_at, rotors=6, fastest=100.0, charge=1.0, air_temperature=300.0)
    assert np.all(np.isinf(found.by_stop)) and np.isinf(found.speed)


def test_nothing_to_look_at_is_refused():
    with pytest.raises(ValueError, match="fastest"):
        reach(train(), torque_at, rotors=6, fastest=0.0, charge=1.0, air_temperature=300.0)
