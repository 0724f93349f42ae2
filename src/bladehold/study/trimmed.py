"""The aircraft of a build in balance: what every kind of flight asks of each rotor."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bladehold.air import GRAVITY, Air, air_at
from bladehold.aircraft import (
    Demand,
    Frame,
    Trim,
    coaxial_frame,
    custom_frame,
    flat_frame,
    out_of_command,
    trimmed_flight,
)
from bladehold.sheet.build import Build
from bladehold.study.kinds import Kind, Weather, inertia
from bladehold.study.remembered import Remembered
from bladehold.study.rotor_law import tabled_law
from bladehold.study.shape import shape_key

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.intp]

_KEPT = 8  # trims that are remembered: a search for a limit asks for the same one again and again
_STILL_AIR = 1e-6  # m/s along the disc
_PAIR_SPACING = 0.2  # of the diameter, where the sheet does not say how far pairs stand apart


@dataclass(frozen=True, eq=False)
class Trimmed:
    """Every kind of flight in one kind of air, [K].

    frame - None where the rotors cannot balance the aircraft by their speeds: then each takes an even share,
    and trim is None too; ratio - thrust of the rotor that works hardest over an even share of the weight;
    axial, edge - air through and along its disc, m/s; rotor - its number.
    """

    frame: Frame | None
    trim: Trim | None
    ratio: FloatArray
    axial: FloatArray
    edge: FloatArray
    rotor: IntArray


def frame_of(build: Build) -> Frame | None:
    """Return the rotors of a build's aircraft; None where they cannot command lift, roll, pitch and yaw."""
    craft = build.aircraft
    circle = (craft.rotor_distance, craft.first_arm)
    offsets = {"height": craft.rotor_height, "mass_ahead": craft.mass_ahead}
    if craft.layout == "custom":
        places = craft.places
        frame = custom_frame(
            [(one.x, one.y, one.z) for one in places],
            [1.0 if one.spin == "cw" else -1.0 for one in places],
            [one.cant for one in places],
            [one.cant_direction for one in places],
        )
        return None if out_of_command(frame) else frame
    if craft.layout == "coaxial":
        spacing = craft.coaxial_spacing
        if not np.isfinite(spacing):
            spacing = _PAIR_SPACING * build.propeller.diameter
        return coaxial_frame(craft.rotors // 2, *circle, spacing, **offsets) if craft.rotors >= 6 else None
    return flat_frame(craft.rotors, *circle, **offsets) if craft.rotors >= 3 else None


def trimmed(build: Build, kinds: tuple[Kind, ...], weathers: tuple[Weather, ...]) -> tuple[Trimmed, ...]:
    """Return what every kind of flight asks of the rotors, in every kind of air.

    A gust asks what the flight asks that it comes into. The rotor of the trim is tabled in every air, about a
    first guess of the tilt. Errors: ValueError from the rotor when a thrust cannot be
    reached, and when no balance is found.
    """
    polar = build.propeller.polar
    return _remembered.answer(
        _question(build, kinds, weathers), polar, lambda: _trimmed(build, kinds, weathers)
    )


_remembered: Remembered[tuple[Trimmed, ...]] = Remembered(_KEPT)


def _question(build: Build, kinds: tuple[Kind, ...], weathers: tuple[Weather, ...]) -> Hashable:
    flying = build.flying
    rates = (flying.pitch_rate, flying.yaw_rate, flying.control_time, flying.yaw_time)
    return build.aircraft, shape_key(build), build.air.humidity, kinds, weathers, rates


def _trimmed(build: Build, kinds: tuple[Kind, ...], weathers: tuple[Weather, ...]) -> tuple[Trimmed, ...]:
    frame = frame_of(build)
    # What asks the same of the rotors, as a gust and the flight it comes into, is balanced once.
    asked = [_asked(kind) for kind in kinds]
    different = tuple(dict.fromkeys(asked))
    place = np.array([different.index(kind) for kind in asked])
    altitudes, temperatures = np.array([(one.altitude, one.temperature) for one in weathers]).T
    air = air_at(altitudes, temperatures, build.air.humidity)
    demand = _demand(build, different, air)
    guess = _first_guess(build, demand)
    even = build.aircraft.mass * GRAVITY / build.aircraft.rotors
    if frame is None:
        alone = np.zeros(len(place), dtype=np.intp)
        thrust, axial, edge = (value[:, place] for value in vars(guess).values())
        return tuple(
            Trimmed(None, None, thrust[at] / even, axial[at], edge[at], alone) for at in range(len(weathers))
        )
    law = tabled_law(build, air, guess.thrust, guess.axial, guess.edge)
    trim = trimmed_flight(frame, demand, build.aircraft.drag_area, law, build.aircraft.drag_height)
    _refuse_unbalanced(different, trim)
    return tuple(_of_weather(frame, trim, at, place, even) for at in range(len(weathers)))


def _asked(kind: Kind) -> Kind:
    """A kind with all that asks nothing of the rotors left out."""
    return Kind(
        name="",
        basis="",
        speed=kind.speed,
        climb=kind.climb,
        load_factor=kind.load_factor,
        sideways=kind.sideways,
        payload=kind.payload,
        tilting=kind.tilting,
        turning=kind.turning,
    )


def _of_weather(frame: Frame, whole: Trim, at: int, place: IntArray, even: float) -> Trimmed:
    trim = Trim(**{name: values[at, place] for name, values in vars(whole).items()})
    edge = np.where(trim.edge < _STILL_AIR, 0.0, trim.edge)
    pick = (np.arange(len(place)), trim.hardest)
    return Trimmed(frame, trim, trim.thrust[pick] / even, trim.axial[pick], edge[pick], trim.hardest)


def _refuse_unbalanced(kinds: tuple[Kind, ...], trim: Trim) -> None:
    missed = np.any(~trim.converged | np.any(trim.thrust <= 0.0, axis=-1), axis=0)
    if np.any(missed):
        raise ValueError(
            "the rotors cannot balance the aircraft in: "
            + "; ".join(_in_words(kinds[at]) for at in np.flatnonzero(missed))
        )


def _in_words(kind: Kind) -> str:
    """What a kind asks, for a refusal."""
    parts = [f"{kind.speed:g} m/s ahead", f"{kind.climb:g} m/s up", f"load factor {kind.load_factor:.3g}"]
    parts += ["reaching the pitch rate"] * kind.tilting + ["reaching the yaw rate"] * kind.turning
    return ", ".join(parts)


def _demand(build: Build, kinds: tuple[Kind, ...], air: Air) -> Demand:
    """What the kinds ask of the aircraft in every air, [L, K]."""
    flying, turn = build.flying, inertia(build)

    def of(value: str) -> FloatArray:
        return np.array([getattr(kind, value) for kind in kinds], dtype=float)

    tilting = turn * flying.pitch_rate / flying.control_time
    yawing = 2.0 * turn * flying.yaw_rate / flying.yaw_time
    return Demand.of(
        mass=build.aircraft.mass + of("payload"),
        density=air.density[:, np.newaxis],
        ahead=of("speed"),
        climb=of("climb"),
        sideways=GRAVITY * of("sideways"),
        upward=GRAVITY * (of("load_factor") - 1.0),
        pitch=tilting * of("tilting"),
        yaw=yawing * of("turning"),
    )


@dataclass(frozen=True, eq=False)
class _Guess:
    """Thrust of each rotor, N, and air through and along its disc, m/s, [L, K]."""

    thrust: FloatArray
    axial: FloatArray
    edge: FloatArray


def _first_guess(build: Build, demand: Demand) -> _Guess:
    """The flight by drag and inertia alone, all rotors alike."""
    speed = np.linalg.norm(demand.air_velocity, axis=-1, keepdims=True)
    drag = 0.5 * demand.density[..., np.newaxis] * build.aircraft.drag_area * speed * demand.air_velocity
    pull = demand.mass[..., np.newaxis] * (demand.acceleration - np.array([0.0, 0.0, GRAVITY])) + drag
    size = np.linalg.norm(pull, axis=-1)
    axial = np.sum(demand.air_velocity * pull, axis=-1) / size
    edge = np.sqrt(np.maximum(speed[..., 0] ** 2 - axial**2, 0.0))
    return _Guess(size / build.aircraft.rotors, axial, np.where(edge < _STILL_AIR, 0.0, edge))
