"""What motor and battery make of the flying: throttle, currents, warmth, greatest thrust, endurance."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from bladehold.air import GRAVITY, air_at
from bladehold.power import (
    COLD_RANGE,
    STOPS,
    Discharge,
    DriveState,
    Flight,
    PowerTrain,
    Reach,
    discharge,
    drive_state,
    longest_flight,
    motor_state,
    reach,
    steady_temperature,
    temperature_after,
    thrust_per_power,
)
from bladehold.rotor import FASTEST_TIP_MACH, figure_of_merit
from bladehold.sheet.build import Build
from bladehold.study.kinds import Kind, Weather, kinds_of, weathers
from bladehold.study.limit import Limit, limit
from bladehold.study.loads import Loads, loads_of
from bladehold.study.power_train import HoverCurve, hover_curve, power_train
from bladehold.study.trimmed import Trimmed, trimmed

FloatArray = NDArray[np.float64]

CHARGES = (1.0, 0.5)  # at which the greatest thrust is told, besides the reserve
MASSES = np.linspace(0.7, 1.5, 17)  # of the take-off mass, of the endurance over mass
_ZERO_CELSIUS = 273.15


@dataclass(frozen=True, eq=False)
class Flown:
    """The power train in every condition that is flown [C], all rotors [N], battery full and at its reserve.

    names; speed - rad/s, thrust - N, torque - N*m, of each rotor, [C, N]; rotors - their names; full, low -
    states; power - electric, out of the battery, full, W, [C]; thrust_per_power - g/W of it, [C].
    """

    names: tuple[str, ...]
    rotors: tuple[str, ...]
    speed: FloatArray
    thrust: FloatArray
    torque: FloatArray
    full: DriveState
    low: DriveState
    power: FloatArray
    thrust_per_power: FloatArray


@dataclass(frozen=True)
class Greatest:
    """Greatest thrust of a rotor in hover with all alike, N, at a charge.

    thrust - for a moment, stop - what stops it there, speed - rad/s; lasting, lasting_stop - where the
    windings must stay cool too; over_weight - all rotors together over the weight, for a moment.
    """

    charge: float
    thrust: float
    speed: float
    stop: str
    lasting: float
    lasting_stop: str
    over_weight: float


@dataclass(frozen=True, eq=False)
class Mission:
    """A flight of the length that is usual, and the longest that its mix can go on.

    names - of the segments, in order; share - of the time, speed - of the air, ground - over ground, m/s,
    power - out of the full battery, W, [K]; flight - the discharge over it; longest; distance - over ground,
    m.
    """

    names: tuple[str, ...]
    share: FloatArray
    speed: FloatArray
    ground: FloatArray
    power: FloatArray
    flight: Discharge
    longest: Discharge
    distance: float


@dataclass(frozen=True, eq=False)
class DriveAnswer:
    """flown; hover - place of hover in warm air; hover_merit - figure of merit of the rotor there; greatest -
    by charge, the fullest first; mission; hover_endurance - s; endurance - in hover, s, by mass, kg, [M];
    needed - thrust of the rotor that works hardest in any condition, N, and needed_in - which; held - what
    the screws hold; breaches.
    """

    build: Build
    flown: Flown
    hover: int
    hover_merit: float
    greatest: tuple[Greatest, ...]
    mission: Mission
    hover_endurance: float
    mass: FloatArray
    endurance: FloatArray
    needed: float
    needed_in: str
    held: Limit
    breaches: tuple[str, ...]

    @property
    def throttle_left(self) -> float:
        """Throttle left in the hardest condition with the battery at its reserve; below 0 when short."""
        low = self.flown.low
        return -np.inf if np.any(low.collapsed) else 1.0 - float(low.throttle.max())

    @property
    def serves(self) -> bool:
        """Whether motor and battery can do all that is flown, down to the reserve, and the usual flight."""
        return bool(np.all(self.flown.low.fits)) and not np.isfinite(self.mission.flight.ends)


class NoDriveError(ValueError):
    """A sheet that says nothing of its motor or its battery."""


def drive_answer(build: Build) -> DriveAnswer:
    """Return what motor and battery make of a build's flying.

    Of the rotors of one condition those that are not the hardest turn at the same coefficients as that one:
    speed as the root of thrust, torque as thrust. Lower rotors of pairs stand for the upper ones too.
    Errors: NoDriveError without [motor] and [battery]; ValueError from the rotor.
    """
    if build.drive is None:
        raise NoDriveError("the sheet lacks [motor] or [battery]: what drives the rotors is not known")
    train = power_train(build, build.drive)
    loads = loads_of(build)
    flown = _flown(build, train, loads)
    hover = next(at for at, name in enumerate(flown.names) if name.startswith("hover"))
    warm = weathers(build)[0]
    air = air_at(warm.altitude, warm.temperature, build.air.humidity)
    curve = hover_curve(build, air)
    reserve = build.drive.battery.reserve
    flight_air = float(warm.temperature)
    needed_at = int(flown.thrust.max(axis=-1).argmax())
    mass, lasting = _by_mass(build, train, curve, flight_air)
    found = reach(
        train,
        curve.torque_at,
        build.aircraft.rotors,
        curve.fastest,
        np.array([*CHARGES, reserve]),
        air_temperature=flight_air,
    )
    merit = figure_of_merit(
        loads.thrust[hover],
        loads.torque[hover] * loads.speed[hover],
        air.density,
        build.propeller.diameter / 2,
    )
    told = COLD_RANGE.breach(build.drive.battery.temperature - _ZERO_CELSIUS)
    return DriveAnswer(
        build=build,
        flown=flown,
        hover=hover,
        hover_merit=float(merit),
        greatest=_greatest(build, curve, found, (*CHARGES, reserve)),
        mission=_mission(build, train, flown, flight_air),
        hover_endurance=float(np.interp(build.aircraft.mass, mass, lasting)),
        mass=mass,
        endurance=lasting,
        needed=float(flown.thrust[needed_at].max()),
        needed_in=flown.names[needed_at],
        held=limit(build, loads),
        breaches=tuple(dict.fromkeys([*loads.breaches, *([told] if told else [])])),
    )


def _flown(build: Build, train: PowerTrain, loads: Loads) -> Flown:
    kinds, air = kinds_of(build), weathers(build)
    columns = _columns(kinds, air)
    ratios = np.concatenate([_ratios(build, found) for found in trimmed(build, kinds, air)])[columns]
    thrust = loads.thrust[columns, np.newaxis] * ratios
    speed = loads.speed[columns, np.newaxis] * np.sqrt(ratios)
    torque = loads.torque[columns, np.newaxis] * ratios
    warmth = np.array([weather.temperature for weather in air for _ in kinds])[columns]
    winding = _windings(build, train, kinds, columns, speed, torque, warmth)

    def state(charge: float) -> DriveState:
        left = np.full(columns.size, charge)
        return drive_state(train, speed, torque, left, air_temperature=warmth, temperature=winding)

    assert build.drive is not None
    full, low = state(1.0), state(build.drive.battery.reserve)
    power = full.pack_voltage * full.pack_current
    return Flown(
        names=tuple(loads.names[at] for at in columns),
        rotors=_rotor_names(build, kinds, air),
        speed=speed,
        thrust=thrust,
        torque=torque,
        full=full,
        low=low,
        power=power,
        thrust_per_power=thrust_per_power(thrust.sum(axis=-1), power),
    )


def _windings(
    build: Build,
    train: PowerTrain,
    kinds: tuple[Kind, ...],
    columns: NDArray[np.intp],
    speed: FloatArray,
    torque: FloatArray,
    warmth: FloatArray,
) -> FloatArray:
    """Temperature (K) of the windings, [C, N]: of steady work, or at the end of a manoeuvre out of it."""
    motor = motor_state(train.motor, speed, torque)
    heated = (motor.copper, motor.iron, train.thermal_resistance)
    steady = steady_temperature(*heated, warmth[:, np.newaxis])
    before, lasts = steady.copy(), np.full(columns.size, np.inf)
    for row, column in enumerate(columns):
        kind = kinds[column % len(kinds)]
        if kind.base:
            base = next(at for at, other in enumerate(kinds) if other.name == kind.base)
            before[row] = steady[int(np.flatnonzero(columns == column - column % len(kinds) + base)[0])]
            lasts[row] = kind.lasts or build.flying.events.manoeuvre_time
    brief = np.isfinite(lasts)
    after = temperature_after(
        before,
        np.where(brief, lasts, 0.0)[:, np.newaxis],
        *heated,
        train.heat_capacity,
        warmth[:, np.newaxis],
    )
    return np.where(brief[:, np.newaxis], after, steady)


def _columns(kinds: tuple[Kind, ...], air: tuple[Weather, ...]) -> NDArray[np.intp]:
    """Conditions in which the power train has time to follow: all that are no gust."""
    calm = [at for at, kind in enumerate(kinds) if not kind.gust]
    return np.array([len(kinds) * place + at for place in range(len(air)) for at in calm])


def _ratios(build: Build, found: Trimmed) -> FloatArray:
    """Thrust of each rotor over that of the hardest, [K, N]."""
    if found.trim is None:
        return np.ones((found.ratio.size, build.aircraft.rotors))
    thrust = found.trim.thrust
    return np.asarray(thrust / thrust.max(axis=-1, keepdims=True))


def _rotor_names(build: Build, kinds: tuple[Kind, ...], air: tuple[Weather, ...]) -> tuple[str, ...]:
    frame = trimmed(build, kinds, air)[0].frame
    return tuple(f"{at + 1}" for at in range(build.aircraft.rotors)) if frame is None else frame.names


def _greatest(
    build: Build, curve: HoverCurve, found: Reach, charges: tuple[float, ...]
) -> tuple[Greatest, ...]:
    weight = build.aircraft.mass * GRAVITY
    warm = STOPS.index("temperature of the winding")

    def least(by_stop: FloatArray) -> tuple[float, float, str]:
        """Thrust, speed and what stops it."""
        stop = int(by_stop.argmin())
        within = bool(np.isfinite(by_stop[stop]))
        speed = float(by_stop[stop]) if within else curve.fastest
        name = STOPS[stop] if within else f"tip Mach number {FASTEST_TIP_MACH:g}"
        return float(curve.thrust_at(np.array(speed))), speed, name

    told = []
    for by_stop, charge in zip(found.by_stop, charges, strict=True):
        thrust, speed, stop = least(np.where(np.arange(len(STOPS)) == warm, np.inf, by_stop))
        lasting, _, why = least(by_stop)
        over = build.aircraft.rotors * thrust / weight
        told.append(Greatest(charge, thrust, speed, stop, lasting, why, over))
    return tuple(told)


def _by_mass(
    build: Build, train: PowerTrain, curve: HoverCurve, air_temperature: float
) -> tuple[FloatArray, FloatArray]:
    """Endurance in hover (s) over masses (kg): thrust goes with the mass, 0 where it cannot be flown."""
    assert build.drive is not None
    mass = MASSES * build.aircraft.mass
    thrust = build.flying.used_thrust * MASSES
    speed = curve.speed_for(thrust)
    shape = (MASSES.size, 1, build.aircraft.rotors)
    speeds = np.broadcast_to(speed[:, np.newaxis, np.newaxis], shape)
    torque = curve.torque_at(speeds)
    battery = build.drive.battery
    found = longest_flight(
        train,
        Flight(speeds, torque, np.ones((MASSES.size, 1))),
        air_temperature=air_temperature,
        cutoff_voltage=battery.cutoff_voltage,
        reserve=battery.reserve,
    )
    state = drive_state(
        train,
        speeds[:, 0],
        torque[:, 0],
        np.full(MASSES.size, battery.reserve),
        air_temperature=air_temperature,
    )
    return mass, np.where(state.fits & (curve.thrust_at(speed) >= 0.999 * thrust), found.ends, 0.0)


def _mission(build: Build, train: PowerTrain, flown: Flown, air_temperature: float) -> Mission:
    """The usual flight in the warmest air: the sheet's segments, else the usual mix."""
    assert build.drive is not None
    battery, flying = build.drive.battery, build.flying
    label = weathers(build)[0].label
    parts = [kind for kind in kinds_of(build) if kind.share > 0.0]
    place = [flown.names.index(f"{kind.name}, {label}") for kind in parts]
    share = np.array([kind.share for kind in parts])
    share = share / share.sum()
    flight = Flight(flown.speed[place], flown.torque[place], share * flying.flight_time)
    common: dict[str, Any] = {
        "air_temperature": air_temperature,
        "cutoff_voltage": battery.cutoff_voltage,
        "reserve": battery.reserve,
    }
    ground = np.array([kind.speed for kind in parts])
    if flying.segments:
        ground = np.array([segment.speed for segment in flying.segments if segment.share > 0.0])
    return Mission(
        names=tuple(kind.name.removeprefix("mission: ") for kind in parts),
        share=share,
        speed=np.array([kind.speed for kind in parts]),
        ground=ground,
        power=flown.power[place],
        flight=discharge(train, flight, **common),
        longest=longest_flight(train, flight, **common),
        distance=float(np.sum(ground * flight.duration)),
    )
