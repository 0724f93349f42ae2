"""How long a battery lasts, against closed forms and an independent integration."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from trains import ideal_pack, train

from bladehold.power import (
    ENDS,
    Controller,
    Flight,
    Limits,
    PowerTrain,
    battery_draw,
    controller_demand,
    discharge,
    energy_at_rest,
    longest_flight,
    matched_power,
    motor_from_sheet,
    open_voltage,
    pack_resistance,
    slow_resistance,
)

HOVER = {"air_temperature": 300.0, "cutoff_voltage": 30.0, "reserve": 0.2}


def even(speed=400.0, torque=0.8, minutes=(60.0,), rotors=6):
    shape = (len(minutes), rotors)
    return Flight(np.full(shape, speed), np.full(shape, torque), 60.0 * np.array(minutes))


def lossless():
    motor = motor_from_sheet(13.6, 1e-9, 0.0)
    return PowerTrain(motor, Controller(0.0, 0.0, 0.0), ideal_pack(), Limits(), 1e-9, 250.0)


def test_without_losses_it_is_energy_over_power():
    found = discharge(lossless(), even(minutes=(90.0,)), **HOVER)
    energy = 48.0 * 32 * 3600.0 * 0.8
    assert found.ends == pytest.approx(energy / (6 * 400.0 * 0.8), rel=1e-6)
    assert ENDS[int(found.why)] == "charge at its reserve"
    assert found.energy == pytest.approx(energy, rel=1e-6)
    assert longest_flight(lossless(), even(), **HOVER).ends == pytest.approx(float(found.ends), rel=1e-6)


def test_charge_branch_and_voltage_follow_their_equations():
    one, flight = train(other_power=0.0), even(minutes=(25.0,))
    wanted, motor = controller_demand(one, flight.speed[0], flight.torque[0])
    pack = one.pack

    def slope(_, y):
        rest = open_voltage(pack, y[0]) - y[1]
        _, current, _ = battery_draw(one, wanted, motor, rest, pack_resistance(pack, y[0]))
        return [-current / pack.capacity, (slow_resistance(pack) * current - y[1]) / pack.slow_time]

    exact = solve_ivp(slope, (0.0, 1500.0), [1.0, 0.0], rtol=1e-9, atol=1e-10).y[0, -1]
    # The windings are held at their reference, as the equation above has them, by cooling without end.
    cooled = PowerTrain(one.motor, one.controller, pack, one.limits, 1e-9, 250.0)
    held = {**HOVER, "air_temperature": 293.15}
    misses = [
        abs(float(discharge(cooled, flight, steps=steps, **held).charge[-1]) - exact)
        for steps in (10, 20, 160)
    ]
    assert misses[2] < 2e-6
    assert misses[1] < 0.4 * misses[0]  # of second order


def test_the_cut_off_voltage_may_end_it_before_the_charge():
    found = discharge(train(), even(minutes=(90.0,)), air_temperature=300.0, cutoff_voltage=44.0, reserve=0.2)
    assert ENDS[int(found.why)] == "voltage at its least" and 0.2 < found.charge[-1] < 1.0
    at = np.searchsorted(found.time, found.ends)
    assert found.voltage[: at - 1].min() > 44.0


def test_full_throttle_ends_it_where_the_battery_gives_no_more_than_the_motor_needs():
    """Without losses a battery whose voltage falls straight from V1 to V0 ends where it meets Omega / Kv; its
    energy till then is C (V1^2 - V^2) / (2 (V1 - V0)).
    """
    pack = replace(ideal_pack(), charge=np.array([0.0, 1.0]), voltage=np.array([40.0, 50.0]))
    one = replace(lossless(), pack=pack)
    needed = 44.0
    flight = even(speed=needed * 13.6, minutes=(60.0,))
    found = discharge(one, flight, **HOVER)
    assert ENDS[int(found.why)] == "full throttle is not enough"
    energy = 32 * 3600.0 * (50.0**2 - needed**2) / 20.0
    assert found.ends == pytest.approx(energy / (6 * needed * 13.6 * 0.8), rel=1e-4)
    assert longest_flight(one, flight, **HOVER).ends == pytest.approx(float(found.ends), rel=1e-4)


def test_a_collapse_ends_it():
    found = discharge(train(resistance=0.5), even(), air_temperature=300.0, cutoff_voltage=1.0, reserve=0.1)
    assert ENDS[int(found.why)] == "collapse of the battery" and np.isfinite(found.ends)


def test_a_short_flight_lasts_and_its_segments_follow_each_other():
    flight = Flight(
        np.array([[300.0] * 6, [450.0] * 6]), np.array([[0.5] * 6, [1.0] * 6]), np.array([300.0, 120.0])
    )
    found = discharge(train(), flight, **HOVER)
    assert np.isinf(found.ends) and ENDS[int(found.why)] == "lasts"
    assert found.time[-1] == pytest.approx(420.0) and np.all(np.diff(found.segment) >= 0)
    first = found.segment == 0
    assert found.current[first].max() < found.current[~first].min()
    assert found.temperature[-1] > found.temperature[0] == 300.0


def test_a_heavier_load_never_lasts_longer_and_batches_are_rows():
    torque = np.linspace(0.4, 1.2, 9)
    shape = (9, 1, 6)
    flights = Flight(np.full(shape, 400.0), np.broadcast_to(torque[:, None, None], shape), np.ones((9, 1)))
    found = longest_flight(train(), flights, **HOVER)
    assert np.all(np.diff(found.ends) < 0.0)
    alone = longest_flight(train(), Flight(flights.speed[4], flights.torque[4], flights.duration[4]), **HOVER)
    assert found.ends[4] == pytest.approx(float(alone.ends), rel=1e-3)


def test_energy_at_rest_and_the_matched_load():
    assert energy_at_rest(train()) == pytest.approx(32 * 3600.0 * 45.0)
    assert energy_at_rest(train(), 1.0, 0.5) == pytest.approx(16 * 3600.0 * 47.5)
    assert matched_power(train(), 1.0) == pytest.approx(50.0**2 / 0.08, rel=1e-9)


@pytest.mark.parametrize("resistance", [0.16, 0.18])
def test_a_battery_that_collapses_half_way_ends_the_longest_flight_too(resistance):
    # Slow and heavy: the voltage of the motor is small, so that full throttle does not end it sooner.
    flight = Flight(np.full((1, 6), 200.0), np.full((1, 6), 2.4), np.array([600.0]))
    rules = {**HOVER, "cutoff_voltage": 1.0}
    longest = longest_flight(train(resistance=resistance), flight, **rules)
    # In short steps, for the battery gives way within a minute or two.
    short = Flight(flight.speed, flight.torque, np.array([1.2 * float(longest.ends)]))
    once = discharge(train(resistance=resistance), short, **rules)
    assert np.isfinite(longest.ends)
    assert ENDS[int(longest.why)] == ENDS[int(once.why)] == "collapse of the battery"
    assert longest.ends == pytest.approx(float(once.ends), rel=0.1)
