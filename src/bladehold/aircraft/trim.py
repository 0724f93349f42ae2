"""Balance of an aircraft in flight: its attitude and the thrust of every rotor, from what it is to do.

Axes of the earth: ahead along the flight path over ground, right, down; the aircraft looks ahead. Attitude:
pitch, nose up, and roll, right side down. Forces and moments of rotors and air balance weight and inertia.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.air import GRAVITY
from bladehold.aircraft.allocation import commanded, effectiveness
from bladehold.aircraft.layout import NO_ROTOR, Frame

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]

TOLERANCE = 1e-10  # of the weight, and of the weight times the reach of the rotors
MOST_STEPS = 200
_LOST = 1e3  # residual beyond which the search for a balance is given up
_ALIKE = 1e-6  # of the thrust: within it rotors work alike
_TINY = 1e-30


@dataclass(frozen=True, eq=False)
class HubForces:
    """What the air does to each hub beside thrust, [..., N], of a rotor that turns counterclockwise.

    drag - down the wind, side - to the right of one who looks into the wind, N; roll - right side down, pitch
    - wind side up, torque, N*m.
    """

    drag: FloatArray
    side: FloatArray
    roll: FloatArray
    pitch: FloatArray
    torque: FloatArray


class RotorLaw(Protocol):
    """Gives the loads on the hubs at thrusts (N), axial and edge velocities (m/s), all [..., N]."""

    def __call__(self, thrust: FloatArray, axial: FloatArray, edge: FloatArray) -> HubForces:
        """Return the loads, [..., N]."""
        ...


@dataclass(frozen=True)
class SimpleLaw:
    """Torque in proportion to thrust, and no more. ratio - torque over thrust, m."""

    ratio: float

    def __call__(self, thrust: FloatArray, axial: FloatArray, edge: FloatArray) -> HubForces:
        """Return the loads at thrusts (N); axial, edge - velocities (m/s), not looked at. Source: own."""
        none = np.zeros_like(thrust)
        return HubForces(none, none, none, none, self.ratio * thrust)


@dataclass(frozen=True, eq=False)
class Demand:
    """What the aircraft is to do, [...].

    mass - kg; air_velocity - of the aircraft against the air, ahead, right, down, m/s, [..., 3]; acceleration
    - the same axes, m/s^2, [..., 3]; moment - inertia times angular acceleration, roll, pitch, yaw, N*m,
    [..., 3]; density - kg/m^3.
    """

    mass: FloatArray
    air_velocity: FloatArray
    acceleration: FloatArray
    moment: FloatArray
    density: FloatArray

    @classmethod
    def of(
        cls,
        mass: ArrayLike,
        density: ArrayLike,
        ahead: ArrayLike = 0.0,
        climb: ArrayLike = 0.0,
        sideways: ArrayLike = 0.0,
        upward: ArrayLike = 0.0,
        roll: ArrayLike = 0.0,
        pitch: ArrayLike = 0.0,
        yaw: ArrayLike = 0.0,
    ) -> Demand:
        """Broadcast to one shape: velocities ahead and climb, accelerations sideways and upward, moments."""
        given = (mass, density, ahead, climb, sideways, upward, roll, pitch, yaw)
        m, rho, u, w, side, up, *turn = np.broadcast_arrays(*(np.asarray(v, dtype=float) for v in given))
        none = np.zeros(m.shape)
        return cls(
            mass=m,
            air_velocity=np.stack([u, none, -w], axis=-1),
            acceleration=np.stack([none, side, -up], axis=-1),
            moment=np.stack(turn, axis=-1),
            density=rho,
        )


@dataclass(frozen=True, eq=False)
class Trim:
    """A balanced aircraft, [...].

    pitch, roll - rad; thrust, torque, axial, edge - of each rotor, N, N*m, m/s, [..., N]; force_residual -
    over the weight, moment_residual - over the weight times the reach of the rotors; converged - both within
    TOLERANCE; steer - side force on the rotor that is tilted to steer, N.
    """

    pitch: FloatArray
    roll: FloatArray
    thrust: FloatArray
    torque: FloatArray
    axial: FloatArray
    edge: FloatArray
    force_residual: FloatArray
    moment_residual: FloatArray
    converged: BoolArray
    steer: FloatArray

    @property
    def hardest(self) -> NDArray[np.intp]:
        """Number of the rotor with the greatest thrust, the first of those that share it, [...]."""
        most = self.thrust.max(axis=-1, keepdims=True)
        return np.asarray((self.thrust >= most - _ALIKE * np.abs(most)).argmax(axis=-1))


def trimmed_flight(
    frame: Frame, demand: Demand, drag_area: float, law: RotorLaw, drag_height: float = 0.0
) -> Trim:
    """Attitude and thrusts with which an aircraft does what is demanded.

    Balance of forces: sum of rotors + drag + m g = m a; of moments about the centre of mass: sum of rotors +
    arm x drag = I alpha. Drag is rho/2 V^2 A against the air. The axes of the rotors are brought into line
    with the thrust wanted, then the thrusts of the least sum of squares that give lift and moments are taken,
    and again with the hub loads at these, until nothing changes.

    Arguments: frame; demand - [...]; drag_area - A, m^2; law - of the rotors; drag_height - of the centre of
    drag above the centre of mass, m.
    Returns Trim; where no balance is found `converged` says so and the residuals how far off it is.
    Source: rigid-body mechanics, derived above.
    """
    speed = np.linalg.norm(demand.air_velocity, axis=-1, keepdims=True)
    drag = -0.5 * demand.density[..., np.newaxis] * drag_area * speed * demand.air_velocity
    gravity = np.array([0.0, 0.0, GRAVITY])
    wanted = demand.mass[..., np.newaxis] * (demand.acceleration - gravity) - drag
    weight = demand.mass * GRAVITY
    reach = float(np.linalg.norm(frame.position[:, :2], axis=-1).max())
    centre = np.array([0.0, 0.0, -drag_height])
    even = np.linalg.norm(wanted, axis=-1, keepdims=True) / frame.count
    thrust = np.broadcast_to(even, (*weight.shape, frame.count)).copy()
    steer = np.zeros(weight.shape)
    pitch, roll = _attitude(wanted)
    state = None
    for _ in range(MOST_STEPS):
        state = _loads(frame, demand, law, pitch, roll, thrust, steer)
        body = _rotated(wanted, pitch, roll)
        short = body - state.force
        turning = demand.moment - np.cross(centre, _rotated(drag, pitch, roll)) - state.moment
        force_residual = np.linalg.norm(short, axis=-1) / weight
        moment_residual = np.linalg.norm(turning, axis=-1) / (weight * reach)
        converged = (force_residual <= TOLERANCE) & (moment_residual <= TOLERANCE)
        going_on = ~converged & (force_residual < _LOST) & (moment_residual < _LOST)
        if not np.any(going_on):
            break
        # What the thrusts along the mean axis must give once the rest of the rotors' forces is taken off.
        mean = np.sum(thrust[..., np.newaxis] * frame.axis, axis=-2)
        upright = np.stack([np.zeros(weight.shape)] * 2 + [mean[..., 2]], axis=-1)
        rest = wanted - _unrotated(state.force - upright, pitch, roll)
        pitch, roll = (
            np.where(going_on, new, old) for new, old in zip(_attitude(rest), (pitch, roll), strict=True)
        )
        matrix = commanded(effectiveness(frame, state.torque / np.where(thrust == 0.0, _TINY, thrust)))
        added = np.concatenate([-short[..., 2:], turning], axis=-1)
        step = (np.linalg.pinv(matrix) @ added[..., np.newaxis])[..., 0] * going_on[..., np.newaxis]
        thrust = thrust + step[..., : frame.count]
        if frame.steered != NO_ROTOR:
            steer = steer + step[..., -1]
    assert state is not None
    return Trim(
        pitch=pitch,
        roll=roll,
        thrust=_whole(frame, thrust, steer),
        torque=state.torque,
        axial=state.axial,
        edge=state.edge,
        force_residual=force_residual,
        moment_residual=moment_residual,
        converged=converged,
        steer=steer,
    )


@dataclass(frozen=True, eq=False)
class _Loads:
    """Force and moment of all rotors in axes of the body, [..., 3]; torque, axial, edge [..., N]."""

    force: FloatArray
    moment: FloatArray
    torque: FloatArray
    axial: FloatArray
    edge: FloatArray


def _loads(
    frame: Frame,
    demand: Demand,
    law: RotorLaw,
    pitch: FloatArray,
    roll: FloatArray,
    thrust: FloatArray,
    steer: FloatArray,
) -> _Loads:
    """What all rotors do to the aircraft at an attitude and at thrusts."""
    velocity = _rotated(demand.air_velocity, pitch, roll)[..., np.newaxis, :]
    along = np.sum(velocity * frame.axis, axis=-1)
    across = velocity - along[..., np.newaxis] * frame.axis
    edge = np.linalg.norm(across, axis=-1)
    into = across / np.maximum(edge, _TINY)[..., np.newaxis]
    right = np.cross(-np.broadcast_to(frame.axis, into.shape), into)
    hub = law(_whole(frame, thrust, steer), along, edge)
    # The law is that of a rotor turning counterclockwise; the others are its mirror image.
    mirrored = -frame.spin
    force = (
        thrust[..., np.newaxis] * frame.axis
        - hub.drag[..., np.newaxis] * into
        + (mirrored * hub.side)[..., np.newaxis] * right
    )
    if frame.steered != NO_ROTOR:
        force = force.copy()
        force[..., frame.steered, 1] += steer
    moment = (
        np.cross(np.broadcast_to(frame.position, force.shape), force)
        + (frame.spin * hub.torque)[..., np.newaxis] * frame.axis
        + (mirrored * hub.roll)[..., np.newaxis] * into
        + hub.pitch[..., np.newaxis] * right
    )
    return _Loads(force.sum(axis=-2), moment.sum(axis=-2), hub.torque, along, edge)


def _whole(frame: Frame, thrust: FloatArray, steer: FloatArray) -> FloatArray:
    """Thrusts with the side force of the rotor that is tilted to steer in its own."""
    if frame.steered == NO_ROTOR:
        return thrust
    found = thrust.copy()
    found[..., frame.steered] = np.hypot(thrust[..., frame.steered], steer)
    return found


def _attitude(force: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Pitch and roll that bring the upward axis of the body into line with a force in axes of the earth."""
    down = -force / np.maximum(np.linalg.norm(force, axis=-1, keepdims=True), _TINY)
    return np.arctan2(down[..., 0], down[..., 2]), -np.arcsin(np.clip(down[..., 1], -1.0, 1.0))


def _rotated(vector: FloatArray, pitch: FloatArray, roll: FloatArray) -> FloatArray:
    """A vector of the earth's axes in those of the body."""
    x, y, z = np.moveaxis(vector, -1, 0)
    ahead = np.cos(pitch) * x - np.sin(pitch) * z
    down = np.sin(pitch) * x + np.cos(pitch) * z
    return np.stack(
        [ahead, np.cos(roll) * y + np.sin(roll) * down, np.cos(roll) * down - np.sin(roll) * y], axis=-1
    )


def _unrotated(vector: FloatArray, pitch: FloatArray, roll: FloatArray) -> FloatArray:
    """A vector of the body's axes in those of the earth."""
    x, y, z = np.moveaxis(vector, -1, 0)
    right = np.cos(roll) * y - np.sin(roll) * z
    down = np.sin(roll) * y + np.cos(roll) * z
    return np.stack(
        [np.cos(pitch) * x + np.sin(pitch) * down, right, np.cos(pitch) * down - np.sin(pitch) * x], axis=-1
    )
