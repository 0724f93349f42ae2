"""What follows a failure, as a build has it, in SI: arm, controller, places a blade is thrown from."""

from __future__ import annotations

from dataclasses import dataclass

from bladehold.tables import Material


@dataclass(frozen=True)
class ArmData:
    """One arm with what sits at its end.

    shape - "tube", "plate" or "box"; lengths m: length - clamp to motor axis, outer_diameter and wall, width
    and height, 0 where the shape has none; material; tap_frequency - Hz, None if not tapped; damping - ratio;
    tip_mass - motor, mount, hub and blades, kg; rotor_height - of the rotor's plane above the arm's axis, m.
    """

    shape: str
    length: float
    outer_diameter: float
    wall: float
    width: float
    height: float
    material: Material
    tap_frequency: float | None
    damping: float
    tip_mass: float
    rotor_height: float


@dataclass(frozen=True)
class ControllerData:
    """The plate with the accelerometer: mass kg; mount_frequency Hz; mount_damping - ratio."""

    mass: float
    mount_frequency: float
    mount_damping: float


@dataclass(frozen=True)
class ReleaseData:
    """Where a blade may be thrown from: height - above the ground in flight, m; stand_height - of the axis of
    the rotor on the thrust stand, m; stand_level - whether that axis lies level, so that any angle is thrown.
    """

    height: float
    stand_height: float
    stand_level: bool
