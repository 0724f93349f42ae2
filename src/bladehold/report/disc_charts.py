"""Maps of loads over the disc of a rotor, seen from above."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from bladehold.report.chart_frame import caution, inline, ranges_left, titled
from bladehold.report.disc import DiscLoads, disc_rows, furniture
from bladehold.report.render import INK
from bladehold.report.rotor import assumed_sentences, calibration_sentence
from bladehold.sheet import Build
from bladehold.study.forward import ForwardFlight
from bladehold.study.words import kgf, rpm

if TYPE_CHECKING:
    import altair

DISC_LETTERS = 74  # of one line above a map
_DISC = 420  # pixels, the square the disc stands in
_ROOM = 46  # of them around the disc, for what is written beside it


def disc_chart(
    loads: Sequence[DiscLoads], title: str, notes: Sequence[str], *, invented: bool, clockwise: bool = False
) -> altair.VConcatChart:
    """Return maps over the disc seen from above, flight towards the top of the page.

    Every map shows the way of flight, the sense of turning and the advancing side; one colour means the
    same load in all of them.
    Arguments: loads - maps of one unit; title, notes - above them; invented - whether the sheet is;
    clockwise - turning seen from above, else counterclockwise.
    """
    import altair as alt

    units = {part.unit for part in loads}
    if len(units) != 1:
        raise ValueError(f"maps of one picture share their colours, so also their unit, not {sorted(units)}")
    low = min(float(part.value.min()) for part in loads)
    high = max(float(part.value.max()) for part in loads)
    scale = (
        alt.Scale(scheme="purpleorange", domainMid=0.0, domain=[low, high], reverse=True)
        if low < 0.0
        else alt.Scale(scheme="viridis", domain=[low, high])
    )
    legend = alt.Legend(orient="bottom", type="symbol", titleLimit=_DISC)
    colour = alt.Color("value:Q", title=loads[0].unit, scale=scale, legend=legend)
    panels = []
    for part in loads:
        rows = disc_rows(part, clockwise=clockwise)
        tips = [
            alt.Tooltip("azimuth:Q", format=".0f", title="azimuth, deg"),
            alt.Tooltip("radius:Q", format=".0f", title="radius, mm"),
            alt.Tooltip("value:Q", format=".4g", title=part.unit),
        ]
        angle = alt.Scale(domain=[0.0, 2.0 * np.pi], range=[0.0, 2.0 * np.pi])
        reach = alt.Scale(domain=[0.0, 1.0], range=[0.0, _DISC / 2 - _ROOM])
        base: Any = alt.Chart(inline(rows)).mark_arc(strokeWidth=0.7)
        cells = base.encode(
            theta=alt.Theta("begin:Q", scale=angle, stack=None),
            theta2="end:Q",
            radius=alt.Radius("inner:Q", scale=reach, stack=None),
            radius2="outer:Q",
            color=colour,
            stroke=alt.Stroke("value:Q", scale=scale, legend=None),  # no pale seams between the cells
            tooltip=tips,
        )
        disc: Any = alt.layer(cells, *_drawn(clockwise=clockwise))
        panels.append(disc.properties(width=_DISC, height=_DISC, title=alt.TitleParams(part.name, color=INK)))
    drawn: altair.VConcatChart = titled(
        alt.vconcat(*panels), title, [*notes, caution(invented)], DISC_LETTERS
    )
    return drawn


def forward_chart(build: Build, found: ForwardFlight) -> altair.VConcatChart:
    """Return maps of the thrust per disc area in fast flight, one for each condition.

    What a place of the disc carries on average: B blades pass it in every turn, thrust per area is
    B dT/dr / (2 pi r).
    """
    solution = found.solution
    geometry = solution.geometry
    clockwise = solution.spin < 0
    per_area = solution.blades * solution.normal_load / (2.0 * np.pi * geometry.r)
    maps = [
        DiscLoads(
            name,
            "thrust per area, N/m²",
            geometry.r,
            geometry.hub_radius,
            geometry.radius,
            solution.azimuth,
            per_area[place],
        )
        for place, name in enumerate(found.names)
    ]
    notes = [
        *(_flown(found, place) for place in range(len(found.names))),
        f"Drawn for a rotor that turns {'clockwise' if clockwise else 'counterclockwise'}; the other sense "
        "is the mirror image. Blades do not flap.",
        calibration_sentence(build),
        *assumed_sentences(build),
        *ranges_left(solution.breaches),
    ]
    title = f"{build.name}: thrust over the disc"
    return disc_chart(maps, title, notes, invented=build.invented, clockwise=clockwise)


def _flown(found: ForwardFlight, place: int) -> str:
    """One condition in words."""
    solution = found.solution
    speed, edge = rpm(float(solution.rotation_speed[place])), float(solution.edge_velocity[place])
    return (
        f"{found.names[place].capitalize()}: {kgf(float(solution.thrust[place]))} kgf at {speed:.0f} rpm, "
        f"{edge:.0f} m/s along the disc (advance ratio {float(solution.advance_ratio[place]):.2f}); reverse "
        f"flow on {float(solution.reverse_share[place]):.0%} of the disc, "
        f"{float(solution.stalled_share[place]):.0%} of the retreating blade beyond stall."
    )


def _drawn(*, clockwise: bool) -> list[Any]:
    """The layers that say which way is forward, how the rotor turns, and which side advances."""
    import altair as alt

    found = furniture(clockwise=clockwise)
    flat = alt.Scale(domain=[-1.0, 1.0], range=[0.0, _DISC], nice=False)
    up = alt.Scale(domain=[-1.0, 1.0], range=[_DISC, 0.0], nice=False)
    x, y = alt.X("x:Q", scale=flat, axis=None), alt.Y("y:Q", scale=up, axis=None)
    lines: Any = alt.Chart(inline(found.lines)).mark_line(color=INK, strokeWidth=1.5)
    heads: Any = alt.Chart(inline(found.heads)).mark_point(
        shape="triangle-up", filled=True, size=90, opacity=1, color=INK
    )
    words: Any = alt.Chart(inline(found.words)).mark_text(color=INK, fontSize=12)
    return [
        lines.encode(x=x, y=y, detail="line:N", order="step:Q"),
        heads.encode(x=x, y=y, angle=alt.Angle("angle:Q", scale=None)),
        words.encode(x=x, y=y, text="text:N"),
    ]
