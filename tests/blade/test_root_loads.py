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


def rotating_cantilever_share(standing_hz, e, length, omega, taper, count=60):
    """Root moment of a beam under even load, over that of a rigid one, by finite elements with tension.

    taper: stiffness and line mass at the tip over those at the root (cubic and linear for the taper).
    """
    h = length / count
    place = (np.arange(count) + 0.5) * h
    line = 0.15 * (1 - (1 - taper) * place / length)
    shape = (1 - (1 - taper) * place / length) ** 3

    def assemble(rigidity, omega):
        stiff, inertia = np.zeros((2, 2 * count + 2, 2 * count + 2))
        tension = omega**2 * np.array([np.sum(line[i:] * (e + place[i:]) * h) for i in range(count)])
        for i in range(count):
            at = np.arange(2 * i, 2 * i + 4)
            bend = np.array([[12, 6 * h, -12, 6 * h], [6 * h, 4 * h * h, -6 * h, 2 * h * h]])
            bend = np.vstack([bend, -bend[0], [6 * h, 2 * h * h, -6 * h, 4 * h * h]])
            pull = np.array([[36, 3 * h, -36, 3 * h], [3 * h, 4 * h * h, -3 * h, -h * h]])
            pull = np.vstack([pull, -pull[0], [3 * h, -h * h, -3 * h, 4 * h * h]])
            mass = np.array(
                [
                    [156, 22 * h, 54, -13 * h],
                    [22 * h, 4 * h * h, 13 * h, -3 * h * h],
                    [54, 13 * h, 156, -22 * h],
                    [-13 * h, -3 * h * h, -22 * h, 4 * h * h],
                ]
            )
            stiff[np.ix_(at, at)] += rigidity * shape[i] / h**3 * bend + tension[i] / (30 * h) * pull
            inertia[np.ix_(at, at)] += line[i] * h / 420 * mass
        return stiff[2:, 2:], inertia[2:, 2:]

    from scipy.linalg import eigh

    stiff, inertia = assemble(1.0, 0.0)
    rigidity = (2 * np.pi * standing_hz) ** 2 / eigh(stiff, inertia, eigvals_only=True)[0]
    stiff, _ = assemble(rigidity, omega)
    load = np.zeros(2 * count + 2)
    for i in range(count):
        load[2 * i : 2 * i + 4] += np.array([h / 2, h * h / 12, h / 2, -h * h / 12])
    u = np.concatenate([[0, 0], np.linalg.solve(stiff, load[2:])])
    root = rigidity * shape[0] * (6 * u[2] / h**2 - 2 * u[3] / h)
    balance = np.sum(line * place) / np.sum(line)
    return root / (length**2 / 2), balance


@pytest.mark.parametrize("taper", [1.0, 0.4])
@pytest.mark.parametrize("standing", [20.0, 35.0, 62.0, 115.0])
@pytest.mark.parametrize("omega", [350.0, 540.0])
def test_clamped_share_lies_on_the_safe_side_of_a_rotating_beam(standing, taper, omega):
    exact, balance = rotating_cantilever_share(standing, 0.03, 0.28, omega, taper)
    share = float(clamped_root_share(standing, 0.03, balance, omega))
    assert exact <= share <= exact + 0.25


def test_clamped_share_limits():
    assert float(clamped_root_share(np.inf, 0.03, 0.1, 300.0)) == 1.0
    assert float(clamped_root_share(60.0, 0.03, 0.1, 0.0)) == 1.0
    nu_squared = 1.0 + (2 * np.pi * 60.0 / 300.0) ** 2
    spring = (nu_squared - 1) / nu_squared
    assert float(clamped_root_share(60.0, 0.0, 0.1, 300.0)) == pytest.approx(np.sqrt(spring))


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


@given(positive, st.floats(0.0, 0.05), st.floats(10.0, 200.0))
def test_bending_only_ever_lowers_the_peak(mass, angle, frequency):
    stiff = rigid_root_loads(BladeBody(mass, 0.03, 0.1, True), air_loads(), 400.0)
    soft = rigid_root_loads(BladeBody(mass, 0.03, 0.1, True, 0.0, frequency), air_loads(), 400.0)
    assert soft.flap_cyclic <= soft.flap_peak <= stiff.flap_peak + 1e-12
    raised = rigid_root_loads(BladeBody(mass, 0.03, 0.1, True, angle, frequency), air_loads(), 400.0)
    assert raised.flap_mean <= soft.flap_mean + 1e-12


def test_broadcasts_over_conditions():
    blade = BladeBody(0.024, 0.028, 0.092, folding=True)
    together = rigid_root_loads(blade, air_loads(flap=np.array([2.0, 7.0])), np.array([[300.0], [500.0]]))
    alone = rigid_root_loads(blade, air_loads(flap=7.0), 500.0)
    assert together.in_plane.shape == (2, 1)
    assert together.flap_peak.shape == (2, 2)
    assert float(together.flap_peak[1, 1]) == float(alone.flap_peak)
