"""Dimensions, loads and names of the parts in the joint's drawing."""

from __future__ import annotations

import math
from collections.abc import Sequence

from bladehold.report import svg
from bladehold.report.clevis_column import newton_metres, newtons
from bladehold.report.clevis_layout import ROW, Sheet
from bladehold.report.clevis_page import SIGN, Point, Words, arrow, width_of
from bladehold.report.clevis_shapes import BUSH, LUG, LUG_BEYOND, MOUNTING, PIVOT, PLATES, TIES
from bladehold.report.clevis_states import SIGNS, States

_HEAD = 8.0  # length of a dimension's arrow head
_SHORT = 2.6 * _HEAD  # below that, a dimension's arrows stand outside
_THIN = 3.0  # units, below which a gap looks like a line
_BOLD = 1.1  # width of bold letters over plain ones


def part_labels(sheet: Sheet, states: States, words: Words) -> list[str]:
    """Names of the parts with their margins in a row above the section, each with a leader to its part."""
    anchors = sorted(_anchors(sheet, states), key=lambda item: item[1][0])
    build = sheet.assessment.build
    threads = {PIVOT: build.pivot, MOUNTING: build.mounting.screw, TIES: build.ties.screw}
    names = [
        f"{part} {screw.thread.name}" if (screw := threads.get(part)) is not None else part
        for part, _ in anchors
    ]
    wides = [
        max(_BOLD * width_of(name), width_of(states.said(part)) + SIGN) + 14.0
        for name, (part, _) in zip(names, anchors, strict=True)
    ]
    left, _, right, _ = words.bounds
    places = _spread([x for _, (x, _) in anchors], wides, left, right)
    found = []
    for name, (part, (x, y)), at in zip(names, anchors, places, strict=True):
        found += [
            svg.line(at, sheet.labels + 24.0, x, y, "leader"),
            svg.circle(x, y, 2.4, "dot"),
            words.fixed(at, sheet.labels, name, "strong", "middle"),
            *words.signed(
                at - width_of(states.said(part)) / 2 - 8.0,
                sheet.labels + 19.0,
                SIGNS[states.state(part)],
                states.said(part),
            ),
        ]
    return found


def _spread(wanted: Sequence[float], wides: Sequence[float], left: float, right: float) -> list[float]:
    """Places in order, as near to the wanted ones as their widths allow."""
    places = []
    edge = left
    for x, wide in zip(wanted, wides, strict=True):
        places.append(max(x, edge + wide / 2))
        edge = places[-1] + wide / 2
    edge = right
    for number in range(len(places) - 1, -1, -1):
        places[number] = min(places[number], edge - wides[number] / 2)
        edge = places[number] - wides[number] / 2
    return places


def _anchors(sheet: Sheet, states: States) -> list[tuple[str, Point]]:
    """Where the leader of each part ends."""
    build, levels = sheet.assessment.build, sheet.joint.levels
    hub, pivot = build.hub, build.hub.pivot_radius
    plate = (levels.opening + levels.outer) / 2
    beyond = pivot + hub.plate_edge_distance
    spot = {
        PIVOT: sheet.at(pivot - 0.3 * build.pivot.thread.nominal_diameter, (levels.face + levels.head) / 2),
        PLATES: sheet.at(pivot - 0.9 * hub.lug_edge_distance, plate),
        LUG: sheet.at(beyond + 0.35 * (sheet.joint.extent.blade_end - beyond), 0.2 * hub.lug_thickness),
    }
    for shape in sheet.joint.section:
        # The first mounting screw is the one inboard of the axis, the last half of the bush the outboard one.
        if shape.kind == "bush" or (shape.kind in {"tie head", "mounting head"} and shape.part not in spot):
            (left, low), _, (right, high), _ = shape.rings[0]
            middle = (low + high) / 2 if shape.part != BUSH else 0.8 * low + 0.2 * high
            spot[shape.part] = sheet.at((left + right) / 2, middle)
    # What is checked of the whole joint, as the grip of a clamped root, is about the lug's faces.
    face = sheet.at(pivot + 0.8 * sheet.arrows.half_contact, hub.lug_thickness / 2)
    return [*spot.items(), *((part, face) for part in states.margins if part not in spot)]


def _name(sheet: Sheet, letter: str, value: float, key: str) -> tuple[str, str]:
    """Letter and number of a measure, m, and the class of its words: one that was assumed says so."""
    doubt = any(item.key == key for item in sheet.assessment.build.assumptions)
    return f"{letter} {1e3 * value:.4g}{'*' if doubt else ''}", "assumed" if doubt else "given"


def dimensions(sheet: Sheet, words: Words) -> list[str]:
    """Return all dimension lines, in mm, and what each view is."""
    top = sheet.plan - sheet.scale * sheet.joint.across
    views = [
        *words.free(101.0, sheet.bottom + 24.0, "Section at the pivot", "verdict"),
        *words.free(84.0, top - 18.0, "Plan at mid lug", "verdict"),
    ]
    return [
        *views,
        *_along(sheet, words),
        *_plan_along(sheet, words),
        *_up(sheet, words),
        *_across(sheet, words),
    ]


def _along(sheet: Sheet, words: Words) -> list[str]:
    """Below the section: lever of the contact force, tie screws, pivot radius."""
    build, lever = sheet.assessment.build, sheet.arrows.lever
    pivot = build.hub.pivot_radius
    rows = [(pivot - lever, f"c {1e3 * lever:.3g}", "given")]
    if build.ties.screw is not None:
        said = _name(sheet, "b", build.ties.distance, "tie_screws.distance")
        rows.append((pivot - build.ties.distance, *said))
    rows.append((0.0, *_name(sheet, "r", pivot, "hub.pivot_radius")))
    below = sheet.section + sheet.scale * sheet.joint.levels.opening
    found = []
    for number, (begin, _, _) in enumerate(rows):
        if begin != 0.0:  # the axis is drawn already
            found += _down(words, sheet.axis(begin), below, sheet.rows + ROW * number + 5.0)
    for number, (begin, name, kind) in enumerate(rows):
        place = sheet.rows + ROW * number
        found += _level(words, sheet.axis(begin), sheet.axis(pivot), place, name, kind)
    return found


def _down(words: Words, x: float, y1: float, y2: float) -> list[str]:
    """A line from what is measured down to its dimension, which words avoid."""
    words.busy.append((x - 1.0, y1, x + 1.0, y2))
    return [svg.line(x, y1, x, y2, "thin")]


def _plan_along(sheet: Sheet, words: Words) -> list[str]:
    """Below the plan: edge distances of lug and plate, bolt circle."""
    build, extent = sheet.assessment.build, sheet.joint.extent
    hub, pivot = build.hub, build.hub.pivot_radius
    lug = _name(sheet, "e", hub.lug_edge_distance, "hub.lug_edge_distance")
    plate = _name(sheet, "ep", hub.plate_edge_distance, "hub.plate_edge_distance")
    radius = build.mounting.bolt_circle / 2
    circle = [(-radius, 0.0, f"bolt circle R {1e3 * radius:.4g}")]
    if extent.shows(-radius, -radius) and extent.shows(radius, radius):
        circle = [(-radius, radius, f"bolt circle ø {2e3 * radius:.4g}")]
    rows = [
        (pivot - hub.lug_edge_distance, pivot, 0.0, -1.0, *lug),
        (pivot, pivot + hub.plate_edge_distance, 0.0, 1.0, *plate),
        *((begin, end, ROW, -1.0, name, "given") for begin, end, name in circle),
    ]
    found = []
    for begin, end, row, _, _, _ in rows:
        for x in (begin, end):
            if x not in {pivot, 0.0}:
                found += _down(words, sheet.axis(x), sheet.plan, sheet.plan_rows + row + 5.0)
    for begin, end, row, side, name, kind in rows:
        ends, y = (sheet.axis(begin), sheet.axis(end)), sheet.plan_rows + row
        found += _level(words, *ends, y, name, kind, side=side)
    return found


def _up(sheet: Sheet, words: Words) -> list[str]:
    """In the section: thickness of a plate, and, by the plates' outboard edge, of the lug and of the gap."""
    build, levels = sheet.assessment.build, sheet.joint.levels
    hub = build.hub
    edge = hub.pivot_radius + hub.plate_edge_distance
    x = sheet.axis.start
    top, bottom = (sheet.at(edge, z)[1] for z in (levels.outer, levels.opening))
    found = [svg.line(x, y, x - 20.0, y, "thin") for y in (top, bottom)]
    name, kind = _name(sheet, "t1", hub.plate_thickness, "hub.plate_thickness")
    found += _ends(x - 14.0, top, bottom)
    found += words.free(x - 24.0 - width_of(name) / 2, (top + bottom) / 2, name, kind)
    # The lug's thickness is measured on the stub beyond the plates, on a white line across its hatching.
    end = edge + 0.5 * LUG_BEYOND * hub.lug_width
    x, top = sheet.at(end, hub.lug_thickness / 2)
    bottom = sheet.at(end, -hub.lug_thickness / 2)[1]
    found.append(svg.line(x, top + 2.0, x, bottom - 2.0, "under"))
    found += _ends(x, top, bottom)
    found += words.free(
        x + 14.0,
        bottom + 22.0,
        *_name(sheet, "t2", hub.lug_thickness, "hub.lug_thickness"),
        point=(x, bottom),
    )
    gap = levels.opening - hub.lug_thickness / 2
    place = sheet.at(edge, -(levels.opening + hub.lug_thickness / 2) / 2)
    said, kind = _name(sheet, "g", gap, "hub.gap")
    found.append(svg.circle(*place, 1.8, "dot"))
    found += [
        svg.line(*place, place[0] + 30.0, place[1] + 40.0, "leader"),
        *words.free(place[0] + 30.0 + width_of(said) / 2, place[1] + 46.0, said, kind),
    ]
    return found


def _across(sheet: Sheet, words: Words) -> list[str]:
    """In the plan: widths of lug and plate, diameter of what crosses the lug's faces."""
    build = sheet.assessment.build
    hub, screw = build.hub, build.pivot
    x = sheet.axis.end + 22.0
    top, bottom = (sheet.seen(hub.pivot_radius, y)[1] for y in (hub.lug_width / 2, -hub.lug_width / 2))
    found = [svg.line(sheet.axis.end, y, x + 6.0, y, "thin") for y in (top, bottom)]
    name, kind = _name(sheet, "w", hub.lug_width, "hub.lug_width")
    found += _upright(words, x, top, bottom, name, kind)
    x += 18.0 + width_of(name)
    name, kind = _name(sheet, "wp", hub.plate_width, "hub.plate_width")
    half = hub.plate_width / 2
    if half > sheet.joint.across:
        found += words.free(x, sheet.plan - sheet.scale * sheet.joint.across, f"{name}, not all shown", kind)
    else:
        top, bottom = (sheet.seen(hub.pivot_radius, y)[1] for y in (half, -half))
        edge = sheet.axis(hub.pivot_radius + hub.plate_edge_distance - min(half, hub.plate_edge_distance))
        found += [svg.line(edge, y, x + 6.0, y, "thin") for y in (top, bottom)]
        found += _upright(words, x, top, bottom, name, kind)
    size = screw.outside_diameter
    place = sheet.seen(hub.pivot_radius + 0.35 * size, 0.35 * size)
    hole, kind = _name(sheet, "in hole", hub.lug_hole, "hub.lug_hole")
    said = f"d {1e3 * size:.3g} {hole}"
    top = sheet.plan - sheet.scale * sheet.joint.across - 12.0
    found += [svg.circle(*place, 2.0, "dot"), *words.free(place[0] + 90.0, top, said, kind, point=place)]
    return found


def _level(
    words: Words, x1: float, x2: float, y: float, name: str, kind: str, *, side: float = -1.0
) -> list[str]:
    """A dimension along the page; where it is short, arrows and words stand outside, on the side given."""
    short = x2 - x1 < _SHORT
    out = 14.0 if short else 0.0
    found = [svg.line(x1 - out, y, x2 + out, y, "dim")]
    for x, way in ((x1, 1.0), (x2, -1.0)):
        back = x + (-way if short else way) * _HEAD
        found.append(svg.polygon([(x, y), (back, y - 2.8), (back, y + 2.8)], "tip"))
    words.busy.append((x1 - out, y - 1.0, x2 + out, y + 1.0))
    if width_of(name) + 4.0 < x2 - x1:
        return [*found, *words.free((x1 + x2) / 2, y - 10.0, name, kind)]
    edge = x1 if side < 0.0 else x2
    return [*found, *words.free(edge + side * (out + 7.0 + width_of(name) / 2), y - 3.0, name, kind)]


def _upright(words: Words, x: float, y1: float, y2: float, name: str, kind: str) -> list[str]:
    """A dimension up the page, its words beside it."""
    return [*_ends(x, y1, y2), *words.free(x + 8.0 + width_of(name) / 2, (y1 + y2) / 2, name, kind)]


def _ends(x: float, y1: float, y2: float) -> list[str]:
    """The line of a dimension up the page; its arrows stand outside where it is short."""
    short = y2 - y1 < _SHORT
    found = [svg.line(x, y1 - (14.0 if short else 0.0), x, y2 + (14.0 if short else 0.0), "dim")]
    for y, way in ((y1, 1.0), (y2, -1.0)):
        back = y + (-way if short else way) * _HEAD
        found.append(svg.polygon([(x, y), (x - 2.8, back), (x + 2.8, back)], "tip"))
    return found


def loads(sheet: Sheet, words: Words) -> list[str]:
    """Return the arrows of all forces, as long as they are great, with their numbers."""
    return [*_blade_loads(sheet, words), *_joint_loads(sheet, words)]


def _force(words: Words, begin: Point, end: Point) -> list[str]:
    """The arrow of a force, which words avoid."""
    (x1, y1), (x2, y2) = begin, end
    words.busy.append((min(x1, x2) - 4.0, min(y1, y2) - 4.0, max(x1, x2) + 4.0, max(y1, y2) + 4.0))
    return arrow(begin, end, "force")


def _blade_loads(sheet: Sheet, words: Words) -> list[str]:
    """Pull, flap moment and lift at the end of the blade that is drawn."""
    arrows, end = sheet.arrows, sheet.axis.end + 4.0
    middle, found = sheet.section, []
    thick = sheet.scale * sheet.assessment.build.propeller.root_thickness / 2
    long, radius = sheet.force * arrows.centrifugal, max(thick + 8.0, 34.0)
    if long > 0.0:
        said = f"P {newtons(arrows.centrifugal)}"
        found += _force(words, (end, middle), (end + long, middle))
        found += words.free(end + max(long, radius) + 4.0 + width_of(said) / 2, middle + 16.0, said, "load")
    if arrows.flap_moment != 0.0:
        said = f"M {newton_metres(arrows.flap_moment)}"
        way = math.copysign(1.0, arrows.flap_moment)
        found += _turn((end, middle), radius, way)
        words.busy.append((end + 0.4 * radius, middle - radius, end + radius + 3.0, middle + radius))
        height = middle - 0.75 * way * radius
        found += words.free(end + radius + 4.0 + width_of(said) / 2, height, said, "load")
    if arrows.lift != 0.0:
        x, way = end - 20.0, math.copysign(1.0, arrows.lift)
        base = middle - way * (thick + 3.0)
        tip = base - sheet.force * arrows.lift
        found += _force(words, (x, base), (x, tip))
        height = min(tip, base - 11.0) if way > 0.0 else max(tip, base + 11.0)
        found += words.free(x, height - way * 12.0, f"L {newtons(arrows.lift)}", "load", point=(x, height))
    return found


def _turn(centre: Point, radius: float, way: float) -> list[str]:
    """A curved arrow about a place, outboard of it; way 1 raises the tip."""
    low, high = -60.0, 52.0
    angles = [math.radians(low + (high - low) * k / 24.0) for k in range(25)]
    points = [(centre[0] + radius * math.cos(a), centre[1] - way * radius * math.sin(a)) for a in angles]
    last = math.radians(high + 660.0 / radius)
    tip = (centre[0] + radius * math.cos(last), centre[1] - way * radius * math.sin(last))
    return [svg.polyline(points, "force"), *arrow(points[-1], tip, "force")[1:]]


def _joint_loads(sheet: Sheet, words: Words) -> list[str]:
    """Contact forces on the lug's faces, and the tension of the pivot screw at both its ends."""
    arrows, build, levels = sheet.arrows, sheet.assessment.build, sheet.joint.levels
    pivot, half = build.hub.pivot_radius, build.hub.lug_thickness / 2
    side = math.copysign(1.0, arrows.flap_moment)
    found = []
    for force, x, z, name in (
        (arrows.upper, pivot + side * arrows.lever, half, "Nu"),
        (arrows.lower, pivot - side * arrows.lever, -half, "Nl"),
    ):
        if force <= 0.0:
            continue
        way = math.copysign(1.0, z)
        tip = sheet.at(x, z)
        tail = (tip[0], tip[1] - way * sheet.force * force)
        found += _force(words, tail, tip)
        out = math.copysign(1.0, x - pivot)
        said = f"{name} {newtons(force)}"
        free = min if way > 0 else max
        height = free(tail[1], sheet.at(x, way * levels.outer)[1] - way * 14.0)
        found += words.free(tail[0] + out * (12.0 + width_of(said) / 2), height, said, "load", point=tail)
    if arrows.tension > 0.0:
        long = sheet.force * arrows.tension
        upper, lower = sheet.at(pivot, levels.head)[1] - 4.0, sheet.at(pivot, levels.lowest)[1] + 4.0
        x = sheet.axis(pivot)
        found += _force(words, (x, upper), (x, upper - long))
        found += _force(words, (x, lower), (x, lower + long))
        said = f"T {newtons(arrows.tension)}"
        found += words.free(x + 14.0 + width_of(said) / 2, upper - long + 10.0, said, "load")
    return found
