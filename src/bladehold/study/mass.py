"""What the retention of one rotor weighs, part by part, from its measures and densities.

For comparing one hub with another. Outlines that no sheet describes are straight strips: a plate runs from
the rotor's axis past the pivot, a lug past its hole on both sides. What does not change with screws, plates
and lug, as the hub's core and the motor's bell, is left out.
"""

from __future__ import annotations

from math import pi, sqrt

from bladehold.sheet.build import Build, Screw
from bladehold.study.checks.parts import BUSH, LUG, MOUNTING, PIVOT, PLATES, TIES
from bladehold.tables import head, nut, thread, washer

STEEL = 7850.0
"""Density of nuts and washers, kg/m^3: handbook value (mark: memory). Screws have that of their class."""
_HEXAGON = sqrt(3.0) / 2.0  # area of a hexagon over the square of its width across flats
_PAST = 1.0  # pitches of thread that stand beyond a nut


def head_volume(size: str, kind: str) -> float:
    """Volume of a screw's head, m^3: of a socket head the cylinder less a hexagon half as deep as it is high.

    Arguments: size - thread; kind - "socket" or "hexagon". Source: geometry with the measures of ISO 4762 and
    ISO 4014; the depth of the key's socket is ISO 4762's least within a tenth.
    """
    row = head(size, kind)
    if kind == "socket":
        return pi / 4.0 * row.width**2 * row.height - _HEXAGON * row.key**2 * row.height / 2.0
    return _HEXAGON * row.width**2 * row.height


def screw_mass(screw: Screw, length: float) -> float:
    """Mass of a screw with its head, kg. A threaded part weighs as much as a cylinder of the pitch diameter.

    Arguments: screw; length - under the head, m, at least 0. Source: geometry; density of the class.
    """
    row = screw.thread
    threaded = length
    volume = head_volume(row.name, screw.head)
    if screw.shear_plane == "shank":
        # The nut's thread and what stands beyond it; all before is plain.
        threaded = min(length, screw.engagement + _PAST * row.pitch)
        volume += pi / 4.0 * screw.shear_diameter**2 * (length - threaded)
    volume += pi / 4.0 * row.profile.pitch_diameter**2 * threaded
    return screw.strength.density * volume


def nut_mass(size: str, kind: str) -> float:
    """Mass of a hexagon nut, kg: its hexagon less a hole of the pitch diameter; a locking ring counts as
    steel.

    Arguments: size - thread; kind - as in the table of nuts. Source: geometry with the measures of the table.
    """
    row = nut(size, kind)
    hole = pi / 4.0 * thread(size).profile.pitch_diameter ** 2
    return STEEL * (_HEXAGON * row.width**2 - hole) * row.height


def washer_mass(size: str) -> float:
    """Mass of a plain washer, kg. Arguments: size - thread. Source: geometry, measures of ISO 7089."""
    row = washer(size)
    return STEEL * ring_area(row.outer_diameter, row.inner_diameter) * row.thickness


def ring_area(outer: float, inner: float) -> float:
    """Area between two circles, m^2. Arguments: outer, inner - diameters, m. Source: geometry."""
    return pi / 4.0 * (outer**2 - inner**2)


def pivot_screw_length(build: Build) -> float:
    """Length under the head of a pivot screw, m: that of the sheet, else what plates, lug and nut need."""
    screw = build.pivot
    needed = _grip(build)
    if screw.nut not in {"tapped", "circlip", "none"}:
        needed += nut(screw.thread.name, screw.nut).height + _PAST * screw.thread.pitch
    else:
        needed += screw.engagement
    return needed if screw.length is None else screw.length


def retention_mass(build: Build) -> dict[str, float]:
    """Return the mass of the retention of one rotor, kg, part by part: of all its blades together.

    Arguments: build. Ties, mounting screws and a bush stand in it only where there are any.
    """
    hub, blades = build.hub, build.propeller.blades
    found = {PIVOT: blades * _pivot(build), PLATES: 2 * blades * _plate(build), LUG: blades * _lug(build)}
    if hub.bush_diameter is not None and hub.bush_material is not None:
        one = ring_area(hub.bush_diameter, hub.lug_hole) * hub.bush_length
        found[BUSH] = blades * hub.bush_material.density * one
    ties = build.ties
    if ties.count and ties.screw is not None:
        found[TIES] = blades * ties.count * _tie(build, ties.screw)
    mounting = build.mounting.screw
    length = hub.plate_thickness + mounting.engagement
    if hub.upper_plate_bolted:
        length += hub.plate_thickness + hub.lug_thickness
    found[MOUNTING] = build.mounting.count * screw_mass(mounting, length)
    return found


def _grip(build: Build) -> float:
    hub, screw = build.hub, build.pivot
    between = max(hub.lug_thickness + 2.0 * hub.gap, hub.bush_length if hub.bush_carries else 0.0)
    rings = 2.0 * washer(screw.thread.name).thickness if screw.washers else 0.0
    return 2.0 * hub.plate_thickness + between + rings


def _pivot(build: Build) -> float:
    screw = build.pivot
    size = screw.thread.name
    mass = screw_mass(screw, pivot_screw_length(build))
    if screw.nut not in {"tapped", "circlip", "none"}:
        mass += nut_mass(size, screw.nut)
    return mass + (2.0 * washer_mass(size) if screw.washers else 0.0)


def _plate(build: Build) -> float:
    """One plate's share of one blade."""
    hub = build.hub
    strip = hub.plate_width * (hub.pivot_radius + hub.plate_edge_distance)
    hole = pi / 4.0 * hub.plate_hole**2
    return hub.plate_material.density * hub.plate_thickness * (strip - hole)


def _lug(build: Build) -> float:
    hub = build.hub
    strip = 2.0 * hub.lug_width * hub.lug_edge_distance
    hole = pi / 4.0 * hub.lug_cut**2
    return hub.lug_material.density * hub.lug_thickness * (strip - hole)


def _tie(build: Build, screw: Screw) -> float:
    hub, size = build.hub, screw.thread.name
    thin = nut(size, "thin").height
    length = 2.0 * hub.plate_thickness + hub.lug_thickness + thin + _PAST * screw.thread.pitch
    mass = screw_mass(screw, length) + nut_mass(size, "thin")
    if hub.spacer_material is not None:
        sleeve = ring_area(hub.spacer_diameter, screw.thread.nominal_diameter)
        mass += hub.spacer_material.density * max(sleeve, 0.0) * hub.lug_thickness
    return mass
