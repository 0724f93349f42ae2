"""What one rigid blade puts into its pivot, at the worst moment of a turn."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.blade.centrifugal import (
    GREATEST_SPREAD,
    LEAST_SPREAD,
    centrifugal_force,
    coning_moment,
    lag_equilibrium_angle,
)

FloatArray = NDArray[np.float64]


@dataclass(frozen=True)
class BladeBody:
    """A blade as weighed: mass kg, pivot_radius m, balance_point m (outboard of the pivot).

    folding - free to turn about the pivot in the plane of rotation; upward_angle - built-in
    coning plus play, rad.
    """

    mass: float
    pivot_radius: float
    balance_point: float
    folding: bool
    upward_angle: float = 0.0


@dataclass(frozen=True)
class AirLoads:
    """Air loads on one blade outboard of the pivot; every field broadcasts over conditions.

    lift, drag - mean forces normal to and in the plane of rotation, N; flap, lag - their mean
    moments about the pivot, N*m; lift_swing, drag_swing, flap_swing, lag_swing - greatest departure of
    each from its mean over a turn, at least 0; flap_second - half the range of the second cycle of the flap
    moment within a turn, 0 where there is none.
    """

    lift: FloatArray
    drag: FloatArray
    flap: FloatArray
    lag: FloatArray
    lift_swing: FloatArray
    drag_swing: FloatArray
    flap_swing: FloatArray
    lag_swing: FloatArray
    flap_second: FloatArray | float = 0.0


@dataclass(frozen=True)
class RootLoads:
    """Loads at the pivot of one blade, each of the conditions' shape.

    centrifugal - N, outward; drag - N, in plane, largest over the turn; in_plane - N, resultant of both; lift
    - N, largest over the turn, lift_swing - greatest departure from its mean; flap_mean, flap_cyclic,
    flap_peak - N*m, what reaches the clevis; flap_second - half the range of the second cycle of the flap
    moment within a turn, N*m; flap_relief - N*m, what centrifugal force took off the mean; lag_moment - N*m,
    carried by the pivot (zero when it turns freely); lag_angle - rad.
    """

    centrifugal: FloatArray
    drag: FloatArray
    in_plane: FloatArray
    lift: FloatArray
    lift_swing: FloatArray
    flap_mean: FloatArray
    flap_cyclic: FloatArray
    flap_peak: FloatArray
    flap_relief: FloatArray
    lag_moment: FloatArray
    lag_angle: FloatArray
    flap_second: FloatArray | float = 0.0


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


def rigid_root_loads(
    blade: BladeBody, air: AirLoads, speed: ArrayLike, body_rate: ArrayLike = 0.0
) -> RootLoads:
    """Combine centrifugal force, air loads and the turning of the aircraft at the pivot of a rigid blade.

    The mean flap moment is that of the air less the moment of a built-in upward angle (coning_moment),
    which may leave it downward: of the bounds of the blade's inertia the one that leaves more is taken. A
    body that turns at the rate q adds 2 (I + e m x) Omega q to the flap moment and 2 m (e + x) Omega q to
    the lift, once per turn, in phase with the air's at the worst. The cyclic part reaches the root in full:
    without damping, centrifugal force and inertia cancel at once per turn.

    Arguments: blade - the blade; air - AirLoads; speed - Omega, rad/s; body_rate - q, rad/s, broadcasting
    with air.
    Returns RootLoads. Source: rigid-body equilibrium; gyroscopic part derived in bladehold.blade.gyroscopic.
    """
    mass, e, x = blade.mass, blade.pivot_radius, blade.balance_point
    omega = np.asarray(speed, dtype=float)
    centrifugal = centrifugal_force(mass, e, x, omega)
    drag = np.abs(air.drag) + air.drag_swing
    turning = 2.0 * omega * np.abs(np.asarray(body_rate, dtype=float))
    flap_swing = air.flap_swing + turning * mass * x * (GREATEST_SPREAD * x + e)
    lift_swing = air.lift_swing + turning * mass * (e + x)
    mean = _worse(air.flap, *(coning_moment(mass, e, x, omega, blade.upward_angle, k) for k in _SPREADS))
    angle = lag_equilibrium_angle(mass, e, x, omega, air.lag)
    return RootLoads(
        centrifugal=centrifugal,
        drag=drag,
        in_plane=np.hypot(centrifugal, drag),
        lift=np.abs(air.lift) + lift_swing,
        lift_swing=lift_swing,
        flap_mean=mean,
        flap_cyclic=flap_swing,
        flap_peak=np.abs(mean) + flap_swing,
        flap_relief=air.flap - mean,
        lag_moment=np.zeros_like(angle) if blade.folding else np.abs(air.lag) + air.lag_swing,
        lag_angle=angle if blade.folding else np.zeros_like(angle),
        flap_second=np.broadcast_to(air.flap_second, flap_swing.shape),
    )


def spun_up(blade: BladeBody, loads: RootLoads, acceleration: ArrayLike) -> RootLoads:
    """Loads at the pivot while the rotor is just being sped up or slowed down.

    Inertia adds m (e + x) dOmega/dt to the drag, and (I + e m x) dOmega/dt to the lag moment of a blade that
    does not fold, I at the greater bound of the blade's spread.
    Arguments: blade; loads - without it; acceleration - dOmega/dt, rad/s^2, 0 or more, broadcasting with
    loads.
    Source: rigid-body mechanics; as `bladehold.blade.transient`, steps taken as sudden.
    """
    mass, e, x = blade.mass, blade.pivot_radius, blade.balance_point
    slope = np.asarray(acceleration, dtype=float)
    drag = loads.drag + mass * (e + x) * slope
    lag = loads.lag_moment + (0.0 if blade.folding else 1.0) * mass * x * (GREATEST_SPREAD * x + e) * slope
    return replace(loads, drag=drag, in_plane=np.hypot(loads.centrifugal, drag), lag_moment=np.asarray(lag))
