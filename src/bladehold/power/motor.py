"""A brushless motor as a direct-current machine: torque, speed, voltage, current and what is lost between."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]

COPPER = 0.00393
"""Rise of the resistance of copper with temperature at 20 degC, 1/K (IEC 60028, from memory)."""
REFERENCE = 293.15
"""Temperature at which data sheets give a winding's resistance, K: common practice, no source."""


@dataclass(frozen=True, eq=False)
class Motor:
    """A motor; every field a number or an array that broadcasts with the speeds.

    speed_constant - Kv, rad/(s V); torque_constant - Kt, N*m/A; resistance - line to line, at REFERENCE, ohm;
    friction - torque of friction and iron that is there at any speed, N*m; friction_slope - and that grows
    with it, N*m s/rad.
    """

    speed_constant: ArrayLike
    torque_constant: ArrayLike
    resistance: ArrayLike
    friction: ArrayLike
    friction_slope: ArrayLike = 0.0

    def __post_init__(self) -> None:
        """Refuse what no motor can have."""
        for name in ("speed_constant", "torque_constant", "resistance"):
            _checked(name, getattr(self, name), zero=False)
        for name in ("friction", "friction_slope"):
            _checked(name, getattr(self, name), zero=True)


@dataclass(frozen=True, eq=False)
class MotorState:
    """A motor at work. current - A; voltage - at its terminals, V; shaft, iron, copper - power delivered and
    lost, W; all of one shape.
    """

    current: FloatArray
    voltage: FloatArray
    shaft: FloatArray
    iron: FloatArray
    copper: FloatArray

    @property
    def efficiency(self) -> FloatArray:
        """Shaft power over electric power."""
        return np.asarray(self.shaft / (self.shaft + self.iron + self.copper))


def _checked(name: str, value: ArrayLike, *, zero: bool) -> FloatArray:
    array = np.asarray(value, dtype=float)
    if not np.all(np.isfinite(array)) or np.any(array < 0.0) or (not zero and np.any(array == 0.0)):
        wanted = "at least 0" if zero else "positive"
        raise ValueError(f"{name} must be {wanted}, got {array.ravel()[:3]}")
    return array


def motor_from_sheet(
    speed_constant: ArrayLike,
    resistance: ArrayLike,
    no_load_current: ArrayLike,
    no_load_voltage: ArrayLike = 0.0,
    fast_no_load_current: ArrayLike | None = None,
    fast_no_load_voltage: ArrayLike | None = None,
) -> Motor:
    """A motor from its data sheet: Kt = 1 / Kv, friction torque Kt I0.

    With a second no-load point the friction grows straight with the speed between the two, Omega = Kv (U - R
    I0): the model of the second order. With one it is the same at any speed: of the first order.
    Arguments, broadcasting: speed_constant - Kv, rad/(s V); resistance - R, ohm; no_load_current - I0, A;
    no_load_voltage - U at which it was measured, V, asked for only with a second point; fast_no_load_current,
    fast_no_load_voltage - the second point, at a higher voltage.
    Errors: ValueError when a figure is not positive or the second point lies at no higher speed, or would
    make friction negative at rest.
    Source: Drela, First-Order and Second-Order DC Electric Motor Models (2006-2007) (mark: memory).
    """
    kv, ohm = (
        _checked("speed_constant", speed_constant, zero=False),
        _checked("resistance", resistance, zero=False),
    )
    slow = _checked("no_load_current", no_load_current, zero=True)
    if fast_no_load_current is None or fast_no_load_voltage is None:
        return Motor(kv, 1.0 / kv, ohm, slow / kv)
    fast = _checked("fast_no_load_current", fast_no_load_current, zero=True)
    at_slow = kv * (np.asarray(no_load_voltage, dtype=float) - ohm * slow)
    at_fast = kv * (np.asarray(fast_no_load_voltage, dtype=float) - ohm * fast)
    if not np.all(at_fast > at_slow):
        raise ValueError("fast_no_load_voltage must turn the motor faster than no_load_voltage")
    slope = (fast - slow) / kv / (at_fast - at_slow)
    return Motor(kv, 1.0 / kv, ohm, slow / kv - slope * at_slow, slope)


def warm_resistance(resistance: ArrayLike, temperature: ArrayLike) -> FloatArray:
    """Resistance (ohm) of a copper winding at a temperature, R (1 + COPPER (T - REFERENCE)).

    Arguments, broadcasting: resistance - R at REFERENCE, ohm; temperature - T, K.
    Source: definition of the temperature coefficient; IEC 60028 for copper (mark: memory).
    """
    rise = COPPER * (np.asarray(temperature, dtype=float) - REFERENCE)
    return np.asarray(np.asarray(resistance, dtype=float) * (1.0 + rise))


def friction_torque(motor: Motor, speed: ArrayLike) -> FloatArray:
    """Torque (N*m) of friction and iron, Q0 + Q1 Omega.

    Arguments: motor; speed - Omega, rad/s, broadcasting. Source: as `motor_from_sheet`.
    """
    return np.asarray(np.asarray(motor.friction) + np.asarray(motor.friction_slope) * np.asarray(speed))


def motor_state(
    motor: Motor, speed: ArrayLike, torque: ArrayLike, temperature: ArrayLike = REFERENCE
) -> MotorState:
    """Current, voltage and losses at a speed and a shaft torque.

    I = (Q + Qf) / Kt, U = Omega / Kv + R I. What is lost in iron and friction is Qf Omega, in copper R I^2;
    with Kt = 1 / Kv power is neither made nor lost besides.
    Arguments, broadcasting: motor; speed - Omega, rad/s; torque - Q on the shaft, N*m; temperature - of the
    winding, K. Source: as `motor_from_sheet`.

    >>> motor = motor_from_sheet(256 * np.pi / 30, 0.111, 3.0)
    >>> state = motor_state(motor, 5575.68 * np.pi / 30, 0.634126)
    >>> [round(float(value), 2) for value in (state.current, state.voltage, state.shaft)]
    [20.0, 24.0, 370.26]
    """
    omega = _checked("speed", speed, zero=True)
    load = np.asarray(torque, dtype=float)
    lost = friction_torque(motor, omega)
    current = (load + lost) / np.asarray(motor.torque_constant)
    ohm = warm_resistance(motor.resistance, temperature)
    back = omega / np.asarray(motor.speed_constant)
    # The back voltage times the current is what crosses the air gap, whatever Kt is.
    gap = back * current
    return MotorState(
        *np.broadcast_arrays(
            current, back + ohm * current, load * omega, gap - load * omega, ohm * np.square(current)
        )
    )


def speed_at(motor: Motor, voltage: ArrayLike, current: ArrayLike) -> tuple[FloatArray, FloatArray]:
    """Speed (rad/s) and shaft torque (N*m) of a cold motor at a voltage and a current.

    Omega = Kv (U - R I), Q = Kt I - Qf(Omega). Arguments, broadcasting: motor; voltage - U, V; current - I,
    A.
    Source: as `motor_from_sheet`.

    >>> speed, torque = speed_at(motor_from_sheet(100 * np.pi / 30, 0.05, 0.8), 48.0, 20.0)
    >>> round(float(speed * 30 / np.pi), 1), round(float(torque), 5)
    (4700.0, 1.83346)
    """
    amps = np.asarray(current, dtype=float)
    omega = np.asarray(motor.speed_constant) * (
        np.asarray(voltage, dtype=float) - np.asarray(motor.resistance) * amps
    )
    return np.asarray(omega), np.asarray(
        np.asarray(motor.torque_constant) * amps - friction_torque(motor, omega)
    )


def electrical_speed(speed: ArrayLike, pole_pairs: ArrayLike) -> FloatArray:
    """Electrical speed, what a controller counts: that of the shaft times the pairs of poles.

    Arguments, broadcasting: speed - of the shaft, any unit; pole_pairs. Source: definition.
    """
    return np.asarray(np.asarray(speed, dtype=float) * np.asarray(pole_pairs, dtype=float))
