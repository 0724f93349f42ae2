"""How fast a power train can turn its rotors, and what stops it first."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.power.drive import DriveState, PowerTrain, drive_state

FloatArray = NDArray[np.float64]

STOPS = (
    "collapse of the battery",
    "full throttle",
    "current of the motor",
    "temperature of the winding",
    "current of the battery",
)
_HALVINGS = 31  # of the bracket, which leave less than a billionth of it


@dataclass(frozen=True, eq=False)
class Reach:
    """Greatest speeds of all rotors turning alike.

    by_stop - at which each of STOPS is met, rad/s, infinite where it is not within the speeds looked at,
    [..., 5]; speed - the lowest of them, [...]; stop - its place in STOPS, [...].
    """

    by_stop: FloatArray
    speed: FloatArray
    stop: NDArray[np.intp]


def reach(
    train: PowerTrain,
    torque_at: Callable[[FloatArray], FloatArray],
    rotors: int,
    fastest: float,
    charge: ArrayLike,
    *,
    air_temperature: ArrayLike,
    slow_voltage: ArrayLike = 0.0,
) -> Reach:
    """Greatest speed of all rotors, by what stops them: bisection on how far each limit is passed.

    All that is asked grows with the speed, so there is one such speed each. Windings are at the temperature
    of steady work.
    Arguments: train; torque_at - torque of a rotor, N*m, at speeds, rad/s; rotors - their number; fastest -
    greatest speed looked at, rad/s; charge - of the battery, air_temperature - K, slow_voltage - already lost
    in the battery's slow branch, V, broadcasting to [...].
    Returns Reach. Errors: ValueError when fastest is not positive. Source: own search.
    """
    if not fastest > 0.0:
        raise ValueError(f"fastest must be positive, got {fastest}")
    left, air, lost = np.broadcast_arrays(
        *(np.asarray(value, dtype=float) for value in (charge, air_temperature, slow_voltage))
    )
    shape = (*left.shape, len(STOPS))
    place = np.arange(len(STOPS))

    def passed(speed: FloatArray) -> NDArray[np.bool_]:
        """Whether each stop is passed at a speed of its own, [..., 5]."""
        one = np.broadcast_to(speed[..., np.newaxis], (*shape, rotors))
        state = drive_state(
            train,
            one,
            torque_at(one),
            np.broadcast_to(left[..., np.newaxis], shape),
            air_temperature=np.broadcast_to(air[..., np.newaxis], shape),
            slow_voltage=np.broadcast_to(lost[..., np.newaxis], shape),
        )
        return np.asarray(
            np.take_along_axis(_stops(state), place.reshape(*(1,) * left.ndim, -1, 1), -1)[..., 0]
        )

    low, high = np.zeros(shape), np.full(shape, float(fastest))
    met = passed(high)
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        over = passed(middle)
        low, high = np.where(over, low, middle), np.where(over, middle, high)
    by_stop = np.where(met, 0.5 * (low + high), np.inf)
    return Reach(by_stop, by_stop.min(axis=-1), by_stop.argmin(axis=-1))


def _stops(state: DriveState) -> NDArray[np.bool_]:
    """Whether each of STOPS is passed, [..., 5]; beyond a collapse so is all that the battery decides."""
    return np.stack(
        [
            state.collapsed,
            state.collapsed | state.saturated.any(axis=-1),
            state.over_current.any(axis=-1),
            state.over_temperature.any(axis=-1),
            state.collapsed | state.over_pack_current,
        ],
        axis=-1,
    )
