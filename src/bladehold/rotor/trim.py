"""The speed at which a rotor gives a wanted thrust."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.rotor.axial import AxialSolution, checked, solve_axial
from bladehold.rotor.coefficients import ideal_induced_velocity
from bladehold.rotor.geometry import BladeGeometry
from bladehold.rotor.momentum import TINY, LossModel
from bladehold.rotor.polar import Polar
from bladehold.rotor.sections import blade_polar
from bladehold.rotor.span import span_weights

FloatArray = NDArray[np.float64]

THRUST_TOLERANCE = 1e-6  # of the thrust wanted
MOST_STEPS = 60
FASTEST_TIP_MACH = 0.9
SMALL_ANGLE = 0.07  # rad, over which the first guess takes the slope of lift
GUESSED_REYNOLDS, GUESSED_MACH = 2e5, 0.2  # the first guess needs a section at some speed


def solve_for_thrust(
    geometry: BladeGeometry,
    blades: int,
    thrust: ArrayLike,
    axial_velocity: ArrayLike,
    *,
    density: ArrayLike,
    viscosity: ArrayLike,
    speed_of_sound: ArrayLike,
    polar: Polar | None = None,
    losses: LossModel | None = None,
    fastest_tip_mach: float = FASTEST_TIP_MACH,
) -> AxialSolution:
    """A rotor in hover or climb at the speed where it gives `thrust`; see `solve_axial`.

    The first speed comes from linear blade-element theory, the next from its law scaled to the thrust
    found, the others from secants of sqrt(thrust), nearly straight in speed, within the narrowest
    bracket so far.
    Arguments: thrust - N, positive, broadcasts with the conditions [...]; fastest_tip_mach - the
    highest tip Mach number allowed; the others as in `solve_axial`.
    Returns the AxialSolution, thrust met to THRUST_TOLERANCE; its rotation_speed is the speed sought.
    Raises ValueError naming the thrust that cannot be reached.
    """
    wanted, climb, rho, viscous, sound = np.broadcast_arrays(
        checked("thrust", thrust),
        checked("axial_velocity", axial_velocity, zero=True),
        checked("density", density),
        checked("viscosity", viscosity),
        checked("speed_of_sound", speed_of_sound),
    )
    section = blade_polar(geometry) if polar is None else polar
    fastest = np.sqrt(np.maximum((fastest_tip_mach * sound) ** 2 - climb**2, 0.0)) / geometry.radius

    def solve(speed: FloatArray, near: AxialSolution | None) -> AxialSolution:
        return solve_axial(
            geometry,
            blades,
            speed,
            climb,
            density=rho,
            viscosity=viscous,
            speed_of_sound=sound,
            polar=section,
            losses=losses,
            near=near,
        )

    slow, quick = np.zeros(wanted.shape), fastest
    speed, advance = _linear_guess(geometry, blades, section, wanted, climb, rho)
    speed = np.minimum(speed, fastest)
    solution = solve(speed, None)
    following = _same_law(speed, solution.thrust, wanted, advance * climb)
    for _ in range(MOST_STEPS):
        error = solution.thrust / wanted - 1.0
        done = np.abs(error) <= THRUST_TOLERANCE
        short = (error < 0.0) & (speed >= fastest) & ~done
        if short.any():
            raise ValueError(_unreachable(wanted, solution.thrust, short, fastest_tip_mach))
        if done.all():
            return solution
        slow, quick = np.where(error < 0.0, speed, slow), np.where(error > 0.0, speed, quick)
        inside = (following > slow) & (following < quick)
        halved = np.where(following >= fastest, fastest, 0.5 * (slow + quick))
        following = np.where(done, speed, np.where(inside, following, halved))
        before, (speed, solution) = (speed, solution), (following, solve(following, solution))
        following = _secant(
            before[0], _signed_root(before[1].thrust), speed, _signed_root(solution.thrust), wanted
        )
    first = int(np.argmax(np.abs(solution.thrust / wanted - 1.0)))
    raise ValueError(
        f"thrust {np.ravel(wanted)[first]:.4g} N is stepped over: the rotor's thrust jumps to "
        f"{np.ravel(solution.thrust)[first]:.4g} N near {np.ravel(speed)[first]:.4g} rad/s"
    )


def _linear_guess(
    geometry: BladeGeometry,
    blades: int,
    section: Polar,
    thrust: FloatArray,
    climb: FloatArray,
    density: FloatArray,
) -> tuple[FloatArray, FloatArray]:
    """Speed (rad/s) by linear blade-element theory, and Omega / V (rad/m) at which thrust vanishes.

    T = rho/2 (I2 Omega^2 - I1 w Omega), w = V + v with the ideal v of the thrust wanted; I2 and I1 are
    the sums of B c r^2 a (theta - alpha_0) and B c r a over the span, a the slope of lift.
    """
    every = np.ones(geometry.r.shape)
    polar = section.at(GUESSED_REYNOLDS * every, GUESSED_MACH * every)
    lift, slope = polar(0.0 * every)[0], (polar(SMALL_ANGLE * every)[0] - polar(0.0 * every)[0]) / SMALL_ANGLE
    area = blades * span_weights(geometry) * geometry.chord
    square = max(float(np.sum(area * geometry.r**2 * (slope * geometry.twist + lift))), TINY)
    single = max(float(np.sum(area * geometry.r * slope)), 0.0)
    wash = single * (climb + ideal_induced_velocity(thrust, climb, density, geometry.radius))
    speed = (wash + np.sqrt(wash**2 + 8.0 * square * thrust / density)) / (2.0 * square)
    return speed, np.asarray(single * speed / np.maximum(square * speed - wash + single * climb, TINY))


def _same_law(speed: FloatArray, thrust: FloatArray, wanted: FloatArray, idle: FloatArray) -> FloatArray:
    """Speed for the thrust wanted by the law T = C (Omega^2 - idle Omega) through one known point."""
    factor = np.maximum(thrust, TINY) / np.maximum(speed * (speed - idle), TINY)
    return np.asarray(0.5 * (idle + np.sqrt(idle**2 + 4.0 * wanted / factor)))


def _secant(
    x: FloatArray, y: FloatArray, x_new: FloatArray, y_new: FloatArray, wanted: FloatArray
) -> FloatArray:
    """Where the line through two points of sqrt(thrust) meets that of the thrust wanted; 0 if nowhere."""
    slope = (y_new - y) / np.where(x_new != x, x_new - x, 1.0)
    step = (np.sqrt(wanted) - y_new) / np.where(slope > 0.0, slope, 1.0)
    return np.where(slope > 0.0, x_new + step, 0.0)


def _signed_root(thrust: FloatArray) -> FloatArray:
    """sqrt(|T|) with the sign of T."""
    return np.asarray(np.sign(thrust) * np.sqrt(np.abs(thrust)))


def _unreachable(wanted: FloatArray, reached: FloatArray, short: NDArray[np.bool_], tip_mach: float) -> str:
    """What to say of the first thrust that cannot be reached."""
    first = int(np.flatnonzero(np.ravel(short))[0])
    return (
        f"thrust {np.ravel(wanted)[first]:.4g} N cannot be reached: the rotor gives "
        f"{np.ravel(reached)[first]:.4g} N at the fastest speed tried (tip Mach number limit {tip_mach:g})"
    )
