"""A blade that comes off: its speed and energy, how far it can fly in a vacuum, what a barrier must stop."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.air import GRAVITY

FloatArray = NDArray[np.float64]


def release_speed(rotation_speed: ArrayLike, centre_radius: ArrayLike) -> FloatArray:
    """Speed (m/s) with which a blade's centre of mass leaves, v = Omega r, along the tangent.

    Arguments, broadcasting: rotation_speed - Omega, rad/s; centre_radius - r, axis to centre of mass, m.
    Source: rigid-body mechanics.

    >>> round(float(release_speed(100.0 * np.pi, 0.30)), 3)
    94.248
    """
    return np.asarray(np.multiply(rotation_speed, centre_radius), dtype=float)


def translation_energy(mass: ArrayLike, speed: ArrayLike) -> FloatArray:
    """Energy (J) of translation, m v^2 / 2. Arguments, broadcasting: mass - kg; speed - v, m/s.

    Source: mechanics.
    """
    return np.asarray(0.5 * np.asarray(mass, float) * np.square(speed))


def rotation_energy(inertia: ArrayLike, rotation_speed: ArrayLike) -> FloatArray:
    """Energy (J) of rotation, I Omega^2 / 2: a blade that leaves keeps turning as it did.

    Arguments, broadcasting: inertia - about the centre of mass (or the axis, of a whole rotor), kg*m^2;
    rotation_speed - Omega, rad/s. Source: mechanics.

    >>> round(float(rotation_energy(rod_inertia(0.120, 0.55), 100.0 * np.pi)), 2)
    149.28
    """
    return np.asarray(0.5 * np.asarray(inertia, float) * np.square(rotation_speed))


def rod_inertia(mass: ArrayLike, length: ArrayLike) -> FloatArray:
    """Moment of inertia (kg*m^2) of an even slender rod about its centre, m l^2 / 12.

    Arguments, broadcasting: mass - m, kg; length - l, m. Source: mechanics.
    """
    return np.asarray(np.asarray(mass, float) * np.square(length) / 12.0)


def lost_pull(mass: ArrayLike, centre_radius: ArrayLike, rotation_speed: ArrayLike) -> FloatArray:
    """Force (N) that turns with the rotor once a blade is gone, m r Omega^2: the pull of the one opposite.

    Arguments, broadcasting: mass - of the blade, kg; centre_radius - r, m; rotation_speed - Omega, rad/s.
    Source: rigid-body mechanics.

    >>> round(float(lost_pull(0.120, 0.30, 100.0 * np.pi)), 2)
    3553.06
    """
    return np.asarray(np.multiply(mass, centre_radius) * np.square(rotation_speed), dtype=float)


def vacuum_range(speed: ArrayLike, height: ArrayLike, angle: ArrayLike) -> FloatArray:
    """Level distance (m) of a throw without air, v cos(a) (v sin(a) + sqrt(v^2 sin(a)^2 + 2 g h)) / g.

    Arguments, broadcasting: speed - v, m/s; height - h, of the start above level ground, m, >= 0; angle - a,
    above the horizon, rad. Source: mechanics.
    """
    v, up = np.asarray(speed, float), np.asarray(speed, float) * np.sin(angle)
    time = (up + np.sqrt(up**2 + 2.0 * GRAVITY * np.asarray(height, float))) / GRAVITY
    return np.asarray(v * np.cos(angle) * time)


def best_vacuum_angle(speed: ArrayLike, height: ArrayLike, steepest: ArrayLike = np.pi / 2) -> FloatArray:
    """Angle (rad) above the horizon that throws farthest without air, tan(a) = v / sqrt(v^2 + 2 g h).

    Arguments, broadcasting: speed - v, m/s, above 0; height - h, m, >= 0; steepest - the greatest angle there
    can be, rad, >= 0: below the best one, distance grows with the angle. Source: mechanics.
    """
    v = np.asarray(speed, float)
    best = np.arctan2(v, np.sqrt(v**2 + 2.0 * GRAVITY * np.asarray(height, float)))
    return np.asarray(np.minimum(best, steepest))


def greatest_vacuum_range(speed: ArrayLike, height: ArrayLike) -> FloatArray:
    """Greatest level distance (m) without air over all angles, R = (v / g) sqrt(v^2 + 2 g h).

    Arguments, broadcasting: speed - v, m/s; height - h, m, >= 0.
    Nothing without lift flies farther; a blade that glides may. Source: mechanics.

    >>> round(float(greatest_vacuum_range(100.0, 0.0)), 2)
    1019.72
    """
    v = np.asarray(speed, float)
    return np.asarray(v / GRAVITY * np.sqrt(v**2 + 2.0 * GRAVITY * np.asarray(height, float)))
