"""A battery pack: open-circuit voltage over charge, resistance over charge and warmth, one slow branch."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.validity import Range

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]

GAS_CONSTANT = 8.314462618  # J/(mol K), exact by the SI
WARM = 298.15
"""Temperature at which a pack's resistance is given, K."""
COLD_RANGE = Range(
    "temperature of the cells in degC",
    -10.0,
    60.0,
    "degC",
    "one activation energy no longer tells the resistance, and charge is lost too",
    "own limit",
)


@dataclass(frozen=True, eq=False)
class Pack:
    """A pack of cells in series.

    capacity - A s; charge, voltage - points of its open-circuit curve, 0 to 1 and V of the pack, rising, [M];
    resistance - warm and full, ohm; empty_rise, empty_charge - of the resistance towards empty, as in the
    table of cells; activation - J/mol; slow_share - resistance of the slow branch over `resistance`,
    slow_time - s; temperature - of the cells, K.
    """

    capacity: float
    charge: FloatArray
    voltage: FloatArray
    resistance: float
    empty_rise: float
    empty_charge: float
    activation: float
    slow_share: float
    slow_time: float
    temperature: float

    def __post_init__(self) -> None:
        """Refuse what no pack can have."""
        for name in ("capacity", "resistance", "temperature", "empty_charge", "slow_time"):
            value = getattr(self, name)
            if not (np.isfinite(value) and value > 0.0):
                raise ValueError(f"{name} must be positive, got {value}")
        for name in ("empty_rise", "activation", "slow_share"):
            value = getattr(self, name)
            if not (np.isfinite(value) and value >= 0.0):
                raise ValueError(f"{name} must be at least 0, got {value}")
        rising = np.all(np.diff(self.charge) > 0.0) and np.all(np.diff(self.voltage) > 0.0)
        if not rising or self.charge[0] != 0.0 or self.charge[-1] != 1.0:
            raise ValueError("charge must rise from 0 to 1, and voltage with it")


def open_voltage(pack: Pack, charge: ArrayLike) -> FloatArray:
    """Voltage (V) of a pack at rest, straight between the points of its curve.

    Arguments: pack; charge - 0 to 1, any shape. Source: own, interpolation of the table.
    """
    return np.asarray(np.interp(np.asarray(charge, dtype=float), pack.charge, pack.voltage))


def pack_resistance(pack: Pack, charge: ArrayLike) -> FloatArray:
    """Resistance (ohm) of a pack, R (1 + a exp(-s / b)) exp(E / Rg (1 / T - 1 / WARM)).

    Arguments: pack; charge - s, any shape.
    Range: COLD_RANGE. Source: shape over charge, Chen and Rincon-Mora, IEEE Transactions on Energy Conversion
    21(2) (2006); over temperature, Arrhenius.
    """
    low = pack.empty_rise * np.exp(-np.asarray(charge, dtype=float) / pack.empty_charge)
    return np.asarray(pack.resistance * (1.0 + low) * _cold(pack))


def slow_resistance(pack: Pack) -> float:
    """Resistance (ohm) of the slow branch. Arguments: pack. Source: as `pack_resistance`."""
    return pack.slow_share * pack.resistance * _cold(pack)


def _cold(pack: Pack) -> float:
    return float(np.exp(pack.activation / GAS_CONSTANT * (1.0 / pack.temperature - 1.0 / WARM)))


def power_current(voltage: ArrayLike, resistance: ArrayLike, power: ArrayLike) -> FloatArray:
    """Current (A) that brings a power out of a voltage behind a resistance, (V - sqrt(V^2 - 4 R P)) / (2 R).

    Arguments, broadcasting: voltage - V, at rest, V; resistance - R, ohm, positive; power - P, at the
    terminals, W. Errors: ValueError when more is asked for than V^2 / (4 R), which no load can draw.
    Source: Kirchhoff's law; the smaller root, the one at the higher voltage.

    >>> round(float(power_current(44.4, 0.036, 2000.0)), 3)
    46.823
    """
    rest, ohm, load = (np.asarray(value, dtype=float) for value in (voltage, resistance, power))
    most = greatest_power(rest, ohm)
    if np.any(load > most):
        short, most = np.broadcast_arrays(load, most)
        at = np.flatnonzero(np.ravel(short > most))[0]
        raise ValueError(
            f"power {np.ravel(short)[at]:.4g} W cannot be drawn: the battery collapses above "
            f"{np.ravel(most)[at]:.4g} W"
        )
    return drawn_current(rest, ohm, load)


def drawn_current(voltage: ArrayLike, resistance: ArrayLike, power: ArrayLike) -> FloatArray:
    """As `power_current`, not a number where the power cannot be drawn.

    Arguments and source: as in `power_current`.
    """
    rest, ohm, load = (np.asarray(value, dtype=float) for value in (voltage, resistance, power))
    with np.errstate(invalid="ignore"):
        root = np.sqrt(np.square(rest) - 4.0 * ohm * load)
    # Written so that a small current does not drown in the difference of two large numbers.
    return np.asarray(2.0 * load / (rest + root))


def greatest_power(voltage: ArrayLike, resistance: ArrayLike) -> FloatArray:
    """Greatest power (W) that a voltage behind a resistance can give, V^2 / (4 R).

    Arguments, broadcasting: voltage - V; resistance - ohm. Source: Jacobi's law of matched load.
    """
    return np.asarray(
        np.square(np.asarray(voltage, dtype=float)) / (4.0 * np.asarray(resistance, dtype=float))
    )
