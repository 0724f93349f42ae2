"""The arm of a build as beams in two planes and a rod in twist and stretch, with what sits at its end."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

from bladehold.loss import (
    SLENDER_RANGE,
    ArmBeam,
    ArmSection,
    TipMode,
    box_section,
    matched_stiffness,
    plate_section,
    rod_frequency,
    tip_mode,
    tube_section,
)
from bladehold.sheet.build import Build
from bladehold.sheet.build_loss import ArmData
from bladehold.study.shape import body_of
from bladehold.tables import Material, blade_material, blade_material_names
from bladehold.validity import Range

_POISSON = 0.3  # of metals, and of laminates alike in every direction

TAP_RANGE = Range(
    "stiffness by the tap test over that of the measures",
    0.2,
    2.0,
    "",
    "another motion was heard, the clamp gives much, or the arm is not what the sheet says",
    "own limit",
)


@dataclass(frozen=True, eq=False)
class ArmModel:
    """One arm.

    data - as resolved; section; vertical, horizontal - beams in the two planes; twisting, pulling - stiffness
    (N*m^2, N), inertia per length (kg*m, kg/m) and inertia at the end (kg*m^2, kg) in twist and in stretch;
    stiffness_factor - by the tap test over the measures, None without one; breaches.
    """

    data: ArmData
    section: ArmSection
    vertical: ArmBeam
    horizontal: ArmBeam
    twisting: tuple[float, float, float]
    pulling: tuple[float, float, float]
    stiffness_factor: float | None
    breaches: tuple[str, ...]

    @cached_property
    def sideways(self) -> TipMode:
        """First bending mode in the plane of the rotor."""
        return tip_mode(self.horizontal)

    @cached_property
    def upright(self) -> TipMode:
        """First bending mode up and down."""
        return tip_mode(self.vertical)

    @cached_property
    def frequencies(self) -> dict[str, float]:
        """First natural frequencies (Hz) by name, lowest first."""
        found = {
            "vertical bending": float(self.upright.frequency),
            "horizontal bending": float(self.sideways.frequency),
            "twist": self.twist_frequency,
        }
        return dict(sorted(found.items(), key=lambda item: item[1]))

    @property
    def twist_frequency(self) -> float:
        """First natural frequency in twist, Hz."""
        stiffness, inertia, tip = self.twisting
        return float(rod_frequency(stiffness, inertia, self.data.length, tip))


def arm_model(build: Build, arm: ArmData) -> ArmModel:
    """Return an arm as beams and rods.

    At the end sits a column of the tip's mass from the axis of the arm up to the plane of the rotor, whose
    inertia m h^2 / 3 acts in vertical bending and in twist, with half the rotor's own about a diameter; in
    the horizontal plane the rotor turns on its bearing and only the mass acts. A tapped frequency scales the
    stiffness in all directions: what the clamp gives is in it.
    """
    section = _section(arm)
    modulus, shear, density = arm.material.modulus, _shear_modulus(arm.material), arm.material.density
    line = float(density * section.area)
    inertia = arm.tip_mass * arm.rotor_height**2 / 3.0 + _rotor_inertia(build) / 2.0
    vertical = ArmBeam(
        modulus * float(section.vertical), line, arm.length, arm.tip_mass, inertia, arm.damping
    )
    factor = None
    if arm.tap_frequency is not None:
        factor = float(matched_stiffness(vertical, arm.tap_frequency)) / float(vertical.stiffness)
    scale = 1.0 if factor is None else factor
    slender = arm.length / max(float(section.height), float(section.width))
    found = SLENDER_RANGE.breach(slender), TAP_RANGE.breach(factor) if factor else None
    return ArmModel(
        data=arm,
        section=section,
        vertical=replace(vertical, stiffness=scale * vertical.stiffness),
        horizontal=ArmBeam(
            scale * modulus * float(section.horizontal), line, arm.length, arm.tip_mass, 0.0, arm.damping
        ),
        twisting=(scale * shear * float(section.torsion), density * float(section.polar), inertia),
        pulling=(modulus * float(section.area), line, arm.tip_mass),
        stiffness_factor=factor,
        breaches=tuple(text for text in found if text),
    )


def _section(arm: ArmData) -> ArmSection:
    if arm.shape == "tube":
        return tube_section(arm.outer_diameter, arm.wall)
    if arm.shape == "plate":
        return plate_section(arm.width, arm.height)
    return box_section(arm.width, arm.height, arm.wall)


def _shear_modulus(material: Material) -> float:
    """Shear modulus (Pa): of the table of blades where the material stands in it, else of a metal."""
    if material.name in blade_material_names():
        return blade_material(material.name).shear_modulus
    return material.modulus / (2.0 * (1.0 + _POISSON))


def _rotor_inertia(build: Build) -> float:
    """Moment of inertia (kg*m^2) of the blades about the rotor's axis, each as if an even rod."""
    body = body_of(build)
    length = build.propeller.diameter / 2 - body.pivot_radius
    own = length**2 / 12.0 + (body.pivot_radius + body.balance_point) ** 2
    return build.propeller.blades * body.mass * own


def axial_mount(model: ArmModel) -> tuple[float, float]:
    """Mass (kg) at the end and stiffness (N/m) of the arm pulled along itself: E A / L and the tip."""
    stiffness, _, tip = model.pulling
    return tip, stiffness / model.data.length
