"""The plan: a cut through the lug's mid plane, seen from above, in the order it is painted."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from bladehold.report.clevis_shapes import (
    BUSH,
    LUG,
    MOUNTING,
    PIVOT,
    TIES,
    Extent,
    Ring,
    Shape,
    Stroke,
    bar,
    disc,
    mounting_reach,
    rectangle,
)
from bladehold.sheet import Build

_MOST = 2.4  # half widths of lug or plate that the plan shows across the blade at most
_MOST_PLATE = 3.0  # widths of the lug that the plan shows of a plate
_MOST_TIES = 1.6  # half widths of lug or plate by which the outermost ties are apart from the middle
_FINE = 20.0  # points of a line on half of what the plan shows, each of which is seen or not
_TURNS = 8  # of the bolt circle, tried for room beside ties and lug


def plan_of(
    build: Build, extent: Extent, half_contact: float
) -> tuple[tuple[Shape, ...], tuple[Stroke, ...], float, int]:
    """Return areas and lines of the plan, half of what it shows across the blade, screws it does not show.

    Arguments: build; extent - along x; half_contact - half the length of the lug's contact with the plates.
    """
    radius, reach = mounting_reach(build)
    ties = [abs(y) + build.hub.spacer_diameter / 2 for y in _tie_places(build)]
    bars = _bars(build)
    base = max(bars, *ties, 0.0)
    whole = radius + reach <= max(_MOST * bars, base)
    across = 1.06 * max(base, radius + reach) if whole else 1.2 * base
    places = _mounting_places(build, whole=whole)
    seen = [(x, y) for x, y in places if abs(y) + reach <= across and extent.shows(x - reach, x + reach)]
    shapes, strokes = _areas(build, seen, across, extent, half_contact)
    return shapes, strokes, across, len(places) - len(seen)


def _bars(build: Build) -> float:
    """Half of the width of lug and plate, as far as a very wide plate is shown, m."""
    return max(build.hub.lug_width, min(build.hub.plate_width, _MOST_PLATE * build.hub.lug_width)) / 2


def _tie_places(build: Build) -> list[float]:
    """Places of the ties across the blade: spread over the plate, or beyond it where they have no room."""
    count, wide = build.ties.count, build.hub.spacer_diameter
    if count < 2:
        return [0.0] * count
    half = max(build.hub.plate_width / 2 - 0.6 * wide, 0.55 * wide * (count - 1))
    half = min(half, _MOST_TIES * _bars(build))
    return [half * (2.0 * k / (count - 1) - 1.0) for k in range(count)]


def _mounting_places(build: Build, *, whole: bool) -> list[tuple[float, float]]:
    """Places of the mounting screws, turned to where ties and lug leave them room.

    Where the plan does not show the whole circle, one screw is turned into the blade's line.
    """
    count, (radius, reach) = build.mounting.count, mounting_reach(build)
    step = 2.0 * math.pi / count
    turns = [step * (0.5 + k / _TURNS) for k in range(_TURNS)] if whole else [math.pi]
    hub = build.hub
    others = [(hub.pivot_radius, 0.0, hub.lug_edge_distance)]
    others += [
        (hub.pivot_radius - build.ties.distance, y, hub.spacer_diameter / 2) for y in _tie_places(build)
    ]

    def turned(start: float) -> list[tuple[float, float]]:
        angles = [start + step * k for k in range(count)]
        return [(radius * math.cos(a), radius * math.sin(a)) for a in angles]

    def room(start: float) -> float:
        near = [math.hypot(x - a, y - b) - size - reach for x, y in turned(start) for a, b, size in others]
        # More room than half a screw's is as good as any.
        return min(*near, 0.5 * reach)

    return turned(max(turns, key=room))


def _areas(
    build: Build, mounting: list[tuple[float, float]], across: float, extent: Extent, contact: float
) -> tuple[tuple[Shape, ...], tuple[Stroke, ...]]:
    """Shapes in the plan; what lies below the cut is drawn in outline."""
    hub, pivot = build.hub, build.hub.pivot_radius
    radius, reach = mounting_reach(build)
    plate = bar(pivot + hub.plate_edge_distance, extent.left, hub.plate_width / 2)
    screw, shapes = build.mounting.screw, []
    for x, y in mounting:
        wide = screw.thread.nominal_diameter if hub.upper_plate_bolted else 2.0 * reach / 1.2
        shapes.append(Shape(MOUNTING, "mounting", (disc(x, y, wide),), 1 if hub.upper_plate_bolted else 0))
    for y in _tie_places(build):
        place, tie = pivot - build.ties.distance, build.ties.screw
        if tie is not None:
            shapes.append(Shape(TIES, "spacer", (disc(place, y, hub.spacer_diameter),), -1))
            shapes.append(Shape(TIES, "tie", (disc(place, y, tie.thread.nominal_diameter),), 1))
    hole = disc(pivot, 0.0, hub.lug_cut)
    outline = bar(pivot - hub.lug_edge_distance, extent.blade_end, hub.lug_width / 2)
    shapes.append(Shape(LUG, "lug", (outline, hole), -1))
    shapes.append(Shape("", "contact", (_contact(build, contact), hole)))
    if hub.bush_diameter is not None:
        rings = (disc(pivot, 0.0, hub.bush_diameter), disc(pivot, 0.0, hub.lug_hole))
        shapes.append(Shape(BUSH, "bush", rings, 1))
    crossing = build.pivot.shear_diameter
    if build.pivot.shear_plane == "thread":
        crossing = build.pivot.thread.nominal_diameter
    shapes.append(Shape(PIVOT, "screw", (disc(pivot, 0.0, crossing),), 1))
    circle = [(radius * math.cos(a), radius * math.sin(a)) for a in np.radians(np.arange(0.0, 362.0, 2.0))]
    seen = (("hidden plate", (*plate, plate[0])), ("circle", circle))
    return tuple(shapes), tuple(
        Stroke(kind, piece) for kind, line in seen for piece in _pieces(line, across, extent)
    )


def _pieces(line: Sequence[tuple[float, float]], across: float, extent: Extent) -> list[Ring]:
    """What the plan shows of a line, in pieces."""
    pieces: list[list[tuple[float, float]]] = [[]]
    for (x1, y1), (x2, y2) in pairwise(line):
        long = math.hypot(x2 - x1, y2 - y1)
        for share in np.linspace(0.0, 1.0, 2 + int(_FINE * long / across)):
            x, y = x1 + share * (x2 - x1), y1 + share * (y2 - y1)
            if abs(y) <= across and extent.shows(x, x):
                if not pieces[-1] or share > 0.0:
                    pieces[-1].append((x, y))
            elif pieces[-1]:
                pieces.append([])
    return [tuple(piece) for piece in pieces if len(piece) > 1]


def _contact(build: Build, half: float) -> Ring:
    """Where lug and plate touch by the policy's method: a disc, or a strip as wide as both are."""
    hub = build.hub
    side = min(hub.lug_width, hub.plate_width) / 2
    if build.policy.contact == "round":
        round_face = disc(hub.pivot_radius, 0.0, 2.0 * half)
        return tuple((x, min(max(y, -side), side)) for x, y in round_face)
    return rectangle(hub.pivot_radius - half, hub.pivot_radius + half, -side, side)[0]
