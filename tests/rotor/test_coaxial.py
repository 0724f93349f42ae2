"""One rotor beneath another."""

import numpy as np
import pytest
from _rotors import AIR, PLATE, measured
from hypothesis import given, settings
from hypothesis import strategies as st

from bladehold.rotor import (
    SPACING_RANGE,
    coaxial_momentum_factor,
    coaxial_pair,
    solve_axial,
    solve_coaxial,
    solve_for_thrust,
    wake_downwash,
    wake_growth,
)


def both(blade, speed, climb, spacing, **other):
    return solve_coaxial((blade, blade), (2, 2), (speed, speed), climb, spacing, **AIR, **other)


@settings(max_examples=30, deadline=None)
@given(
    speed=st.floats(100.0, 400.0),
    climb=st.floats(0.0, 8.0),
    spacing=st.floats(0.0, 3.0) | st.just(np.inf),
    pitch=st.floats(0.15, 0.35),
)
def test_the_wake_carries_its_flow_on(speed, climb, spacing, pitch):
    upper = solve_axial(measured(pitch=pitch), 2, speed, climb, **AIR)
    if upper.thrust <= 0.5:
        return
    downwash, radius = wake_downwash(upper, spacing, upper.geometry)
    assert np.all(np.isfinite(downwash))
    assert 0.7 * upper.geometry.radius < radius < 1.05 * upper.geometry.radius
    if climb == 0.0:
        assert radius == pytest.approx(upper.geometry.radius / np.sqrt(wake_growth(spacing, 0.3556)))


def test_more_distance_means_a_narrower_and_faster_wake():
    blade = measured()
    found = both(blade, 300.0, 0.0, np.array([0.0, 0.1, 0.3, 1.0, np.inf]))
    assert np.all(np.diff(found.wake_radius) < 0.0)
    assert found.wake_radius[-1] == pytest.approx(blade.radius / np.sqrt(2.0))
    inner = found.downwash[:, 10]
    assert np.all(np.diff(inner) > 0.0)
    assert inner[-1] == pytest.approx(2.0 * inner[0], rel=0.15)  # another stream tube by then
    assert np.all(found.downwash[-1, blade.r > 0.75 * blade.radius] == 0.0)


def test_the_pair_is_the_sum_of_its_rotors():
    blade = measured()
    found = both(blade, 300.0, [0.0, 3.0], 0.15)
    assert found.thrust == pytest.approx(found.upper.thrust + found.lower.thrust)
    assert found.torque == pytest.approx(found.upper.torque - found.lower.torque)
    assert found.power == pytest.approx(found.upper.power + found.lower.power)
    alone = solve_axial(blade, 2, 300.0, [0.0, 3.0], **AIR)
    assert found.upper.thrust == pytest.approx(alone.thrust)
    assert np.all(found.lower.thrust < 0.9 * alone.thrust)
    assert np.all(found.induced_power_factor > 1.2)


def test_thrusts_can_be_given():
    blade, spacing = measured(), 0.12
    upper = solve_for_thrust(blade, 2, [30.0, 60.0], 0.0, **AIR)
    downwash, _ = wake_downwash(upper, spacing, blade)
    lower = solve_for_thrust(blade, 2, [30.0, 60.0], 0.0, downwash=downwash, **AIR)
    pair = coaxial_pair(upper, lower, spacing)
    assert pair.thrust == pytest.approx([60.0, 120.0], rel=1e-5)
    assert np.all(lower.rotation_speed > 1.05 * upper.rotation_speed)


def test_a_wake_passing_a_station_makes_no_jump():
    spacing = np.linspace(0.0, 0.8, 400)
    found = both(measured(), 300.0, 0.0, spacing, polar=(PLATE, PLATE))
    assert np.abs(np.diff(found.thrust)).max() < 1e-3 * found.thrust.max()


def test_a_larger_rotor_beneath_meets_free_air_outside():
    small, large = measured(), measured(diameter=1.0)
    upper = solve_axial(small, 2, 300.0, 0.0, **AIR)
    downwash, radius = wake_downwash(upper, 0.2, large)
    assert np.all(downwash[large.r > 1.1 * radius] == 0.0)
    assert np.all(downwash[(large.r > 0.3 * radius) & (large.r < 0.9 * radius)] > 1.0)


@given(ratio=st.floats(0.5, 4.0))
def test_the_momentum_factor_obeys_its_balances(ratio):
    # v = 1, rho A = 1: T_u = 2; mass flow s, wake speed w, of which half came at speed 2
    lower = 2.0 / ratio
    total = 2.0 + lower
    power = coaxial_momentum_factor(ratio) * total * np.sqrt(total / 4.0)
    through = (power - 2.0) / lower  # P_l = T_l s
    wake = (lower + 2.0) / through
    assert 0.5 * through * wake**2 - 2.0 == pytest.approx(lower * through)


def test_what_cannot_be_is_refused_by_name():
    with pytest.raises(ValueError, match="spacing"):
        both(measured(), 300.0, 0.0, -0.1)
    with pytest.raises(ValueError, match="axial_velocity"):
        both(measured(), 300.0, -2.0, 0.1)
    assert any(SPACING_RANGE.quantity in told for told in both(measured(), 300.0, 0.0, 0.01).breaches)
    assert both(measured(), 300.0, 0.0, 0.1).breaches == ()
