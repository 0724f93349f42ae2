"""Gyroscopic loads: paths of blade elements differentiated, Euler's equations of a rotor integrated."""

import numpy as np
import pytest
from _folders import INERTIA, MASS, TOP, E, X, blade
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.spatial.transform import Rotation

from bladehold.blade import (
    BODY_RATE_RANGE,
    RootComponents,
    folding_blade,
    gyroscopic_blade_loads,
    gyroscopic_case,
    gyroscopic_rotor_moment,
)

LENGTH, LINE = 0.27, 0.13
ROD = folding_blade(LINE * LENGTH, E, LENGTH / 2, LINE * LENGTH**3 / 3)


def upward_acceleration(radius, psi, speed, rate, acceleration):
    """Of a blade element, along the rotor axis: its path in standing axes, differentiated twice."""
    step = 2e-6

    def place(t):
        body = Rotation.from_rotvec([0.0, rate * t + 0.5 * acceleration * t**2, 0.0])
        return body.apply([radius * np.cos(psi + speed * t), radius * np.sin(psi + speed * t), 0.0])

    return ((place(step) - 2 * place(0.0) + place(-step)) / step**2)[2]


@pytest.mark.parametrize("psi", [0.0, 0.7, 2.0, 4.5])
@pytest.mark.parametrize(("rate", "acceleration"), [(2.0, 0.0), (-1.0, 30.0), (0.0, -50.0)])
def test_blade_loads_are_the_inertia_of_its_elements(psi, rate, acceleration):
    speed = 300.0
    loads = gyroscopic_blade_loads(ROD, speed, rate, acceleration)

    points, weights = np.polynomial.legendre.leggauss(3)  # the integrands are parabolas
    along, weights = 0.5 * LENGTH * (points + 1.0), 0.5 * LENGTH * weights
    upward = [upward_acceleration(E + s, psi, speed, rate, acceleration) for s in along]

    def moment(lever):
        return -LINE * np.sum(weights * lever(along) * upward)

    flap = loads.flap_cosine * np.cos(psi) + loads.flap_sine * np.sin(psi)
    shear = loads.shear_cosine * np.cos(psi) + loads.shear_sine * np.sin(psi)
    assert float(flap) == pytest.approx(moment(lambda s: s), abs=3e-3 * float(loads.flap_amplitude))
    assert float(shear) == pytest.approx(moment(np.ones_like), abs=3e-3 * float(loads.shear_amplitude))


def test_amplitude_is_twice_inertia_speed_rate_at_the_axis():
    body = folding_blade(MASS, 0.0, X, INERTIA)
    loads = gyroscopic_blade_loads(body, TOP, 1.5)
    assert float(loads.flap_amplitude) == pytest.approx(2 * INERTIA * TOP * 1.5)
    with_offset = gyroscopic_blade_loads(blade(), TOP, 1.5)
    assert float(with_offset.flap_amplitude) == pytest.approx(2 * (INERTIA + E * MASS * X) * TOP * 1.5)
    assert float(with_offset.shear_amplitude) == pytest.approx(2 * MASS * (E + X) * TOP * 1.5)


class Bars:
    """A rigid rotor of slender bars in axes that turn with it, its first blade along x."""

    def __init__(self, blades, speed, rate):
        own = MASS * E**2 + 2 * E * MASS * X + INERTIA  # of one blade about the rotor axis
        place = 2 * np.pi * np.arange(blades) / blades
        self.place, self.across, self.along = place, np.sin(place), np.cos(place)
        mixed = -np.sum(self.across * self.along)
        self.tensor = own * np.array(
            [[np.sum(self.across**2), mixed, 0], [mixed, np.sum(self.along**2), 0], [0, 0, blades]]
        )
        self.loads = gyroscopic_blade_loads(folding_blade(MASS, 0.0, E + X, own), speed, rate)

    def hub_moment(self, psi):
        """What the hub must give: the flap moments, which lift the blades about (sin, -cos), turned round."""
        turned = self.place + psi
        flap = -(self.loads.flap_cosine * np.cos(turned) + self.loads.flap_sine * np.sin(turned))
        return np.array([np.sum(flap * self.across), -np.sum(flap * self.along), 0.0])


@pytest.mark.parametrize("blades", [3, 4])
def test_euler_equations_keep_the_body_rate_under_the_moment_found(blades):
    """Driven by it, the rotor must go on turning about j with the rate q and about nothing else."""
    speed, rate = 120.0, 0.8
    bars = Bars(blades, speed, rate)

    def euler(t, omega):
        return np.linalg.solve(bars.tensor, bars.hub_moment(speed * t) - np.cross(omega, bars.tensor @ omega))

    end = 4 * np.pi / speed
    path = solve_ivp(euler, (0.0, end), [0.0, rate, speed], rtol=1e-9, atol=1e-9, dense_output=True)
    for t in np.linspace(0.0, end, 9):
        standing = Rotation.from_euler("z", speed * t).apply(path.sol(t))
        assert standing == pytest.approx([0.0, rate, speed], abs=1e-3 * rate)


@pytest.mark.parametrize("blades", [2, 3, 5])
def test_moment_found_is_what_eulers_equations_ask(blades):
    speed, rate = 120.0, 0.8
    bars = Bars(blades, speed, rate)
    for psi in np.linspace(0.0, 6.0, 7):
        omega = np.array([rate * np.sin(psi), rate * np.cos(psi), speed])
        change = speed * rate * np.array([np.cos(psi), -np.sin(psi), 0.0])
        asked = bars.tensor @ change + np.cross(omega, bars.tensor @ omega)
        assert bars.hub_moment(psi)[:2] == pytest.approx(asked[:2], abs=1e-12)


@pytest.mark.parametrize("blades", [2, 3, 4, 5])
def test_rotor_moment_is_the_sum_of_its_blades(blades):
    body = folding_blade(MASS, 0.0, X, INERTIA)
    loads = gyroscopic_blade_loads(body, TOP, 0.7)
    psi = np.linspace(0.0, 2 * np.pi, 721)
    place = psi[:, None] + 2 * np.pi * np.arange(blades) / blades
    flap = np.abs(loads.flap_sine) * np.sin(place)
    across, along = (flap * np.sin(place)).sum(axis=1), (flap * np.cos(place)).sum(axis=1)
    rotor = gyroscopic_rotor_moment(blades * INERTIA, TOP, 0.7, blades)
    assert across[:-1].mean() == pytest.approx(float(rotor.mean))
    assert across.max() - across[:-1].mean() == pytest.approx(float(rotor.ripple), abs=1e-12)
    assert np.hypot(across, along).max() == pytest.approx(float(rotor.peak))


@given(st.floats(0.0, 3.0), st.floats(0.0, 40.0))
def test_case_repeats_once_per_turn(rate, acceleration):
    steady = RootComponents.of(centrifugal=1300.0, flap=5.0, normal_shear=40.0)
    case = gyroscopic_case(blade(), steady, TOP, rate, 0.1, 900.0, body_acceleration=acceleration)
    amplitude = float(gyroscopic_blade_loads(blade(), TOP, rate, acceleration).flap_amplitude)
    assert float(case.span.flap) == pytest.approx(2 * amplitude, rel=1e-3, abs=1e-12)
    assert float(case.peak.flap) == pytest.approx(5.0 + amplitude, rel=1e-3)
    assert float(case.span.centrifugal) == 0.0
    assert float(case.repeats) == pytest.approx(0.1 * 900.0 * TOP / (2 * np.pi))


def test_fast_body_rates_are_told_and_single_blades_refused():
    assert "square of the body rate" in BODY_RATE_RANGE.breach(60.0 / TOP)
    assert BODY_RATE_RANGE.breach(3.0 / TOP) is None
    with pytest.raises(ValueError, match="blades"):
        gyroscopic_rotor_moment(0.001, TOP, 1.0, 1)
