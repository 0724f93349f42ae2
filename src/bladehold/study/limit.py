"""Limit: the largest thrust and speed that the hardware holds as it is, part by part."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bladehold.sheet.build import Build
from bladehold.study.assess import margins
from bladehold.study.loads import Loads, loads_of
from bladehold.study.situation import Situation

FloatArray = NDArray[np.float64]

COARSE = np.geomspace(0.02, 20.0, 19)
_STEPS = 6
_CLOSE = 1e-5  # of the thrust scale; a limit is quoted to three figures


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

    All thrusts of all conditions (the user's cases too) grow in the same ratio; speeds of flight, air and
    shares stay. The root is bracketed on a coarse row of ratios, then closed in by the secant on
    log(1 + margin) against log(ratio), which is nearly a straight line.
    Arguments: build. Returns Limit.
    """
    ratios, table = _coarse(build)
    names = tuple(table)
    rows = np.array([table[name] for name in names])  # [parts, ratios]
    low, high, state = _brackets(ratios, rows)
    ratio = _closed_in(build, names, low, high, state)
    loads = loads_of(build, np.where(np.isfinite(ratio) & (ratio > 0), ratio, 1.0))
    parts = [_part_limit(build, name, ratio[place], loads, place) for place, name in enumerate(names)]
    parts.sort(key=lambda part: part.thrust)
    return Limit(tuple(parts), build.flying.used_thrust, build.flying.claimed_thrust)


def _coarse(build: Build) -> tuple[FloatArray, dict[str, FloatArray]]:
    """Margins of all parts on the coarse ratios, as far up as the rotor can make the thrust."""
    ratios = COARSE
    while True:
        try:
            return ratios, margins(Situation(build, loads_of(build, ratios)))
        except ValueError:
            if ratios.size <= 2:
                raise
            ratios = ratios[:-1]


def _brackets(ratios: FloatArray, rows: FloatArray) -> tuple[FloatArray, FloatArray, NDArray[np.int_]]:
    """First fall through zero of each row: both its ratios; state -1 never holds, 0 found, 1 never fails."""
    failing = rows < 0.0
    first = np.argmax(failing, axis=1)
    state = np.where(failing[:, 0], -1, np.where(failing.any(axis=1), 0, 1))
    return ratios[np.maximum(first - 1, 0)], ratios[first], state


def _closed_in(
    build: Build, names: tuple[str, ...], low: FloatArray, high: FloatArray, state: NDArray[np.int_]
) -> FloatArray:
    """The ratio of thrust at which each part's margin is zero; 0 and infinity where there is none."""
    x_low, x_high = np.log(low), np.log(high)
    y_low, y_high = _logs(build, names, x_low), _logs(build, names, x_high)
    for _ in range(_STEPS):
        slope = np.where(y_high != y_low, y_high - y_low, -1.0)
        new = np.clip(x_low - y_low * (x_high - x_low) / slope, x_low, x_high)
        y_new = _logs(build, names, new)
        below = y_new >= 0.0
        # The end that stays is moved half way in log-margin, so that neither end gets stuck (Illinois).
        y_high = np.where(below, y_high / 2, y_new)
        y_low = np.where(below, y_new, y_low / 2)
        x_low, x_high = np.where(below, new, x_low), np.where(below, x_high, new)
        if np.all((state != 0) | (np.abs(y_new) < _CLOSE)):
            break
    ratio = np.exp(new)
    return np.where(state < 0, 0.0, np.where(state > 0, np.inf, ratio))


def _logs(build: Build, names: tuple[str, ...], x: FloatArray) -> FloatArray:
    """log(1 + margin) of part i at ratio exp(x[i])."""
    found = margins(Situation(build, loads_of(build, np.exp(x))))
    diagonal = np.array([found[name][place] for place, name in enumerate(names)])
    return np.asarray(np.log(np.maximum(1.0 + np.minimum(diagonal, 1e9), 1e-12)), dtype=float)


def _part_limit(build: Build, name: str, ratio: float, loads: Loads, place: int) -> PartLimit:
    if not np.isfinite(ratio) or ratio <= 0.0:
        return PartLimit(name, ratio * build.flying.used_thrust if ratio else 0.0, ratio, float("nan"))
    return PartLimit(
        part=name,
        thrust=float(ratio * build.flying.used_thrust),
        peak_thrust=float(loads.thrust[place].max()),
        speed=float(loads.speed[place].max()),
    )
