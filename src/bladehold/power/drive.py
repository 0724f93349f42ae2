"""From battery to shafts: battery, cables, controllers and motors of all rotors at work together."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.power.battery import Pack, drawn_current, open_voltage, pack_resistance
from bladehold.power.motor import REFERENCE, Motor, MotorState, motor_state
from bladehold.power.thermal import steady_temperature

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]

_CLOSE = 1e-13  # of the bus voltage
_ROUNDS = 60  # of the voltage at the controllers, which settles by a hundredth each


@dataclass(frozen=True)
class Controller:
    """Speed controller with its cables. resistance - of its switches, ohm; switching - share of bus voltage
    times motor current that switching costs; wiring - resistance of the cables to it, ohm.
    """

    resistance: float
    switching: float
    wiring: float

    def __post_init__(self) -> None:
        """Refuse what no controller can have."""
        for name in ("resistance", "switching", "wiring"):
            value = getattr(self, name)
            if not (np.isfinite(value) and value >= 0.0):
                raise ValueError(f"{name} must be at least 0, got {value}")


@dataclass(frozen=True)
class Limits:
    """What must not be passed, infinite where not known: current - of a motor, A; temperature - of a winding,
    K; pack_current - of the battery, A.
    """

    current: float = float("inf")
    temperature: float = float("inf")
    pack_current: float = float("inf")


@dataclass(frozen=True)
class PowerTrain:
    """Everything between battery and shafts. motor, controller - of each rotor, all alike; pack; limits;
    thermal_resistance - winding to air, K/W; heat_capacity - J/K; other_power - drawn besides, W.
    """

    motor: Motor
    controller: Controller
    pack: Pack
    limits: Limits
    thermal_resistance: float
    heat_capacity: float
    other_power: float = 0.0


@dataclass(frozen=True, eq=False)
class DriveState:
    """The power train at work, rotors on the last axis of [..., N].

    motor - state of each; temperature - of its winding, K; throttle - share of the voltage at the controller
    that the motor gets, 1 at full, [..., N]; controller, wiring - losses, W, [..., N]; internal - loss in the
    battery, W, pack_current - A, pack_voltage - at its terminals, V, chemical - power, V at rest times
    current, W, [...]; other - power drawn besides, W. collapsed - more is asked for than the battery can
    give, then the electric side is not a number; saturated, over_current, over_temperature - [..., N];
    over_pack_current - [...].
    """

    motor: MotorState
    temperature: FloatArray
    throttle: FloatArray
    controller: FloatArray
    wiring: FloatArray
    internal: FloatArray
    pack_current: FloatArray
    pack_voltage: FloatArray
    chemical: FloatArray
    other: float
    collapsed: BoolArray
    saturated: BoolArray
    over_current: BoolArray
    over_temperature: BoolArray
    over_pack_current: BoolArray

    @property
    def fits(self) -> BoolArray:
        """Whether nothing is passed that must not be, [...]."""
        rotors = self.saturated | self.over_current | self.over_temperature
        return np.asarray(~(self.collapsed | self.over_pack_current | rotors.any(axis=-1)))


def drive_state(
    train: PowerTrain,
    speed: ArrayLike,
    torque: ArrayLike,
    charge: ArrayLike,
    *,
    air_temperature: ArrayLike,
    slow_voltage: ArrayLike = 0.0,
    temperature: ArrayLike | None = None,
) -> DriveState:
    """What battery, cables, controllers and motors do at given speeds and torques of all rotors.

    A controller gives its motor the share delta of its input voltage Vc and takes the power U I + Re I^2 + s
    Vc I. All are fed from the battery through cables of their own: Vc = Vb - Rw Ic. The battery gives the sum
    and what is drawn besides, Vb = Voc - v - R Ib.
    Arguments: train; speed - rad/s, torque - N*m, of each rotor, [..., N]; charge - of the battery, 0 to 1,
    [...]; air_temperature - K, slow_voltage - already lost in the battery's slow branch, V, broadcasting with
    [...]; temperature - of the windings, K, [..., N], that of steady work where not given.
    Returns DriveState; losses and shaft power add up to the chemical power.
    Source: Kirchhoff's laws; losses of a controller, e.g. Mohan, Power Electronics, chapter 2 (mark: memory).
    """
    omega, load = np.broadcast_arrays(np.asarray(speed, dtype=float), np.asarray(torque, dtype=float))
    air = np.asarray(air_temperature, dtype=float)[..., np.newaxis]
    cold = motor_state(train.motor, omega, load, REFERENCE)
    if temperature is None:
        warm = steady_temperature(cold.copper, cold.iron, train.thermal_resistance, air)
    else:
        warm = np.broadcast_to(np.asarray(temperature, dtype=float), omega.shape)
    # A winding without a steady temperature is over any limit; its losses are told as at the limit.
    limit = train.limits.temperature
    felt = np.where(np.isfinite(warm), warm, limit if np.isfinite(limit) else REFERENCE)
    motor = motor_state(train.motor, omega, load, felt)
    part = train.controller
    switches = part.resistance * np.square(motor.current)
    wanted = motor.voltage * motor.current + switches
    ohm = pack_resistance(train.pack, charge)
    rest = open_voltage(train.pack, charge) - np.asarray(slow_voltage, dtype=float)
    bus, current = _bus(train, wanted, motor.current, rest, ohm)
    inner = bus[..., np.newaxis] - part.wiring * current
    total = current.sum(axis=-1) + train.other_power / bus
    throttle = throttle_of(train, motor.voltage, motor.current, bus, current)
    collapsed = ~np.isfinite(total)
    return DriveState(
        motor=motor,
        temperature=warm,
        throttle=throttle,
        controller=switches + part.switching * inner * np.abs(motor.current),
        wiring=part.wiring * np.square(current),
        internal=np.square(total) * ohm + total * np.asarray(slow_voltage, dtype=float),
        pack_current=total,
        pack_voltage=bus,
        chemical=open_voltage(train.pack, charge) * total,
        other=train.other_power,
        collapsed=collapsed,
        saturated=np.asarray(~(throttle <= 1.0)),
        over_current=motor.current > train.limits.current,
        over_temperature=(warm > train.limits.temperature) | ~np.isfinite(warm),
        over_pack_current=total > train.limits.pack_current,
    )


def controller_demand(
    train: PowerTrain, speed: ArrayLike, torque: ArrayLike
) -> tuple[FloatArray, FloatArray]:
    """Power (W) that motor and switches take, and current (A) of the motor, windings at REFERENCE, [..., N].

    Arguments: train; speed - rad/s, torque - N*m, broadcasting to [..., N]. Source: as `drive_state`.
    """
    motor = motor_state(train.motor, speed, torque, REFERENCE)
    switches = train.controller.resistance * np.square(motor.current)
    return np.asarray(motor.voltage * motor.current + switches), motor.current


def battery_draw(
    train: PowerTrain, wanted: FloatArray, motor_current: FloatArray, rest: FloatArray, ohm: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Voltage (V) at the battery's terminals and its current (A) under all rotors and what is drawn besides.

    Arguments: train; wanted - power of each motor and its switches, W, motor_current - A, [..., N]; rest -
    voltage of the battery without current, V, ohm - its resistance, ohm, [...].
    Returns voltage, [...], current, [...], and that of each controller, [..., N]; not a number where the
    battery collapses. Source: as `drive_state`.
    """
    bus, current = _bus(train, wanted, motor_current, rest, ohm)
    return bus, np.asarray(current.sum(axis=-1) + train.other_power / bus), current


def throttle_of(
    train: PowerTrain, voltage: FloatArray, motor_current: FloatArray, bus: FloatArray, current: FloatArray
) -> FloatArray:
    """Share of the voltage at a controller that its motor and its own switches need; above 1 it is not there.

    Arguments: train; voltage - of the motor, V, motor_current - A, current - of the controller, A, [..., N];
    bus - voltage at the battery's terminals, V, [...]. Source: as `drive_state`.
    """
    part = train.controller
    inner = bus[..., np.newaxis] - part.wiring * current
    return np.asarray((voltage + part.resistance * motor_current) / inner)


def _bus(
    train: PowerTrain, wanted: FloatArray, motor_current: FloatArray, rest: FloatArray, ohm: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Voltage (V) at the battery's terminals and current (A) of each controller.

    The current of a controller is a root of its own, given the bus; the bus follows from their sum, and
    again.
    """
    part = train.controller
    switching = part.switching * np.abs(motor_current)

    def currents(bus: FloatArray) -> FloatArray:
        inner = bus[..., np.newaxis] - part.wiring * switching
        if part.wiring == 0.0:
            return np.asarray(switching + wanted / inner)
        return np.asarray(switching + drawn_current(inner, part.wiring, wanted))

    bus = np.broadcast_to(rest, wanted.shape[:-1]).astype(float)
    for _ in range(_ROUNDS):
        power = currents(bus).sum(axis=-1) * bus + train.other_power
        before, bus = bus, rest - ohm * drawn_current(rest, ohm, power)
        if not np.any(np.abs(bus - before) > _CLOSE * np.abs(bus)):
            break
    return bus, currents(bus)


def thrust_per_power(thrust: ArrayLike, power: ArrayLike) -> FloatArray:
    """Thrust for electric power, g/W, as the trade gives it: grams of force for a watt.

    Arguments, broadcasting: thrust - N; power - W. Source: definition, 1 g of force is 9.80665e-3 N.
    """
    grams = np.asarray(thrust, dtype=float) / 9.80665e-3
    return np.asarray(grams / np.asarray(power, dtype=float))
