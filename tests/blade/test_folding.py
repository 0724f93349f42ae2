"""Rest angles of a folding blade: quadrature over a rod, a potential, Lagrange's equation differentiated."""

import numpy as np
import pytest
from _folders import INERTIA, MASS, TOP, E, X, blade
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq, minimize_scalar

from bladehold.blade import (
    LAG_RANGE,
    SPREAD_RANGE,
    drag_moment,
    driving_moment,
    folding_blade,
    inertia_bounds,
    lag_band,
    lag_equilibrium_angle,
    lag_frequency,
    straightening_speed,
)

speeds = st.floats(60.0, 600.0)


def rod(e=0.03, length=0.27, line=0.13, **more):
    mass = line * length
    return folding_blade(mass, e, length / 2, mass * length**2 / 3, **more), line, length


def lagrange(body, angle, rate, acceleration, speed, slope):
    """Driving moment by Lagrange's equation, the kinetic energy differentiated numerically.

    theta = psi - zeta; the generalised force on theta that makes this motion, with its sign turned.
    """

    def energy(psi_rate, own_rate, lag):
        e, s, i = body.pivot_radius, body.first_moment, body.inertia
        return 0.5 * (
            body.mass * e**2 * psi_rate**2 + 2 * e * s * psi_rate * own_rate * np.cos(lag) + i * own_rate**2
        )

    h = 1e-5

    def momentum(t):
        lag = angle + rate * t + 0.5 * acceleration * t**2
        psi_rate = speed + slope * t
        own = psi_rate - (rate + acceleration * t)
        return (energy(psi_rate, own + 1.0, lag) - energy(psi_rate, own - 1.0, lag)) / 2.0

    own = speed - rate
    # theta enters through lag = psi - theta, so the slope by theta is minus that by lag
    by_theta = -(energy(speed, own, angle + h) - energy(speed, own, angle - h)) / (2 * h)
    return (momentum(h) - momentum(-h)) / (2 * h) - by_theta


@given(
    st.floats(-3.0, 3.0), st.floats(-200.0, 200.0), st.floats(-1e4, 1e4), speeds, st.floats(-2000.0, 2000.0)
)
def test_driving_moment_is_lagranges_equation(angle, rate, acceleration, speed, slope):
    body = blade(drag_constant=0.0)
    needed = lagrange(body, angle, rate, acceleration, speed, slope)
    driving = float(driving_moment(body, angle, rate, speed, slope))
    # without friction: I zeta'' = driving, so any other zeta'' needs -(I zeta'' - driving) on theta
    scale = body.inertia * abs(acceleration) + abs(driving) + float(body.coupling) * 1e6
    assert needed == pytest.approx(driving - body.inertia * acceleration, abs=1e-6 * scale)


def test_driving_moment_of_a_rod_by_quadrature():
    body, line, length = rod()
    angle, speed = 1.1, 300.0

    def element(s):
        place = E * np.array([1.0, 0.0]) + s * np.array([np.cos(angle), -np.sin(angle)])
        lever = place - E * np.array([1.0, 0.0])
        force = line * speed**2 * place
        return lever[0] * force[1] - lever[1] * force[0]  # forward positive

    forward = quad(element, 0.0, length)[0]
    assert float(driving_moment(body, angle, 0.0, speed, 0.0)) == pytest.approx(-forward, rel=1e-10)


@given(st.floats(0.0, 1.4), st.floats(0.0, 1.4), speeds)
def test_band_ends_against_a_numerical_moment_balance(drag, friction, speed):
    body, line, length = rod(clamp_friction=friction, drag_constant=drag / 500.0**2)

    def pull(zeta):
        return quad(lambda s: line * speed**2 * E * s * np.sin(zeta), 0.0, length)[0]

    air = drag / 500.0**2 * speed**2
    band = lag_band(body, speed)
    for end, moment in (
        (band.leading, air - friction),
        (band.without_friction, air),
        (band.trailing, air + friction),
    ):
        if abs(moment) < 0.999 * pull(np.pi / 2):
            exact = brentq(lambda z, m=moment: pull(z) - m, -np.pi / 2, np.pi / 2, xtol=1e-13)
            assert float(end) == pytest.approx(exact, abs=1e-9)


@pytest.mark.parametrize("drag", [0.2, 1.0, 3.0])
def test_equilibrium_is_the_minimum_of_a_potential(drag):
    body = blade(clamp_friction=0.0, friction_arm=0.0, drag_constant=drag / 400.0**2)

    def potential(zeta):
        """In the turning axes: centrifugal potential -Omega^2/2 sum m r^2 and the work of the drag."""
        r_squared = body.mass * E**2 + INERTIA + 2 * E * MASS * X * np.cos(zeta)
        return -0.5 * 400.0**2 * r_squared - drag * zeta

    lowest = minimize_scalar(potential, bounds=(-1.5, 1.5), method="bounded", options={"xatol": 1e-11})
    band = lag_band(body, 400.0)
    assert float(band.without_friction) == pytest.approx(lowest.x, abs=2e-7)
    assert band.leading == band.without_friction == band.trailing
    known = float(lag_equilibrium_angle(MASS, E, X, 400.0, drag))
    assert float(band.without_friction) == pytest.approx(known, rel=1e-14)


@given(st.floats(0.0, 3.0), st.floats(0.0, 2.0), speeds)
def test_band_is_in_order_and_narrows_with_speed(friction, drag, speed):
    body = blade(clamp_friction=friction, drag_constant=drag / TOP**2)
    slow, fast = lag_band(body, speed), lag_band(body, 1.5 * speed)
    assert slow.leading <= slow.without_friction <= slow.trailing <= slow.folded
    assert fast.half_width <= slow.half_width + 1e-12
    if slow.straightens:
        at_end = driving_moment(blade(drag_constant=0.0), slow.folded, 0.0, speed, 0.0)
        if friction + drag > 0.0:
            held = drag / TOP**2 * speed**2 + body.friction_moment(speed)
            assert float(-at_end) == pytest.approx(float(held), rel=1e-6, abs=1e-9)


@given(st.floats(0.05, 3.0), st.floats(0.01, 3.1))
def test_straightening_speed_is_where_the_band_ends_at_the_angle(friction, angle):
    body = blade(clamp_friction=friction)
    speed = float(straightening_speed(body, angle))
    if not np.isfinite(speed):
        assert E * MASS * X * np.sin(angle) <= float(body.drag_constant + body.friction_constant) * (
            1 + 1e-12
        )
        return
    band = lag_band(body, speed)
    end = band.trailing if angle < np.pi / 2 else band.folded
    assert float(end) == pytest.approx(angle, abs=1e-6 / max(abs(np.cos(angle)), 1e-3))
    assert float(lag_band(body, 1.01 * speed).trailing) < min(angle, np.pi - angle) + 1e-9


def test_blade_held_by_friction_is_visible():
    band = lag_band(blade(clamp_friction=5.0), np.array([100.0, 540.0]))
    assert band.straightens.tolist() == [False, True]
    assert "does not straighten" in LAG_RANGE.breach(np.degrees(band.trailing))
    assert LAG_RANGE.breach(np.degrees(band.trailing[1])) is None


def test_inertia_bounds_hold_an_even_rod_and_breach_is_told():
    body, line, length = rod()
    least, greatest = inertia_bounds(line * length, length / 2)
    assert least < body.inertia < greatest
    assert SPREAD_RANGE.breach(body.spread) is None
    assert "no body has it" in SPREAD_RANGE.breach(blade(inertia=0.9 * MASS * X**2).spread)


def test_lag_frequency_of_an_even_hinged_rod():
    radius = 0.3
    for e in (0.01, 0.03, 0.1):
        body, *_ = rod(e=e, length=radius - e)
        ratio = float(lag_frequency(body, 250.0)) / 250.0
        assert ratio**2 == pytest.approx(1.5 * e / (radius - e), rel=1e-12)
    assert float(lag_frequency(body, 250.0, 2.0)) == 0.0


def test_drag_straight_and_in_motion():
    body = blade()
    assert float(drag_moment(body, 0.0, 0.0, TOP)) == pytest.approx(1.2)
    assert drag_moment(body, 0.0, 30.0, TOP) < drag_moment(body, 0.0, 0.0, TOP)
    assert float(drag_moment(body, 0.0, 10.0, 0.0)) < 0.0 < float(drag_moment(body, 0.0, -10.0, 0.0))


@pytest.mark.parametrize(
    ("name", "value"), [("mass", 0.0), ("inertia", -1.0), ("clamp_friction", -0.1), ("balance_point", np.nan)]
)
def test_impossible_blades_are_refused_by_name(name, value):
    with pytest.raises(ValueError, match=name):
        blade(**{name: value})


def test_broadcasts():
    band = lag_band(blade(clamp_friction=np.array([[0.1], [0.4]])), np.array([200.0, 300.0, 400.0]))
    assert band.trailing.shape == (2, 3)
    alone = lag_band(blade(clamp_friction=0.4), 300.0)
    assert float(band.trailing[1, 1]) == float(alone.trailing)
