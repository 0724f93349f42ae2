"""The blade a sheet describes, as an engineering drawing: planform to scale, chord, twist and thickness.

SVG text of our own, without anything from outside. It takes the page's ink and follows its light or dark.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

import numpy as np
from numpy.typing import NDArray

from bladehold.cautions import CAUTIONS, INVENTED
from bladehold.report import svg
from bladehold.report.rotor import assumed_shape
from bladehold.rotor import BladeGeometry
from bladehold.rotor.correction import Correction
from bladehold.sheet import Build
from bladehold.study.shape import blade_of

FloatArray = NDArray[np.float64]

_WIDTH, _LEFT, _RIGHT = 640.0, 64.0, 26.0  # units of the drawing; its words are 16 high
_HEAD, _ROW, _PANEL, _GAP, _LINE = 76.0, 30.0, 96.0, 30.0, 21.0
_QUARTER = 0.25  # of the chord, ahead of the line that is drawn straight
_STEPS = (1.0, 2.0, 5.0)
_LETTERS = 78  # of one line of notes

# What shapes the drawing beyond the rotor.
_HUB_SHAPING = {"hub.lug_edge_distance": "lug edge distance", "hub.lug_hole": "lug hole"}

_STYLE = """\
.planform { color: #1f2d3a; font: 16px Helvetica, Arial, sans-serif; max-width: 75rem; }
.planform text { fill: currentColor; }
.planform .title { font-size: 20px; font-weight: bold; }
.planform .paper { fill: #ffffff; }
.planform .blade { fill: #e1e6ea; stroke: currentColor; stroke-width: 1.6; }
.planform .lug { fill: #c3cdd6; stroke: currentColor; stroke-width: 1.2; }
.planform .thin { fill: none; stroke: currentColor; stroke-width: 0.8; stroke-opacity: 0.6; }
.planform .axis { stroke: currentColor; stroke-width: 0.9; stroke-dasharray: 14 4 3 4; stroke-opacity: 0.7; }
.planform .grid { stroke: currentColor; stroke-width: 0.7; stroke-opacity: 0.18; }
.planform .dim { stroke: currentColor; stroke-width: 1; }
.planform .assumed { stroke: #b3402a; stroke-dasharray: 5 3; }
.planform .head { fill: currentColor; }
.planform .hole { fill: #ffffff; stroke: currentColor; stroke-width: 1.2; }
.planform .solid { fill: currentColor; }
.planform .curve { fill: none; stroke: #1f4e79; stroke-width: 2.2; }
.planform .mark { fill: #1f4e79; }
.planform text.note { fill: #b3402a; }
.planform text.over { paint-order: stroke; stroke: #e1e6ea; stroke-width: 5px; }
@media (prefers-color-scheme: dark) {
.planform { color: #e4eaef; }
.planform .paper, .planform .hole { fill: #151b21; }
.planform .blade { fill: #2f3942; }
.planform .lug { fill: #4a5763; }
.planform text.over { stroke: #2f3942; }
.planform .curve { stroke: #86b8e6; }
.planform .mark { fill: #86b8e6; }
.planform .assumed { stroke: #f0907c; }
.planform text.note { fill: #f0907c; }
}"""


@dataclass(frozen=True)
class _Sheet:
    """What is drawn: build, blade as the model takes it, scale (units per m), assumed keys."""

    build: Build
    blade: BladeGeometry
    scale: float
    assumed: frozenset[str]

    def x(self, radius: float) -> float:
        return _LEFT + self.scale * radius


def planform_drawing(build: Build) -> str:
    """Return the drawing of the blade as the rotor model takes it, as SVG text."""
    blade, _ = blade_of(build)
    scale = (_WIDTH - _LEFT - _RIGHT) / blade.radius
    sheet = _Sheet(build, blade, scale, frozenset(item.key for item in build.assumptions))
    ahead, behind = _reach(sheet)
    middle = _HEAD + 34.0 + ahead
    parts = [*_plan(sheet, middle), *_marks(sheet, middle)]
    y = middle + behind + 26.0
    parts += [*_lengths(sheet, middle, y), *_chords(sheet, middle)]
    y += 3 * _ROW + 8.0
    curves: list[tuple[str, str, FloatArray]] = [
        ("chord, mm", "chord", 1e3 * blade.chord),
        ("twist, deg", "twist", np.degrees(blade.twist)),
        ("thickness, mm", "thickness", 1e3 * blade.thickness),
    ]
    for place, (title, name, values) in enumerate(curves):
        parts += _panel(sheet, y, title, name, values, last=place == len(curves) - 1)
        y += _PANEL + _GAP
    y += 42.0
    notes = [(line, kind) for words, kind in _notes(sheet) for line in _broken(words)]
    parts += [svg.text(16.0, y + k * _LINE, words, kind) for k, (words, kind) in enumerate(notes)]
    return _framed(build, parts, y + len(notes) * _LINE)


def _framed(build: Build, parts: Sequence[str], height: float) -> str:
    title = escape(f"{build.name}: the blade")
    what = "Planform, chord, twist and thickness of one blade with pivot and balance point."
    head = [svg.text(16.0, 32.0, f"{_shortened(build.name, 41)}: the blade", "title"), *_subtitle(build)]
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" class="planform" viewBox="0 0 {_WIDTH:g} {height:.0f}" '
            'role="img">',
            f"<title>{title}</title>",
            f"<desc>{what}</desc>",
            f"<style>{_STYLE}</style>",
            f'<rect class="paper" width="{_WIDTH:g}" height="{height:.0f}"/>',
            *head,
            *parts,
            "</svg>\n",
        ]
    )


def _shortened(words: str, most: int) -> str:
    return words if len(words) <= most else words[: most - 1] + "…"


def _subtitle(build: Build) -> list[str]:
    propeller = build.propeller
    sections = ", ".join(dict.fromkeys([s.section for s in propeller.stations] or [propeller.section]))
    size = f"{propeller.blades} blades, {propeller.diameter / 0.0254:.3g} in"
    return [svg.text(16.0, 56.0, _shortened(f"{size}, section {sections}; leading edge up", 80))]


def _reach(sheet: _Sheet) -> tuple[float, float]:
    """How far the drawing reaches ahead of and behind the straight line, units."""
    widest = sheet.scale * float(sheet.blade.chord.max())
    lug = 0.5 * sheet.scale * sheet.build.hub.lug_width
    return max(_QUARTER * widest, lug), max((1.0 - _QUARTER) * widest, lug)


def _plan(sheet: _Sheet, middle: float) -> list[str]:
    """The outline with its lug, hub axis and the line that is drawn straight."""
    blade, hub = sheet.blade, sheet.build.hub
    radii = np.concatenate([blade.r, [blade.radius]])
    chord = sheet.scale * np.append(blade.chord, blade.chord[-1])
    x = [sheet.x(r) for r in radii]
    lead = [(a, middle - _QUARTER * c) for a, c in zip(x, chord, strict=True)]
    trail = [(a, middle + (1.0 - _QUARTER) * c) for a, c in zip(x, chord, strict=True)]
    half = 0.5 * sheet.scale * hub.lug_width
    first = sheet.x(hub.pivot_radius - hub.lug_edge_distance)
    last = sheet.x(hub.pivot_radius + 0.5 * hub.contact_length)
    corners = [(first, middle - half), (last, middle - half), (last, middle + half), (first, middle + half)]
    hole = 0.5 * sheet.scale * hub.lug_hole
    pivot = sheet.x(hub.pivot_radius)
    return [
        svg.line(sheet.x(0.0), middle - half - 30.0, sheet.x(0.0), middle + half + 30.0, "axis"),
        svg.line(sheet.x(0.0) - 12.0, middle, sheet.x(blade.radius) + 12.0, middle, "axis"),
        svg.polygon([*lead, *trail[::-1]], "blade"),
        svg.polygon(corners, "lug"),
        svg.circle(pivot, middle, max(hole, 3.0), "hole"),
        svg.line(pivot - 9.0, middle, pivot + 9.0, middle, "thin"),
        svg.line(pivot, middle - 9.0, pivot, middle + 9.0, "thin"),
    ]


def _marks(sheet: _Sheet, middle: float) -> list[str]:
    """The balance point, and words for what is marked."""
    hub, propeller = sheet.build.hub, sheet.build.propeller
    x = sheet.x(hub.pivot_radius + propeller.balance_point)
    size = 7.5
    quarters = [
        f'<path class="solid" d="M{x:.1f},{middle:.1f} h{sign * size:.1f} '
        f'a{size:.1f},{size:.1f} 0 0 0 {-sign * size:.1f},{-sign * size:.1f} z"/>'
        for sign in (1.0, -1.0)
    ]
    ahead, _ = _reach(sheet)
    top = middle - ahead - 16.0
    lug = middle - 0.5 * sheet.scale * hub.lug_width
    return [
        svg.circle(x, middle, size, "hole"),
        *quarters,
        svg.text(sheet.x(0.0), lug - 36.0, "axis", anchor="middle"),
        svg.text(sheet.x(hub.pivot_radius), top, "pivot"),
        svg.line(sheet.x(hub.pivot_radius), top + 4.0, sheet.x(hub.pivot_radius), middle - 9.0, "thin"),
        svg.text(x, top, "balance point", anchor="middle"),
        svg.line(x, top + 4.0, x, middle - size, "thin"),
    ]


def _chords(sheet: _Sheet, middle: float) -> list[str]:
    """The dimensions of the widest and the tip chord; those that were assumed say so."""
    propeller, radius = sheet.build.propeller, sheet.blade.radius
    scaled = propeller.correction.chord_scale
    if propeller.stations:
        widest = max(propeller.stations, key=lambda station: station.chord)
        place, chord = widest.radius, scaled * widest.chord
    else:
        place, chord = propeller.widest_at * radius, scaled * propeller.widest_chord
    tip = float(sheet.blade.chord[-1])

    def ends(length: float) -> tuple[float, float]:
        ahead, behind = _QUARTER * sheet.scale * length, (1.0 - _QUARTER) * sheet.scale * length
        return middle - ahead, middle + behind

    def said(words: str, length: float, key: str) -> tuple[str, bool]:
        doubt = not propeller.stations and f"propeller.{key}" in sheet.assumed
        return f"{words} {1e3 * length:.1f} mm" + (", assumed" if doubt else ""), doubt

    words, doubt = said("widest", chord, "widest_chord")
    parts = svg.upright(sheet.x(place), *ends(chord), words, doubt=doubt, over=True)
    words, doubt = said("tip", tip, "tip_chord")
    x, (upper, lower) = sheet.x(radius), ends(tip)
    parts += [svg.line(x, y, x + 14.0, y, "thin") for y in (upper, lower)]
    parts += svg.upright(x + 10.0, upper, lower, "", doubt=doubt)
    return [*parts, svg.text(x + 14.0, upper - 14.0, words, "note" if doubt else "", anchor="end")]


def _lengths(sheet: _Sheet, middle: float, y: float) -> list[str]:
    """The lengths along the span, each in a row of its own, with lines down from what they measure."""
    blade, hub = sheet.blade, sheet.build.hub
    axis, pivot, tip = sheet.x(0.0), sheet.x(hub.pivot_radius), sheet.x(blade.radius)
    balance = sheet.x(hub.pivot_radius + sheet.build.propeller.balance_point)
    rows = [
        (axis, pivot, f"pivot radius {1e3 * hub.pivot_radius:.4g} mm"),
        (pivot, balance, f"balance point {1e3 * sheet.build.propeller.balance_point:.4g} mm"),
        (axis, tip, f"tip radius {1e3 * blade.radius:.4g} mm"),
    ]
    parts = [
        svg.line(axis, middle, axis, y + 2 * _ROW + 6.0, "thin"),
        svg.line(pivot, middle + 9.0, pivot, y + _ROW + 6.0, "thin"),
        svg.line(balance, middle + 9.0, balance, y + _ROW + 6.0, "thin"),
        svg.line(tip, middle, tip, y + 2 * _ROW + 6.0, "thin"),
    ]
    for place, (begin, end, words) in enumerate(rows):
        parts += svg.across(begin, end, y + place * _ROW, words)
    return parts


def _panel(sheet: _Sheet, y: float, title: str, name: str, values: FloatArray, *, last: bool) -> list[str]:
    """One curve over the radius, with the sheet's own stations as dots."""
    blade = sheet.blade
    stations = sheet.build.propeller.stations
    low = min(0.0, float(values.min()))
    ticks = _ticks(low, float(values.max()), 4)
    bottom, top = y + _PANEL, y
    ends = (min(low, ticks[0]), max(float(values.max()), ticks[-1]))

    def up(value: float) -> float:
        return bottom - (value - ends[0]) / (ends[1] - ends[0]) * (bottom - top)

    parts = [svg.text(sheet.x(blade.radius), top - 8.0, title, anchor="end")]
    for tick in ticks:
        parts.append(svg.line(_LEFT, up(tick), sheet.x(blade.radius), up(tick), "grid"))
        parts.append(svg.text(_LEFT - 8.0, up(tick) + 5.0, f"{tick:g}", anchor="end"))
    for tick in _ticks(0.0, 1e3 * blade.radius, 6):
        x = sheet.x(1e-3 * tick)
        parts.append(svg.line(x, top, x, bottom, "grid"))
        if last:
            parts.append(svg.text(x, bottom + 20.0, f"{tick:g}", anchor="middle"))
    if last:
        middle = 0.5 * (_LEFT + sheet.x(blade.radius))
        parts.append(svg.text(middle, bottom + 41.0, "radius, mm", anchor="middle"))
    parts.append(svg.polyline([(sheet.x(r), up(v)) for r, v in zip(blade.r, values, strict=True)], "curve"))
    for station in stations:
        value = float(np.interp(station.radius, blade.r, values))
        parts.append(svg.circle(sheet.x(station.radius), up(value), 3.6, "mark"))
    return parts


def _ticks(low: float, high: float, most: int) -> list[float]:
    """Round values from low to high, at most `most` steps apart."""
    span = max(high - low, 1e-9)
    power = 10.0 ** math.floor(math.log10(span / most))
    step = next(s for s in (*(power * k for k in _STEPS), 10.0 * power) if span / s <= most)
    return [step * k for k in range(math.floor(low / step + 1e-9), math.floor(high / step + 1e-9) + 1)]


def _notes(sheet: _Sheet) -> list[tuple[str, str]]:
    """What the drawing rests on: where the shape comes from, what was assumed, cautions."""
    build = sheet.build
    measured = bool(build.propeller.stations)
    shape = (
        "Shape read between measured stations (dots)."
        if measured
        else "Shape made from a few measures: twist from the pitch, chord and thickness by a law."
    )
    notes = [(f"{shape} Chords are laid flat. Sweep is not known: the quarter chord is drawn straight.", "")]
    if build.propeller.correction != Correction():
        fit = build.propeller.correction
        words = f"pitch {math.degrees(fit.pitch_offset):+.2f} deg, chord x {fit.chord_scale:.3f}"
        notes.append((f"As a stand run corrected it: {words}.", ""))
    listed = assumed_shape(build) + [name for key, name in _HUB_SHAPING.items() if key in sheet.assumed]
    if listed:
        notes.append((f"Assumed, not given: {', '.join(listed)}.", "note"))
    return [*notes, (" ".join([*([INVENTED] if build.invented else []), CAUTIONS[0]]), "")]


def _broken(words: str, most: int = _LETTERS) -> list[str]:
    """Words in lines of at most `most` letters."""
    import textwrap

    return textwrap.wrap(words, most)
