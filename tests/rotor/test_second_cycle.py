"""The second cycle within a turn, against rainflow of the closed turn."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.joint.counting import rainflow_pairs
from bladehold.rotor import second_cycle

PSI = 2 * np.pi * np.arange(12) / 12
FINE = 2 * np.pi * np.arange(96) / 96


@given(st.floats(0.0, 2.0), st.floats(0.0, 2.0), st.floats(0.0, 6.28))
def test_two_crests_are_counted_as_rainflow_does(once, twice, phase):
    """Twelve steps are enough: the curve through them is the load itself."""
    few, load = (once * np.cos(psi) + twice * np.cos(2 * psi + phase) for psi in (PSI, FINE))
    pairs = rainflow_pairs(load, repeating=True)
    sizes = np.repeat(np.abs(load[pairs.first] - load[pairs.second]), pairs.count.astype(int))
    second = np.sort(sizes)[-2] if sizes.size > 1 else 0.0
    assert 2 * second_cycle(few) == pytest.approx(second, abs=1e-9)


def test_a_load_that_is_no_number_is_refused():
    with pytest.raises(ValueError, match="not a number"):
        second_cycle([[0.0, np.nan, 1.0, 0.0]])


def test_one_crest_has_no_second_cycle_and_rows_are_rows():
    both = second_cycle([np.cos(PSI), np.cos(PSI) + 2 * np.cos(2 * PSI)])
    assert both[0] == 0.0 and both[1] > 0.5
