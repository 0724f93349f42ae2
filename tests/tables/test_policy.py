"""Factors of the policy."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.tables import factor, factor_names, governing_special_factor


def test_values_and_sources():
    values = {name: factor(name).value for name in factor_names()}
    assert values == {
        "limit_to_ultimate": 1.5,
        "yield": 1.0,
        "fitting": 1.15,
        "centrifugal_proof": 2.0,
        "separation": 1.2,
        "slip_friction_bare": 0.20,
        "slip_friction_other": 0.10,
        "preload_relaxation": 0.05,
        "marginal_band": 0.15,
        "scatter_one_test": 4.0031,
        "scatter_curve": 8,
    }
    own = {name for name in factor_names() if factor(name).provenance.mark == "choice"}
    assert own == {"marginal_band"}
    unconfirmed = {name for name in factor_names() if factor(name).provenance.unconfirmed}
    assert unconfirmed == {"scatter_curve"}  # used by no check

    assert all(factor(name).meaning for name in factor_names())


@given(st.lists(st.floats(1, 10)))
def test_the_highest_special_factor_governs(factors):
    governing = governing_special_factor(factors)
    assert governing >= 1.0
    assert all(governing >= one for one in factors)
    assert governing in {1.0, *factors}


def test_a_relaxing_special_factor_is_refused():
    with pytest.raises(ValueError, match=r"at least 1, not 0\.9"):
        governing_special_factor([1.15, 0.9])
