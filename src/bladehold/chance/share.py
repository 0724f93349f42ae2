"""Which scatter makes a result scatter: shares of variance by first order and in total."""

from __future__ import annotations

import warnings
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.stats import norm, sobol_indices

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class VarianceShares:
    """Sobol indices of each variable, [D]: first - what it does alone, total - with all it acts together
    with; first_bounds, total_bounds - at 95 %, [2, D].
    """

    first: FloatArray
    total: FloatArray
    first_bounds: FloatArray
    total_bounds: FloatArray


def variance_shares(
    function: Callable[[FloatArray], FloatArray], dimensions: int, samples: int = 1024, seed: int = 1
) -> VarianceShares:
    """Return the shares of the variance of a function of independent standard normal variables.

    Arguments: function - [N] of points [N, D]; dimensions - D; samples - a power of two: the function is
    asked for samples (D + 2) points; seed. Errors: ValueError from SciPy where samples is no power of two.
    Source: Saltelli et al., Computer Physics Communications 181 (2010) 259, by scipy.stats.sobol_indices,
    bounds by its bootstrap.
    """
    found = sobol_indices(
        func=lambda points: function(points.T)[np.newaxis],
        n=samples,
        dists=[norm()] * dimensions,
        rng=np.random.default_rng(seed),
    )
    with warnings.catch_warnings(), np.errstate(invalid="ignore"):
        # A variable without any effect leaves nothing to resample: its bounds are its own value.
        warnings.simplefilter("ignore")
        bounds = found.bootstrap(confidence_level=0.95, n_resamples=199)

    def both(of: Any, value: FloatArray) -> FloatArray:
        ends = np.stack([np.ravel(of.confidence_interval.low), np.ravel(of.confidence_interval.high)])
        return np.where(np.isfinite(ends), ends, np.ravel(value))

    return VarianceShares(
        np.ravel(found.first_order),
        np.ravel(found.total_order),
        both(bounds.first_order, found.first_order),
        both(bounds.total_order, found.total_order),
    )
