"""The root finder."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from bladehold.rotor.bracket import bracketed_root


def solve(function, low, high, tolerance=1e-12):
    ends = [np.atleast_1d(np.asarray(end, dtype=float)) for end in (low, high)]
    every = np.arange(ends[0].size)
    return bracketed_root(
        function, *ends, function(ends[0], every), function(ends[1], every), tolerance=tolerance
    )


@given(st.lists(st.floats(-0.99, 0.99), min_size=1, max_size=20), st.floats(0.2, 9.0))
def test_every_root_is_found_in_its_own_interval(roots, power):
    wanted = np.array(roots)

    def function(x, which):
        away = x - wanted[which]
        return np.sign(away) * np.abs(away) ** power

    found = solve(function, np.full(wanted.size, -1.0), np.full(wanted.size, 1.0))
    assert np.all(np.abs(found) <= 1.0)
    # |f| <= 1e-12 is what ends the search of a flat function
    assert np.all(np.abs(found - wanted) <= np.maximum(1e-12, 1e-12 ** (1 / power)) * 1.01)


def test_a_jump_is_found_as_well_as_a_root():
    found = solve(lambda x, which: np.where(x < 0.3, -1.0, 5.0), 0.0, 1.0)
    assert abs(found[0] - 0.3) < 1e-11


def test_the_function_is_asked_only_for_roots_still_sought():
    asked = []

    def function(x, which):
        asked.append(which.size)
        return np.where(which == 0, x - 0.5, x**9 - 1e-3)

    solve(function, [0.0, 0.0], [1.0, 1.0])
    assert asked[-1] == 1


def test_a_root_at_the_end_is_returned():
    assert solve(lambda x, which: x, 0.0, 1.0)[0] == 0.0
    assert solve(lambda x, which: x - 1.0, 0.0, 1.0)[0] == 1.0
