"""A root finder that keeps every root between its brackets, for many roots at once."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.intp]

# Every sixth step halves the interval, so 240 steps shrink any interval by 2^40 at the least;
# ordinary roots are found in four to six.
MOST_STEPS = 240
HALVING_EVERY = 6


def bracketed_root(
    function: Callable[[FloatArray, IntArray], FloatArray],
    low: FloatArray,
    high: FloatArray,
    at_low: FloatArray,
    at_high: FloatArray,
    *,
    tolerance: float,
) -> FloatArray:
    """Root of `function` in each [low, high]: false position made fast, with regular halving.

    Each step draws the chord between the ends. Where the same end stays twice, its value is scaled by
    1 - f(new)/f(old) (or 1/2 where that is not positive), which restores superlinear convergence.
    Every sixth step halves instead, so that no function can hold it up. The root never leaves its
    interval. Where both ends have the same sign the outcome lies in the interval, without meaning.
    Arguments: function - of the points tried [K] and the numbers [K] of the roots still sought, so
    that the last few cost little; low, high - [N]; at_low, at_high - [N], its values there; tolerance -
    taken as found when |f| or the interval is as small.
    Returns the roots, [N].
    Source: Anderson and Bjorck, BIT 13 (1973) 253; the halving is our own.

    >>> root = bracketed_root(lambda x, which: x**2 - 2, *np.array([[0], [2], [-2], [2.0]]), tolerance=1e-12)
    >>> round(float(root[0]), 10)
    1.4142135624
    """
    root = np.where(np.abs(at_low) < np.abs(at_high), low, high)
    which = np.arange(low.size)
    a, b, f_a, f_b = low, high, at_low, at_high
    for step in range(1, MOST_STEPS):
        sought = np.flatnonzero((np.abs(b - a) > tolerance) & (np.abs(f_b) > tolerance) & (f_a != f_b))
        if sought.size == 0:
            break
        if sought.size < which.size:
            which, a, b, f_a, f_b = which[sought], a[sought], b[sought], f_a[sought], f_b[sought]
        share = 0.5 if step % HALVING_EVERY == 0 else f_b / (f_b - f_a)
        new = b + share * (a - b)
        f_new = function(new, which)
        root[which] = new
        crossed = (f_new >= 0.0) != (f_b >= 0.0)
        scale = 1.0 - f_new / f_b
        f_a = np.where(crossed, f_b, f_a * np.where(scale > 0.0, scale, 0.5))
        a = np.where(crossed, b, a)
        b, f_b = new, f_new
    return root
