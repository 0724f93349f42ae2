"""Shapes of the blade retention joint, in metres: what a section through the pivot and a plan of it show.

x runs outboard from the rotor axis. In the section z runs up from the lug's mid plane; in the plan y runs
across the blade. Shapes stand in the order in which they are painted.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from bladehold.sheet import Build
from bladehold.sheet.build import Screw
from bladehold.tables import head, nut, washer

Ring = tuple[tuple[float, float], ...]

PIVOT, LUG, BUSH, PLATES = "pivot screw", "blade lug", "bush", "hub plates"
TIES, MOUNTING = "tie screws", "mounting screws"

_ARC = 32  # corners of half a circle
_BEYOND = 2.0  # pitches by which a screw of unknown length stands out of its nut
_MOST_PLAN = 3.0  # half widths of lug or plate that the plan shows across the blade at most
_STUB = 0.6  # of the lug's width, by which the blade is drawn beyond its lug
LUG_BEYOND = 0.25  # of the lug's width, that the lug reaches beyond the plates


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
class Joint:
    """Both views: shapes and strokes, heights, and stretches along x that must be seen.

    blade_end - where the blade is broken off; across - half of what the plan shows; hidden - mounting
    screws that the plan does not show; on_right - whether those outboard of the axis are in the section.
    """

    section: tuple[Shape, ...]
    section_strokes: tuple[Stroke, ...]
    plan: tuple[Shape, ...]
    plan_strokes: tuple[Stroke, ...]
    levels: Levels
    stretches: tuple[tuple[float, float], ...]
    blade_end: float
    across: float
    hidden: int
    on_right: bool


def joint_shapes(build: Build, half_contact: float) -> Joint:
    """Return what is drawn of a build, in metres; half_contact - half the length of the lug's contact."""
    levels, blade_end = _levels(build), _lug_end(build) + _STUB * build.hub.lug_width
    radius, reach = _mounting_reach(build)
    on_right = radius + reach < blade_end
    base = max(build.hub.lug_width, build.hub.plate_width) / 2
    base = max(base, *(abs(y) + build.hub.spacer_diameter / 2 for y in _tie_places(build)), 0.0)
    whole = radius + reach <= _MOST_PLAN * base
    across = 1.06 * max(base, radius + reach) if whole else 1.2 * base
    angles = _mounting_angles(build, whole=whole)
    places = [(radius * math.cos(a), radius * math.sin(a)) for a in angles]
    seen = [(x, y) for x, y in places if abs(y) + reach <= across and (x + reach < blade_end or not on_right)]
    seen = [(x, y) for x, y in seen if x < 0 or on_right]
    plan, strokes = _plan(build, seen, across, blade_end, half_contact)
    section, section_strokes = _section(build, levels, blade_end, on_right=on_right)
    return Joint(
        section,
        section_strokes,
        plan,
        strokes,
        levels,
        _stretches(build, blade_end, on_right=on_right),
        blade_end,
        across,
        len(places) - len(seen),
        on_right,
    )


def _rect(x1: float, x2: float, z1: float, z2: float) -> tuple[Ring, ...]:
    return (((x1, z1), (x2, z1), (x2, z2), (x1, z2)),)


def _disc(x: float, y: float, diameter: float) -> Ring:
    steps = [math.pi * k / _ARC for k in range(2 * _ARC)]
    return tuple((x + diameter / 2 * math.cos(a), y + diameter / 2 * math.sin(a)) for a in steps)


def _round_end(end: float, other: float, half: float) -> Ring:
    """A bar from a round end to a straight one."""
    way = math.copysign(1.0, end - other)
    # A bar shorter than its half width keeps an end that is round, but flatter.
    deep = min(half, abs(end - other))
    steps = [math.pi * (k / _ARC - 0.5) for k in range(_ARC + 1)]
    arc = [(end - way * deep * (1.0 - math.cos(a)), half * math.sin(a)) for a in steps]
    return ((other, -half), *arc, (other, half))


def _lug_end(build: Build) -> float:
    hub = build.hub
    return hub.pivot_radius + hub.plate_edge_distance + LUG_BEYOND * hub.lug_width


def _levels(build: Build) -> Levels:
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


def _mounting_reach(build: Build) -> tuple[float, float]:
    """Radius of the bolt circle, and how far a screw reaches about its place."""
    screw = build.mounting.screw
    return build.mounting.bolt_circle / 2, 0.6 * head(screw.thread.name, screw.head).width


def _mounting_angles(build: Build, *, whole: bool) -> list[float]:
    """Angles of the mounting screws: either side of the blade's line, or one on it where few are seen."""
    count = build.mounting.count
    start = math.pi / count if whole and count > 2 else (math.pi / 2 if whole else math.pi)
    return [start + 2.0 * math.pi * k / count for k in range(count)]


def _tie_places(build: Build) -> list[float]:
    """Places of the ties across the blade: spread over the plate, never into each other."""
    count, wide = build.ties.count, build.hub.spacer_diameter
    if count < 2:
        return [0.0] * count
    half = max(build.hub.plate_width / 2 - 0.6 * wide, 0.55 * wide * (count - 1))
    return [half * (2.0 * k / (count - 1) - 1.0) for k in range(count)]


def _stretches(build: Build, blade_end: float, *, on_right: bool) -> tuple[tuple[float, float], ...]:
    hub, (radius, reach) = build.hub, _mounting_reach(build)
    width = 0.5 * max(_outer_width(build), 1.2 * hub.lug_cut, hub.plate_hole)
    inner = hub.pivot_radius - max(width, hub.lug_edge_distance)
    found = [(-1.3 * radius - reach if radius < 2 * reach else -radius - 2 * reach, -radius + reach)]
    found += [(-0.5 * reach, 0.5 * reach), (inner - 0.1 * hub.lug_width, blade_end)]
    if on_right:
        found.append((radius - reach, radius + reach))
    if build.ties.screw is not None:
        place, half = hub.pivot_radius - build.ties.distance, 0.6 * hub.spacer_diameter
        found.append((place - half, place + half))
    return tuple(found)


def _outer_width(build: Build) -> float:
    screw, name = build.pivot, build.pivot.thread.name
    widths = [head(name, screw.head).width, screw.shear_diameter, 1.6 * screw.thread.nominal_diameter]
    if screw.washers:
        widths.append(washer(name).outer_diameter)
    return max(widths)


def _section(
    build: Build, levels: Levels, blade_end: float, *, on_right: bool
) -> tuple[tuple[Shape, ...], tuple[Stroke, ...]]:
    hub, pivot = build.hub, build.hub.pivot_radius
    left = min(low for low, _ in _stretches(build, blade_end, on_right=on_right))
    edge, hole = pivot + hub.plate_edge_distance, hub.plate_hole / 2
    shapes = _hub(build, levels, left)
    for sign, name in ((1.0, "upper"), (-1.0, "lower")):
        ends = sorted((sign * levels.opening, sign * levels.outer))
        # Both plates are cut, and are hatched alike, as one part.
        shapes += [
            Shape(PLATES, f"plate {name}", _rect(left, pivot - hole, *ends), 1),
            Shape(PLATES, f"plate {name}", _rect(pivot + hole, edge, *ends), 1),
        ]
    shapes += [*_mounting(build, levels, on_right=on_right), *_tie(build, levels)]
    half, cut, end = hub.lug_thickness / 2, hub.lug_cut / 2, _lug_end(build)
    thick = build.propeller.root_thickness / 2
    taper = min(end + 0.25 * hub.lug_width, blade_end)
    blade = (
        ((end, -half), (taper, -thick), (blade_end, -thick), (blade_end, thick), (taper, thick), (end, half)),
    )
    shapes += [
        Shape(LUG, "lug", _rect(pivot - hub.lug_edge_distance, pivot - cut, -half, half), -1),
        Shape(LUG, "lug", _rect(pivot + cut, end, -half, half), -1),
        Shape(LUG, "blade", blade, -1),
    ]
    if hub.bush_diameter is not None:
        tall, bore = hub.bush_length / 2, hub.lug_hole / 2
        for sign in (-1.0, 1.0):
            ends = sorted((pivot + sign * bore, pivot + sign * cut))
            shapes.append(Shape(BUSH, "bush", _rect(ends[0], ends[1], -tall, tall), 1))
    screw, strokes = _pivot(build, levels)
    return (*shapes, *screw), strokes


def _hub(build: Build, levels: Levels, left: float) -> list[Shape]:
    """Motor bell below the lower plate, and, where the mounting screws clamp both plates, a core between."""
    radius, reach = _mounting_reach(build)
    screw = build.mounting.screw
    deep = screw.engagement + 0.5 * screw.thread.nominal_diameter
    wide = radius + 1.3 * reach
    found = [Shape("", "bell", _rect(max(-wide, left), wide, -levels.outer - deep, -levels.outer))]
    inner = build.hub.pivot_radius - build.hub.lug_edge_distance
    end = min(wide, inner - 0.1 * build.hub.lug_width)
    if build.hub.upper_plate_bolted and end > 0.0:
        found.append(Shape("", "core", _rect(max(-wide, left), end, -levels.opening, levels.opening)))
    return found


def _mounting(build: Build, levels: Levels, *, on_right: bool) -> list[Shape]:
    """Mounting screws turned into the section, head on the uppermost plate that they clamp."""
    screw, (radius, _) = build.mounting.screw, _mounting_reach(build)
    top = head(screw.thread.name, screw.head)
    size = screw.thread.nominal_diameter / 2
    face = levels.outer if build.hub.upper_plate_bolted else -levels.opening
    found = []
    for x in (-radius, radius) if on_right else (-radius,):
        end = -levels.outer - screw.engagement
        found.append(Shape(MOUNTING, "mounting shank", _rect(x - size, x + size, end, face), 1))
        found.append(
            Shape(
                MOUNTING,
                "mounting head",
                _rect(x - top.width / 2, x + top.width / 2, face, face + top.height),
                1,
            )
        )
    return found


def _tie(build: Build, levels: Levels) -> list[Shape]:
    """A tie screw with its spacer; its thread ends with the lower plate."""
    screw, hub = build.ties.screw, build.hub
    if screw is None:
        return []
    x, size, wide = (
        hub.pivot_radius - build.ties.distance,
        screw.thread.nominal_diameter / 2,
        hub.spacer_diameter / 2,
    )
    top = head(screw.thread.name, screw.head)
    return [
        Shape(TIES, "spacer", _rect(x - wide, x + wide, -levels.opening, levels.opening), -1),
        Shape(TIES, "tie shank", _rect(x - size, x + size, -levels.outer, levels.outer), 1),
        Shape(
            TIES,
            "tie head",
            _rect(x - top.width / 2, x + top.width / 2, levels.outer, levels.outer + top.height),
            1,
        ),
    ]


def _pivot(build: Build, levels: Levels) -> tuple[list[Shape], tuple[Stroke, ...]]:
    """The pivot screw with what lies under its head and holds its end."""
    screw, x = build.pivot, build.hub.pivot_radius
    name, size = screw.thread.name, screw.thread.nominal_diameter / 2
    top = head(name, screw.head)
    shapes = []
    if screw.washers:
        ring = washer(name).outer_diameter / 2
        shapes.append(Shape(PIVOT, "washer", _rect(x - ring, x + ring, levels.outer, levels.face), -1))
        if screw.nut != "tapped":
            shapes.append(Shape(PIVOT, "washer", _rect(x - ring, x + ring, levels.nut, -levels.outer), -1))
    shapes += _held(screw, x, levels)
    plain = levels.face
    if screw.shear_plane == "shank":
        # A plain shank crosses the lug's faces, and both plates where a nut leaves room for it.
        plain = max(-levels.opening if screw.nut == "tapped" else -levels.outer, levels.end)
        half = screw.shear_diameter / 2
        shapes.append(Shape(PIVOT, "shank", _rect(x - half, x + half, plain, levels.face), 1))
    if plain > levels.end:
        shapes.append(Shape(PIVOT, "thread", _rect(x - size, x + size, levels.end, plain), 1))
    shapes.append(
        Shape(PIVOT, "head", _rect(x - top.width / 2, x + top.width / 2, levels.face, levels.head), 1)
    )
    root = screw.thread.profile.root_diameter / 2
    strokes = [
        Stroke("root", ((x + sign * root, levels.end), (x + sign * root, plain)))
        for sign in (-1.0, 1.0)
        if plain > levels.end
    ]
    if screw.head == "socket":
        key, deep = top.key / 2, levels.head - 0.5 * top.height
        strokes.append(
            Stroke(
                "hidden", ((x - key, levels.head), (x - key, deep), (x + key, deep), (x + key, levels.head))
            )
        )
    return shapes, tuple(strokes)


def _held(screw: Screw, x: float, levels: Levels) -> list[Shape]:
    """What holds the screw's end: nut, circlip, or the boss of a tapped hole deeper than its plate."""
    size = screw.thread.nominal_diameter
    if screw.nut == "tapped":
        if levels.end >= -levels.outer:
            return []
        return [Shape(PLATES, "boss", _rect(x - size, x + size, levels.end, -levels.outer), 1)]
    if screw.nut == "circlip":
        # Ring and groove by common proportions: the sheet gives what the ring carries, not its size.
        ring = (x - 0.8 * size, x + 0.8 * size, levels.nut - 0.15 * size, levels.nut)
        return [Shape(PIVOT, "circlip", _rect(*ring), -1)]
    if screw.nut == "none":
        return []
    fitting = nut(screw.thread.name, screw.nut)
    half, low = fitting.width / 2, levels.nut - fitting.height
    if screw.nut != "locking":
        return [Shape(PIVOT, "nut", _rect(x - half, x + half, low, levels.nut), -1)]
    collar = levels.nut - fitting.height * 0.72
    return [
        Shape(PIVOT, "nut collar", _rect(x - 0.78 * half, x + 0.78 * half, low, collar), -1),
        Shape(PIVOT, "nut", _rect(x - half, x + half, collar, levels.nut), -1),
    ]


def _plan(
    build: Build, mounting: list[tuple[float, float]], across: float, blade_end: float, contact: float
) -> tuple[tuple[Shape, ...], tuple[Stroke, ...]]:
    """Cut through the lug's mid plane, seen from above: what lies below the cut is drawn in outline."""
    hub, pivot = build.hub, build.hub.pivot_radius
    radius, reach = _mounting_reach(build)
    half = min(hub.plate_width / 2, across)
    plate = _round_end(pivot + hub.plate_edge_distance, -radius - 2.0 * reach, half)
    screw, shapes = build.mounting.screw, []
    for x, y in mounting:
        wide = screw.thread.nominal_diameter if hub.upper_plate_bolted else 2.0 * reach / 1.2
        shapes.append(Shape(MOUNTING, "mounting", (_disc(x, y, wide),), 1 if hub.upper_plate_bolted else 0))
    for y in _tie_places(build):
        place, tie = pivot - build.ties.distance, build.ties.screw
        if tie is not None:
            shapes.append(Shape(TIES, "spacer", (_disc(place, y, hub.spacer_diameter),), -1))
            shapes.append(Shape(TIES, "tie", (_disc(place, y, tie.thread.nominal_diameter),), 1))
    hole = _disc(pivot, 0.0, hub.lug_cut)
    outline = _round_end(pivot - hub.lug_edge_distance, blade_end, hub.lug_width / 2)
    shapes.append(Shape(LUG, "lug", (outline, hole), -1))
    shapes.append(Shape("", "contact", (_contact(build, contact), hole)))
    if hub.bush_diameter is not None:
        rings = (_disc(pivot, 0.0, hub.bush_diameter), _disc(pivot, 0.0, hub.lug_hole))
        shapes.append(Shape(BUSH, "bush", rings, 1))
    crossing = build.pivot.shear_diameter
    if build.pivot.shear_plane == "thread":
        crossing = build.pivot.thread.nominal_diameter
    shapes.append(Shape(PIVOT, "screw", (_disc(pivot, 0.0, crossing),), 1))
    circle = tuple((x, y) for x, y in (*_disc(0.0, 0.0, 2.0 * radius), (radius, 0.0)))
    return tuple(shapes), (Stroke("hidden plate", (*plate, plate[0])), Stroke("circle", circle))


def _contact(build: Build, half: float) -> Ring:
    """Where lug and plate touch by the policy's method: a disc, or a strip as wide as both are."""
    hub = build.hub
    side = min(hub.lug_width, hub.plate_width) / 2
    if build.policy.contact == "round":
        disc = _disc(hub.pivot_radius, 0.0, 2.0 * half)
        return tuple((x, min(max(y, -side), side)) for x, y in disc)
    return _rect(hub.pivot_radius - half, hub.pivot_radius + half, -side, side)[0]
