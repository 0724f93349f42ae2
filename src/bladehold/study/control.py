"""Whether the aircraft stays up when a rotor is lost or gives less: what the others can, and their hubs."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bladehold.air import GRAVITY, air_at
from bladehold.aircraft import (
    HoverThrusts,
    attainable_index,
    attainable_reach,
    commanded,
    effectiveness,
    hover_thrusts,
    without_yaw,
)
from bladehold.power import drive_state, reach, slow_resistance
from bladehold.sheet.build import Build
from bladehold.sheet.build_flying import Drive
from bladehold.study.assess import weakest
from bladehold.study.drive import greatest_thrusts
from bladehold.study.kinds import kinds_of, weathers
from bladehold.study.loads import loads_of
from bladehold.study.power_train import hover_curve, power_train
from bladehold.study.situation import Situation
from bladehold.study.trimmed import trimmed

FloatArray = NDArray[np.float64]

HELD, SPINNING, NOT_HELD = "held", "held while it spins", "not held"
"""Hover in steady air: with all moments, with yaw given up, or not at all."""
_STEERING = 1e-6  # of the index of the whole aircraft: below, nothing is left to steer with
_TILT = np.radians(30.0)
"""How far a rotor that steers is tilted to a side at most: common practice, no source."""


class NoControlError(ValueError):
    """A sheet of which it cannot be told what its rotors can give, or where they stand."""


@dataclass(frozen=True, eq=False)
class RotorOut:
    """One rotor that gives a share of what it could, 0 for a lost one.

    rotor - its name; left - the share; index, index_without_yaw - how far hover lies inside what the others
    can, N and N*m, below 0 outside; hover - HELD, SPINNING or NOT_HELD; thrust - of every rotor, N, the
    hardest spared most, None where hover is not held; share - of the ceiling that the hardest gives then.
    """

    rotor: str
    left: float
    index: float
    index_without_yaw: float
    hover: str
    thrust: FloatArray | None
    share: float

    @property
    def hardest(self) -> float:
        """Greatest thrust that a rotor must give, N; infinite where hover is not held."""
        return float("inf") if self.thrust is None else float(self.thrust.max())


@dataclass(frozen=True, eq=False)
class ControlAnswer:
    """What is left of control, in still air at the mass of the sheet.

    ceiling - greatest thrust of a rotor for a moment, N, and ceiling_from - what sets it; lasting - until its
    windings are warm, N, infinite where not known; weight - lift of hover, N; index,
    index_without_yaw - of the whole aircraft; out - each rotor lost, one at a time; matrix - lift and moments
    of unit thrusts, [4, N], names - of the rotors; margin - smallest of strength of the hubs that carry on,
    at the greatest thrust that any loss leaves hover with, part - that has it, at - that thrust, N; margin is
    None where no loss leaves hover; full_throttle - speed of turning in hover with a full battery, rad/s,
    None where the sheet has no motor and battery.
    """

    build: Build
    ceiling: float
    ceiling_from: str
    lasting: float
    weight: float
    index: float
    index_without_yaw: float
    out: tuple[RotorOut, ...]
    matrix: FloatArray
    names: tuple[str, ...]
    margin: float | None
    part: str
    at: float
    full_throttle: float | None

    @property
    def worst(self) -> RotorOut:
        """The rotor whose loss leaves least."""
        return min(self.out, key=lambda one: (_RANKS.index(one.hover), one.index, one.index_without_yaw))

    def degraded(self, rotor: int, left: float) -> RotorOut:
        """Return what one rotor does that gives a share of its ceiling. Arguments: rotor - place; left."""
        return _out(self.matrix, self.names, self.ceiling, self.weight, rotor, left, self.index)

    def moments(self, rotor: int, left: float, *, yaw: bool) -> FloatArray:
        """Return the greatest roll and pitch moments about hover, N*m, round the compass, [WAYS, 2].

        Arguments: rotor - that gives a share, left; yaw - whether no yaw moment is asked, or any is accepted.
        All 0 where hover itself is not within reach.
        """
        rows = self.matrix if yaw else without_yaw(self.matrix)
        turn = np.linspace(0.0, 2.0 * np.pi, WAYS)
        ways = np.zeros((WAYS, len(rows)))
        ways[:, 1], ways[:, 2] = np.cos(turn), np.sin(turn)
        bounds = _bounds(self.matrix, len(self.names), self.ceiling, rotor, left)
        start = np.zeros(len(rows))
        start[0] = self.weight
        far = attainable_reach(rows, *bounds, start, ways)
        return np.asarray(far[:, np.newaxis] * ways[:, 1:3])


WAYS = 121
"""Directions of the moments that are looked at, the last one the first again."""
_RANKS = (NOT_HELD, SPINNING, HELD)


def control_answer(build: Build) -> ControlAnswer:
    """Return whether hover is held with each rotor lost, by what thrusts, and what these do to their hubs.

    The ceiling is what motor and battery give for a moment with the battery at its reserve, where the sheet
    has both, else the maker's rating. Rotors give thrust upward only; how quickly a controller finds the new
    balance, wind and the fall until then are not looked at.
    Errors: NoControlError; ValueError from the rotor when a thrust cannot be reached.
    """
    kinds, air = kinds_of(build), weathers(build)
    hover = next(at for at, kind in enumerate(kinds) if kind.name == "hover")
    found = trimmed(build, kinds, air)[0]
    if found.frame is None or found.trim is None:
        raise NoControlError("rotors that cannot balance the aircraft by their speeds leave nothing to tell")
    can = _ceiling(build, found.trim.thrust[hover])
    ceiling = can.now
    ratio = found.trim.torque[hover] / found.trim.thrust[hover]
    matrix, names = commanded(effectiveness(found.frame, ratio)), found.frame.names
    # What hover takes as measured may be more than the weight: the rotors blow down on the frame.
    weight = max(build.aircraft.mass * GRAVITY, build.aircraft.rotors * build.flying.used_thrust)
    whole = _out(matrix, names, ceiling, weight, 0, 1.0, np.inf)
    out = tuple(_out(matrix, names, ceiling, weight, at, 0.0, whole.index) for at in range(len(names)))
    hardest = max((one.hardest for one in out if one.thrust is not None), default=0.0)
    margin, part = (None, "") if hardest == 0.0 else _hubs(build, hardest)
    return ControlAnswer(
        build=build,
        ceiling=ceiling,
        ceiling_from=can.why,
        lasting=can.lasting,
        weight=weight,
        index=whole.index,
        index_without_yaw=whole.index_without_yaw,
        out=out,
        matrix=matrix,
        names=names,
        margin=margin,
        part=part,
        at=hardest,
        full_throttle=can.full_throttle,
    )


@dataclass(frozen=True)
class _Ceiling:
    """Greatest thrust of a rotor for a moment and lasting, N, what sets it, and speed at full throttle with a
    full battery, rad/s, None where not known.
    """

    now: float
    lasting: float
    why: str
    full_throttle: float | None = None


def _ceiling(build: Build, hover: FloatArray) -> _Ceiling:
    """What a rotor can give; hover - thrusts then, N."""
    if build.drive is not None:
        return _driven(build, build.drive, hover)
    if build.flying.claimed_thrust is not None:
        return _Ceiling(build.flying.claimed_thrust, np.inf, "the maker's rating")
    raise NoControlError("neither [motor] and [battery] nor flying.claimed_thrust say what a rotor can give")


def _driven(build: Build, drive: Drive, hover: FloatArray) -> _Ceiling:
    """Thrust at the speed that motor and battery allow for a moment, and until the windings are warm.

    The slow branch of the battery has settled to the current of hover; a full one has only been connected.
    """
    train, warm = power_train(build, drive), weathers(build)[0]
    air_temperature = float(warm.temperature)
    curve = hover_curve(build, air_at(warm.altitude, warm.temperature, build.air.humidity))
    speed = curve.speed_for(hover)
    now = drive_state(train, speed, curve.torque_at(speed), 1.0, air_temperature=air_temperature)
    reserve = drive.battery.reserve
    found = reach(
        train,
        curve.torque_at,
        build.aircraft.rotors,
        curve.fastest,
        np.array([reserve, 1.0]),
        air_temperature=air_temperature,
        slow_voltage=slow_resistance(train.pack) * float(now.pack_current) * np.array([1.0, 0.0]),
    )
    low, full = greatest_thrusts(build, curve, found, (reserve, 1.0))
    why = "motor and battery at its reserve, for a moment"
    return _Ceiling(low.thrust, low.lasting, why, full.speed)


def _out(
    matrix: FloatArray,
    names: tuple[str, ...],
    ceiling: float,
    weight: float,
    rotor: int,
    left: float,
    whole: float,
) -> RotorOut:
    least, greatest = _bounds(matrix, len(names), ceiling, rotor, left)
    wanted = np.array([weight, 0.0, 0.0, 0.0])
    index = attainable_index(matrix, least, greatest, wanted)
    free = attainable_index(without_yaw(matrix), least, greatest, wanted[:3])
    # On the boundary itself hover has nothing left to steer with.
    enough = _STEERING * whole if np.isfinite(whole) else 0.0
    hover = HELD if index > enough else SPINNING if free > enough else NOT_HELD
    rows = {HELD: matrix, SPINNING: without_yaw(matrix)}.get(hover)
    found: HoverThrusts | None = None
    if rows is not None and matrix.shape[-1] == len(names):
        found = hover_thrusts(rows, greatest, weight)
    return RotorOut(
        rotor=names[rotor],
        left=left,
        index=index,
        index_without_yaw=free,
        hover=hover,
        thrust=None if found is None else found.thrust,
        share=float("nan") if found is None else found.share,
    )


def _bounds(
    matrix: FloatArray, rotors: int, ceiling: float, rotor: int, left: float
) -> tuple[FloatArray, FloatArray]:
    """Least and greatest of every column of the matrix, N, with one rotor that gives a share."""
    least, greatest = np.zeros(rotors), np.full(rotors, ceiling)
    greatest[rotor] *= left
    if matrix.shape[-1] > rotors:  # the side force of a rotor that steers
        side = ceiling * np.sin(_TILT)
        least, greatest = np.append(least, -side), np.append(greatest, side)
    return least, greatest


def _hubs(build: Build, thrust: float) -> tuple[float, str]:
    """The smallest margin of strength of a hub in hover at a thrust, and the check that has it."""
    hover = tuple(kind for kind in kinds_of(build) if kind.name == "hover")
    loads = loads_of(build, thrust / build.flying.used_thrust, hover)
    return weakest(Situation(build, loads))
