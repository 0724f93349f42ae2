"""Motor, controller and battery of a build for the physics, and what its rotor asks of them in hover."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from bladehold.air import Air
from bladehold.power import Controller, Limits, Pack, PowerTrain, motor_from_sheet
from bladehold.rotor import FASTEST_TIP_MACH, solve_axial, solve_for_thrust, wake_downwash
from bladehold.sheet.build import Build
from bladehold.sheet.build_flying import BatteryData, Drive, MotorData
from bladehold.study.loads import speed_ratio
from bladehold.study.shape import blade_of
from bladehold.tables import cell, cell_voltages

FloatArray = NDArray[np.float64]

_POINTS = 24  # of the rotor's curve over speed
_UPPER = 0.8  # of its fastest, that the upper rotor of a pair is taken to: the lower one turns faster
_ROUNDS = 5  # of the speed for a thrust: the factor hardly changes with it


def power_train(build: Build, drive: Drive) -> PowerTrain:
    """Return motor, controller and battery of a build for the physics."""
    motor, battery = drive.motor, drive.battery
    fast = motor.fast_no_load or (None, None)
    return PowerTrain(
        motor=motor_from_sheet(motor.speed_constant, motor.resistance, *motor.no_load, *fast),
        controller=Controller(motor.controller_resistance, motor.switching_loss, motor.wiring_resistance),
        pack=pack_of(battery),
        limits=_limits(motor, battery),
        thermal_resistance=motor.thermal_resistance,
        heat_capacity=motor.heat_capacity,
        other_power=battery.other_power,
    )


def _limits(motor: MotorData, battery: BatteryData) -> Limits:
    return Limits(motor.current_limit, motor.temperature_limit, battery.current_limit)


def pack_of(battery: BatteryData) -> Pack:
    """Return the pack of a battery; a full voltage of the sheet shifts the whole curve of the table."""
    row, curve = cell(battery.chemistry), cell_voltages(battery.chemistry)
    voltage = battery.cells * np.array([point.voltage for point in curve])
    if battery.voltage is not None:
        voltage = voltage + (battery.voltage - voltage[-1])
    return Pack(
        capacity=battery.capacity,
        charge=np.array([point.charge for point in curve]),
        voltage=voltage,
        resistance=battery.resistance,
        empty_rise=row.empty_rise,
        empty_charge=row.empty_charge,
        activation=row.activation,
        slow_share=row.slow_share,
        slow_time=row.slow_time,
        temperature=battery.temperature,
    )


@dataclass(frozen=True, eq=False)
class HoverCurve:
    """A rotor in hover over its speeds. speed - rad/s, thrust_factor, torque_factor - over speed squared,
    [G].
    """

    speed: FloatArray
    thrust_factor: FloatArray
    torque_factor: FloatArray

    @property
    def fastest(self) -> float:
        """Greatest speed of the curve, rad/s."""
        return float(self.speed[-1])

    def thrust_at(self, speed: FloatArray) -> FloatArray:
        """Thrust, N, at speeds, rad/s."""
        return np.asarray(np.interp(speed, self.speed, self.thrust_factor) * np.square(speed))

    def torque_at(self, speed: FloatArray) -> FloatArray:
        """Torque, N*m, at speeds, rad/s."""
        return np.asarray(np.interp(speed, self.speed, self.torque_factor) * np.square(speed))

    def speed_for(self, thrust: FloatArray) -> FloatArray:
        """Speed at which a thrust is given; that of the fastest point beyond it."""
        speed = np.interp(thrust, self.thrust_factor * np.square(self.speed), self.speed)
        for _ in range(_ROUNDS):
            speed = np.sqrt(thrust / np.interp(speed, self.speed, self.thrust_factor))
        return np.asarray(np.minimum(speed, self.fastest))


def hover_curve(build: Build, air: Air) -> HoverCurve:
    """Return a build's rotor in hover over its speeds, up to the fastest tip, in an air.

    Of a coaxial pair the lower one, in the wake of the upper at the same thrust; as much faster at every
    thrust as the loads take it to be (`speed_ratio`), with the torque of the model.
    """
    geometry, polar = blade_of(build)
    fastest = FASTEST_TIP_MACH * float(air.speed_of_sound) / geometry.radius
    model = np.linspace(0.1, 1.0, _POINTS) * fastest
    given: dict[str, Any] = {name: getattr(air, name) for name in ("density", "viscosity", "speed_of_sound")}
    found = solve_axial(geometry, build.propeller.blades, model, 0.0, **given, polar=polar)
    if build.aircraft.layout == "coaxial":
        found = solve_axial(geometry, build.propeller.blades, _UPPER * model, 0.0, **given, polar=polar)
        downwash, _ = wake_downwash(found, build.aircraft.coaxial_spacing, geometry)
        pair = (geometry, build.propeller.blades, found.thrust, 0.0)
        found = solve_for_thrust(*pair, **given, polar=polar, downwash=downwash)
        model = found.rotation_speed
    speed = speed_ratio(build)[0] * model
    square = np.square(speed)
    return HoverCurve(speed, found.thrust / square, found.torque / square)
