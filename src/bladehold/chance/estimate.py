"""A probability with the bounds that its samples allow."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import betaincinv, ndtri

FloatArray = NDArray[np.float64]

LEVEL = 0.95  # of the bounds, both sides together


@dataclass(frozen=True)
class Estimate:
    """A probability found by sampling: low, high - its bounds at LEVEL; samples - that it rests on;
    failures - how many of them failed; method - in a word.
    """

    probability: float
    low: float
    high: float
    samples: int
    failures: int
    method: str


def counted(failures: int, samples: int) -> Estimate:
    """Return the share of failures among independent samples with its exact bounds.

    Arguments: failures - of samples; samples - at least 1. With no failure the lower bound is 0 and the upper
    one is 1 - (alpha/2)^(1/n), about 3.7/n at 95 %. Source: Clopper and Pearson, Biometrika 26 (1934) 404.

    >>> counted(0, 1000).high.__round__(6)
    0.003682
    """
    tail = (1.0 - LEVEL) / 2.0
    low = float(betaincinv(failures, samples - failures + 1, tail)) if failures else 0.0
    high = float(betaincinv(failures + 1, samples - failures, 1.0 - tail)) if failures < samples else 1.0
    return Estimate(failures / samples, low, high, samples, failures, "Monte Carlo")


def weighed(weights: FloatArray) -> Estimate:
    """Return the mean of weights that are 0 where nothing fails, with bounds by its standard error.

    The bounds are those of a lognormal mean, which cannot become negative. Arguments: weights - [N]. Source:
    importance sampling, e.g. Melchers and Beck, Structural Reliability Analysis and Prediction (3rd ed.,
    2018), ch. 3; the lognormal bounds are own choice.

    >>> found = weighed(np.array([0.0, 0.0, 2e-4, 1e-4]))
    >>> round(found.probability, 7), found.low < found.probability < found.high
    (7.5e-05, True)
    """
    count, failures = weights.size, int(np.count_nonzero(weights))
    mean = float(weights.mean())
    if failures == 0:
        return Estimate(0.0, 0.0, 1.0, count, 0, "importance sampling")
    error = float(weights.std(ddof=1)) / math.sqrt(count)
    spread = math.sqrt(math.log1p((error / mean) ** 2)) * float(ndtri(0.5 + LEVEL / 2.0))
    low, high = mean * math.exp(-spread), min(mean * math.exp(spread), 1.0)
    return Estimate(mean, low, high, count, failures, "importance sampling")
