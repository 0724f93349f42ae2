"""One rotor beneath another: the lower works in the contracted, faster wake of the upper.

The upper rotor is taken as if it were alone. Its wake gains speed with the distance z beneath it as that of a
semi-infinite vortex cylinder does on its axis, by g = 1 + z / sqrt(z^2 + R^2), and contracts so that
each annulus carries its flow on. Where the lower rotor meets it, the wake's speed adds to the axial
velocity; outside it does not. Swirl of the upper wake, which a lower rotor turning the other way could
use, is left out.

Sources: vortex cylinder, McCormick, Aerodynamics of V/STOL Flight (1967), chapter 4; blade-element
momentum of a lower rotor with an inner and an outer part, Leishman and Ananthan, American Helicopter
Society 62nd Annual Forum (2006); the contraction annulus by annulus is our own.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.rotor.axial import AxialSolution, solve_axial
from bladehold.rotor.geometry import BladeGeometry
from bladehold.rotor.momentum import TINY, LossModel
from bladehold.rotor.polar import Polar
from bladehold.rotor.span import span_weights
from bladehold.rotor.wake import mean_induced_velocity, through_flow
from bladehold.validity import Range

FloatArray = NDArray[np.float64]

SPACING_RANGE = Range(
    "rotor spacing over radius",
    0.1,
    None,
    "",
    "the lower rotor acts back on the upper one, which is left out; the pair needs more power",
    "own limit",
)


@dataclass(frozen=True, eq=False)
class CoaxialSolution:
    """Two rotors on one axis, turning against each other. [...] are the conditions.

    upper, lower - each rotor; downwash - of the upper wake at the lower rotor's stations, m/s, [..., S];
    wake_radius - of the upper wake there, m; thrust - of both, N; torque - that is left over, upper less
    lower, N*m; power - of both, W; induced_power - of both, W; induced_power_factor - over that of two
    ideal discs apart which share the thrust equally, all [...]; breaches - of both rotors and the
    spacing.
    """

    upper: AxialSolution
    lower: AxialSolution
    downwash: FloatArray
    wake_radius: FloatArray
    thrust: FloatArray
    torque: FloatArray
    power: FloatArray
    induced_power: FloatArray
    induced_power_factor: FloatArray
    breaches: tuple[str, ...]


def wake_growth(distance: ArrayLike, radius: ArrayLike) -> FloatArray:
    """Induced velocity in a wake over that at the disc: g = 1 + z / sqrt(z^2 + R^2).

    Arguments: distance - z beneath the disc, m, at least 0, may be infinite; radius - R, m; both
    broadcast. Source: McCormick, Aerodynamics of V/STOL Flight (1967), chapter 4.

    >>> wake_growth([0.0, 0.75, np.inf], 1.0).tolist()
    [1.0, 1.6, 2.0]
    """
    ratio = np.asarray(distance, dtype=float) / np.asarray(radius, dtype=float)
    return np.asarray(1.0 + np.sin(np.arctan(ratio)))


def wake_downwash(
    upper: AxialSolution, spacing: ArrayLike, lower: BladeGeometry
) -> tuple[FloatArray, FloatArray]:
    """Downwash (m/s) [..., S] of a rotor at the stations of one beneath it, and its wake's radius (m) [...].

    An annulus of area A and mean induced velocity w shrinks to A (V + w) / (V + g w), at most by half and
    at most to the double; its downwash there is g w. Each station of the lower rotor gets the mean over
    its part of the disc, so that nothing jumps as the wake's edge passes a station.
    Arguments: upper - solved alone in hover or climb; spacing - z, m, at least 0, broadcasts with [...];
    lower - blade beneath. Raises ValueError in descent, where the wake does not reach the lower rotor.
    Source: head of this page; continuity.
    """
    if np.any(upper.axial_velocity < 0.0):
        raise ValueError(
            "axial_velocity must be at least 0: in descent the wake does not reach the lower rotor"
        )
    growth = wake_growth(checked_spacing(spacing), upper.geometry.radius)[..., np.newaxis]
    climb, density = upper.axial_velocity[..., np.newaxis], upper.density[..., np.newaxis]
    mean = _annulus_mean(upper, climb, density)
    through, later = climb + mean, climb + growth * mean
    shrink = np.where(
        np.abs(later) > TINY, through / np.where(np.abs(later) > TINY, later, 1.0), 1.0 / growth
    )
    shrink = np.clip(shrink, 0.5, 2.0)
    edges = _square_edges(upper.geometry)
    inner = edges[0] * shrink[..., :1]
    outer = inner + np.cumsum(np.diff(edges) * shrink, axis=-1)
    wake = np.concatenate([inner, outer], axis=-1)[..., np.newaxis, :]
    below = _square_edges(lower)[:, np.newaxis]
    share = np.minimum(below[1:], wake[..., 1:]) - np.maximum(below[:-1], wake[..., :-1])
    share = np.maximum(share, 0.0) / (below[1:] - below[:-1])
    downwash = np.sum(share * (growth * mean)[..., np.newaxis, :], axis=-1)
    return downwash, np.sqrt(wake[..., 0, -1])


def solve_coaxial(
    geometry: tuple[BladeGeometry, BladeGeometry],
    blades: tuple[int, int],
    rotation_speed: tuple[ArrayLike, ArrayLike],
    axial_velocity: ArrayLike,
    spacing: ArrayLike,
    *,
    density: ArrayLike,
    viscosity: ArrayLike,
    speed_of_sound: ArrayLike,
    polar: tuple[Polar | None, Polar | None] = (None, None),
    losses: LossModel | None = None,
) -> CoaxialSolution:
    """Two rotors on one axis in hover or climb, by the theory at the head of this page.

    For a thrust instead of a speed: `solve_for_thrust` for the upper rotor, `wake_downwash`, then
    `solve_for_thrust` with that downwash for the lower one, and `coaxial_pair`.
    Arguments: geometry, blades, rotation_speed, polar - of the upper and of the lower rotor;
    axial_velocity - V, m/s, climb speed, at least 0; spacing - between the discs, m, at least 0; the
    others as in `solve_axial`. Returns a CoaxialSolution. Raises ValueError naming the argument that
    cannot be. Validity: SPACING_RANGE and what `solve_axial` states.
    """
    rotors: list[AxialSolution] = []
    downwash: FloatArray = np.zeros(())
    for k in (0, 1):
        if k == 1:
            downwash, _ = wake_downwash(rotors[0], spacing, geometry[1])
        rotors.append(
            solve_axial(
                geometry[k],
                blades[k],
                rotation_speed[k],
                axial_velocity,
                density=density,
                viscosity=viscosity,
                speed_of_sound=speed_of_sound,
                polar=polar[k],
                losses=losses,
                downwash=downwash,
            )
        )
    return coaxial_pair(rotors[0], rotors[1], spacing)


def coaxial_pair(upper: AxialSolution, lower: AxialSolution, spacing: ArrayLike) -> CoaxialSolution:
    """What two rotors give together, the lower solved with the `wake_downwash` of the upper.

    Arguments: upper, lower - their solutions in the same conditions; spacing - between the discs, m.
    Source: head of this page.
    """
    downwash, radius = wake_downwash(upper, spacing, lower.geometry)
    thrust = upper.thrust + lower.thrust
    induced = _induced_power(upper, np.zeros(())) + _induced_power(lower, downwash)
    apart = mean_induced_velocity(
        0.5 * thrust, upper.axial_velocity, 0.0, upper.density, upper.geometry.radius
    )
    ideal = thrust * apart
    distance = checked_spacing(spacing) / upper.geometry.radius
    told = (SPACING_RANGE.breach(distance), *upper.breaches, *lower.breaches)
    return CoaxialSolution(
        upper=upper,
        lower=lower,
        downwash=downwash,
        wake_radius=radius,
        thrust=thrust,
        torque=upper.torque - lower.torque,
        power=upper.power + lower.power,
        induced_power=induced,
        induced_power_factor=induced / np.where(np.abs(ideal) > TINY, ideal, np.inf),
        breaches=tuple(dict.fromkeys(sentence for sentence in told if sentence)),
    )


def coaxial_momentum_factor(thrust_ratio: ArrayLike = 1.0) -> FloatArray:
    """Induced power of a pair, the lower rotor in the developed wake, over that of two rotors apart.

    With v the upper rotor's induced velocity, T_u = 2 rho A v^2, and s v that through the lower one,
    its wake w v in the end: s w - 2 = T_l / (rho A v^2), s (s w - 2) = s w^2 / 2 - 2, so that with
    t = T_l / (rho A v^2): 2 t s^2 + 4 s = (2 + t)^2 and P = (2 + t s) rho A v^3. The lower disc is taken
    to be passed evenly, half of its area filled with the upper one's air. No lower bound: annuli apart,
    loaded for least power, would need 1.206 with equal thrusts.
    Arguments: thrust_ratio - T_u / T_l, any shape. With 1 the factor is 1.281, with 1.4375, where the two
    torques balance at one speed, 1.281 too; with both rotors in one plane it would be sqrt(2).
    Source: Leishman and Syal, Journal of the American Helicopter Society 53 (2008); solved here.

    >>> coaxial_momentum_factor([1.0, 1.4375]).round(3).tolist()
    [1.281, 1.281]
    """
    share = 2.0 / np.asarray(thrust_ratio, dtype=float)
    through = (np.sqrt(4.0 + 2.0 * share * (2.0 + share) ** 2) - 2.0) / (2.0 * share)
    half = 0.5 * (2.0 + share)
    return np.asarray((2.0 + share * through) / (2.0 * half * np.sqrt(0.5 * half)))


def checked_spacing(spacing: ArrayLike) -> FloatArray:
    """The spacing as an array; ValueError unless at least 0, infinity allowed."""
    distance = np.asarray(spacing, dtype=float)
    if not np.all(distance >= 0.0):
        raise ValueError(f"spacing must be at least 0, got {distance.ravel()[:3]}")
    return distance


def _annulus_mean(rotor: AxialSolution, climb: FloatArray, density: FloatArray) -> FloatArray:
    """Induced velocity [..., S], mean round the annulus, from its load: B n = 4 pi r rho w M."""
    flow = through_flow(rotor.induced_velocity, climb)
    square = rotor.blades * rotor.normal_load / (4.0 * np.pi * density * rotor.geometry.r)
    return np.asarray(square / np.maximum(flow, TINY))


def _induced_power(rotor: AxialSolution, downwash: FloatArray) -> FloatArray:
    """Power (W) [...] that goes into the induced velocity and the downwash at the blades."""
    spent = rotor.normal_load * (rotor.induced_velocity + downwash)
    return np.asarray(rotor.blades * (spent @ span_weights(rotor.geometry)))


def _square_edges(geometry: BladeGeometry) -> FloatArray:
    """Squares of the radii (m^2) [S + 1] between the parts of the disc that the stations stand for."""
    middle = 0.5 * (geometry.r[1:] + geometry.r[:-1])
    return np.asarray(np.square(np.concatenate([[geometry.hub_radius], middle, [geometry.radius]])))
