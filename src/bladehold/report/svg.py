"""The few elements our own drawings are made of, as SVG text; names that are drawn are escaped."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

WIDTH_OF_LETTER = 8.0  # units, about, at the size the drawings' words have
_LONG, _WIDE = 8.0, 2.6  # of an arrow head


def text(x: float, y: float, words: str, kind: str = "", *, anchor: str = "start") -> str:
    """Return words at a place; kind - CSS class, anchor - start, middle or end."""
    return f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}"{_class(kind)}>{escape(words)}</text>'


def line(x1: float, y1: float, x2: float, y2: float, kind: str) -> str:
    """Return a straight line."""
    return f'<line x1="{x1:.1f}" y1="{y1:.1f}" x2="{x2:.1f}" y2="{y2:.1f}"{_class(kind)}/>'


def polyline(points: Iterable[tuple[float, float]], kind: str) -> str:
    """Return an open line through points."""
    return f'<polyline points="{_points(points)}"{_class(kind)}/>'


def polygon(points: Iterable[tuple[float, float]], kind: str) -> str:
    """Return a closed area."""
    return f'<polygon points="{_points(points)}"{_class(kind)}/>'


def circle(x: float, y: float, radius: float, kind: str) -> str:
    """Return a circle."""
    return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{radius:.1f}"{_class(kind)}/>'


def across(x1: float, x2: float, y: float, words: str) -> list[str]:
    """Return a dimension across the page with arrow heads; words above it, or beside it where it is short."""
    fits = WIDTH_OF_LETTER * len(words) < x2 - x1 - 12.0
    place = text(0.5 * (x1 + x2), y - 5.0, words, anchor="middle") if fits else text(x2 + 8.0, y + 5.0, words)
    return [line(x1, y, x2, y, "dim"), *_heads(x1, y, x2, y), place]


def upright(x: float, y1: float, y2: float, words: str, *, doubt: bool, over: bool = False) -> list[str]:
    """Return a dimension up the page, words to its right; doubt - dashed, for a measure that was assumed.

    over - the words lie on a filled area.
    """
    kind = " ".join(name for name, on in (("note", doubt), ("over", over)) if on)
    drawn = [line(x, y1, x, y2, "dim assumed" if doubt else "dim"), *_heads(x, y1, x, y2)]
    return [*drawn, text(x + 7.0, 0.5 * (y1 + y2) + 5.0, words, kind)] if words else drawn


def _heads(x1: float, y1: float, x2: float, y2: float) -> list[str]:
    """Arrow heads at both ends of a line along or up the page, pointing outward."""
    heads = []
    for x, y, sign in ((x1, y1, 1.0), (x2, y2, -1.0)):
        if y1 == y2:
            points = [(x, y), (x + sign * _LONG, y - _WIDE), (x + sign * _LONG, y + _WIDE)]
        else:
            points = [(x, y), (x - _WIDE, y + sign * _LONG), (x + _WIDE, y + sign * _LONG)]
        heads.append(polygon(points, "head"))
    return heads


def _class(kind: str) -> str:
    return f' class="{kind}"' if kind else ""


def _points(points: Iterable[tuple[float, float]]) -> str:
    return " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
