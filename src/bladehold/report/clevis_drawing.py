"""The blade retention joint as a workshop drawing: a section through the pivot, a plan, loads and margins.

SVG text of our own, to scale, without anything from outside. Colour, hatching, sign and word say the same.
"""

from __future__ import annotations

import math
import textwrap
from collections.abc import Sequence
from html import escape

from bladehold.report import svg
from bladehold.report.clevis_arrows import arrows_of
from bladehold.report.clevis_column import column, gap_detail, notes
from bladehold.report.clevis_dimensions import dimensions, loads, part_labels
from bladehold.report.clevis_joint import joint_shapes
from bladehold.report.clevis_layout import COLUMN, Sheet, laid_out
from bladehold.report.clevis_page import Point, Words, arrow
from bladehold.report.clevis_states import STYLE, States, painted
from bladehold.study.assess import Assessment
from bladehold.study.words import life_sentence, verdict_sentence, verdict_words

WIDTH = 1240.0  # units of the page, whose height follows from what is on it
_VIEWS = 800.0  # least height of what lies between the sentences above and the notes below
_LINE = 20.0  # of words
_BARS = 150.0  # height of what lies below the list
_LETTERS = 153  # of a line across the page


def clevis_svg(assessment: Assessment, condition: str | None = None) -> str:
    """Return the drawing of the blade retention joint as SVG text.

    Arguments: assessment; condition - whose forces are drawn, a name out of the assessment's loads, by
    default that of the check that governs. Errors: ValueError on a condition that the loads do not have.
    """
    arrows = arrows_of(assessment, condition)
    joint = joint_shapes(assessment.build, arrows.half_contact)
    states = States.of(assessment)
    # Hardware that is strong enough may still wear out, which the margins drawn here do not show.
    said = (verdict_sentence(assessment), life_sentence(assessment))
    verdict = [line for sentence in said if sentence for line in textwrap.wrap(sentence, _LETTERS)]
    foot = [line for note in notes(assessment, joint) for line in textwrap.wrap(note, _LETTERS)]
    top = 44.0 + _LINE * len(verdict)
    beside, low = column(assessment, arrows, states, (COLUMN, top + 12.0), WIDTH - 20.0)
    # More sentences make the page longer and not the views smaller.
    below = max(top + _VIEWS, low + _BARS + 24.0)
    height = below + _LINE * len(foot) - 4.0
    sheet = laid_out(assessment, arrows, joint, top, below - 26.0)
    words = Words((10.0, top, COLUMN - 14.0, below - 18.0))
    parts = [
        *(svg.text(20.0, 54.0 + _LINE * k, line, "verdict") for k, line in enumerate(verdict)),
        *_views(sheet, states, words),
        *part_labels(sheet, states, words),
        *loads(sheet, words),
        *dimensions(sheet, words),
        *beside,
        *_scales(sheet, states, low),
        *(svg.text(20.0, below + _LINE * k, line, "note") for k, line in enumerate(foot)),
    ]
    return _framed(assessment, parts, height)


def _scales(sheet: Sheet, states: States, y: float) -> list[str]:
    """Below the list: bars of a round length and of a round force, and a gap that is too thin to be seen."""
    length = _round_down(170.0 / sheet.scale)
    x, long = COLUMN, sheet.scale * length
    found = [
        svg.polygon([(x, y), (x + long / 2, y), (x + long / 2, y + 6.0), (x, y + 6.0)], "bar"),
        svg.polygon([(x, y), (x + long, y), (x + long, y + 6.0), (x, y + 6.0)], "frame"),
        svg.text(x + long + 10.0, y + 9.0, f"{1e3 * length:g} mm"),
    ]
    y += 28.0
    if sheet.force > 0.0:
        force = _round_down(100.0 / sheet.force)
        end = x + sheet.force * force
        found += arrow((x, y), (end, y), "force")
        found.append(svg.text(end + 10.0, y + 5.0, f"{force:g} N"))
        y += 20.0
    gap = sheet.joint.levels.opening - sheet.assessment.build.hub.lug_thickness / 2
    return [*found, *gap_detail(gap, sheet.scale, states, (x, y))]


def _round_down(most: float) -> float:
    power = 10.0 ** math.floor(math.log10(most))
    return next(step * power for step in (5.0, 2.0, 1.0) if step * power <= most * (1.0 + 1e-9))


def _views(sheet: Sheet, states: States, words: Words) -> list[str]:
    found = []
    for shapes, strokes, place in (
        (sheet.joint.section, sheet.joint.section_strokes, sheet.at),
        (sheet.joint.plan, sheet.joint.plan_strokes, sheet.seen),
    ):
        for shape in shapes:
            rings = [[place(*point) for point in ring] for ring in shape.rings]
            found += painted(shape, rings, states.state(shape.part))
            words.busy.append(_around(rings[0]))
        found += [svg.polyline([place(*p) for p in stroke.points], stroke.kind) for stroke in strokes]
    return [*found, *_breaks(sheet), *_centre_lines(sheet)]


def _around(ring: Sequence[Point]) -> tuple[float, float, float, float]:
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    return min(xs), min(ys), max(xs), max(ys)


def _breaks(sheet: Sheet) -> list[str]:
    """White bands with wavy edges where an empty stretch is left out, and where hub and blade go on."""
    half, levels = sheet.scale * sheet.joint.across, sheet.joint.levels
    views = ((sheet.top - 4.0, sheet.bottom + 4.0), (sheet.plan - half - 4.0, sheet.plan + half + 4.0))
    found = []
    for low, high in sheet.axis.breaks:
        for top, bottom in views:
            found += _band(_wave(low + 6.0, top, bottom), _wave(high - 6.0, top, bottom))
            found += [svg.polyline(_wave(x, top, bottom), "wave") for x in (low + 6.0, high - 6.0)]
    build = sheet.assessment.build
    blade = sheet.scale * max(build.propeller.root_thickness, build.hub.lug_thickness) / 2
    wide, plate = sheet.scale * build.hub.lug_width / 2, min(sheet.scale * build.hub.plate_width / 2, half)
    left, right = sheet.axis.start, sheet.axis.end
    outer, opening = sheet.scale * levels.outer, sheet.scale * levels.opening
    ends = (
        (right, -1.0, sheet.section - blade, sheet.section + blade),
        (right, -1.0, sheet.plan - wide, sheet.plan + wide),
        (left, 1.0, sheet.section - outer, sheet.section - opening),
        (left, 1.0, sheet.section + opening, sheet.section + outer),
        (left, 1.0, sheet.plan - plate, sheet.plan + plate),
    )
    for x, way, top, bottom in ends:
        inner = _wave(x + way * 5.0, top - 1.0, bottom + 1.0)
        found += _band(inner, _wave(x - way * 5.0, top - 1.0, bottom + 1.0))
        found.append(svg.polyline(inner, "wave"))
    return found


def _band(left: Sequence[Point], right: Sequence[Point]) -> list[str]:
    return [svg.polygon([*left, *right[::-1]], "gone")]


def _wave(x: float, top: float, bottom: float) -> list[Point]:
    steps = max(int((bottom - top) / 3.0), 8)
    waves = max(round((bottom - top) / 36.0), 1)
    return [
        (x + 2.5 * math.sin(2.0 * math.pi * waves * k / steps), top + (bottom - top) * k / steps)
        for k in range(steps + 1)
    ]


def _centre_lines(sheet: Sheet) -> list[str]:
    half = sheet.scale * sheet.joint.across + 8.0
    pivot = sheet.axis(sheet.assessment.build.hub.pivot_radius)
    left, right = sheet.axis.start - 10.0, sheet.axis.end + 10.0
    return [
        svg.line(sheet.axis(0.0), sheet.top - 16.0, sheet.axis(0.0), sheet.plan + half, "axis"),
        svg.line(pivot, sheet.top - 10.0, pivot, sheet.plan + half, "axis"),
        svg.line(left, sheet.section, right, sheet.section, "axis"),
        svg.line(left, sheet.plan, right, sheet.plan, "axis"),
    ]


def _framed(assessment: Assessment, parts: Sequence[str], height: float) -> str:
    build = assessment.build
    name = build.name if len(build.name) <= 56 else build.name[:55] + "…"
    verdict = f"blade retention joint, {verdict_words(assessment)}"
    title = f"{build.name}: {verdict}"
    states = States.of(assessment)
    margins = ", ".join(f"{part} {states.said(part)}" for part in states.margins)
    what = (
        "Section through the pivot along the blade, plan through the middle of the lug, both to scale, with "
        f"dimensions, loads and the smallest margin of each part: {margins}."
    )
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" class="clevis" viewBox="0 0 {WIDTH:g} {height:.0f}" '
            'role="img">',
            f"<title>{escape(title)}</title>",
            f"<desc>{escape(what)}</desc>",
            f"<style>{STYLE}</style>",
            f'<rect class="paper" width="{WIDTH:g}" height="{height:.0f}"/>',
            svg.text(20.0, 32.0, f"{name}: {verdict}", "title"),
            *parts,
            "</svg>\n",
        ]
    )
