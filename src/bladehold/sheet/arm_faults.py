"""Faults of the arm and the flight controller that no single key shows."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from bladehold.sheet.locate import Path

if TYPE_CHECKING:
    from bladehold.sheet.hardware import Arm
    from bladehold.sheet.sheet import Sheet

MEASURES = {
    "tube": ("outer_diameter", "wall"),
    "plate": ("width", "height"),
    "box": ("width", "height", "wall"),
}
"""Measures of each shape of an arm."""
_LARGEST = 0.2  # of the aircraft, of a controller with its plate


def arm_faults(sheet: Sheet) -> Iterator[tuple[Path, str]]:
    """Yield every fault of arm and controller as the key it is reported at and a sentence."""
    plate, whole = sheet.flight_controller, sheet.aircraft.mass
    if plate is not None and plate.mass is not None and plate.mass.si > _LARGEST * whole.si:
        yield (
            ("flight_controller", "mass"),
            f"{plate.mass} is more than a fifth of the aircraft ({whole}): the plate on soft mounts is meant",
        )
    arm = sheet.arm
    if arm is None:
        return
    wanted = MEASURES[arm.shape]
    for key in dict.fromkeys(key for keys in MEASURES.values() for key in keys):
        given = getattr(arm, key) is not None
        if key in wanted and not given:
            yield ("arm", key), f"a {arm.shape} needs {' and '.join(wanted)}"
        elif given and key not in wanted:
            yield ("arm", key), f"a {arm.shape} has no {key}; it has {' and '.join(wanted)}"
    yield from _wall(arm)
    distance = sheet.aircraft.rotor_distance
    if arm.length and distance and arm.length.si > distance.si:
        yield ("arm", "length"), f"{arm.length} is longer than aircraft.rotor_distance ({distance})"
    if arm.tip_mass and arm.tip_mass.si * sheet.aircraft.rotors >= sheet.aircraft.mass.si:
        yield (
            ("arm", "tip_mass"),
            f"{arm.tip_mass} on {sheet.aircraft.rotors} arms outweighs the aircraft ({sheet.aircraft.mass})",
        )


def _wall(arm: Arm) -> Iterator[tuple[Path, str]]:
    if arm.wall is None:
        return
    if arm.shape == "tube" and arm.outer_diameter and 2.0 * arm.wall.si > arm.outer_diameter.si:
        yield ("arm", "wall"), f"{arm.wall} is more than half of outer_diameter ({arm.outer_diameter})"
    sides = [side for side in (arm.width, arm.height) if side]
    if arm.shape == "box" and sides and 2.0 * arm.wall.si >= min(side.si for side in sides):
        yield ("arm", "wall"), f"{arm.wall} leaves nothing inside the box"
