"""Fatigue life of thread, shank, hole in metal and hole in laminate."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from bladehold.joint import fatigue, notch
from bladehold.joint.bearing_line import LAMINATE_FRACTION, LAMINATE_WATER
from bladehold.joint.fatigue_parts import (
    THREAD_METHODS,
    ScrewThread,
    laminate_bearing_life,
    metal_hole_life,
    shank_life,
    thread_life,
)
from bladehold.joint.stress_life import KSI, HandbookCurve, ReversedLine, steel_line

AREA = 14.183e-6
THREAD = ScrewThread(5e-3, AREA, 940e6, line=ReversedLine(1040e6, 830e6, 162e6))
CURVE = HandbookCurve(18.22, -7.77, 0.62, 10.15 * KSI)
STEEL = steel_line(1040e6, 5e-3)
LUG = (20e-3, 6e-3, 4e-3)


def hole(high, low, *more, curve=CURVE, required=1e6, **options):
    return metal_hole_life(high, low, *LUG, curve, required, *more, **options)


PARTS = {
    **{
        method: (lambda high, low, required, m=method: thread_life(high, low, THREAD, m, required))
        for method in THREAD_METHODS
    },
    "shank": lambda high, low, required: shank_life(1e-3 * high, 1e-3 * low, 5e-3, STEEL, required, 1.5),
    "hole": lambda high, low, required: hole(high, low, required=required),
    "laminate": lambda high, low, required: laminate_bearing_life(high, low, 6e-3, 6e-3, 400e6, required),
}


@pytest.mark.parametrize("name", PARTS)
@given(mean=st.floats(0, 4000), swing=st.floats(10, 4000), more=st.floats(0, 2000))
def test_more_load_never_lasts_longer(name, mean, swing, more):
    life = PARTS[name](mean + swing, mean - swing, 1e5).cycles
    assert PARTS[name](mean + swing + more, mean - swing - more, 1e5).cycles <= life
    if name != "vdi-rolled-after":  # whose law itself gives less with the mean, checked below
        assert PARTS[name](mean + more + swing, mean + more - swing, 1e5).cycles <= life * (1 + 1e-9)


@pytest.mark.parametrize("name", PARTS)
@given(mean=st.floats(0, 4000), swing=st.floats(10, 4000), required=st.floats(2e4, 1e8))
def test_margin_and_cycles_say_the_same(name, mean, swing, required):
    """Lasting longer than required and staying below the allowable amplitude are one statement."""
    life = PARTS[name](mean + swing, mean - swing, required)
    assume(abs(life.amplitude - life.allowable) > 1e-6 * life.amplitude)
    knees = {"vdi-rolled-before": 2e6, "vdi-rolled-after": 2e6, "shank": 1e6, "shigley": 1e6}
    lasting = life.cycles > min(required, knees.get(name, np.inf))
    assert lasting == (life.amplitude < life.allowable)


def test_batched_over_cases():
    high, low = np.linspace(1000, 9000, 200), np.linspace(500, 0, 200)
    for part in PARTS.values():
        life = part(high, low, 1e6)
        for field in (life.cycles, life.amplitude, life.allowable, life.greatest, life.beyond):
            assert field.shape == (200,)
        assert life.method


def test_thread_by_hand():
    """M5, 2000 N of swing and 0.4 N m of bending swing on As 14.183 mm2, W 7.53 mm3."""
    life = thread_life(2000.0, 0.0, THREAD, "vdi-rolled-before", 1e5, 0.4, 0.0)
    modulus = np.pi / 32 * (4 * AREA / np.pi) ** 1.5
    amplitude = 1000 / AREA + 0.2 / modulus
    assert life.amplitude == pytest.approx(amplitude)
    endurance = 0.85 * (150 / 5 + 45) * 1e6
    assert life.cycles == pytest.approx(2e6 * (endurance / amplitude) ** 3)
    assert life.allowable == pytest.approx(endurance * 20 ** (1 / 3))
    assert life.breaches == ()
    assert thread_life(2000.0, 0.0, THREAD, "vdi-rolled-before", 1e5, load_factor=0.2).cycles == np.inf


def test_rolled_after_gains_with_little_mean_only():
    def life(preload):
        return thread_life(9000.0, 3000.0, THREAD, "vdi-rolled-after", 1e7, preload=preload, load_factor=0.2)

    yield_load = 940e6 * AREA
    low, usual, high = life(0.0), life(0.5 * yield_load), life(0.8 * yield_load)
    assert low.allowable == pytest.approx(1.7 * 63.75e6)  # counted as 0.3 of the 0.2 % load
    assert low.allowable > usual.allowable > high.allowable
    assert "not given" in low.breaches[0]
    assert usual.breaches == ()


def test_thread_says_what_it_is_not_made_for():
    small = thread_life(100.0, 0.0, replace(THREAD, diameter=3e-3), "vdi-rolled-before", 1e6)
    assert "extrapolation" in small.breaches[0]
    stainless = thread_life(100.0, 0.0, replace(THREAD, iso_898=False), "vdi-rolled-before", 1e6)
    assert "borrowed" in stainless.breaches[0]
    zinc = thread_life(100.0, 0.0, replace(THREAD, galvanised=True), "vdi-rolled-before", 1e7)
    assert zinc.allowable == pytest.approx(0.7 * 63.75e6)


def test_methods_are_said_and_differ():
    lives = [thread_life(3000.0, 0.0, THREAD, method, 1e6) for method in THREAD_METHODS]
    assert [life.method for life in lives[:2]] == [
        "VDI 2230, thread rolled before heat treatment",
        "VDI 2230, thread rolled after heat treatment",
    ]
    assert lives[2].method.startswith("Shigley, ") and lives[2].method.endswith("mean stress by Goodman")
    assert lives[2].allowable > 1.5 * lives[0].allowable


def test_too_few_cycles_count_as_none():
    assert fatigue.thread_cycles(64e6 * 200 ** (1 / 3), 64e6, "vdi-rolled-before") == pytest.approx(1e4)
    assert fatigue.thread_cycles(64e6 * 200 ** (1 / 3) * 1.01, 64e6, "vdi-rolled-before") == 0.0
    assert fatigue.thread_cycles(0.0, 64e6, "vdi-rolled-after") == np.inf
    assert fatigue.thread_amplitude(10.0, 64e6, "vdi-rolled-after") == pytest.approx(64e6 * 200 ** (1 / 6))
    assert fatigue.thread_amplitude(2e6, 64e6, "vdi-rolled-after") == pytest.approx(64e6)
    assert fatigue.thread_amplitude(1e9, 64e6, "vdi-rolled-before") == pytest.approx(64e6)


def test_shank_counts_the_worse_side():
    up = shank_life(6.0, 2.0, 5e-3, STEEL, 1e5, 1.2, 3000.0, 1000.0)
    down = shank_life(-2.0, -6.0, 5e-3, STEEL, 1e5, 1.2, 3000.0, 1000.0)
    assert up.cycles == down.cycles
    modulus, area = np.pi / 32 * 5e-3**3, np.pi / 4 * 5e-3**2
    assert up.amplitude == pytest.approx(1.2 * (2 / modulus + 1000 / area))
    assert up.greatest == pytest.approx(1.2 * (6 / modulus + 3000 / area))


def test_hole_by_hand():
    life = hole(8000.0, 2000.0, 1.0, -1.0)
    area = 14e-3 * 4e-3
    factor = notch.pin_loaded_factor_ekvall(20e-3, 6e-3)
    bending = notch.open_hole_bending_factor(20e-3, 6e-3, 4e-3) * 6 / (area * 4e-3)
    assert life.amplitude == pytest.approx(factor * 3000 / area + bending)
    assert life.greatest == pytest.approx(factor * 8000 / area + bending)
    assert life.cycles == CURVE.cycles(life.greatest, life.greatest - 2 * life.amplitude)


def test_hole_on_a_notched_curve():
    notched = replace(CURVE, notch=3.0)
    assert hole(8000.0, 0.0, curve=notched).amplitude == pytest.approx(hole(8000.0, 0.0).amplitude / 3.0)
    assert not hole(8000.0, 0.0, curve=notched).breaches
    sharp = hole(8000.0, 0.0, curve=replace(CURVE, notch=5.0))
    assert "unsafe side" in sharp.breaches[0]
    wide = metal_hole_life(100.0, 0.0, 60e-3, 6e-3, 4e-3, CURVE, 1e6, concentration="peterson")
    assert "polynomial" in wide.breaches[0]
    assert "full reversal" in hole(1000.0, -8000.0).breaches[0]
    assert hole(8000.0, 0.0, curve=STEEL).method.endswith("Goodman")
    assert "Kt by Ekvall" in hole(8000.0, 0.0).method


def test_laminate_law():
    strength = 400e6

    def life(high, low, fraction=LAMINATE_FRACTION, required=1e6):
        force = strength * 36e-6
        return laminate_bearing_life(high * force, low * force, 6e-3, 6e-3, strength, required, fraction)

    pulsating = np.array([1.0 - 1e-12, 0.625, 0.25])
    assert life(pulsating, 0.0).cycles == pytest.approx([1.0, 1e3, 1e6])
    assert life(0.25, 0.0).allowable == pytest.approx(0.125 / 0.875 * 0.875 * strength)
    assert life(1.01, 0.0).cycles == 0.0
    assert life(1.2, 1.1).cycles == 0.0
    slow = life(0.24, 0.0)
    assert slow.beyond
    assert 1e6 < slow.cycles < 1.3e6
    assert life(0.3, 0.3).cycles == np.inf
    wet = life(0.25 * LAMINATE_WATER, 0.0, LAMINATE_FRACTION * LAMINATE_WATER)
    assert wet.cycles == pytest.approx(1e6)
    assert "both sides" in life(0.2, -0.2).breaches[0]
    assert "25 %" in slow.method


def test_refusals():
    with pytest.raises(ValueError, match="tension swing"):
        thread_life(0.0, 1.0, THREAD, "shigley", 1e6)
    with pytest.raises(ValueError, match="needs the line"):
        thread_life(1.0, 0.0, replace(THREAD, line=None), "shigley", 1e6)
    with pytest.raises(ValueError, match="method 'best'"):
        thread_life(1.0, 0.0, THREAD, "best", 1e6)
    with pytest.raises(ValueError, match="notch factor - 1"):
        shank_life(1.0, 0.0, 5e-3, STEEL, 1e6, 0.5)
    with pytest.raises(ValueError, match="concentration 'guess'"):
        hole(1.0, 0.0, concentration="guess")
    with pytest.raises(ValueError, match="1 - fraction"):
        laminate_bearing_life(1.0, 0.0, 6e-3, 6e-3, 400e6, 1e6, 1.0)
