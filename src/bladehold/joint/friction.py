"""Friction moment of a clamped annulus: the pivot under its clamp, or a head being turned."""

from __future__ import annotations

from collections.abc import Callable
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from bladehold.joint._arrays import Floats, at_least_zero, larger, positive


def effective_radius_uniform_wear(inner_radius: ArrayLike, outer_radius: ArrayLike) -> Floats:
    """Radius at which friction acts on a face that has run in, R = (ro + ri)/2.

    Arguments (broadcast together):
        inner_radius: ri [m]; outer_radius: ro [m].
    Returns: R [m].
    Errors: ValueError when ri is not positive or ro not above it.
    Source: Bhandari, Design of Machine Elements, ch. 11.
    """
    inner, outer = _radii(inner_radius, outer_radius)
    return (outer + inner) / 2.0


def effective_radius_uniform_pressure(inner_radius: ArrayLike, outer_radius: ArrayLike) -> Floats:
    """Radius at which friction acts on a new face, R = (2/3)(ro^3 - ri^3)/(ro^2 - ri^2).

    Arguments (broadcast together):
        inner_radius: ri [m]; outer_radius: ro [m].
    Returns: R [m].
    Errors: ValueError when ri is not positive or ro not above it.
    Source: Bhandari, Design of Machine Elements, ch. 11.
    """
    inner, outer = _radii(inner_radius, outer_radius)
    return 2.0 / 3.0 * (outer**3 - inner**3) / (outer**2 - inner**2)


EFFECTIVE_RADII: MappingProxyType[str, Callable[[ArrayLike, ArrayLike], Floats]] = MappingProxyType(
    {
        "uniform wear": effective_radius_uniform_wear,
        "uniform pressure": effective_radius_uniform_pressure,
    }
)
"""Named methods, all with the arguments (inner radius, outer radius)."""


def friction_moment(
    friction: ArrayLike, clamp_force: ArrayLike, effective_radius: ArrayLike, faces: ArrayLike = 2
) -> Floats:
    """Moment that friction on clamped faces resists, T = mu F R per face.

    Arguments (broadcast together):
        friction: mu [-]; clamp_force: F through the faces [N]; effective_radius: R [m];
        faces: number of sliding faces, 2 for a lug between two plates, 1 for a single disc [-].
    Returns: moment [N m].
    Errors: ValueError when friction or force is negative, R or faces not positive.
    Source: Bhandari, Design of Machine Elements, ch. 11.
    """
    force = at_least_zero("friction", friction) * at_least_zero("clamp force", clamp_force)
    return force * positive("effective radius", effective_radius) * positive("number of faces", faces)


def uniform_wear_force(inner_pressure: ArrayLike, inner_radius: ArrayLike, outer_radius: ArrayLike) -> Floats:
    """Clamp force at which a run-in face reaches a pressure at its inner edge, 2 pi pa ri (ro - ri).

    Arguments (broadcast together):
        inner_pressure: pa at the inner radius [Pa]; inner_radius: ri [m]; outer_radius: ro [m].
    Returns: force [N].
    Errors: ValueError when a radius is not positive, ro not above ri, or the pressure negative.
    Source: Bhandari, Design of Machine Elements, ch. 11.
    """
    inner, outer = _radii(inner_radius, outer_radius)
    return 2.0 * np.pi * at_least_zero("pressure", inner_pressure) * inner * (outer - inner)


def _radii(inner_radius: ArrayLike, outer_radius: ArrayLike) -> tuple[Floats, Floats]:
    inner, outer = positive("inner radius", inner_radius), positive("outer radius", outer_radius)
    larger("outer radius", outer, "inner radius", inner)
    return inner, outer
