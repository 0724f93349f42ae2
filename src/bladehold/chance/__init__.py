"""Probability of failure: how quantities scatter, where failure is likeliest, sampling, shares of scatter."""

from bladehold.chance.design_point import DesignPoint, DesignPoints, LimitState, design_points
from bladehold.chance.estimate import LEVEL, Estimate, counted, weighed
from bladehold.chance.marginal import KINDS, Marginal
from bladehold.chance.reliability import Reliability, reliability
from bladehold.chance.sampling import about_points, at_random, drawn
from bladehold.chance.share import VarianceShares, variance_shares
from bladehold.chance.subset import subset

__all__ = [
    "KINDS",
    "LEVEL",
    "DesignPoint",
    "DesignPoints",
    "Estimate",
    "LimitState",
    "Marginal",
    "Reliability",
    "VarianceShares",
    "about_points",
    "at_random",
    "counted",
    "design_points",
    "drawn",
    "reliability",
    "subset",
    "variance_shares",
    "weighed",
]
