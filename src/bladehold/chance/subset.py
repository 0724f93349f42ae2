"""Probability of a rare failure level by level: no design point is needed, and a bent limit does no harm."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray
from scipy.stats import t as student

from bladehold.chance.design_point import LimitState
from bladehold.chance.estimate import LEVEL, Estimate

FloatArray = NDArray[np.float64]

SHARE = 0.1  # of the points of a level that begin the next
KEPT = 0.8  # correlation of a point with the one tried next
MOST_LEVELS = 19  # 1e-19: what a design point at its greatest distance would mean
RUNS = 6  # apart from each other, whose scatter gives the bounds


def subset(limit_state: LimitState, dimensions: int, samples: int = 1_000, seed: int = 1) -> Estimate:
    """Return the probability of failure as a product of conditional ones.

    P = prod P(g < b_k | g < b_(k-1)), each level b_k met by SHARE of the points of the one before. From
    those that met it chains go on: v = KEPT u + sqrt(1 - KEPT^2) n, n standard normal, where g(v) <= b_k.
    RUNS runs apart from each other; the bounds are those of the mean of their logarithms.
    Arguments: limit_state - g [N] of [N, D]; dimensions - D; samples - a level and run; seed. Returns
    Estimate, with probability 0 where no run comes to failure within MOST_LEVELS.
    Validity: the way to failure must not lead uphill; what jumps is found by random draws only.
    Source: Au and Beck, Probabilistic Engineering Mechanics 16 (2001) 263; chains of Papaioannou, Betz,
    Zwirglmaier and Straub, Probabilistic Engineering Mechanics 41 (2015) 89.

    >>> found = subset(lambda u: 4.0 - u[:, 0], 3)
    >>> found.low < 3.16712e-5 < found.high
    True
    """
    source = np.random.default_rng([seed, dimensions])
    u = source.standard_normal((RUNS, samples, dimensions))
    value = _values(limit_state, u)
    reached, begin = np.ones(RUNS), max(int(SHARE * samples), 1)
    going, failures, asked = np.arange(RUNS), 0, value.size
    ended = np.zeros(RUNS)
    for _ in range(MOST_LEVELS):
        level = np.maximum(np.partition(value, begin - 1, axis=-1)[:, begin - 1], 0.0)
        there = level <= 0.0
        failing = np.count_nonzero(value < 0.0, axis=-1)
        ended[going[there]] = reached[going[there]] * failing[there] / samples
        failures += int(failing[there].sum())
        u, value, level, going = u[~there], value[~there], level[~there], going[~there]
        if going.size == 0:
            break
        met = np.count_nonzero(value <= level[:, np.newaxis], axis=-1)
        reached[going] *= met / samples
        # Any of those that met it: the least ones alone would not stand for a level that many share.
        drawn = np.where(value <= level[:, np.newaxis], source.random(value.shape), np.inf)
        first = np.argsort(drawn, axis=-1, kind="stable")[:, :begin]
        u = np.take_along_axis(u, first[..., np.newaxis], axis=1)
        value = np.take_along_axis(value, first, axis=1)
        u, value, tried = _chains(limit_state, source, u, value, level, -(-samples // begin))
        u, value, asked = u[:, :samples], value[:, :samples], asked + tried
    return _of_runs(ended, asked, failures)


def _values(limit_state: LimitState, u: FloatArray) -> FloatArray:
    """g of points [R, N, D]: [R, N]."""
    return np.asarray(limit_state(u.reshape(-1, u.shape[-1])), dtype=float).reshape(u.shape[:-1])


def _chains(
    limit_state: LimitState,
    source: np.random.Generator,
    u: FloatArray,
    value: FloatArray,
    level: FloatArray,
    length: int,
) -> tuple[FloatArray, FloatArray, int]:
    """Points [R, N, D] below a level, g of them, and how many were tried, from those that begin [R, B, D]."""
    points, values = [u], [value]
    for _ in range(length - 1):
        ahead = KEPT * u + math.sqrt(1.0 - KEPT**2) * source.standard_normal(u.shape)
        found = _values(limit_state, ahead)
        taken = found <= level[:, np.newaxis]
        u, value = np.where(taken[..., np.newaxis], ahead, u), np.where(taken, found, value)
        points.append(u)
        values.append(value)
    return np.concatenate(points, axis=1), np.concatenate(values, axis=1), (length - 1) * value.size


def _of_runs(ended: FloatArray, asked: int, failures: int) -> Estimate:
    """The mean of the runs; those that came to no failure count with the least that could be found."""
    if not ended.any():
        return Estimate(0.0, 0.0, SHARE**MOST_LEVELS, asked, 0, METHOD)
    mean, logs = float(ended.mean()), np.log(np.maximum(ended, SHARE**MOST_LEVELS))
    error = float(logs.std(ddof=1)) / math.sqrt(ended.size)
    spread = float(student.ppf(0.5 + LEVEL / 2.0, ended.size - 1)) * error
    low, high = math.exp(logs.mean() - spread), math.exp(logs.mean() + spread)
    return Estimate(mean, min(low, mean), min(max(high, mean), 1.0), asked, failures, METHOD)


METHOD = "subset sampling"
