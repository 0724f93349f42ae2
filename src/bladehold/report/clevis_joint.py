"""Both views of a build's blade retention joint, in metres."""

from __future__ import annotations

from dataclasses import dataclass

from bladehold.report.clevis_plan import plan_of
from bladehold.report.clevis_section import section_of
from bladehold.report.clevis_shapes import Extent, Levels, Shape, Stroke, extent_of, levels_of
from bladehold.sheet import Build


@dataclass(frozen=True)
class Joint:
    """Shapes and strokes of both views in the order they are painted, heights, and what is seen along x.

    across - half of what the plan shows across the blade, m; hidden - mounting screws that it does not show.
    """

    section: tuple[Shape, ...]
    section_strokes: tuple[Stroke, ...]
    plan: tuple[Shape, ...]
    plan_strokes: tuple[Stroke, ...]
    levels: Levels
    extent: Extent
    across: float
    hidden: int


def joint_shapes(build: Build, half_contact: float) -> Joint:
    """Return what is drawn of a build; half_contact - half the length of the lug's contact, m."""
    levels, extent = levels_of(build), extent_of(build)
    section, section_strokes = section_of(build, levels, extent)
    plan, plan_strokes, across, hidden = plan_of(build, extent, half_contact)
    return Joint(section, section_strokes, plan, plan_strokes, levels, extent, across, hidden)
