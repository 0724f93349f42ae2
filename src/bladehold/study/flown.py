"""Motors and battery in everything that is flown: the rotors of a condition, their windings, the battery's
state.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bladehold.power import (
    DriveState,
    PowerTrain,
    drive_state,
    motor_state,
    slow_resistance,
    steady_temperature,
    temperature_after,
    thrust_per_power,
)
from bladehold.sheet.build import Build
from bladehold.study.kinds import Kind, Weather, kinds_of, weathers
from bladehold.study.loads import Loads
from bladehold.study.trimmed import Trimmed, trimmed

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Flown:
    """The power train in every condition that is flown [C], all rotors [N], battery full and at its reserve.

    names; speed - rad/s, thrust - N, torque - N*m, of each rotor, [C, N]; rotors - their names; full, low -
    states; slow_voltage - lost in the battery's slow branch at the reserve, V; power - electric, out of the
    battery, full, W, [C]; thrust_per_power - g/W of it, [C].
    """

    names: tuple[str, ...]
    rotors: tuple[str, ...]
    speed: FloatArray
    thrust: FloatArray
    torque: FloatArray
    full: DriveState
    low: DriveState
    slow_voltage: float
    power: FloatArray
    thrust_per_power: FloatArray


def flown_of(build: Build, train: PowerTrain, loads: Loads) -> Flown:
    """Return the power train of a build in all that is flown and has time to settle: no gusts, but the user's
    cases, all rotors alike in these.

    At the reserve the slow branch of the battery has settled to the mean current of the flight.
    """
    kinds, air, cases = kinds_of(build), weathers(build), build.flying.cases
    calm = [at for at, kind in enumerate(kinds) if not kind.sudden]
    columns = np.array([len(kinds) * place + at for place in range(len(air)) for at in calm])
    columns = np.append(columns, len(kinds) * len(air) + np.arange(len(cases)))
    rotors = build.aircraft.rotors
    ratios = [_ratios(build, found) for found in trimmed(build, kinds, air)]
    ratio = np.concatenate([*ratios, np.ones((len(cases), rotors))])[columns]
    thrust = loads.thrust[columns, np.newaxis] * ratio
    speed = loads.speed[columns, np.newaxis] * np.sqrt(ratio)
    torque = loads.torque[columns, np.newaxis] * ratio
    own = [build.air.temperature if case.temperature is None else case.temperature for case in cases]
    warmth = np.array([weather.temperature for weather in air for _ in kinds] + own)[columns]
    base, lasts = _bases(build, kinds, air, columns)
    winding = _windings(train, speed, torque, warmth, base, lasts)

    def state(charge: float, slow_voltage: float) -> DriveState:
        left = np.full(columns.size, charge)
        return drive_state(
            train,
            speed,
            torque,
            left,
            air_temperature=warmth,
            slow_voltage=slow_voltage,
            temperature=winding,
        )

    full = state(1.0, 0.0)
    share = np.array([kind.share for _ in air for kind in kinds] + [0.0] * len(cases))[columns]
    given = np.isfinite(full.pack_current) & (share > 0.0)
    mean = float(np.average(full.pack_current[given], weights=share[given])) if given.any() else 0.0
    slow = slow_resistance(train.pack) * mean
    assert build.drive is not None
    power = full.pack_voltage * full.pack_current
    return Flown(
        names=tuple(loads.names[at] for at in columns),
        rotors=_rotor_names(build, kinds, air),
        speed=speed,
        thrust=thrust,
        torque=torque,
        full=full,
        low=state(build.drive.battery.reserve, slow),
        slow_voltage=slow,
        power=power,
        thrust_per_power=thrust_per_power(thrust.sum(axis=-1), power),
    )


def _bases(
    build: Build, kinds: tuple[Kind, ...], air: tuple[Weather, ...], columns: NDArray[np.intp]
) -> tuple[NDArray[np.intp], FloatArray]:
    """Row of the condition that each comes out of, itself where it lasts, and how long it takes, s, [C]."""
    row = {int(column): at for at, column in enumerate(columns)}
    base, lasts = np.arange(columns.size), np.full(columns.size, np.inf)
    named = {kind.name: at for at, kind in enumerate(kinds)}
    for at, column in enumerate(columns):
        weather, place = divmod(int(column), len(kinds))
        if weather >= len(air):
            case = build.flying.cases[int(column) - len(air) * len(kinds)]
            if case.lasts > 0.0:
                base[at], lasts[at] = row[named["hover"]], case.lasts
        elif kinds[place].base:
            base[at] = row[weather * len(kinds) + named[kinds[place].base]]
            lasts[at] = kinds[place].lasts or build.flying.events.manoeuvre_time
    return base, lasts


def _windings(
    train: PowerTrain,
    speed: FloatArray,
    torque: FloatArray,
    warmth: FloatArray,
    base: NDArray[np.intp],
    lasts: FloatArray,
) -> FloatArray:
    """Temperature (K) of the windings, [C, N]: of steady work, or at the end of a manoeuvre out of it."""
    motor = motor_state(train.motor, speed, torque)
    heated = (motor.copper, motor.iron, train.thermal_resistance)
    steady = steady_temperature(*heated, warmth[:, np.newaxis])
    brief = np.isfinite(lasts)
    after = temperature_after(
        steady[base],
        np.where(brief, lasts, 0.0)[:, np.newaxis],
        *heated,
        train.heat_capacity,
        warmth[:, np.newaxis],
    )
    return np.where(brief[:, np.newaxis], after, steady)


def _ratios(build: Build, found: Trimmed) -> FloatArray:
    """Thrust of each rotor over that of the hardest, [K, N]."""
    if found.trim is None:
        return np.ones((found.ratio.size, build.aircraft.rotors))
    thrust = found.trim.thrust
    return np.asarray(thrust / thrust.max(axis=-1, keepdims=True))


def _rotor_names(build: Build, kinds: tuple[Kind, ...], air: tuple[Weather, ...]) -> tuple[str, ...]:
    frame = trimmed(build, kinds, air)[0].frame
    return tuple(f"{at + 1}" for at in range(build.aircraft.rotors)) if frame is None else frame.names
