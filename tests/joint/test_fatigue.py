import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.joint import fatigue

SE, SUT, SP = 129e6, 830e6, 600e6
preloads = st.floats(0, 600e6)


def test_thread_endurance_by_size():
    """Computed from the law: M2.5 to M10."""
    sizes = np.array([2.5, 3, 4, 5, 6, 8, 10]) * 1e-3
    expected = np.array([89.3, 80.8, 70.1, 63.8, 59.5, 54.2, 51.0])
    assert fatigue.thread_endurance_rolled_before(sizes) / 1e6 == pytest.approx(expected, abs=0.06)
    rolled_after = fatigue.thread_endurance_rolled_after(sizes, 0.7)
    assert rolled_after == pytest.approx(1.3 * fatigue.thread_endurance_rolled_before(sizes))


def test_two_methods_differ_threefold():
    """Trap: M30 8.8, fully corrected endurance 129 MPa, VDI 2230 42.5 MPa."""
    vdi = fatigue.thread_endurance_rolled_before(30e-3)
    assert vdi / 1e6 == pytest.approx(42.5, abs=0.05)
    assert vdi * 3 < SE < vdi * 3.1


def test_small_screws_are_flagged():
    assert fatigue.VDI_DIAMETER.breach(5e-3) is None
    assert "extrapolation" in fatigue.VDI_DIAMETER.breach(3e-3)
    assert fatigue.VDI_MEAN_LOAD.breach(0.2) is not None


@given(preloads)
def test_strength_lies_on_its_line(preload):
    goodman = fatigue.goodman_amplitude(SE, SUT, preload)
    assert goodman / SE + (goodman + preload) / SUT == pytest.approx(1.0)
    gerber = fatigue.gerber_amplitude(SE, SUT, preload)
    assert gerber / SE + ((gerber + preload) / SUT) ** 2 == pytest.approx(1.0)
    ellipse = fatigue.asme_amplitude(SE, SP, preload)
    assert (ellipse / SE) ** 2 + ((ellipse + preload) / SP) ** 2 == pytest.approx(1.0)


@given(preloads, st.floats(1e6, 100e6))
def test_more_preload_leaves_less_amplitude(preload, more):
    for method, strength in (
        (fatigue.goodman_amplitude, SUT),
        (fatigue.gerber_amplitude, SUT),
        (fatigue.asme_amplitude, SP),
    ):
        assert method(SE, strength, preload + more) <= method(SE, strength, preload)


def test_nothing_is_left_above_the_strength():
    assert fatigue.goodman_amplitude(SE, SUT, 900e6) == 0.0
    assert fatigue.gerber_amplitude(SE, SUT, 900e6) == 0.0
    assert fatigue.asme_amplitude(SE, SP, 900e6) == 0.0


@given(st.floats(0, 1e4), st.floats(1.01, 3))
def test_amplitude_follows_the_swing(tension, factor):
    base = fatigue.stress_amplitude(tension, 0.0, 14.2e-6, 0.3, 0.5)
    assert base == pytest.approx(0.15 * tension / 2 / 14.2e-6)
    assert fatigue.stress_amplitude(factor * tension, 0.0, 14.2e-6, 0.3, 0.5) == pytest.approx(
        factor * float(base)
    )


def test_swing_the_wrong_way_round_is_refused():
    with pytest.raises(ValueError, match="tension swing"):
        fatigue.stress_amplitude(0.0, 100.0, 14.2e-6, 0.3)
