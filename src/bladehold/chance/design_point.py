"""Where failure is likeliest: the design points of a limit state, sought from many starts at once."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr
from scipy.stats import qmc

FloatArray = NDArray[np.float64]

LimitState = Callable[[FloatArray], FloatArray]
"""g of points in standard normal space [N, D]: [N], negative where something fails."""

MOST_STEPS = 40
STARTS = 16
STEP = 1e-4  # of the differences that slopes are taken with
TOLERANCE = 1e-4  # on the distance moved, and on g over its slope
NEAR = 0.05  # standard deviations from the limit state within which a point that found no rest still counts
SHARES = np.array([1.0, 0.5, 0.25, 0.1, 0.03])  # of a full step, tried together
APART = 0.3  # distance from which two points are two
FURTHER = 2.0  # a point that much farther than the nearest adds nothing worth a sample
GREATEST_DISTANCE = 9.0  # Phi(-9) = 1e-19: as good as never


@dataclass(frozen=True, eq=False)
class DesignPoint:
    """A point of the limit state nearest to the middle: u [D]; distance - beta, negative where the middle
    itself fails; shares - alpha^2, what each variable adds to the scatter there, [D], sum 1; settled - False
    where the search ended on the limit state but, on a kink of it, not at rest.
    """

    u: FloatArray
    distance: float
    shares: FloatArray
    settled: bool

    @property
    def probability(self) -> float:
        """Phi(-beta): of failure, were the limit state flat."""
        return float(ndtr(-self.distance))


@dataclass(frozen=True, eq=False)
class DesignPoints:
    """All that were found, the nearest first; none where no start came upon the limit state.

    evaluations - of the limit state that the search took.
    """

    points: tuple[DesignPoint, ...]
    evaluations: int


def design_points(limit_state: LimitState, dimensions: int, seed: int = 1) -> DesignPoints:
    """Find the points where the limit state comes nearest to the middle of standard normal space.

    The iteration of Hasofer, Lind, Rackwitz and Fiessler, u+ = (grad g . u - g) grad g / |grad g|^2, with the
    step of the least merit |u|^2 / 2 + c |g| among a few shares, from the middle and from STARTS - 1 points
    spread round it, all at once. One start finds one point; a limit state of several branches has several.
    Arguments: limit_state; dimensions - D; seed - of the starts. Returns DesignPoints. Errors: ValueError
    where the limit state gives no number.
    Source: Rackwitz and Fiessler, Computers and Structures 9 (1978) 489; merit of Zhang and Der Kiureghian,
    Reliability and Optimization of Structural Systems (1995).

    >>> found = design_points(lambda u: 7.0 + u[:, 0] - 1.0 - u[:, 1], 2)   # N(7, 1) against N(1, 1)
    >>> round(found.points[0].distance, 4), found.points[0].shares.round(3).tolist()
    (4.2426, [0.5, 0.5])
    """
    u, count = _starts(dimensions, seed), 0
    middle = float(limit_state(np.zeros((1, dimensions)))[0])
    moving = np.ones(len(u), dtype=bool)
    penalty = np.zeros(len(u))
    arrived, on_it = np.zeros((2, len(u)), dtype=bool)
    gradient = np.zeros_like(u)
    for _ in range(MOST_STEPS):
        at = np.flatnonzero(moving)
        if at.size == 0:
            break
        value, slope = _with_slope(limit_state, u[at])
        gradient[at] = slope
        square = np.sum(slope**2, axis=-1)
        flat = square < 1e-24
        square = np.where(flat, 1.0, square)
        aim = ((np.sum(slope * u[at], axis=-1) - value) / square)[:, np.newaxis] * slope
        size = np.linalg.norm(aim, axis=-1, keepdims=True)
        aim *= np.minimum(1.0, GREATEST_DISTANCE / np.maximum(size, 1e-12))
        ahead = aim - u[at]
        close = np.abs(value) <= TOLERANCE * np.sqrt(square)
        on_it[at] = np.abs(value) <= NEAR * np.sqrt(square)
        there = close & (np.linalg.norm(ahead, axis=-1) <= TOLERANCE * np.maximum(size[:, 0], 1.0)) & ~flat
        arrived[at[there]] = True
        far = 2.0 * np.linalg.norm(u[at], axis=-1) / np.sqrt(square) + 0.1 / np.sqrt(square)
        penalty[at] = np.maximum(penalty[at], far)
        tried = u[at, np.newaxis] + SHARES[:, np.newaxis] * ahead[:, np.newaxis]
        found = limit_state(tried.reshape(-1, dimensions)).reshape(at.size, SHARES.size)
        merit = 0.5 * np.sum(tried**2, axis=-1) + penalty[at, np.newaxis] * np.abs(found)
        u[at] = np.where(there[:, np.newaxis], u[at], tried[np.arange(at.size), merit.argmin(axis=-1)])
        moving[at[there | flat]] = False
        count += at.size * (2 * dimensions + 1 + SHARES.size)
    reached = arrived | on_it
    return DesignPoints(_different(u[reached], gradient[reached], arrived[reached], middle), count + 1)


def _starts(dimensions: int, seed: int) -> FloatArray:
    """The middle, and directions spread evenly at a distance of 2."""
    with np.errstate(all="ignore"):
        points = qmc.MultivariateNormalQMC(np.zeros(dimensions), rng=np.random.default_rng(seed)).random(
            STARTS
        )
    length = np.linalg.norm(points, axis=-1, keepdims=True)
    starts = 2.0 * points / np.maximum(length, 1e-9)
    starts[0] = 0.0
    return np.asarray(starts)


def _with_slope(limit_state: LimitState, u: FloatArray) -> tuple[FloatArray, FloatArray]:
    """g at points [M, D] and its slopes by central differences [M, D], asked in one call."""
    dimensions = u.shape[-1]
    beside = STEP * np.eye(dimensions)
    every = np.concatenate(
        [u[:, np.newaxis], u[:, np.newaxis] + beside, u[:, np.newaxis] - beside], axis=1
    ).reshape(-1, dimensions)
    values = np.asarray(limit_state(every), dtype=float)
    if not np.isfinite(values).all():
        raise ValueError("the limit state gives no number at some points")
    table = values.reshape(len(u), -1)
    ahead, behind = table[:, 1 : dimensions + 1], table[:, dimensions + 1 :]
    return table[:, 0], (ahead - behind) / (2.0 * STEP)


def _different(
    u: FloatArray, gradient: FloatArray, settled: NDArray[np.bool_], middle: float
) -> tuple[DesignPoint, ...]:
    """Each point once, nearest first, those left out that are much farther than the nearest."""
    kept: list[DesignPoint] = []
    length = np.linalg.norm(u, axis=-1)
    for at in np.argsort(length, kind="stable"):
        if length[at] >= GREATEST_DISTANCE - 0.01 or (kept and length[at] > abs(kept[0].distance) + FURTHER):
            continue
        if any(np.linalg.norm(u[at] - one.u) < APART for one in kept):
            continue
        steep = gradient[at] ** 2
        distance = float(length[at] if middle > 0.0 else -length[at])
        kept.append(DesignPoint(u[at], distance, steep / steep.sum(), bool(settled[at])))
    return tuple(kept)
