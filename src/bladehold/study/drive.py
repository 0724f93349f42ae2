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
    Flight,
    PowerTrain,
    Reach,
    discharge,
    drive_state,
    longest_flight,
    reach,
)
from bladehold.rotor import FASTEST_TIP_MACH, figure_of_merit
from bladehold.sheet.build import Build
from bladehold.study.flown import Flown, flown_of
from bladehold.study.kinds import kinds_of, weathers
from bladehold.study.limit import Limit, limit
from bladehold.study.loads import loads_of
from bladehold.study.power_train import HoverCurve, hover_curve, power_train

FloatArray = NDArray[np.float64]

CHARGES = (1.0, 0.5)  # at which the greatest thrust is told, besides the reserve
MASSES = np.linspace(0.7, 1.5, 17)  # of the take-off mass, of the endurance over mass
_ZERO_CELSIUS = 273.15


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
    power - out of the full battery, W, brief - whether it is a manoeuvre, [K]; flight - the discharge over
    it; longest; distance - over ground, as far as it is flown, m.
    """

    names: tuple[str, ...]
    share: FloatArray
    speed: FloatArray
    ground: FloatArray
    power: FloatArray
    brief: NDArray[np.bool_]
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
    flown = flown_of(build, train, loads)
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
        # A full battery has only just been connected; later its slow branch has settled.
        slow_voltage=np.where(np.array([*CHARGES, reserve]) < 1.0, flown.slow_voltage, 0.0),
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
        greatest=greatest_thrusts(build, curve, found, (*CHARGES, reserve)),
        mission=_mission(build, train, flown, flight_air),
        hover_endurance=float(np.interp(build.aircraft.mass, mass, lasting)),
        mass=mass,
        endurance=lasting,
        needed=float(flown.thrust[needed_at].max()),
        needed_in=flown.names[needed_at],
        held=limit(build, loads),
        breaches=tuple(dict.fromkeys([*loads.breaches, *([told] if told else [])])),
    )


def greatest_thrusts(
    build: Build, curve: HoverCurve, found: Reach, charges: tuple[float, ...]
) -> tuple[Greatest, ...]:
    """Return what a rotor gives at most at each charge.

    Arguments: build; curve - of its rotor in hover; found - speeds at which each stop is met; charges - that
    they are for.
    """
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
    """Endurance in hover (s) over masses (kg): thrust goes with the mass, 0 where it cannot be flown even
    with the battery full.
    """
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
        np.ones(MASSES.size),
        air_temperature=air_temperature,
    )
    return mass, np.where(state.fits & (curve.thrust_at(speed) >= 0.999 * thrust), found.ends, 0.0)


def _mission(build: Build, train: PowerTrain, flown: Flown, air_temperature: float) -> Mission:
    """The usual flight in the warmest air: the sheet's segments, else the usual mix, and its manoeuvres,
    which come before the last of them.
    """
    assert build.drive is not None
    battery, flying = build.drive.battery, build.flying
    label = weathers(build)[0].label
    steady = [kind for kind in kinds_of(build) if kind.share > 0.0]
    sudden = [kind for kind in kinds_of(build) if kind.times * kind.lasts > 0.0 and not kind.sudden]
    parts = [*steady[:-1], *sudden, steady[-1]]
    place = [flown.names.index(f"{kind.name}, {label}") for kind in parts]
    lasting = np.array([kind.share + kind.times * kind.lasts / flying.flight_time for kind in parts])
    share = lasting / lasting.sum()
    flight = Flight(flown.speed[place], flown.torque[place], share * flying.flight_time)
    common: dict[str, Any] = {
        "air_temperature": air_temperature,
        "cutoff_voltage": battery.cutoff_voltage,
        "reserve": battery.reserve,
    }
    wind = flying.wind if flying.segments else 0.0
    ground = np.array([max(kind.speed - wind, 0.0) for kind in parts])
    flown_once = discharge(train, flight, **common)
    start = np.cumsum(flight.duration) - flight.duration
    airborne = np.clip(flown_once.ends - start, 0.0, flight.duration)
    return Mission(
        names=tuple(kind.name.removeprefix("mission: ") for kind in parts),
        share=share,
        speed=np.array([kind.speed for kind in parts]),
        ground=ground,
        power=flown.power[place],
        brief=np.array([kind.share == 0.0 for kind in parts]),
        flight=flown_once,
        longest=longest_flight(train, flight, **common),
        distance=float(np.sum(ground * airborne)),
    )
