"""The section through the pivot screw's axis, along the blade: what is cut, in the order it is painted."""

from __future__ import annotations

from bladehold.report.clevis_shapes import (
    BUSH,
    LUG,
    MOUNTING,
    PIVOT,
    PLATES,
    TIES,
    Extent,
    Levels,
    Shape,
    Stroke,
    lug_end,
    mounting_reach,
    outer_width,
    rectangle,
)
from bladehold.sheet import Build
from bladehold.sheet.build import Screw
from bladehold.tables import head, nut, washer


def section_of(build: Build, levels: Levels, extent: Extent) -> tuple[tuple[Shape, ...], tuple[Stroke, ...]]:
    """Return areas and lines of the section; mounting and tie screws are turned into it."""
    hub, pivot = build.hub, build.hub.pivot_radius
    left, blade_end = extent.left, extent.blade_end
    edge, hole = pivot + hub.plate_edge_distance, hub.plate_hole / 2
    shapes = _hub(build, levels, left)
    for sign, name in ((1.0, "upper"), (-1.0, "lower")):
        ends = sorted((sign * levels.opening, sign * levels.outer))
        # Both plates are cut, and are hatched alike, as one part.
        shapes += [
            Shape(PLATES, f"plate {name}", rectangle(left, pivot - hole, *ends), 1),
            Shape(PLATES, f"plate {name}", rectangle(pivot + hole, edge, *ends), 1),
        ]
    shapes += [*_mounting(build, levels, on_right=extent.on_right), *_tie(build, levels)]
    half, cut, end = hub.lug_thickness / 2, hub.lug_cut / 2, lug_end(build)
    thick = build.propeller.root_thickness / 2
    taper = min(end + 0.25 * hub.lug_width, blade_end)
    blade = (
        ((end, -half), (taper, -thick), (blade_end, -thick), (blade_end, thick), (taper, thick), (end, half)),
    )
    shapes += [
        Shape(LUG, "lug", rectangle(pivot - hub.lug_edge_distance, pivot - cut, -half, half), -1),
        Shape(LUG, "lug", rectangle(pivot + cut, end, -half, half), -1),
        Shape(LUG, "blade", blade, -1),
    ]
    if hub.bush_diameter is not None:
        tall, bore = hub.bush_length / 2, hub.lug_hole / 2
        for sign in (-1.0, 1.0):
            ends = sorted((pivot + sign * bore, pivot + sign * cut))
            shapes.append(Shape(BUSH, "bush", rectangle(ends[0], ends[1], -tall, tall), 1))
    screw, strokes = _pivot(build, levels)
    return (*shapes, *screw), strokes


def _hub(build: Build, levels: Levels, left: float) -> list[Shape]:
    """Motor bell below the lower plate, and, where the mounting screws clamp both plates, a core between."""
    radius, reach = mounting_reach(build)
    screw = build.mounting.screw
    deep = screw.engagement + 0.5 * screw.thread.nominal_diameter
    wide = radius + 1.3 * reach
    pivot = build.hub.pivot_radius
    # Neither runs into what stands on the pivot's axis.
    bell = max(min(wide, pivot - 0.7 * outer_width(build)), left + reach)
    found = [Shape("", "bell", rectangle(max(-wide, left), bell, -levels.outer - deep, -levels.outer))]
    core = min(wide, pivot - build.hub.lug_edge_distance - 0.1 * build.hub.lug_width)
    if build.hub.upper_plate_bolted and core > left + reach:
        found.append(Shape("", "core", rectangle(max(-wide, left), core, -levels.opening, levels.opening)))
    return found


def _mounting(build: Build, levels: Levels, *, on_right: bool) -> list[Shape]:
    """Mounting screws turned into the section, head on the uppermost plate that they clamp."""
    screw, (radius, _) = build.mounting.screw, mounting_reach(build)
    top = head(screw.thread.name, screw.head)
    size = screw.thread.nominal_diameter / 2
    face = levels.outer if build.hub.upper_plate_bolted else -levels.opening
    found = []
    for x in (-radius, radius) if on_right else (-radius,):
        end = -levels.outer - screw.engagement
        found.append(Shape(MOUNTING, "mounting shank", rectangle(x - size, x + size, end, face), 1))
        found.append(
            Shape(
                MOUNTING,
                "mounting head",
                rectangle(x - top.width / 2, x + top.width / 2, face, face + top.height),
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
        Shape(TIES, "spacer", rectangle(x - wide, x + wide, -levels.opening, levels.opening), -1),
        Shape(TIES, "tie shank", rectangle(x - size, x + size, -levels.outer, levels.outer), 1),
        Shape(
            TIES,
            "tie head",
            rectangle(x - top.width / 2, x + top.width / 2, levels.outer, levels.outer + top.height),
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
        shapes.append(Shape(PIVOT, "washer", rectangle(x - ring, x + ring, levels.outer, levels.face), -1))
        if screw.nut != "tapped":
            shapes.append(
                Shape(PIVOT, "washer", rectangle(x - ring, x + ring, levels.nut, -levels.outer), -1)
            )
    shapes += _held(screw, x, levels)
    plain = levels.face
    if screw.shear_plane == "shank":
        # A plain shank crosses the lug's faces, and both plates where a nut leaves room for it.
        plain = max(-levels.opening if screw.nut == "tapped" else -levels.outer, levels.end)
        half = screw.shear_diameter / 2
        shapes.append(Shape(PIVOT, "shank", rectangle(x - half, x + half, plain, levels.face), 1))
    if plain > levels.end:
        shapes.append(Shape(PIVOT, "thread", rectangle(x - size, x + size, levels.end, plain), 1))
    shapes.append(
        Shape(PIVOT, "head", rectangle(x - top.width / 2, x + top.width / 2, levels.face, levels.head), 1)
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
        return [Shape(PLATES, "boss", rectangle(x - size, x + size, levels.end, -levels.outer), 1)]
    if screw.nut == "circlip":
        # Ring and groove by common proportions: the sheet gives what the ring carries, not its size.
        ring = (x - 0.8 * size, x + 0.8 * size, levels.nut - 0.15 * size, levels.nut)
        return [Shape(PIVOT, "circlip", rectangle(*ring), -1)]
    if screw.nut == "none":
        return []
    fitting = nut(screw.thread.name, screw.nut)
    half, low = fitting.width / 2, levels.nut - fitting.height
    if screw.nut != "locking":
        return [Shape(PIVOT, "nut", rectangle(x - half, x + half, low, levels.nut), -1)]
    collar = levels.nut - fitting.height * 0.72
    return [
        Shape(PIVOT, "nut collar", rectangle(x - 0.78 * half, x + 0.78 * half, low, collar), -1),
        Shape(PIVOT, "nut", rectangle(x - half, x + half, collar, levels.nut), -1),
    ]
