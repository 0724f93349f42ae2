"""Where the joint's views lie on the page, and how large they are drawn."""

from __future__ import annotations

from dataclasses import dataclass

from bladehold.report.clevis_arrows import Arrows
from bladehold.report.clevis_joint import Joint
from bladehold.report.clevis_page import Axis, Point, broken_axis
from bladehold.study.assess import Assessment

COLUMN = 906.0  # where the list beside the views begins
ROW = 28.0  # of a dimension
_LEFT, _LOADS = 84.0, 160.0  # beside the views: on the left, and for the loads on the right
_LONGEST = 64.0  # arrow
_BREAK = 26.0  # width of a break, units


@dataclass(frozen=True)
class Sheet:
    """The drawing in the making: what is drawn, its scales (units per m and per N), where the views lie.

    section, plan - heights on the page of both views' middle lines; top, bottom - of the section;
    rows, plan_rows - of the first dimension below each view; labels - of the parts' names.
    """

    assessment: Assessment
    arrows: Arrows
    joint: Joint
    scale: float
    force: float
    axis: Axis
    section: float
    plan: float
    top: float
    bottom: float
    rows: float
    plan_rows: float
    labels: float

    def at(self, x: float, z: float) -> Point:
        """Return the place of a point of the section, m, on the page."""
        return self.axis(x), self.section - self.scale * z

    def seen(self, x: float, y: float) -> Point:
        """Return the place of a point of the plan, m, on the page."""
        most = self.joint.across
        return self.axis(x), self.plan - self.scale * min(max(y, -most), most)


def laid_out(assessment: Assessment, arrows: Arrows, joint: Joint, top: float, bottom: float) -> Sheet:
    """Return the sheet at the largest scale at which both views fit between top and bottom of the page."""
    heights = [z for shape in joint.section for ring in shape.rings for _, z in ring]
    high, low = max(heights), min(heights)
    kept = joint.extent.kept
    wide = COLUMN - _LEFT - _LOADS - 20.0 - _BREAK * (len(kept) - 1)
    rows = 2 if assessment.build.ties.screw is None else 3
    first = 20.0 + (_LONGEST if arrows.tension > 0.0 else 0.0)
    # Above the section names and an arrow, below it an arrow and rows of dimensions, below the plan two rows.
    over, between, under = 62.0 + _LONGEST, 24.0 + rows * ROW + first, 2 * ROW + 22.0
    room = bottom - top - over - between - under
    across = 2.0 * joint.across
    down = -low
    scale = min(wide / sum(b - a for a, b in kept), room / (high + down + across))
    spare = max(room - scale * (high + down + across), 0.0) / 3.0
    forces = (arrows.centrifugal, arrows.lift, arrows.upper, arrows.lower, arrows.tension)
    greatest = max(abs(force) for force in forces)
    used = scale * sum(b - a for a, b in kept) + _BREAK * (len(kept) - 1)
    start = _LEFT + max(0.0, (COLUMN - _LEFT - _LOADS - 20.0 - used) / 2.0)
    section = top + over + spare / 2 + scale * high
    foot = section + scale * down
    plan = foot + between + spare + scale * joint.across
    return Sheet(
        assessment=assessment,
        arrows=arrows,
        joint=joint,
        scale=scale,
        force=_LONGEST / greatest if greatest > 0.0 else 0.0,
        axis=broken_axis(kept, scale, start, _BREAK),
        section=section,
        plan=plan,
        top=section - scale * high,
        bottom=foot,
        rows=foot + first,
        plan_rows=plan + scale * joint.across + 26.0,
        labels=top + 18.0,
    )
