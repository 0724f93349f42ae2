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
from bladehold.rotor.tilted import TILTED_ADVANCE_RANGE, TiltedSolution, hub_sums
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


def sharp_gust(solution: Solution, gust: ArrayLike, polar: Polar, along: ArrayLike = 0.0) -> Solution:
    """The rotor right after a gust has met it, speed of rotation and induced velocities held.

    Of every element the velocity through the disc becomes w less, that in the plane of turning u sin(psi)
    more; angle of attack and speed follow, and lift and drag change by what the polar says between the two.
    Reynolds and Mach number stay.

    Arguments: solution - before the gust, [...]; gust - w, upward through the disc positive, m/s; polar - of
    the blade's section; along - u, along the disc, the way the wind blows already, m/s; both broadcast with
    [...] without widening it.
    Returns the solution with its loads and sums, its axial velocity less w, its edge velocity more by u;
    ranges left before and by the gust are in `breaches`, those of momentum theory are not asked again.
    Errors: ValueError for a gust along the disc of a solution without azimuths.
    Range: GUST_STALL_RANGE, TILTED_ADVANCE_RANGE. Source: blade elements at held inflow, derived above; e.g.
    Johnson, Helicopter Theory (1980), chapter 10, for the linear form.
    """
    upward, edgewise = (
        np.broadcast_to(np.asarray(value, dtype=float), solution.rotation_speed.shape)
        for value in (gust, along)
    )
    along_disc, phi = _stream(solution)
    through = along_disc * np.tan(phi)
    less, more = upward[..., np.newaxis], np.zeros(1)
    changed: dict[str, Any] = {}
    if isinstance(solution, TiltedSolution):
        less = less[..., np.newaxis]
        more = edgewise[..., np.newaxis, np.newaxis] * np.sin(solution.azimuth)[:, np.newaxis]
        changed["edge_velocity"] = solution.edge_velocity + edgewise
        tip = solution.rotation_speed * solution.geometry.radius
        changed["advance_ratio"] = changed["edge_velocity"] / np.maximum(tip, 1e-30)
    elif np.any(edgewise):
        raise ValueError("a gust along the disc changes round the turn: solve the rotor with azimuths first")
    state = polar.at(solution.reynolds, solution.mach)
    before = _element(solution, state, along_disc, through)
    after = _element(solution, state, along_disc + more, through - less)
    normal = solution.normal_load + after[0] - before[0]
    tangential = solution.tangential_load + after[1] - before[1]
    alpha = after[2]
    blade_speed = 0.75 * solution.rotation_speed * solution.geometry.radius
    told = [GUST_STALL_RANGE.breach(np.abs(upward) / np.maximum(blade_speed, 1e-30))]
    if np.any(edgewise):
        told.append(TILTED_ADVANCE_RANGE.breach(changed["advance_ratio"]))
    changed |= {
        "axial_velocity": solution.axial_velocity - upward,
        "normal_load": normal,
        "tangential_load": tangential,
        "alpha": alpha,
        "breaches": tuple(dict.fromkeys([*solution.breaches, *(text for text in told if text)])),
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


def round_the_turn(solution: AxialSolution, azimuths: int) -> TiltedSolution:
    """A rotor in axial flow as one whose loads are told round the turn, all alike: for a gust along its disc.

    Arguments: solution; azimuths - number of equal steps of the turn, at least 2. Errors: ValueError for
    fewer. Source: definition; what is told of the rotor in axial flow is kept.
    """
    if azimuths < 2:
        raise ValueError(f"azimuths must be at least 2, got {azimuths}")
    shape, stations = solution.rotation_speed.shape, solution.geometry.r.size

    def over(values: NDArray[Any]) -> NDArray[Any]:
        return np.broadcast_to(values[..., np.newaxis, :], (*shape, azimuths, stations))

    azimuth = 2.0 * np.pi * np.arange(azimuths) / azimuths
    normal, tangential = over(solution.normal_load), over(solution.tangential_load)
    none = np.zeros(shape)
    rotor: dict[str, Any] = hub_sums(solution.geometry, solution.blades, 1, azimuth, normal, tangential)
    same = (
        "geometry", "blades", "rotation_speed", "axial_velocity", "density", "induced_velocity",
        "swirl_velocity", "turbulent", "power", "tip_mach", "vortex_ring", "breaches",
    )  # fmt: skip
    repeated = ("alpha", "reynolds", "mach", "outside_polar")
    kept: dict[str, Any] = {name: getattr(solution, name) for name in same}
    kept |= {name: over(getattr(solution, name)) for name in repeated}
    return TiltedSolution(
        spin=1,
        azimuth=azimuth,
        edge_velocity=none,
        normal_load=normal,
        tangential_load=tangential,
        reverse_flow=np.zeros((*shape, azimuths, stations), dtype=bool),
        unbalanced=solution.unbracketed,
        skew_cosine=none,
        skew_sine=none,
        advance_ratio=none,
        reverse_share=none,
        stalled_share=none,
        **kept,
        **rotor,
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
