"""How one quantity scatters: its distribution, and its value at a standard normal one."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import log_ndtr, ndtr, ndtri

FloatArray = NDArray[np.float64]

KINDS = ("normal", "lognormal", "uniform", "gumbel")
EULER = 0.57721566490153286


@dataclass(frozen=True)
class Marginal:
    """A distribution by its mean and standard deviation, in whatever unit the quantity has.

    kind - "normal"; "lognormal" (positive); "uniform" (within mean +- sqrt(3) deviation); "gumbel" (the
    greatest of many). Errors: ValueError for another kind, a deviation that is not positive, or a lognormal
    mean that is not.
    """

    kind: str
    mean: float
    deviation: float

    def __post_init__(self) -> None:
        if self.kind not in KINDS:
            raise ValueError(f"distribution {self.kind!r}: known are {', '.join(KINDS)}")
        if not (math.isfinite(self.mean) and math.isfinite(self.deviation) and self.deviation > 0.0):
            raise ValueError(f"a standard deviation of {self.deviation!r} about {self.mean!r} is none")
        if self.kind == "lognormal" and self.mean <= 0.0:
            raise ValueError(f"a lognormal quantity is positive; its mean cannot be {self.mean!r}")

    def at(self, u: ArrayLike) -> FloatArray:
        """Return the value x with F(x) = Phi(u): the quantity where a standard normal one is u.

        Source: the isoprobabilistic transformation of one variable, e.g. Ditlevsen and Madsen, Structural
        Reliability Methods (1996), ch. 7; the distributions by their moments, any handbook.

        >>> axial = Marginal("lognormal", 300.0, 30.0)
        >>> round(float(axial.at(0.0)), 4)   # the median, mean / sqrt(1 + cov^2)
        298.5112
        """
        v = np.asarray(u, dtype=float)
        if self.kind == "normal":
            return np.asarray(self.mean + self.deviation * v)
        if self.kind == "lognormal":
            spread = math.sqrt(math.log1p((self.deviation / self.mean) ** 2))
            return np.asarray(self.mean * np.exp(spread * v - 0.5 * spread**2))
        if self.kind == "uniform":
            return np.asarray(self.mean + math.sqrt(3.0) * self.deviation * (2.0 * ndtr(v) - 1.0))
        scale = math.sqrt(6.0) / math.pi * self.deviation
        # ln F = -exp(-(x - mode) / scale)
        return np.asarray(self.mean - EULER * scale - scale * np.log(-log_ndtr(v)))

    def quantile(self, share: ArrayLike) -> FloatArray:
        """Return the value below which a share of all lies, 0 to 1."""
        return self.at(ndtri(np.asarray(share, dtype=float)))
