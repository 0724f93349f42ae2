"""From thrusts to forces and moments on the aircraft, and back."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.aircraft.layout import NO_ROTOR, Frame

FloatArray = NDArray[np.float64]

WAYS = ("lift", "roll", "pitch", "yaw")
_RANK = 1e-9  # of the greatest singular value
_NOMINAL = 0.02  # m, torque over thrust that stands for any in the question what can be commanded


def effectiveness(frame: Frame, torque_ratio: ArrayLike) -> FloatArray:
    """Forces (N) and moments (N*m) about the centre of mass for 1 N of thrust of each rotor, [..., 6, N].

    Column i: (a, r x a + s k a), with r the place, a the axis, s the spin and k the torque over the thrust: a
    rotor that turns clockwise seen from above pushes the nose to the left. Of a frame that is steered by
    tilting a rotor a last column stands for 1 N of side force on it.

    Arguments: frame; torque_ratio - k of each rotor, m, [..., N] or one for all.
    Source: rigid-body statics; e.g. Mahony, Kumar and Corke, IEEE Robotics and Automation Magazine 19(3)
    (2012), eq. 6 (mark: memory).
    """
    ratio = np.broadcast_to(
        np.asarray(torque_ratio, dtype=float), np.broadcast_shapes(np.shape(torque_ratio), (frame.count,))
    )
    arm = np.cross(frame.position, frame.axis)
    moment = arm + (frame.spin * ratio)[..., np.newaxis] * frame.axis
    force = np.broadcast_to(frame.axis, moment.shape)
    columns = np.concatenate([force, moment], axis=-1)
    if frame.steered != NO_ROTOR:
        side = np.array([0.0, 1.0, 0.0])
        steer = np.concatenate([side, np.cross(frame.position[frame.steered], side)])
        columns = np.concatenate([columns, np.broadcast_to(steer, (*columns.shape[:-2], 1, 6))], axis=-2)
    return np.asarray(np.swapaxes(columns, -1, -2))


def commanded(matrix: ArrayLike) -> FloatArray:
    """Rows of lift (upward), roll, pitch and yaw of a matrix of `effectiveness`, [..., 4, N].

    Arguments: matrix - [..., 6, N]. Source: own, a choice of rows.
    """
    whole = np.asarray(matrix, dtype=float)
    return np.concatenate([-whole[..., 2:3, :], whole[..., 3:, :]], axis=-2)


def out_of_command(frame: Frame) -> tuple[str, ...]:
    """Of lift, roll, pitch and yaw those that the speeds of the rotors cannot command on their own.

    Arguments: frame. Returns their names. Source: own; a row that depends on the others is not commanded.
    """
    rows = commanded(effectiveness(frame, _NOMINAL))
    size = np.maximum(np.linalg.norm(rows, axis=-1, keepdims=True), 1e-30)
    rows = np.where(size > _RANK, rows / size, 0.0)
    if np.linalg.matrix_rank(rows, tol=_RANK) == len(WAYS):
        return ()
    found = []
    for at, way in enumerate(WAYS):
        others = np.delete(rows, at, axis=0)
        if np.linalg.matrix_rank(np.vstack([others, rows[at]]), tol=_RANK) == np.linalg.matrix_rank(
            others, tol=_RANK
        ):
            found.append(way)
    return tuple(found)


def least_thrusts(matrix: ArrayLike, demand: ArrayLike) -> FloatArray:
    """Thrusts (N) [..., N] of the least sum of squares that give lift, roll, pitch and yaw.

    Arguments: matrix - of `commanded`, [..., 4, N]; demand - N and N*m, [..., 4].
    Source: Moore-Penrose inverse; e.g. Johansen and Fossen, Automatica 49 (2013) 1087 (mark: memory).
    """
    inverse = np.linalg.pinv(np.asarray(matrix, dtype=float))
    return np.asarray((inverse @ np.asarray(demand, dtype=float)[..., np.newaxis])[..., 0])


@dataclass(frozen=True, eq=False)
class Authority:
    """The greatest moments, N*m, about roll, pitch and yaw from a state of flight before a rotor stops or
    gives all it can, [..., 3], in the worse sense; limiting - number of the rotor that does so first, [...,
    3].
    """

    moment: FloatArray
    limiting: NDArray[np.intp]


def authority(matrix: ArrayLike, thrust: ArrayLike, greatest: ArrayLike) -> Authority:
    """Moments that are left for steering beside the thrusts of a state of flight, lift held.

    Arguments: matrix - of `commanded`, [..., 4, N]; thrust - N, [..., N]; greatest - that a rotor can give,
    N, broadcasting with [..., N].
    Source: own; thrusts of `least_thrusts` grow in proportion until one is 0 or greatest.
    """
    now = np.asarray(thrust, dtype=float)
    room = np.asarray(greatest, dtype=float) - now
    inverse = np.linalg.pinv(np.asarray(matrix, dtype=float))
    moments, limiting = [], []
    for way in (1, 2, 3):
        step = inverse[..., : now.shape[-1], way]
        with np.errstate(divide="ignore", invalid="ignore"):
            up = np.where(step > 0.0, room / step, np.where(step < 0.0, -now / step, np.inf))
            down = np.where(step < 0.0, room / -step, np.where(step > 0.0, now / step, np.inf))
        least = np.minimum(up, down)
        moments.append(np.maximum(least.min(axis=-1), 0.0))
        limiting.append(least.argmin(axis=-1))
    return Authority(np.stack(moments, axis=-1), np.stack(limiting, axis=-1))
