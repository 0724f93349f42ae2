"""From loads along a blade to what arrives at a radius: shears, moments, rotor totals.

All integrals are trapezoids over the stations, with the load zero at the hub radius
and at the tip.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from bladehold.rotor.geometry import BladeGeometry

FloatArray = NDArray[np.float64]


class BladeLoads(Protocol):
    """Air loads on one blade: what the functions below need of a solution."""

    @property
    def geometry(self) -> BladeGeometry:
        """The blade."""

    @property
    def normal_load(self) -> FloatArray:
        """Load along the axis, in the direction of thrust, N/m, [..., S]."""

    @property
    def tangential_load(self) -> FloatArray:
        """Load in the plane of turning, against the turning, N/m, [..., S]."""


@dataclass(frozen=True, eq=False)
class BladeShears:
    """Forces (N) [...] of one blade outboard of a radius: with the thrust, and against the turning."""

    normal: FloatArray
    tangential: FloatArray


@dataclass(frozen=True, eq=False)
class BladeMoments:
    """Moments (N*m) [...] of one blade's air loads about a radius: flap upwards, lead-lag backwards."""

    flap: FloatArray
    lead_lag: FloatArray


def span_weights(geometry: BladeGeometry) -> FloatArray:
    """Weights (m) [S] with which loads (N/m) at the stations sum to a force (N).

    Trapezoid from hub radius to tip with no load at either end.
    """
    nodes = np.concatenate([[geometry.hub_radius], geometry.r, [geometry.radius]])
    return np.asarray(0.5 * (nodes[2:] - nodes[:-2]), dtype=float)


def outboard_weights(geometry: BladeGeometry, radius: float) -> tuple[FloatArray, FloatArray]:
    """Weights [S] for the force (m) and the moment (m^2) of the loads outboard of `radius` (m).

    Trapezoid; the load at `radius` is interpolated between its neighbours. Inboard of the hub radius
    there is no load but the arm grows.
    Raises ValueError where `radius` is not on the blade or inboard of it.
    """
    if not 0.0 <= radius < geometry.radius:
        raise ValueError(f"radius {radius:g} m must lie between 0 and the tip at {geometry.radius:g} m")
    nodes = np.concatenate([[geometry.hub_radius], geometry.r, [geometry.radius]])
    start = max(radius, geometry.hub_radius)
    first = int(np.searchsorted(nodes, start, side="right"))  # first node outboard of the start
    points = np.concatenate([[start], nodes[first:]])
    steps = np.diff(points)
    trapezoid = 0.5 * (np.append(steps, 0.0) + np.insert(steps, 0, 0.0))
    way = (start - nodes[first - 1]) / (nodes[first] - nodes[first - 1])
    force, moment = np.zeros_like(nodes), np.zeros_like(nodes)
    force[first:], moment[first:] = trapezoid[1:], trapezoid[1:] * (points[1:] - radius)
    for weights, at_start in ((force, trapezoid[0]), (moment, trapezoid[0] * (start - radius))):
        weights[first - 1] += (1.0 - way) * at_start
        weights[first] += way * at_start
    return force[1:-1], moment[1:-1]


def blade_shears(solution: BladeLoads, outboard_of: float) -> BladeShears:
    """Forces (N) of one blade's air loads outboard of a radius (m).

    Arguments: solution - anything with a geometry and loads [..., S]; outboard_of - between 0 and tip.
    """
    force, _ = outboard_weights(solution.geometry, outboard_of)
    return BladeShears(solution.normal_load @ force, solution.tangential_load @ force)


def blade_moments(solution: BladeLoads, about_radius: float) -> BladeMoments:
    """Moments (N*m) of one blade's air loads outboard of a radius (m), about that radius.

    Arguments: solution - anything with a geometry and loads [..., S]; about_radius - between 0 and
    tip, for example that of the pivot.
    """
    _, moment = outboard_weights(solution.geometry, about_radius)
    return BladeMoments(solution.normal_load @ moment, solution.tangential_load @ moment)
