"""What shaking does: one mode under a rotating unbalance, an aircraft in two masses, the published measure.

The aircraft hangs on nothing: body, arm and controller plate share their momentum. Counting arm tip and plate
from the body leaves two unknowns, solved as complex 2 x 2 systems over arrays.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]
ComplexArray = NDArray[np.complex128]

HIGH_PASS, LOW_PASS = 5.0, 2.0
"""Corner frequencies of the published measure of vibration, Hz."""


def unbalance_magnification(ratio: ArrayLike, damping: ArrayLike) -> FloatArray:
    """Amplitude of one mode under a rotating unbalance, M X / (m e) = r^2 / sqrt((1 - r^2)^2 + (2 zeta r)^2).

    Arguments, broadcasting: ratio - r, speed over natural frequency, any >= 0; damping - zeta, above 0.
    Returns M X / (m e), M the modal mass, m e the unbalance. Exact for viscous damping of one mode.
    Source: Rao, Mechanical Vibrations, response to a rotating unbalance.

    >>> unbalance_magnification([0.5, 1.0], 0.05).round(4).tolist()
    [0.3326, 10.0]
    """
    r = np.asarray(ratio, float)
    return np.asarray(r**2 / np.hypot(1.0 - r**2, 2.0 * np.asarray(damping, float) * r))


def pair_response(
    mass: ArrayLike, damping: ArrayLike, stiffness: ArrayLike, force: ArrayLike, speed: ArrayLike
) -> ComplexArray:
    """Steady motion of two coupled unknowns, (K + i Omega C - Omega^2 M) x = f, by Cramer's rule, [..., 2].

    Arguments: mass, damping, stiffness - M, C, K, [..., 2, 2]; force - f, [..., 2], may be complex; speed -
    Omega, [...], rad/s.
    Source: Rao, Mechanical Vibrations, forced vibration of two degrees of freedom.
    """
    turning = np.asarray(speed, float)[..., np.newaxis, np.newaxis]
    whole = np.asarray(stiffness) + 1j * turning * np.asarray(damping) - turning**2 * np.asarray(mass)
    load = np.asarray(force, dtype=complex)
    a, b, c, d = whole[..., 0, 0], whole[..., 0, 1], whole[..., 1, 0], whole[..., 1, 1]
    first = d * load[..., 0] - b * load[..., 1]
    second = a * load[..., 1] - c * load[..., 0]
    return np.asarray(np.stack([first, second], axis=-1) / (a * d - b * c)[..., np.newaxis])


@dataclass(frozen=True, eq=False)
class Mount:
    """A mass on a spring and a damper: mass - kg; stiffness - N/m; damping - N*s/m. Numbers or arrays."""

    mass: ArrayLike
    stiffness: ArrayLike
    damping: ArrayLike


def mount_of(mass: ArrayLike, frequency: ArrayLike, damping_ratio: ArrayLike) -> Mount:
    """A mass on mounts of a natural frequency and a damping ratio, both of the mass on a fixed base.

    k = m (2 pi f)^2, c = 2 zeta m 2 pi f.
    Arguments, broadcasting: mass - kg; frequency - Hz; damping_ratio - zeta.
    Source: definition.
    """
    rate = 2.0 * np.pi * np.asarray(frequency, float)
    weight = np.asarray(mass, float)
    return Mount(weight, weight * rate**2, 2.0 * np.asarray(damping_ratio, float) * weight * rate)


def carried_acceleration(
    tip: Mount,
    plate: Mount,
    total_mass: ArrayLike,
    force: ArrayLike,
    speed: ArrayLike,
    net_force: ArrayLike | None = None,
    participation: ArrayLike | None = None,
) -> tuple[ComplexArray, ComplexArray]:
    """Accelerations (m/s^2) of the body and of the controller plate of a free aircraft whose tip is shaken.

    With u, p the motion of tip and plate from the body, and M x'' = P - L u'' - m_p p'' for the body,
    m_u u'' + L x'' + c_u u' + k_u u = F and m_p (p'' + x'') + c_p p' + k_p p = 0: two unknowns.
    The body is rigid and does not turn; it moves along one axis.

    Arguments, broadcasting: tip - modal mass, spring and damper of the arm's mode; plate - the same of the
    controller plate on its mounts; total_mass - M, of everything, kg; force - F, that drives the mode, N;
    speed - Omega, rad/s, above 0; net_force - P, of all that acts on the aircraft, N; F where not given (a
    moment that shakes a mode brings none); participation - L, of the mode, kg, else its modal mass.
    Returns complex amplitudes of body and plate. Errors: ValueError where tip and plate outweigh the whole.
    Source: derived, momentum of a free body with two masses on springs.
    """
    light, small, whole = (np.asarray(one, float) for one in (tip.mass, plate.mass, total_mass))
    if not np.all(light + small < whole):
        raise ValueError("tip and plate must weigh less than the whole aircraft")
    drive = np.asarray(force, dtype=complex)
    net = drive if net_force is None else np.asarray(net_force, dtype=complex)
    turning = np.asarray(speed, float)
    along = light if participation is None else np.asarray(participation, float)
    mass = _matrix(light - along**2 / whole, -along * small / whole, small - small**2 / whole)
    motion = pair_response(
        mass,
        _matrix(tip.damping, 0.0, plate.damping),
        _matrix(tip.stiffness, 0.0, plate.stiffness),
        np.stack(np.broadcast_arrays(drive - along * net / whole, -small * net / whole), axis=-1),
        turning,
    )
    swing = -(turning**2)[..., np.newaxis] * motion
    body = (net - along * swing[..., 0] - small * swing[..., 1]) / whole
    return np.asarray(body), np.asarray(body + swing[..., 1])


def _matrix(first: ArrayLike, across: ArrayLike, second: ArrayLike) -> FloatArray:
    """Symmetric matrices [..., 2, 2]."""
    a, b, d = np.broadcast_arrays(*(np.asarray(one, float) for one in (first, across, second)))
    return np.stack([np.stack([a, b], axis=-1), np.stack([b, d], axis=-1)], axis=-2)


def vibration_measure(amplitude: ArrayLike, frequency: ArrayLike) -> FloatArray:
    """Published measure of vibration (m/s^2) of a steady sine: high-passed, squared, low-passed, rooted.

    One pole at 5 Hz takes away the slow part, what is left is squared, one pole at 2 Hz smooths it, and the
    root is taken: a g / sqrt(2) (1 + h)^(1/2) at its greatest, with g = f / sqrt(f^2 + 5^2) and the ripple at
    twice the frequency h = 2 / sqrt((2 f)^2 + 2^2). Only a number made this way may be held against the
    published thresholds.

    Arguments, broadcasting: amplitude - of the acceleration along one axis, m/s^2; frequency - f, Hz.
    Returns the greatest value once the filters have settled. Sampling, aliasing and clipping are left out.
    Source: ArduPilot documentation, measuring vibration (filters and corners); response of one-pole filters.

    >>> round(float(vibration_measure(10.0, 80.0)), 3)
    7.101
    """
    hertz = np.asarray(frequency, float)
    passed = np.abs(amplitude) * hertz / np.hypot(hertz, HIGH_PASS)
    ripple = LOW_PASS / np.hypot(2.0 * hertz, LOW_PASS)
    return np.asarray(passed * np.sqrt((1.0 + ripple) / 2.0))
