import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.joint import pin, pin_peaking

sizes = st.floats(1e-3, 20e-3)
CURVES = ((0.1, 0.55), (0.1, 2.0), ((0.5, 1.0), (0.05, 1.0)))


@given(sizes, sizes, st.floats(0, 2e-3), st.floats(0, 1))
def test_peaked_moment_runs_from_the_face_to_even_pressure(plate, lug, gap, gamma):
    even = float(pin.bending_moment_air_force(100.0, plate, lug, gap))
    face = 50.0 * (plate / 2 + gap)
    peaked = float(pin_peaking.bending_moment_peaked(100.0, plate, lug, gap, gamma))
    assert peaked == pytest.approx(face + gamma * (even - face))


def test_peaking_is_read_and_never_above_one():
    assert float(pin_peaking.peaking_factor(1.0, 1.0, *CURVES)) == pytest.approx(0.05 + 0.95 * 0.9 / 1.9)
    assert float(pin_peaking.peaking_factor(5.0, 1.0, *CURVES)) == 1.0
    assert float(pin_peaking.peaking_factor(0.1, 0.1, *CURVES)) == 0.5
    with pytest.raises(ValueError, match="at most 1"):
        pin_peaking.bending_moment_peaked(1.0, 1e-3, 1e-3, 0.0, 1.1)


@given(st.floats(1.0, 200.0), st.floats(1e3, 1e5), st.floats(1e3, 1e5), sizes, sizes, st.floats(0, 2e-3))
def test_shifted_load_is_borne_by_pin_ears_and_lug_at_once(moment, ear, inner, t1, t2, gap):
    load = float(pin_peaking.shifted_pin_load(moment, ear, inner, t1, t2, gap))
    used_ear, used_lug = load * t1 / (2 * ear), load * t2 / inner
    assert used_ear <= t1 * (1 + 1e-9)
    assert used_lug <= t2 * (1 + 1e-9)
    needed = load / 2 * (used_ear / 2 + gap + used_lug / 4)
    assert needed <= moment * (1 + 1e-9)
    if load < min(2 * ear, inner) * (1 - 1e-9):
        assert needed == pytest.approx(moment)


def test_shifting_never_bears_less_than_even_pressure_while_lug_and_ears_hold():
    mu, t1, t2, gap = 10.0, 3e-3, 8e-3, 1e-4
    even = 2 * mu / (t1 / 2 + t2 / 4 + gap)
    assert float(pin_peaking.shifted_pin_load(mu, 1e5, 2e5, t1, t2, gap)) > even
    assert float(pin_peaking.shifted_pin_load(1e9, 1e5, 3e5, t1, t2, gap)) == 2e5


def test_range_speaks_up():
    assert pin_peaking.PEAKING_STRENGTH.breach(np.array([0.5, 2.5]))
