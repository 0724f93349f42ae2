import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.joint import pattern

arms = st.lists(st.floats(0, 0.1), min_size=1, max_size=8).filter(lambda a: max(a) > 1e-3)


@given(st.floats(0, 100), arms)
def test_heel_forces_hold_the_moment(moment, levers):
    forces = pattern.heel_forces(moment, levers)
    assert np.sum(forces * levers) == pytest.approx(moment)
    assert np.all(forces >= 0)


@given(st.floats(0.1, 100), st.integers(3, 12), st.floats(0, 6.28))
def test_circle_forces_hold_the_moment_wherever_the_screws_stand(moment, count, turn):
    angles = turn + 2 * np.pi * np.arange(count) / count
    forces = pattern.circle_forces(moment, 20e-3, angles)
    assert np.sum(forces * 20e-3 * np.sin(angles)) == pytest.approx(moment)
    assert np.sum(forces) == pytest.approx(0.0, abs=1e-6 * moment / 20e-3)
    assert np.max(np.abs(forces)) <= pattern.circle_peak_force(moment, 20e-3, count) * (1 + 1e-12)


def test_line_load_over_the_half_circle_balances_the_moment():
    """Mean lever of a half circle's line load is pi R / 4 on each side: M = 2 F (pi R / 4)."""
    force = pattern.circle_line_load_force(10.0, 20e-3, 0.0, np.pi)
    assert 2 * force * np.pi * 20e-3 / 4 == pytest.approx(10.0)


def test_torque_by_grip_and_by_shear():
    assert pattern.grip_torque(0.1, 2000.0, 4, 10e-3) == pytest.approx(8.0)
    assert pattern.torque_shear_force(8.0, 4, 10e-3) == pytest.approx(200.0)


@given(st.floats(-500, 500), st.floats(-500, 500))
def test_principal_stress_is_an_eigenvalue(tension, shear):
    tensor = np.array([[tension, shear], [shear, 0.0]])
    assert pattern.principal_stress(tension, shear) == pytest.approx(np.linalg.eigvalsh(tensor)[-1], abs=1e-9)


def test_moments_broadcast_over_conditions():
    forces = pattern.heel_forces(np.array([[1.0], [2.0], [3.0]]), np.array([10e-3, 30e-3]))
    assert forces.shape == (3, 1, 2)
    assert forces[2, 0] == pytest.approx(3 * forces[0, 0])
    circle = pattern.circle_forces([1.0, 2.0], [20e-3, 10e-3], np.arange(4) * np.pi / 2)
    assert circle.shape == (2, 4)
    assert circle[1] == pytest.approx(4 * circle[0])


def test_impossible_patterns_are_refused():
    with pytest.raises(ValueError, match="lever arms"):
        pattern.heel_forces(1.0, [0.0, 0.0])
    with pytest.raises(ValueError, match="number of screws"):
        pattern.circle_peak_force(1.0, 20e-3, 2)
    with pytest.raises(ValueError, match="squared distances"):
        pattern.circle_forces(1.0, 20e-3, [0.0, 0.0])
