"""From thrusts to moments and back: closed forms of four and six rotors, round trips, what is left to "
"steer."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.aircraft import (
    authority,
    coaxial_frame,
    commanded,
    custom_frame,
    effectiveness,
    flat_frame,
    least_thrusts,
)

RATIO = 0.02


def test_one_rotor_by_hand():
    frame = custom_frame([[0.5, 0.3, -0.1], [-1, 0, 0], [0, -1, 0], [1, -1, 0]], [1, -1, 1, -1])
    column = effectiveness(frame, RATIO)[:, 0]
    # force up; right of the middle it rolls left, ahead it lifts the nose, turning clockwise it yaws left
    assert column == pytest.approx([0, 0, -1, -0.3, 0.5, -0.02])


@pytest.mark.parametrize("rotors", [4, 6, 8])
def test_closed_forms_of_even_circles(rotors):
    arm = 0.8
    frame = flat_frame(rotors, arm, np.pi / rotors)
    matrix = commanded(effectiveness(frame, RATIO))
    # rows are at right angles, of squares N, N d^2 / 2 twice, N k^2
    assert matrix @ matrix.T == pytest.approx(
        np.diag([rotors, rotors * arm**2 / 2, rotors * arm**2 / 2, rotors * RATIO**2]), abs=1e-12
    )
    bearing = np.pi / rotors + 2 * np.pi * np.arange(rotors) / rotors
    wanted = (
        100.0 / rotors
        - 2 * 3.0 * np.sin(bearing) / (rotors * arm)
        + 2 * 5.0 * np.cos(bearing) / (rotors * arm)
        - 0.5 * frame.spin / (rotors * RATIO)
    )
    assert least_thrusts(matrix, [100.0, 3.0, 5.0, 0.5]) == pytest.approx(wanted, rel=1e-12)


FRAMES = [
    flat_frame(4, 0.7, 0.6),
    flat_frame(6, 0.8, 0.5),
    flat_frame(8, 1.0, 0.1),
    coaxial_frame(4, 0.9, 0.8, 0.2),
]


@given(
    st.sampled_from(FRAMES),
    st.lists(st.floats(-50.0, 50.0), min_size=4, max_size=4),
    st.floats(0.005, 0.05),
)
def test_allocation_round_trip(frame, demand, ratio):
    matrix = commanded(effectiveness(frame, ratio))
    assert matrix @ least_thrusts(matrix, demand) == pytest.approx(np.array(demand), abs=1e-10)


def test_no_other_thrusts_of_the_same_effect_are_smaller():
    matrix = commanded(effectiveness(flat_frame(6, 0.8, 0.5), RATIO))
    least = least_thrusts(matrix, [100.0, 3.0, 5.0, 0.5])
    _, _, rows = np.linalg.svd(matrix)
    assert rows[4:] @ least == pytest.approx(np.zeros(2), abs=1e-9)  # nothing in what has no effect


def test_what_is_left_to_steer_is_where_a_rotor_stops_or_gives_all():
    frame = flat_frame(4, 1.0, np.pi / 4)
    matrix = commanded(effectiveness(frame, RATIO))
    found = authority(matrix, np.full(4, 30.0), 45.0)
    # each of four rotors may change by 15 N: roll 4 x 15 N x sin 45 deg, yaw 4 x 15 N x k
    assert found.moment == pytest.approx([60 * np.sqrt(0.5), 60 * np.sqrt(0.5), 60 * RATIO])
    tired = authority(matrix, np.array([44.0, 30.0, 30.0, 30.0]), 45.0)
    assert tired.moment[2] == pytest.approx(4 * 1.0 * RATIO) and tired.limiting[2] == 0
    assert authority(matrix, np.full(4, 50.0), 45.0).moment == pytest.approx(np.zeros(3))


def test_broadcasts_over_flights():
    frame = flat_frame(6, 0.8, 0.5)
    matrix = commanded(effectiveness(frame, np.full((5, 6), RATIO)))
    assert matrix.shape == (5, 4, 6)
    assert least_thrusts(matrix, np.ones((5, 4))).shape == (5, 6)
