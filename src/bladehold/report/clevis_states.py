"""How a part's margin looks in the joint's drawing: colour, hatching, sign and word, which say the same."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from bladehold.report import svg
from bladehold.report.clevis_page import Point, hatch
from bladehold.report.clevis_shapes import Shape
from bladehold.report.render import INK, MUTED
from bladehold.report.terminal import state_of
from bladehold.study.assess import Assessment

UNCHECKED = "unchecked"
SIGNS = {"fails": "✗", "little": "!", "holds": "✓", UNCHECKED: "–"}
WORDS = {"fails": "fails", "little": "little", "holds": "holds", UNCHECKED: "not checked"}
_SPACING = {"fails": 6.0, "little": 6.0, "holds": 9.0}

STYLE = f"""\
.clevis {{ color: {INK}; font: 15px Helvetica, Arial, sans-serif; max-width: 90rem; }}
.clevis text {{ fill: {INK}; paint-order: stroke; stroke: #ffffff; stroke-width: 4px; }}
.clevis .title {{ font-size: 22px; font-weight: bold; }}
.clevis .verdict, .clevis .note {{ fill: {MUTED}; }}
.clevis .strong {{ font-weight: bold; }}
.clevis .sign {{ font-family: DejaVu Sans, Segoe UI Symbol, Apple Symbols, sans-serif; }}
.clevis .under {{ stroke: #ffffff; stroke-width: 5; }}
.clevis text.given {{ fill: {INK}; }}
.clevis text.assumed {{ fill: #9c2f1c; }}
.clevis text.load {{ fill: #17457a; font-weight: bold; }}
.clevis .paper, .clevis .gone {{ fill: #ffffff; }}
.clevis .part {{ stroke: {INK}; stroke-width: 1.3; stroke-linejoin: round; fill-rule: evenodd; }}
.clevis .fails {{ fill: #f7cdc5; }}
.clevis .little {{ fill: #fbe7b0; }}
.clevis .holds {{ fill: #dcefdd; }}
.clevis .unchecked {{ fill: #eef1f3; }}
.clevis .lines {{ fill: none; stroke-width: 0.9; }}
.clevis .lines.of-fails {{ stroke: #9c2f1c; stroke-width: 1.1; }}
.clevis .lines.of-little {{ stroke: #7a5600; stroke-dasharray: 6 3; }}
.clevis .lines.of-holds {{ stroke: #2e6b3a; }}
.clevis .contact {{ fill: #2b6cb0; fill-opacity: 0.22; fill-rule: evenodd; }}
.clevis .contact {{ stroke: #17457a; stroke-width: 1; stroke-dasharray: 3 2; }}
.clevis .root, .clevis .thin, .clevis .leader {{ fill: none; stroke: {INK}; stroke-width: 0.7; }}
.clevis .leader {{ stroke: {MUTED}; }}
.clevis .dot {{ fill: {INK}; }}
.clevis .hidden {{ fill: none; stroke: {INK}; stroke-width: 1; stroke-dasharray: 6 4; }}
.clevis .circle {{ fill: none; stroke: {MUTED}; stroke-width: 0.9; stroke-dasharray: 12 3 3 3; }}
.clevis .wave {{ fill: none; stroke: {INK}; stroke-width: 0.9; }}
.clevis .axis {{ stroke: {INK}; stroke-width: 0.8; stroke-dasharray: 14 4 3 4; stroke-opacity: 0.75; }}
.clevis .dim {{ stroke: {INK}; stroke-width: 0.9; }}
.clevis .tip, .clevis .bar {{ fill: {INK}; }}
.clevis .frame {{ fill: none; stroke: {INK}; stroke-width: 0.9; }}
.clevis .force {{ stroke: #17457a; stroke-width: 3; fill: none; }}
.clevis .force.tip {{ fill: #17457a; stroke-width: 0; }}
.clevis .force.open {{ fill: #ffffff; stroke-width: 1.5; }}
@media print {{ .clevis {{ max-width: none; }} }}"""


@dataclass(frozen=True)
class States:
    """Smallest margin and state of each part that was checked, weakest first."""

    margins: Mapping[str, float]
    states: Mapping[str, str]

    @classmethod
    def of(cls, assessment: Assessment) -> States:
        """Return the states of an assessment's parts."""
        margins = {part: check.margin for part, check in assessment.by_part().items()}
        marginal = assessment.build.policy.marginal
        return cls(margins, {part: state_of(margin, marginal) for part, margin in margins.items()})

    def state(self, part: str) -> str:
        """Return the state of a part, UNCHECKED for one that no check is about."""
        return self.states.get(part, UNCHECKED)

    def said(self, part: str) -> str:
        """Return word and margin of a part."""
        state = self.state(part)
        if part not in self.margins:
            return WORDS[state]
        margin = self.margins[part]
        number = "unloaded" if not math.isfinite(margin) else f"{margin:+.2f}" if margin < 100.0 else ">100"
        return f"{WORDS[state]} {number}"


def painted(shape: Shape, rings: Sequence[Sequence[Point]], state: str) -> list[str]:
    """Return a shape filled and hatched by its part's state; rings - its outline and holes, units."""
    path = "".join("M" + "L".join(f"{x:.1f},{y:.1f}" for x, y in ring) + "Z" for ring in rings)
    kind = shape.kind.replace(" ", "-")
    if kind == "contact":
        return [f'<path class="contact" d="{path}"/>']
    part = shape.part.replace(" ", "-")
    found = [f'<path class="part {state} is-{kind}" data-part="{part}" d="{path}"/>']
    return [*found, *lines(rings, shape.lean, state)]


def lines(rings: Sequence[Sequence[Point]], lean: int, state: str) -> list[str]:
    """Return the hatching of a state: single, single and broken, or crossed lines; none where uncut."""
    if lean == 0 or state == UNCHECKED:
        return []
    path = hatch(rings, lean, _SPACING[state])
    if state == "fails":
        path += hatch(rings, -lean, _SPACING[state])
    return [f'<path class="lines of-{state}" d="{path}"/>'] if path else []


def swatch(x: float, y: float, state: str) -> list[str]:
    """Return a small sample of a state, its lower left corner at a place."""
    ring = [(x, y - 14.0), (x + 30.0, y - 14.0), (x + 30.0, y), (x, y)]
    return [svg.polygon(ring, f"part {state}"), *lines([ring], 1, state)]
