"""From a life to what a crew does about it: flights, looks, and when a part goes."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from bladehold.joint._arrays import Floats, at_least_zero, positive

LOOKS = 3
"""Inspections in the life of a part that can be seen, the last of them its end: own choice."""


def life_in_flights(hours: ArrayLike, flight_time: ArrayLike) -> Floats:
    """Flights in a life of so many hours of flight, 3600 h / t.

    Arguments (broadcast together):
        hours: of flight [h], infinite allowed; flight_time: duration of a flight [s].
    Returns: flights, infinite for an infinite life.
    Errors: ValueError when a flight takes no time or a life is negative or not a number.
    Source: definition.
    """
    lasting = np.asarray(hours, dtype=np.float64)
    if not bool((lasting >= 0.0).all()):
        raise ValueError("hours of a life must be numbers not below 0")
    return np.asarray(3600.0 * lasting / positive("flight time", flight_time))


def inspection_interval(hours: ArrayLike, looks: int = LOOKS) -> Floats:
    """Hours between the inspections of a part, its safe life over the number of looks.

    The safe life has a scatter factor in it and ends with the part's retirement; the looks before find what
    the life does not know of: wear, blows, a screw that has lost its clamp. No growth of cracks is computed:
    it is no damage-tolerance interval, and does not lengthen the life.
    Arguments (broadcast together):
        hours: safe life [h], infinite allowed; looks: number of them within the life, the retirement counted.
    Returns: hours; infinite for an infinite life, where the service life sets the interval.
    Errors: ValueError when there is not one look, or a life is negative or not a number.
    Source: own choice; that generic stress-life curves allow a safe life only, AC 23-13A (mark: memory).
    """
    at_least_zero("looks - 1", looks - 1.0)
    lasting = np.asarray(hours, dtype=np.float64)
    if not bool((lasting >= 0.0).all()):
        raise ValueError("hours of a life must be numbers not below 0")
    return np.asarray(lasting / looks)


def life_ratio(load_ratio: ArrayLike, slope: ArrayLike) -> Floats:
    """Life over what it was when all loads change in a ratio, r^k with k = d ln(life) / d ln(load).

    Arguments (broadcast together):
        load_ratio: r, new over old loads [-]; slope: k, negative [-].
    Returns: ratio of lives; right for small changes, beyond them the slope itself changes.
    Errors: ValueError when a ratio is not positive. Source: definition of an elasticity.

    >>> round(float(life_ratio(0.9, -10.0)), 2)
    2.87
    """
    return np.asarray(positive("load ratio", load_ratio) ** np.asarray(slope, dtype=np.float64))


def life_without(share: ArrayLike, left: ArrayLike) -> Floats:
    """Life over what it was when one group of cycles comes less often, 1 / (1 - s (1 - f)).

    Arguments (broadcast together):
        share: s, of the group in all damage, 0 to 1 [-]; left: f, how often it comes over before [-].
    Returns: ratio of lives, infinite where no damage is left.
    Errors: ValueError when a share is not from 0 to 1 or `left` is negative.
    Source: Miner's rule, Miner, J. Appl. Mech. 12 (1945).

    >>> float(life_without(0.5, 0.0))
    2.0
    """
    part = at_least_zero("share", share)
    at_least_zero("1 - share", 1.0 - part)
    kept = 1.0 - part * (1.0 - at_least_zero("left", left))
    with np.errstate(divide="ignore"):
        return np.asarray(np.where(kept > 0.0, 1.0 / np.where(kept > 0.0, kept, 1.0), np.inf))
