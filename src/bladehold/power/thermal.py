"""A motor's winding as one body that is heated by its losses and cooled by the air."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.power.motor import COPPER, REFERENCE

FloatArray = NDArray[np.float64]


def steady_temperature(
    copper: ArrayLike, iron: ArrayLike, resistance: ArrayLike, air_temperature: ArrayLike
) -> FloatArray:
    """Temperature (K) of a winding in the end, where copper loss grows with its own temperature.

    T = Ta + Rth (P0 (1 + a (T - T0)) + Pi), a = COPPER, T0 = REFERENCE, solved for T; infinite where the loss
    grows as fast as the cooling.
    Arguments, broadcasting: copper - P0, its loss at REFERENCE, W; iron - Pi, W; resistance - Rth, winding to
    air, K/W; air_temperature - Ta, K. Source: heat balance, derived.
    """
    cold, other, path, air = _floats(copper, iron, resistance, air_temperature)
    cooling = 1.0 - path * cold * COPPER
    held = air + path * (cold * (1.0 - COPPER * REFERENCE) + other)
    with np.errstate(divide="ignore"):
        return np.asarray(np.where(cooling > 0.0, held / np.where(cooling > 0.0, cooling, 1.0), np.inf))


def temperature_after(
    temperature: ArrayLike,
    time: ArrayLike,
    copper: ArrayLike,
    iron: ArrayLike,
    resistance: ArrayLike,
    capacity: ArrayLike,
    air_temperature: ArrayLike,
) -> FloatArray:
    """Temperature (K) of a winding after a time with steady current, the exact solution.

    C dT/dt = P0 (1 + a (T - T0)) + Pi - (T - Ta) / Rth is linear in T.
    Arguments, broadcasting: temperature - at the start, K; time - s; copper, iron, resistance,
    air_temperature - as in `steady_temperature`; capacity - C, J/K.
    Source: linear differential equation, derived.

    >>> round(float(temperature_after(298.15, 60.0, 0.0, 60.0, 0.9, 150.0, 298.15)) - 273.15, 2)
    44.38
    """
    start, elapsed, cold, other, path, stored, air = _floats(
        temperature, time, copper, iron, resistance, capacity, air_temperature
    )
    rate = (1.0 / path - cold * COPPER) / stored
    heating = (cold * (1.0 - COPPER * REFERENCE) + other + air / path) / stored
    # expm1 keeps the small and the negative rates, where there is no steady temperature, exact.
    grown = np.where(
        np.abs(rate) > 0.0, -np.expm1(-rate * elapsed) / np.where(rate == 0.0, 1.0, rate), elapsed
    )
    return np.asarray(start * np.exp(-rate * elapsed) + heating * grown)


def _floats(*values: ArrayLike) -> list[FloatArray]:
    return [np.asarray(value, dtype=float) for value in values]
