"""The flight conditions a rotor is checked in, from the few figures a sheet gives.

A first, short list; each condition says where it comes from. Forward flight is steady
level flight: lift carries the weight, the tilt of the rotors overcomes drag.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.air import GRAVITY, Air, air_at
from bladehold.sheet.build import Build

FloatArray = NDArray[np.float64]

# Of the flight, by kind of flight: common practice, no source; a user's own cases have no time of their own.
TIME_SHARES = {
    "hover": 0.35,
    "climb": 0.10,
    "pull-up in hover": 0.02,
    "top speed": 0.50,
    "manoeuvre at top speed": 0.03,
}
STANDING_SHARES = {"hover": 0.85, "climb": 0.10, "pull-up in hover": 0.05}


@dataclass(frozen=True)
class Conditions:
    """C conditions on the last axis, whatever leading axes the thrust scale has.

    names [C]; thrust N of one rotor, edge_speed m/s (air speed along the disc), axial_speed m/s (down
    through the disc) [..., C]; own_share - the cyclic share the user gave, NaN where it is to be computed
    [C]; pitch_rate - of the aircraft, rad/s [C]; time_share - of the flight [C]; air [C].
    """

    names: tuple[str, ...]
    thrust: FloatArray
    edge_speed: FloatArray
    axial_speed: FloatArray
    own_share: FloatArray
    pitch_rate: FloatArray
    time_share: FloatArray
    air: Air

    def of(self, columns: NDArray[np.intp]) -> Conditions:
        """Return some of the conditions."""
        return Conditions(
            names=tuple(self.names[column] for column in columns),
            thrust=self.thrust[..., columns],
            edge_speed=self.edge_speed[..., columns],
            axial_speed=self.axial_speed[..., columns],
            own_share=self.own_share[columns],
            pitch_rate=self.pitch_rate[columns],
            time_share=self.time_share[columns],
            air=Air(**{name: values[columns] for name, values in vars(self.air).items()}),
        )


@dataclass(frozen=True)
class _Row:
    name: str
    thrust: FloatArray
    edge: ArrayLike
    axial: ArrayLike
    temperature: float
    own_share: float
    pitch_rate: float = 0.0
    time_share: float = 0.0


def conditions_of(build: Build, thrust_scale: ArrayLike = 1.0) -> Conditions:
    """Return the conditions of a build: usual flying at its coldest and warmest, and the user's cases.

    Level flight and manoeuvres at top speed tilt the rotors by atan(D / (n W)), with D = rho V^2 A / 2,
    weight W and load factor n, and need hypot(n, D / W) times the steady thrust. Source: equilibrium of
    forces in level flight.
    Arguments: build; thrust_scale - multiplies the thrust used and those of the cases, any shape; the
    aircraft, its speeds and so its tilt stay.
    """
    scale = np.asarray(thrust_scale, dtype=float)
    rows: list[_Row] = []
    for label, temperature in _temperatures(build):
        rows += _usual(build, label, temperature, scale)
    rows += [
        _Row(
            case.name,
            case.thrust * scale,
            case.speed,
            case.climb,
            build.air.temperature if case.temperature is None else case.temperature,
            np.nan if case.cyclic_share is None else case.cyclic_share,
        )
        for case in build.flying.cases
    ]
    temperatures = np.array([row.temperature for row in rows])
    air = air_at(build.air.altitude, temperatures, build.air.humidity)
    return Conditions(
        names=tuple(row.name for row in rows),
        thrust=np.stack([row.thrust for row in rows], axis=-1),
        edge_speed=_stacked(scale, [row.edge for row in rows]),
        axial_speed=_stacked(scale, [row.axial for row in rows]),
        own_share=np.array([row.own_share for row in rows]),
        pitch_rate=np.array([row.pitch_rate for row in rows]),
        time_share=np.array([row.time_share for row in rows]),
        air=air,
    )


def _stacked(scale: FloatArray, values: list[ArrayLike]) -> FloatArray:
    return np.stack([np.broadcast_to(np.asarray(v, dtype=float), scale.shape) for v in values], axis=-1)


def _temperatures(build: Build) -> list[tuple[str, float]]:
    """The coldest and warmest air, once only where they are the same."""
    cold, warm = build.flying.temperature_min, build.flying.temperature_max
    return [("warm", warm)] if cold == warm else [("warm", warm), ("cold", cold)]


def _usual(build: Build, label: str, temperature: float, scale: FloatArray) -> list[_Row]:
    flying = build.flying
    steady, hard = flying.used_thrust * scale, flying.load_factor * flying.used_thrust * scale
    own = np.nan if flying.cyclic_share is None else flying.cyclic_share
    rate, climb = flying.pitch_rate, flying.climb_speed
    # The time of a kind of flight is shared by the coldest and the warmest air, where they differ.
    part = 1.0 / len(_temperatures(build))
    forward = flying.top_speed > 0.0
    shares = {kind: part * share for kind, share in (TIME_SHARES if forward else STANDING_SHARES).items()}

    def row(
        kind: str, thrust: FloatArray, edge: float, axial: float, rate: float, own: float = np.nan
    ) -> _Row:
        return _Row(f"{kind}, {label}", thrust, edge, axial, temperature, own, rate, shares[kind])

    rows = [
        row("hover", steady, 0.0, 0.0, 0.0),
        row("climb", steady, 0.0, climb, 0.0),
        row("pull-up in hover", hard, 0.0, 0.0, rate),
    ]
    if forward:
        for name, lift, turning in (
            ("top speed", 1.0, 0.0),
            ("manoeuvre at top speed", flying.load_factor, rate),
        ):
            pull, edge, axial = _tilted(build, lift, temperature)
            rows.append(row(name, pull * flying.used_thrust * scale, edge, axial, turning, own))
    return rows


def _tilted(build: Build, load_factor: float, temperature: float) -> tuple[float, float, float]:
    """Thrust over steady thrust, speed along and through the disc (m/s) of a rotor at top speed."""
    density = float(air_at(build.air.altitude, temperature, build.air.humidity).density)
    speed = build.flying.top_speed
    drag = 0.5 * density * speed**2 * build.aircraft.drag_area / (build.aircraft.mass * GRAVITY)
    pull = float(np.hypot(load_factor, drag))
    return pull, speed * load_factor / pull, speed * drag / pull
