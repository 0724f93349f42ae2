"""Where natural frequencies of a turning blade meet whole multiples of the rotation speed."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bladehold.blade.modes import BladeModes

FloatArray = NDArray[np.float64]

MARGIN = 0.10
"""Distance from an order that is asked for in the running range: common practice, no source."""

ROUNDING = 1e-6
"""Frequency at rest, over the highest one, that counts as 0."""


@dataclass(frozen=True)
class Crossing:
    """A frequency that meets an order: mode - counted from 1 at the lowest; order - multiple of the speed.

    flap - True for a flap mode, False for a lag mode; speed - rad/s; frequency - Hz; inside - in the running
    range; distance - from the nearer end of that range, over the speed there, negative below it and 0 inside.
    """

    mode: int
    order: int
    flap: bool
    speed: float
    frequency: float
    inside: bool
    distance: float


@dataclass(frozen=True)
class Approach:
    """The nearest that a mode comes to an order in the running range, without meeting it there.

    mode, order, flap - as in Crossing; speed - rad/s; frequency - Hz, of the mode there; gap - frequency over
    that of the order, less 1.
    """

    mode: int
    order: int
    flap: bool
    speed: float
    frequency: float
    gap: float


@dataclass(frozen=True, eq=False)
class Campbell:
    """Campbell diagram: frequencies over speed, order lines, and where they meet.

    speed - rad/s, [P]; frequency - Hz, [P, N]; orders - 1 .. 2 B, [2 B]; order_frequency - Hz, [P, 2 B];
    crossings - all of them in the speeds given, by speed; approaches - in the running range, nearer than the
    margin, nearest first; running - its ends, rad/s; margin - the one asked for.
    """

    speed: FloatArray
    frequency: FloatArray
    orders: NDArray[np.int64]
    order_frequency: FloatArray
    crossings: tuple[Crossing, ...]
    approaches: tuple[Approach, ...]
    running: tuple[float, float]
    margin: float

    def warnings(self) -> tuple[str, ...]:
        """One sentence for each crossing inside the running range and each approach."""
        met = [
            f"{_name(one)} meets {one.order} per turn at {_turns(one.speed)} rpm, inside the running range"
            for one in self.crossings
            if one.inside
        ]
        near = [
            f"{_name(one)} comes within {100 * abs(one.gap):.1f} % of {one.order} per turn at "
            f"{_turns(one.speed)} rpm; {100 * self.margin:.0f} % is asked for"
            for one in self.approaches
        ]
        return (*met, *near)


def campbell_diagram(
    modes: BladeModes, blades: int, running: tuple[float, float], margin: float = MARGIN
) -> Campbell:
    """Campbell diagram of a blade, with the orders 1 to 2 B of a rotor of B blades.

    Frequencies run straight between the speeds given; those at the ends of the running range are
    interpolated.
    Arguments: modes - BladeModes at speeds [P], rad/s, increasing, that take in the running range; blades -
    B; running - least and greatest speed in use, rad/s, above 0; margin - distance from an order, over the
    order's frequency, within which an Approach is kept.
    Returns a Campbell. Raises ValueError naming the argument that cannot be.
    Validity: that of the modes; a crossing tells that a resonance is possible, not how strong it is.
    Source: W. Campbell, Protection of steam-turbine disk wheels from axial vibration, Trans. ASME 46 (1924).
    """
    low, high = running
    speed = modes.speed
    if speed.ndim != 1 or speed.size < 2 or np.any(np.diff(speed) <= 0.0):
        raise ValueError("modes must stand at two or more increasing speeds")
    if not 0.0 < low <= high or low < speed[0] or high > speed[-1]:
        raise ValueError(f"running {low:g} to {high:g} rad/s must lie in the speeds of the modes, above 0")
    orders = np.arange(1, 2 * blades + 1)
    lines = speed[:, np.newaxis] * orders / (2.0 * np.pi)
    pairs = [(mode, int(order)) for mode in range(modes.frequency.shape[1]) for order in orders]
    crossings = [found for pair in pairs for found in _crossings(modes, *pair, low, high)]
    met = {(one.mode, one.order) for one in crossings if one.inside}
    nearest = [_nearest(modes, *pair, low, high) for pair in pairs]
    near = [one for one in nearest if abs(one.gap) < margin and (one.mode, one.order) not in met]
    return Campbell(
        speed=speed,
        frequency=modes.frequency,
        orders=orders,
        order_frequency=lines,
        crossings=tuple(sorted(crossings, key=lambda one: one.speed)),
        approaches=tuple(sorted(near, key=lambda one: abs(one.gap))),
        running=running,
        margin=margin,
    )


def _crossings(modes: BladeModes, mode: int, order: int, low: float, high: float) -> list[Crossing]:
    """Where the frequency passes from one side of the order's line to the other."""
    speed, frequency = modes.speed, modes.frequency[:, mode]
    above = frequency - order * speed / (2.0 * np.pi)
    # The frequency 0 of a hinge at rest comes out as the root of rounding.
    above[(speed == 0.0) & (frequency < ROUNDING * modes.frequency.max())] = 0.0
    found = []
    # A mode that turns about a hinge at rest starts on every line; it meets none there.
    for i in np.flatnonzero((above[:-1] * above[1:] < 0.0) | ((above[1:] == 0.0) & (above[:-1] != 0.0))):
        way = above[i] / (above[i] - above[i + 1])
        at = float(speed[i] + way * (speed[i + 1] - speed[i]))
        share = float(np.interp(at, speed, modes.flap_energy[:, mode]))
        beyond = at / low - 1.0 if at < low else max(at / high - 1.0, 0.0)
        hertz = order * at / (2.0 * np.pi)
        found.append(Crossing(mode + 1, order, share > 0.5, at, hertz, low <= at <= high, beyond))
    return found


def _nearest(modes: BladeModes, mode: int, order: int, low: float, high: float) -> Approach:
    """The least gap between a mode and an order in the running range."""
    inner = modes.speed[(modes.speed > low) & (modes.speed < high)]
    at = np.concatenate([[low], inner, [high]])
    frequency = np.interp(at, modes.speed, modes.frequency[:, mode])
    gap = frequency * 2.0 * np.pi / (order * at) - 1.0
    least = int(np.argmin(np.abs(gap)))
    share = float(np.interp(at[least], modes.speed, modes.flap_energy[:, mode]))
    place = (float(at[least]), float(frequency[least]), float(gap[least]))
    return Approach(mode + 1, order, share > 0.5, *place)


def _name(one: Crossing | Approach) -> str:
    return f"mode {one.mode} ({'flap' if one.flap else 'lag'}, {one.frequency:.0f} Hz)"


def _turns(speed: float) -> str:
    return f"{speed * 30.0 / np.pi:.0f}"
