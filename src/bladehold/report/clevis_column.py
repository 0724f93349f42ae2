"""The list beside the joint's drawing: margins of parts, what the hatching means, forces; and the notes."""

from __future__ import annotations

import textwrap

import numpy as np

from bladehold.report import svg
from bladehold.report.chart_frame import caution
from bladehold.report.clevis_arrows import Arrows, arrows_of
from bladehold.report.clevis_joint import Joint
from bladehold.report.clevis_page import SIGN
from bladehold.report.clevis_shapes import LUG, PLATES
from bladehold.report.clevis_states import SIGNS, UNCHECKED, States, lines, swatch
from bladehold.study.assess import Assessment

_LINE = 21.0
_TIMES = (2.0, 5.0, 10.0, 20.0, 50.0, 100.0)  # by which a thin gap is enlarged
_SEEN = 9.0  # units of it that can be seen then
_THIN = 3.0  # units, of a gap that looks like a line
_LETTERS = 37  # of a line of the list


def column(
    assessment: Assessment, arrows: Arrows, states: States, place: tuple[float, float], right: float
) -> tuple[list[str], float]:
    """Return the list and the height it reaches down to; place - its upper left corner, right - its edge."""
    x, y = place
    flight = [] if arrows.flap_moment or arrows.lift else [_hardest(assessment)]
    found = [svg.text(x, y, "Smallest margin of each part", "strong")]
    for part in states.margins:
        y += _LINE
        found += [
            *swatch(x, y + 2.0, states.state(part)),
            svg.text(x + 38.0, y, part),
            svg.text(right - 122.0, y, SIGNS[states.state(part)], "sign"),
            svg.text(right - 122.0 + SIGN, y, states.said(part)),
        ]
    marginal = assessment.build.policy.marginal
    y += 1.6 * _LINE
    found.append(svg.text(x, y, "Hatching", "strong"))
    for state, what in (
        ("fails", "fails: margin below 0"),
        ("little", f"little: margin below {marginal:g}"),
        ("holds", "holds"),
        (UNCHECKED, "not checked"),
    ):
        y += _LINE
        found += [
            *swatch(x, y + 2.0, state),
            svg.text(x + 38.0, y, SIGNS[state], "sign"),
            svg.text(x + 38.0 + SIGN, y, what),
        ]
    for shown, title in ((arrows, "Forces drawn"), *((other, "Hardest in flight") for other in flight)):
        said, y = _listed(shown, title, (x, y + 1.6 * _LINE), right)
        found += said
    return found, y + 1.2 * _LINE


def _listed(arrows: Arrows, title: str, place: tuple[float, float], right: float) -> tuple[list[str], float]:
    """Forces of one condition under a title, and the height of the last."""
    x, y = place
    lines = textwrap.wrap(f"{title}: {arrows.condition}", _LETTERS - 2)
    found = [svg.text(x, y + _LINE * k, line, "strong") for k, line in enumerate(lines)]
    y += _LINE * (len(lines) - 1)
    for letter, what, value in _forces(arrows):
        y += _LINE
        found += [
            svg.text(x, y, letter, "load"),
            svg.text(x + 38.0, y, what),
            svg.text(right, y, value, anchor="end"),
        ]
    return found, y


def _hardest(assessment: Assessment) -> Arrows:
    """Forces where the flap moment is greatest: a proof has none, and that alone would say little."""
    loads = assessment.loads
    return arrows_of(assessment, loads.names[int(np.argmax(np.abs(loads.root.flap_peak)))])


def _forces(arrows: Arrows) -> list[tuple[str, str, str]]:
    found = [
        ("P", "centrifugal pull", newtons(arrows.centrifugal)),
        ("L", "lift", newtons(arrows.lift)),
        ("M", "flap moment, tip up", newton_metres(arrows.flap_moment)),
        ("Nu", "upper plate on lug", newtons(arrows.upper)),
        ("Nl", "lower plate on lug", newtons(arrows.lower)),
        ("T", "screw, most preload", newtons(arrows.tension)),
    ]
    if arrows.preload_greatest > 0.0:
        least, most = arrows.preload_least, arrows.preload_greatest
        found.append(("F", "preload, not drawn", f"{least:.0f} to {most:.0f} N"))
    return found


def newtons(force: float) -> str:
    """Return a force in N to at least three figures."""
    whole = force == 0.0 or 100.0 <= abs(force) < 1e7
    return f"{force:.0f} N" if whole else f"{force:.3g} N"


def newton_metres(moment: float) -> str:
    """Return a moment in N*m to three figures."""
    return f"{moment:.3g} N·m"


def notes(assessment: Assessment, joint: Joint) -> list[str]:
    """What the drawing rests on, and the cautions that no drawing goes without."""
    build = assessment.build
    letters = (
        "Dimensions in mm: d pivot screw, t1 plate, t2 lug, g gap on each side, e and ep edge distances of "
        "lug and plate, w and wp their widths, r pivot radius, c lever of the contact forces"
    )
    ties = ", b pivot to tie screws" if build.ties.screw is not None else ""
    said = [
        "Tinted in the plan: contact of lug and plate. Forces at limit load, arrows to the bar's scale, open "
        "heads where too small for it; the moment by its number alone. Mounting and tie screws are turned "
        "into the section."
    ]
    own = ["angle of the mounting screws", "motor bell", "blade beyond the lug"]
    if build.ties.count > 1:
        own.insert(0, "ties across the blade")
    if build.hub.upper_plate_bolted:
        own.append("core between the plates")
    if build.pivot.length is None or build.pivot.nut == "tapped":
        own.append("end of the pivot screw")
    if build.pivot.nut == "circlip":
        own.append("size of the circlip")
    said.append(f"Not on the sheet, drawn as is usual: {', '.join(own)}.")
    if joint.hidden:
        said.append(f"{joint.hidden} of {build.mounting.count} mounting screws lie outside the plan.")
    if any(item.key.startswith(("hub.", "tie_screws.distance")) for item in build.assumptions):
        said.append("* assumed, not given on the sheet.")
    return [" ".join([f"{letters}{ties}.", *said]), caution(build.invented)]


def gap_detail(gap: float, scale: float, states: States, place: tuple[float, float]) -> list[str]:
    """Return the gap between lug and plate enlarged, nothing where the views show it.

    Arguments: gap - m, each side; scale - of the views, units per m; place - upper left corner.
    """
    if gap <= 0.0 or gap * scale >= _THIN:
        return []
    times = next((t for t in _TIMES if gap * scale * t >= _SEEN), _TIMES[-1])
    x, y = place
    low = y + 22.0 + gap * scale * times
    found = []
    for part, top, lean in ((PLATES, y, 1), (LUG, low, -1)):
        ring = [(x, top), (x + 90.0, top), (x + 90.0, top + 22.0), (x, top + 22.0)]
        found += [svg.polygon(ring, f"part {states.state(part)}"), *lines([ring], lean, states.state(part))]
    return [
        *found,
        svg.text(x + 102.0, y + 16.0, "plate"),
        svg.text(x + 160.0, (y + 22.0 + low) / 2 + 5.0, f"gap g, × {times:g}"),
        svg.text(x + 102.0, low + 16.0, "lug"),
    ]
