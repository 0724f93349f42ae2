"""How tight a folding pivot may be: torques that hold the blade and still let it fold, over temperature.

The clamped lug resists turning with M = mu F R on each of its faces. Loose, the blade flops under its own
weight; tight, it does not straighten, unbalances the rotor, or cannot be folded by hand. F changes with
temperature because plates and lug grow otherwise than the screw, and starts from a torque that scatters.

Worked by hand: an M5 (K = 0.2, scatter 35 %, relaxation 5 %) with R = 4.5 mm, two faces, mu 0.10 to 0.20;
the blade must hold 0.05 N m and may hold 0.30 N m. Preloads that serve: 0.05/(0.10 x 9 mm) = 55.6 N to
0.30/(0.20 x 9 mm) = 166.7 N. The screw gains 4 N/K; from -10 K to +20 K about the setting it must start
between 55.6 + 40 = 95.6 N and 166.7 - 80 = 86.7 N, and already there no preload serves. Without temperature
the least torque is 55.6 x 1 mm / (0.65 x 0.95) = 0.090 N m, the greatest 166.7 x 1 mm / 1.35 = 0.123 N m.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.joint._arrays import Floats, at_least_zero, larger, positive, real
from bladehold.joint.friction import friction_moment
from bladehold.joint.preload import Limits
from bladehold.joint.setting import Spread, torque_band

GRAVITY = 9.80665


def drooping_moment(first_moment: ArrayLike, handling: ArrayLike = 1.0) -> Floats:
    """Friction moment that keeps a blade from flopping, n g m x.

    The worst case: pivot axis level, blade level beside it, as when the machine is carried on its side.

    >>> print(f"{drooping_moment(0.034 * 0.102, 1.5):.4f} N m")
    0.0510 N m

    Arguments (broadcast together):
        first_moment: m x of the blade about the pivot [kg m]; handling: n, times gravity, for carrying
        and shaking [-].
    Returns: moment [N m].
    Errors: ValueError when an argument is negative.
    Source: statics; the factor n is the user's.
    """
    weight = GRAVITY * at_least_zero("first moment", first_moment)
    return at_least_zero("handling factor", handling) * weight


def hand_moment(force: ArrayLike, lever: ArrayLike) -> Floats:
    """Moment of a pull square to the blade, F l: a hand that folds it, or a spring balance that measures.

    Arguments (broadcast together):
        force: F [N]; lever: l from the pivot to where it is pulled [m].
    Returns: moment [N m].
    Errors: ValueError when the force is negative or the lever not positive.
    Source: statics.
    """
    return at_least_zero("force", force) * positive("lever", lever)


@dataclass(frozen=True)
class Clamp:
    """The clamped pivot; any shapes that broadcast with the temperatures on the last axis.

    radius - effective radius of the faces R [m]; friction_low, friction_high - mu [-]; gain - preload for
    each kelvin above the setting temperature [N/K], `preload.thermal_preload_change` with the mismatch of
    one kelvin; faces - that slide [-].
    """

    radius: ArrayLike
    friction_low: ArrayLike
    friction_high: ArrayLike
    gain: ArrayLike
    faces: ArrayLike = 2

    def __post_init__(self) -> None:
        """Refuse friction whose ends are the wrong way round."""
        low = positive("least friction", self.friction_low)
        at_least_zero("greatest friction less the least", real("", self.friction_high) - low)


@dataclass(frozen=True)
class Window:
    """What serves at each temperature, [..., T], and at all of them, [...].

    preload_least, preload_greatest - N, at the setting temperature, so that the moment stays inside at this
    temperature; torque_least, torque_greatest - N*m, at all temperatures, with all that scatters;
    limits_least, limits_greatest - place on the last axis of the temperature that sets each; width -
    greatest over least torque, below 1 where no torque serves.
    """

    preload_least: Floats
    preload_greatest: Floats
    torque_least: Floats
    torque_greatest: Floats
    limits_least: NDArray[np.intp]
    limits_greatest: NDArray[np.intp]
    width: Floats

    @property
    def serves(self) -> NDArray[np.bool_]:
        """Whether any torque serves, [...]."""
        return np.asarray(self.width >= 1.0)

    @property
    def missing(self) -> Floats:
        """Torque by which least and greatest fail to meet, N*m, [...]; 0 where a torque serves."""
        return np.maximum(self.torque_least - self.torque_greatest, 0.0)


def preload_at(preload: ArrayLike, gain: ArrayLike, change: ArrayLike) -> Floats:
    """Preload at a temperature, P(T) = P0 + gain (T - Tset), not below 0.

    Arguments (broadcast together):
        preload: P0 at the setting temperature [N]; gain: preload for each kelvin [N/K]; change: T - Tset [K].
    Returns: preload [N].
    Errors: ValueError when the preload is negative.
    Range: parts and screw at one temperature; below 0 the joint is loose.
    Source: NASA-TM-106943 (1995) eq. 10.
    """
    moved = real("gain", gain) * real("temperature change", change)
    return np.maximum(at_least_zero("preload", preload) + moved, 0.0)


def clamp_moment(preload: ArrayLike, clamp: Clamp, change: ArrayLike) -> Limits:
    """Greatest and least friction moment of a clamped pivot at temperatures.

    Arguments (broadcast together):
        preload: P0 at the setting temperature [N]; clamp: the pivot; change: T - Tset [K].
    Returns: moments [N m] with the greatest and the least friction.
    Errors: as `preload_at` and `friction.friction_moment`.
    Source: T = mu F R per face, Bhandari, Design of Machine Elements, ch. 11; `preload_at`.
    """
    force = preload_at(preload, clamp.gain, change)
    return Limits(
        friction_moment(clamp.friction_high, force, clamp.radius, clamp.faces),
        friction_moment(clamp.friction_low, force, clamp.radius, clamp.faces),
    )


def window(
    least_moment: ArrayLike,
    greatest_moment: ArrayLike,
    clamp: Clamp,
    spread: Spread,
    change: ArrayLike,
    *,
    greatest_preload: ArrayLike | None = None,
) -> Window:
    """Torques for which the friction moment stays inside its bounds at every temperature and scatter.

    At each temperature the preload at setting must lie between Mleast/(mu_low R n) - gain dT and
    Mgreatest/(mu_high R n) - gain dT; the highest of the first and the lowest of the second over the
    temperatures go through `setting.torque_band`.

    Arguments:
        least_moment: that holds the blade [N m]; greatest_moment: that may not be exceeded [N m], both
        [...] or [..., T]; clamp: the pivot; spread: from torque to preload, shapes [...]; change: T - Tset
        [K], [..., T]; greatest_preload: that the screw bears at any temperature [N], None for no such limit.
    Returns: the window.
    Errors: ValueError when a moment is negative, or as `setting.torque_band`.
    Range: friction, stiffness and expansion taken as the same at all temperatures unless given over them.
    Source: derived from `clamp_moment` and `setting.preload_limits`.
    """
    rise = np.atleast_1d(real("temperature change", change)) * real("gain", clamp.gain)
    reach = positive("effective radius", clamp.radius) * positive("number of faces", clamp.faces)
    wanted = at_least_zero("least moment", least_moment) / (
        reach * positive("least friction", clamp.friction_low)
    )
    allowed = at_least_zero("greatest moment", greatest_moment) / (
        reach * positive("greatest friction", clamp.friction_high)
    )
    if greatest_preload is not None:
        allowed = np.minimum(allowed, at_least_zero("greatest preload", greatest_preload))
    least = np.where(wanted > 0.0, np.maximum(wanted - rise, 0.0), 0.0)
    greatest = allowed - rise
    torque = torque_band(least.max(axis=-1), greatest.min(axis=-1), spread)
    low, high = np.broadcast_arrays(torque.minimum, torque.maximum)
    # A preload that is already too high untightened leaves no torque, whatever a locking nut eats.
    high = np.where(greatest.min(axis=-1) > 0.0, high, 0.0)
    return Window(
        preload_least=least,
        preload_greatest=greatest,
        torque_least=low,
        torque_greatest=high,
        limits_least=np.asarray(least.argmax(axis=-1)),
        limits_greatest=np.asarray(greatest.argmin(axis=-1)),
        width=_width(low, high),
    )


@dataclass(frozen=True)
class PullWindow:
    """Friction moments at setting, as a spring balance reads them, that serve at all temperatures; [...].

    moment_least, moment_greatest - N*m; width - greatest over least, below 1 where none serves;
    limits_least, limits_greatest - place of the temperature that sets them.
    """

    moment_least: Floats
    moment_greatest: Floats
    limits_least: NDArray[np.intp]
    limits_greatest: NDArray[np.intp]
    width: Floats

    @property
    def serves(self) -> NDArray[np.bool_]:
        """Whether any moment serves, [...]."""
        return np.asarray(self.width >= 1.0)

    def pull(self, lever: ArrayLike) -> Limits:
        """Greatest and least pull, N, square to the blade at a lever from the pivot, m."""
        reach = positive("lever", lever)
        return Limits(self.moment_greatest / reach, self.moment_least / reach)


def pull_window(
    least_moment: ArrayLike,
    greatest_moment: ArrayLike,
    clamp: Clamp,
    change: ArrayLike,
    *,
    reading: ArrayLike = 0.05,
    relaxation: ArrayLike = 0.05,
    greatest_preload: ArrayLike | None = None,
) -> PullWindow:
    """Friction moments to set by a spring balance, which knows neither nut factor nor scatter of torque.

    The moment read contains the friction that is there; only what temperature adds, mu n R gain dT, still
    asks for a coefficient, its worse end each time.

    Arguments:
        least_moment, greatest_moment, clamp, change: as for `window`; reading: share by which the moment that
        acts may differ from the one read, either way [-]; relaxation: share that may be lost after setting
        [-]; greatest_preload: that the screw bears [N], None for no such limit; with the least friction it
        makes the least moment.
    Returns: the band of moments.
    Errors: ValueError when a share is not within 0 to 1 or a moment negative.
    Range: friction that stays as it was when set: no new grease, no dirt, faces run in.
    Source: derived from `clamp_moment`; setting by a pull at the tip is common practice, no source.
    """
    rise = np.atleast_1d(real("temperature change", change)) * real("gain", clamp.gain)
    reach = positive("effective radius", clamp.radius) * positive("number of faces", clamp.faces)
    low, high = (reach * rise * positive("friction", mu) for mu in (clamp.friction_low, clamp.friction_high))
    error = at_least_zero("reading error", reading)
    lost = at_least_zero("relaxation", relaxation)
    for name, share in (("reading error", error), ("relaxation", lost)):
        larger("1", np.ones(()), name, share)
    wanted = at_least_zero("least moment", least_moment)
    least = np.where(wanted > 0.0, np.maximum(wanted - np.minimum(low, high), 0.0), 0.0)
    greatest = at_least_zero("greatest moment", greatest_moment) - np.maximum(low, high)
    if greatest_preload is not None:
        borne = at_least_zero("greatest preload", greatest_preload) - rise
        greatest = np.minimum(greatest, reach * positive("friction", clamp.friction_low) * borne)
    bottom = np.asarray(least.max(axis=-1) / ((1.0 - error) * (1.0 - lost)))
    top = np.asarray(np.maximum(greatest.min(axis=-1), 0.0) / (1.0 + error))
    return PullWindow(
        moment_least=bottom,
        moment_greatest=top,
        limits_least=np.asarray(least.argmax(axis=-1)),
        limits_greatest=np.asarray(greatest.argmin(axis=-1)),
        width=_width(bottom, top),
    )


def seasons(lowest: float, highest: float, parts: int) -> tuple[Floats, Floats]:
    """Setting temperatures and ranges when the nut is set anew for each part of the year.

    Arguments:
        lowest, highest: ends of the temperature range [K]; parts: of equal width [-].
    Returns: setting temperature in the middle of each part [K], (parts,), and the two ends of each part less
    it, [K], (parts, 2): the `change` of `window`.
    Errors: ValueError when the range is empty or parts below 1.
    Source: own, no formula.
    """
    larger("highest temperature", real("", highest), "lowest temperature", real("", lowest))
    if parts < 1:
        raise ValueError(f"parts must be 1 or more, got {parts}")
    ends = np.linspace(lowest, highest, parts + 1)
    middle = (ends[1:] + ends[:-1]) / 2.0
    return middle, np.stack([ends[:-1], ends[1:]], axis=-1) - middle[:, np.newaxis]


def _width(low: Floats, high: Floats) -> Floats:
    """Greatest over least; infinite where nothing must be reached and something may, 0 where nothing may."""
    asked = low > 0.0
    free = np.where(high > 0.0, np.inf, 0.0)
    return np.asarray(np.where(asked, high / np.where(asked, low, 1.0), free))
