"""Groups of screws: moment on a plate, moment and torque on a bolt circle, shear with tension."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from bladehold.joint._arrays import Floats, at_least_zero, positive, real


def heel_forces(moment: ArrayLike, lever_arms: ArrayLike) -> Floats:
    """Tension of each screw of a rigid plate turning about its heel, F_i = M l_i / sum l_i^2.

    Arguments:
        moment: M about the heel [N m], shape (...); lever_arms: l_i from the heel [m], shape (..., screws).
    Returns: forces [N], shape (..., screws).
    Errors: ValueError when an arm is negative or all arms are zero.
    Source: Bhandari, Design of Machine Elements, ch. 7; preload left out.
    """
    arms = at_least_zero("lever arm", lever_arms)
    squares = positive("sum of squared lever arms", np.sum(arms**2, axis=-1, keepdims=True))
    return real("moment", moment)[..., np.newaxis] * arms / squares


def circle_forces(moment: ArrayLike, radius: ArrayLike, angles: ArrayLike) -> Floats:
    """Axial force of each screw on a bolt circle under a moment, turning about a diameter.

    F_i = M sin(theta_i) / (R sum sin^2 theta_i)

    Arguments:
        moment: M [N m], shape (...); radius: R of the bolt circle [m], shape (...);
        angles: theta_i from the moment axis [rad], shape (..., screws).
    Returns: forces [N], shape (..., screws), tension positive.
    Errors: ValueError when R is not positive or all screws lie on the moment axis.
    Source: Shigley ch. 8; the pattern must be symmetric about the moment axis.
    """
    height = np.sin(real("angle", angles))
    squares = positive("sum of squared distances", np.sum(height**2, axis=-1, keepdims=True))
    return (real("moment", moment) / positive("radius", radius))[..., np.newaxis] * height / squares


def circle_peak_force(moment: ArrayLike, radius: ArrayLike, screws: ArrayLike) -> Floats:
    """Greatest axial force on an evenly divided bolt circle, 2 M / (R N).

    Arguments (broadcast together):
        moment: M [N m]; radius: R [m]; screws: N, three or more [-].
    Returns: force [N] of a screw farthest from the moment axis.
    Errors: ValueError when R is not positive or N below 3.
    Source: Shigley ch. 8.
    """
    count = positive("number of screws", screws)
    at_least_zero("number of screws - 3", count - 3.0)
    return 2.0 * real("moment", moment) / (positive("radius", radius) * count)


def loosened_circle_force(
    thrust: ArrayLike, moment: ArrayLike, radius: ArrayLike, screws: int, lost: int = 1
) -> Floats:
    """Greatest tension of a screw on an evenly divided bolt circle of which neighbours are lost.

    Rigid plate on equal springs: F_i = T/n + a_i . m, a_i = I^-1 r_i about the centroid of the n screws left,
    I = sum r r^T; the thrust at the circle's centre adds a moment T e to M, which points where it is worst.

    >>> print(f"{loosened_circle_force(0.0, 10.0, 12.5e-3, 4, 0):.0f} {2 * 10.0 / (12.5e-3 * 4):.0f}")
    400 400

    Arguments (broadcast together):
        thrust: T at the circle's centre, pulling [N]; moment: M in the worst direction [N m]; radius: R [m];
        screws: on the whole circle; lost: how many neighbours are gone.
    Returns: force [N]; infinite with fewer than three screws left, which leave one axis unheld.
    Errors: ValueError when a load is negative or R not positive.
    Range: no preload, plate and flange stiff beside the screws, no edge to lever on.
    Source: statics of a rigid plate on equal springs, as Shigley ch. 8 for a whole circle.
    """
    pull, turn = at_least_zero("thrust", thrust), at_least_zero("moment", moment)
    around = positive("radius", radius)
    if screws - lost < 3:
        return np.full(np.broadcast_shapes(pull.shape, turn.shape, around.shape), np.inf)
    angle = 2.0 * np.pi * np.arange(lost, screws) / screws
    place = np.stack([np.cos(angle), np.sin(angle)], axis=-1)
    centre = place.mean(axis=0)
    left = place - centre
    levers = left @ np.linalg.inv(left.T @ left)
    # Of a unit circle: T/n + T e . a_i, and |a_i| for a moment along it.
    by_thrust = 1.0 / len(left) - levers @ centre
    by_moment = np.linalg.norm(levers, axis=-1)
    forces = by_thrust * pull[..., np.newaxis] + by_moment * turn[..., np.newaxis] / around[..., np.newaxis]
    return np.asarray(forces.max(axis=-1))


def loosened_circle_shear(torque: ArrayLike, radius: ArrayLike, screws: int, lost: int = 1) -> Floats:
    """Greatest shear force of a screw on an evenly divided bolt circle of which neighbours are lost.

    F = Q r_max / sum r^2, r from the centroid of the screws left.

    >>> print(f"{loosened_circle_shear(1.0, 1.0, 4, 0):.4f} {loosened_circle_shear(1.0, 1.0, 4):.4f}")
    0.2500 0.3953

    Arguments (broadcast together):
        torque: Q about the circle's axis [N m]; radius: R [m]; screws: on the whole circle; lost: how many
        neighbours are gone.
    Returns: force [N].
    Errors: ValueError when R is not positive.
    Range: screws of equal stiffness, flange stiff beside them, two or more left.
    Source: elastic group of screws in shear, Shigley ch. 8.
    """
    angle = 2.0 * np.pi * np.arange(lost, screws) / screws
    place = np.stack([np.cos(angle), np.sin(angle)], axis=-1)
    reach = np.linalg.norm(place - place.mean(axis=0), axis=-1)
    return np.asarray(real("torque", torque) / positive("radius", radius) * reach.max() / np.sum(reach**2))


def circle_line_load_force(moment: ArrayLike, radius: ArrayLike, start: ArrayLike, end: ArrayLike) -> Floats:
    """Force on a sector of a bolt circle taken as a line load, M (cos t1 - cos t2) / (pi R).

    The line load M sin(t) / (pi R^2) [N/m] integrated along the arc from t1 to t2.

    Arguments (broadcast together):
        moment: M [N m]; radius: R [m]; start, end: t1, t2 from the moment axis [rad].
    Returns: force [N].
    Errors: ValueError when R is not positive.
    Source: Shigley ch. 8.
    """
    sector: Floats = np.cos(real("start angle", start)) - np.cos(real("end angle", end))
    return real("moment", moment) * sector / (np.pi * positive("radius", radius))


def grip_torque(friction: ArrayLike, clamp_force: ArrayLike, screws: ArrayLike, radius: ArrayLike) -> Floats:
    """Torque that a bolt circle holds by friction, Q = mu Fp n R.

    Friction counts at limit and yield only, and mu has a cap: see `separation.allowed_friction`.

    Arguments (broadcast together):
        friction: mu [-]; clamp_force: least preload Fp of one screw [N]; screws: n [-]; radius: R [m].
    Returns: torque [N m].
    Errors: ValueError when friction or preload is negative, n or R not positive.
    Source: statics.
    """
    force = at_least_zero("friction", friction) * at_least_zero("clamp force", clamp_force)
    return force * positive("number of screws", screws) * positive("radius", radius)


def torque_shear_force(torque: ArrayLike, screws: ArrayLike, radius: ArrayLike) -> Floats:
    """Shear force of each screw on a bolt circle when friction is not counted, Q / (R n).

    Arguments (broadcast together):
        torque: Q [N m]; screws: n that bear [-]; radius: R [m].
    Returns: force [N].
    Errors: ValueError when n or R is not positive.
    Source: statics.
    """
    return real("torque", torque) / (positive("number of screws", screws) * positive("radius", radius))


def principal_stress(tension: ArrayLike, shear: ArrayLike) -> Floats:
    """Greatest principal stress of tension with shear, s/2 + sqrt((s/2)^2 + t^2).

    Linear in both, so with forces in place of stresses it gives the force whose quotient with an allowable
    stress is the core area needed.

    Arguments (broadcast together):
        tension: s [Pa] (or [N]); shear: t in the same unit.
    Returns: principal stress, same unit.
    Source: Bhandari, Design of Machine Elements, Ex. 7.6.
    """
    half = real("tension", tension) / 2.0
    return half + np.hypot(half, real("shear", shear))
