"""Probability of failure by drawing: at random, or about the design points where failure is rare."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray
from scipy.special import logsumexp

from bladehold.chance.design_point import LimitState
from bladehold.chance.estimate import Estimate, counted, weighed

FloatArray = NDArray[np.float64]

CHUNK = 10_000  # points that are asked for together


def drawn(dimensions: int, samples: int, seed: int) -> Iterator[FloatArray]:
    """Yield standard normal points [n, D], `samples` in all, the same for the same seed."""
    source = np.random.default_rng(seed)
    for first in range(0, samples, CHUNK):
        yield source.standard_normal((min(CHUNK, samples - first), dimensions))


def at_random(limit_state: LimitState, dimensions: int, samples: int, seed: int = 1) -> Estimate:
    """Return the share of failures among points drawn at random.

    Arguments: limit_state - g [N] of [N, D], failing below 0; dimensions - D; samples; seed.
    Source: plain Monte Carlo; bounds of `counted`.

    >>> found = at_random(lambda u: 1.0 - u[:, 0], 1, 20_000, seed=2)
    >>> found.low < 0.1586553 < found.high
    True
    """
    failures = sum(int(np.count_nonzero(limit_state(u) < 0.0)) for u in drawn(dimensions, samples, seed))
    return counted(failures, samples)


def about_points(
    limit_state: LimitState, centres: Sequence[FloatArray], samples: int, seed: int = 1
) -> Estimate:
    """Return the probability of failure from points drawn about several centres.

    The density drawn from is the mean of unit normal ones about the centres, h(u); each failure weighs
    phi(u) / h(u). What lies far from every centre is missed: the centres must be all that matter.
    Arguments: limit_state; centres - [D] each, design points; samples; seed. Returns Estimate.
    Source: Melchers, Structural Safety 6 (1989) 3.

    >>> found = about_points(lambda u: 4.0 - u[:, 0], [np.array([4.0])], 20_000)
    >>> found.low < 3.16712e-5 < found.high
    True
    """
    middle = np.stack(centres)
    source = np.random.default_rng([seed, len(middle)])
    weights = []
    for u in drawn(middle.shape[-1], samples, seed):
        points = u + middle[source.integers(len(middle), size=len(u))]
        # phi(u) / phi(u - c) = exp(|c|^2 / 2 - u c), in logarithms so that nothing overflows.
        powers = points @ middle.T - 0.5 * np.sum(middle**2, axis=-1)
        weight = np.exp(np.log(len(middle)) - logsumexp(powers, axis=-1))
        weights.append(np.where(limit_state(points) < 0.0, weight, 0.0))
    return weighed(np.concatenate(weights))
