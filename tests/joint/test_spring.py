import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.joint.spring import disc_spring_force, disc_spring_rate, disc_stack_rate
from bladehold.joint.stiffness import in_series

A20 = (20e-3, 10.2e-3, 1.1e-3, 0.45e-3, 206e9)


@pytest.mark.parametrize(
    ("size", "force"),
    [
        ((20, 10.2, 1.1, 0.45), 1530),
        ((20, 10.2, 0.8, 0.55), 745),
        ((10, 5.2, 0.5, 0.25), 329),
        ((12.5, 6.2, 0.7, 0.3), 673),
    ],
)
def test_tabled_forces_of_standard_discs(size, force):
    """Forces at 0.75 h of DIN 2093, from memory; sizes in mm. 2 %: the tables round and editions differ."""
    outer, inner, thickness, height = (1e-3 * length for length in size)
    ours = disc_spring_force(0.75 * height, outer, inner, thickness, height, 206e9)
    assert ours == pytest.approx(force, rel=0.02)


@given(st.floats(0.01, 0.99))
def test_the_rate_is_the_slope_of_the_force(share):
    s, step = share * A20[3], 1e-9
    slope = (disc_spring_force(s + step, *A20) - disc_spring_force(s - step, *A20)) / (2 * step)
    assert disc_spring_rate(s, *A20) == pytest.approx(float(slope), rel=1e-5)


def test_stacks_and_screws_in_series():
    rate = float(disc_spring_rate(0.3e-3, *A20))
    assert disc_stack_rate(rate, 2, 4) == pytest.approx(rate / 2)
    assert in_series([100e6, rate]) < rate


def test_beyond_flat_and_inside_out_are_refused():
    with pytest.raises(ValueError, match="cone height less deflection"):
        disc_spring_force(0.5e-3, *A20)
    with pytest.raises(ValueError, match="outer diameter"):
        disc_spring_rate(np.zeros(2), 5e-3, 10e-3, 1e-3, 0.4e-3, 206e9)
