"""What one rigid blade puts into its pivot, at the worst moment of a turn."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.blade.centrifugal import (
    GREATEST_SPREAD,
    LEAST_SPREAD,
    centrifugal_force,
    clamped_root_share,
    coning_moment,
    lag_equilibrium_angle,
)

FloatArray = NDArray[np.float64]


@dataclass(frozen=True)
class BladeBody:
    """A blade as weighed: mass kg, pivot_radius m, balance_point m (outboard of the pivot).

    folding - free to turn about the pivot in the plane of rotation; upward_angle - built-in
    coning plus play, rad; standing_frequency - first flap frequency of the clamped blade at
    rest, Hz, infinite when it was not measured (no relief by bending).
    """

    mass: float
    pivot_radius: float
    balance_point: float
    folding: bool
    upward_angle: float = 0.0
    standing_frequency: float = float("inf")


@dataclass(frozen=True)
class AirLoads:
    """Air loads on one blade outboard of the pivot; every field broadcasts over conditions.

    lift, drag - mean forces normal to and in the plane of rotation, N; flap, lag - their mean
    moments about the pivot, N*m; lift_swing, drag_swing, flap_swing, lag_swing - greatest departure of
    each from its mean over a turn, at least 0.
    """

    lift: FloatArray
    drag: FloatArray
    flap: FloatArray
    lag: FloatArray
    lift_swing: FloatArray
    drag_swing: FloatArray
    flap_swing: FloatArray
    lag_swing: FloatArray


@dataclass(frozen=True)
class RootLoads:
    """Loads at the pivot of one blade, each of the conditions' shape.

    centrifugal - N, outward; drag - N, in plane, largest over the turn; in_plane - N, resultant
    of both; lift - N, largest over the turn; flap_mean, flap_cyclic, flap_peak - N*m, what
    reaches the clevis; flap_relief - N*m, what centrifugal force took off the mean; lag_moment -
    N*m, carried by the pivot (zero when it turns freely); lag_angle - rad.
    """

    centrifugal: FloatArray
    drag: FloatArray
    in_plane: FloatArray
    lift: FloatArray
    flap_mean: FloatArray
    flap_cyclic: FloatArray
    flap_peak: FloatArray
    flap_relief: FloatArray
    lag_moment: FloatArray
    lag_angle: FloatArray


_SPREADS = (LEAST_SPREAD, GREATEST_SPREAD)


def _worse(bent: FloatArray, least: FloatArray, greatest: FloatArray) -> FloatArray:
    """The mean moment left by the relief bound that leaves more of it, upward or downward."""
    first, second = bent - least, bent - greatest
    return np.asarray(np.where(np.abs(first) >= np.abs(second), first, second), dtype=float)


def proof_flap_moment(blade: BladeBody, speed: ArrayLike, multiple: float) -> FloatArray:
    """Flap moment (N*m) of a raised blade in a centrifugal proof without air load.

    Arguments: blade; speed - Omega of the greatest centrifugal force, rad/s; multiple - proof load over that
    force. Source: `coning_moment`; moment and force grow alike with Omega^2.
    """
    body = (blade.mass, blade.pivot_radius, blade.balance_point)
    raised = coning_moment(*body, speed, blade.upward_angle, GREATEST_SPREAD)
    return np.asarray(multiple * np.abs(raised), dtype=float)


def rigid_root_loads(blade: BladeBody, air: AirLoads, speed: ArrayLike) -> RootLoads:
    """Combine centrifugal force and air loads at the pivot of a rigid blade.

    The mean flap moment is first reduced by bending (clamped_root_share), then by the moment of a built-in
    upward angle (coning_moment), which may leave it downward: of the bounds of the blade's inertia the one
    that leaves more is taken. The cyclic part of the air load is not relieved: without damping,
    centrifugal force and inertia cancel at once per turn, so it reaches the root in full.

    Arguments: blade - the blade; air - AirLoads; speed - Omega, rad/s, broadcasting with air.
    Returns RootLoads. Source: rigid-body equilibrium; relief as stated in the functions used.
    """
    mass, e, x = blade.mass, blade.pivot_radius, blade.balance_point
    omega = np.asarray(speed, dtype=float)
    centrifugal = centrifugal_force(mass, e, x, omega)
    drag = np.abs(air.drag) + air.drag_swing
    bent = air.flap * clamped_root_share(blade.standing_frequency, e, x, omega)
    mean = _worse(bent, *(coning_moment(mass, e, x, omega, blade.upward_angle, k) for k in _SPREADS))
    angle = lag_equilibrium_angle(mass, e, x, omega, air.lag)
    return RootLoads(
        centrifugal=centrifugal,
        drag=drag,
        in_plane=np.hypot(centrifugal, drag),
        lift=np.abs(air.lift) + air.lift_swing,
        flap_mean=mean,
        flap_cyclic=air.flap_swing,
        flap_peak=np.abs(mean) + air.flap_swing,
        flap_relief=air.flap - mean,
        lag_moment=np.zeros_like(angle) if blade.folding else np.abs(air.lag) + air.lag_swing,
        lag_angle=angle if blade.folding else np.zeros_like(angle),
    )
