"""What the rotor does over its speeds: thrust, torque, power and their coefficients, in hover."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.air import GRAVITY, Air, air_at
from bladehold.rotor import (
    FASTEST_TIP_MACH,
    AxialSolution,
    figure_of_merit,
    propeller_power_coefficient,
    propeller_thrust_coefficient,
    solve_axial,
    solve_for_thrust,
)
from bladehold.sheet.build import Build
from bladehold.study.shape import blade_of

FloatArray = NDArray[np.float64]

SPEED_SHARES = (0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.1, 1.2, 1.3, 1.4)  # of the speed that gives the thrust used
NO_CALIBRATION = "propeller.calibration"  # the key under which a build owns up to having none


@dataclass(frozen=True, eq=False)
class Performance:
    """A rotor in hover at N speeds, in the air of the sheet.

    solution - of all speeds, [N]; hover - at the thrust used; air; thrust_coefficient, power_coefficient -
    propeller convention, figure_of_merit, [N]; thrust_per_power - g (of thrust) per W of the shaft, [N];
    breaches - ranges left at each speed, [N]; left_out - how many of the speeds asked for are missing, as
    the tip would be faster than FASTEST_TIP_MACH; measured_over_model - speed measured at the thrust used
    over that of the model, None where it was not measured.
    """

    solution: AxialSolution
    hover: AxialSolution
    air: Air
    thrust_coefficient: FloatArray
    power_coefficient: FloatArray
    figure_of_merit: FloatArray
    thrust_per_power: FloatArray
    breaches: tuple[tuple[str, ...], ...]
    left_out: int
    measured_over_model: float | None


def performance_of(build: Build, speed_shares: ArrayLike = SPEED_SHARES) -> Performance:
    """Return what the rotor of a build does in hover around the speed of the thrust used.

    Arguments: build; speed_shares - [N], speeds over that speed; those with a tip faster than
    FASTEST_TIP_MACH are left out.
    Errors: ValueError from the rotor when the thrust used cannot be reached.
    """
    air = air_at(build.air.altitude, build.air.temperature, build.air.humidity)
    geometry, polar = blade_of(build)
    blades, diameter = build.propeller.blades, build.propeller.diameter
    hover = solve_for_thrust(
        geometry,
        blades,
        build.flying.used_thrust,
        0.0,
        density=air.density,
        viscosity=air.viscosity,
        speed_of_sound=air.speed_of_sound,
        polar=polar,
    )

    def at(speed: ArrayLike) -> AxialSolution:
        return solve_axial(
            geometry,
            blades,
            speed,
            0.0,
            density=air.density,
            viscosity=air.viscosity,
            speed_of_sound=air.speed_of_sound,
            polar=polar,
        )

    asked = np.asarray(speed_shares, dtype=float) * hover.rotation_speed
    speeds = asked[asked * diameter / 2 <= FASTEST_TIP_MACH * air.speed_of_sound]
    solution = at(speeds)
    # The ranges are told for all speeds at once; which speed left them is asked only when one did.
    breaches: tuple[tuple[str, ...], ...] = ((),) * speeds.size
    if solution.breaches:
        breaches = tuple(at(speed).breaches for speed in speeds)
    thrust, power = solution.thrust, solution.power
    measured = build.flying.used_speed
    return Performance(
        solution=solution,
        hover=hover,
        air=air,
        thrust_coefficient=propeller_thrust_coefficient(thrust, air.density, speeds, diameter),
        power_coefficient=propeller_power_coefficient(power, air.density, speeds, diameter),
        figure_of_merit=figure_of_merit(np.maximum(thrust, 0.0), power, air.density, diameter / 2),
        thrust_per_power=1e3 * thrust / GRAVITY / power,
        breaches=breaches,
        left_out=asked.size - speeds.size,
        measured_over_model=None if measured is None else measured / float(hover.rotation_speed),
    )


def calibrated(build: Build) -> bool:
    """Return whether a bench run stands behind the rotor of a build."""
    return all(item.key != NO_CALIBRATION for item in build.assumptions)
