"""Where rotors stand and which way they turn; what cannot be commanded is refused or told."""

import numpy as np
import pytest

from bladehold.aircraft import (
    LOWER,
    NO_ROTOR,
    UPPER,
    coaxial_frame,
    custom_frame,
    flat_frame,
    out_of_command,
    overlaps,
)


@pytest.mark.parametrize("rotors", [3, 4, 5, 6, 8, 12])
def test_rotors_stand_evenly_on_a_circle_about_the_middle(rotors):
    frame = flat_frame(rotors, 0.8, 0.3, height=0.1)
    assert np.linalg.norm(frame.position[:, :2], axis=1) == pytest.approx(0.8)
    assert frame.position[:, :2].sum(axis=0) == pytest.approx(np.zeros(2), abs=1e-12)
    assert np.all(frame.position[:, 2] == -0.1)
    assert out_of_command(frame) == ()


def test_neighbours_turn_against_each_other_and_the_first_clockwise():
    frame = flat_frame(6, 0.8, np.pi / 6)
    assert frame.spin.tolist() == [1, -1, 1, -1, 1, -1]
    assert frame.names[0] == "1 front right" and frame.names[-1] == "6 front left"
    assert frame.steered == NO_ROTOR


def test_three_rotors_are_steered_by_the_one_furthest_aft():
    assert flat_frame(3, 0.8, np.pi).steered == 0
    assert flat_frame(3, 0.8, np.pi / 3).steered == 1


@pytest.mark.parametrize("arms", [3, 4, 6])
def test_pairs_stand_above_each_other_and_turn_against_each_other(arms):
    frame = coaxial_frame(arms, 0.8, 0.4, 0.2)
    upper, lower = frame.level == UPPER, frame.level == LOWER
    assert upper.sum() == lower.sum() == arms
    assert frame.position[lower] - frame.position[upper] == pytest.approx(np.tile([0, 0, 0.2], (arms, 1)))
    assert np.all(frame.spin[lower] == -frame.spin[upper])
    assert out_of_command(frame) == () and overlaps(frame, 0.6) == ()


def test_a_mass_ahead_of_the_middle_puts_the_rotors_behind_it():
    assert flat_frame(4, 0.8, 0.5, mass_ahead=0.1).position[:, 0].mean() == pytest.approx(-0.1)


def test_canted_axes_point_where_they_are_said_to():
    frame = custom_frame(
        [[1, 0, 0], [-1, 1, 0], [-1, -1, 0]], [1, -1, 1], np.radians(10), np.radians([0, 90, 180])
    )
    sine = np.sin(np.radians(10))
    assert frame.axis[:, 0] == pytest.approx([sine, 0, -sine], abs=1e-12)
    assert frame.axis[:, 1] == pytest.approx([0, sine, 0], abs=1e-12)
    assert np.linalg.norm(frame.axis, axis=1) == pytest.approx(1.0)


def test_rotors_in_a_row_cannot_command_roll():
    row = custom_frame([[x, 0, 0] for x in (-1.0, -0.3, 0.3, 1.0)], [1, -1, -1, 1])
    assert "roll" in out_of_command(row)


def test_rotors_that_all_turn_alike_cannot_command_yaw_beside_lift():
    frame = flat_frame(4, 0.8, 0.5)
    alike = custom_frame(frame.position, np.ones(4))
    assert set(out_of_command(alike)) == {"lift", "yaw"}


def test_overlapping_discs_are_found():
    frame = flat_frame(6, 0.5, 0.0)
    assert overlaps(frame, 0.49) == ()
    assert len(overlaps(frame, 0.51)) == 6


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: flat_frame(2, 0.8, 0.0), "rotors must be 3"),
        (lambda: flat_frame(4, 0.0, 0.0), "distance"),
        (lambda: coaxial_frame(2, 0.8, 0.0, 0.2), "arms must be 3"),
        (lambda: coaxial_frame(4, 0.8, 0.0, np.nan), "spacing"),
        (lambda: custom_frame([[0, 0]], [1]), "position"),
        (lambda: custom_frame([[0, 0, np.nan]], [1]), "position"),
        (lambda: custom_frame([[0, 0, 0], [0, 0, 0]], [1, -1]), "rotors 1 and 2 stand on one place"),
        (lambda: custom_frame([[0, 0, 0]], [2]), "spin"),
        (lambda: custom_frame([[0, 0, 0]], [1], np.pi / 2), "cant"),
    ],
)
def test_what_no_aircraft_is_is_refused_by_name(make, says):
    with pytest.raises(ValueError, match=says):
        make()
