"""Limit: the largest thrust and speed that the hardware holds as it is, part by part."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bladehold.air import speed_of_sound
from bladehold.rotor import FASTEST_TIP_MACH
from bladehold.sheet.build import Build
from bladehold.study.assess import margins
from bladehold.study.loads import Loads, loads_of
from bladehold.study.situation import Situation

FloatArray = NDArray[np.float64]

_SMALLEST = 0.02  # of the thrusts in the sheet
_POINTS = 10  # of the coarse row of ratios
_STEPS = 8
_CLOSE = 1e-5  # in log(1 + margin); a limit is quoted to three figures


@dataclass(frozen=True)
class PartLimit:
    """How far one part goes: steady thrust N per rotor, its thrust and speed in the hardest condition.

    thrust is 0 where the part does not hold even unloaded, infinite where nothing within the rotor's
    reach breaks it. speed rad/s is the fastest turning of any condition at that thrust.
    """

    part: str
    thrust: float
    peak_thrust: float
    speed: float


@dataclass(frozen=True)
class Limit:
    """The limits of all parts, lowest first, and the maker's claim they are compared with."""

    parts: tuple[PartLimit, ...]
    used_thrust: float
    claimed_thrust: float | None

    @property
    def lowest(self) -> PartLimit:
        """The part that limits the rotor."""
        return self.parts[0]

    @property
    def share_of_claim(self) -> float | None:
        """Hardest thrust that still holds, over the maker's rating; None without a rating."""
        if not self.claimed_thrust or not np.isfinite(self.lowest.peak_thrust):
            return None
        return self.lowest.peak_thrust / self.claimed_thrust


def limit(build: Build) -> Limit:
    """Find, for every part, the steady thrust at which its smallest margin is zero.

    The thrust used, and those of the user's cases, grow in the same ratio; speeds and tilts stay. The root is
    bracketed on a coarse row of ratios, then closed in by the secant on log(1 + margin) against log(ratio),
    which is nearly a straight line.
    Arguments: build. Returns Limit.
    """
    ratios = np.geomspace(_SMALLEST, _reach(build), _POINTS)
    table = margins(Situation(build, loads_of(build, ratios)))
    names = tuple(table)
    rows = _log_margin(np.array([table[name] for name in names]))  # [parts, ratios]
    ratio = _closed_in(build, names, ratios, rows)
    loads = loads_of(build, np.where(np.isfinite(ratio) & (ratio > 0), ratio, 1.0))
    parts = [_part_limit(build, name, ratio[place], loads, place) for place, name in enumerate(names)]
    parts.sort(key=lambda part: part.thrust)
    return Limit(tuple(parts), build.flying.used_thrust, build.flying.claimed_thrust)


def _reach(build: Build) -> float:
    """Largest ratio of thrust looked at: where the rotor, by thrust ~ speed^2, nears its fastest tip speed.

    Kept a little below, because thrust rises a little less than that near the limit.
    """
    loads = loads_of(build)
    tip_speed = build.propeller.diameter / 2 * loads.speed.max()
    sound = float(speed_of_sound(min(build.flying.temperature_min, build.air.temperature)))
    return float(max(1.5, 0.8 * (FASTEST_TIP_MACH * sound / tip_speed) ** 2))


def _closed_in(build: Build, names: tuple[str, ...], ratios: FloatArray, rows: FloatArray) -> FloatArray:
    """Ratio of thrust at which each part's margin is zero; 0 if it never holds, infinity if it always does.

    Arguments: ratios [K] and rows [parts, K] - log(1 + margin) on the coarse row.
    """
    failing = rows < 0.0
    first = np.maximum(np.argmax(failing, axis=1), 1)
    part = np.arange(len(names))
    x_low, x_high = np.log(ratios[first - 1]), np.log(ratios[first])
    y_low, y_high = rows[part, first - 1], rows[part, first]
    found = failing.any(axis=1) & ~failing[:, 0]
    new = x_low
    for _ in range(_STEPS if found.any() else 0):
        slope = np.where(y_high != y_low, y_high - y_low, -1.0)
        new = np.where(found, np.clip(x_low - y_low * (x_high - x_low) / slope, x_low, x_high), 0.0)
        y_new = _logs(build, names, new)
        if np.all(~found | (np.abs(y_new) < _CLOSE)):
            break
        holds = y_new >= 0.0
        # The end that stays is moved half way in log-margin, so that neither end gets stuck (Illinois).
        y_low, y_high = np.where(holds, y_new, y_low / 2), np.where(holds, y_high / 2, y_new)
        x_low, x_high = np.where(holds, new, x_low), np.where(holds, x_high, new)
    return np.where(failing[:, 0], 0.0, np.where(found, np.exp(new), np.inf))


def _logs(build: Build, names: tuple[str, ...], x: FloatArray) -> FloatArray:
    """log(1 + margin) of part i at ratio exp(x[i])."""
    table = margins(Situation(build, loads_of(build, np.exp(x))))
    return _log_margin(np.array([table[name][place] for place, name in enumerate(names)]))


def _log_margin(margin: FloatArray) -> FloatArray:
    return np.asarray(np.log(np.maximum(1.0 + np.minimum(margin, 1e9), 1e-12)), dtype=float)


def _part_limit(build: Build, name: str, ratio: float, loads: Loads, place: int) -> PartLimit:
    if not np.isfinite(ratio) or ratio <= 0.0:
        return PartLimit(name, ratio * build.flying.used_thrust if ratio else 0.0, ratio, float("nan"))
    return PartLimit(
        part=name,
        thrust=float(ratio * build.flying.used_thrust),
        peak_thrust=float(loads.thrust[place].max()),
        speed=float(loads.speed[place].max()),
    )
