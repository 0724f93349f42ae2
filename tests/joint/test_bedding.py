"""The bedded pin: both exact limits, Hetenyi's semi-infinite beam, and an independent finite-element beam."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladehold.joint.bedding import BEDDING_LENGTH, bed_stiffness, bedded_pin, head_moment
from bladehold.joint.pin import bending_moment_air_force

STEEL, ALUMINIUM, CARBON = 207e9, 71e9, 45e9


def finite_elements(t1, t2, gap, diameter, pin_modulus, outer, inner, hold=0.0, count=40):
    """Greatest moment per V from Hermite beam elements with a consistent bed; lug pulled by one unit."""
    rigidity = pin_modulus * np.pi * diameter**4 / 64
    segments = [(t2 / 2, 1 / (1 / pin_modulus + 1 / inner), True)]
    segments += [(gap, 0.0, False)] if gap > 0 else []
    segments += [(t1, 1 / (1 / pin_modulus + 1 / outer), False)]
    lengths, beds, in_lug = [], [], []
    for length, bed, lug in segments:
        lengths += [length / count] * count
        beds += [bed] * count
        in_lug += [lug] * count
    size = 2 * (len(lengths) + 1)
    matrix, force = np.zeros((size, size)), np.zeros(size)
    for place, (h, bed, lug) in enumerate(zip(lengths, beds, in_lug, strict=True)):
        bend = (
            rigidity
            / h**3
            * np.array(
                [
                    [12, 6 * h, -12, 6 * h],
                    [6 * h, 4 * h * h, -6 * h, 2 * h * h],
                    [-12, -6 * h, 12, -6 * h],
                    [6 * h, 2 * h * h, -6 * h, 4 * h * h],
                ]
            )
        )
        rest = (
            bed
            * h
            / 420
            * np.array(
                [
                    [156, 22 * h, 54, -13 * h],
                    [22 * h, 4 * h * h, 13 * h, -3 * h * h],
                    [54, 13 * h, 156, -22 * h],
                    [-13 * h, -3 * h * h, -22 * h, 4 * h * h],
                ]
            )
        )
        at = np.arange(2 * place, 2 * place + 4)
        matrix[np.ix_(at, at)] += bend + rest
        if lug:
            force[at] += bed * np.array([h / 2, h * h / 12, h / 2, -h * h / 12])
    matrix[-1, -1] += hold
    free = [i for i in range(size) if i != 1]  # no slope at mid-lug
    u = np.zeros(size)
    u[free] = np.linalg.solve(matrix[np.ix_(free, free)], force[free])
    shear = sum(
        bed * (h / 2 * (u[2 * p] + u[2 * p + 2]) + h * h / 12 * (u[2 * p + 1] - u[2 * p + 3]))
        for p, (h, bed, lug) in enumerate(zip(lengths, beds, in_lug, strict=True))
        if not lug
    )
    moments = []
    for p, h in enumerate(lengths):
        w0, s0, w1, s1 = u[2 * p : 2 * p + 4]
        moments += [-rigidity * (6 * (w1 - w0) / h**2 - (4 * s0 + 2 * s1) / h)]
        moments += [-rigidity * (-6 * (w1 - w0) / h**2 + (2 * s0 + 4 * s1) / h)]
    return np.max(np.abs(moments)) / shear


@pytest.mark.parametrize(
    "case",
    [
        (3e-3, 8e-3, 1e-4, 3.14e-3, STEEL, ALUMINIUM, CARBON),
        (3e-3, 8e-3, 0.0, 3.14e-3, STEEL, ALUMINIUM, CARBON),
        (3e-3, 8e-3, 1e-3, 2e-3, STEEL, ALUMINIUM, CARBON),
        (6e-3, 20e-3, 1e-4, 4e-3, STEEL, ALUMINIUM, 6e9),
        (2e-3, 12e-3, 5e-4, 6e-3, 113.8e9, 196e9, ALUMINIUM),
    ],
)
def test_agrees_with_finite_elements(case):
    assert float(bedded_pin(*case).greatest) == pytest.approx(finite_elements(*case), rel=1e-3)


HELD = (3e-3, 8e-3, 1e-4, 3.14e-3, STEEL, ALUMINIUM, CARBON)


@pytest.mark.parametrize("hold", [1.0, 100.0, 1e4])
@pytest.mark.parametrize("case", [HELD, (1.5e-3, 8e-3, 5e-4, 5e-3, STEEL, ALUMINIUM, 6e9)])
def test_held_end_agrees_with_finite_elements(case, hold):
    ours = float(bedded_pin(*case, end_stiffness=hold).greatest)
    assert ours == pytest.approx(finite_elements(*case, hold=hold), rel=1e-3)


def test_hold_runs_from_free_to_rigid():
    levers = [float(bedded_pin(*HELD, end_stiffness=hold).middle) for hold in (0.0, 10.0, 1e3, 1e9, np.inf)]
    assert levers == sorted(levers, reverse=True)
    assert levers[0] == float(bedded_pin(*HELD).middle)
    assert levers[3] == pytest.approx(levers[4], rel=1e-5)


def test_rigid_hold_counts_for_nothing_in_a_hard_long_bed():
    """A pin that the plate itself builds in does not reach its head with any bending."""
    hard = (20e-3, 16e-3, 2e-3, 2e-3, STEEL, ALUMINIUM, ALUMINIUM)
    free, rigid = bedded_pin(*hard), bedded_pin(*hard, end_stiffness=np.inf)
    assert float(rigid.greatest) == pytest.approx(float(free.greatest), rel=1e-3)


def test_rigid_hold_of_a_stiff_pin_on_soft_beds_is_a_beam_with_guided_ends():
    """Ends and middle cannot turn: even pressure gives M_end + M_middle of the free pin, shared by the
    slopes.

    Free pin of flexural rigidity EI, length L = t2/2 + g + t1: the end moment m takes the mean of the free
    moment line away, m = -integral(M_free)/L.
    """
    t1, half, gap = 3e-3, 4e-3, 2e-4
    held = bedded_pin(t1, 2 * half, gap, 60e-3, STEEL, 1e7, 1e7, end_stiffness=np.inf)
    x = np.linspace(0.0, half + gap + t1, 200001)
    lug = np.where(x < half, (half - x) ** 2 / (2 * half), 0.0)  # lost lever of the lug's load beyond x
    plate = np.where(x > half + gap, (t1 + half + gap - x) ** 2 / (2 * t1), half + gap + t1 / 2 - x)
    free = np.where(x < half, plate - lug, plate)
    mean = np.trapezoid(free, x) / x[-1]
    assert float(held.middle) == pytest.approx(free[0] - mean, rel=1e-3)


def test_hold_is_refused_below_zero_and_the_head_rocks_at_half_its_face():
    for bad in (-1.0, np.nan):
        with pytest.raises(ValueError, match="end stiffness"):
            bedded_pin(*HELD, end_stiffness=bad)
    assert head_moment(4000.0, 8e-3) == pytest.approx(16.0)


def test_stiff_pin_on_soft_beds_is_the_even_pressure_of_the_handbook():
    pin = bedded_pin(3e-3, 8e-3, 2e-4, 60e-3, STEEL, 1e7, 1e7)
    assert float(pin.greatest) == pytest.approx(3e-3 / 2 + 2e-4 + 8e-3 / 4, rel=1e-5)
    handbook = bending_moment_air_force(1000.0, 3e-3, 8e-3, 2e-4)
    assert 500.0 * float(pin.greatest) == pytest.approx(float(handbook), rel=1e-5)


def test_soft_pin_in_hard_beds_is_built_in_at_both_faces():
    pin = bedded_pin(8e-3, 16e-3, 5e-3, 0.5e-3, STEEL, 1e14, 1e14)
    assert float(pin.lug_face) == pytest.approx(2.5e-3, rel=0.1)
    assert float(pin.plate_face) == pytest.approx(-2.5e-3, rel=0.1)


def test_long_equal_beds_are_hetenyis_semi_infinite_beams():
    """Two equal long beds, no gap: by symmetry no moment at the face; M = V e^-z sin z / lambda beside it."""
    diameter, length = 2e-3, 30e-3
    rigidity = STEEL * np.pi * diameter**4 / 64
    inverse = (float(bed_stiffness(STEEL, ALUMINIUM)) / (4 * rigidity)) ** 0.25
    pin = bedded_pin(length, 2 * length, 0.0, diameter, STEEL, ALUMINIUM, ALUMINIUM)
    assert abs(float(pin.lug_face)) < 1e-8
    greatest = np.exp(-np.pi / 4) * np.sin(np.pi / 4) / inverse
    assert float(pin.greatest) == pytest.approx(greatest, rel=2e-3)


sizes = st.floats(1e-3, 8e-3)


@settings(max_examples=60)
@given(sizes, st.floats(4e-3, 15e-3), st.floats(0.0, 5e-4), st.floats(2e-3, 10e-3), st.floats(5e9, 200e9))
def test_lies_between_the_limits_and_rises_with_the_gap(t1, t2, gap, diameter, lug):
    pin = bedded_pin(t1, t2, gap, diameter, STEEL, ALUMINIUM, lug)
    even = t1 / 2 + t2 / 4 + gap
    assert gap / 2 - 1e-12 <= float(pin.greatest) <= even * (1 + 1e-6)
    assert bedded_pin(t1, t2, gap + 1e-4, diameter, STEEL, ALUMINIUM, lug).greatest >= pin.greatest


def test_broadcasts_and_states_its_range():
    pin = bedded_pin(3e-3, np.array([6e-3, 8e-3]), 1e-4, np.array([[3e-3], [4e-3]]), STEEL, ALUMINIUM, CARBON)
    assert pin.greatest.shape == (2, 2)
    alone = bedded_pin(3e-3, 8e-3, 1e-4, 4e-3, STEEL, ALUMINIUM, CARBON)
    assert float(pin.greatest[1, 1]) == pytest.approx(float(alone.greatest), rel=1e-12)
    assert BEDDING_LENGTH.breach(12.0)
    with pytest.raises(ValueError, match="gap"):
        bedded_pin(3e-3, 8e-3, -1e-4, 4e-3, STEEL, ALUMINIUM, CARBON)
