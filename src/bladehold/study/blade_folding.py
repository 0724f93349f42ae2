"""How the folding blades of a build come out, where friction lets them rest, and what that unbalances."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from bladehold.blade import (
    LAG_RANGE,
    FoldingBlade,
    LagBand,
    LagSwing,
    Unfolding,
    angle_tolerance,
    balance_grade,
    folding_blade,
    friction_tolerance,
    lag_band,
    lag_swing,
    lag_unbalance,
    permissible_unbalance,
    speed_ramp,
    straightening_speed,
    unbalance_force,
    unfolding,
)
from bladehold.joint import friction
from bladehold.sheet.build import Build
from bladehold.study.blade_model import BladeModel
from bladehold.study.blade_motion import BladeMotion
from bladehold.study.situation import pivot_preload

FloatArray = NDArray[np.float64]

PIN_FRICTION, FACE_FRICTION = 0.15, 0.2
"""Of the pin in its hole, and of the clamped faces at their highest: common practice, no source."""
HOLD = 1.0
"""Time after a start that is looked at, s."""
SPEEDS = 40


@dataclass(frozen=True, eq=False)
class Folding:
    """Folding blades at SPEEDS speeds [K], friction [2]: at its least and its greatest.

    blade - [2], with friction; measured - whether friction was measured; speed - rad/s, [K]; band - of
    rest angles, [K, 2]; hover - speed of hover, rad/s; hover_band - [2]; straightens_at - speed, rad/s, [2],
    from which a folded blade comes out to straight_angle (rad) of where one without friction rests, infinite
    where none does; unbalance - kg*m, force - N, grade - m/s, [2], in hover with blades at opposite ends of
    the band; tolerance - angle, rad, and friction_allowed - N*m, for grade_wanted, m/s, in hover; start - how
    a start from the trailing stop goes, [2], swing - its motion; breaches - ranges left.
    """

    blade: FoldingBlade
    measured: bool
    speed: FloatArray
    band: LagBand
    hover: float
    hover_band: LagBand
    straight_angle: float
    straightens_at: FloatArray
    unbalance: FloatArray
    force: FloatArray
    grade: FloatArray
    grade_wanted: float
    tolerance: float
    friction_allowed: float
    start: Unfolding
    swing: LagSwing
    breaches: tuple[str, ...]


def folding(build: Build, motion: BladeMotion) -> Folding | None:
    """Return how the folding blades of a build behave; None where they do not fold.

    Friction is that measured, or from the least and the greatest preload of the pivot screw; the centrifugal
    force adds that of the pin. Drag is that of hover, with the square of the speed. The mass of the rotor is
    that of its blades, hub and bell not counted: the grade comes out high.
    """
    propeller = build.propeller
    if not propeller.folding:
        return None
    place = motion.hover
    hover = float(motion.speed[place])
    drag = float((motion.air.tangential[place] @ motion.arm).mean())
    blade = _blade(build, motion, drag / hover**2)
    speed = np.linspace(0.1 * build.flying.idle, float(motion.speed.max()), SPEEDS)
    band, rest = lag_band(blade, speed[:, np.newaxis]), lag_band(blade, hover)
    worst = np.stack([rest.leading, rest.trailing], axis=-1)
    worst = np.concatenate([worst, np.repeat(worst[:, :1], max(propeller.blades - 2, 0), axis=-1)], axis=-1)
    unbalance = lag_unbalance(propeller.blade_mass, propeller.balance_point, worst)
    rotor = propeller.blades * propeller.blade_mass
    allowed = permissible_unbalance(build.setting.balance_grade, rotor, hover)
    tolerance = angle_tolerance(allowed, propeller.blade_mass, propeller.balance_point, propeller.blades)
    built = propeller.structure
    swing = lag_swing(
        blade,
        speed_ramp(0.0, hover, build.flying.spin_up, HOLD),
        built.trailing_stop,
        leading_stop=-built.leading_stop,
        trailing_stop=built.trailing_stop,
    )
    straight = rest.without_friction + build.setting.straight_angle
    found = (LAG_RANGE.breach(np.degrees(rest.trailing)),)
    return Folding(
        blade=blade,
        measured=built.pivot_friction is not None,
        speed=speed,
        band=band,
        hover=hover,
        hover_band=rest,
        straight_angle=build.setting.straight_angle,
        straightens_at=straightening_speed(blade, straight),
        unbalance=unbalance,
        force=unbalance_force(unbalance, hover),
        grade=balance_grade(unbalance, rotor, hover),
        grade_wanted=build.setting.balance_grade,
        tolerance=float(tolerance),
        friction_allowed=float(np.max(friction_tolerance(blade, hover, tolerance))),
        start=unfolding(blade, swing, straight),
        swing=swing,
        breaches=tuple(text for text in found if text),
    )


def _blade(build: Build, motion: BladeMotion, drag_constant: float) -> FoldingBlade:
    """The blade on its pivot with the least and the greatest friction, [2]."""
    return rigid_blade(
        motion.model,
        clamp_friction=clamp_friction(build),
        friction_arm=pin_friction_arm(build),
        drag_constant=drag_constant,
    )


def clamp_friction(build: Build) -> list[float]:
    """Return the friction moment of a clamped pivot, least and greatest, N*m: measured, or by its preload."""
    measured = build.propeller.structure.pivot_friction
    if measured is not None:
        return [measured, measured]
    preload = pivot_preload(build)
    radius = friction.effective_radius_uniform_wear(build.hub.lug_hole / 2, build.hub.contact_diameter / 2)
    ends = ((build.policy.grip_friction, preload.minimum), (FACE_FRICTION, preload.maximum))
    return [float(friction.friction_moment(share, force, radius, 2)) for share, force in ends]


def pin_friction_arm(build: Build) -> list[float]:
    """Return the lever of the pin's friction on a blade's pull, least and greatest, m."""
    return [0.0, PIN_FRICTION * build.hub.lug_hole / 2]


def rigid_blade(model: BladeModel, **pivot: Any) -> FoldingBlade:
    """The blade as a rigid body about its pivot; pivot - friction and drag, as `folding_blade` takes them."""
    point = model.first_moment / model.mass
    return folding_blade(model.mass, model.pivot_radius, point, model.inertia, **pivot)
