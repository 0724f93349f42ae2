"""By how much the loads of a thread may grow: held against Miner's sum over the thread's own cycles."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.joint import fatigue
from bladehold.joint.load_multiplier import ThreadLine, thread_load_multiplier

none = st.just(0.0)
kind = st.tuples(none | st.floats(1.0, 1e9), none | st.floats(1.0, 400e6))
kinds = st.lists(kind, min_size=1, max_size=8)


def used(line, cycles, amplitude):
    """Miner's sum."""
    with np.errstate(divide="ignore", invalid="ignore"):
        share = cycles / line.cycles(amplitude, -amplitude)
    return np.where(cycles > 0.0, share, 0.0).sum()


@given(kinds, st.sampled_from(sorted(fatigue.VDI_EXPONENTS)))
def test_less_does_not_use_up_the_life_and_more_does(kinds, method):
    line = ThreadLine(50e6, method)
    cycles, amplitude = np.array(kinds).T
    k = float(thread_load_multiplier(line, cycles, amplitude))
    if not np.isfinite(k):
        assert not np.any(amplitude[cycles > 0.0] > 0.0)
        return
    assert used(line, cycles, k * (1 - 1e-9) * amplitude) <= 1.0 + 1e-6
    assert used(line, cycles, k * (1 + 1e-9) * amplitude) >= 1.0 - 1e-6


def test_several_cases_at_once_are_those_one_by_one():
    line = ThreadLine(50e6, "vdi-rolled-before")
    cycles, amplitude = np.array([[1e4, 1e7], [0.0, 3e5]]), np.array([[90e6, 20e6], [400e6, 60e6]])
    found = thread_load_multiplier(line, cycles, amplitude)
    assert found == pytest.approx(
        [float(thread_load_multiplier(line, *case)) for case in zip(cycles, amplitude, strict=True)]
    )


def test_refuses_an_unknown_method():
    with pytest.raises(ValueError, match="method"):
        thread_load_multiplier(ThreadLine(50e6, "cut"), 1e4, 60e6)
