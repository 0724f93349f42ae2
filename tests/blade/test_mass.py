"""Mass spread: exact integrals, both measurements met, and the refusal with its numbers."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from bladehold.blade import GREATEST_TAPER, BalanceError, fit_mass, span_moments

STATIONS = np.array([0.0, 0.02, 0.07, 0.15, 0.22, 0.30])
LINE = np.array([0.30, 0.22, 0.25, 0.18, 0.12, 0.04])


def test_moments_are_the_integrals_of_a_broken_line():
    found = span_moments(STATIONS, LINE)
    for power, value in enumerate(found):
        exact = quad(lambda x, n=power: x**n * np.interp(x, STATIONS, LINE), 0, 0.3, points=STATIONS)[0]
        assert float(value) == pytest.approx(exact, rel=1e-9)


def test_scaling_alone_keeps_the_balance_point():
    found = fit_mass(STATIONS, LINE, 0.08)
    mass, first, second = (float(v) for v in span_moments(STATIONS, found.line_mass))
    assert (mass, first / mass) == pytest.approx((0.08, found.balance_point), rel=1e-12)
    assert found.taper == 0.0
    assert found.flap_inertia == pytest.approx(second)
    assert np.allclose(found.line_mass, LINE * found.factor)
    assert np.ptp(found.factor) == pytest.approx(0.0, abs=1e-12)


@given(st.floats(0.01, 1.0), st.floats(-0.9, 0.9))
def test_both_measurements_are_met_within_the_bound(mass, share):
    ends = [balance_with(taper) for taper in (-GREATEST_TAPER, GREATEST_TAPER)]
    wanted = 0.5 * (ends[0] + ends[1]) + share * 0.5 * (ends[1] - ends[0])
    found = fit_mass(STATIONS, LINE, mass, wanted)
    total, first, _ = (float(v) for v in span_moments(STATIONS, found.line_mass))
    assert (total, first / total) == pytest.approx((mass, wanted), rel=1e-9)
    assert abs(found.taper) <= GREATEST_TAPER
    assert np.all(found.line_mass > 0.0)


def balance_with(taper):
    tapered = LINE * (1 + taper * (2 * STATIONS / STATIONS[-1] - 1))
    mass, first, _ = span_moments(STATIONS, tapered)
    return float(first / mass)


@pytest.mark.parametrize(("wanted", "end"), [(0.29, GREATEST_TAPER), (0.01, -GREATEST_TAPER)])
def test_a_balance_point_the_sections_cannot_have_is_refused_with_numbers(wanted, end):
    with pytest.raises(BalanceError) as caught:
        fit_mass(STATIONS, LINE, 0.08, wanted)
    error = caught.value
    assert (error.measured, error.greatest_taper) == (wanted, GREATEST_TAPER)
    assert error.nearest == pytest.approx(balance_with(end), rel=1e-9)
    assert error.from_sections == pytest.approx(balance_with(0.0), rel=1e-9)
    for number in (error.measured, error.nearest, error.from_sections):
        assert f"{number:.4g} m" in str(error)


def test_mass_must_be_positive():
    with pytest.raises(ValueError, match="mass 0 kg must be positive"):
        fit_mass(STATIONS, LINE, 0.0)
