"""A sharp-edged gust: the air changes at once, the rotor's speed and its induced velocities do not.

The loads right after the edge are those of the old speed of rotation and the old inflow with the gust added
to the stream. They are the most that the gust can do: inflow, speed and autopilot answer afterwards.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any, TypeVar

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.rotor.axial import AxialSolution
from bladehold.rotor.polar import Polar
from bladehold.rotor.span import span_weights
from bladehold.rotor.tilted import TiltedSolution, hub_sums
from bladehold.validity import Range

FloatArray = NDArray[np.float64]
Solution = TypeVar("Solution", bound=AxialSolution | TiltedSolution)

GUST_STALL_RANGE = Range(
    "gust over blade speed at three quarters of the radius",
    0.0,
    0.15,
    "",
    "sections pass through stall faster than steady polars tell, and may lift more for a moment",
    "own limit, 9 degrees",
)


def axial_gust(solution: Solution, gust: ArrayLike, polar: Polar) -> Solution:
    """The rotor right after air from below has met it, speed of rotation and induced velocities held.

    Of every element the velocity through the disc becomes w less; angle of attack and speed follow, and lift
    and drag change by what the polar says between the two. Reynolds and Mach number stay.

    Arguments: solution - before the gust, [...]; gust - w, upward positive, m/s, broadcasts with [...]
    without widening it; polar - of the blade's section.
    Returns the solution with its loads and sums, its axial velocity less w; ranges left before and by the
    gust are in `breaches`, those of momentum theory are not asked again.
    Range: GUST_STALL_RANGE. Source: blade elements at held inflow, derived above; e.g. Johnson, Helicopter
    Theory (1980), chapter 10, for the linear form.
    """
    upward = np.broadcast_to(np.asarray(gust, dtype=float), solution.rotation_speed.shape)
    turning = isinstance(solution, TiltedSolution)
    along_disc, phi = _stream(solution)
    through = along_disc * np.tan(phi)
    less = upward[..., np.newaxis, np.newaxis] if turning else upward[..., np.newaxis]
    state = polar.at(solution.reynolds, solution.mach)
    before, after = (_element(solution, state, along_disc, value) for value in (through, through - less))
    normal = solution.normal_load + after[0] - before[0]
    tangential = solution.tangential_load + after[1] - before[1]
    alpha = after[2]
    blade_speed = 0.75 * solution.rotation_speed * solution.geometry.radius
    told = GUST_STALL_RANGE.breach(np.abs(upward) / np.maximum(blade_speed, 1e-30))
    changed: dict[str, Any] = {
        "axial_velocity": solution.axial_velocity - upward,
        "normal_load": normal,
        "tangential_load": tangential,
        "alpha": alpha,
        "breaches": (*solution.breaches, *([told] if told else [])),
    }
    if isinstance(solution, TiltedSolution):
        sums: dict[str, Any] = hub_sums(
            solution.geometry, solution.blades, solution.spin, solution.azimuth, normal, tangential
        )
        return replace(solution, **changed, **sums, power=sums["torque"] * solution.rotation_speed)
    weights = span_weights(solution.geometry)
    torque = solution.blades * (tangential @ (weights * solution.geometry.r))
    return replace(
        solution,
        **changed,
        inflow_angle=solution.geometry.twist - alpha,
        thrust=solution.blades * (normal @ weights),
        torque=torque,
        power=torque * solution.rotation_speed,
    )


def taken(solution: Solution, columns: NDArray[np.intp], leading: int) -> Solution:
    """Some of a solution's conditions, which stand on the axis after `leading` others.

    Arguments: solution; columns - their places; leading - number of axes before theirs.
    Source: own, a choice.
    """
    conditions = solution.rotation_speed.shape
    found: dict[str, Any] = {
        name: np.take(value, columns, axis=leading)
        for name, value in vars(solution).items()
        if isinstance(value, np.ndarray)
        and name != "azimuth"
        and value.shape[: len(conditions)] == conditions
    }
    return replace(solution, **found)


def _stream(solution: AxialSolution | TiltedSolution) -> tuple[FloatArray, FloatArray]:
    """Velocity in the plane of turning (m/s) at the elements, and inflow angle (rad)."""
    omega = solution.rotation_speed[..., np.newaxis]
    blade = omega * solution.geometry.r - solution.swirl_velocity
    if isinstance(solution, AxialSolution):
        return blade, solution.inflow_angle
    edge = solution.edge_velocity[..., np.newaxis, np.newaxis] * np.sin(solution.azimuth)[:, np.newaxis]
    return blade[..., np.newaxis, :] + edge, solution.geometry.twist - solution.alpha


def _element(
    solution: AxialSolution | TiltedSolution,
    section: Callable[[FloatArray], tuple[FloatArray, FloatArray]],
    along: FloatArray,
    through: FloatArray,
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Loads with the thrust and against the turning, N/m, and angle of attack, of elements in a stream."""
    alpha = solution.geometry.twist - np.arctan2(through, along)
    lift, drag = section(alpha)
    density = solution.density[..., np.newaxis]
    if isinstance(solution, TiltedSolution):
        density = density[..., np.newaxis]
    scale = 0.5 * density * solution.geometry.chord * np.hypot(through, along)
    return scale * (lift * along - drag * through), scale * (lift * through + drag * along), alpha
