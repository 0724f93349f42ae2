"""How far a blade flies through air: point mass, drag with the square of the speed, bounds of its drag area.

A loose blade turns and tumbles, so its drag is not known; two drag areas bound it. Still air, level ground,
no lift: a blade that glides or turns itself into a rotor may fly farther than either bound, and the range in
a vacuum bounds what flies without lift.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.air import GRAVITY

FloatArray = NDArray[np.float64]

_STEP = 0.1  # of the time in which drag or gravity changes the velocity by as much as itself
_CALM = 0.5  # of the drag's own rate, kept where drag and gravity are in balance
_SLOW, _THIN = 0.01, 1e-9  # of the square of the terminal speed; 1/m, taken where there is no air
_PAST = 1.1  # of the time to the ground without air
_SETTLED = (
    1e-6  # of the terminal speed: nearer to it, what is left of a fall takes its height over that speed
)
_POLISHES = 4  # of the moment of landing, by Newton's rule
_COARSE, _FINE = 25, 9  # launch angles, and again between the neighbours of the best


@dataclass(frozen=True, eq=False)
class Landing:
    """How a throw ends: distance - m, level; time - s; speed - m/s; dive - below the horizon, rad."""

    distance: FloatArray
    time: FloatArray
    speed: FloatArray
    dive: FloatArray


def drag_rate(drag_area: ArrayLike, mass: ArrayLike, density: ArrayLike) -> FloatArray:
    """Deceleration over speed squared (1/m), k = rho CdA / (2 m).

    Arguments, broadcasting: drag_area - CdA, m^2; mass - kg; density - rho, kg/m^3. Source: definition.
    """
    return np.asarray(0.5 * np.multiply(density, drag_area) / np.asarray(mass, float))


def thrown(speed: ArrayLike, height: ArrayLike, angle: ArrayLike, rate: ArrayLike) -> Landing:
    """Throws through still air to level ground: x'' = -k v x', z'' = -g - k v z', v the speed.

    Runge and Kutta's rule of fourth order over all throws at once, each with steps of its own, a tenth of the
    time in which drag and gravity change its velocity; a fall that has come to its terminal speed sqrt(g / k)
    takes that over the rest of its height; the moment of landing by Newton's rule.

    Arguments, broadcasting: speed - at the start, m/s, above 0; height - above the ground, m, >= 0; angle -
    above the horizon, rad; rate - k of `drag_rate`, 1/m, >= 0.
    Returns a Landing. Errors: ValueError for an argument out of its bounds or not finite.
    Validity: within 2e-5 of an integration to 1e-10, which a test holds. Source: mechanics; own integration.
    """
    v, h, a, k = np.broadcast_arrays(*(np.asarray(one, float) for one in (speed, height, angle, rate)))
    if not (np.all(v > 0.0) and np.all(h >= 0.0) and np.all(k >= 0.0) and np.all(np.isfinite(v + h + a + k))):
        raise ValueError("speed must be above 0, height and rate not negative, all of them finite")
    shape = v.shape
    # Rows: x, z, x', z'.
    state = np.stack([np.zeros(shape), h, v * np.cos(a), v * np.sin(a)]).reshape(4, -1)
    k = k.ravel()
    at, time = np.arange(k.size), np.zeros(k.size)
    last, started = state.copy(), time.copy()
    while at.size:
        flying = state[:, at]
        step = _step(flying, k[at])
        after = _stepped(flying, k[at], step)
        last[:, at], started[at] = flying, time[at]
        time[at] += step + _settled(after, k[at], step)
        state[:, at] = after
        at = at[after[1] > 0.0]
    step = time - started
    for _ in range(_POLISHES):
        end = _stepped(last, k, step)
        step = step - end[1] / np.minimum(end[3], -np.finfo(float).tiny)
    end = _stepped(last, k, step)
    speed_there = np.hypot(end[2], end[3])
    dive = np.arctan2(-end[3], end[2])
    found = (end[0], started + step, speed_there, dive)
    return Landing(*(np.asarray(one.reshape(shape)) for one in found))


def _step(state: FloatArray, k: FloatArray) -> FloatArray:
    """Length of the next step, s: by what changes the velocity, and hardly past the ground."""
    speed = np.hypot(state[2], state[3])
    # Near the top of a steep throw the speed is nearly nothing; its change over a part of the fall counts.
    slow = np.sqrt(_SLOW * GRAVITY / np.maximum(k, _THIN))
    falling = state[3] + np.sqrt(state[3] ** 2 + 2.0 * GRAVITY * state[1])
    change = np.hypot(k * speed * state[2], GRAVITY + k * speed * state[3]) / (speed + slow)
    return np.asarray(np.minimum(_STEP / (change + _CALM * k * speed), _PAST * falling / GRAVITY))


def _settled(state: FloatArray, k: FloatArray, step: FloatArray) -> FloatArray:
    """Let what falls at its terminal speed come down to its last step, and return the time it takes, s."""
    fall = np.sqrt(GRAVITY / np.maximum(k, _THIN))
    calm = np.hypot(state[2], state[3] + fall) < _SETTLED * fall
    skipped = np.where(calm, np.maximum(state[1] - fall * step, 0.0), 0.0)
    state[1] -= skipped
    return np.asarray(skipped / fall)


def _stepped(state: FloatArray, k: FloatArray, step: FloatArray) -> FloatArray:
    """The state a step later."""
    first = _rates(state, k)
    second = _rates(state + 0.5 * step * first, k)
    third = _rates(state + 0.5 * step * second, k)
    fourth = _rates(state + step * third, k)
    return np.asarray(state + step / 6.0 * (first + 2.0 * second + 2.0 * third + fourth))


def _rates(state: FloatArray, k: FloatArray) -> FloatArray:
    drag = k * np.hypot(state[2], state[3])
    return np.stack([state[2], state[3], -drag * state[2], -GRAVITY - drag * state[3]])


def farthest_throw(
    speed: ArrayLike, height: ArrayLike, steepest: ArrayLike, rate: ArrayLike
) -> tuple[FloatArray, Landing]:
    """Angle (rad) between the horizon and `steepest` that throws farthest through air, and its landing.

    Looked for over 25 angles and again over 9 between the neighbours of the best.
    Arguments, broadcasting: speed, height, rate - as in `thrown`; steepest - greatest angle above the horizon
    in the plane of the rotor, rad, 0 to pi/2.
    Source: own search.
    """
    v, h, top, k = np.broadcast_arrays(*(np.asarray(one, float) for one in (speed, height, steepest, rate)))
    apart = top / (_COARSE - 1.0)
    best, _ = _best(v, h, k, top * np.linspace(0.0, 1.0, _COARSE).reshape(-1, *[1] * v.ndim))
    low, high = np.maximum(best - apart, 0.0), np.minimum(best + apart, top)
    share = np.linspace(0.0, 1.0, _FINE).reshape(-1, *[1] * v.ndim)
    return _best(v, h, k, low + share * (high - low))


def _best(
    speed: FloatArray, height: FloatArray, rate: FloatArray, angles: FloatArray
) -> tuple[FloatArray, Landing]:
    """The angle [...] out of [A, ...] that throws farthest, and its landing."""
    angles = np.broadcast_to(angles, (angles.shape[0], *speed.shape))
    found = thrown(speed, height, angles, rate)
    place = found.distance.argmax(axis=0)[np.newaxis]

    def chosen(values: FloatArray) -> FloatArray:
        return np.asarray(np.take_along_axis(values, place, axis=0)[0])

    landing = Landing(chosen(found.distance), chosen(found.time), chosen(found.speed), chosen(found.dive))
    return chosen(angles), landing
