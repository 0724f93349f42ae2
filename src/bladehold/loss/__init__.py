"""What comes after a failure: the shaken arm, the thrown blade. Pure functions on SI numbers and arrays.

`section`, `arm` - cross-sections, natural frequencies and forced motion of an arm with a motor at its end;
`response` - one mode under an unbalance, a free aircraft with a soft-mounted plate, the published measure of
vibration; `release`, `throw` - speed and energy of a blade that comes off, its flight without and with air.
"""

from bladehold.loss.arm import (
    SLENDER_RANGE,
    ArmBeam,
    TipMode,
    TipResponse,
    bending_frequencies,
    bending_roots,
    matched_stiffness,
    rod_frequency,
    rod_response,
    tip_mode,
    tip_response,
    torsion_roots,
)
from bladehold.loss.release import (
    best_vacuum_angle,
    greatest_vacuum_range,
    lost_pull,
    release_speed,
    rod_inertia,
    rotation_energy,
    translation_energy,
    vacuum_range,
)
from bladehold.loss.response import (
    HIGH_PASS,
    LOW_PASS,
    Mount,
    carried_acceleration,
    mount_of,
    pair_response,
    unbalance_magnification,
    vibration_measure,
)
from bladehold.loss.section import ArmSection, box_section, plate_section, tube_section
from bladehold.loss.throw import (
    Landing,
    drag_rate,
    farthest_throw,
    thrown,
)

__all__ = [
    "HIGH_PASS",
    "LOW_PASS",
    "SLENDER_RANGE",
    "ArmBeam",
    "ArmSection",
    "Landing",
    "Mount",
    "TipMode",
    "TipResponse",
    "bending_frequencies",
    "bending_roots",
    "best_vacuum_angle",
    "box_section",
    "carried_acceleration",
    "drag_rate",
    "farthest_throw",
    "greatest_vacuum_range",
    "lost_pull",
    "matched_stiffness",
    "mount_of",
    "pair_response",
    "plate_section",
    "release_speed",
    "rod_frequency",
    "rod_inertia",
    "rod_response",
    "rotation_energy",
    "thrown",
    "tip_mode",
    "tip_response",
    "torsion_roots",
    "translation_energy",
    "tube_section",
    "unbalance_magnification",
    "vacuum_range",
    "vibration_measure",
]
