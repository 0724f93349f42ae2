"""Load cases: peaks, spans and counts of blocks built from known courses."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.blade import RootComponents, event_case, sequence, turn_case

size = st.floats(-50.0, 50.0)


@given(size, st.floats(0.0, 50.0), st.floats(0.0, 6.0))
def test_one_harmonic_gives_mean_plus_amplitude(mean, amplitude, phase):
    case = turn_case(
        "edgewise flight",
        RootComponents.of(flap=mean),
        RootComponents.of(flap=[amplitude * np.cos(phase)]),
        RootComponents.of(flap=[amplitude * np.sin(phase)]),
        share=0.25,
        flight_time=1200.0,
        speed=100 * np.pi,
        basis="made up",
    )
    short = amplitude * (1.0 - np.cos(np.pi / 72))  # the crest lies between two instants
    assert abs(case.peak.flap) == pytest.approx(abs(mean) + amplitude, abs=short + 1e-9)
    assert float(case.span.flap) == pytest.approx(2 * amplitude, abs=2 * short + 1e-9)
    assert float(case.repeats) == pytest.approx(0.25 * 1200.0 * 50.0)
    assert float(case.peak.lag) == float(case.span.centrifugal) == 0.0


def test_harmonics_keep_the_phase_between_components():
    case = turn_case(
        "two parts",
        RootComponents.of(),
        RootComponents.of(flap=[0.0, 2.0]),
        RootComponents.of(lag=[3.0, 0.0]),
        share=1.0,
        flight_time=60.0,
        speed=300.0,
        basis="made up",
    )
    psi = 2 * np.pi * np.arange(72) / 72
    assert case.history.flap == pytest.approx(2 * np.cos(2 * psi))
    assert case.history.lag == pytest.approx(3 * np.sin(psi))


def test_peak_keeps_its_sign_and_span_its_size():
    history = sequence(RootComponents.of(lag=1.0), RootComponents.of(lag=-4.0, centrifugal=900.0))
    case = event_case("kick", history, events=3.0, basis="made up", cycles=2.0)
    assert float(case.peak.lag) == -4.0
    assert float(case.span.lag) == 5.0
    assert float(case.peak.centrifugal) == 900.0
    assert float(case.repeats) == 6.0


def test_conditions_lead_and_instants_follow():
    steady = RootComponents.of(centrifugal=np.array([[1.0], [2.0]]), lag=np.array([1.0, 2.0, 3.0]))
    history = sequence(steady, steady.times(2.0), steady.times(0.0))
    assert history.flap.shape == (2, 3, 3)
    case = event_case("batch", history, events=1.0, basis="made up")
    assert case.peak.centrifugal.tolist() == [[2.0] * 3, [4.0] * 3]
    assert case.span.lag.tolist() == [[2.0, 4.0, 6.0]] * 2


@pytest.mark.parametrize("share", [-0.1, 1.1, np.nan])
def test_impossible_shares_are_refused(share):
    none = RootComponents.of(flap=[0.0])
    with pytest.raises(ValueError, match="cruise"):
        turn_case("cruise", RootComponents.of(), none, none, share, 60.0, 300.0, "made up")
    with pytest.raises(ValueError, match="kick"):
        event_case("kick", RootComponents.of(flap=[0.0]), -1.0, "made up")
