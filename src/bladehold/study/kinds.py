"""What an aircraft does in flight, kind by kind: the few figures of a sheet turned into what is flown.

Steady kinds last a share of the flight; manoeuvres and gusts come so many times and last so long. A mission
of the user's own takes the place of the usual mix of steady kinds, which then stay as limits of what is
flown.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from bladehold.air import GRAVITY
from bladehold.sheet.build import Build
from bladehold.sheet.build_flying import Segment

COMMON = "common practice, no source"
_RATE = "flying.pitch_rate"

# Of the flight, by kind: common practice, no source.
USUAL_MIX = {"hover": 0.35, "climb": 0.08, "descent": 0.07, "cruise": 0.30, "top speed": 0.20}
STANDING_MIX = {"hover": 0.80, "climb": 0.10, "descent": 0.10}
GUST_LASTS = 1.0
"""Time that a rotor feels a gust before inflow and autopilot have answered, s: common practice, no source."""
LEAST_LOAD_FACTOR = 0.2
"""Below which nothing is pushed over: rotors that cannot pull down must keep some thrust to steer with."""


@dataclass(frozen=True)
class Kind:
    """One thing that is flown.

    speed - of the air ahead, climb - m/s; load_factor - lift over weight, upward; sideways - acceleration
    over g; payload - kg; tilting, turning - whether the aircraft is just being sped up to its pitch rate or
    its yaw rate; stepped - whether the rotors are just being sped up or slowed down; rates - whether it turns
    at its pitch rate; gust - from below, gust_ahead - level, from ahead, m/s; base - the kind it comes out of
    and goes back to, "" where none; share - of the flight; times - in a flight, lasts - s each; group - in
    which its damage is summed; basis - where it comes from.
    """

    name: str
    basis: str
    speed: float = 0.0
    climb: float = 0.0
    load_factor: float = 1.0
    sideways: float = 0.0
    payload: float = 0.0
    tilting: bool = False
    turning: bool = False
    stepped: bool = False
    rates: bool = False
    gust: float = 0.0
    gust_ahead: float = 0.0
    base: str = ""
    share: float = 0.0
    times: float = 0.0
    lasts: float = 0.0
    group: str = "turns"

    @property
    def sudden(self) -> bool:
        """Whether it is a gust, in which rotors and inflow have no time to answer."""
        return self.gust != 0.0 or self.gust_ahead != 0.0


@dataclass(frozen=True)
class Weather:
    """One kind of air that is flown in: label, altitude m, temperature K, share - of all flights."""

    label: str
    altitude: float
    temperature: float
    share: float


def weathers(build: Build) -> tuple[Weather, ...]:
    """Return the warmest air at the greatest altitude and the coldest at the sheet's, one if they agree."""
    flying, low = build.flying, build.air.altitude
    warm = Weather("warm", flying.altitude_max, flying.temperature_max, 0.5)
    if flying.temperature_min == flying.temperature_max and flying.altitude_max == low:
        return (Weather("warm", low, flying.temperature_max, 1.0),)
    return warm, Weather("cold", low, flying.temperature_min, 0.5)


def kinds_of(build: Build) -> tuple[Kind, ...]:
    """Return everything that a build's aircraft does, in the order of a flight, time shares adding up to 1.

    Errors: ValueError when what is not steady takes longer than the flight.
    """
    sudden = _manoeuvres(build) + _gusts(build)
    flight = build.flying.flight_time
    taken = sum(kind.times * kind.lasts for kind in sudden) / flight
    taken += sum(case.times * case.lasts for case in build.flying.cases) / flight
    if taken >= 1.0:
        raise ValueError(
            f"manoeuvres, gusts and cases take {taken * flight:.0f} s of a flight of {flight:.0f} s: "
            "flying.manoeuvres, manoeuvre_time, gusts and flight_time do not fit together"
        )
    steady = _steady(build)
    total = sum(kind.share for kind in steady)
    left = (1.0 - taken) / total
    return (*(replace(kind, share=left * kind.share) for kind in steady), *sudden)


def _steady(build: Build) -> list[Kind]:
    flying = build.flying
    mission = [_of_mission(build, segment) for segment in flying.segments]
    mix = {} if mission else USUAL_MIX if flying.top_speed > 0.0 else STANDING_MIX
    why = "of the sheet" if mission else f"usual mix: {COMMON}"

    def kind(name: str, basis: str, speed: float = 0.0, climb: float = 0.0) -> Kind:
        return Kind(name, f"{basis}; share {why}", speed=speed, climb=climb, share=mix.get(name, 0.0))

    standing = [
        kind("hover", "flying.used_thrust, no wind"),
        kind("climb", "flying.climb_speed, straight up", climb=flying.climb_speed),
        kind("descent", "flying.descent_speed, straight down", climb=-flying.descent_speed),
    ]
    moving = [
        kind("cruise", "flying.cruise_speed, level", speed=flying.cruise_speed),
        kind("top speed", "flying.top_speed, level", speed=flying.top_speed),
    ]
    return [*standing, *(moving if flying.top_speed > 0.0 else []), *mission]


def _of_mission(build: Build, segment: Segment) -> Kind:
    wind = build.flying.wind
    return Kind(
        f"mission: {segment.name}",
        f"flying.segment of the sheet, {wind:g} m/s of wind from ahead",
        speed=segment.speed + wind,
        climb=segment.climb,
        load_factor=segment.load_factor,
        payload=segment.payload,
        share=segment.share,
    )


def _manoeuvres(build: Build) -> list[Kind]:
    flying = build.flying
    light = max(2.0 - flying.load_factor, LEAST_LOAD_FACTOR)
    mirrored = "as far below steady flight as flying.load_factor is above it"
    rated = "reached in flying.control_time"
    pull, tilt = f"flying.load_factor, entered by flying.throttle_step, at {_RATE}", f"{_RATE}, {rated}"
    hard, turn = f"flying.load_factor, at {_RATE}", "flying.bank, level"
    slow, fast = flying.cruise_speed, flying.top_speed
    side = float(np.tan(flying.bank))
    found = [
        Kind(
            "pull-up in hover", pull, load_factor=flying.load_factor, stepped=True, rates=True, base="hover"
        ),
        Kind("tilting in hover", tilt, tilting=True, rates=True, base="hover"),
        Kind(
            "turning on the spot", "flying.yaw_rate, reached in flying.yaw_time", turning=True, base="hover"
        ),
        Kind("turn at cruise", turn, speed=slow, sideways=side, base="cruise"),
        Kind(
            "manoeuvre at top speed",
            hard,
            speed=fast,
            load_factor=flying.load_factor,
            rates=True,
            base="top speed",
        ),
    ]
    events = flying.events
    often = [
        replace(kind, times=float(events.manoeuvres), lasts=events.manoeuvre_time, group="manoeuvres")
        for kind in found
        if fast > 0.0 or kind.base == "hover"
    ]
    return [*often, Kind("push-over in hover", mirrored, load_factor=light, stepped=True, base="hover")]


def _gusts(build: Build) -> list[Kind]:
    flying = build.flying
    how = "flying.gust, sharp-edged, speed of rotation and inflow held"
    found = []
    for base, speed in [("hover", 0.0), ("top speed", flying.top_speed)]:
        met = "in hover" if base == "hover" else "at top speed"
        common: dict[str, Any] = {
            "basis": how,
            "speed": speed,
            "base": base,
            "times": float(flying.events.gusts),
            "lasts": GUST_LASTS,
            "group": "gusts",
        }
        found += [
            Kind(f"gust from below {met}", gust=flying.gust, **common),
            Kind(f"gust from above {met}", gust=-flying.gust, **common),
            Kind(f"level gust {met}", gust_ahead=flying.gust, **common),
        ]
    return [kind for kind in found if kind.base == "hover" or flying.top_speed > 0.0]


def inertia(build: Build) -> float:
    """Moment of inertia of the aircraft against pitch and roll, kg m^2: mass times radius of gyration
    squared.

    Source: definition; against yaw a flat machine has twice that (perpendicular axes).
    """
    return build.aircraft.mass * build.aircraft.gyration_radius**2


def weight(build: Build) -> float:
    """Weight of the aircraft at take-off, N."""
    return build.aircraft.mass * GRAVITY
