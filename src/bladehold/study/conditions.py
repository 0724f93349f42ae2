"""The flight conditions a rotor is checked in: all that is flown, in the warmest and the coldest air.

Each condition is that of the rotor that works hardest in it, as the trim of the aircraft finds it, and says
where it comes from. The warmest air is met at the greatest altitude, the coldest at that of the sheet.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.air import Air, air_at
from bladehold.sheet.build import Build
from bladehold.study.course import Course, course_of
from bladehold.study.kinds import Kind, Weather, kinds_of, weathers
from bladehold.study.trimmed import Trimmed, trimmed

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.intp]

NO_BASE = -1


@dataclass(frozen=True)
class Conditions:
    """C conditions on the last axis, whatever leading axes the thrust scale has.

    names, bases [C] - and where each comes from; thrust N of the rotor that works hardest, edge_speed m/s
    (air speed along its disc), axial_speed m/s (down through the disc) [..., C]; own_share - the cyclic share
    the user gave, NaN where it is to be computed [C]; pitch_rate - of the aircraft, rad/s [C]; stepped -
    whether the rotor is just being sped up [C]; gust - from below through the disc, gust_along - along it,
    m/s, met at the speed and inflow of the condition `held` [C]; time_share - of the flight [C]; air [C].
    """

    names: tuple[str, ...]
    bases: tuple[str, ...]
    thrust: FloatArray
    edge_speed: FloatArray
    axial_speed: FloatArray
    own_share: FloatArray
    pitch_rate: FloatArray
    stepped: NDArray[np.bool_]
    gust: FloatArray
    gust_along: FloatArray
    held: IntArray
    time_share: FloatArray
    air: Air

    def of(self, columns: IntArray) -> Conditions:
        """Return some of the conditions; `held` still counts among all of them."""
        found: dict[str, Any] = {}
        for field in fields(self):
            value = getattr(self, field.name)
            if isinstance(value, tuple):
                found[field.name] = tuple(value[column] for column in columns)
            elif isinstance(value, Air):
                found[field.name] = Air(**{name: values[columns] for name, values in vars(value).items()})
            else:
                found[field.name] = value[..., columns]
        return Conditions(**found)


@dataclass(frozen=True)
class _Row:
    name: str
    basis: str
    thrust: FloatArray
    edge: ArrayLike
    axial: ArrayLike
    altitude: float
    temperature: float
    own_share: float = np.nan
    pitch_rate: float = 0.0
    stepped: bool = False
    gust: float = 0.0
    gust_along: float = 0.0
    held: int = NO_BASE
    time_share: float = 0.0


def conditions_of(
    build: Build, thrust_scale: ArrayLike = 1.0, kinds: tuple[Kind, ...] | None = None
) -> Conditions:
    """Return the conditions of a build: all that is flown at its coldest and warmest, and the user's cases.

    The thrust used is that of hover; the others are it times what the trim asks of the rotor that works
    hardest, over an even share of the weight. Tilts and speeds are those of the trim.
    Arguments: build; thrust_scale - multiplies the thrust used and those of the cases, any shape; the
    aircraft, its speeds and so its tilt stay; kinds - other flying than that of the build, without its cases.
    """
    scale = np.asarray(thrust_scale, dtype=float)
    rows: list[_Row] = []
    flown = kinds_of(build) if kinds is None else kinds
    air = weathers(build)
    for weather, trim in zip(air, trimmed(build, flown, air), strict=True):
        rows += _flown(build, flown, weather, trim, scale, len(rows))
    rows += _cases(build, scale) if kinds is None else []
    of = {name: [getattr(row, name) for row in rows] for name in vars(rows[0])}
    return Conditions(
        names=tuple(of["name"]),
        bases=tuple(of["basis"]),
        thrust=np.stack(of["thrust"], axis=-1),
        edge_speed=_stacked(scale, of["edge"]),
        axial_speed=_stacked(scale, of["axial"]),
        own_share=np.array(of["own_share"]),
        pitch_rate=np.array(of["pitch_rate"]),
        stepped=np.array(of["stepped"]),
        gust=np.array(of["gust"]),
        gust_along=np.array(of["gust_along"]),
        held=np.array(of["held"]),
        time_share=np.array(of["time_share"]),
        air=air_at(np.array(of["altitude"]), np.array(of["temperature"]), build.air.humidity),
    )


def courses_of(build: Build) -> tuple[Course, ...]:
    """Return the flights of a build, one in each kind of air, through the conditions of `conditions_of`."""
    kinds, events, cases = kinds_of(build), build.flying.events, build.flying.cases
    air = weathers(build)
    first = len(air) * len(kinds)
    own = [(first + at, float(case.times)) for at, case in enumerate(cases)]
    return tuple(
        course_of(kinds, at * len(kinds), weather.share, events, own) for at, weather in enumerate(air)
    )


def _stacked(scale: FloatArray, values: list[ArrayLike]) -> FloatArray:
    return np.stack([np.broadcast_to(np.asarray(v, dtype=float), scale.shape) for v in values], axis=-1)


def _flown(
    build: Build, kinds: tuple[Kind, ...], weather: Weather, trim: Trimmed, scale: FloatArray, start: int
) -> list[_Row]:
    """A row for every kind in one kind of air, the first at place `start`."""
    flying = build.flying
    place = {kind.name: start + at for at, kind in enumerate(kinds)}
    share = np.nan if flying.cyclic_share is None else flying.cyclic_share
    rows = []
    for at, kind in enumerate(kinds):
        axial, edge = float(trim.axial[at]), float(trim.edge[at])
        wind = np.hypot(axial, edge)
        # A level gust from ahead comes the way the wind does; it meets a hovering disc edge on.
        through, along = (axial / wind, edge / wind) if wind > 0.0 else (0.0, 1.0)
        lasting = kind.share + kind.times * kind.lasts / flying.flight_time
        rows.append(
            _Row(
                name=f"{kind.name}, {weather.label}",
                basis=kind.basis,
                thrust=flying.used_thrust * float(trim.ratio[at]) * scale,
                edge=edge,
                axial=axial,
                altitude=weather.altitude,
                temperature=weather.temperature,
                # The share that a user states is that of top speed.
                own_share=share if kind.speed >= flying.top_speed > 0.0 else np.nan,
                pitch_rate=flying.pitch_rate if kind.rates else 0.0,
                stepped=kind.stepped,
                gust=kind.gust - through * kind.gust_ahead,
                gust_along=along * kind.gust_ahead,
                held=place[kind.base] if kind.sudden else NO_BASE,
                time_share=weather.share * lasting,
            )
        )
    return rows


def _cases(build: Build, scale: FloatArray) -> list[_Row]:
    """A row for every case of the user's."""
    return [
        _Row(
            name=case.name,
            basis=f"flying.case: {case.source}",
            thrust=case.thrust * scale,
            edge=case.speed,
            axial=case.climb,
            altitude=build.air.altitude,
            temperature=build.air.temperature if case.temperature is None else case.temperature,
            own_share=np.nan if case.cyclic_share is None else case.cyclic_share,
            time_share=case.times * case.lasts / build.flying.flight_time,
        )
        for case in build.flying.cases
    ]
