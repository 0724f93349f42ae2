"""The air a rotor turns in: standard atmosphere, density, speed of sound, viscosity."""

from bladehold.air.atmosphere import (
    ALTITUDE_RANGE,
    GRAVITY,
    TEMPERATURE_RANGE,
    Air,
    air_at,
    humid_density,
    speed_of_sound,
    standard_density_altitude,
    standard_pressure,
    standard_temperature,
    vapour_pressure,
    viscosity,
)

__all__ = [
    "ALTITUDE_RANGE",
    "GRAVITY",
    "TEMPERATURE_RANGE",
    "Air",
    "air_at",
    "humid_density",
    "speed_of_sound",
    "standard_density_altitude",
    "standard_pressure",
    "standard_temperature",
    "vapour_pressure",
    "viscosity",
]
