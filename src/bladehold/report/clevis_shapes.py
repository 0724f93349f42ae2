"""What the drawings of the blade retention joint are made of: areas, lines, heights and stretches, in metres.

x runs outboard from the rotor axis. In the section z runs up from the lug's mid plane; in the plan y runs
across the blade.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from bladehold.report.clevis_page import merged
from bladehold.sheet import Build
from bladehold.sheet.build import Screw
from bladehold.tables import head, nut, washer

Ring = tuple[tuple[float, float], ...]

PIVOT, LUG, BUSH, PLATES = "pivot screw", "blade lug", "bush", "hub plates"
TIES, MOUNTING = "tie screws", "mounting screws"

LUG_BEYOND = 0.25  # of the lug's width, that the lug reaches beyond the plates
_STUB = 0.75  # of the lug's width, by which the blade is drawn beyond its lug
_ARC = 32  # corners of half a circle
_BEYOND = 2.0  # pitches by which a screw of unknown length stands out of its nut
_EMPTY = 0.4  # share of what is drawn that may be empty in one piece


@dataclass(frozen=True)
class Shape:
    """One area: part - as the checks call it, or empty; kind - what it is; rings - outline and holes;
    lean - which way a cut area is hatched, 1 or -1, 0 where nothing is cut.
    """

    part: str
    kind: str
    rings: tuple[Ring, ...]
    lean: int = 0


@dataclass(frozen=True)
class Stroke:
    """An open line of the drawing, with what it is."""

    kind: str
    points: Ring


@dataclass(frozen=True)
class Levels:
    """Heights (m, from the lug's mid plane): opening - half of that between the plates; outer - outer face of
    a plate; face - under the head; head - top of the head; nut - the nut's bearing face; end - of the screw;
    lowest - of all that is drawn.
    """

    opening: float
    outer: float
    face: float
    head: float
    nut: float
    end: float
    lowest: float


@dataclass(frozen=True)
class Extent:
    """What is seen along x, m: kept - stretches, apart where an empty one between them is left out.

    blade_end - where the blade is broken off; on_right - whether the mounting screw outboard of the axis has
    room in the section.
    """

    kept: tuple[tuple[float, float], ...]
    blade_end: float
    on_right: bool

    @property
    def left(self) -> float:
        """Where hub and plates are broken off."""
        return self.kept[0][0]

    def shows(self, low: float, high: float) -> bool:
        """Whether all from low to high is seen."""
        return any(first <= low and high <= last for first, last in self.kept)


def extent_of(build: Build) -> Extent:
    """Return what is seen of a build along x."""
    hub, (radius, reach) = build.hub, mounting_reach(build)
    blade_end = lug_end(build) + _STUB * hub.lug_width
    inner = hub.pivot_radius - max(0.5 * outer_width(build), hub.lug_edge_distance)
    found = [(-radius - 2.0 * reach, -radius + reach), (-0.5 * reach, 0.5 * reach)]
    found.append((inner - 0.1 * hub.lug_width, blade_end))
    on_right = reach < radius < inner - reach
    if build.ties.screw is not None:
        place, half = hub.pivot_radius - build.ties.distance, 0.6 * hub.spacer_diameter
        found.append((place - half, place + half))
        on_right = on_right and abs(radius - place) > reach + half
    if on_right:
        found.append((radius - reach, radius + reach))
    return Extent(tuple(merged(found, _EMPTY)), blade_end, on_right)


def rectangle(x1: float, x2: float, z1: float, z2: float) -> tuple[Ring, ...]:
    """Return the outline of an upright rectangle."""
    return (((x1, z1), (x2, z1), (x2, z2), (x1, z2)),)


def disc(x: float, y: float, diameter: float) -> Ring:
    """Return the outline of a circle."""
    steps = [math.pi * k / _ARC for k in range(2 * _ARC)]
    return tuple((x + diameter / 2 * math.cos(a), y + diameter / 2 * math.sin(a)) for a in steps)


def bar(end: float, other: float, half: float) -> Ring:
    """Return the outline of a bar from a round end to a straight one."""
    way = math.copysign(1.0, end - other)
    # A bar shorter than its half width keeps an end that is round, but flatter.
    deep = min(half, abs(end - other))
    steps = [math.pi * (k / _ARC - 0.5) for k in range(_ARC + 1)]
    arc = [(end - way * deep * (1.0 - math.cos(a)), half * math.sin(a)) for a in steps]
    return ((other, -half), *arc, (other, half))


def lug_end(build: Build) -> float:
    """Return where the lug, as thick as it is between the plates, goes over into the blade."""
    hub = build.hub
    return hub.pivot_radius + hub.plate_edge_distance + LUG_BEYOND * hub.lug_width


def levels_of(build: Build) -> Levels:
    """Return the heights in the section."""
    hub, screw = build.hub, build.pivot
    opening = max(hub.lug_thickness + 2.0 * hub.gap, _bush_length(build)) / 2
    outer = opening + hub.plate_thickness
    ring = washer(screw.thread.name).thickness if screw.washers else 0.0
    face = outer + ring
    nut_face = -outer - ring
    end = _end(screw, face, nut_face, opening)
    lowest = min(end, nut_face - _nut_height(screw), -outer)
    return Levels(opening, outer, face, face + _head_height(screw), nut_face, end, lowest)


def _bush_length(build: Build) -> float:
    return build.hub.bush_length if build.hub.bush_diameter is not None else 0.0


def _head_height(screw: Screw) -> float:
    return head(screw.thread.name, screw.head).height


def _nut_height(screw: Screw) -> float:
    held = screw.nut not in {"tapped", "circlip", "none"}
    return nut(screw.thread.name, screw.nut).height if held else 0.0


def _end(screw: Screw, face: float, nut_face: float, opening: float) -> float:
    """Height of the screw's end: by its length, by the thread engaged, or a little beyond what holds it."""
    size, pitch = screw.thread.nominal_diameter, screw.thread.pitch
    if screw.nut == "tapped":
        return -opening - screw.engagement
    if screw.length is not None:
        return face - screw.length
    if screw.nut == "circlip":
        return nut_face - 0.6 * size
    if screw.nut == "none":
        return nut_face - _BEYOND * pitch
    fitting = nut(screw.thread.name, screw.nut)
    if screw.engagement < 0.999 * fitting.thread_height:
        return nut_face - screw.engagement
    return nut_face - fitting.height - _BEYOND * pitch


def mounting_reach(build: Build) -> tuple[float, float]:
    """Return the radius of the bolt circle, and how far a screw reaches about its place."""
    screw = build.mounting.screw
    return build.mounting.bolt_circle / 2, 0.6 * head(screw.thread.name, screw.head).width


def outer_width(build: Build) -> float:
    """Return the width of the widest thing on the pivot screw's axis, lug and plates left out."""
    screw, name = build.pivot, build.pivot.thread.name
    widths = [
        build.hub.lug_cut,
        build.hub.plate_hole,
        head(name, screw.head).width,
        screw.shear_diameter,
        1.6 * screw.thread.nominal_diameter,
    ]
    if screw.nut not in {"tapped", "circlip", "none"}:
        widths.append(nut(name, screw.nut).width)
    if screw.washers:
        widths.append(washer(name).outer_diameter)
    return max(widths)
