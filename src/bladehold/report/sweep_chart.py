"""Pictures of a sweep: lines over one key, a map over two, points over each of more."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from bladehold.cautions import CAUTIONS, INVENTED
from bladehold.report.chart_frame import COLOURS, MARK, inline, titled
from bladehold.report.render import MUTED
from bladehold.report.sweep import headline, sentences
from bladehold.study.sweep import GRID, Record, Swept

if TYPE_CHECKING:
    import altair

    from bladehold.sheet.vary import Axis

_LETTERS, _WIDTH, _PANEL = 84, 430, 240
_LINES = 6  # parts drawn over one key: those that come nearest to failing
_PANELS = 6  # keys drawn where there are more than two
_FARTHEST = 2.0  # margins beyond are drawn at the edge
STATES = (("does not hold", "#b3402a"), ("marginal", "#a5761c"), ("holds", "#4b7f3c"))
_SHADES = (("does not hold", "#e9b9ad"), ("marginal", "#f2dfb3"), ("holds", "#cfe0c8"), ("none", "#e6e6e6"))
_LABELLED = 15  # cells along a side of a map up to which the margins are written in


def sweep_chart(found: Swept, *, invented: bool) -> altair.VConcatChart:
    """Return the picture that fits the number of keys."""
    import altair as alt

    axes = found.sweep.axes
    if len(axes) == 1:
        panels = [_lines(found)]
    elif len(axes) == 2 and found.sweep.kind == GRID:
        panels = [_map(found)]
    else:
        every = [_points(found, effect.axis) for effect in found.effects[:_PANELS]]
        panels = [alt.hconcat(*every[start : start + 2]) for start in range(0, len(every), 2)]
    notes = [headline(found), *sentences(found)[:3]]
    if len(axes) > _PANELS:
        notes.append(f"Of {len(axes)} keys the {_PANELS} that move the margin most are drawn.")
    notes.append(" ".join([*([INVENTED] if invented else []), CAUTIONS[0]]))
    whole: altair.VConcatChart = titled(alt.vconcat(*panels), "Margins over a sweep", notes, _LETTERS)
    return whole


def _lines(found: Swept) -> Any:
    """The smallest margin of the parts that come nearest to failing, over one key."""
    import altair as alt

    axis = found.sweep.axes[0]
    least = {
        part: min(
            (record[f"margin: {part}"] for record in found.records if _has(record, part)), default=np.inf
        )
        for part in found.parts
    }
    parts = sorted(least, key=lambda part: least[part])[:_LINES]
    rows = [
        {
            "x": record[axis.title],
            "part": part,
            "margin": record[f"margin: {part}"],
            "at": min(record[f"margin: {part}"], _FARTHEST),
        }
        for record in found.records
        for part in parts
        if _has(record, part)
    ]
    colours = [*COLOURS, "#7a4f8f", MUTED][: len(parts)]
    x: Any = alt.X("x:Q", scale=alt.Scale(zero=False, nice=False)).axis(title=axis.words)
    y: Any = alt.Y("at:Q").axis(title=f"smallest margin (beyond {_FARTHEST:g} at the edge)")
    key = alt.Legend(title=None, orient="bottom", columns=3, labelLimit=0)
    base: Any = alt.Chart(inline(rows)).encode(
        x=x, y=y, color=alt.Color("part:N", scale=alt.Scale(domain=parts, range=colours), legend=key)
    )
    tips = [alt.Tooltip("x:Q", title=axis.words), "part:N", alt.Tooltip("margin:Q", format="+.3f")]
    zero: Any = alt.Chart(inline([{"at": 0.0}])).mark_rule(color=MARK, strokeWidth=1.5).encode(y="at:Q")
    layers = [zero, base.mark_line(strokeWidth=2), base.mark_point(filled=True, size=28).encode(tooltip=tips)]
    return alt.layer(*layers).properties(width=_WIDTH, height=280)


def _has(record: Record, part: str) -> bool:
    """Whether a part has a margin at a point; one of exactly zero is one."""
    return record.get(f"margin: {part}") is not None


def _map(found: Swept) -> Any:
    """The smallest margin over two keys, a field for every point."""
    import altair as alt

    one, two = found.sweep.axes
    rows = []
    for record in found.records:
        margin = record.get("margin")
        rows.append(
            {
                "x": f"{record[one.title]:.4g}",
                "y": f"{record[two.title]:.4g}",
                "said": "–" if margin is None else f"{min(margin, 9.99):+.2f}",
                "part": record.get("part", record["why"]),
                "state": record["state"] if margin is not None else "none",
            }
        )
    across = [f"{number:.4g}" for number in np.unique(found.sweep.numbers[:, 0])]
    down = [f"{number:.4g}" for number in np.unique(found.sweep.numbers[:, 1])[::-1]]
    shade: Any = alt.Color(
        "state:N",
        scale=alt.Scale(domain=[name for name, _ in _SHADES], range=[colour for _, colour in _SHADES]),
        legend=alt.Legend(title="smallest margin", orient="bottom", symbolStrokeColor=MUTED),
    )
    base: Any = alt.Chart(inline(rows)).encode(
        x=alt.X("x:N", sort=across, axis=alt.Axis(title=one.words, labelAngle=0, labelOverlap=True)),
        y=alt.Y("y:N", sort=down, axis=alt.Axis(title=two.words, labelOverlap=True)),
    )
    fields = base.mark_rect(stroke="#ffffff", strokeWidth=1).encode(
        color=shade, tooltip=["x:N", "y:N", "said:N", "part:N"]
    )
    few = max(len(across), len(down)) <= _LABELLED
    layers = [fields, *([base.mark_text(fontSize=11, color=MARK).encode(text="said:N")] if few else [])]
    width = max(_WIDTH, 40 * len(across)) if few else _WIDTH
    return alt.layer(*layers).properties(width=width, height=max(160, min(26 * len(down), 420)))


def _points(found: Swept, axis: Axis) -> Any:
    """The smallest margin at every point over one of several keys."""
    import altair as alt

    rows = [
        {"x": record[axis.title], "at": min(record["margin"], _FARTHEST), "state": record["state"]}
        for record in found.records
        if record.get("margin") is not None
    ]
    key = alt.Legend(title=None, orient="bottom")
    names = [name for name, _ in STATES]
    shade = alt.Color("state:N", scale=alt.Scale(domain=names, range=[c for _, c in STATES]), legend=key)
    x: Any = alt.X("x:Q", scale=alt.Scale(zero=False, nice=False)).axis(title=axis.words, tickCount=5)
    y: Any = alt.Y("at:Q").axis(title="smallest margin")
    marks: Any = alt.Chart(inline(rows)).mark_circle(size=18, opacity=0.6).encode(x=x, y=y, color=shade)
    zero: Any = alt.Chart(inline([{"at": 0.0}])).mark_rule(color=MARK, strokeWidth=1.5).encode(y="at:Q")
    return alt.layer(zero, marks).properties(width=_PANEL, height=180)
