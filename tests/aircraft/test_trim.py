"""The aircraft in balance: closed forms, symmetry, residuals, and an independent sum of forces and "
"moments."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladehold.air import GRAVITY
from bladehold.aircraft import (
    Demand,
    HubForces,
    SimpleLaw,
    coaxial_frame,
    custom_frame,
    flat_frame,
    trimmed_flight,
)

RHO = 1.15
LAW = SimpleLaw(0.02)
SIX = flat_frame(6, 0.8, np.pi / 6)


def bent(thrust, axial, edge):
    """Hub loads of a made-up rotor that the wind bears on."""
    return HubForces(
        drag=0.004 * thrust * edge,
        side=0.001 * thrust * edge,
        roll=0.002 * thrust * edge,
        pitch=0.003 * thrust * edge,
        torque=0.02 * thrust,
    )


def flown(frame=SIX, law=LAW, drag_area=0.3, drag_height=0.0, mass=26.0, **demand):
    return trimmed_flight(frame, Demand.of(mass, RHO, **demand), drag_area, law, drag_height)


def test_hover_shares_the_weight():
    trim = flown()
    assert trim.thrust == pytest.approx(np.full(6, 26 * GRAVITY / 6)) and trim.converged
    assert trim.pitch == trim.roll == 0.0


@pytest.mark.parametrize("speed", [5.0, 12.0, 25.0])
def test_cruise_tilts_by_drag_over_weight(speed):
    trim = flown(ahead=speed)
    drag = 0.5 * RHO * speed**2 * 0.3
    assert trim.pitch == pytest.approx(-np.arctan(drag / (26 * GRAVITY)), rel=1e-9)
    assert trim.thrust.sum() == pytest.approx(np.hypot(drag, 26 * GRAVITY), rel=1e-9)
    assert trim.axial == pytest.approx(np.full(6, speed * np.sin(-trim.pitch)))
    assert trim.edge == pytest.approx(np.full(6, speed * np.cos(trim.pitch)))


@pytest.mark.parametrize("bank", [10.0, 30.0, 60.0])
def test_a_level_turn_has_the_load_factor_of_its_bank(bank):
    side = GRAVITY * np.tan(np.radians(bank))
    trim = flown(drag_area=1e-12, ahead=10.0, sideways=side)
    assert trim.roll == pytest.approx(np.radians(bank), rel=1e-9)
    assert trim.thrust.sum() == pytest.approx(26 * GRAVITY / np.cos(np.radians(bank)), rel=1e-9)


def test_a_pull_up_multiplies_the_weight():
    assert flown(upward=0.6 * GRAVITY).thrust.sum() == pytest.approx(1.6 * 26 * GRAVITY)


def test_climb_adds_the_drag_of_the_frame():
    assert flown(climb=5.0).thrust.sum() == pytest.approx(26 * GRAVITY + 0.5 * RHO * 25 * 0.3)
    assert flown(climb=5.0).axial == pytest.approx(np.full(6, 5.0))


def test_a_pitching_moment_parts_front_and_rear_by_the_closed_form():
    trim = flown(pitch=4.0)
    bearing = np.pi / 6 + np.pi / 3 * np.arange(6)
    assert trim.thrust == pytest.approx(26 * GRAVITY / 6 + 2 * 4.0 * np.cos(bearing) / (6 * 0.8), rel=1e-9)


def test_yawing_parts_the_senses_of_turning():
    trim = flown(yaw=1.2)
    assert trim.thrust == pytest.approx(26 * GRAVITY / 6 - 1.2 * SIX.spin / (6 * 0.02), rel=1e-9)


def test_drag_above_the_centre_of_mass_loads_the_rear():
    trim = flown(ahead=15.0, drag_height=0.1)
    drag = 0.5 * RHO * 225 * 0.3
    moment = 0.1 * drag * np.cos(trim.pitch)  # nose up, held by the rear
    bearing = np.pi / 6 + np.pi / 3 * np.arange(6)
    even = np.hypot(drag, 26 * GRAVITY) / 6
    assert trim.thrust == pytest.approx(even - 2 * moment * np.cos(bearing) / (6 * 0.8), rel=1e-9)


def test_right_and_left_are_mirror_images():
    mirrored = custom_frame(SIX.position * [1, -1, 1], -SIX.spin)
    left = flown(law=bent, ahead=14.0, sideways=-5.0, pitch=1.0)
    right = flown(frame=mirrored, law=bent, ahead=14.0, sideways=5.0, pitch=1.0)
    assert right.thrust == pytest.approx(left.thrust, rel=1e-9)
    assert right.roll == pytest.approx(-left.roll) and right.pitch == pytest.approx(left.pitch)


def test_rolling_moments_of_rotors_cancel_and_pitching_ones_add():
    plain, blown = flown(ahead=14.0), flown(law=bent, ahead=14.0)
    assert blown.roll == pytest.approx(0.0, abs=1e-9)
    assert blown.thrust[[0, 5]].sum() < plain.thrust[[0, 5]].sum() < plain.thrust[[2, 3]].sum() + 1e-9
    assert blown.thrust[[2, 3]].sum() > plain.thrust[[2, 3]].sum()
    assert -blown.pitch > -plain.pitch  # hub drag tilts it further


@settings(deadline=None, max_examples=60)
@given(
    st.sampled_from(
        [
            flat_frame(3, 0.8, np.pi / 3),
            flat_frame(4, 0.7, np.pi / 4, 0.1),
            SIX,
            flat_frame(8, 1.0, 0.2, 0.05, 0.03),
            coaxial_frame(3, 0.8, np.pi / 3, 0.2),
            coaxial_frame(6, 1.0, np.pi / 6, 0.25, 0.1),
        ]
    ),
    st.floats(10.0, 100.0),
    st.floats(0.0, 22.0),
    st.floats(-3.0, 5.0),
    st.floats(-4.0, 4.0),
    st.floats(-0.2, 0.2),
)
def test_nothing_is_left_over(frame, mass, speed, climb, sideways, drag_height):
    trim = flown(frame, bent, 0.01 * mass, drag_height, mass, ahead=speed, climb=climb, sideways=sideways)
    assert trim.converged
    assert max(trim.force_residual, trim.moment_residual) < 1e-9


def test_forces_and_moments_add_up_by_another_hand():
    """The same balance summed rotor by rotor in axes of the earth, with rotation matrices."""
    trim = flown(law=bent, ahead=13.0, climb=2.0, sideways=3.0, pitch=2.0, yaw=0.4, drag_height=0.07)
    p, r = float(trim.pitch), float(trim.roll)
    nose = np.array([[np.cos(p), 0, np.sin(p)], [0, 1, 0], [-np.sin(p), 0, np.cos(p)]])
    bank = np.array([[1, 0, 0], [0, np.cos(r), -np.sin(r)], [0, np.sin(r), np.cos(r)]])
    to_earth = nose @ bank
    air = np.array([13.0, 0.0, -2.0])
    drag = -0.5 * RHO * 0.3 * np.linalg.norm(air) * air
    force = drag + np.array([0, 0, 26 * GRAVITY])
    moment = to_earth @ np.cross([0, 0, -0.07], to_earth.T @ drag)
    for place, spin, thrust in zip(SIX.position, SIX.spin, trim.thrust, strict=True):
        up = to_earth @ [0, 0, -1]
        across = air - (air @ up) * up
        edge = np.linalg.norm(across)
        into = across / edge
        right = np.cross(-up, into)
        hub = bent(thrust, 0.0, edge)
        push = thrust * up - hub.drag * into - spin * hub.side * right
        force = force + push
        moment = moment + np.cross(to_earth @ place, push) + spin * hub.torque * up
        moment = moment - spin * hub.roll * into + hub.pitch * right
    assert force == pytest.approx(26 * np.array([0, 3.0, 0]), abs=1e-6)
    assert to_earth.T @ moment == pytest.approx([0, 2.0, 0.4], abs=1e-6)


def test_three_rotors_balance_their_torque_by_the_tilted_one():
    frame = flat_frame(3, 0.8, np.pi / 3)
    trim = flown(frame)
    left = 0.02 * float(frame.spin @ trim.thrust)  # yaw to the left of what does not cancel
    assert float(trim.steer) * frame.position[frame.steered, 0] == pytest.approx(left, rel=0.02)
    assert trim.converged and float(trim.roll) != 0.0


def test_canted_rotors_are_held_level():
    tilt = np.radians(5.0)
    frame = custom_frame(SIX.position, SIX.spin, tilt, np.arctan2(SIX.position[:, 1], SIX.position[:, 0]))
    trim = flown(frame, bent, ahead=12.0)
    assert trim.converged
    assert flown(frame).thrust.sum() * np.cos(tilt) == pytest.approx(26 * GRAVITY)


def test_what_finds_no_balance_says_so():
    def wild(thrust, axial, edge):
        return HubForces(*(50.0 * thrust * edge for _ in range(4)), 0.02 * thrust)

    trim = flown(law=wild, ahead=20.0)
    assert not trim.converged


def test_flights_are_rows():
    trim = trimmed_flight(SIX, Demand.of(26.0, RHO, ahead=[[0.0, 5.0], [10.0, 15.0]]), 0.3, LAW)
    assert trim.thrust.shape == (2, 2, 6) and trim.hardest.shape == trim.pitch.shape == (2, 2)
    assert trim.pitch[1, 1] == pytest.approx(float(flown(ahead=15.0).pitch))
