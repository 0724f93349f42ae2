"""The parts with a hole that the pivot screw pulls on: material and measures, as every check of them asks."""

from __future__ import annotations

from dataclasses import dataclass

from bladehold.sheet.build import Build, Screw
from bladehold.tables import Material


@dataclass(frozen=True)
class Eye:
    """A lug or one plate at its hole, m: edge - hole centre to its end; pin - what bears in the hole."""

    material: Material
    width: float
    edge: float
    hole: float
    thickness: float
    pin: float


def pin_diameter(screw: Screw) -> float:
    """Return the diameter (m) of a screw that bears in its hole: of the thread, or of a thicker shank."""
    return max(screw.thread.nominal_diameter, screw.shear_diameter)


def lug_eye(build: Build) -> Eye:
    """Return the lug as its surroundings load it: a bush widens the hole and the pin."""
    hub = build.hub
    return Eye(
        material=hub.lug_material,
        width=hub.lug_width,
        edge=hub.lug_edge_distance,
        hole=hub.lug_cut,
        thickness=hub.lug_thickness,
        pin=pin_diameter(build.pivot) if hub.bush_diameter is None else hub.bush_diameter,
    )


def plate_eye(build: Build) -> Eye:
    """Return one hub plate at the pivot's hole."""
    hub = build.hub
    return Eye(
        material=hub.plate_material,
        width=hub.plate_width,
        edge=hub.plate_edge_distance,
        hole=hub.plate_hole,
        thickness=hub.plate_thickness,
        pin=pin_diameter(build.pivot),
    )
