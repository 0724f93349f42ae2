"""Distributions by their moments: against SciPy's own, by quadrature, and at the ends."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from bladehold.chance import KINDS, Marginal

SCIPY = {
    "normal": stats.norm,
    "lognormal": lambda m, s: stats.lognorm(
        np.sqrt(np.log1p((s / m) ** 2)), scale=m / np.sqrt(1.0 + (s / m) ** 2)
    ),
    "uniform": lambda m, s: stats.uniform(m - np.sqrt(3.0) * s, 2.0 * np.sqrt(3.0) * s),
    "gumbel": lambda m, s: stats.gumbel_r(
        m - np.euler_gamma * np.sqrt(6.0) / np.pi * s, np.sqrt(6.0) / np.pi * s
    ),
}


@pytest.mark.parametrize("kind", KINDS)
def test_quantiles_are_those_of_scipy(kind):
    share = np.array([1e-9, 1e-3, 0.2, 0.5, 0.9, 1.0 - 1e-6])
    found = Marginal(kind, 7.0, 1.3).quantile(share)
    assert found == pytest.approx(SCIPY[kind](7.0, 1.3).ppf(share), rel=1e-7)


@pytest.mark.parametrize("kind", KINDS)
@settings(deadline=None)
@given(mean=st.floats(0.5, 50.0), cov=st.floats(0.01, 0.5))
def test_moments_by_quadrature(kind, mean, cov):
    u, weight = np.polynomial.hermite_e.hermegauss(200)
    x, weight = Marginal(kind, mean, cov * mean).at(u), weight / weight.sum()
    first = float(x @ weight)
    # The corners of the uniform one are what 200 points resolve least.
    near = 2e-3 if kind == "uniform" else 1e-4
    assert first == pytest.approx(mean, rel=near)
    assert float((x - first) ** 2 @ weight) == pytest.approx((cov * mean) ** 2, rel=10 * near)


def test_far_out_the_greatest_of_many_still_grows():
    at = Marginal("gumbel", 0.0, 1.0).at([6.0, 7.0, 8.0, 9.0])
    assert np.all(np.diff(at) > 4.0)
    assert np.all(np.isfinite(at))


@pytest.mark.parametrize(
    ("given_", "said"),
    [
        (("weibull", 1.0, 0.1), "known are normal"),
        (("normal", 1.0, 0.0), "standard deviation"),
        (("normal", 1.0, float("nan")), "standard deviation"),
        (("lognormal", -1.0, 0.1), "positive"),
    ],
)
def test_no_distribution(given_, said):
    with pytest.raises(ValueError, match=said):
        Marginal(*given_)
