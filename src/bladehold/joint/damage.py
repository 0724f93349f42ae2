"""Miner's sum: damage per hour, hours of life, scatter factors, and how often a load comes in an hour.

The last axis of arrays of cycles is that of the load cases. Miner's rule knows no order of loads: a few
large cycles early may cost more than it says, and the scatter factor is all that covers it.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from bladehold.joint._arrays import Floats, at_least_zero, positive, real

CONFIDENCE_95 = 1.6448536269514722
"""Standard deviations that leave 5 % on one side of a normal distribution."""


def damage_per_hour(cycles_per_hour: ArrayLike, cycles_to_failure: ArrayLike) -> Floats:
    """Miner's damage of one hour, the sum of n_i / N_i over the last axis.

    Arguments:
        cycles_per_hour: n_i, shape (..., cases); cycles_to_failure: N_i, infinite where a case does
        nothing, 0 where not one cycle is survived, shape (..., cases). They broadcast.
    Returns: damage per hour [1/h], shape (...); infinite where a case with N = 0 comes at all.
    Errors: ValueError when n is negative or not finite, or N negative or not a number.
    Source: Miner, J. Appl. Mech. 12 (1945).
    """
    rate = at_least_zero("cycles per hour", cycles_per_hour)
    life = np.asarray(cycles_to_failure, dtype=np.float64)
    if not bool((life >= 0.0).all()):
        raise ValueError("cycles to failure must be numbers not below 0")
    with np.errstate(divide="ignore", invalid="ignore"):
        parts = np.where(rate > 0.0, rate / life, 0.0)
    total: Floats = np.asarray(parts.sum(axis=-1))
    return total


def life_hours(damage_rate: ArrayLike, scatter: ArrayLike, damage_done: ArrayLike = 0.0) -> Floats:
    """Hours until the damage reaches 1 / scatter, (1 / scatter - D0) / d.

    From new with D0 = 0. From a damage already done it is the life left; with the damage rate of a part that
    has lost something it is the time to land.

    Arguments (broadcast together):
        damage_rate: d from `damage_per_hour` [1/h]; scatter: life of the middle part over the life allowed
        [-]; damage_done: D0, Miner's sum so far, without scatter [-].
    Returns: hours, not below 0; infinite where no damage is done and some is left.
    Errors: ValueError when the rate or the damage is negative, or the scatter below 1.
    Source: Miner, J. Appl. Mech. 12 (1945); scatter factor as in `scatter_factor`.
    """
    factor = positive("scatter", scatter)
    at_least_zero("scatter - 1", factor - 1.0)
    rate = np.asarray(damage_rate, dtype=np.float64)
    if not bool((rate >= 0.0).all()):
        raise ValueError("damage per hour must be a number not below 0")
    left = np.maximum(1.0 / factor - at_least_zero("damage done", damage_done), 0.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(left > 0.0, left / rate, 0.0)


def scatter_factor(specimens: ArrayLike, spread: ArrayLike = 6.0, deviations: ArrayLike = 3.0) -> Floats:
    """Mean life of a few tests over the life that nearly all parts reach, s^((k + z / sqrt(n)) / 6).

    Lives are taken as lognormal with a known spread: s is the life at three standard deviations above the
    middle over that at three below. The middle is known from n tests only; z = 1.645 for 95 % confidence.

    >>> print(f"{scatter_factor(1):.4f}")
    4.0031

    Arguments (broadcast together):
        specimens: n, parts tested to failure [-]; spread: s [-]; deviations: k, standard deviations below
        the middle that are to be covered [-].
    Returns: factor [-].
    Errors: ValueError when n is below 1, s not above 1 or k negative.
    Source: OEIS A375221 (one test, spread 6, k = 3: 4.0031, used for critical rotating parts in aviation);
        the 1 / sqrt(n) of the mean of n tests follows from the same assumptions.
    """
    n = positive("specimens", specimens)
    at_least_zero("specimens - 1", n - 1.0)
    s = positive("spread - 1", positive("spread", spread) - 1.0) + 1.0
    return s ** ((at_least_zero("deviations", deviations) + CONFIDENCE_95 / np.sqrt(n)) / 6.0)


def turn_cycles_per_hour(
    rotation_speed: ArrayLike, time_share: ArrayLike = 1.0, cycles_per_turn: ArrayLike = 1.0
) -> Floats:
    """Cycles in an hour of flight of a load that comes with every turn, k Omega 3600 / (2 pi) x share.

    Arguments (broadcast together):
        rotation_speed: Omega [rad/s]; time_share: of the flight spent in the case, 0 to 1 [-];
        cycles_per_turn: k [-].
    Returns: cycles per hour.
    Errors: ValueError when an argument is negative or the share above 1.
    Source: definition.
    """
    share = at_least_zero("time share", time_share)
    at_least_zero("1 - time share", 1.0 - share)
    turns = at_least_zero("rotation speed", rotation_speed) * 3600.0 / (2.0 * np.pi)
    return turns * share * at_least_zero("cycles per turn", cycles_per_turn)


def event_cycles_per_hour(events_per_flight: ArrayLike, flight_time: ArrayLike) -> Floats:
    """Cycles in an hour of flight of what happens so many times a flight, such as starting and stopping.

    Arguments (broadcast together):
        events_per_flight: count [-]; flight_time: duration of a flight [s].
    Returns: cycles per hour.
    Errors: ValueError when the count is negative or the time not positive.
    Source: definition.
    """
    return (
        at_least_zero("events per flight", events_per_flight) * 3600.0 / positive("flight time", flight_time)
    )


def start_stop_range(values: ArrayLike) -> tuple[Floats, Floats]:
    """Greatest and least of a load over a whole flight, standing still with none included.

    The cycle of one flight, from 0 to the greatest; down to the least where that is below 0.

    Arguments:
        values: of one load in all cases of a flight, shape (..., cases), any unit.
    Returns: greatest and least, shape (...).
    Errors: ValueError when a value is not finite.
    Source: definition.
    """
    found = real("load", values)
    return np.maximum(found.max(axis=-1), 0.0), np.minimum(found.min(axis=-1), 0.0)
