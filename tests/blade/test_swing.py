"""The swing of a folding blade: energy, angular momentum, frequencies, and another integrator."""

import numpy as np
import pytest
from _folders import INERTIA, TOP, angular_momentum, blade, books, kinetic_energy
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from bladehold.blade import (
    SpeedHistory,
    driving_moment,
    lag_band,
    lag_frequency,
    lag_swing,
    speed_ramp,
    stop_energy,
    straightening_speed,
)

RAMP = speed_ramp(0.0, TOP, 0.5, 0.2)
NO_FRICTION = {"clamp_friction": 0.0, "friction_arm": 0.0}
VACUUM = {"drag_constant": 0.0}


def check_books(body, swing):
    found = books(body, swing)
    ends = [(swing.angle[i], swing.rate[i], swing.speed[i]) for i in (0, -1)]
    gained = np.subtract(*(kinetic_energy(body, *end) for end in reversed(ends)))
    turned = np.subtract(*(angular_momentum(body, *end) for end in reversed(ends)))
    before, after = swing.rate[:-1], swing.rate[1:]
    blow = (np.diff(swing.time) == 0.0) & (before != after)
    lost = np.sum(np.where(blow, stop_energy(INERTIA, before) - stop_energy(INERTIA, after), 0.0))
    # a blow also makes the hub push on: its torque impulse, times Omega, is work of the motor
    lever = body.inertia + body.coupling * np.cos(swing.angle[:-1])
    push = np.where(blow, lever * (before - after), 0.0)
    motor = found["motor"] + np.sum(push * swing.speed[:-1])
    impulse = found["impulse"] + np.sum(push)
    energy = motor - gained - found["friction"] - found["drag"] - lost
    momentum = impulse - turned - found["drag_impulse"]
    return energy / motor, momentum / impulse, lost


@pytest.mark.parametrize("friction", [0.0, 0.3, 1.2])
@pytest.mark.parametrize("start", [30.0, 100.0, 160.0])
def test_work_of_the_motor_is_accounted_for(friction, start):
    body = blade(clamp_friction=friction)
    energy, momentum, _ = check_books(body, lag_swing(body, RAMP, np.radians(start)))
    assert abs(energy) < 3e-6
    assert abs(momentum) < 3e-6


@pytest.mark.parametrize("restitution", [0.0, 0.5])
def test_blows_are_in_the_books_too(restitution):
    body = blade(clamp_friction=0.05)
    braking = SpeedHistory(np.array([0.0, 0.05, 0.2, 0.25]), np.array([TOP, TOP, 100.0, 100.0]))
    swing = lag_swing(body, braking, 1.0, leading_stop=0.0, restitution=restitution, step=0.05)
    energy, momentum, lost = check_books(body, swing)
    assert swing.blows > 0
    assert lost > 0.0
    assert abs(energy) < 3e-6
    assert abs(momentum) < 3e-6
    assert swing.angle.min() == 0.0


def test_errors_fall_with_the_fourth_power_of_the_step():
    body = blade(drag_constant=1e-7)
    exact = lag_swing(body, RAMP, 1.5, step=0.025).angle.min()
    errors = [abs(float(lag_swing(body, RAMP, 1.5, step=step).angle.min() - exact)) for step in (0.4, 0.2)]
    assert errors[1] < 2e-5
    assert 8.0 < errors[0] / errors[1] < 40.0


def another_integrator(body, start, ramp, hold, stop_at=None):
    """Backward differences with friction made smooth over 1e-3 rad/s."""

    def slopes(t, y, speed, slope, t0):
        omega = speed + slope * (t - t0)
        grip = body.friction_moment(omega) * np.tanh(y[1] / 1e-3)
        return [y[1], float((driving_moment(body, y[0], y[1], omega, slope) - grip) / body.inertia)]

    options = {"method": "LSODA", "rtol": 1e-9, "atol": 1e-11}
    first = solve_ivp(slopes, (0.0, ramp), [start, 0.0], args=(0.0, TOP / ramp, 0.0), **options)
    last = solve_ivp(slopes, (ramp, ramp + hold), first.y[:, -1], args=(TOP, 0.0, ramp), **options)
    return np.concatenate([first.t, last.t]), np.concatenate([first.y, last.y], axis=1)


@pytest.mark.parametrize(("friction", "start"), [(0.3, 90.0), (1.0, 120.0), (0.0, 150.0)])
def test_against_another_integrator(friction, start):
    body = blade(clamp_friction=friction)
    time, state = another_integrator(body, np.radians(start), 0.5, 0.05)
    swing = lag_swing(body, speed_ramp(0.0, TOP, 0.5, 0.05), np.radians(start), step=0.1)
    at = np.linspace(0.0, 0.55, 12)
    ours, theirs = np.interp(at, swing.time, swing.angle), np.interp(at, time, state[0])
    # smooth friction creeps 1e-3 rad/s where ours holds, 5e-5 rad in all; straight lines between nodes
    assert ours == pytest.approx(theirs, abs=4e-4)
    assert float(swing.angle.min()) == pytest.approx(state[0].min(), abs=2e-4)


@pytest.mark.parametrize(("e", "speed"), [(0.01, 200.0), (0.03, 500.0), (0.08, 350.0)])
def test_small_swings_have_the_frequency_of_the_closed_form(e, speed):
    body = blade(pivot_radius=e, **NO_FRICTION, **VACUUM)
    swing = lag_swing(body, speed_ramp(speed, speed, 0.2, 0.2), 1e-3, step=0.1)
    crossing = np.flatnonzero((swing.angle[:-1] > 0.0) & (swing.angle[1:] <= 0.0))
    before, after = swing.angle[crossing], swing.angle[crossing + 1]
    times = swing.time[crossing] + np.diff(swing.time)[crossing] * before / (before - after)
    measured = 2.0 * np.pi * (times.size - 1) / (times[-1] - times[0])
    assert times.size > 3
    assert measured == pytest.approx(float(lag_frequency(body, speed)), rel=2e-5)


def test_swings_without_loss_keep_their_amplitude():
    body = blade(**NO_FRICTION, **VACUUM)
    swing = lag_swing(body, speed_ramp(300.0, 300.0, 1.0, 1.0), 1.2)
    # Jacobi's integral in axes that turn at a steady speed
    relative = 0.5 * INERTIA * swing.rate**2 - body.coupling * 300.0**2 * np.cos(swing.angle)
    assert np.ptp(relative) < 3e-4 * body.coupling * 300.0**2


@settings(max_examples=25, deadline=None)
@given(st.floats(0.02, 2.0), st.floats(-120.0, 170.0), st.floats(0.2, 2.0))
def test_a_blade_comes_to_rest_within_its_band_or_folded(friction, start, ramp):
    body = blade(clamp_friction=friction)
    swing = lag_swing(body, speed_ramp(0.0, TOP, ramp, 3.0), np.radians(start))
    assert swing.rate[-1] == 0.0
    # drag of a blade at an angle differs a little from that of a straight one: moments, not angles
    left = driving_moment(body, swing.angle[-1], 0.0, TOP, 0.0)
    assert abs(left) <= body.friction_moment(TOP) * (1.0 + 1e-9)
    band, turned = lag_band(body, TOP), np.cos(swing.angle[-1])
    if turned > 0.0:
        end = swing.angle[-1] - 2.0 * np.pi * np.round(swing.angle[-1] / (2.0 * np.pi))
        assert band.leading - 1e-3 <= end <= band.trailing + 1e-3


def test_slow_start_breaks_loose_at_the_closed_form_speed():
    body = blade(clamp_friction=0.4, drag_arm=1e6)  # drag that does not know the angle
    start = np.radians(120.0)
    expected = float(straightening_speed(body, start))
    swing = lag_swing(body, speed_ramp(0.0, 1.001 * expected, 2000.0, 1e-3), start)
    loose = swing.speed[np.flatnonzero(swing.sliding)[0]]
    assert float(loose) == pytest.approx(expected, rel=1e-4)


def test_held_blade_never_moves_and_costs_no_steps():
    swing = lag_swing(blade(clamp_friction=100.0), RAMP, 1.0)
    assert np.all(swing.angle == 1.0)
    assert swing.time.size == 3


def test_braking_swings_the_blade_forward_onto_its_stop():
    body = blade(clamp_friction=0.0, friction_arm=0.0)
    history = SpeedHistory(np.array([0.0, 0.2, 0.3]), np.array([TOP, 150.0, 150.0]))
    start = float(lag_band(body, TOP).without_friction)
    free = lag_swing(body, history, start)
    stopped = lag_swing(body, history, start, leading_stop=0.0)
    assert free.angle.min() < -0.01
    assert stopped.angle.min() == 0.0
    assert stopped.blow_ahead > 0.0 == stopped.blow_behind
    fallen = free.rate[np.flatnonzero(free.angle < 0.0)[0]]
    assert float(stopped.blow_ahead) == pytest.approx(-float(fallen), rel=0.05)


def test_bouncing_ends_at_rest_on_the_stop():
    body = blade(clamp_friction=0.0, friction_arm=0.0, drag_constant=0.0)
    swing = lag_swing(body, speed_ramp(300.0, 300.0, 1.0, 1.0), 0.5, leading_stop=0.2, restitution=0.6)
    assert swing.angle[-1] == 0.2
    assert swing.rate[-1] == 0.0
    assert 3 < swing.blows < 60
    first = float(swing.blow_ahead)
    by_energy = np.sqrt(2 * body.coupling * 300.0**2 * (np.cos(0.2) - np.cos(0.5)) / INERTIA)
    assert first == pytest.approx(float(by_energy), rel=1e-5)


def test_batch_equals_single_cases():
    starts, friction = np.radians([20.0, 90.0, 150.0]), np.array([[0.1], [0.9]])
    together = lag_swing(blade(clamp_friction=friction), RAMP, starts, leading_stop=[[0.0], [-np.inf]])
    assert together.angle.shape[1:] == (2, 3)
    for i, stop in enumerate((0.0, -np.inf)):
        for j, start in enumerate(starts):
            alone = lag_swing(blade(clamp_friction=friction[i, 0]), RAMP, start, leading_stop=stop)
            assert together.angle[-1, i, j] == alone.angle[-1]
            assert together.blow_ahead[i, j] == alone.blow_ahead
            assert together.blows[i, j] == alone.blows


@pytest.mark.parametrize("seed", range(3))
def test_odd_blades_and_histories_stay_between_their_stops(seed):
    odd = np.random.default_rng(seed)
    pick, count = odd.choice, 60
    body = blade(
        pivot_radius=pick([0.0, 0.001, 0.03, 0.2], count),
        clamp_friction=pick([0.0, 1e-6, 0.01, 0.3, 3.0], count),
        friction_arm=pick([0.0, 0.0004, 0.003], count),
        drag_constant=pick([0.0, 1.2, 12.0], count) / TOP**2,
    )
    time = np.cumsum(odd.uniform(0.01, 0.2, (count, 5)), axis=-1)
    history = SpeedHistory(time, pick([0.0, 1.0, 100.0, TOP], (count, 5)))
    low, high = pick([-np.inf, 0.0, -0.3], count), pick([np.inf, 2.0, 0.5], count)
    start = np.clip(odd.uniform(-1.0, 2.0, count), low, high)
    bounce = pick([0.0, 0.5, 0.9, 1.0], count)
    swing = lag_swing(body, history, start, pick([0.0, 30.0, -30.0], count), low, high, bounce)
    assert np.all((swing.angle >= low) & (swing.angle <= high))
    assert np.all(np.isfinite(swing.rate))
    assert np.all(swing.time[-1] == time[:, -1])
    assert np.all(np.diff(swing.time, axis=0) >= 0.0)


def test_friction_that_stops_a_blade_at_rest_speed_does_not_throw_it():
    """A hub at rest, nearly: the friction's own time scale, not the rotor's, must set the step."""
    odd = {"pivot_radius": 0.001, "clamp_friction": 3.0, "friction_arm": 0.003, "inertia": 4.469e-4}
    body = blade(drag_constant=12.0 / TOP**2, **odd)
    swing = lag_swing(body, speed_ramp(0.02064528, 1.0, 0.25277, 0.01), 0.15183502, start_rate=-1.456)
    assert float(swing.angle[-1]) == pytest.approx(0.15183502 - 1.456**2 * 4.469e-4 / (2 * 3.0), rel=1e-5)


def test_faulty_input_is_refused():
    with pytest.raises(ValueError, match="times"):
        lag_swing(blade(), SpeedHistory(np.array([0.0, 0.0]), np.array([0.0, 1.0])), 0.1)
    with pytest.raises(ValueError, match="speed"):
        lag_swing(blade(), SpeedHistory(np.array([0.0, 1.0]), np.array([0.0, -1.0])), 0.1)
    with pytest.raises(ValueError, match="start_angle"):
        lag_swing(blade(), RAMP, -0.1, leading_stop=0.0)
