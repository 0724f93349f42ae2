"""Reading a swing: times, overshoot, stops and root loads, against forces found another way."""

import numpy as np
import pytest
from _folders import INERTIA, MASS, TOP, E, X, blade
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from bladehold.blade import (
    LagSwing,
    drag_moment,
    lag_swing,
    root_stiffness,
    speed_ramp,
    stop_energy,
    stop_moment,
    stop_pivot_force,
    swing_root_loads,
    unfolding,
)


def made_swing(time, angle):
    nodes = np.asarray(time, dtype=float), np.asarray(angle, dtype=float)
    zero, none = np.zeros(len(time)), np.zeros(len(time) - 1)
    return LagSwing(*nodes, zero, zero, none, none, np.array(0.0), np.array(3.0), np.array(1))


def test_times_and_overshoot_read_by_hand():
    out = unfolding(blade(), made_swing([0, 1, 2, 3, 4, 5], [1.0, 0.4, 0.0, -0.3, -0.1, 0.05]), 0.2)
    assert bool(out.straightened)
    assert float(out.first_time) == pytest.approx(1.5)
    assert float(out.settled_time) == pytest.approx(3.5)
    assert float(out.overshoot) == pytest.approx(0.3)
    assert float(out.end_angle) == 0.05
    assert float(out.stop_energy) == pytest.approx(0.5 * INERTIA * 9.0)


def test_blade_that_stays_folded_is_told():
    out = unfolding(blade(), made_swing([0, 1, 2], [1.0, 0.8, 0.7]), 0.2)
    assert not out.straightened
    assert np.isnan(out.first_time)
    assert np.isnan(out.settled_time)


def test_batch_of_starts():
    body = blade(clamp_friction=np.array([0.1, 0.5, 8.0]))
    swing = lag_swing(
        body, speed_ramp(0.0, TOP, 1.0, 1.0), np.radians(110.0), trailing_stop=np.radians(110.0)
    )
    out = unfolding(body, swing, np.radians(10.0))
    assert out.straightened.tolist() == [True, True, False]
    assert out.first_time[0] < out.first_time[1]
    assert np.all(out.first_time[:2] <= out.settled_time[:2])


def test_stop_moment_against_a_swing_on_a_spring():
    stiffness, rate, pressing = 900.0, 40.0, 6.0
    path = solve_ivp(
        lambda t, y: [y[1], (pressing - stiffness * y[0]) / INERTIA],
        (0.0, 0.01),
        [0.0, rate],
        rtol=1e-10,
        atol=1e-12,
        max_step=1e-5,
    )
    greatest = stiffness * path.y[0].max()
    assert float(stop_moment(INERTIA, rate, stiffness, pressing)) == pytest.approx(greatest, rel=1e-5)
    assert float(stop_moment(INERTIA, 0.0, stiffness, pressing)) == pytest.approx(2 * pressing)
    assert float(stop_moment(INERTIA, 0.0, stiffness)) == 0.0
    deflection = float(stop_moment(INERTIA, rate, stiffness)) / stiffness
    assert 0.5 * stiffness * deflection**2 == pytest.approx(float(stop_energy(INERTIA, rate)))


def test_elastic_blade_on_a_hard_stop_exceeds_the_spring_by_a_tenth():
    """Even cantilever, starting with the velocities of a rigid turn: root moment as a sum over its modes."""
    roots = np.array(
        [
            brentq(lambda b: np.cos(b) * np.cosh(b) + 1.0, (k + 0.5) * np.pi - 1.2, (k + 0.5) * np.pi + 1.2)
            for k in range(12)
        ]
    )
    time = np.linspace(0.0, 2 * np.pi / roots[0] ** 2, 4000)
    moment = (4.0 / roots[:, None] ** 2 * np.sin(roots[:, None] ** 2 * time)).sum(axis=0)
    spring = float(stop_moment(1 / 3, 1.0, root_stiffness(1 / 3, roots[0] ** 2 / (2 * np.pi))))
    assert spring == pytest.approx(roots[0] ** 2 / 3)
    assert moment.max() / spring == pytest.approx(1.10, abs=0.01)
    assert (4.0 / roots**2).sum() / spring < 1.3


def test_stop_at_the_centre_of_percussion_spares_the_pivot():
    centre = INERTIA / (MASS * X)
    assert float(stop_pivot_force(20.0, INERTIA, MASS * X, centre)) == pytest.approx(0.0, abs=1e-9)
    near = float(stop_pivot_force(20.0, INERTIA, MASS * X, 0.01))
    assert near == pytest.approx(20.0 / 0.01 - 20.0 / centre)


def test_root_loads_are_mass_times_acceleration():
    """Centre of mass put into place in standing axes, its path differentiated twice."""
    body = blade(clamp_friction=0.4)
    swing = lag_swing(body, speed_ramp(0.0, TOP, 0.4, 0.1), np.radians(100.0), step=0.02)
    loads = swing_root_loads(body, swing)
    checked = 0
    for i in range(5, swing.time.size - 5, 97):
        h, slope = float(np.diff(swing.time)[i]), swing.acceleration[i]
        if (
            h == 0.0
            or not np.all(swing.sliding[i - 1 : i + 2] == swing.sliding[i])
            or slope != swing.acceleration[i - 1]
        ):
            continue
        turning = np.gradient(swing.rate[i - 1 : i + 2], swing.time[i - 1 : i + 2])[1]
        angle, rate, speed = swing.angle[i], swing.rate[i], swing.speed[i]

        def place(t, angle=angle, rate=rate, speed=speed, turning=turning, slope=slope):
            psi = speed * t + 0.5 * slope * t**2
            own = psi - (angle + rate * t + 0.5 * turning * t**2)
            return E * np.exp(1j * psi) + X * np.exp(1j * own)

        step = 2e-6
        acceleration = (place(step) - 2 * place(0.0) + place(-step)) / step**2
        along = acceleration * np.exp(1j * angle)  # in the axes of the blade
        drag = float(drag_moment(body, angle, rate, speed)) / float(body.drag_arm)
        scale = MASS * (E + X) * (speed**2 + (speed - rate) ** 2)
        assert loads.centrifugal[2 * i] == pytest.approx(-MASS * along.real, abs=2e-3 * scale)
        assert loads.in_plane_shear[2 * i] == pytest.approx(MASS * along.imag + drag, abs=2e-3 * scale)
        grip = float(body.friction_moment(speed))
        assert abs(loads.lag[2 * i]) <= grip * (1 + 1e-9)
        checked += 1
    assert checked > 5


def test_steady_root_loads_of_a_straight_blade():
    body = blade(clamp_friction=2.0)
    swing = lag_swing(body, speed_ramp(TOP, TOP, 0.1, 0.1), 0.0)
    loads = swing_root_loads(body, swing)
    assert loads.centrifugal == pytest.approx(MASS * (E + X) * TOP**2)
    assert loads.lag == pytest.approx(1.2)
    assert loads.in_plane_shear == pytest.approx(1.2 / (1.5 * X))
    assert np.all(loads.flap == 0.0)
