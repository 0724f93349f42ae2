"""A rigid blade that folds about a pivot with a vertical axis: moments in the plane of turning, rest angles.

The lag angle zeta is that by which the blade trails the line from rotor axis to pivot; 0 is straight, 180 deg
points back across the hub. With first moment S = m x and inertia I about the pivot, the blade obeys

    I zeta'' = (I + e S cos(zeta)) dOmega/dt - e S Omega^2 sin(zeta) + M_drag - friction

which is Lagrange's equation of the kinetic energy
(m e^2 Omega^2 + 2 e S Omega theta' cos(zeta) + I theta'^2) / 2, theta' = Omega - zeta'; exact for a rigid
planar body at any angle. No small angles are assumed.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.blade.centrifugal import GREATEST_SPREAD, LEAST_SPREAD
from bladehold.validity import Range

FloatArray = NDArray[np.float64]

SPREAD_RANGE = Range(
    "inertia about the pivot over m x^2",
    LEAST_SPREAD,
    GREATEST_SPREAD,
    "",
    "below 1 no body has it, above 1.4 the blade is unlike the usual tapered ones: check what was measured",
    "Jensen's inequality below, own limit above",
)


@dataclass(frozen=True, eq=False)
class FoldingBlade:
    """A rigid blade on its pivot; made by `folding_blade`, every field of one shape [...].

    mass - m, kg; pivot_radius - e, balance_point - x outboard of the pivot, m; inertia - I about the pivot,
    kg m^2; clamp_friction - moment of the clamping at rest, N*m; friction_arm - coefficient of friction
    times radius of the pin, m, on which the centrifugal force adds friction; drag_constant - moment of the
    drag about the pivot over Omega^2 when straight, N*m*s^2; drag_arm - a, pivot to where the drag acts, m.
    """

    mass: FloatArray
    pivot_radius: FloatArray
    balance_point: FloatArray
    inertia: FloatArray
    clamp_friction: FloatArray
    friction_arm: FloatArray
    drag_constant: FloatArray
    drag_arm: FloatArray

    @cached_property
    def first_moment(self) -> FloatArray:
        """S = m x about the pivot, kg m."""
        return self.mass * self.balance_point

    @cached_property
    def coupling(self) -> FloatArray:
        """e S, kg m^2: times Omega^2 sin(zeta), the moment that straightens."""
        return self.pivot_radius * self.first_moment

    @cached_property
    def friction_constant(self) -> FloatArray:
        """Friction moment over Omega^2 from the centrifugal force of the straight blade, N*m*s^2.

        A folded blade pulls less: there the friction comes out high.
        """
        return self.friction_arm * (self.mass * self.pivot_radius + self.first_moment)

    @cached_property
    def stream_constant(self) -> FloatArray:
        """Moment of the drag about the pivot over the square of the speed where it acts, kg."""
        return self.drag_constant / (self.pivot_radius + self.drag_arm) ** 2

    @property
    def spread(self) -> FloatArray:
        """I / (m x^2), to be held against SPREAD_RANGE."""
        return self.inertia / (self.first_moment * self.balance_point)

    def friction_moment(self, speed: ArrayLike) -> FloatArray:
        """Greatest moment (N*m) that friction takes at a rotation speed (rad/s)."""
        return np.asarray(self.clamp_friction + self.friction_constant * np.square(speed))

    def part(self, which: Any) -> FoldingBlade:
        """Some of the blades, by index or mask of the first axis."""
        return FoldingBlade(*(getattr(self, field.name)[which] for field in fields(self)))


def folding_blade(
    mass: ArrayLike,
    pivot_radius: ArrayLike,
    balance_point: ArrayLike,
    inertia: ArrayLike,
    clamp_friction: ArrayLike = 0.0,
    friction_arm: ArrayLike = 0.0,
    drag_constant: ArrayLike = 0.0,
    drag_arm: ArrayLike | None = None,
) -> FoldingBlade:
    """The blade of these measures, refused where a body cannot have them.

    Arguments, all broadcasting: as in `FoldingBlade`; drag_arm - pivot to where the drag acts, m; None takes
    1.5 x, the centre of an even blade's drag about a far axis.
    Errors: ValueError naming the argument that is not finite, negative, or zero where it must not be.
    Source: own, no formula.
    """
    given = {
        "mass": mass,
        "pivot_radius": pivot_radius,
        "balance_point": balance_point,
        "inertia": inertia,
        "clamp_friction": clamp_friction,
        "friction_arm": friction_arm,
        "drag_constant": drag_constant,
        "drag_arm": 1.5 * np.asarray(balance_point, dtype=float) if drag_arm is None else drag_arm,
    }
    values = {name: np.asarray(value, dtype=float) for name, value in given.items()}
    for name, value in values.items():
        above_zero = name in ("mass", "balance_point", "inertia", "drag_arm")
        bad = ~np.isfinite(value) | (value <= 0.0 if above_zero else value < 0.0)
        if bad.any():
            wanted = "greater than 0" if above_zero else "0 or more"
            raise ValueError(f"{name} must be {wanted}, got {float(value[bad].flat[0]):g}")
    return FoldingBlade(*np.broadcast_arrays(*values.values()))


def inertia_bounds(mass: ArrayLike, balance_point: ArrayLike) -> tuple[FloatArray, FloatArray]:
    """Least and greatest moment of inertia about the pivot (kg m^2) of a weighed and balanced blade.

    m x^2 (all mass at the balance point) to 1.4 m x^2; an even rod has 4/3. A large inertia makes inertial
    moments, stop impacts and gyroscopic moments large, a small one the lag frequency: ask with both.

    Arguments, broadcasting: mass - kg; balance_point - x, m.
    Source: Jensen's inequality below; the upper end is GREATEST_SPREAD, our own.

    >>> [round(float(end), 6) for end in inertia_bounds(0.034, 0.102)]
    [0.000354, 0.000495]
    """
    point = np.asarray(mass, dtype=float) * np.square(balance_point)
    return np.asarray(LEAST_SPREAD * point), np.asarray(GREATEST_SPREAD * point)


def drag_moment(blade: FoldingBlade, angle: ArrayLike, rate: ArrayLike, speed: ArrayLike) -> FloatArray:
    """Moment (N*m) of the air's drag about the pivot of a blade at any angle and in motion.

    M = K v |v| / (e + a)^2 with v = Omega (e cos(zeta) + a) - a zeta', the speed across the blade where the
    drag acts: K Omega^2 when straight and at rest, and damping when the blade swings.

    Arguments, broadcasting: blade; angle - zeta, rad; rate - zeta', rad/s; speed - Omega, rad/s.
    Limits: one constant for all angles; a blade folded across the wake of others is not known.
    Source: own, drag lumped in one point.
    """
    return np.asarray(_drag(blade, np.cos(angle), np.asarray(rate), np.asarray(speed)))


def _drag(blade: FoldingBlade, cosine: FloatArray, rate: FloatArray, speed: FloatArray) -> FloatArray:
    stream = speed * (blade.pivot_radius * cosine + blade.drag_arm) - blade.drag_arm * rate
    return blade.stream_constant * stream * np.abs(stream)


def driving_moment(
    blade: FoldingBlade, angle: ArrayLike, rate: ArrayLike, speed: ArrayLike, acceleration: ArrayLike
) -> FloatArray:
    """Moment (N*m) about the pivot that turns the blade back, friction and stops left out.

    (I + e S cos(zeta)) dOmega/dt - e S Omega^2 sin(zeta) + M_drag: Euler force, centrifugal force, drag.

    Arguments, broadcasting: blade; angle - zeta, rad; rate - zeta', rad/s; speed - Omega, rad/s;
    acceleration - dOmega/dt, rad/s^2. Source: derived at the head of this page.
    """
    cosine, turning = np.cos(angle), np.asarray(speed)
    euler = (blade.inertia + blade.coupling * cosine) * np.asarray(acceleration)
    pull = blade.coupling * (turning * turning) * np.sin(angle)
    return np.asarray(euler - pull + _drag(blade, cosine, np.asarray(rate), turning))


@dataclass(frozen=True, eq=False)
class LagBand:
    """Angles (rad, [...]) at which friction holds a turning blade: any from `leading` to `trailing`.

    leading, trailing - ends of the band: a blade that unfolds from behind stops at or before `trailing`,
    one that comes from ahead at or before `leading`; without_friction - between them; folded - a blade
    folded further than this stays folded; pi where every folded blade comes out. Where drag and friction
    exceed the pull at every angle, `trailing` and `folded` are pi/2 and `straightens` is False.
    """

    leading: FloatArray
    without_friction: FloatArray
    trailing: FloatArray
    folded: FloatArray
    straightens: NDArray[np.bool_]

    @property
    def half_width(self) -> FloatArray:
        """Half the band, rad."""
        return 0.5 * (self.trailing - self.leading)


def lag_band(blade: FoldingBlade, speed: ArrayLike) -> LagBand:
    """Angles between which a blade may come to rest at a steady speed.

    e S Omega^2 sin(zeta) = M_drag -+ M_f, M_drag = K Omega^2 taken as that of the straight blade. Exact for
    any angle otherwise. Beyond pi - arcsin((M_drag + M_f) / (e S Omega^2)) a folded blade is held folded.

    Arguments, broadcasting: blade; speed - Omega, rad/s, above 0.
    Range: LAG_RANGE of `bladehold.blade.centrifugal` on the trailing end.
    Source: moment equilibrium of a rigid blade about its pivot.
    """
    square = np.square(np.asarray(speed, dtype=float))
    pull = np.maximum(blade.coupling * square, np.finfo(float).tiny)
    drag, friction = blade.drag_constant * square, blade.friction_moment(speed)
    sines = [(drag + sign * friction) / pull for sign in (-1.0, 0.0, 1.0)]
    low, free, high = (np.arcsin(np.clip(sine, -1.0, 1.0)) for sine in sines)
    holds_folded = sines[2] > 0.0
    folded = np.where(holds_folded, np.pi - high, np.pi)
    return LagBand(low, free, high, np.asarray(folded), np.asarray(sines[2] < 1.0))


def straightening_speed(blade: FoldingBlade, angle: ArrayLike) -> FloatArray:
    """Speed (rad/s) below which friction and drag hold a blade at a trailing angle.

    Omega^2 = M_clamp / (e S sin(zeta) - K - K_f), with K the drag and K_f the centrifugal force's friction
    over Omega^2; infinite where the last two exceed what the pull can give at that angle. A blade folded to
    zeta0 that is to come out to zeta needs the larger of the speeds at both angles.

    Arguments, broadcasting: blade; angle - zeta, rad, above 0 and below pi.
    Limits: speed rising slowly; a quick start adds the Euler moment, which holds a trailing blade back.
    Source: moment equilibrium of a rigid blade about its pivot, derived.
    """
    left = blade.coupling * np.sin(angle) - blade.drag_constant - blade.friction_constant
    enough = left > 0.0
    square = np.where(enough, blade.clamp_friction / np.where(enough, left, 1.0), np.inf)
    return np.asarray(np.sqrt(square))


def straightening_friction(blade: FoldingBlade, speed: ArrayLike, angle: ArrayLike) -> FloatArray:
    """Greatest friction of the clamping (N*m) with which a blade comes out to a trailing angle at a speed.

    M_clamp = (e S sin(zeta) - K - K_f) Omega^2, `straightening_speed` solved for it; negative where drag and
    the centrifugal force's friction alone hold the blade further back.

    Arguments, broadcasting: blade - its own clamp_friction does not enter; speed - Omega, rad/s;
    angle - zeta, rad. Limits: as `straightening_speed`. Source: as `straightening_speed`.

    >>> blade = folding_blade(0.034, 0.03, 0.102, 0.0005, clamp_friction=0.02)
    >>> round(float(straightening_friction(blade, straightening_speed(blade, 0.05), 0.05)), 6)
    0.02
    """
    left = blade.coupling * np.sin(angle) - blade.drag_constant - blade.friction_constant
    return np.asarray(left * np.square(speed))


def lag_frequency(blade: FoldingBlade, speed: ArrayLike, angle: ArrayLike = 0.0) -> FloatArray:
    """Angular frequency (rad/s) of small swings about an angle, Omega sqrt(e S cos(zeta) / I).

    An even blade hinged at e has (omega / Omega)^2 = 1.5 e / (R - e).

    Arguments, broadcasting: blade; speed - Omega, rad/s; angle - zeta, rad; zero beyond 90 deg.
    Source: derived, the equation of the page above made linear; Johnson, Helicopter Theory (1980), ch. 5.

    >>> rod = folding_blade(0.03, 0.03, 0.15, 0.03 * 0.3**2 / 3)
    >>> round(float(lag_frequency(rod, 1.0)) ** 2, 6), 1.5 * 0.03 / 0.3
    (0.15, 0.15)
    """
    stiffness = blade.coupling * np.maximum(np.cos(angle), 0.0)
    return np.asarray(np.asarray(speed) * np.sqrt(stiffness / blade.inertia))
