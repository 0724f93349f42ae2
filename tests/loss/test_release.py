"""Throws: vacuum in closed form, drag against an independent integrator, the farthest of all angles."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import minimize_scalar

from bladehold.air import GRAVITY
from bladehold.loss import (
    best_vacuum_angle,
    drag_rate,
    farthest_throw,
    greatest_vacuum_range,
    lost_pull,
    release_speed,
    rotation_energy,
    thrown,
    translation_energy,
    vacuum_range,
)

speeds, heights = st.floats(5.0, 250.0), st.floats(0.0, 300.0)


def integrated(speed, height, angle, rate):
    """Distance, time, speed and dive of a throw, by Dormand and Prince's rule of order 8."""

    def rates(_, state):
        drag = rate * np.hypot(state[2], state[3])
        return [state[2], state[3], -drag * state[2], -GRAVITY - drag * state[3]]

    def ground(_, state):
        return state[1]

    ground.terminal, ground.direction = True, -1
    start = [0.0, height, speed * np.cos(angle), speed * np.sin(angle)]
    done = solve_ivp(rates, (0.0, 4000.0), start, method="DOP853", rtol=1e-10, atol=1e-10, events=ground)
    x, _, across, up = done.y_events[0][-1]
    return x, done.t_events[0][-1], np.hypot(across, up), np.arctan2(-up, across)


CASES = [
    (speed, height, angle, rate)
    for speed, height in ((60.0, 0.0), (94.248, 1.5), (130.0, 120.0))
    for angle in (0.05, 0.4, 0.9, 1.5)
    for rate in (1e-3, 8e-3, 0.15)
]


def test_throws_through_air_are_those_of_an_independent_integrator():
    found = thrown(*np.transpose(CASES))
    wanted = np.transpose([integrated(*case) for case in CASES])
    assert found.distance == pytest.approx(wanted[0], rel=2e-5)
    assert found.time == pytest.approx(wanted[1], rel=2e-5)
    assert found.speed == pytest.approx(wanted[2], rel=2e-5)
    assert found.dive == pytest.approx(wanted[3], rel=2e-5)


@pytest.mark.parametrize("rate", [0.5, 5.0, 20.0, 50.0])
def test_what_falls_at_its_terminal_speed_lands_too(rate):
    """Far lighter than any blade: an early end of the integration would leave it in the air."""
    cases = [(94.248, height, 0.4, rate) for height in (0.5, 80.0, 500.0)]
    found, wanted = thrown(*np.transpose(cases)), np.transpose([integrated(*case) for case in cases])
    assert found.distance == pytest.approx(wanted[0], rel=2e-5)
    assert found.time == pytest.approx(wanted[1], rel=2e-5)
    assert found.speed == pytest.approx(wanted[2], rel=2e-5)


@given(speeds, heights, st.floats(0.0, 1.55))
def test_without_air_a_throw_is_a_parabola(speed, height, angle):
    found = thrown(speed, height, angle, 0.0)
    assert found.distance == pytest.approx(vacuum_range(speed, height, angle), rel=1e-6, abs=1e-6)
    assert found.speed == pytest.approx(np.sqrt(speed**2 + 2 * GRAVITY * height), rel=1e-6)


@given(speeds, st.floats(0.0, 150.0), st.floats(0.02, 1.5), st.floats(1e-4, 0.3), st.floats(1.1, 3.0))
def test_drag_never_carries_farther(speed, height, angle, rate, more):
    some, much = thrown(speed, height, angle, np.array([rate, more * rate])).distance
    assert much <= some * (1 + 1e-4) <= vacuum_range(speed, height, angle) * (1 + 2e-4)


@given(speeds, heights, st.floats(0.0, 1.0))
def test_no_angle_flies_farther_than_the_best(speed, height, share):
    best = best_vacuum_angle(speed, height)
    most = vacuum_range(speed, height, best)
    assert most == pytest.approx(greatest_vacuum_range(speed, height), rel=1e-9)
    assert vacuum_range(speed, height, share * np.pi / 2) <= most * (1 + 1e-12)
    held = best_vacuum_angle(speed, height, share * best)
    assert held == pytest.approx(share * best)


@pytest.mark.parametrize(("height", "rate"), [(1.5, 2e-3), (1.5, 0.12), (120.0, 2e-3), (0.0, 0.02)])
def test_the_farthest_throw_is_the_optimum(height, rate):
    angle, landing = farthest_throw(90.0, height, np.pi / 2, rate)
    best = minimize_scalar(
        lambda a: -integrated(90.0, height, a, rate)[0], bounds=(0.0, 1.4), method="bounded"
    )
    assert landing.distance == pytest.approx(-best.fun, rel=2e-4)
    assert thrown(90.0, height, angle, rate).distance == pytest.approx(landing.distance)


def test_a_level_plane_throws_level():
    angle, landing = farthest_throw(np.array([[60.0], [90.0]]), 80.0, 0.0, np.array([1e-3, 0.1]))
    assert np.all(angle == 0.0) and landing.distance.shape == (2, 2)


def test_a_throw_along_the_ground_lands_where_it_starts():
    assert thrown(50.0, 0.0, 0.0, 0.01).distance == 0.0


def test_impossible_throws_are_refused():
    no_number = (10.0, 1.0, float("nan"), 0.0), (10.0, 1.0, 0.1, float("inf"))
    for bad in ((0.0, 1.0, 0.1, 0.0), (10.0, -1.0, 0.1, 0.0), (10.0, 1.0, 0.1, -1.0), *no_number):
        with pytest.raises(ValueError, match="speed must be above 0"):
            thrown(*bad)


def test_even_a_feather_lands():
    landing = thrown(50.0, 300.0, 0.1, np.array([500.0, 1e12]))
    assert landing.time == pytest.approx(300.0 / np.sqrt(GRAVITY / np.array([500.0, 1e12])), rel=1e-3)


@given(st.floats(0.01, 1.0), st.floats(0.05, 1.0), st.floats(10.0, 900.0), st.floats(1e-5, 0.1))
def test_all_energy_of_a_blade_is_that_of_its_turning(mass, radius, turning, inertia):
    whole = rotation_energy(inertia + mass * radius**2, turning)
    parts = translation_energy(mass, release_speed(turning, radius)) + rotation_energy(inertia, turning)
    assert parts == pytest.approx(whole)
    assert lost_pull(mass, radius, turning) == pytest.approx(mass * radius * turning**2)


def test_drag_rate_is_half_density_drag_area_over_mass():
    assert drag_rate(0.01, 0.04, 1.2) == pytest.approx(0.15)
