import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.joint.locking import Holds, clamp_against_slip, counts_as_locking, slips

PREVAILING = Holds("preload", "nut", "nothing")


@given(st.floats(1, 1e4), st.floats(0.05, 0.4), st.integers(1, 4))
def test_a_joint_slips_just_below_junkers_clamp(force, friction, faces):
    clamp = float(clamp_against_slip(force, friction, faces))
    assert clamp * friction * faces == pytest.approx(force)
    assert not slips(clamp * (1 + 1e-9), force, friction, faces)
    assert slips(clamp * (1 - 1e-9), force, friction, faces)


def test_slip_goes_over_conditions():
    found = slips(np.array([1000.0, 3000.0]), 250.0, 0.1)
    assert found.tolist() == [True, False]


def test_a_prevailing_torque_does_not_count_where_slip_and_axial_load_meet():
    """Eccles 2010: it stops at its running torque, but with an axial load beside the slip it runs off."""
    still, slip, both = (
        counts_as_locking("prevailing-torque", PREVAILING, *state)
        for state in ((False, True), (True, False), (True, True))
    )
    assert (still.counts, still.held) == (True, "preload")
    assert (slip.counts, slip.held) == (True, "nut")
    assert (both.counts, both.held, both.state) == (False, "nothing", "slip with axial load")
    assert both.reason == "prevailing-torque in a joint with slip with axial load: can turn off altogether"


def test_a_word_that_is_none_is_refused():
    with pytest.raises(ValueError, match="one of preload, nut, nothing"):
        Holds("preload", "some", "nothing")
