"""Paper of the joint's drawing: a length axis that can be broken, hatching, and words that keep apart."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np

from bladehold.report import svg

SIZE = 15.0  # of the words, units
LETTER = 0.54  # of the size, width of a letter, about
SIGN = 16.0  # units, what a sign takes up
_RISE, _DROP = 0.78, 0.24  # of the size, of a letter above and below its line
_FAR = 26.0  # units, from where a leader is drawn
_HEAD = 11.0  # length of an arrow head, units
_APART = 2.0  # units between the boxes of two words

Point = tuple[float, float]
Box = tuple[float, float, float, float]


@dataclass(frozen=True)
class Axis:
    """Lengths (m) to units along the page; breaks - where an empty stretch is cut short, units."""

    places: tuple[float, ...]
    units: tuple[float, ...]
    breaks: tuple[Point, ...]

    def __call__(self, length: float) -> float:
        """Return the place on the page, at the nearer end for what lies outside."""
        return float(np.interp(length, self.places, self.units))

    @property
    def start(self) -> float:
        """The first place, units."""
        return self.units[0]

    @property
    def end(self) -> float:
        """The last place, units."""
        return self.units[-1]


def merged(stretches: Iterable[Point], most_empty: float) -> list[Point]:
    """Return stretches in order, joined where less than a share of their whole length lies between two."""
    ordered = sorted(stretches)
    joined = [ordered[0]]
    for low, high in ordered[1:]:
        if low <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(joined[-1][1], high))
        else:
            joined.append((low, high))
    whole = sum(high - low for low, high in joined)
    kept = [joined[0]]
    for low, high in joined[1:]:
        if low - kept[-1][1] <= most_empty * whole:
            kept[-1] = (kept[-1][0], high)
        else:
            kept.append((low, high))
    return kept


def broken_axis(kept: Sequence[Point], scale: float, start: float, gap: float) -> Axis:
    """Return the axis that shows the kept stretches to scale (units per m), gap units apart."""
    places: list[float] = []
    units: list[float] = []
    breaks: list[Point] = []
    at = start
    for number, (low, high) in enumerate(kept):
        if number:
            breaks.append((at, at + gap))
            at += gap
        places += [low, high]
        units += [at, at + scale * (high - low)]
        at = units[-1]
    return Axis(tuple(places), tuple(units), tuple(breaks))


def hatch(rings: Sequence[Sequence[Point]], lean: int, spacing: float) -> str:
    """Return path data of parallel lines at 45 degrees inside an outline, holes left out.

    rings - outline and holes in units; lean - 1 or -1; spacing - units between the lines.
    """
    along, normal = (math.sqrt(0.5), -lean * math.sqrt(0.5)), (lean * math.sqrt(0.5), math.sqrt(0.5))
    edges = [(ring[k - 1], ring[k]) for ring in rings for k in range(len(ring))]
    levels = [normal[0] * x + normal[1] * y for ring in rings for x, y in ring]
    first, last = math.ceil(min(levels) / spacing), math.floor(max(levels) / spacing)
    path = []
    for number in range(first, last + 1):
        # A little off the corners, so that no line runs through one.
        level = spacing * number + 1e-3
        cuts = []
        for a, b in edges:
            high = normal[0] * a[0] + normal[1] * a[1] - level
            low = normal[0] * b[0] + normal[1] * b[1] - level
            if (high > 0.0) != (low > 0.0):
                share = high / (high - low)
                x, y = a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])
                cuts.append((along[0] * x + along[1] * y, x, y))
        cuts.sort()
        for (_, x1, y1), (_, x2, y2) in zip(cuts[::2], cuts[1::2], strict=False):
            path.append(f"M{x1:.1f},{y1:.1f}L{x2:.1f},{y2:.1f}")
    return "".join(path)


def width_of(words: str, size: float = SIZE) -> float:
    """Return the width of words, about, units."""
    return LETTER * size * len(words)


def arrow(begin: Point, end: Point, kind: str) -> list[str]:
    """Return an arrow with its head at its end; shorter than a head, it is an open head of full length."""
    dx, dy = end[0] - begin[0], end[1] - begin[1]
    long = math.hypot(dx, dy)
    if long <= 0.0:
        return []
    ux, uy = dx / long, dy / long
    if long < _HEAD:
        end = (begin[0] + _HEAD * ux, begin[1] + _HEAD * uy)
    back = (end[0] - _HEAD * ux, end[1] - _HEAD * uy)
    side = 0.4 * _HEAD
    corners = [end, (back[0] - side * uy, back[1] + side * ux), (back[0] + side * uy, back[1] - side * ux)]
    if long < _HEAD:
        return [svg.polygon(corners, f"{kind} open")]
    return [svg.line(*begin, *back, kind), svg.polygon(corners, f"{kind} tip")]


@dataclass
class Words:
    """Words on a page, each kept clear of those before.

    bounds - left, top, right, bottom of where they may be; busy - boxes that words avoid where they can.
    """

    bounds: Box
    boxes: list[Box] = field(default_factory=list)
    busy: list[Box] = field(default_factory=list)

    def fixed(self, x: float, y: float, words: str, kind: str = "", anchor: str = "start") -> str:
        """Return words at their place, whatever is there."""
        self.boxes.append(_box(x, y, words, anchor))
        return svg.text(x, y, words, kind, anchor=anchor)

    def signed(self, x: float, y: float, sign: str, words: str) -> list[str]:
        """Return a sign and words after it; apart, because few fonts have both."""
        return [self.fixed(x, y, sign, "sign"), self.fixed(x + SIGN, y, words)]

    def free(
        self, x: float, y: float, words: str, kind: str = "", *, point: Point | None = None
    ) -> list[str]:
        """Return words with their middle as near to a place as there is room.

        point - what they belong to: a leader runs there where they had to go far from it.
        """
        target = (x, y) if point is None else point
        wide = width_of(words)
        for strict in (True, False):
            for at in self._around(x, y):
                box = _box(*at, words, "middle")
                if self._clear(box, strict=strict):
                    self.boxes.append(box)
                    return [*_leader(box, target), svg.text(*at, words, kind, anchor="middle")]
        raise ValueError(f"no room for {words!r}, {wide:.0f} units wide")

    def _around(self, x: float, y: float) -> Iterable[Point]:
        """Places about a place, nearest first; words are wide, so they rather move up and down."""
        y += (_RISE - _DROP) / 2 * SIZE
        yield x, y
        for ring in range(1, 90):
            out = 7.0 * ring
            for k in range(16):
                angle = math.pi * (k / 8.0 + 0.5)
                yield x + 1.5 * out * math.cos(angle), y + out * math.sin(angle)

    def _clear(self, box: Box, *, strict: bool) -> bool:
        left, top, right, bottom = self.bounds
        if box[0] < left or box[1] < top or box[2] > right or box[3] > bottom:
            return False
        near = (box[0] - _APART, box[1] - _APART, box[2] + _APART, box[3] + _APART)
        others = [*self.boxes, *self.busy] if strict else self.boxes
        return not any(
            near[0] < b[2] and b[0] < near[2] and near[1] < b[3] and b[1] < near[3] for b in others
        )


def _box(x: float, y: float, words: str, anchor: str) -> Box:
    wide = width_of(words)
    left = x - {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor] * wide
    return left, y - _RISE * SIZE, left + wide, y + _DROP * SIZE


def _leader(box: Box, point: Point) -> list[str]:
    """A thin line from words to what they belong to, where they are not beside it."""
    x, y = min(max(point[0], box[0]), box[2]), min(max(point[1], box[1]), box[3])
    if math.hypot(point[0] - x, point[1] - y) < _FAR:
        return []
    return [svg.line(x, y, *point, "leader")]
