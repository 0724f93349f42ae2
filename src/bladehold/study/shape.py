"""The blade of a build: its shape, its polar, and what it weighs."""

from __future__ import annotations

from collections.abc import Hashable

from bladehold.blade import BladeBody
from bladehold.rotor import (
    BladeGeometry,
    Polar,
    blade_from_measures,
    blade_from_table,
    blade_polar,
    section_catalogue,
)
from bladehold.rotor.correction import corrected_geometry, corrected_polar
from bladehold.sheet.build import Build


def geometry_of(build: Build) -> BladeGeometry:
    """Return the blade's aerodynamic shape as described; the blade proper begins at the pivot."""
    propeller = build.propeller
    radius, start = propeller.diameter / 2, build.hub.pivot_radius
    if propeller.stations:
        stations = propeller.stations
        return blade_from_table(
            radius=radius,
            hub_radius=start,
            r=[s.radius for s in stations],
            chord=[s.chord for s in stations],
            twist=[s.twist for s in stations],
            thickness=[s.thickness for s in stations],
            sections=tuple(s.section for s in stations),
        )
    return blade_from_measures(
        diameter=propeller.diameter,
        hub_radius=start,
        geometric_pitch=propeller.pitch,
        widest_chord=propeller.widest_chord,
        widest_fraction=propeller.widest_at,
        tip_chord=propeller.tip_chord,
        thickness_ratio=section_catalogue()[propeller.section].thickness_ratio,
        section=propeller.section,
        root_thickness=propeller.root_thickness,
    )


def blade_of(build: Build) -> tuple[BladeGeometry, Polar]:
    """Return shape and polar of the blade with what a bench run taught about them."""
    geometry, correction = geometry_of(build), build.propeller.correction
    return corrected_geometry(geometry, correction), corrected_polar(polar_of(build, geometry), correction)


UNFELT = (
    "polar", "folding", "blade_mass", "balance_point", "precone", "tap_frequency", "thrust_uncertainty",
    "structure",
)  # fmt: skip
"""Of the blades, what no air feels."""


def shape_key(build: Build) -> Hashable:
    """Return what `blade_of` rests on: the blades without what no air feels. The polar stands in it by its
    identity.
    """
    blade = build.propeller
    felt = tuple(value for name, value in vars(blade).items() if name not in UNFELT)
    return felt, id(blade.polar), build.hub.pivot_radius


def polar_of(build: Build, geometry: BladeGeometry) -> Polar:
    """Return the polar of the blade as described: the user's own, or that of the sections it names."""
    own = build.propeller.polar
    return blade_polar(geometry) if own is None else own


def body_of(build: Build) -> BladeBody:
    """Return the blade's body, with the mass at its tip.

    Play in the clevis is not counted as relief: clamping may take it up.
    """
    propeller, pivot = build.propeller, build.hub.pivot_radius
    tip, length = propeller.structure.tip_mass, propeller.diameter / 2 - pivot
    mass = propeller.blade_mass + tip
    return BladeBody(
        mass=mass,
        pivot_radius=pivot,
        balance_point=(propeller.blade_mass * propeller.balance_point + tip * length) / mass,
        folding=propeller.folding,
        upward_angle=propeller.precone,
    )
