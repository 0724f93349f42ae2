import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.joint import preload

M5 = {"pitch_diameter": 4.4804e-3, "lead_angle": np.radians(3.253)}


@given(st.floats(0.01, 100), st.floats(0.05, 0.4), st.floats(2e-3, 12e-3))
def test_torque_and_preload_are_inverse(torque, factor, diameter):
    force = preload.preload_from_torque(torque, factor, diameter)
    assert preload.torque_from_preload(force, factor, diameter) == pytest.approx(torque)


def test_nut_factor_lies_where_the_source_finds_it():
    """NASA-TM-106943: 0.11 to 0.15 lubricated, 0.2 dry (friction 0.08, 0.11 and 0.15 put in)."""
    slippery, lubricated, dry = (
        preload.nut_factor(M5["pitch_diameter"], 5e-3, M5["lead_angle"], mu, mu) for mu in (0.08, 0.11, 0.15)
    )
    assert 0.11 < slippery < lubricated < 0.155
    assert dry == pytest.approx(0.2, abs=0.005)


@given(st.floats(0.0, 0.25), st.floats(0.0, 0.25))
def test_long_form_agrees_with_nut_factor(thread, head):
    """They differ by the product mu tan(psi) alone, under 3 %, with the bearing radius 0.625 D."""
    factor = preload.nut_factor(M5["pitch_diameter"], 5e-3, M5["lead_angle"], thread, head)
    short = preload.torque_from_preload(1000.0, factor, 5e-3)
    long = preload.torque_long_form(
        1000.0, M5["pitch_diameter"] / 2, M5["lead_angle"], thread, 0.625 * 5e-3, head
    )
    assert long <= short * (1 + 1e-12)
    assert long == pytest.approx(float(short), rel=0.03)


def test_running_torque_eats_the_setting():
    """NASA-STD-5020B eq. 29, 30: greatest less least breakaway, least less greatest locking torque."""
    limits = preload.torque_above_running(preload.torque_limits(6.0, 0.3), 0.2, 0.9)
    assert (float(limits.maximum), float(limits.minimum)) == pytest.approx((6.1, 4.8))
    with pytest.raises(ValueError, match="least torque left"):
        preload.torque_above_running(preload.torque_limits(1.0, 0.3), 0.2, 0.9)


def test_preload_bounds_by_hand():
    assert preload.maximum_preload(1000.0, 0.25, 1.05, 40.0) == pytest.approx(1.05 * 1.25 * 1000 + 40)
    assert preload.minimum_preload(1000.0, 0.25, 0.95, 40.0) == pytest.approx(0.95 * 0.75 * 1000 * 0.95 - 40)
    four = preload.minimum_preload(1000.0, 0.25, 0.95, 40.0, bolts=4)
    assert four == pytest.approx(0.95 * (1 - 0.125) * 1000 * 0.95 - 40)
    assert preload.minimum_preload(100.0, 0.35, thermal_loss=500.0) == 0.0


@given(st.floats(0, 1), st.floats(1, 20), st.floats(0, 0.5))
def test_least_preload_lies_below_greatest(uncertainty, bolts, relaxation):
    least = preload.minimum_preload(1000.0, uncertainty, bolts=bolts, relaxation=relaxation)
    assert 0 <= least <= 1000 <= preload.maximum_preload(1000.0, uncertainty)


def test_uncertainty_above_one_is_refused():
    with pytest.raises(ValueError, match="1 - uncertainty"):
        preload.minimum_preload(1000.0, 25.0)


def test_thermal_change_of_a_steel_screw_in_aluminium():
    """dT 60 K, 12 mm of 23.4e-6 under a screw of 11.7e-6: free mismatch 8.424 um, shared by two springs."""
    mismatch = preload.thermal_mismatch(60.0, [12e-3], [23.4e-6], 11.7e-6)
    assert mismatch == pytest.approx(8.424e-6)
    kb, kj = 2e8, 6e8
    gain = preload.thermal_preload_change(kb, kj, mismatch)
    assert gain / kb + gain / kj == pytest.approx(mismatch)


@given(st.lists(st.floats(1e-4, 1e-2), min_size=2, max_size=5), st.floats(-60, 60))
def test_layers_of_one_material_are_one_layer(layers, change):
    many = preload.thermal_mismatch(change, layers, np.full(len(layers), 23.4e-6), 11.7e-6)
    one = preload.thermal_mismatch(change, [sum(layers)], [23.4e-6], 11.7e-6)
    assert many == pytest.approx(float(one))


def test_thermal_layers_broadcast_over_temperatures():
    changes = np.array([-40.0, 0.0, 30.0])
    mismatch = preload.thermal_mismatch(changes, [[2e-3, 8e-3]], [[23.4e-6, 45e-6]], 11.7e-6)
    assert mismatch == pytest.approx(changes * (2e-3 * 11.7e-6 + 8e-3 * 33.3e-6))
