"""Centrifugal force of a blade and what it takes back of the flap and drag moments."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.validity import Range

FloatArray = NDArray[np.float64]

LAG_RANGE = Range(
    "lag angle",
    0.0,
    30.0,
    "deg",
    "the blade does not straighten; its centrifugal line no longer passes the rotor axis as assumed",
    "small-angle use of the lag equilibrium",
)


def centrifugal_force(
    mass: ArrayLike, pivot_radius: ArrayLike, balance_point: ArrayLike, speed: ArrayLike
) -> FloatArray:
    """Centrifugal force of one straight blade at its pivot: F = m (e + x) Omega^2.

    Exact for any mass distribution, because the blade is weighed and balanced as it is.

    Arguments, all broadcasting: mass - kg; pivot_radius - e, rotor axis to pivot, m;
    balance_point - x, pivot to balance point, m; speed - Omega, rad/s. Returns N.
    Source: rigid-body mechanics.

    >>> round(float(centrifugal_force(0.120, 0.0, 0.30, 2 * np.pi * 50)), 2)
    3553.06
    """
    radius = np.asarray(pivot_radius, dtype=float) + np.asarray(balance_point, dtype=float)
    return np.asarray(
        np.asarray(mass, dtype=float) * radius * np.asarray(speed, dtype=float) ** 2, dtype=float
    )


LEAST_SPREAD, GREATEST_SPREAD = 1.0, 1.4
"""Bounds of a blade's moment of inertia about its pivot over m x^2: 1 by Jensen, 4/3 for an even rod."""


def coning_moment(
    mass: ArrayLike,
    pivot_radius: ArrayLike,
    balance_point: ArrayLike,
    speed: ArrayLike,
    angle: ArrayLike,
    spread: ArrayLike = LEAST_SPREAD,
) -> FloatArray:
    """Moment (N*m) about the pivot by which centrifugal force presses a raised blade down again.

    M = Omega^2 sin(beta) (m x e + cos(beta) I), with I = spread m x^2 the blade's moment of inertia about
    the pivot. Which spread is on the safe side depends on whether the moment relieves or loads the root.

    Arguments, all broadcasting: mass - kg; pivot_radius - e, m; balance_point - x, m; speed - Omega, rad/s;
    angle - beta, upward angle of the blade as built, rad; spread - I over m x^2, LEAST_SPREAD to
    GREATEST_SPREAD.
    Source: moment equilibrium of a rigid blade raised by beta.
    """
    m, e, x, omega, beta = (
        np.asarray(v, dtype=float) for v in (mass, pivot_radius, balance_point, speed, angle)
    )
    arm = e + np.asarray(spread, dtype=float) * x * np.cos(beta)
    return np.asarray(omega**2 * np.sin(beta) * m * x * arm, dtype=float)


def lag_equilibrium_angle(
    mass: ArrayLike,
    pivot_radius: ArrayLike,
    balance_point: ArrayLike,
    speed: ArrayLike,
    drag_moment: ArrayLike,
) -> FloatArray:
    """Angle (rad) by which a freely pivoting blade trails its straight position.

    sin(zeta) = M_drag / (m e x Omega^2): the in-plane centrifugal moment about the pivot of a
    blade turned by zeta is m e x Omega^2 sin(zeta). Where drag exceeds what the pivot radius can
    hold straight, the angle is returned as pi/2 (the blade folds back) and lies outside LAG_RANGE.

    Arguments, all broadcasting: mass - kg; pivot_radius e, balance_point x - m; speed - rad/s;
    drag_moment - moment of the air's drag about the pivot, N*m.
    Source: moment equilibrium of a rigid blade about its pivot.
    """
    m, e, x, omega = (np.asarray(v, dtype=float) for v in (mass, pivot_radius, balance_point, speed))
    restoring = m * e * x * omega**2
    sine = np.asarray(drag_moment, dtype=float) / np.maximum(restoring, np.finfo(float).tiny)
    return np.asarray(np.arcsin(np.clip(sine, -1.0, 1.0)), dtype=float)
