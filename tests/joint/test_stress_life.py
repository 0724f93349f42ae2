"""Stress-life curves: steel's line and the handbook's equation."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.joint import fatigue
from bladehold.joint.stress_life import (
    KSI,
    MEAN_STRESS,
    RATIO,
    SIZE,
    SURFACES,
    HandbookCurve,
    ReversedLine,
    amplitude_and_mean,
    equivalent_stress,
    gerber_reversed,
    goodman_reversed,
    low_cycle_fraction,
    size_factor,
    specimen_endurance,
    steel_line,
    surface_factor,
)
from bladehold.tables import fatigue_curves, fatigue_materials

SUT, SE = 1040e6, 350e6
LINES = {
    "steel": ReversedLine(SUT, 830e6, SE),
    "titanium": ReversedLine(950e6, 760e6, 300e6, 1e7, False, "gerber"),
}
CURVES = {
    f"{row.material} Kt {row.notch:g}": HandbookCurve(
        row.intercept, row.slope, row.ratio_exponent, row.offset, row.notch, row.largest_cycles
    )
    for name in fatigue_materials()
    for row in fatigue_curves(name)
}
EVERY = {**LINES, **CURVES}
amplitudes, means = st.floats(1e6, 400e6), st.floats(-300e6, 500e6)


@pytest.mark.parametrize("name", EVERY)
@given(amplitude=amplitudes, mean=means, more=st.floats(1e5, 200e6))
def test_life_falls_with_amplitude_and_with_mean(name, amplitude, mean, more):
    curve = EVERY[name]
    life = curve.cycles(mean + amplitude, mean - amplitude)
    assert curve.cycles(mean + amplitude + more, mean - amplitude - more) <= life
    assert curve.cycles(mean + more + amplitude, mean + more - amplitude) <= life * (1 + 1e-9)


@pytest.mark.parametrize("name", EVERY)
@given(amplitude=amplitudes, mean=st.floats(0, 500e6), cycles=st.floats(1e3, 1e11))
def test_the_allowable_amplitude_lasts_the_cycles_asked_for(name, amplitude, mean, cycles):
    curve = EVERY[name]
    allowed = float(curve.allowable(cycles, mean + amplitude, mean - amplitude))
    keep = 1.0 if isinstance(curve, ReversedLine) else allowed / amplitude  # the mean, or the stress ratio
    high, low = keep * mean + allowed, keep * mean - allowed
    if isinstance(curve, ReversedLine) and curve.endless and cycles >= curve.knee:
        assert curve.cycles(high * (1 - 1e-9), low * (1 - 1e-9)) == np.inf
        assert curve.cycles(keep * mean + 1.001 * allowed, keep * mean - 1.001 * allowed) <= curve.knee
    else:
        assert curve.cycles(high, low) == pytest.approx(cycles, rel=1e-6)


@pytest.mark.parametrize("name", CURVES)
def test_curve_is_smooth_where_it_leaves_its_tests(name):
    curve = CURVES[name]
    stress = curve.end * np.array([1 - 2e-6, 1 - 1e-6, 1 + 1e-6, 1 + 2e-6])
    life = np.log(curve.cycles(stress, 0.0))
    assert life.mean() == pytest.approx(np.log(curve.largest), rel=1e-6)
    slopes = np.diff(life)[[0, 2]] / np.diff(np.log(stress))[[0, 2]]
    assert slopes[0] == pytest.approx(slopes[1], rel=1e-3)
    assert list(curve.beyond(curve.cycles(curve.end * np.array([0.99, 1.01]), 0.0))) == [True, False]


def test_no_endless_life_below_the_handbooks_asymptote():
    curve = CURVES["7075-T6 Kt 1"]
    life = curve.cycles(0.5 * curve.offset, 0.0)
    assert np.isfinite(life)
    assert curve.beyond(life)
    assert curve.cycles(100e6, 100e6) == np.inf  # nothing swings


def test_line_at_its_two_ends():
    line = LINES["steel"]
    assert line.cycles(830e6, -830e6) == pytest.approx(1e3)
    assert line.cycles(830.01e6, -830.01e6) == 0.0
    assert line.cycles(SE * (1 + 1e-6), -SE * (1 + 1e-6)) == pytest.approx(1e6, rel=1e-4)
    assert line.cycles(SE * (1 - 1e-6), -SE * (1 - 1e-6)) == np.inf
    other = LINES["titanium"]
    assert other.cycles(300e6, -300e6) == pytest.approx(1e7)
    assert 1e7 < other.cycles(290e6, -290e6) < 1e8
    assert list(other.beyond(np.array([1e7, 2e7]))) == [False, True]
    assert not line.beyond(np.array([np.inf])).any()


def test_mean_at_the_strength_leaves_nothing():
    line = LINES["steel"]
    assert line.cycles(SUT + 1e6, SUT - 1e6) == 0.0
    assert line.allowable(1e4, SUT + 1e6, SUT - 1e6) == 0.0
    assert line.cycles(SUT, SUT) == np.inf  # no swing, a static matter


def test_compression_earns_no_credit():
    line, curve = LINES["steel"], CURVES["6061-T6 Kt 1"]
    assert line.cycles(300e6, -500e6) == line.cycles(400e6, -400e6)
    assert curve.cycles(50e6, -250e6) == pytest.approx(float(curve.cycles(150e6, -150e6)))
    assert curve.cycles(-50e6, -350e6) == pytest.approx(float(curve.cycles(150e6, -150e6)))
    assert RATIO.breach(-1.0) is None
    assert "full reversal" in RATIO.breach(-5.0)


@given(st.floats(1e6, 300e6), st.floats(-1, 0.95))
def test_equivalent_stress_is_the_handbooks(high, ratio):
    found = equivalent_stress(high, ratio * high, 0.62)
    assert found == pytest.approx(high * (1 - ratio) ** 0.62, rel=1e-9)


@given(st.floats(0, 500e6))
def test_mean_stress_lines_agree_with_those_of_screws(preload):
    """The strength found on a line, with its mean, counts as exactly the endurance."""
    goodman = fatigue.goodman_amplitude(129e6, 830e6, preload)
    assert goodman_reversed(goodman, preload + goodman, 830e6) == pytest.approx(129e6)
    gerber = fatigue.gerber_amplitude(129e6, 830e6, preload)
    assert gerber_reversed(gerber, preload + gerber, 830e6) == pytest.approx(129e6)


def test_factors_of_the_endurance():
    assert specimen_endurance(np.array([800e6, 1400e6, 1800e6])) / 1e6 == pytest.approx([400, 700, 700])
    assert size_factor(np.array([2e-3, 7.4e-3])) == pytest.approx([1, 1])
    assert size_factor(30e-3) < size_factor(10e-3) < 1
    assert SIZE.breach(60e-3) is not None
    factors = [float(surface_factor(900e6, name)) for name in SURFACES]
    assert factors == sorted(factors, reverse=True)
    assert surface_factor(90e6, "machined") == 1.0
    assert low_cycle_fraction(np.array([60, 70, 200, 300]) * KSI) == pytest.approx(
        [0.9, 0.89781, 0.776, 0.776]
    )
    line = steel_line(1040e6, 5e-3, factor=0.814)
    assert line.endurance == pytest.approx(0.814 * 3.04 * 1040**-0.217 * 520e6)
    assert "Goodman" in line.method


def test_refusals():
    with pytest.raises(ValueError, match="greatest less least stress"):
        amplitude_and_mean(1.0, 2.0)
    with pytest.raises(ValueError, match="surface 'rough'"):
        surface_factor(900e6, "rough")
    with pytest.raises(ValueError, match="mean stress 'none'"):
        steel_line(900e6, 5e-3, mean_stress="none")
    with pytest.raises(ValueError, match="low-cycle over endurance"):
        ReversedLine(SUT, SE, SE).cycles(1e6, 0.0)
    with pytest.raises(ValueError, match="1 - ratio exponent"):
        equivalent_stress(1e6, 0.0, 1.2)
    assert set(MEAN_STRESS) == {"goodman", "gerber"}
