"""The rigid blade: closed forms, numerical integrals over a blade, and limits."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from bladehold.blade import (
    LAG_RANGE,
    AirLoads,
    BladeBody,
    centrifugal_force,
    coning_moment,
    lag_equilibrium_angle,
    proof_flap_moment,
    rigid_root_loads,
)

positive = st.floats(0.01, 1.0)


def air_loads(flap=7.0):
    values = {"lift": 40.0, "drag": 4.0, "flap": flap, "lag": 0.6}
    swings = {"lift_swing": 16.0, "drag_swing": 1.6, "flap_swing": 0.5 * flap, "lag_swing": 0.3}
    return AirLoads(**{name: np.asarray(value) for name, value in {**values, **swings}.items()})


def test_centrifugal_force_of_a_weighed_blade():
    # 85 g at 0.30 m and 3000 rpm, by hand: 0.085 * 0.30 * (100 pi)^2
    assert float(centrifugal_force(0.085, 0.05, 0.25, 100 * np.pi)) == pytest.approx(2516.7, abs=0.05)


def test_centrifugal_force_equals_the_integral_over_any_mass_distribution():
    e, length, omega = 0.03, 0.27, 330.0
    density = lambda s: 0.4 - 1.1 * s  # kg/m, tapering  # noqa: E731
    mass = quad(density, 0, length)[0]
    balance = quad(lambda s: s * density(s), 0, length)[0] / mass
    exact = quad(lambda s: density(s) * (e + s) * omega**2, 0, length)[0]
    assert float(centrifugal_force(mass, e, balance, omega)) == pytest.approx(exact, rel=1e-12)


@given(st.floats(0.0, 0.3), st.floats(50.0, 600.0))
def test_coning_relief_never_exceeds_that_of_a_real_mass_distribution(beta, omega):
    e, length, line = 0.03, 0.27, 0.15
    mass, balance = line * length, length / 2
    exact = quad(lambda s: line * omega**2 * (e + s * np.cos(beta)) * s * np.sin(beta), 0, length)[0]
    relief = float(coning_moment(mass, e, balance, omega, beta))
    assert relief <= exact * (1 + 1e-9)
    assert relief >= 0.7 * exact


def test_coning_relief_is_exact_for_a_point_mass():
    beta, omega, e, x, mass = 0.05, 300.0, 0.03, 0.12, 0.03
    by_hand = mass * omega**2 * (e + x * np.cos(beta)) * x * np.sin(beta)
    assert float(coning_moment(mass, e, x, omega, beta)) == pytest.approx(by_hand, rel=1e-12)


def test_too_much_upward_angle_loads_the_root_downward():
    blade = BladeBody(0.034, 0.030, 0.102, folding=True, upward_angle=np.radians(6.0))
    loads = rigid_root_loads(blade, air_loads(flap=6.4), 540.0)
    assert float(loads.flap_mean) < 0.0
    assert float(loads.flap_peak) == pytest.approx(abs(float(loads.flap_mean)) + 0.5 * 6.4)
    proof = float(proof_flap_moment(blade, 540.0, 2.0))
    assert proof == pytest.approx(2 * float(coning_moment(0.034, 0.030, 0.102, 540.0, np.radians(6.0), 1.4)))


def test_lag_equilibrium_against_numerical_moment_balance():
    mass, length, e, omega, drag_moment = 0.04, 0.28, 0.03, 250.0, 0.9
    line = mass / length

    def about_pivot(zeta):
        """Centrifugal moment of a rod turned by zeta: cross product of the element place and its force."""
        return quad(lambda s: line * omega**2 * e * s * np.sin(zeta), 0, length)[0]

    zeta = brentq(lambda z: about_pivot(z) - drag_moment, 0.0, 1.5)
    assert float(lag_equilibrium_angle(mass, e, length / 2, omega, drag_moment)) == pytest.approx(
        zeta, rel=1e-9
    )


def test_blade_that_cannot_straighten_is_visible():
    angle = np.degrees(lag_equilibrium_angle(0.04, 0.03, 0.14, 20.0, 0.9))
    assert angle == pytest.approx(90.0)
    assert "does not straighten" in (LAG_RANGE.breach(angle) or "")


def test_loads_by_hand():
    blade = BladeBody(mass=0.024, pivot_radius=0.028, balance_point=0.092, folding=True)
    loads = rigid_root_loads(blade, air_loads(), 500.0)
    assert float(loads.centrifugal) == pytest.approx(0.024 * 0.120 * 250000.0)
    assert float(loads.flap_peak) == pytest.approx(7.0 * 1.5)
    assert float(loads.lift) == pytest.approx(40.0 * 1.4)
    assert float(loads.in_plane) == pytest.approx(np.hypot(720.0, 4.0 * 1.4))
    assert float(loads.lag_moment) == 0.0
    clamped = rigid_root_loads(BladeBody(0.024, 0.028, 0.092, folding=False), air_loads(), 500.0)
    assert float(clamped.lag_moment) == pytest.approx(0.6 * 1.5)
    assert float(clamped.lag_angle) == 0.0


@given(positive, st.floats(0.0, 0.05))
def test_an_upward_angle_only_ever_lowers_the_mean(mass, angle):
    flat = rigid_root_loads(BladeBody(mass, 0.03, 0.1, True), air_loads(), 400.0)
    raised = rigid_root_loads(BladeBody(mass, 0.03, 0.1, True, angle), air_loads(), 400.0)
    assert raised.flap_mean <= flat.flap_mean + 1e-12


def test_the_turning_of_the_aircraft_is_that_of_an_even_rod_at_least():
    mass, e, x, omega, rate = 0.03, 0.03, 0.15, 400.0, 2.0
    blade = BladeBody(mass, e, x, folding=True)
    still, turning = (rigid_root_loads(blade, air_loads(), omega, q) for q in (0.0, rate))
    rod = 2.0 * omega * rate * (mass * (2.0 * x) ** 2 / 3.0 + e * mass * x)
    more = float(turning.flap_cyclic - still.flap_cyclic)
    assert rod <= more <= 1.06 * rod
    assert float(turning.lift - still.lift) == pytest.approx(2.0 * omega * rate * mass * (e + x))
    assert float(turning.lift_swing - still.lift_swing) == pytest.approx(2.0 * omega * rate * mass * (e + x))
    assert turning.flap_mean == still.flap_mean


def test_broadcasts_over_conditions():
    blade = BladeBody(0.024, 0.028, 0.092, folding=True)
    together = rigid_root_loads(blade, air_loads(flap=np.array([2.0, 7.0])), np.array([[300.0], [500.0]]))
    alone = rigid_root_loads(blade, air_loads(flap=7.0), 500.0)
    assert together.in_plane.shape == (2, 1)
    assert together.flap_peak.shape == (2, 2)
    assert float(together.flap_peak[1, 1]) == float(alone.flap_peak)
