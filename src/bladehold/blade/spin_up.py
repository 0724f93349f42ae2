"""What a start from the folded position, a throttle step or braking does to a folding blade."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.blade.folding import FoldingBlade, drag_moment, driving_moment
from bladehold.blade.load_case import RootComponents
from bladehold.blade.swing import LagSwing

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Unfolding:
    """How a blade came out, [...].

    straightened - the angle asked for is kept at the end; first_time - when it was first reached, s, and
    settled_time - after which it was always kept, s, both not a number where that never was; overshoot -
    beyond straight, to the other side of the start, rad; end_angle - rad; stop_rate - rad/s, stop_energy - J,
    of the hardest blow on either stop, zero without one.
    """

    straightened: NDArray[np.bool_]
    first_time: FloatArray
    settled_time: FloatArray
    overshoot: FloatArray
    end_angle: FloatArray
    stop_rate: FloatArray
    stop_energy: FloatArray


def unfolding(blade: FoldingBlade, swing: LagSwing, straight_angle: ArrayLike) -> Unfolding:
    """How a blade straightened, read from its motion.

    Arguments, broadcasting: blade; swing - its motion; straight_angle - absolute lag angle that counts as
    straight, rad. Times are read between the steps along straight lines.
    Source: own, no formula but the energy I zeta'^2 / 2 of the blade against the hub, which a stop takes
    whatever the hub's own speed.
    """
    outside = np.abs(swing.angle) - np.asarray(straight_angle, dtype=float)
    within = outside <= 0.0
    start_side = np.sign(swing.angle[0])
    rate = np.maximum(swing.blow_ahead, swing.blow_behind)
    return Unfolding(
        straightened=np.asarray(within[-1]),
        first_time=_crossing(swing.time, outside, within),
        settled_time=_crossing(
            swing.time, outside, np.flip(np.logical_and.accumulate(np.flip(within, 0)), 0)
        ),
        overshoot=np.maximum(-start_side * swing.angle, 0.0).max(axis=0),
        end_angle=swing.angle[-1],
        stop_rate=rate,
        stop_energy=stop_energy(blade.inertia, rate),
    )


def _crossing(time: FloatArray, outside: FloatArray, since: NDArray[np.bool_]) -> FloatArray:
    """Time at which `since` first holds, between the node before it and its own; not a number if never."""
    at = since.argmax(axis=0)[np.newaxis]
    before = np.maximum(at - 1, 0)
    t0, t1, x0, x1 = (np.take_along_axis(v, i, axis=0)[0] for v in (time, outside) for i in (before, at))
    part = np.where(x0 > 0.0, x0 / np.where(x0 == x1, 1.0, x0 - x1), 1.0)
    return np.asarray(np.where(since.any(axis=0), t0 + part * (t1 - t0), np.nan))


def stop_energy(inertia: ArrayLike, rate: ArrayLike) -> FloatArray:
    """Energy (J) that a stop or friction takes from a blade on a hub of steady speed, I zeta'^2 / 2.

    Arguments, broadcasting: inertia - about the pivot, kg m^2; rate - zeta', rad/s.
    Source: rigid-body mechanics in the axes of the hub.
    """
    return np.asarray(0.5 * np.asarray(inertia, dtype=float) * np.square(rate))


def stop_moment(
    inertia: ArrayLike, rate: ArrayLike, stiffness: ArrayLike, pressing_moment: ArrayLike = 0.0
) -> FloatArray:
    """Greatest moment (N*m) on a springy stop that a blade runs into.

    M = M0 + sqrt(M0^2 + k I zeta'^2), from the energy: k delta^2 / 2 = I zeta'^2 / 2 + M0 delta. With
    zeta' = 0 it is twice the moment put on suddenly, without both nothing.

    Arguments, broadcasting: inertia - about the pivot, kg m^2; rate - zeta', rad/s; stiffness - k of stop and
    blade in series, N*m/rad (`root_stiffness` for a hard stop); pressing_moment - M0, the steady moment into
    the stop, N*m.
    Limits: no damping, blade on one spring. An elastic blade of even section on a hard stop reaches
    1.10 times that in its first swing, and less than 1.3 times whenever all its modes meet.
    Source: derived, conservation of energy.
    """
    steady = np.asarray(pressing_moment, dtype=float)
    dynamic = np.asarray(stiffness, dtype=float) * np.asarray(inertia) * np.square(rate)
    moving = dynamic + np.abs(steady) > 0.0
    return np.asarray(np.where(moving, steady + np.sqrt(np.square(steady) + dynamic), 0.0))


def stop_pivot_force(
    moment: ArrayLike, inertia: ArrayLike, first_moment: ArrayLike, stop_distance: ArrayLike
) -> FloatArray:
    """Force (N) across the blade on the pivot while a stop holds a moment, F = M (1/d - S/I).

    The stop pushes at d, the blade's inertia acts at the centre of percussion I / S; a stop there spares the
    pivot. Positive with the motion that the stop ends.

    Arguments, broadcasting: moment - M on the stop, N*m; inertia - I about the pivot, kg m^2; first_moment -
    S, kg m; stop_distance - d, pivot to stop, m.
    Source: derived, momentum and angular momentum of a rigid blade.
    """
    inverse = 1.0 / np.asarray(stop_distance, dtype=float)
    return np.asarray(np.asarray(moment) * (inverse - np.asarray(first_moment) / np.asarray(inertia)))


def root_stiffness(inertia: ArrayLike, lag_standing_frequency: ArrayLike) -> FloatArray:
    """Stiffness (N*m/rad) of the root spring that gives a rigid blade the measured frequency, I (2 pi f)^2.

    Arguments, broadcasting: inertia - about the pivot, kg m^2; lag_standing_frequency - f, first frequency in
    the plane of turning of the blade clamped at its pivot, at rest, Hz.
    Source: rigid blade on a spring.
    """
    return np.asarray(
        np.asarray(inertia, dtype=float) * np.square(2.0 * np.pi * np.asarray(lag_standing_frequency))
    )


def swing_root_loads(blade: FoldingBlade, swing: LagSwing) -> RootComponents:
    """Root components of a swinging blade in the plane of turning, [..., 2 N]: at both ends of every step.

    Along the blade m (e Omega^2 cos(zeta) + e dOmega/dt sin(zeta) + x theta'^2); across it, backward,
    m (e dOmega/dt cos(zeta) - e Omega^2 sin(zeta) + x theta'') + D, with theta' = Omega - zeta'; the lag
    moment is what the pivot passes on: friction while it turns, and what holds the blade while it does not.
    Blows are left out, see `stop_moment`. The other three components are zero.

    Arguments: blade - broadcasting with the conditions; swing - the motion, N steps.
    Source: derived, Newton's equations of the rigid blade.
    """
    loads = [_at_ends(blade, swing, ends) for ends in (slice(None, -1), slice(1, None))]
    pull, across, lag = (
        np.stack(pair, axis=1).reshape(-1, *swing.angle.shape[1:]) for pair in zip(*loads, strict=True)
    )
    last = [np.moveaxis(values, 0, -1) for values in (pull, across, lag)]
    return RootComponents.of(centrifugal=last[0], in_plane_shear=last[1], lag=last[2])


def _at_ends(blade: FoldingBlade, swing: LagSwing, ends: slice) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Pull, load across and lag moment at one end of every step."""
    angle, speed, slope = swing.angle[ends], swing.speed[ends], swing.acceleration
    held = swing.sliding == 0.0
    rate = np.where(held, 0.0, swing.rate[ends])
    driving = driving_moment(blade, angle, rate, speed, slope)
    lag = np.where(held, driving, swing.sliding * blade.friction_moment(speed))
    turning = slope - (driving - lag) / blade.inertia
    cosine, sine = np.cos(angle), np.sin(angle)
    drag = drag_moment(blade, angle, rate, speed) / blade.drag_arm
    e, x, mass = blade.pivot_radius, blade.balance_point, blade.mass
    pull = mass * (e * speed**2 * cosine + e * slope * sine + x * (speed - rate) ** 2)
    across = mass * (e * slope * cosine - e * speed**2 * sine + x * turning) + drag
    return pull, across, lag
