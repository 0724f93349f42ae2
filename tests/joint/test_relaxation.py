from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.joint.relaxation import (
    CREEP_TEMPERATURE,
    WEEK,
    relaxed_share,
    retightened_share,
    softened_coefficient,
    time_to_share,
)

CARBON = (0.1126, 0.20)
times = st.floats(0.01 * WEEK, 500 * WEEK)


def test_a_dry_carbon_laminate_keeps_four_fifths_for_a_year():
    """1/(1 + 0.1126 x 52^0.2) = 1/(1 + 0.1126 x 2.204) = 0.801."""
    assert relaxed_share(52 * WEEK, *CARBON) == pytest.approx(1 / (1 + 0.1126 * 52**0.2))
    assert relaxed_share(52 * WEEK, *CARBON) == pytest.approx(0.801, abs=5e-4)


def test_moisture_makes_time_run_faster():
    dry, damp = (time_to_share(0.8, *CARBON, shift) for shift in (1.0, 0.01))
    assert damp == pytest.approx(dry / 100)
    assert CREEP_TEMPERATURE.breach(273.15 + 66)
    assert CREEP_TEMPERATURE.breach(273.15 + 20) is None


@given(st.floats(0.05, 0.99), st.floats(0.02, 1.0), st.floats(0.1, 0.5))
def test_time_and_share_are_inverse(share, coefficient, exponent):
    time = time_to_share(share, coefficient, exponent)
    assert relaxed_share(time, coefficient, exponent) == pytest.approx(share)


@given(times, times)
def test_preload_only_falls(first, later):
    low, high = sorted((first, first + later))
    assert relaxed_share(high, *CARBON) <= relaxed_share(low, *CARBON)


def test_a_loss_that_is_there_at_once_does_not_come_back_whole():
    """Metal: 5 % at once; tightened again the same 5 % of the 5 % that was added."""
    coefficient = 0.05 / 0.95
    assert relaxed_share(9 * WEEK, coefficient, 0.0) == pytest.approx(0.95)
    assert retightened_share(9 * WEEK, [WEEK], coefficient, 0.0) == pytest.approx(
        1 / (1 + 0.05 * coefficient)
    )


def test_without_tightening_again_it_is_the_plain_law():
    now = np.array([0.5, 3.0, 40.0]) * WEEK
    assert retightened_share(now, [], *CARBON) == pytest.approx(relaxed_share(now, *CARBON))


@given(st.floats(0.1, 20.0), st.floats(0.1, 50.0), st.floats(0.02, 0.8), st.floats(0.1, 0.4))
def test_each_tightening_leaves_more_after_the_same_time(gap, wait, coefficient, exponent):
    """One more tightening keeps more for the same wait, and never more than was set."""
    shares = [
        float(
            retightened_share(
                (count * gap + wait) * WEEK, gap * WEEK * np.arange(1, count + 1), coefficient, exponent
            )
        )
        for count in range(5)
    ]
    assert all(later > earlier for earlier, later in pairwise(shares))
    assert shares[-1] < 1.0


@given(st.floats(0.1, 20.0), st.floats(0.1, 50.0))
def test_tightening_again_lies_between_a_new_stack_and_one_that_stayed_loaded(gap, wait):
    coefficient, exponent = CARBON
    again = retightened_share((gap + wait) * WEEK, [gap * WEEK], *CARBON)
    new = relaxed_share(wait * WEEK, *CARBON)
    held = 1 / (1 + coefficient * ((gap + wait) ** exponent - gap**exponent))
    assert new < again < held


def test_spring_washers_keep_more():
    softer = softened_coefficient(0.1126, 20e6, 80e6)
    assert softer == pytest.approx(0.02815)
    assert relaxed_share(52 * WEEK, softer, 0.2) > 0.94


def test_times_out_of_order_are_refused():
    with pytest.raises(ValueError, match="in order"):
        retightened_share(9 * WEEK, [2 * WEEK, WEEK], *CARBON)
    with pytest.raises(ValueError, match="before the last tightening"):
        retightened_share(0.5 * WEEK, [WEEK], *CARBON)
    with pytest.raises(ValueError, match="share"):
        time_to_share(1.0, *CARBON)
