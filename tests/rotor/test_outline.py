"""Area, chord line and thickness of outlines whose figures are known."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.rotor.outline import chord_line, outline_moments


def pieces_of(points):
    return np.stack([points, np.roll(points, -1, axis=0)], axis=1)


def turned(points, angle):
    return points @ np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]])


def ellipse(long=0.5, high=0.06, count=4000):
    angle = np.linspace(0.0, 2.0 * np.pi, count, endpoint=False)
    return np.stack([long * np.cos(angle), high * np.sin(angle)], axis=-1)


WEDGE = np.array([[0.0, -0.02], [1.0, -0.06], [1.0, 0.06], [0.0, 0.02]])  # blunt at both ends


@given(angle=st.floats(-1.5, 1.5), x=st.floats(-3.0, 3.0), y=st.floats(-3.0, 3.0))
def test_moments_of_an_ellipse_move_and_turn_with_it(angle, x, y):
    area, centre, second = outline_moments(pieces_of(turned(ellipse(), angle) + np.array([x, y])))
    assert area == pytest.approx(np.pi * 0.5 * 0.06, rel=1e-5)
    assert centre == pytest.approx(np.array([x, y]), abs=1e-9)
    principal = np.pi * 0.5 * 0.06 / 4.0 * np.array([0.06**2, 0.5**2])
    assert np.linalg.eigvalsh(second) == pytest.approx(principal, rel=1e-4)


def test_a_hole_counts_negative_and_the_order_of_pieces_does_not_matter():
    outer, hole = pieces_of(ellipse()), pieces_of(ellipse(0.2, 0.03)[::-1])
    both = np.random.default_rng(1).permutation(np.concatenate([outer, hole]))
    assert outline_moments(both)[0] == pytest.approx(np.pi * (0.5 * 0.06 - 0.2 * 0.03), rel=1e-5)
    assert chord_line(both).thickness == pytest.approx(0.12, rel=1e-4)


@given(angle=st.floats(-1.5, 1.5))
def test_chord_line_runs_through_the_middles_of_blunt_edges(angle):
    found = chord_line(pieces_of(turned(WEDGE, angle)))
    assert found.angle == pytest.approx(angle, abs=1e-7)
    assert found.chord == pytest.approx(1.0, abs=1e-9)
    assert found.thickness == pytest.approx(0.12, rel=2e-3)


def test_a_corner_to_corner_diagonal_is_no_chord_line():
    block = np.array([[-9.0, -4.0], [9.0, -4.0], [9.0, 4.0], [-9.0, 4.0]])
    found = chord_line(pieces_of(turned(block, 0.1)))
    assert (found.angle, found.chord, found.thickness) == pytest.approx((0.1, 18.0, 8.0))


def test_fullness_points_to_the_thick_end_in_the_first_axis():
    # the centre of a trapezium lies (b - a)/(6 (a + b)) of its height from the middle, towards the side b
    expected = (0.12 - 0.04) / (6.0 * (0.12 + 0.04))
    assert chord_line(pieces_of(WEDGE)).fullness == pytest.approx(expected)
    assert chord_line(pieces_of(turned(WEDGE, np.pi))).fullness == pytest.approx(-expected)
    assert chord_line(pieces_of(turned(WEDGE, 3.0))).fullness == pytest.approx(-expected)
