"""Limit: the largest thrust and speed that the hardware holds as it is, part by part."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bladehold.air import speed_of_sound
from bladehold.rotor import FASTEST_TIP_MACH
from bladehold.rotor.bracket import bracketed_root
from bladehold.sheet.build import Build
from bladehold.study.assess import margins, outcomes
from bladehold.study.checks import STRENGTH
from bladehold.study.kinds import Kind, kinds_of, weathers
from bladehold.study.loads import Loads, loads_of
from bladehold.study.situation import Situation

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.intp]

_SMALLEST = 0.02  # of the thrusts in the sheet
_POINTS = 6  # of the coarse row of ratios
_NEAR = 0.2  # of the spread of what conditions ask of a check: within it one may yet govern
_NOTHING = 1e-12  # of what is asked, for parts that hold nothing at all
_CLOSE = 5e-5  # of the thrust; a limit is quoted to three figures


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
    """The limits of all parts, lowest first, and the maker's claim they are compared with.

    Of parts that hold nothing the weakest at the sheet's thrust is first.
    """

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


def limit(build: Build, loads: Loads | None = None) -> Limit:
    """Find, for every part, the steady thrust at which its smallest margin is zero.

    The thrust used, and those of the user's cases, grow in the same ratio; speeds and tilts stay. The root is
    bracketed on a coarse row of ratios, then closed in on log(1 + margin) against log(ratio), which is nearly
    a straight line.
    Arguments: build; loads - those of the build if they are known already. Returns Limit.
    """
    now = loads_of(build) if loads is None else loads
    ratios = np.geomspace(_SMALLEST, _reach(build, now), _POINTS)
    coarse = Situation(build, loads_of(build, ratios))
    table = margins(coarse)
    rows = {name: _log_margin(margin) for name, margin in table.items()}
    found = {name: row for name, row in rows.items() if row[0] >= 0.0 and row.min() < 0.0}
    parts = [
        PartLimit(name, 0.0 if row[0] < 0.0 else math.inf, math.nan, math.nan)
        for name, row in rows.items()
        if name not in found
    ]
    if found:
        parts += _closed_in(build, ratios, found, _that_matter(build, coarse))
    as_used = margins(Situation(build, now)) if any(part.thrust == 0.0 for part in parts) else {}
    parts.sort(key=lambda part: (part.thrust, float(as_used[part.part]) if part.thrust == 0.0 else 0.0))
    return Limit(tuple(parts), build.flying.used_thrust, build.flying.claimed_thrust)


def _reach(build: Build, loads: Loads) -> float:
    """Largest ratio of thrust looked at: where the rotor, by thrust ~ speed^2, nears its fastest tip speed.

    Kept a little below, because thrust rises a little less than that near the limit.
    """
    tip_speed = build.propeller.diameter / 2 * loads.speed.max()
    sound = float(speed_of_sound(min(build.flying.temperature_min, build.air.temperature)))
    return float(max(1.5, 0.8 * (FASTEST_TIP_MACH * sound / tip_speed) ** 2))


def _that_matter(build: Build, coarse: Situation) -> tuple[Kind, ...] | None:
    """Kinds of flight that a limit may rest on; None for all, where the user has cases of his own.

    Those whose margin comes near the smallest of any check at one of the coarse ratios, the fastest, the one
    with the most thrust, and what they come out of.
    """
    if build.flying.cases:
        return None
    loads, kinds, air = coarse.loads, kinds_of(build), weathers(build)
    count = len(kinds) * len(air)
    matters = np.zeros(count, dtype=bool)
    for values in (loads.speed, loads.thrust):
        matters[np.unique(values[..., :count].argmax(axis=-1))] = True
    for _, outcome in outcomes(coarse, STRENGTH):
        left = 1.0 + np.broadcast_to(outcome.margin, loads.thrust.shape)[..., :count]
        used = 1.0 / np.maximum(left, _NOTHING)
        most, least = used.max(axis=-1, keepdims=True), used.min(axis=-1, keepdims=True)
        # Where all conditions ask much the same, as of a preload, the hardest still stand out.
        near = most - _NEAR * (most - least)
        matters |= ((used >= near) & (least < 0.999 * most)).any(axis=0)
    names = {kinds[at % len(kinds)].name for at in np.flatnonzero(matters)}
    names |= {kind.base for kind in kinds if kind.name in names}
    return tuple(kind for kind in kinds if kind.name in names)


def _closed_in(
    build: Build, ratios: FloatArray, rows: dict[str, FloatArray], kinds: tuple[Kind, ...] | None
) -> list[PartLimit]:
    """The limits of parts whose log(1 + margin) on the coarse ratios falls through zero once or more.

    Arguments: ratios [K]; rows - the log-margins [K] of each part; kinds - of flight that are looked at. The
    first fall is the one found.
    """
    names = tuple(rows)
    table = np.array([rows[name] for name in names])
    part, first = np.arange(len(names)), np.argmax(table < 0.0, axis=1)
    low, high = np.log(ratios[first - 1]), np.log(ratios[first])

    hardest, fastest = np.full(len(names), np.nan), np.full(len(names), np.nan)

    def log_margins(x: FloatArray, which: IntArray) -> FloatArray:
        loads = loads_of(build, np.exp(x), kinds)
        # The root of a part is the last place tried for it.
        hardest[which], fastest[which] = loads.thrust.max(axis=-1), loads.speed.max(axis=-1)
        sought = {names[at] for at in which}
        margin = margins(Situation(build, loads), tuple(rule for rule in STRENGTH if rule.part in sought))
        return _log_margin(np.array([margin[names[at]][row] for row, at in enumerate(which)]))

    x = bracketed_root(log_margins, low, high, table[part, first - 1], table[part, first], tolerance=_CLOSE)
    untried = np.flatnonzero(np.isnan(hardest))
    if untried.size:
        log_margins(x[untried], untried)
    return [
        PartLimit(
            part=name,
            thrust=float(np.exp(x[place]) * build.flying.used_thrust),
            peak_thrust=float(hardest[place]),
            speed=float(fastest[place]),
        )
        for place, name in enumerate(names)
    ]


def _log_margin(margin: FloatArray) -> FloatArray:
    return np.asarray(np.log(np.maximum(1.0 + np.minimum(margin, 1e9), _NOTHING)), dtype=float)
