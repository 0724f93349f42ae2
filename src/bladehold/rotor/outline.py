"""The outline of one blade section, as a cut through a mesh gives it: area, chord line, thickness.

An outline is a heap of straight pieces [M, 2, 2] in no order: M pieces, each from a first to a second
point, each with coordinates along two axes of the cut, m. Every piece runs with the material on its left,
so that holes count negative and nothing has to be strung together.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]

END_DEPTH = 0.005  # of the chord: how far inside an edge its middle is taken, so that a blunt edge has one
CUTS = 400  # over the chord, to find the greatest thickness
MOST_TURNS = 30  # of the chord line until it stands still
STANDS_STILL = 1e-9  # rad
UPRIGHT = 1e-12  # of the chord: a piece that spans less along it is met at no place


@dataclass(frozen=True)
class ChordLine:
    """chord, thickness m; angle rad, of the chord line to the first axis, within +-90 deg.

    fullness - where the area's centre lies on the chord line, share of the chord beyond its middle, in the
    direction of the first axis: the leading half of a section holds more area than the trailing half.
    """

    chord: float
    angle: float
    thickness: float
    fullness: float


def outline_moments(pieces: FloatArray) -> tuple[float, FloatArray, FloatArray]:
    """Area (m^2), its centre (m) [2] and its second moments about the centre (m^4) [2, 2].

    Integrals over the area become sums over its edge: with w = x1 y2 - x2 y1 of each piece, area = sum w/2,
    first moment = sum w (p1 + p2)/6, second moment = sum w (p1 p1 + p2 p2 + (p1 + p2)(p1 + p2))/24.
    Arguments: pieces - [M, 2, 2]. Source: Green's theorem, integrated here for straight pieces.

    >>> square = np.array([[[0, 0], [2, 0]], [[2, 0], [2, 2]], [[2, 2], [0, 2]], [[0, 2], [0, 0]]], float)
    >>> area, centre, second = outline_moments(square)
    >>> area, centre.tolist(), second.round(6).tolist()
    (4.0, [1.0, 1.0], [[1.333333, 0.0], [0.0, 1.333333]])
    """
    shift = pieces.mean(axis=(0, 1))  # near numbers are not subtracted far from the origin
    start, end = pieces[:, 0] - shift, pieces[:, 1] - shift
    double = start[:, 0] * end[:, 1] - end[:, 0] * start[:, 1]
    area = 0.5 * float(double.sum())
    middle = start + end
    centre = (double @ middle) / (6.0 * area)

    def weighted(points: FloatArray) -> FloatArray:
        return np.asarray(np.einsum("m,mi,mj->ij", double, points, points))

    second = (weighted(start) + weighted(end) + weighted(middle)) / 24.0
    return area, centre + shift, np.asarray(second - area * np.outer(centre, centre))


def chord_line(pieces: FloatArray) -> ChordLine:
    """Chord line of a section: through the middles of its two edges, as far as the section reaches.

    The edges are the ends of the section along the line, their middles are taken 0.5 % of the chord inside
    the ends; the line is turned until it runs through the middles it finds, beginning with the long
    principal axis of the area. Thickness is the greatest extent square to the line.
    Arguments: pieces - [M, 2, 2]. Source: definition of the chord line; own rule for blunt edges.
    """
    _, centre, second = outline_moments(pieces)
    along = np.linalg.eigh(second)[1][:, 1]
    turn = float(np.arctan2(along[1], along[0]))
    for _ in range(MOST_TURNS):
        line = _turned(pieces, turn)
        low, high = _ends(line)
        depth = END_DEPTH * (high - low)
        (tail, nose), _ = _cut(line, np.array([low + depth, high - depth]))
        step = float(np.arctan2(nose - tail, high - low - 2.0 * depth))
        turn += step
        if abs(step) < STANDS_STILL:
            break
    line = _turned(pieces, turn)
    low, high = _ends(line)
    _, extent = _cut(line, low + (high - low) * (np.arange(CUTS) + 0.5) / CUTS)
    place = centre @ np.array([np.cos(turn), np.sin(turn)])
    fullness = float((place - low) / (high - low) - 0.5)
    angle = (turn + np.pi / 2) % np.pi - np.pi / 2
    backwards = bool(np.cos(turn) < 0.0)
    return ChordLine(high - low, float(angle), float(extent.max()), -fullness if backwards else fullness)


def _turned(pieces: FloatArray, angle: float) -> FloatArray:
    """The outline in axes turned by angle (rad)."""
    cosine, sine = np.cos(angle), np.sin(angle)
    return np.asarray(pieces @ np.array([[cosine, -sine], [sine, cosine]]))


def _ends(pieces: FloatArray) -> tuple[float, float]:
    return float(pieces[..., 0].min()), float(pieces[..., 0].max())


def _cut(pieces: FloatArray, places: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Middle and extent (m) [K] of the section square to the first axis at places [K] on it."""
    start, end = pieces[:, 0], pieces[:, 1]
    low, high = np.minimum(start[:, 0], end[:, 0]), np.maximum(start[:, 0], end[:, 0])
    leaning = high - low > UPRIGHT * np.ptp(pieces[..., 0])  # neighbours of upright pieces meet the cut too
    met = (low <= places[:, np.newaxis]) & (places[:, np.newaxis] <= high) & leaning
    span = np.where(leaning, end[:, 0] - start[:, 0], 1.0)
    way = (places[:, np.newaxis] - start[:, 0]) / span
    height = start[:, 1] + way * (end[:, 1] - start[:, 1])
    top = np.where(met, height, -np.inf).max(axis=-1)
    bottom = np.where(met, height, np.inf).min(axis=-1)
    return 0.5 * (top + bottom), top - bottom
