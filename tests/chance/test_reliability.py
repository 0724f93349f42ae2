"""Probability of failure where it is known exactly, and what is said where one design point misleads."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.special import ndtr
from scipy.stats import binom

from bladehold.chance import (
    about_points,
    at_random,
    counted,
    design_points,
    reliability,
    variance_shares,
    weighed,
)


def plane(normal, distance):
    unit = np.asarray(normal) / np.linalg.norm(normal)
    return lambda u: distance - u @ unit


@settings(deadline=None, max_examples=40)
@given(
    normal=st.lists(st.floats(-3.0, 3.0), min_size=2, max_size=8).filter(lambda n: np.linalg.norm(n) > 0.5),
    distance=st.floats(0.5, 7.0),
)
def test_a_plane_has_one_design_point_at_its_distance(normal, distance):
    found = design_points(plane(normal, distance), len(normal))
    assert len(found.points) == 1
    point = found.points[0]
    assert point.settled
    assert point.distance == pytest.approx(distance, abs=1e-3)
    unit = np.asarray(normal) / np.linalg.norm(normal)
    assert point.u == pytest.approx(distance * unit, abs=0.01)
    assert point.shares == pytest.approx(unit**2, abs=1e-6)


@pytest.mark.parametrize("distance", [2.0, 4.0, 6.0, 8.0])
def test_rare_failures_by_importance_sampling(distance):
    found = about_points(
        plane([1.0, 2.0, -1.0], distance), [distance * np.array([1, 2, -1]) / np.sqrt(6.0)], 40_000
    )
    assert found.low < ndtr(-distance) < found.high
    assert found.high / found.low < 1.15


def test_bounds_hold_as_often_as_they_say():
    held = 0
    for seed in range(200):
        found = at_random(plane([1.0], 1.5), 1, 3000, seed)
        held += found.low <= ndtr(-1.5) <= found.high
    assert held >= binom.ppf(0.001, 200, 0.95)


def test_bounds_of_importance_sampling_hold_as_often_as_they_say():
    centre = [np.array([3.0, 0.0])]
    held = 0
    for seed in range(200):
        found = about_points(plane([1.0, 0.0], 3.0), centre, 500, seed)
        held += found.low <= ndtr(-3.0) <= found.high
    assert held >= binom.ppf(0.001, 200, 0.95)


def test_no_failure_still_has_an_upper_bound():
    assert counted(0, 10_000).high == pytest.approx(1.0 - 0.025 ** (1.0 / 10_000), rel=1e-9)
    assert counted(5, 5).low == pytest.approx(0.025**0.2, rel=1e-9)
    assert weighed(np.zeros(10)).high == 1.0


def test_a_failing_middle_has_a_negative_index():
    found = reliability(lambda u: u[:, 0] - 2.0, 2, samples=20_000)
    assert found.index == pytest.approx(-2.0, abs=1e-3)
    assert found.first_order == pytest.approx(ndtr(2.0), rel=1e-3)
    assert found.estimate.low < ndtr(2.0) < found.estimate.high


def test_beyond_reach_is_told_apart_from_never():
    found = reliability(lambda u: 1000.0 - u[:, 0], 2, samples=1000)
    assert not found.points
    assert found.first_order is None
    assert (found.estimate.probability, found.estimate.failures) == (0.0, 0)
    assert found.estimate.high > 0.0


def test_a_limit_state_without_a_number_is_refused():
    with pytest.raises(ValueError, match="no number"):
        design_points(lambda u: np.full(len(u), np.nan), 2)


def test_the_same_seed_gives_the_same_answer_whatever_the_order_of_asking():
    first = reliability(plane([1.0, 1.0], 3.5), 2, samples=20_000, seed=4).estimate
    assert reliability(plane([1.0, 1.0], 3.5), 2, samples=20_000, seed=4).estimate == first
    assert reliability(plane([1.0, 1.0], 3.5), 2, samples=20_000, seed=5).estimate != first


def test_shares_of_a_sum_are_those_of_its_parts():
    found = variance_shares(lambda u: 3.0 * u[:, 0] + 4.0 * u[:, 1], 3, 4096)
    assert found.first == pytest.approx([0.36, 0.64, 0.0], abs=0.03)
    assert found.total == pytest.approx([0.36, 0.64, 0.0], abs=0.03)
    assert np.isfinite(found.total_bounds).all()
