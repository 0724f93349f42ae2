"""The form of a blade section along its chord: half-thickness and camber, from a formula or an outline."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]

PLACES = 121  # along the chord; closer together at both edges


@dataclass(frozen=True, eq=False)
class SectionForm:
    """A section of chord 1, at PLACES along the chord from leading to trailing edge.

    place - [P], share of the chord behind the leading edge; weight - [P], with which values at the places
    sum to their integral over the chord; half_thickness - [P], over the greatest thickness, so that its
    largest value is 0.5; camber - [P], height of the mean line, over the chord.
    """

    place: FloatArray
    weight: FloatArray
    half_thickness: FloatArray
    camber: FloatArray


def chord_places(count: int = PLACES) -> tuple[FloatArray, FloatArray]:
    """Places along a chord of 1 and their weights, both [count]: x = (1 - cos t) / 2 at the middles of t.

    Round noses, where thickness grows as the root of x, are smooth in t and are integrated well.
    Arguments: count - number of places. Source: midpoint rule with that substitution, own choice.

    >>> place, weight = chord_places(40)
    >>> bool(abs(weight @ np.sqrt(place) - 2 / 3) < 2e-3)
    True
    """
    angle = np.pi * (np.arange(count) + 0.5) / count
    return 0.5 * (1.0 - np.cos(angle)), 0.5 * np.sin(angle) * np.pi / count


def four_digit_form(camber: float = 0.0, camber_place: float = 0.4) -> SectionForm:
    """Form of the NACA four-digit sections, at any thickness.

    Half thickness of a section of thickness t: 5 t (0.2969 sqrt(x) - 0.1260 x - 0.3516 x^2 + 0.2843 x^3 -
    0.1015 x^4). Mean line: m/p^2 (2 p x - x^2) ahead of p, m/(1 - p)^2 (1 - 2 p + 2 p x - x^2) behind.
    Thickness is laid off square to the chord, not to the mean line.
    Arguments: camber - m, of the chord; camber_place - p, of the chord, between 0 and 1.
    Source: Abbott and von Doenhoff, Theory of Wing Sections (1959), section 6.4 (memory).

    >>> round(float(four_digit_form().half_thickness.max()), 3)
    0.5
    """
    if not 0.0 < camber_place < 1.0:
        raise ValueError(f"camber_place {camber_place:g} must lie between 0 and 1")
    x, weight = chord_places()
    half = 5.0 * (0.2969 * np.sqrt(x) + x * (-0.1260 + x * (-0.3516 + x * (0.2843 - 0.1015 * x))))
    ahead = (2.0 * camber_place * x - x**2) / camber_place**2
    behind = (1.0 - 2.0 * camber_place + 2.0 * camber_place * x - x**2) / (1.0 - camber_place) ** 2
    return SectionForm(x, weight, half, camber * np.where(x < camber_place, ahead, behind))


def outline_form(outline: ArrayLike) -> SectionForm:
    """Form of a section known by points round it.

    Each face is interpolated between its points over sqrt(x), straight in which a round nose is.
    Arguments: outline - [M, 2], x and height in any unit, from the trailing edge over one face to the
    leading edge and back along the other; the chord runs from the foremost point to the middle of the first
    and the last.
    Returns a SectionForm. Raises ValueError for fewer than seven points or a face that doubles back.
    Source: definition of thickness and mean line, square to the chord.
    """
    points = np.asarray(outline, dtype=float)
    if points.ndim != 2 or points.shape[-1] != 2 or len(points) < 7:
        raise ValueError("outline must hold at least seven points of two coordinates")
    tail = 0.5 * (points[0] + points[-1])
    nose = int(np.argmax(np.hypot(*(points - tail).T)))
    along = tail - points[nose]
    chord = float(np.hypot(*along))
    direction = along / chord
    local = (points - points[nose]) @ np.array([direction, [-direction[1], direction[0]]]).T / chord
    x, weight = chord_places()
    first, second = (_face(face, x) for face in (local[: nose + 1][::-1], local[nose:]))
    thickness = np.abs(first - second)
    return SectionForm(x, weight, 0.5 * thickness / thickness.max(), 0.5 * (first + second))


def _face(face: FloatArray, x: FloatArray) -> FloatArray:
    """Height of one face, from nose to tail, at x."""
    if np.any(np.diff(face[:, 0]) <= 0.0):
        raise ValueError("outline: each face must run from edge to edge without doubling back")
    return np.asarray(np.interp(np.sqrt(x), np.sqrt(face[:, 0]), face[:, 1]))
