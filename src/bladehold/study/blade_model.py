"""The blade of a build as an elastic beam: sections from its shape and lay-up, mass as weighed."""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from bladehold.blade import (
    SKIN_RANGE,
    BeamMatrices,
    Layup,
    MassSpread,
    RootSupport,
    SectionProperties,
    beam_from_sections,
    beam_matrices,
    fit_mass,
    four_digit_form,
    section_properties,
    tapped_stiffness,
)
from bladehold.rotor import BladeGeometry, section_catalogue
from bladehold.sheet.build import Build
from bladehold.study.clevis import joint_stiffness
from bladehold.study.shape import geometry_of
from bladehold.validity import Range

FloatArray = NDArray[np.float64]

LUG_END = 0.2
"""Share of the radius at which a blade has turned from its lug's angle to its pitch, and from the solid lug
to a skin where it has one: own assumption."""

MASS_RANGE = Range(
    "weighed mass over that of the lay-up",
    0.6,
    1.7,
    "",
    "the blade is not built as the sheet says: its stiffness is guesswork until a tap test tells it",
    "own limit",
)
STIFFNESS_RANGE = Range(
    "stiffness by the tap test over that of the lay-up",
    0.4,
    2.5,
    "",
    "the blade is not built as the sheet says, or was not clamped at its root, or another mode was heard",
    "own limit",
)


@dataclass(frozen=True, eq=False)
class BladeModel:
    """A blade as a beam.

    weighed - mass on the scale, kg; stations - [S], m from the pivot; sections, spread - at them; matrices -
    of the elements, the pivot a hinge in lag where the blade folds; stiffness_factor - by the tap test over
    the lay-up's, None without one; breaches - ranges left.
    """

    weighed: float
    stations: FloatArray
    sections: SectionProperties
    spread: MassSpread
    matrices: BeamMatrices
    stiffness_factor: float | None
    breaches: tuple[str, ...]

    @property
    def pivot_radius(self) -> float:
        """Rotor axis to pivot, m."""
        return self.matrices.beam.pivot_radius

    @property
    def mass(self) -> float:
        """Of the blade with the mass at its tip, kg."""
        return self.weighed + self.matrices.beam.tip_mass

    @property
    def first_moment(self) -> float:
        """About the pivot, with the mass at the tip, kg*m."""
        beam = self.matrices.beam
        return self.weighed * self.spread.balance_point + beam.tip_mass * beam.length

    @property
    def inertia(self) -> float:
        """About the pivot, with the mass at the tip, kg*m^2."""
        beam = self.matrices.beam
        return self.spread.flap_inertia + beam.tip_mass * beam.length**2


def blade_model(build: Build, *, checked: bool = False) -> BladeModel:
    """Return the blade of a build as a beam, its root on the spring of the clevis.

    Chord, twist and thickness are those of the aerodynamic blade without what a bench run taught of it.
    Inboard of LUG_END the structural angle runs straight to that of the lug, and a skinned blade becomes
    solid. The quarter chord lies on the line through the pivot along the span.
    Arguments: build; checked - for the loads of the checks: a stiffness of the clevis that is computed and
    not measured must not take anything off them, so the root is then held fast.
    Errors: BalanceError when mass and balance point cannot both be met.
    """
    propeller, built = build.propeller, build.propeller.structure
    geometry = geometry_of(build)
    radii = np.concatenate([[geometry.hub_radius], geometry.r, [geometry.radius]])
    stations = radii - geometry.hub_radius
    chord, twist, thickness = (
        np.interp(radii, geometry.r, values)
        for values in (geometry.chord, geometry.twist, _thickness(geometry, built.tip_thickness))
    )
    form = four_digit_form(section_catalogue()[_main_section(geometry)].camber_ratio)
    grown = np.clip(stations / (LUG_END * geometry.radius - geometry.hub_radius), 0.0, 1.0)
    sections = section_properties(chord, thickness, form, Layup(built.skin))
    if built.skin_thickness is not None:
        skinned = section_properties(
            chord, thickness, form, Layup(built.skin, built.skin_thickness, built.core)
        )
        sections = _between(sections, skinned, grown)
    spread = fit_mass(stations, sections.line_mass, propeller.blade_mass, propeller.balance_point)
    angle = built.lug_angle + grown * (twist - built.lug_angle)
    beam = beam_from_sections(
        stations,
        sections,
        angle,
        spread,
        pivot_radius=geometry.hub_radius,
        mass_offset=(0.25 - sections.mass_place) * chord,
        tip_mass=built.tip_mass,
    )
    factor = None
    if np.isfinite(propeller.tap_frequency):
        beam, factor = tapped_stiffness(beam, propeller.tap_frequency)
    found = (
        SKIN_RANGE.breach(sections.wall_share[grown == 1.0]) if built.skin_thickness else None,
        MASS_RANGE.breach(spread.scale),
        STIFFNESS_RANGE.breach(factor) if factor else None,
    )
    fast = checked and build.hub.flap_stiffness is None
    flap_spring = float("inf") if fast else joint_stiffness(build)
    support = RootSupport(flap_spring, 0.0 if propeller.folding else float("inf"))
    return BladeModel(
        weighed=propeller.blade_mass,
        stations=stations,
        sections=sections,
        spread=spread,
        matrices=beam_matrices(beam, support),
        stiffness_factor=factor,
        breaches=tuple(text for text in found if text),
    )


def _between(root: SectionProperties, outer: SectionProperties, way: FloatArray) -> SectionProperties:
    """Sections that go over from those of the root to those farther out."""
    parts = {
        field.name: (1.0 - way) * getattr(root, field.name) + way * getattr(outer, field.name)
        for field in fields(SectionProperties)
    }
    return SectionProperties(**parts)


def _thickness(geometry: BladeGeometry, at_tip: float | None) -> FloatArray:
    """Thickness at the stations; one measured at the tip scales it in proportion to the way from the root."""
    if at_tip is None:
        return geometry.thickness
    way = (geometry.r - geometry.hub_radius) / (geometry.radius - geometry.hub_radius)
    return np.asarray(geometry.thickness * (1.0 + way * (at_tip / geometry.thickness[-1] - 1.0)))


def _main_section(geometry: BladeGeometry) -> str:
    """The section that most of the blade has."""
    return geometry.sections[int(np.argmax(geometry.section_weights.sum(axis=0)))]
