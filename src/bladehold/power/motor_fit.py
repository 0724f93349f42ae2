"""Constants of a motor from rows of a bench run, with what they are worth."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.power.motor import Motor

FloatArray = NDArray[np.float64]

WORST_CONDITION = 1e4
"""Condition number of the scaled rows beyond which they do not tell the constants apart: own choice."""


@dataclass(frozen=True, eq=False)
class MotorFit:
    """A fitted motor. motor; uncertainty - standard one by field name; residual - root mean square of what is
    left, over the root mean square of the voltage or power fitted; rows - how many.
    """

    motor: Motor
    uncertainty: dict[str, float]
    residual: float
    rows: int


def fit_by_voltage(speed: ArrayLike, torque: ArrayLike, voltage: ArrayLike, current: ArrayLike) -> MotorFit:
    """Kv, R and friction from rows with the voltage at the motor's own terminals: full throttle, or no
    controller.

    U = Omega / Kv + R I by least squares; then friction as the mean of I / Kv - Q.
    Arguments: speed - Omega, rad/s; torque - Q, N*m; voltage - U, V; current - I, A; each [rows].
    Errors: ValueError when rows are fewer than 4, do not tell the constants apart, or give a negative Kv,
    resistance or friction.
    Source: model as in `bladehold.power.motor`; least squares, JCGM 100 (GUM) H.3.
    """
    omega, load, volts, amps = _rows(4, speed=speed, torque=torque, voltage=voltage, current=current)
    (back, ohm), spread, residual = _least_squares(np.stack([omega, amps], axis=-1), volts)
    _refuse_negative("resistance", ohm, spread[1], "ohm")
    if back <= 0.0:
        raise ValueError(f"the fitted speed constant is negative, {1.0 / back:.4g}: is the speed right?")
    lost = back * amps - load
    friction, doubt = float(lost.mean()), float(lost.std(ddof=1) / np.sqrt(lost.size))
    _refuse_negative("friction", friction, doubt, "N*m")
    constant = 1.0 / back
    return MotorFit(
        Motor(constant, back, ohm, friction),
        {
            "speed_constant": spread[0] * constant**2,
            "resistance": spread[1],
            "friction": float(np.hypot(doubt, spread[0] * np.abs(amps).mean())),
        },
        residual,
        omega.size,
    )


def fit_by_power(speed: ArrayLike, torque: ArrayLike, power: ArrayLike, speed_constant: float) -> MotorFit:
    """R and friction from electric power, at any throttle: the battery's voltage is not the motor's there.

    P - Q Omega = Q0 Omega + R (Q Kv)^2, with the friction's own share of the current left aside at first and
    then put in, till nothing changes.
    Arguments: speed - Omega, rad/s; torque - Q, N*m; power - P into the motor, W; each [rows]; speed_constant
    - Kv, rad/(s V), of the data sheet. Power measured before the controller puts the controller's loss into
    R.
    Errors: ValueError when rows are fewer than 3, do not tell the constants apart, or give a negative
    resistance or friction. Source: as `fit_by_voltage`; energy balance.
    """
    omega, load, watts = _rows(3, speed=speed, torque=torque, power=power)
    if not (np.isfinite(speed_constant) and speed_constant > 0.0):
        raise ValueError(f"speed_constant must be positive, got {speed_constant}")
    friction, found, spread, residual = 0.0, np.zeros(2), np.zeros(2), 0.0
    for _ in range(50):
        amps = (load + friction) * speed_constant
        found, spread, residual = _least_squares(
            np.stack([omega, np.square(amps)], axis=-1), watts - load * omega
        )
        if abs(found[0] - friction) <= 1e-12 * max(abs(found[0]), 1e-12):
            break
        friction = float(found[0])
    _refuse_negative("resistance", found[1], spread[1], "ohm")
    _refuse_negative("friction", found[0], spread[0], "N*m")
    return MotorFit(
        Motor(speed_constant, 1.0 / speed_constant, found[1], found[0]),
        {"resistance": spread[1], "friction": spread[0]},
        residual,
        omega.size,
    )


def _rows(fewest: int, **columns: ArrayLike) -> list[FloatArray]:
    found = [np.asarray(values, dtype=float) for values in columns.values()]
    lengths = {values.shape for values in found}
    if len(lengths) != 1 or found[0].ndim != 1:
        raise ValueError(f"{', '.join(columns)} must be columns of one length")
    if found[0].size < fewest:
        raise ValueError(f"{found[0].size} rows are too few: {fewest} at least are needed")
    for name, values in zip(columns, found, strict=True):
        if not np.all(np.isfinite(values)):
            raise ValueError(f"{name} holds something that is no number")
    return found


def _least_squares(columns: FloatArray, wanted: FloatArray) -> tuple[FloatArray, FloatArray, float]:
    """Coefficients, their standard uncertainties, and the residual over the root mean square of `wanted`."""
    scale = np.sqrt(np.mean(np.square(columns), axis=0))
    if np.any(scale == 0.0):
        raise ValueError("the rows do not tell the constants apart: a column is nothing but zeros")
    scaled = columns / scale
    condition = float(np.linalg.cond(scaled))
    if condition > WORST_CONDITION:
        raise ValueError(
            f"the rows do not tell the constants apart (condition number {condition:.3g}, at the most "
            f"{WORST_CONDITION:g}): measure at speeds and loads that differ more"
        )
    found, *_ = np.linalg.lstsq(scaled, wanted, rcond=None)
    left = wanted - scaled @ found
    degrees = wanted.size - found.size
    variance = float(left @ left) / max(degrees, 1)
    spread = np.sqrt(variance * np.diag(np.linalg.inv(scaled.T @ scaled))) / scale
    return found / scale, spread, float(np.sqrt(np.mean(left**2) / np.mean(wanted**2)))


def _refuse_negative(name: str, value: float, spread: float, unit: str) -> None:
    if value < 0.0 or not np.isfinite(value):
        raise ValueError(
            f"the fitted {name} is negative, {value:.4g} +- {spread:.2g} {unit}: no motor has that. Is the "
            "voltage that of the battery instead of the motor's, the speed electrical, or a row mistyped?"
        )
