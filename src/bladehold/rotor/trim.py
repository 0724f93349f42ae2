"""The speed at which a rotor gives a wanted thrust."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Protocol, TypeVar

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.rotor.axial import AxialSolution, checked, solve_axial
from bladehold.rotor.blocks import Flow, Found, Rotor, solve_all, started
from bladehold.rotor.geometry import BladeGeometry
from bladehold.rotor.momentum import TINY, LossModel
from bladehold.rotor.polar import Polar
from bladehold.rotor.sections import blade_polar
from bladehold.rotor.skew import DREES, SkewModel
from bladehold.rotor.span import span_weights
from bladehold.rotor.tilted import DEFAULT_AZIMUTHS, TiltedSolution, summary
from bladehold.rotor.wake import mean_induced_velocity

FloatArray = NDArray[np.float64]

SMALL_JUMP = 2e-3
"""Of the thrust: a jump as small, where an annulus changes its state, is less than any polar is true to."""
THRUST_TOLERANCE = 1e-6  # of the thrust wanted
MOST_STEPS = 60
FASTEST_TIP_MACH = 0.9
SMALL_ANGLE = 0.07  # rad, over which the first guess takes the slope of lift
GUESSED_REYNOLDS, GUESSED_MACH = 2e5, 0.2  # the first guess needs a section at some speed
FEW_AZIMUTHS = 12  # on which a tilted rotor's speed is first approached


class _Solved(Protocol):
    """A solution with a thrust, N, [...]."""

    @property
    def thrust(self) -> FloatArray: ...


Solution = TypeVar("Solution", bound=_Solved)


@dataclass(frozen=True, eq=False)
class _Guess:
    """Where to begin: speed - rad/s; idle - speed at which thrust would vanish, rad/s; slope - of
    sqrt(thrust) against speed, N^0.5 s/rad, 0 where not known; fastest - rad/s, at tip_mach; [...].
    """

    speed: FloatArray
    idle: FloatArray
    slope: FloatArray
    fastest: FloatArray
    tip_mach: float


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
    downwash: ArrayLike = 0.0,
    fastest_tip_mach: float = FASTEST_TIP_MACH,
) -> AxialSolution:
    """A rotor in axial flow at the speed where it gives `thrust`; see `solve_axial`.

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
        checked("axial_velocity", axial_velocity, negative=True),
        checked("density", density),
        checked("viscosity", viscosity),
        checked("speed_of_sound", speed_of_sound),
    )
    section = blade_polar(geometry) if polar is None else polar

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
            downwash=downwash,
            near=near,
        )

    guess = _first_guess(geometry, blades, section, wanted, climb, np.zeros(()), rho, sound, fastest_tip_mach)
    return _sought(solve, wanted, guess)[0]


def solve_tilted_for_thrust(
    geometry: BladeGeometry,
    blades: int,
    thrust: ArrayLike,
    axial_velocity: ArrayLike,
    edge_velocity: ArrayLike,
    *,
    density: ArrayLike,
    viscosity: ArrayLike,
    speed_of_sound: ArrayLike,
    polar: Polar | None = None,
    losses: LossModel | None = None,
    skew: SkewModel = DREES,
    azimuths: int = DEFAULT_AZIMUTHS,
    spin: int = 1,
    fastest_tip_mach: float = FASTEST_TIP_MACH,
) -> TiltedSolution:
    """A rotor with wind across its axis at the speed where it gives `thrust`; see `solve_tilted`.

    The speed is sought like that of `solve_for_thrust`, first on a few azimuths, then on all of them.
    Arguments: geometry - of one blade; blades - their number; thrust - N, positive; axial_velocity -
    V, m/s, climb positive; edge_velocity - E, m/s, across the axis, at least 0; density - kg/m^3;
    viscosity - Pa*s; speed_of_sound - m/s; these broadcast to the conditions [...]. polar, losses, skew,
    azimuths, spin - those of `solve_tilted`; fastest_tip_mach - the highest Mach number of the advancing
    tip.
    Returns the TiltedSolution, thrust met to THRUST_TOLERANCE; its rotation_speed is the speed sought.
    Raises ValueError naming the thrust that cannot be reached. Source: own search with the theory of
    `bladehold.rotor.azimuth`.
    """
    wanted, climb, edge, rho, viscous, sound = np.broadcast_arrays(
        checked("thrust", thrust),
        checked("axial_velocity", axial_velocity, negative=True),
        checked("edge_velocity", edge_velocity, zero=True),
        checked("density", density),
        checked("viscosity", viscosity),
        checked("speed_of_sound", speed_of_sound),
    )
    section = blade_polar(geometry) if polar is None else polar
    guess = _first_guess(geometry, blades, section, wanted, climb, edge, rho, sound, fastest_tip_mach)
    columns = {
        "rotation_speed": guess.speed,
        "axial": climb,
        "edge": edge,
        "density": rho,
        "viscosity": viscous,
        "sound": sound,
        "inflow_ratio": np.full(wanted.shape, np.nan),
    }
    flow = Flow(**{name: values.reshape(-1, 1) for name, values in columns.items()})

    def on(count: int) -> _Turning:
        rotor = Rotor(geometry, blades, section, losses or LossModel(), skew, count, spin)
        return _Turning(rotor, flow, wanted.shape)

    whole, draft = on(azimuths), None
    if azimuths > FEW_AZIMUTHS:
        draft, slope = _sought(on(FEW_AZIMUTHS), wanted, guess)
        guess = replace(guess, speed=draft.speed, slope=slope)
    draft, _ = _sought(whole, wanted, guess, draft)
    return summary(whole.rotor, whole.at(draft.speed), draft.found, wanted.shape)


@dataclass(frozen=True, eq=False)
class _Draft:
    """A tilted rotor solved but not summed up: speed rad/s, thrust N, [...], and its elements."""

    speed: FloatArray
    thrust: FloatArray
    found: Found


@dataclass(frozen=True, eq=False)
class _Turning:
    """A tilted rotor at given conditions, to be solved at any speed."""

    rotor: Rotor
    flow: Flow
    shape: tuple[int, ...]

    def at(self, speed: FloatArray) -> Flow:
        """The conditions at a rotation speed (rad/s)."""
        return replace(self.flow, rotation_speed=speed.reshape(-1, 1))

    def __call__(self, speed: FloatArray, near: _Draft | None) -> _Draft:
        """Solve at a rotation speed (rad/s), beginning from a similar solution if there is one."""
        flow = self.at(speed)
        start = None
        if near is not None:
            start = started(flow, near.speed, near.found.induced, near.found.swirl)
        found = solve_all(self.rotor, flow, start)
        mean = found.normal.mean(axis=1) @ span_weights(self.rotor.geometry)
        return _Draft(speed, self.rotor.blades * mean.reshape(self.shape), found)


def _sought(
    solve: Callable[[FloatArray, Solution | None], Solution],
    wanted: FloatArray,
    guess: _Guess,
    near: Solution | None = None,
) -> tuple[Solution, FloatArray]:
    """The solution with the thrust wanted, and the slope of sqrt(thrust) against speed there."""
    slow, quick, fastest = np.zeros(wanted.shape), guess.fastest, guess.fastest
    speed, slope = np.minimum(guess.speed, fastest), guess.slope
    solution = solve(speed, near)
    root, aim = _signed_root(solution.thrust), np.sqrt(wanted)
    by_law = _same_law(speed, solution.thrust, wanted, guess.idle)
    following = np.where(slope > 0.0, speed + (aim - root) / np.where(slope > 0.0, slope, 1.0), by_law)
    for _ in range(MOST_STEPS):
        error = solution.thrust / wanted - 1.0
        done = np.abs(error) <= THRUST_TOLERANCE
        short = (error < 0.0) & (speed >= fastest) & ~done
        if short.any():
            raise ValueError(_unreachable(wanted, solution.thrust, short, guess.tip_mach))
        if done.all():
            return solution, slope
        slow, quick = np.where(error < 0.0, speed, slow), np.where(error > 0.0, speed, quick)
        inside = (following > slow) & (following < quick)
        halved = np.where(following >= fastest, fastest, 0.5 * (slow + quick))
        following = np.where(done, speed, np.where(inside, following, halved))
        step, before = following - speed, root
        speed, solution = following, solve(following, solution)
        root = _signed_root(solution.thrust)
        slope = np.where(step != 0.0, (root - before) / np.where(step != 0.0, step, 1.0), slope)
        rising = slope > 0.0
        following = np.where(rising, speed + (aim - root) / np.where(rising, slope, 1.0), 0.0)
    missed = np.abs(solution.thrust / wanted - 1.0)
    if missed.max() <= SMALL_JUMP:
        return solution, slope
    first = int(np.argmax(missed))
    raise ValueError(
        f"thrust {np.ravel(wanted)[first]:.4g} N is stepped over: the rotor's thrust jumps to "
        f"{np.ravel(solution.thrust)[first]:.4g} N near {np.ravel(speed)[first]:.4g} rad/s"
    )


def _first_guess(
    geometry: BladeGeometry,
    blades: int,
    section: Polar,
    thrust: FloatArray,
    climb: FloatArray,
    edge: FloatArray,
    density: FloatArray,
    sound: FloatArray,
    tip_mach: float,
) -> _Guess:
    """Speed and idle speed by linear blade-element theory.

    T = rho/2 (I2 Omega^2 - I1 w Omega + I0 E^2), w = V + v with the ideal v of the thrust wanted; I2,
    I1, I0 are the sums of B c r^2 a (theta - alpha_0), B c r a and B c a (theta - alpha_0) / 2 over the
    span, a the slope of lift. Thrust is taken to vanish in proportion to V.
    """
    every = np.ones(geometry.r.shape)
    polar = section.at(GUESSED_REYNOLDS * every, GUESSED_MACH * every)
    lift, slope = polar(0.0 * every)[0], (polar(SMALL_ANGLE * every)[0] - polar(0.0 * every)[0]) / SMALL_ANGLE
    area = blades * span_weights(geometry) * geometry.chord
    lifting = area * (slope * geometry.twist + lift)
    square = max(float(np.sum(lifting * geometry.r**2)), TINY)
    single = max(float(np.sum(area * geometry.r * slope)), 0.0)
    wind = 0.5 * max(float(np.sum(lifting)), 0.0) * edge**2
    wash = single * (climb + mean_induced_velocity(thrust, climb, edge, density, geometry.radius))
    needed = np.maximum(2.0 * thrust / density - wind, 0.2 * thrust / density)
    speed = (wash + np.sqrt(wash**2 + 4.0 * square * needed)) / (2.0 * square)
    advance = single * speed / np.maximum(square * speed - wash + single * climb, TINY)
    room = np.maximum((tip_mach * sound) ** 2 - climb**2, 0.0)
    fastest = np.maximum(np.sqrt(room) - edge, 0.0) / geometry.radius
    return _Guess(speed, np.maximum(advance * climb, 0.0), np.zeros(thrust.shape), fastest, tip_mach)


def _same_law(speed: FloatArray, thrust: FloatArray, wanted: FloatArray, idle: FloatArray) -> FloatArray:
    """Speed for the thrust wanted by the law T = C (Omega^2 - idle Omega) through one known point."""
    factor = np.maximum(thrust, TINY) / np.maximum(speed * (speed - idle), TINY)
    return np.asarray(0.5 * (idle + np.sqrt(idle**2 + 4.0 * wanted / factor)))


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
