"""Thrust, torque and power without dimensions, in the propeller's and the rotor's convention.

The two differ by powers of pi; mixing them is the commonest slip:
CT_propeller = CT_rotor pi^3 / 4, CP_propeller = CQ_rotor pi^4 / 4.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]

TINY = 1e-150


def propeller_thrust_coefficient(
    thrust: ArrayLike, density: ArrayLike, rotation_speed: ArrayLike, diameter: ArrayLike
) -> FloatArray:
    """CT = T / (rho n^2 D^4), n = Omega / (2 pi) in turns per second.

    Arguments: thrust - T, N; density - kg/m^3; rotation_speed - Omega, rad/s; diameter - D, m; all
    broadcast. Source: Glauert, Airplane Propellers, in Durand, Aerodynamic Theory IV (1935).

    >>> round(float(propeller_thrust_coefficient(10.0, 1.225, 2 * np.pi * 50.0, 0.4)), 4)
    0.1276
    """
    turns = np.asarray(rotation_speed, dtype=float) / (2.0 * np.pi)
    scale = np.asarray(density, dtype=float) * turns**2 * np.asarray(diameter, dtype=float) ** 4
    return np.asarray(np.asarray(thrust, dtype=float) / scale, dtype=float)


def propeller_power_coefficient(
    power: ArrayLike, density: ArrayLike, rotation_speed: ArrayLike, diameter: ArrayLike
) -> FloatArray:
    """CP = P / (rho n^3 D^5), n = Omega / (2 pi) in turns per second.

    Arguments: power - P, W; density - kg/m^3; rotation_speed - Omega, rad/s; diameter - D, m; all
    broadcast. Source: Glauert, Airplane Propellers, in Durand, Aerodynamic Theory IV (1935).

    >>> round(float(propeller_power_coefficient(100.0, 1.225, 2 * np.pi * 50.0, 0.4)), 4)
    0.0638
    """
    turns = np.asarray(rotation_speed, dtype=float) / (2.0 * np.pi)
    scale = np.asarray(density, dtype=float) * turns**3 * np.asarray(diameter, dtype=float) ** 5
    return np.asarray(np.asarray(power, dtype=float) / scale, dtype=float)


def rotor_thrust_coefficient(
    thrust: ArrayLike, density: ArrayLike, rotation_speed: ArrayLike, radius: ArrayLike
) -> FloatArray:
    """CT = T / (rho pi R^2 (Omega R)^2).

    Arguments: thrust - T, N; density - kg/m^3; rotation_speed - Omega, rad/s; radius - R, m; all
    broadcast. Source: Johnson, Helicopter Theory (1980), chapter 2.

    >>> round(float(rotor_thrust_coefficient(10.0, 1.225, 2 * np.pi * 50.0, 0.2)) * np.pi**3 / 4, 4)
    0.1276
    """
    disc = np.pi * np.asarray(radius, dtype=float) ** 2
    tip_speed = np.asarray(rotation_speed, dtype=float) * np.asarray(radius, dtype=float)
    return np.asarray(
        np.asarray(thrust, dtype=float) / (np.asarray(density, dtype=float) * disc * tip_speed**2)
    )


def rotor_torque_coefficient(
    torque: ArrayLike, density: ArrayLike, rotation_speed: ArrayLike, radius: ArrayLike
) -> FloatArray:
    """CQ = Q / (rho pi R^2 (Omega R)^2 R), equal to the rotor's power coefficient.

    Arguments: torque - Q, N*m; density - kg/m^3; rotation_speed - Omega, rad/s; radius - R, m; all
    broadcast. Source: Johnson, Helicopter Theory (1980), chapter 2.

    >>> power, speed = 100.0, 2 * np.pi * 50.0
    >>> round(float(rotor_torque_coefficient(power / speed, 1.225, speed, 0.2)) * np.pi**4 / 4, 4)
    0.0638
    """
    return np.asarray(
        rotor_thrust_coefficient(torque, density, rotation_speed, radius) / np.asarray(radius, dtype=float)
    )


def ideal_induced_velocity(
    thrust: ArrayLike, axial_velocity: ArrayLike, density: ArrayLike, radius: ArrayLike
) -> FloatArray:
    """Least induced velocity (m/s) of a disc: v = -V/2 + sqrt(V^2/4 + T / (2 rho pi R^2)).

    Arguments: thrust - T, N, at least 0; axial_velocity - V, climb, m/s, at least 0; density - kg/m^3;
    radius - R, m; all broadcast. Source: Johnson, Helicopter Theory (1980), chapter 3.

    >>> round(float(ideal_induced_velocity(10.0, 0.0, 1.225, 0.2)), 3)
    5.699
    """
    half = 0.5 * np.asarray(axial_velocity, dtype=float)
    disc = np.pi * np.asarray(radius, dtype=float) ** 2
    loading = np.asarray(thrust, dtype=float) / (2.0 * np.asarray(density, dtype=float) * disc)
    # the same root written without the difference of two near numbers
    return np.asarray(loading / np.maximum(np.sqrt(half**2 + loading) + half, TINY))


def figure_of_merit(thrust: ArrayLike, power: ArrayLike, density: ArrayLike, radius: ArrayLike) -> FloatArray:
    """Least power a disc could hover with over the power it takes: FM = T v / P.

    Arguments: thrust - T, N, at least 0; power - P, W; density - kg/m^3; radius - R, m; all broadcast.
    v is `ideal_induced_velocity` at V = 0. Source: Johnson, Helicopter Theory (1980), chapter 2.

    >>> round(float(figure_of_merit(10.0, 100.0, 1.225, 0.2)), 4)
    0.5699
    """
    lift = np.asarray(thrust, dtype=float)
    return np.asarray(
        lift * ideal_induced_velocity(lift, 0.0, density, radius) / np.asarray(power, dtype=float)
    )
