"""The flight conditions a rotor is checked in, from the few figures a sheet gives.

A first, short list; each condition says where it comes from. Forward flight is steady
level flight: lift carries the weight, the tilt of the rotors overcomes drag.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bladehold.air import Air, air_at
from bladehold.sheet.build import Build

FloatArray = NDArray[np.float64]


@dataclass(frozen=True)
class Conditions:
    """C conditions: names, and arrays [C].

    thrust N of one rotor; edge_speed m/s, air speed along the disc; axial_speed m/s, air speed down
    through the disc; own_share - the cyclic share the user gave, NaN where it is to be computed; air.
    """

    names: tuple[str, ...]
    thrust: FloatArray
    edge_speed: FloatArray
    axial_speed: FloatArray
    own_share: FloatArray
    air: Air

    def scaled(self, factor: FloatArray) -> FloatArray:
        """Return the thrusts [K, C] with every thrust multiplied by factor [K]."""
        return factor[..., np.newaxis] * self.thrust


@dataclass(frozen=True)
class _Row:
    name: str
    thrust: float
    edge: float
    axial: float
    temperature: float
    own_share: float


def conditions_of(build: Build) -> Conditions:
    """Return the conditions of a build: usual flying at its coldest and warmest, and the user's cases.

    Level flight and manoeuvres at top speed tilt the rotor by atan(D / L), with D = rho V^2 A / 2
    shared by the rotors. Source: equilibrium of forces in level flight.
    """
    rows: list[_Row] = []
    for label, temperature in _temperatures(build):
        rows += _usual(build, label, temperature)
    rows += [
        _Row(
            case.name,
            case.thrust,
            case.speed,
            case.climb,
            build.air.temperature if case.temperature is None else case.temperature,
            np.nan if case.cyclic_share is None else case.cyclic_share,
        )
        for case in build.flying.cases
    ]
    temperatures = np.array([row.temperature for row in rows])
    return Conditions(
        names=tuple(row.name for row in rows),
        thrust=np.array([row.thrust for row in rows]),
        edge_speed=np.array([row.edge for row in rows]),
        axial_speed=np.array([row.axial for row in rows]),
        own_share=np.array([row.own_share for row in rows]),
        air=air_at(build.air.altitude, temperatures, build.air.humidity),
    )


def _temperatures(build: Build) -> list[tuple[str, float]]:
    """The coldest and warmest air, once only where they are the same."""
    cold, warm = build.flying.temperature_min, build.flying.temperature_max
    return [("warm", warm)] if cold == warm else [("warm", warm), ("cold", cold)]


def _usual(build: Build, label: str, temperature: float) -> list[_Row]:
    flying = build.flying
    steady, hard = flying.used_thrust, flying.load_factor * flying.used_thrust
    share = np.nan if flying.cyclic_share is None else flying.cyclic_share
    rows = [
        _Row(f"hover, {label}", steady, 0.0, 0.0, temperature, 0.0),
        _Row(f"climb, {label}", steady, 0.0, flying.climb_speed, temperature, 0.0),
        _Row(f"pull-up in hover, {label}", hard, 0.0, 0.0, temperature, 0.0),
    ]
    if flying.top_speed > 0.0:
        for name, lift in (("top speed", steady), ("manoeuvre at top speed", hard)):
            thrust, edge, axial = _tilted(build, lift, temperature)
            rows.append(_Row(f"{name}, {label}", thrust, edge, axial, temperature, share))
    return rows


def _tilted(build: Build, lift: float, temperature: float) -> tuple[float, float, float]:
    """Thrust (N), speed along and through the disc (m/s) of one rotor at top speed."""
    density = float(air_at(build.air.altitude, temperature, build.air.humidity).density)
    speed = build.flying.top_speed
    drag = 0.5 * density * speed**2 * build.aircraft.drag_area / build.aircraft.rotors
    thrust = float(np.hypot(lift, drag))
    return thrust, speed * lift / thrust, speed * drag / thrust
