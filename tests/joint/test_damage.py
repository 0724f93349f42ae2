"""Miner's sum and what counts the cycles."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.joint import damage
from bladehold.tables import factor


def test_three_blocks_by_hand():
    """1000 of 1e6, 50 of 1e4, 2 of 400 cycles an hour: 1e-3 + 5e-3 + 5e-3 = 0.011 per hour."""
    rate = damage.damage_per_hour([1000.0, 50.0, 2.0], [1e6, 1e4, 400.0])
    assert rate == pytest.approx(0.011)
    assert damage.life_hours(rate, 4.0) == pytest.approx(0.25 / 0.011)
    assert damage.life_hours(rate, 4.0, 0.2) == pytest.approx(0.05 / 0.011)
    assert damage.life_hours(rate, 4.0, 0.3) == 0.0


def test_where_nothing_happens_life_is_infinite():
    rate = damage.damage_per_hour([[1e6, 0.0], [1e6, 1.0]], [np.inf, 0.0])
    assert list(rate) == [0.0, np.inf]
    assert list(damage.life_hours(rate, 8.0)) == [np.inf, 0.0]
    assert damage.life_hours(0.0, 8.0, 0.2) == 0.0  # used up before, whatever comes


def test_leading_axes_and_cases():
    rate = damage.damage_per_hour(np.full((3, 1, 4), 100.0), np.full((5, 4), 1e5))
    assert rate.shape == (3, 5)
    assert rate == pytest.approx(4e-3)


@given(st.floats(1e-9, 1), st.floats(1, 20), st.floats(0, 5))
def test_life_falls_with_scatter(rate, scatter, more):
    assert damage.life_hours(rate, scatter + more) <= damage.life_hours(rate, scatter)


@given(st.floats(1e-6, 1e-2), st.floats(0.05, 0.95))
def test_flying_on_uses_up_what_is_left(rate, share):
    whole = damage.life_hours(rate, 4.0)
    assert damage.life_hours(rate, 4.0, rate * share * whole) == pytest.approx(float((1 - share) * whole))


def test_scatter_factor():
    assert damage.scatter_factor(1) == pytest.approx(factor("scatter_one_test").value, abs=5e-5)
    factors = damage.scatter_factor(np.array([1, 2, 4, 1e9]))
    assert np.all(np.diff(factors) < 0)
    assert factors[-1] == pytest.approx(6**0.5, rel=1e-4)  # the middle is known: three of six deviations


def test_cycles_in_an_hour():
    assert damage.turn_cycles_per_hour(2 * np.pi * 50, 0.5, 2) == pytest.approx(180e3)
    assert damage.event_cycles_per_hour(1.0, 1200.0) == pytest.approx(3.0)


def test_start_and_stop():
    greatest, least = damage.start_stop_range([[3.0, 5.0, 4.0], [-2.0, 1.0, 0.5], [-3.0, -2.0, -1.0]])
    assert list(greatest) == [5.0, 1.0, 0.0]
    assert list(least) == [0.0, -2.0, -3.0]


def test_refusals():
    with pytest.raises(ValueError, match="cycles to failure"):
        damage.damage_per_hour([1.0], [np.nan])
    with pytest.raises(ValueError, match="damage per hour"):
        damage.life_hours(-1.0, 4.0)
    with pytest.raises(ValueError, match="scatter - 1"):
        damage.life_hours(1.0, 0.5)
    with pytest.raises(ValueError, match="specimens - 1"):
        damage.scatter_factor(0.5)
    with pytest.raises(ValueError, match="1 - time share"):
        damage.turn_cycles_per_hour(300.0, 1.1)
