"""Rainflow by places: against the library's own ranges, under monotone maps, closed histories, many rows."""

import numpy as np
import pytest
import rainflow
from hypothesis import given
from hypothesis import strategies as st

from bladehold.joint.counting import rainflow_pairs

HISTORY = st.lists(st.integers(-6, 6).map(float), min_size=2, max_size=24)


def ranges(series, pairs):
    """Counted ranges and how often, sorted, nothing without a range."""
    values = np.asarray(series, dtype=float)
    found = {}
    for first, second, count in zip(pairs.first, pairs.second, pairs.count, strict=True):
        size = abs(values[first] - values[second])
        if count and size:
            found[size] = found.get(size, 0.0) + count
    return sorted(found.items())


@given(HISTORY)
def test_ranges_are_those_of_the_library(series):
    wanted = [(size, count) for size, count in rainflow.count_cycles(series) if size]
    assert ranges(series, rainflow_pairs(series)) == wanted


@given(HISTORY)
def test_cycles_stay_when_the_load_is_bent_but_rises_alike(series):
    plain, bent = rainflow_pairs(series, repeating=True), rainflow_pairs(np.exp(series), repeating=True)
    for name in ("first", "second", "count"):
        assert getattr(plain, name).tolist() == getattr(bent, name).tolist()


@given(HISTORY)
def test_a_closed_history_has_whole_cycles_whose_ranges_are_its_way_up(series):
    pairs = rainflow_pairs(series, repeating=True)
    assert np.all(pairs.count == np.round(pairs.count))
    closed = np.append(series, series[0])
    up = np.maximum(np.diff(closed), 0.0).sum()
    total = sum(size * count for size, count in ranges(series, pairs))
    assert total == pytest.approx(up)
    if np.ptp(series):
        assert ranges(series, pairs)[-1][0] == np.ptp(series)


@given(HISTORY, st.integers(0, 23))
def test_a_closed_history_may_begin_anywhere(series, turn):
    turned = np.roll(series, turn)
    assert ranges(turned, rainflow_pairs(turned, repeating=True)) == ranges(
        series, rainflow_pairs(series, repeating=True)
    )


def test_rows_are_counted_as_if_alone_and_padded_with_nothing():
    random = np.random.default_rng(3)
    series = random.integers(-4, 5, size=(7, 5, 12)).astype(float)
    whole = rainflow_pairs(series, repeating=True)
    for at in np.ndindex(7, 5):
        alone = rainflow_pairs(series[at], repeating=True)
        together = ranges(series[at], type(whole)(whole.first[at], whole.second[at], whole.count[at]))
        assert together == ranges(series[at], alone)


def test_a_steady_history_has_no_cycle():
    assert rainflow_pairs([3.0, 3.0, 3.0], repeating=True).count.sum() == 0.0


@pytest.mark.parametrize("series", [[1.0], 2.0, [1.0, np.nan]])
def test_what_is_no_history_is_refused(series):
    with pytest.raises(ValueError, match=r"load|history"):
        rainflow_pairs(series)
