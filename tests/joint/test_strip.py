import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.joint import strip, thread

areas, strengths = st.floats(20e-6, 200e-6), st.floats(100e6, 1200e6)


def test_factors_at_their_ends():
    assert float(strip.nut_dilation(1.9)) == pytest.approx(1.0)
    assert float(strip.nut_dilation(5.0)) == pytest.approx(1.0)
    assert float(strip.nut_dilation(1.5)) == pytest.approx(0.84)
    assert float(strip.screw_thread_bending(0.3)) == pytest.approx(0.897, abs=5e-4)
    assert float(strip.screw_thread_bending(9.0)) == pytest.approx(float(strip.screw_thread_bending(2.2)))
    assert float(strip.nut_thread_bending(2.0)) == pytest.approx(0.897, abs=5e-4)
    assert float(strip.nut_thread_bending(0.4)) == pytest.approx(1.0552, abs=5e-4)
    assert float(strip.nut_thread_bending(1e-6)) == pytest.approx(0.728, abs=5e-4)
    with pytest.raises(ValueError, match="s/d must be at least"):
        strip.nut_dilation(1.39)


@given(areas, areas, strengths, strengths, st.floats(1.4, 2.5))
def test_forces_by_hand(screw, nut, strong, weak, width):
    forces = strip.strip_forces(screw, nut, strong, weak, width)
    ratio = weak * nut / (strong * screw)
    c1 = float(strip.nut_dilation(width))
    by_hand = 0.6 * strong * screw * c1 * float(strip.screw_thread_bending(ratio))
    assert float(forces.screw) == pytest.approx(by_hand)
    assert float(forces.least) == min(float(forces.screw), float(forces.nut))
    assert c1 <= 1.0


@given(areas, areas, strengths, strengths)
def test_engagement_breaks_the_screw_just_before_a_thread_strips(screw, nut, strong, weak):
    per_metre = 1e3
    length = strip.engagement_to_break_screw(20e-6, screw * per_metre, nut * per_metre, strong, weak, 2.0)
    forces = strip.strip_forces(screw * per_metre * length, nut * per_metre * length, strong, weak, 2.0)
    assert float(forces.least) == pytest.approx(20e-6 * strong)


def test_softer_nut_strips_its_own_thread_and_a_harder_one_the_screws():
    soft = strip.strip_forces(50e-6, 65e-6, 800e6, 300e6, 2.0)
    hard = strip.strip_forces(50e-6, 65e-6, 800e6, 1200e6, 2.0)
    assert soft.nut < soft.screw
    assert hard.screw < hard.nut


def test_wire_insert_holds_by_its_larger_thread():
    outer = strip.insert_pull_out(6e-3, 7.5e-3, 180e6)
    assert float(outer) == pytest.approx(0.75 * np.pi * 6e-3 * 7.5e-3 * 180e6)
    assert outer > thread.stripping_force(thread.internal_strip_area_simple(7.5e-3, 5e-3), 180e6)


def test_castle_nut_counts_below_its_slots():
    assert float(strip.castle_nut_length(6e-3, 2e-3)) == pytest.approx(4e-3)
    with pytest.raises(ValueError, match="height must be greater"):
        strip.castle_nut_length(2e-3, 2e-3)


def test_ranges_speak_up():
    assert strip.NUT_WIDTH.breach(1.3)
    assert strip.THREAD_STRENGTH_RATIO.breach(0.3)
