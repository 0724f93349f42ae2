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
    clamped_root_share,
    coning_relief_moment,
    lag_equilibrium_angle,
    rigid_root_loads,
)

positive = st.floats(0.01, 1.0)


def air_loads(lift=40.0, drag=4.0, moment=7.0, drag_moment=0.6, flap_share=0.5, lift_share=0.4):
    values = (lift, drag, moment, drag_moment, flap_share, lift_share)
    return AirLoads(*(np.asarray(value, dtype=float) for value in values))


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
    relief = float(coning_relief_moment(mass, e, balance, omega, beta))
    assert relief <= exact * (1 + 1e-9)
    assert relief >= 0.7 * exact


def test_coning_relief_is_exact_for_a_point_mass():
    beta, omega, e, x, mass = 0.05, 300.0, 0.03, 0.12, 0.03
    by_hand = mass * omega**2 * (e + x * np.cos(beta)) * x * np.sin(beta)
    assert float(coning_relief_moment(mass, e, x, omega, beta)) == pytest.approx(by_hand, rel=1e-12)


def test_clamped_share_against_a_spring_hinged_blade_solved_numerically():
    """Uniform rod on a root spring: balance spring, air and centrifugal moments for the small angle."""
    mass, length, e, omega, frequency, air_moment = 0.04, 0.28, 0.03, 350.0, 60.0, 1e-3
    inertia, first = mass * length**2 / 3, mass * length / 2
    spring = inertia * (2 * np.pi * frequency) ** 2

    def residual(beta):
        pressed = omega**2 * np.sin(beta) * (first * e + np.cos(beta) * inertia)
        return air_moment - spring * beta - pressed

    at_root = spring * brentq(residual, 0.0, 0.1, xtol=1e-18)
    share = float(clamped_root_share(frequency, e, length / 2, omega))
    assert share == pytest.approx(at_root / air_moment, rel=1e-6)


def test_clamped_share_limits():
    assert float(clamped_root_share(np.inf, 0.03, 0.1, 300.0)) == 1.0
    assert float(clamped_root_share(60.0, 0.03, 0.1, 0.0)) == 1.0
    nu_squared = 1.0 + (2 * np.pi * 60.0 / 300.0) ** 2
    assert float(clamped_root_share(60.0, 0.0, 0.1, 300.0)) == pytest.approx((nu_squared - 1) / nu_squared)


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


@given(positive, st.floats(0.0, 0.05), st.floats(10.0, 200.0))
def test_relief_only_ever_lowers_the_peak(mass, angle, frequency):
    stiff = rigid_root_loads(BladeBody(mass, 0.03, 0.1, True), air_loads(), 400.0)
    soft = rigid_root_loads(BladeBody(mass, 0.03, 0.1, True, angle, frequency), air_loads(), 400.0)
    assert soft.flap_peak <= stiff.flap_peak + 1e-12
    assert soft.flap_peak >= soft.flap_cyclic


def test_broadcasts_over_conditions():
    blade = BladeBody(0.024, 0.028, 0.092, folding=True)
    together = rigid_root_loads(blade, air_loads(lift=np.array([10.0, 40.0])), np.array([[300.0], [500.0]]))
    alone = rigid_root_loads(blade, air_loads(lift=40.0), 500.0)
    assert together.in_plane.shape == (2, 1)
    assert together.lift.shape == (2,)
    assert float(together.lift[1]) == float(alone.lift)
