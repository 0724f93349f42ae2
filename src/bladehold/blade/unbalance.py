"""Blades at unlike lag angles unbalance their rotor: by how much, and what a balance grade allows."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.blade.folding import FoldingBlade

FloatArray = NDArray[np.float64]


def lag_unbalance(mass: ArrayLike, balance_point: ArrayLike, angles: ArrayLike) -> FloatArray:
    """Rotating first moment (kg m) of equally spaced alike blades at unlike lag angles.

    U = m x |sum exp(i (2 pi k / B - zeta_k))|: the pivots are balanced among themselves, so that e drops
    out, and so does an angle common to all. Its force on the hub is U Omega^2 (`unbalance_force`).

    Arguments: mass - kg, balance_point - x, m, broadcasting with [...]; angles - zeta, rad, [..., B], in the
    order of the blades round the hub. Exact for rigid blades of equal mass and balance point.
    Source: derived, vector sum of the blades' first moments.

    >>> round(1e6 * float(lag_unbalance(0.034, 0.102, [0.01, 0.0])), 3)  # g mm
    34.68
    """
    lag = np.asarray(angles, dtype=float)
    place = 2.0 * np.pi * np.arange(lag.shape[-1]) / lag.shape[-1]
    total = np.exp(1j * (place - lag)).sum(axis=-1)
    return np.asarray(np.asarray(mass) * np.asarray(balance_point) * np.abs(total))


def unbalance_force(unbalance: ArrayLike, speed: ArrayLike) -> FloatArray:
    """Force (N) that turns with the rotor, F = U Omega^2.

    Arguments, broadcasting: unbalance - U, kg m; speed - Omega, rad/s. Source: rigid-body mechanics.
    """
    return np.asarray(np.asarray(unbalance, dtype=float) * np.square(speed))


def balance_grade(unbalance: ArrayLike, rotor_mass: ArrayLike, speed: ArrayLike) -> FloatArray:
    """Balance quality G as a speed (m/s), e Omega = U Omega / m; grade G 6.3 is 6.3e-3 m/s.

    Arguments, broadcasting: unbalance - U, kg m; rotor_mass - of all that turns, kg; speed - Omega, rad/s.
    Limits: meant for rotors that are rigid; lag angles may differ from one start to the next. No grade is
    named for drone propellers; a grade is not the vibration of a casing.
    Source: ISO 21940-11:2016.
    """
    return np.asarray(np.asarray(unbalance, dtype=float) * np.asarray(speed) / np.asarray(rotor_mass))


def permissible_unbalance(grade: ArrayLike, rotor_mass: ArrayLike, speed: ArrayLike) -> FloatArray:
    """Residual unbalance (kg m) that a balance quality grade allows, U = G m / Omega.

    In g mm, kg, mm/s and rpm this is 9549 G m / n; over the mass it is the permissible eccentricity.

    Arguments, broadcasting: grade - G, m/s; rotor_mass - of all that turns, kg; speed - Omega, rad/s.
    Source: ISO 21940-11:2016.

    >>> round(1e6 * float(permissible_unbalance(6.3e-3, 0.25, 100 * np.pi)), 3)
    5.013
    """
    return np.asarray(np.asarray(grade, dtype=float) * np.asarray(rotor_mass) / np.asarray(speed))


def scatter_sum(blades: int) -> float:
    """Largest |sum s_k exp(2 pi i k / B)| over signs s_k: how unlike angles add up at the worst.

    2 / sin(pi / B) for an even number of blades, 1 / sin(pi / (2 B)) for an odd one: 2 for two and three.

    Arguments: blades - B, 2 or more.
    Errors: ValueError below 2. Source: derived, half of the blades on either side of a line.

    >>> [round(scatter_sum(blades), 4) for blades in (2, 3, 4)]
    [2.0, 2.0, 2.8284]
    """
    if blades < 2:
        raise ValueError(f"blades must be 2 or more, got {blades}")
    return float(2.0 / np.sin(np.pi / blades) if blades % 2 == 0 else 1.0 / np.sin(0.5 * np.pi / blades))


def angle_tolerance(
    unbalance: ArrayLike, mass: ArrayLike, balance_point: ArrayLike, blades: int
) -> FloatArray:
    """Lag angle (rad) by which every blade may differ, ahead or behind, from the common one.

    sin(delta) = U / (m x w) with w = `scatter_sum`: blades at +-delta in the worst order. pi/2 where even
    that is balanced well enough.

    Arguments, broadcasting: unbalance - allowed, kg m; mass - of one blade, kg; balance_point - x, m; blades
    - B, one number. Exact for two blades; for more, angles between the ends can add up to slightly more, by
    less than 2 % at 2 degrees. Source: derived.
    """
    most = np.asarray(mass, dtype=float) * np.asarray(balance_point) * scatter_sum(blades)
    return np.asarray(np.arcsin(np.minimum(np.asarray(unbalance, dtype=float) / most, 1.0)))


def friction_tolerance(blade: FoldingBlade, speed: ArrayLike, tolerance: ArrayLike) -> FloatArray:
    """Friction moment (N*m) at the pivot whose band of rest angles is just +-tolerance wide.

    M_f = e S Omega^2 sin(delta) sqrt(1 - (K / (e S cos(delta)))^2): `lag_band` solved for its friction; zero
    where drag alone exceeds the pull. All friction at that speed counts, that of the pin included.

    Arguments, broadcasting: blade; speed - Omega, rad/s; tolerance - delta, rad, below pi/2.
    Source: derived from `lag_band` with sin(a) -+ sin(b).
    """
    lean = blade.drag_constant / np.maximum(blade.coupling * np.cos(tolerance), np.finfo(float).tiny)
    upright = np.sqrt(np.maximum(1.0 - np.square(lean), 0.0))
    return np.asarray(blade.coupling * np.square(speed) * np.sin(tolerance) * upright)
