"""The map of how far a loose blade can fly: rings to scale about the aircraft and the test stand."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from bladehold.report.chart_frame import (
    COLOURS,
    MARK,
    caution,
    inline,
    looks,
    ranges_left,
    titled,
)
from bladehold.report.render import MUTED
from bladehold.study.release import BOUNDS, STAND, STAND_OFF, ReleaseAnswer, Throw
from bladehold.study.words import rpm

if TYPE_CHECKING:
    import altair

PANEL, LETTERS = 290, 158  # pixels of a square map; letters of one line above them
_ROOM = 1.12  # half the width of a map over its widest ring
_TURN = 61  # points of a ring


def throw_chart(found: ReleaseAnswer) -> altair.VConcatChart:
    """Return a map for each place a blade is thrown from, its centre the rotor, seen from above.

    A ring is the farthest a blade lands with one bound of the air's drag, in whatever direction it leaves.
    Every map has one scale for both of its axes, and its own.
    """
    import altair as alt

    names = list(BOUNDS)
    look = looks("bound:N", names, COLOURS[: len(names)], legend="farthest landing", area=True, columns=3)
    maps = [_map(throw, look, found.stand_off if throw.place == STAND else None) for throw in found.throws]
    chart: altair.VConcatChart = titled(
        alt.vconcat(alt.hconcat(*maps, spacing=18)), _title(found), _notes(found), LETTERS
    )
    return chart


def _title(found: ReleaseAnswer) -> str:
    return f"{found.build.name}: how far a loose blade can fly"


def _notes(found: ReleaseAnswer) -> list[str]:
    build = found.build
    exceeded = [f"{one.figure.value:g} {one.figure.unit}" for one in found.against if one.exceeded]
    keys = [item.key for item in build.loss_assumptions if item.key.startswith(("flying.", "bench."))]
    return [
        f"At {rpm(found.fastest):.0f} rpm the blade of {1e3 * found.mass:.3g} g leaves with "
        f"{found.speed:.3g} m/s; it carries {found.translation:.3g} J and {found.rotation:.2g} J more of "
        f"turning: a barrier takes {found.barrier:.3g} J, {found.rotor:.3g} J of the whole rotor.",
        *([f"Exceeded: {', '.join(exceeded)} (published figures of injury)."] if exceeded else []),
        f"Stand-off for tests {found.stand_off:.3g} m: {STAND_OFF}",
        "Edge first and tumbling bound the drag of a blade that flies without lift, in still air over level "
        "ground.",
        *(f"Unconfirmed: {source}." for source in found.unconfirmed),
        *([f"Assumed: {', '.join(keys)}."] if keys else []),
        *ranges_left(found.breaches),
        caution(build.invented),
    ]


def _map(throw: Throw, look: dict[str, Any], stand_off: float | None) -> Any:
    """Rings of one place; stand_off - m, where it is drawn too."""
    import altair as alt

    widest = max(float(throw.distance.max()), stand_off or 0.0) * _ROOM
    scale = alt.Scale(domain=[-widest, widest], nice=False)
    x = alt.X("east:Q", scale=scale).axis(title="m", tickCount=5, format="d")
    y = alt.Y("north:Q", scale=scale).axis(title=None, tickCount=5, format="d")
    turn = np.linspace(0.0, 2.0 * np.pi, _TURN)
    rings = [
        {
            "bound": name,
            "step": step,
            "east": round(float(distance * np.cos(way)), 2),
            "north": round(float(distance * np.sin(way)), 2),
            "distance": round(float(distance), 1),
        }
        for name, distance in zip(BOUNDS, throw.distance, strict=True)
        for step, way in enumerate(turn)
    ]
    tips = [alt.Tooltip("bound:N"), alt.Tooltip("distance:Q", format=".3g", title="distance, m")]
    lines: Any = alt.Chart(inline(rings)).mark_line()
    centre: Any = alt.Chart(inline([{"east": 0.0, "north": 0.0}]))
    layers = [
        lines.encode(x=x, y=y, order="step:Q", color=look["color"], strokeDash=look["dash"], tooltip=tips),
        centre.mark_point(shape="cross", size=70, color=MARK, filled=True, opacity=1).encode(x=x, y=y),
    ]
    if stand_off is not None:
        far = [
            {
                "step": s,
                "east": round(float(stand_off * np.cos(w)), 2),
                "north": round(float(stand_off * np.sin(w)), 2),
            }
            for s, w in enumerate(turn)
        ]
        ring: Any = alt.Chart(inline(far)).mark_line(color=MARK, strokeWidth=1)
        layers.append(ring.encode(x=x, y=y, order="step:Q"))
    return alt.layer(*layers).properties(width=PANEL, height=PANEL, title=_heading(throw, stand_off))


def _heading(throw: Throw, stand_off: float | None) -> Any:
    """Title of one map with its distances, as rings may lie too close together for words beside them."""
    import altair as alt

    landed = zip(BOUNDS, map(float, throw.distance), strict=True)
    lines = [", ".join(f"{name} {distance:.3g} m" for name, distance in landed)]
    if stand_off is not None:
        lines.append(f"thin line: stand-off {stand_off:.3g} m")
    return alt.TitleParams(
        f"{throw.place}, {throw.height:.3g} m up, {throw.speed:.3g} m/s",
        subtitle=lines,
        subtitleColor=MUTED,
        fontSize=13,
        anchor="start",
        frame="group",
        color=MARK,
    )
