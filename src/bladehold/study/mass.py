"""Mass of the retention hardware of a rotor, from its geometry and the densities of its materials.

One function for each kind of part; `retention_mass` puts them together. Blades are not in it (their mass is
weighed), nor is what the sheet does not describe: `mass_remarks` says what. Nominal dimensions throughout.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, pi, sqrt, tan

from bladehold.sheet.build import Build, Screw
from bladehold.study.checks.parts import BUSH, MOUNTING, PIVOT, PLATES, TIES
from bladehold.study.clamp import pivot_stack
from bladehold.tables import clearance_hole, head, nut, washer

NUTS, WASHERS, SPACERS = "pivot nuts", "pivot washers", "tie spacers"
NO_NUT = frozenset({"tapped", "circlip", "none"})
_SOCKET_DEPTH = 0.5  # of the height of a socket head: the least depth of ISO 4762 (memory)
_FLATS = sqrt(3.0) / 2.0  # area of a hexagon over the square of its width across flats


@dataclass(frozen=True)
class Pieces:
    """Pieces of one kind in a rotor: how many, and the mass of one, kg."""

    count: int
    each: float

    @property
    def mass(self) -> float:
        """Of all of them, kg."""
        return self.count * self.each


def ring_mass(outer: float, inner: float, length: float, density: float) -> float:
    """Mass (kg) of a round ring or, with inner 0, of a cylinder.

    Arguments: outer, inner - diameters, m; length - m; density - kg/m3.
    """
    return density * pi / 4.0 * (outer**2 - inner**2) * length


def screw_mass(screw: Screw, length: float) -> float:
    """Mass (kg) of a screw without its nut.

    Its thread weighs as a cylinder of the pitch diameter; a plain shank, where the sheet says one, runs to
    its last two diameters. The socket is as deep as half its head is high.
    Arguments: screw; length - under the head, m.
    """
    kind, thread, density = head(screw.thread.name, screw.head), screw.thread, screw.strength.density
    threaded = length
    if screw.shear_plane == "shank":
        threaded = min(length, 2.0 * thread.nominal_diameter)
    body = ring_mass(thread.profile.pitch_diameter, 0.0, threaded, density)
    body += ring_mass(screw.shear_diameter, 0.0, length - threaded, density)
    if screw.head == "socket":
        top = ring_mass(kind.width, 0.0, kind.height, density)
        return body + top - density * _FLATS * kind.key**2 * _SOCKET_DEPTH * kind.height
    return body + density * _FLATS * kind.width**2 * kind.height


def nut_mass(screw: Screw) -> float:
    """Mass (kg) of the nut on a screw, of the screw's material; 0 where it has none.

    A hexagon without its chamfers, with a hole of the thread's pitch diameter. A locking nut is one as high
    as its thread, with a collar about the insert as wide as its bearing face, taken as metal.
    """
    if screw.nut in NO_NUT:
        return 0.0
    size, thread, density = nut(screw.thread.name, screw.nut), screw.thread, screw.strength.density
    area = _FLATS * size.width**2 - pi / 4.0 * thread.profile.pitch_diameter**2
    if screw.nut != "locking":
        return density * area * size.height
    above = size.height - size.thread_height
    collar = ring_mass(size.bearing_diameter, thread.nominal_diameter, above, density)
    return density * area * size.thread_height + collar


def washer_mass(screw: Screw) -> float:
    """Mass (kg) of one plain washer of a screw, of the screw's material."""
    ring = washer(screw.thread.name)
    return ring_mass(ring.outer_diameter, ring.inner_diameter, ring.thickness, screw.strength.density)


def pivot_length(build: Build) -> float:
    """Length (m) of the pivot screw under its head: of the sheet, else what its grip and thread need."""
    screw = build.pivot
    if screw.length is not None:
        return screw.length
    beyond = screw.engagement if screw.nut in NO_NUT else nut(screw.thread.name, screw.nut).height
    return pivot_stack(build).grip + beyond


def plate_mass(build: Build) -> float:
    """Mass (kg) of one hub plate: a square-ended arm from the rotor axis to beyond each pivot, holes drilled.

    The arms of B blades overlap in a regular polygon about the axis, which is counted once.
    """
    hub, blades = build.hub, build.propeller.blades
    length, width = hub.pivot_radius + hub.plate_edge_distance, hub.plate_width
    inner = min(width / 2.0 / tan(pi / blades), length) if blades > 2 else 0.0
    drilled = pi / 4.0 * hub.plate_hole**2
    if build.ties.screw is not None:
        tie_hole = clearance_hole(build.ties.screw.thread.name, "medium").diameter
        drilled += build.ties.count * pi / 4.0 * tie_hole**2
    area = blades * (width * (length - inner / 2.0) - drilled)
    return hub.plate_material.density * hub.plate_thickness * area


def bush_mass(build: Build) -> float:
    """Mass (kg) of the bush of one blade, 0 without."""
    hub = build.hub
    if hub.bush_diameter is None or hub.bush_material is None:
        return 0.0
    return ring_mass(hub.bush_diameter, hub.lug_hole, hub.bush_length, hub.bush_material.density)


def spacer_mass(build: Build) -> float:
    """Mass (kg) of the spacer of one tie, as long as the lug is thick; 0 without ties."""
    hub, screw = build.hub, build.ties.screw
    if screw is None or hub.spacer_material is None:
        return 0.0
    bore = screw.thread.nominal_diameter
    return ring_mass(max(hub.spacer_diameter, bore), bore, hub.lug_thickness, hub.spacer_material.density)


def tie_length(build: Build) -> float:
    """Length (m) of a tie screw: through both plates and the spacer, in thread to the last."""
    return 2.0 * build.hub.plate_thickness + build.hub.lug_thickness


def mounting_length(build: Build) -> float:
    """Length (m) of a mounting screw: through what it clamps, and the thread engaged in the bell."""
    hub = build.hub
    through = tie_length(build) if hub.upper_plate_bolted else hub.plate_thickness
    return through + build.mounting.screw.engagement


def retention_pieces(build: Build) -> dict[str, Pieces]:
    """Return what holds the blades of one rotor, by part; parts that the build does not have are left out."""
    blades, pivot, ties, mounting = build.propeller.blades, build.pivot, build.ties, build.mounting
    found = {
        PIVOT: Pieces(blades, screw_mass(pivot, pivot_length(build))),
        NUTS: Pieces(blades, nut_mass(pivot)),
        WASHERS: Pieces(2 * blades if pivot.washers else 0, washer_mass(pivot)),
        BUSH: Pieces(blades, bush_mass(build)),
        PLATES: Pieces(2, plate_mass(build)),
    }
    if ties.screw is not None:
        found[TIES] = Pieces(blades * ties.count, screw_mass(ties.screw, tie_length(build)))
        found[SPACERS] = Pieces(blades * ties.count, spacer_mass(build))
    found[MOUNTING] = Pieces(mounting.count, screw_mass(mounting.screw, mounting_length(build)))
    return {part: pieces for part, pieces in found.items() if pieces.mass > 0.0}


def retention_mass(build: Build) -> dict[str, float]:
    """Return the mass (kg) of what holds the blades of one rotor, by part."""
    return {part: pieces.mass for part, pieces in retention_pieces(build).items()}


def mass_remarks(build: Build) -> tuple[str, ...]:
    """Return what must be said beside these masses: what is taken and what is not counted."""
    pivot = build.pivot
    told = [
        "plates are straight arms from the rotor axis to beyond each pivot, square at their ends: a middle "
        "that is wider, its bore and the mounting holes are not in the sheet and not counted"
    ]
    if pivot.length is None:
        told.append("the pivot screw's length is not given: as long as its grip and thread need")
    if pivot.nut == "circlip" or pivot.spring_rate < inf:
        told.append("circlips and spring washers are not counted")
    return tuple(told)
