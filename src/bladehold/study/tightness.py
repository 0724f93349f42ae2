"""How tight the pivot of a build may be set, over its temperatures, and which change widens the window most.

Lower bound: the blade must not flop. Upper bounds: it straightens at idle, blades rest near enough to one
angle for the balance grade, a hand can fold it. Bounds that contradict the lower one at any tightness are
told and set aside, so that the rest is still answered: no construction can mend them.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import asdict, dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from bladehold.blade import friction_tolerance, straightening_friction, straightening_speed
from bladehold.joint import setting
from bladehold.joint import tightness as limits
from bladehold.sheet.build import Build
from bladehold.study.blade_folding import Folding
from bladehold.study.pivot_clamp import PivotClamp, pivot_clamp
from bladehold.tables import material, property_class

FloatArray = NDArray[np.float64]

SPRING_RATE = 800e3
"""Stack of spring washers that is tried, N/m: usual for such pivots; common practice, no source."""
BUSH_PROUD, BUSH_WALL = 0.1e-3, 1.0e-3
"""By how much the bush that is tried is longer than the lug, and its wall where there was none, m."""
BUSH_MATERIAL = "C45"
SCREWS = ("8.8", "A2-70", "Ti-6Al-4V")
SEASONS = (2, 4)
AS_BUILT = "as built"


@dataclass(frozen=True)
class Bound:
    """A greatest friction moment (N*m) and whether a blade that holds itself up can be below it."""

    name: str
    moment: float
    possible: bool


@dataclass(frozen=True)
class Way:
    """One construction or way of working: the window it leaves by torque and by spring balance.

    gain - preload for each kelvin, N/K; creep - share lost between settings; torque_least, torque_greatest -
    N*m; torque_width - greatest over least, below 1 where no torque serves; pull_least, pull_greatest - N at
    the tip; pull_width; least_at, greatest_at - temperatures, K, that set the ends of the torque window;
    by_strength - whether its upper end is what the screw bears, not what the blade may.
    With several settings a year, the figures are those of the narrowest.
    """

    name: str
    carried_by: str
    gain: float
    creep: float
    torque_least: float
    torque_greatest: float
    torque_width: float
    pull_least: float
    pull_greatest: float
    pull_width: float
    least_at: float
    greatest_at: float
    by_strength: bool

    @property
    def width(self) -> float:
        """The wider of the two ways of setting."""
        return max(self.torque_width, self.pull_width)

    @property
    def torque_middle(self) -> float:
        """The torque that is as many times above the least as it is below the greatest, N*m."""
        return math.sqrt(self.torque_least * self.torque_greatest)


@dataclass(frozen=True)
class Tightness:
    """How tight the pivot may be.

    least_moment - N*m, keeps the blade from flopping; bounds - from above; governing - name of the one in
    force, None where none is possible; straightens_at - rotation speed, rad/s, at which a blade held with the
    least moment straightens, infinite where it never does; temperatures - K: coldest, at setting, warmest;
    preload_least, preload_greatest - N, moment_least, moment_greatest - N*m, at these, with the torque of the
    sheet, None without one; measured - N*m, friction found with a spring balance; measured_serves - whether
    it stays within the bounds in force at all temperatures; ways - as built first.
    """

    least_moment: float
    bounds: tuple[Bound, ...]
    governing: str | None
    straightens_at: float
    temperatures: tuple[float, float, float]
    preload_least: tuple[float, ...] | None
    preload_greatest: tuple[float, ...] | None
    moment_least: tuple[float, ...] | None
    moment_greatest: tuple[float, ...] | None
    measured: float | None
    measured_serves: bool | None
    ways: tuple[Way, ...]

    @property
    def as_built(self) -> Way:
        """The window of the build as it is."""
        return self.ways[0]

    @property
    def best_by_torque(self) -> Way:
        """The change that leaves the widest window of torque; as built where none widens it."""
        return max(self.ways, key=lambda way: way.torque_width)

    @property
    def best_by_pull(self) -> Way:
        """The change that leaves the widest window by spring balance; as built where none widens it."""
        return max(self.ways, key=lambda way: way.pull_width)

    @property
    def verdict(self) -> str:
        """What serves, or by how much it fails and what would come nearest; what no tightness gives."""
        out = " and ".join(f"'{bound.name}'" for bound in self.bounds if not bound.possible)
        if self.governing is None:
            return f"no tightness serves: one that holds the blade up breaks {out}"
        aside = f"; no tightness gives {out} too" if out else ""
        return f"{_serving(self.ways)}{aside}"

    def as_dict(self) -> dict[str, Any]:
        """Plain data, SI; what is infinite is None."""
        plain = asdict(self) | {
            "verdict": self.verdict,
            "best_by_torque": self.best_by_torque.name,
            "best_by_pull": self.best_by_pull.name,
        }
        return dict(_finite(plain))


def tightness(build: Build, folds: Folding | None) -> Tightness | None:
    """Return how tight the pivot of a build may be; None where its blades do not fold or nothing clamps.

    Arguments: build; folds - its folding, from `blade_folding.folding`. The clamp's share of the friction
    alone is set by tightness: the pin's, from the centrifugal force at its greatest, is taken off the
    upper bounds.
    """
    built = pivot_clamp(build)
    if folds is None or built is None:
        return None
    wanted = build.setting
    first = float(folds.blade.first_moment.max())
    least = float(limits.drooping_moment(first, wanted.handling))
    bounds = tuple(Bound(name, max(moment, 0.0), moment >= least) for name, moment in _bounds(build, folds))
    possible = [bound for bound in bounds if bound.possible]
    governing = min(possible, key=lambda bound: bound.moment) if possible else None
    most = governing.moment if governing else least
    at = _temperatures(build)
    ways = tuple(_ways(build, built, least, most, _lever(build)))
    measured = build.propeller.structure.pivot_friction
    inside = limits.pull_window(
        least,
        most,
        built.clamp,
        at - at[1],
        relaxation=built.spread.relaxation,
        greatest_preload=built.strength,
    )
    now = _as_set(build, built, at - at[1])
    straight = folds.hover_band.without_friction + wanted.straight_angle
    held = replace(folds.blade, clamp_friction=np.full_like(folds.blade.clamp_friction, least))
    return Tightness(
        least_moment=least,
        bounds=bounds,
        governing=governing.name if governing else None,
        straightens_at=float(straightening_speed(held, straight).max()),
        temperatures=(float(at[0]), float(at[1]), float(at[2])),
        preload_least=now[0],
        preload_greatest=now[1],
        moment_least=now[2],
        moment_greatest=now[3],
        measured=measured,
        measured_serves=None
        if measured is None or governing is None
        else bool(inside.moment_least <= measured <= inside.moment_greatest),
        ways=ways,
    )


def window_at(build: Build, found: Tightness, temperature: float) -> Way:
    """Return the window of a build as it is, set at another temperature (K) than the sheet's.

    Arguments: build; found - its tightness, whose bounds hold at any temperature; temperature. Errors:
    ValueError where nothing clamps.
    """
    changed = replace(build, setting=replace(build.setting, temperature=temperature))
    built = pivot_clamp(changed)
    if built is None:
        raise ValueError("nothing clamps the pivot: there is no window to tell")
    most = next((one.moment for one in found.bounds if one.name == found.governing), found.least_moment)
    at = _temperatures(changed)[np.newaxis, :]
    return _way(AS_BUILT, built, found.least_moment, most, _lever(build), at - at[:, 1:2], at)


def _bounds(build: Build, folds: Folding) -> Iterator[tuple[str, float]]:
    """Greatest moments of the clamp, N*m, by name; may be below 0."""
    straight = folds.hover_band.without_friction + build.setting.straight_angle
    idle = straightening_friction(folds.blade, build.flying.idle, straight)
    yield "straightens at idle", float(idle.min())
    pin = folds.blade.friction_constant * folds.hover**2
    rest = friction_tolerance(folds.blade, folds.hover, folds.tolerance) - pin
    yield "balance grade in hover", float(rest.min())
    yield "folds by hand", float(limits.hand_moment(build.setting.hand_force, _lever(build)))


def _lever(build: Build) -> float:
    """From pivot to blade tip, m."""
    return build.propeller.diameter / 2.0 - build.hub.pivot_radius


def _temperatures(build: Build) -> FloatArray:
    """Coldest, at setting, warmest, K; the setting counts as an end where it is one."""
    at = build.setting.temperature
    return np.array([min(build.flying.temperature_min, at), at, max(build.flying.temperature_max, at)])


def _as_set(build: Build, built: PivotClamp, change: FloatArray) -> tuple[tuple[float, ...] | None, ...]:
    """Least and greatest preload, N, and friction moment, N*m, at temperatures, with the sheet's torque."""
    torque = build.pivot.tightening.torque
    if torque <= 0.0:
        return (None,) * 4
    start = setting.preload_limits(torque, built.spread)
    low, high = (preload_at for preload_at in (start.minimum, start.maximum))
    forces = [limits.preload_at(force, built.gain, change) for force in (low, high)]
    moments = (
        limits.clamp_moment(built.faces(forces[0]), built.clamp, 0.0).minimum,
        limits.clamp_moment(high, built.clamp, change).maximum,
    )
    return tuple(tuple(float(value) for value in values) for values in (*forces, *moments))


def _ways(build: Build, built: PivotClamp, least: float, most: float, lever: float) -> Iterator[Way]:
    """As built, each change alone, the pivot set anew by season, and the useful changes together."""
    at = _temperatures(build)
    year = (at - at[1])[np.newaxis, :]
    yield _way(AS_BUILT, built, least, most, lever, year, at[np.newaxis, :])
    if np.any(np.asarray(built.spread.prevailing_high) > 0.0):
        yield _way("torque above the running torque", _run_in(built), least, most, lever, year, at[None, :])
    for name, changed in constructions(build):
        other = pivot_clamp(changed)
        if other is not None:
            yield _way(name, other, least, most, lever, year, at[np.newaxis, :])
    if build.pivot.reachable is not False and at[2] > at[0]:
        for parts in SEASONS:
            middle, change = limits.seasons(float(at[0]), float(at[2]), parts)
            name = f"set anew {parts} times a year, by season"
            often = pivot_clamp(build, parts) or built
            yield _way(name, often, least, most, lever, change, middle[:, np.newaxis] + change)
    every = pivot_clamp(_sprung(_bushed(build)))
    if every is not None:
        name = "longer bush, spring washers, torque above the running torque"
        yield _way(name, _run_in(every), least, most, lever, year, at[np.newaxis, :])


def constructions(build: Build) -> Iterator[tuple[str, Build]]:
    """Changes of the pivot that are tried one at a time: name and the build with it."""
    if np.isinf(build.pivot.spring_rate):
        yield f"spring washers, {SPRING_RATE / 1e3:.0f} N/mm", _sprung(build)
    yield "bush longer than the lug", _bushed(build)
    for name in SCREWS:
        if name != build.pivot.strength.name:
            strength = property_class(name)
            yield f"screw of {name}", replace(build, pivot=replace(build.pivot, strength=strength))


def _sprung(build: Build) -> Build:
    """The build with spring washers on the pivot screw, its own where it has some."""
    rate = min(build.pivot.spring_rate, SPRING_RATE)
    return replace(build, pivot=replace(build.pivot, spring_rate=rate))


def _bushed(build: Build) -> Build:
    """The build with a metal bush that is longer than the lug and takes the clamp."""
    hub = build.hub
    changed = replace(
        hub,
        bush_diameter=hub.bush_diameter or hub.lug_hole + 2.0 * BUSH_WALL,
        bush_material=hub.bush_material or material(BUSH_MATERIAL),
        bush_length=max(hub.bush_length, hub.lug_thickness + BUSH_PROUD),
    )
    return replace(build, hub=changed)


def _run_in(built: PivotClamp) -> PivotClamp:
    """The clamp when the running torque of the nut is measured and the setting is given above it."""
    return replace(built, spread=replace(built.spread, prevailing_low=0.0, prevailing_high=0.0))


def _way(
    name: str,
    built: PivotClamp,
    least: float,
    most: float,
    lever: float,
    change: FloatArray,
    temperature: FloatArray,
) -> Way:
    """The window of one clamp; change from setting and temperature, K, [settings, T]."""
    strength, lost = built.strength, built.spread.relaxation
    rub = 2.0 * float(np.asarray(built.clamp.friction_low)) * float(np.asarray(built.clamp.radius))
    asked = least + rub * built.eaten(least / rub)
    torque = limits.window(asked, most, built.clamp, built.spread, change, greatest_preload=strength)
    pull = limits.pull_window(least, most, built.clamp, change, relaxation=lost, greatest_preload=strength)
    by_torque, by_pull = int(np.argmin(torque.width)), int(np.argmin(pull.width))
    force = pull.pull(lever)
    return Way(
        name=name,
        carried_by=built.stack.carried_by,
        gain=built.gain,
        creep=built.creep,
        torque_least=float(torque.torque_least[by_torque]),
        torque_greatest=float(torque.torque_greatest[by_torque]),
        torque_width=float(torque.width[by_torque]),
        pull_least=float(force.minimum[by_pull]),
        pull_greatest=float(force.maximum[by_pull]),
        pull_width=float(pull.width[by_pull]),
        least_at=float(temperature[by_torque, torque.limits_least[by_torque]]),
        greatest_at=float(temperature[by_torque, torque.limits_greatest[by_torque]]),
        by_strength=bool(limits.clamp_moment(strength, built.clamp, 0.0).maximum < most),
    )


def _serving(ways: tuple[Way, ...]) -> str:
    """What serves as built, else of the ways tried, in words."""
    now, best = ways[0], max(ways, key=lambda way: way.width)
    if now.torque_width >= 1.0:
        return f"a torque of {now.torque_least:.2f} to {now.torque_greatest:.2f} N*m serves"
    lead = f"no torque serves, {_shortfall(now)}"
    if now.pull_width >= 1.0:
        return f"{lead}; set by a pull of {now.pull_least:.2f} to {now.pull_greatest:.2f} N at the tip"
    if best.width < 1.0:
        return f"{lead}, and nothing tried here serves; nearest comes: {best.name}"
    how = "by torque" if best.torque_width >= 1.0 else "by a pull at the tip"
    return f"{lead}, nor does a pull at the tip; it can be set {how} with: {best.name}"


def _shortfall(way: Way) -> str:
    """By how much the ends of a torque window fail to meet, in words."""
    if way.torque_width <= 0.0:
        return "not the smallest one"
    return f"the least is {1.0 / way.torque_width:.2g} times the greatest"


def _finite(value: Any) -> Any:
    """The same data with infinite numbers as None and tuples as lists."""
    if isinstance(value, dict):
        return {key: _finite(item) for key, item in value.items()}
    if isinstance(value, (list, tuple)):
        return [_finite(item) for item in value]
    if isinstance(value, float) and not np.isfinite(value):
        return None
    return value
