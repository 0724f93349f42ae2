"""How far a step of the contact solver goes: to where the energy is least along it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bladehold.joint._arrays import Floats

_NOISE = 1e-14  # rounding of a slope over the sizes of what makes it up, below which nothing is searched
_SEARCHES = 60
_WORTH = 0.7  # share still searched below which leaving the others out is quicker than taking them along


def length_of_step(
    springs: Floats, q: Floats, move: Floats, step: Floats, rest: Floats, bent: Floats
) -> Floats:
    """Length of the step: 1 where that lowers the energy well, else where it is least along the step.

    The energy's slope along the step is slope + curve t + sum(w q+ dq), which never falls with t: where it
    is not above zero at t = 1, the energy has fallen all the way.
    """
    slope, curve = -_along(step, rest), _along(step, bent)
    pushing, ahead = springs * move, np.maximum(q + move, 0.0)
    after = slope + curve + _down(ahead, pushing)
    begin = slope + _down(np.maximum(q, 0.0), pushing)
    length = np.ones(q.shape[-1])
    told = np.abs(begin) > _NOISE * _along(np.abs(step), np.abs(rest))
    bad = np.flatnonzero((after > 1e-9 * np.abs(begin)) & told)
    if not bad.size:
        return length
    slope, curve, begin, value = slope[bad], curve[bad], begin[bad], after[bad]
    springs, q, move, pushing, ahead = (take(one, bad) for one in (springs, q, move, pushing, ahead))
    gain = slope + curve / 2.0 + (_down(ahead**2, springs) - _down(np.maximum(q, 0.0) ** 2, springs)) / 2.0
    low, high, t = np.zeros(bad.size), np.ones(bad.size), np.ones(bad.size)
    left = (gain > 1e-4 * begin) & (np.abs(value) > 1e-3 * np.abs(begin))
    acting = ahead > 0.0
    for _ in range(_SEARCHES):
        count = np.count_nonzero(left)
        if count < _WORTH * bad.size:
            length[bad] = t
            keep = np.flatnonzero(left)
            left = left[keep]
            bad = bad[keep]
            low, high, t, slope, curve = low[keep], high[keep], t[keep], slope[keep], curve[keep]
            begin, value, acting = begin[keep], value[keep], acting[:, keep]
            q, move, pushing = q[:, keep], move[:, keep], pushing[:, keep]
        if not bad.size:
            break
        rise = curve + _down(pushing * acting, move)
        low, high = np.where(value <= 0.0, t, low), np.where(value > 0.0, t, high)
        newton = t - value / np.where(rise > 0.0, rise, np.inf)
        inside = (newton > low) & (newton < high)
        t = np.where(left, np.where(inside, newton, (low + high) / 2.0), t)
        there = np.maximum(q + t * move, 0.0)
        value, acting = slope + curve * t + _down(there, pushing), there > 0.0
        left = np.abs(value) > 1e-3 * np.abs(begin)
    length[bad] = t
    return length


def _down(one: Floats, other: Floats) -> Floats:
    """Sum over the springs of the product of two values."""
    return np.asarray(np.einsum("sb,sb->b", one, other))


def _along(step: Floats, force: Floats) -> Floats:
    return np.asarray(np.einsum("pib,pib->b", step, force))


def take(values: Floats, index: NDArray[np.intp]) -> Floats:
    """The part of a batch at `index`; one value for all stays one."""
    return values if values.shape[-1] == 1 else values[..., index]
