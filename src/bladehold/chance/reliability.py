"""Probability of failure by the way that suits it, and what first order alone would have said."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from bladehold.chance.design_point import DesignPoint, LimitState, design_points
from bladehold.chance.estimate import Estimate
from bladehold.chance.sampling import about_points, at_random
from bladehold.chance.subset import subset

FloatArray = NDArray[np.float64]

ENOUGH = 100  # failures among random draws from which their share is used, within 20 % at 95 %
APART = 0.2  # of the probability: a first-order figure farther off than this is told


@dataclass(frozen=True, eq=False)
class Reliability:
    """estimate - of the probability of failure; points - design points, nearest first, none where failure
    lies beyond reach; first_order - Phi(-beta) of the nearest, None without one; dispute - where the ways to
    sample contradict each other, what each says, else None.
    """

    estimate: Estimate
    points: tuple[DesignPoint, ...]
    first_order: float | None
    dispute: str | None = None

    @property
    def index(self) -> float | None:
        """Distance beta of the nearest design point; None without one."""
        return self.points[0].distance if self.points else None

    @property
    def remark(self) -> str | None:
        """What to say where the nearest design point alone, or a way to sample, misleads; else None."""
        if self.dispute is not None:
            return self.dispute
        sampled, alone = self.estimate.probability, self.first_order
        if alone is None or sampled <= 0.0 or abs(alone / sampled - 1.0) <= APART:
            return None
        least, most = self.estimate.low, self.estimate.high
        if least <= alone <= most:
            return None
        word = "less" if alone < sampled else "more"
        found = (
            f"{len(self.points)} design points were found" if len(self.points) > 1 else "the limit is bent"
        )
        off = abs(alone / sampled - 1.0)
        return (
            f"one design point is not enough: first order gives {alone:.3g}, {off:.0%} {word} than sampling; "
            f"{found}"
        )


def reliability(
    limit_state: LimitState,
    dimensions: int,
    *,
    samples: int = 100_000,
    rare_samples: int = 20_000,
    seed: int = 1,
    centres: Sequence[DesignPoint] | None = None,
) -> Reliability:
    """Return the probability that a limit state falls below 0.

    Drawn at random first; where fewer than ENOUGH of the draws fail, drawn again about all design points, and
    level by level without them. Where these three contradict each other, failure lies where a design point
    does not show it: the draws are the answer then, or where none of them fails the levels, and that is said.
    Arguments: limit_state - g [N] of [N, D]; dimensions - D; samples - at random; rare_samples - about the
    design points; seed; centres - design points that are known already, as those of the parts of a system.
    Returns Reliability; where no draw fails and neither search comes to a failure, the estimate is that of
    the draws: none, up to its bound. Errors: ValueError where the limit state gives no number.

    >>> found = reliability(lambda u: 4.0 - u[:, 0], 2, samples=2_000)
    >>> found.estimate.method, round(found.index or 0.0, 3), found.remark is None
    ('importance sampling', 4.0, True)
    """
    drawn = at_random(limit_state, dimensions, samples, seed)
    points = tuple(centres) if centres is not None else design_points(limit_state, dimensions, seed).points
    points = tuple(sorted(points, key=lambda point: point.distance))
    first = points[0].probability if points else None
    if drawn.failures >= ENOUGH:
        return Reliability(drawn, points, first)
    by_levels = subset(limit_state, dimensions, seed=seed)
    if not points:
        return Reliability(drawn if drawn.failures or not by_levels.failures else by_levels, points, first)
    about = about_points(limit_state, [point.u for point in points], rare_samples, seed)
    return _agreed(about, by_levels, drawn, points)


def _agreed(
    about: Estimate, by_levels: Estimate, drawn: Estimate, points: tuple[DesignPoint, ...]
) -> Reliability:
    """What importance sampling says, unless another way contradicts it beyond the bounds of both.

    Where the limit is bent its bounds are those of both searches.
    """
    first, other = points[0].probability, drawn if drawn.failures else by_levels
    if not about.failures:
        return Reliability(other, points, first)
    if not any(way.low > about.high or way.high < about.low for way in (by_levels, drawn)):
        if abs(first - about.probability) <= APART * about.probability:
            return Reliability(about, points, first)
        # About the points of a bent limit few heavy weights may be missing, which no weight tells.
        low, high = min(about.low, by_levels.low), max(about.high, by_levels.high)
        method = f"{about.method} and {by_levels.method}"
        return Reliability(replace(about, low=low, high=high, method=method), points, first)
    if other is by_levels:
        other = replace(by_levels, low=min(about.low, by_levels.low), high=max(about.high, by_levels.high))
    dispute = (
        f"failure lies where a design point does not show it: about those points {about.probability:.2g}, "
        f"{by_levels.method} {by_levels.probability:.2g}, {drawn.failures} of {drawn.samples:,} random draws"
    )
    return Reliability(other, points, first, dispute)
