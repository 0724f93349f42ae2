"""Margins by part, drawn: the smallest of strength and of fatigue, weakest part first."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from bladehold.report.chart_frame import MARK, ROW, beside, inline
from bladehold.report.flight_charts import STATES
from bladehold.report.joint_charts import WIDTH, framed_of
from bladehold.report.terminal import state_of
from bladehold.study.assess import Assessment
from bladehold.study.checks import FATIGUE
from bladehold.study.record import Check

if TYPE_CHECKING:
    import altair

_FARTHEST = 2.0  # margins beyond are drawn at the edge
_ROOM = 0.75  # of a margin, beside the bars for their words
STRENGTH = "strength or setting"


def margin_chart(found: Assessment) -> altair.VConcatChart:
    """Return the smallest margin of every part as bars from zero, of strength and, thinner, of fatigue."""
    import altair as alt

    rows = list(_rows(found))
    order = list(dict.fromkeys(row["part"] for row in rows))
    y, words = beside("part", order)
    low = min(-0.5, *(row["at"] for row in rows)) - 0.1
    x: Any = alt.X("at:Q", scale=alt.Scale(domain=[low, _FARTHEST + _ROOM], nice=False)).axis(
        title=f"smallest margin (beyond {_FARTHEST:g} at the edge)",
        values=[value for value in (-1.0, -0.5, 0.0, 0.5, 1.0, 1.5, 2.0) if value >= low],
    )
    names = [words for words, _ in STATES.values()]
    colour = alt.Color(
        "state:N",
        scale=alt.Scale(domain=names, range=[shade for _, shade in STATES.values()]),
        legend=alt.Legend(title=None, orient="bottom", symbolStrokeColor=MARK, symbolStrokeWidth=1),
    )
    layers: list[Any] = []
    for kind, shift, thick in ((STRENGTH, -8, 14), (FATIGUE, 9, 8)):
        base: Any = alt.Chart(inline([row for row in rows if row["kind"] == kind])).encode(y=y)
        bars = base.mark_bar(size=thick, yOffset=shift, stroke=MARK, strokeWidth=0.8)
        layers.append(
            bars.encode(
                x=x,
                x2=alt.datum(0.0),
                color=colour,
                tooltip=["part:N", "said:N", alt.Tooltip("how:N", title="check"), "condition:N"],
            )
        )
        said = base.mark_text(align="left", dx=5, dy=shift, color=MARK, fontSize=11)
        layers.append(said.encode(x=alt.X("end:Q"), text="said:N"))
    zero: Any = alt.Chart(inline([{"at": 0.0}])).mark_rule(color=MARK, strokeWidth=1.5).encode(x="at:Q")
    chart = alt.layer(*layers, zero, *words).properties(width=WIDTH, height=(ROW + 4) * max(len(order), 2))
    notes = [
        "Thick bars: strength and setting; thin ones: fatigue, as the share by which all loads could grow "
        "until the part just lasts its service life.",
    ]
    return framed_of(alt.vconcat(chart), "smallest margin of every part", notes, found.build, ())


def _rows(found: Assessment) -> Iterator[dict[str, Any]]:
    """The weakest check of every part, and its weakest of fatigue, in the order of the weakest parts."""
    worst = found.by_part()
    tired: dict[str, Check] = {}
    for one in found.checks:
        if one.level == FATIGUE:
            tired.setdefault(one.part, one)
    for part in dict.fromkeys([*worst, *tired]):
        both = ((STRENGTH, worst.get(part)), (FATIGUE, tired.get(part)))
        for kind, check in ((kind, one) for kind, one in both if one is not None):
            at = min(check.margin, _FARTHEST) if math.isfinite(check.margin) else _FARTHEST
            state, _ = STATES[state_of(check.margin, found.build.policy.marginal)]
            number = f"{check.margin:+.2f}" if math.isfinite(check.margin) else "no damage"
            said = number if kind == STRENGTH else f"fatigue {number}"
            yield {
                "part": part,
                "kind": kind,
                "at": at,
                "end": max(at, 0.0),
                "state": state,
                "said": said,
                "how": f"{check.mode} ({check.level})",
                "condition": check.condition,
            }
