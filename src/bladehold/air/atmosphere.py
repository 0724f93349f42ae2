"""The standard atmosphere to 11 km, with a temperature of one's own and humid air.

Written out here rather than taken from a library because the libraries at hand load
SciPy, which costs more time than a whole check may take; one of them is the oracle in
the tests.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.validity import Range

FloatArray = NDArray[np.float64]

# ISO 2533:1975, primary constants (table 1) and sea-level values.
GRAVITY = 9.80665  # m/s^2
SEA_LEVEL_PRESSURE = 101325.0  # Pa
SEA_LEVEL_TEMPERATURE = 288.15  # K
LAPSE_RATE = -0.0065  # K/m, geopotential, to 11 km
GAS_CONSTANT = 287.05287  # J/(kg K), dry air
HEAT_RATIO = 1.4

ALTITUDE_RANGE = Range(
    "pressure altitude", -2000.0, 11000.0, "m", "the standard layer used ends there", "ISO 2533:1975"
)
TEMPERATURE_RANGE = Range(
    "air temperature", 173.15, 343.15, "K", "viscosity and vapour formulas are extrapolated", "ISO 2533:1975"
)


@dataclass(frozen=True)
class Air:
    """The state of the air: density kg/m^3, speed of sound m/s, viscosity Pa*s, temperature K, pressure Pa.

    Every field broadcasts with the conditions it was made for.
    """

    density: FloatArray
    speed_of_sound: FloatArray
    viscosity: FloatArray
    temperature: FloatArray
    pressure: FloatArray


def standard_temperature(altitude: ArrayLike) -> FloatArray:
    """Temperature (K) of the standard atmosphere: T = 288.15 - 0.0065 H.

    Arguments: altitude - geopotential pressure altitude H, m, any shape. Validity: ALTITUDE_RANGE.
    Source: ISO 2533:1975, 2.5.
    """
    return SEA_LEVEL_TEMPERATURE + LAPSE_RATE * np.asarray(altitude, dtype=float)


def standard_pressure(altitude: ArrayLike) -> FloatArray:
    """Pressure (Pa) of the standard atmosphere: p = p0 (T/T0)^(-g / (beta R)).

    Arguments: altitude - geopotential pressure altitude, m, any shape. Validity: ALTITUDE_RANGE.
    Source: ISO 2533:1975, 2.6.

    >>> round(float(standard_pressure(0.0)), 1)
    101325.0
    """
    ratio = standard_temperature(altitude) / SEA_LEVEL_TEMPERATURE
    return np.asarray(SEA_LEVEL_PRESSURE * ratio ** (-GRAVITY / (LAPSE_RATE * GAS_CONSTANT)), dtype=float)


def standard_density_altitude(density: ArrayLike) -> FloatArray:
    """Density altitude (m): where the standard atmosphere has a density, H = T0/L (1 - (rho/rho0)^(1/(n -
    1))).

    n = g / (L R), L = 0.0065 K/m. Arguments: density - rho, kg/m^3, positive, any shape. Validity:
    ALTITUDE_RANGE for what comes out. Source: ISO 2533:1975, 2.5 to 2.7, solved for the altitude.

    >>> [round(float(standard_density_altitude(rho))) for rho in (1.225, 1.11164, 0.90912)]
    [0, 1000, 3000]
    """
    ratio = np.asarray(density, dtype=float) * GAS_CONSTANT * SEA_LEVEL_TEMPERATURE / SEA_LEVEL_PRESSURE
    power = 1.0 / (GRAVITY / (-LAPSE_RATE * GAS_CONSTANT) - 1.0)
    return np.asarray(SEA_LEVEL_TEMPERATURE / -LAPSE_RATE * (1.0 - ratio**power))


def vapour_pressure(temperature: ArrayLike, humidity: ArrayLike) -> FloatArray:
    """Partial pressure (Pa) of water vapour: e = h * 611.2 exp(17.62 t / (243.12 + t)).

    Arguments: temperature - K, any shape; humidity - relative humidity h, 0 to 1; both broadcast.
    t is the temperature in degC. Validity: -45 to 60 degC over water.
    Source: WMO-No. 8, Guide to Instruments and Methods of Observation, annex 4.B (Magnus form).
    """
    celsius = np.asarray(temperature, dtype=float) - 273.15
    return np.asarray(humidity, dtype=float) * 611.2 * np.exp(17.62 * celsius / (243.12 + celsius))


def humid_density(temperature: ArrayLike, pressure: ArrayLike, humidity: ArrayLike = 0.0) -> FloatArray:
    """Density (kg/m^3) of humid air: rho = (p - 0.378 e) / (R T), e the vapour pressure.

    Arguments: temperature - K; pressure - Pa; humidity - 0 to 1; all broadcast.
    0.378 is one minus the ratio of the molar masses of water and dry air (0.622).
    Source: ideal-gas mixture, as in WMO-No. 8, annex 4.A (virtual temperature).

    >>> round(float(humid_density(303.15, 101325.0, 0.5)), 4)
    1.1552
    """
    kelvin = np.asarray(temperature, dtype=float)
    dry = np.asarray(pressure, dtype=float) - 0.378 * vapour_pressure(kelvin, humidity)
    return np.asarray(dry / (GAS_CONSTANT * kelvin), dtype=float)


def speed_of_sound(temperature: ArrayLike) -> FloatArray:
    """Speed of sound (m/s) in dry air: a = sqrt(1.4 R T).

    Arguments: temperature - K, any shape. Source: ISO 2533:1975, 2.10.
    """
    return np.sqrt(HEAT_RATIO * GAS_CONSTANT * np.asarray(temperature, dtype=float))


def viscosity(temperature: ArrayLike) -> FloatArray:
    """Dynamic viscosity (Pa*s) by Sutherland's formula: mu = 1.458e-6 T^1.5 / (T + 110.4).

    Arguments: temperature - K, any shape. Source: ISO 2533:1975, 2.13.
    """
    kelvin = np.asarray(temperature, dtype=float)
    return np.asarray(1.458e-6 * kelvin**1.5 / (kelvin + 110.4), dtype=float)


def air_at(altitude: ArrayLike, temperature: ArrayLike, humidity: ArrayLike = 0.0) -> Air:
    """The air at a pressure altitude, with the temperature really met there.

    Arguments: altitude - pressure altitude, m; temperature - K; humidity - 0 to 1; all broadcast.
    Returns Air whose fields have the broadcast shape. Validity: ALTITUDE_RANGE, TEMPERATURE_RANGE.
    """
    shape = np.broadcast_shapes(np.shape(altitude), np.shape(temperature), np.shape(humidity))
    kelvin = np.broadcast_to(np.asarray(temperature, dtype=float), shape)
    pressure = np.broadcast_to(standard_pressure(altitude), shape)
    return Air(
        density=humid_density(kelvin, pressure, humidity),
        speed_of_sound=speed_of_sound(kelvin),
        viscosity=viscosity(kelvin),
        temperature=kelvin,
        pressure=pressure,
    )
