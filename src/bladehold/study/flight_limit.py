"""How fast and how hard an aircraft may be flown with the hardware it has, part by part."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bladehold.rotor.bracket import bracketed_root
from bladehold.sheet.build import Build
from bladehold.study.by_kind import margins_by_kind, pulled
from bladehold.study.kinds import Kind

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.intp]

_POINTS = 6  # of the coarse row
_BEYOND = 2.0  # times the greatest speed and load factor of the sheet, looked at
_LEAST_SPEED = 10.0  # m/s, taken for that of a sheet that stands still
_SHRINK, _TRIES = 0.8, 10  # where the rotor or the balance gives no more
_CLOSE = 1e-4  # of log(1 + margin)


@dataclass(frozen=True)
class FlightLimit:
    """How far one part goes: speed - m/s, at the load factor of the sheet; load_factor - at its top speed.

    0 where the part does not hold even at the least that is looked at, infinite where nothing looked at
    breaks it.
    """

    part: str
    speed: float
    load_factor: float


@dataclass(frozen=True)
class FlightLimits:
    """parts - the one that limits the speed first; asked - top speed, m/s, and load factor of the sheet;
    greatest - of both, that were looked at: beyond them the rotor gives no more or nobody asks.
    """

    parts: tuple[FlightLimit, ...]
    asked: tuple[float, float]
    greatest: tuple[float, float]

    @property
    def speed(self) -> FlightLimit:
        """The part that limits the speed."""
        return min(self.parts, key=lambda part: part.speed)

    @property
    def load_factor(self) -> FlightLimit:
        """The part that limits the load factor."""
        return min(self.parts, key=lambda part: part.load_factor)


def flight_limits(build: Build) -> FlightLimits:
    """Find, for every part, the level speed and the load factor at which its smallest margin is zero.

    Speed: level flight pulled up to the load factor of the sheet while turning at its pitch rate; load
    factor: the same at the sheet's top speed, from level flight on. The first fall through zero is the one
    found. Errors: ValueError when not even hover pulled up, or level flight at top speed, can be flown.
    """
    top, factor = build.flying.top_speed, build.flying.load_factor
    most = _BEYOND * max(top, _LEAST_SPEED / _BEYOND)
    by_speed, fastest = _searched(build, lambda v: pulled(v, factor), 0.0, most)
    by_factor, hardest = _searched(build, lambda n: pulled(top, n), 1.0, _BEYOND * factor)
    parts = [FlightLimit(name, by_speed[name], by_factor[name]) for name in by_speed]
    parts.sort(key=lambda part: (part.speed, part.load_factor))
    return FlightLimits(tuple(parts), (top, factor), (fastest, hardest))


def _searched(
    build: Build, flown: Callable[[float], Kind], least: float, greatest: float
) -> tuple[dict[str, float], float]:
    """Limit of every part between two values of what varies, and the greatest value that could be flown."""
    values, table = _coarse(build, flown, least, greatest)
    names = tuple(table)
    rows = np.array([table[name] for name in names])
    found = {
        name: 0.0 if row[0] < 0.0 else math.inf
        for name, row in zip(names, rows, strict=True)
        if row[0] < 0.0 or row.min() >= 0.0
    }
    sought = [at for at, name in enumerate(names) if name not in found]
    if sought:
        first = np.argmax(rows[sought] < 0.0, axis=1)
        row = np.array(sought)

        def log_margins(x: FloatArray, which: IntArray) -> FloatArray:
            margins = margins_by_kind(build, tuple(flown(float(one)) for one in x))
            return np.array([_log(margins[names[row[at]]][place]) for place, at in enumerate(which)])

        roots = bracketed_root(
            log_margins,
            values[first - 1],
            values[first],
            rows[row, first - 1],
            rows[row, first],
            tolerance=_CLOSE,
        )
        found |= {names[at]: float(root) for at, root in zip(sought, roots, strict=True)}
    return {name: found[name] for name in names}, float(values[-1])


def _coarse(
    build: Build, flown: Callable[[float], Kind], least: float, greatest: float
) -> tuple[FloatArray, dict[str, FloatArray]]:
    """Values of the coarse row, and log(1 + margin) of every part at them."""
    for attempt in range(_TRIES):
        values = np.linspace(least, greatest, _POINTS)
        try:
            margins = margins_by_kind(build, tuple(flown(float(one)) for one in values))
        except ValueError:
            if attempt == _TRIES - 1:
                raise
            greatest = least + _SHRINK * (greatest - least)
        else:
            return values, {name: _log(margin) for name, margin in margins.items()}
    raise AssertionError("the last try returns or raises")


def _log(margin: FloatArray) -> FloatArray:
    return np.asarray(np.log(np.maximum(1.0 + np.minimum(margin, 1e9), 1e-12)))
