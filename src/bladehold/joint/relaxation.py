"""Creep of what is clamped: the preload that is left after a time, and after tightening again.

One law for all materials, F / F0 = 1 / (1 + c (t / a)^n), t in weeks: a straight line over the logarithm of
time where c (t/a)^n is small and n too. A laminate under a bolt follows it with c = 0.1126 and n = 0.20; a is
the shift factor of temperature and moisture, 1 when dry at 23 degC, smaller when warm or wet, which makes
time run faster.

Tightening again restores F0, and what has crept does not creep again. How much that helps follows from
linear superposition, as for any viscoelastic body: see `retightened_share`.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from bladehold.joint._arrays import Floats, at_least_zero, larger, positive
from bladehold.validity import Range

WEEK = 7 * 24 * 3600.0
"""Seconds in the week in which the law of the source counts time."""

CREEP_TEMPERATURE = Range(
    "temperature of the clamped laminate",
    None,
    30.0 + 273.15,
    "K",
    "creep is taken at 23 degC and runs faster when warm: at 66 degC and 0.5 % moisture about 18 times",
    "Shivakumar and Crews (1983), a shift factor of 0.056 computed from 80 % left after 3 weeks",
)
CREEP_TIME = Range(
    "time since tightening",
    None,
    30.0 * 365.25 * 24 * 3600.0,
    "s",
    "the law is extrapolated from tests of months to years",
    "own limit",
)


def relaxed_share(
    time: ArrayLike, coefficient: ArrayLike, exponent: ArrayLike, shift: ArrayLike = 1.0
) -> Floats:
    """Share of the preload left after a time, F / F0 = 1 / (1 + c (t / a)^n).

    >>> print(f"{relaxed_share(52 * WEEK, 0.1126, 0.20):.3f}")
    0.801

    Arguments (broadcast together):
        time: t since tightening [s]; coefficient: c [-], share lost over share left after one week;
        exponent: n [-], 0 for a loss that is there at once and stays; shift: a of temperature and moisture
        [-], 1 or less.
    Returns: share [-], 1 at t = 0 where n > 0.
    Errors: ValueError when time, c or n is negative or a not positive.
    Range: `CREEP_TEMPERATURE`, `CREEP_TIME`; a stack that is mostly the creeping part, under a plain screw.
    Source: Shivakumar and Crews, bolt clampup relaxation in a graphite/epoxy laminate, NASA-TM-83268 (1982)
        and ASTM STP 813 (1983), as quoted in Mallick, Fiber-Reinforced Composites, problem 4.34.
    """
    return 1.0 / (1.0 + _crept(time, coefficient, exponent, shift))


def time_to_share(
    share: ArrayLike, coefficient: ArrayLike, exponent: ArrayLike, shift: ArrayLike = 1.0
) -> Floats:
    """Time until a share of the preload is left, `relaxed_share` solved for time.

    t = a [(1/share - 1) / c]^(1/n)

    Arguments (broadcast together):
        share: left [-], above 0 and below 1; coefficient: c [-]; exponent: n [-], above 0; shift: a [-].
    Returns: time [s].
    Errors: ValueError when the share is not within 0 to 1 or another argument not positive.
    Source: as `relaxed_share`.
    """
    left = positive("share", share)
    larger("1", np.ones(()), "share", left)
    ratio = (1.0 / left - 1.0) / positive("coefficient", coefficient)
    return WEEK * positive("shift", shift) * ratio ** (1.0 / positive("exponent", exponent))


def retightened_share(
    time: ArrayLike,
    tightenings: ArrayLike,
    coefficient: ArrayLike,
    exponent: ArrayLike,
    shift: ArrayLike = 1.0,
) -> Floats:
    """Share of the preload left at a time after a screw was tightened again to its full preload.

    Each tightening adds a load step of what was missing; the steps before it are scaled to what was left, so
    that they always add up to the full load. With J(t) = c (t/a)^n the steps s_i of times t_i give
    F / F0 = 1 / (1 + sum s_i [J(t - t_i) - J(tm - t_i)]) after the last tightening at tm.

    Arguments:
        time: t since the first tightening [s], any shape, not before the last one; tightenings: times at
        which it was tightened again [s], shape (m,), in order, may be empty; coefficient: c [-], exponent:
        n [-], shift: a [-], all broadcast with time.
    Returns: share [-].
    Errors: ValueError when times are not in order, or as `relaxed_share`.
    Range: as `relaxed_share`; recovery of the load that fades between tightenings is left out.
    Source: derived, linear superposition (Boltzmann) with the law of `relaxed_share`.
    """
    again = np.atleast_1d(np.asarray(tightenings, dtype=np.float64))
    starts = np.concatenate([np.zeros(1), at_least_zero("tightenings", again)])
    if np.any(np.diff(starts) <= 0.0):
        raise ValueError("tightenings must be in order and after the first")
    now = at_least_zero("time", time)
    if np.any(now < starts[-1]):
        raise ValueError(f"time must not be before the last tightening, got {np.min(now):g}")
    steps: list[Floats] = [np.ones(())]
    for last in range(len(again)):
        left = _left(starts[last + 1], starts[: last + 1], steps, coefficient, exponent, shift)
        steps = [*(left * step for step in steps), 1.0 - left]
    return _left(now, starts, steps, coefficient, exponent, shift)


def softened_coefficient(
    coefficient: ArrayLike, stiffness: ArrayLike, reference_stiffness: ArrayLike
) -> Floats:
    """Creep coefficient of the same clamped parts under a softer screw, c k / kref.

    What creeps is a length; what the screw loses by it is k = kb kj / (kb + kj) times that length. Spring
    washers lower k and keep more of the preload.

    Arguments (broadcast together):
        coefficient: c with the plain screw [-]; stiffness: k of screw, springs and stack in series [N/m];
        reference_stiffness: kref without the springs [N/m].
    Returns: coefficient [-].
    Errors: ValueError when a stiffness is not positive or c negative.
    Source: derived, F = F0 - k F C(t) with the creep compliance C of the stack.
    """
    softer = positive("stiffness", stiffness) / positive("reference stiffness", reference_stiffness)
    return at_least_zero("coefficient", coefficient) * softer


def _crept(time: ArrayLike, coefficient: ArrayLike, exponent: ArrayLike, shift: ArrayLike) -> Floats:
    """J(t) = c (t/a)^n, t in weeks."""
    weeks = at_least_zero("time", time) / (WEEK * positive("shift", shift))
    return at_least_zero("coefficient", coefficient) * weeks ** at_least_zero("exponent", exponent)


def _left(
    now: ArrayLike,
    starts: Floats,
    steps: list[Floats],
    coefficient: ArrayLike,
    exponent: ArrayLike,
    shift: ArrayLike,
) -> Floats:
    """Share left at `now`, restored at the last of `starts`, with a load step at each of them."""
    since = np.zeros(())
    for start, step in zip(starts, steps, strict=True):
        done = _crept(starts[-1] - start, coefficient, exponent, shift)
        if start == starts[-1]:
            done = np.zeros_like(done)
        since = since + step * (_crept(now - start, coefficient, exponent, shift) - done)
    return 1.0 / (1.0 + since)
