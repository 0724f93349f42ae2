"""From a life to flights, looks and what would change it."""

import numpy as np
import pytest

from bladehold.joint.intervals import inspection_interval, life_in_flights, life_ratio, life_without


def test_flights_and_looks():
    assert life_in_flights([6.0, np.inf], 1080.0).tolist() == [20.0, np.inf]
    assert inspection_interval([30.0, np.inf]).tolist() == [10.0, np.inf]
    assert inspection_interval(30.0, looks=1) == 30.0


def test_less_load_lengthens_by_the_slope_of_the_curve():
    # S^10 N = const: a tenth less load lasts 1 / 0.9^10 times as long
    assert life_ratio(0.9, -10.0) == pytest.approx(1 / 0.9**10)
    assert life_ratio(1.0, -7.0) == 1.0


def test_less_of_one_group_by_miners_sum():
    damage, kept = np.array([3.0, 1.0]), np.array([1.5, 1.0])
    assert life_without(0.75, 0.5) == pytest.approx(damage.sum() / kept.sum())
    assert life_without(1.0, 0.0) == np.inf


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: life_in_flights(-1.0, 900.0), "hours"),
        (lambda: life_in_flights(10.0, 0.0), "flight time"),
        (lambda: inspection_interval(10.0, 0), "looks"),
        (lambda: life_ratio(0.0, -3.0), "load ratio"),
        (lambda: life_without(1.2, 0.5), "share"),
        (lambda: life_without(0.5, -0.1), "left"),
    ],
)
def test_what_makes_no_sense_is_refused_by_name(call, says):
    with pytest.raises(ValueError, match=says):
        call()
