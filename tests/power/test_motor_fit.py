"""Motor constants from bench rows: found again from made-up rows, and what is refused."""

import numpy as np
import pytest

from bladehold.power import fit_by_power, fit_by_voltage, motor_from_sheet, motor_state

TRUE = motor_from_sheet(13.6, 0.046, 1.2)


def rows(noise=0.0, seed=1, count=14):
    random = np.random.default_rng(seed)
    speed = np.linspace(150.0, 500.0, count)
    torque = 4.5e-6 * speed**2 * (1 + 0.3 * np.sin(np.arange(count)))
    state = motor_state(TRUE, speed, torque)
    voltage = state.voltage + noise * random.normal(size=count)
    return speed, torque, voltage, state.current


def test_constants_come_back_from_clean_rows():
    fit = fit_by_voltage(*rows())
    assert fit.motor.speed_constant == pytest.approx(13.6, rel=1e-9)
    assert fit.motor.resistance == pytest.approx(0.046, rel=1e-8)
    assert fit.motor.friction == pytest.approx(1.2 / 13.6, rel=1e-8)
    speed, torque, voltage, current = rows()
    power = fit_by_power(speed, torque, voltage * current, 13.6)
    assert power.motor.resistance == pytest.approx(0.046, rel=1e-6)
    assert power.motor.friction == pytest.approx(1.2 / 13.6, rel=1e-6)


def test_uncertainty_covers_what_noise_does():
    misses = []
    for seed in range(120):
        fit = fit_by_voltage(*rows(0.05, seed))
        misses.append((float(fit.motor.resistance) - 0.046) / fit.uncertainty["resistance"])
    # of 120 draws of Student's t with 12 degrees of freedom 95 % lie within 2.18
    assert 0.88 <= np.mean(np.abs(misses) < 2.18) <= 1.0
    assert np.std(misses) == pytest.approx(1.1, abs=0.25)


def test_a_negative_resistance_is_refused_with_its_value():
    speed, torque, voltage, current = rows()
    with pytest.raises(ValueError, match=r"resistance is negative, -0\.05"):
        fit_by_voltage(speed, torque, voltage - 0.096 * current, current)
    with pytest.raises(ValueError, match="resistance is negative"):
        fit_by_power(speed, torque, 0.9 * torque * speed, 13.6)


def test_battery_volts_at_part_throttle_do_not_pass_for_motor_volts():
    speed, torque, _, current = rows()
    with pytest.raises(ValueError, match="negative"):
        fit_by_voltage(speed, torque, np.full(speed.size, 48.0) - 0.01 * current, current)


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (lambda r: [column[:3] for column in r], "3 rows are too few"),
        (lambda r: [r[0], r[1], r[2][:-1], r[3]], "one length"),
        (lambda r: [r[0], r[1], np.append(r[2][:-1], np.nan), r[3]], "voltage holds"),
        (lambda r: [np.full(14, 300.0), r[1], r[2], np.full(14, 10.0)], "tell the constants apart"),
    ],
)
def test_rows_that_do_not_do_are_refused(change, says):
    with pytest.raises(ValueError, match=says):
        fit_by_voltage(*change(list(rows())))
