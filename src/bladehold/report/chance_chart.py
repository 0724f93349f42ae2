"""Pictures of how likely failure is: by part with its bounds, and what makes the margin scatter."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from bladehold.report import chance as words
from bladehold.report.chart_frame import COLOURS, MARK, ROW, beside, inline
from bladehold.report.joint_charts import framed_of
from bladehold.report.render import MUTED
from bladehold.study.chance import BREAKS, SUPPORTED, YIELDS, Chance

if TYPE_CHECKING:
    import altair

WIDTH = 350
LEAST = 1e-12  # where the axis ends; what is rarer stands at its end
SHOWN = 10  # variables


def part_chart(found: Chance, allowed: float) -> altair.VConcatChart:
    """Return the probability of each part and event with its bounds, on a logarithmic axis."""
    import altair as alt

    order = [f"{part.part}: {part.event}" for part in found.parts]
    y, names = beside("name", order)
    rows, ends = [], []
    for part, name in zip(found.parts, order, strict=True):
        estimate = part.found.estimate
        none = words.nothing_reaches(part.found)
        at = LEAST if none else min(max(estimate.probability, LEAST), 1.0)
        rows.append(
            {"name": name, "event": part.event, "at": at, "said": words.probability_words(part.found)}
        )
        if not none:
            low, high = max(estimate.low, LEAST), max(min(estimate.high, 1.0), LEAST)
            ends.append({"name": name, "low": low, "high": high})
    scale = alt.Scale(type="log", domain=[LEAST, 1.0])
    axis = alt.Axis(
        title="probability in one flight", values=[10.0**power for power in range(-12, 1, 2)], format="~e"
    )
    x: Any = alt.X("at:Q", scale=scale, axis=axis)
    shape: Any = alt.Shape(
        "event:N", scale=alt.Scale(domain=[BREAKS, YIELDS], range=["circle", "triangle-up"])
    )
    shade: Any = alt.Color(
        "event:N", scale=alt.Scale(domain=[BREAKS, YIELDS], range=[COLOURS[1], COLOURS[0]])
    )
    legend = alt.Legend(title="the part", orient="bottom")
    marks: Any = alt.Chart(inline(rows))
    spans: Any = alt.Chart(inline(ends))
    layers = [
        *_bound(SUPPORTED, "supported down to here", x, left=allowed > SUPPORTED),
        *_bound(max(allowed, LEAST), "allowed", x, left=allowed <= SUPPORTED),
        spans.mark_rule(strokeWidth=3, color=MARK, opacity=0.5).encode(
            y=y, x=alt.X("low:Q", scale=scale), x2="high:Q"
        ),
        marks.mark_point(size=90, filled=True, opacity=1).encode(
            y=y, x=x, shape=shape.legend(legend), color=shade.legend(legend), tooltip=["name:N", "said:N"]
        ),
        marks.mark_text(align="left", dx=WIDTH + 8, fontSize=12, color=MARK).encode(
            y=y, x=alt.value(0), text="said:N"
        ),
        *names,
    ]
    chart = alt.layer(*layers).properties(width=WIDTH, height=ROW * len(order))
    notes = [words.headline(found, allowed), words.SCOPE, f"What the number is worth: {found.support}."]
    whole = framed_of(alt.vconcat(chart), "how likely a part fails", notes, found.build, ())
    return whole.properties(padding={"left": 16, "top": 16, "bottom": 16, "right": 30})


def _bound(at: float, said: str, x: Any, *, left: bool) -> list[Any]:
    """A line across the chart with its name above, on one side of it."""
    import altair as alt

    marks: Any = alt.Chart(inline([{"at": at, "said": said}]))
    side = {"align": "right", "dx": -4} if left else {"align": "left", "dx": 4}
    return [
        marks.mark_rule(strokeDash=[5, 3], color=MUTED).encode(x=x),
        marks.mark_text(fontSize=11, color=MUTED, baseline="bottom", **side).encode(
            x=x, y=alt.value(-4), text="said:N"
        ),
    ]


def driver_chart(found: Chance, allowed: float) -> altair.VConcatChart:
    """Return the variables that make the least margin scatter, with the bounds of their shares."""
    import altair as alt

    bounds = found.shares.total_bounds
    place = {variable.name: at for at, variable in enumerate(found.variables)}
    listed = [(name, share) for name, share in found.drivers[:SHOWN] if share >= 0.001]
    y, names = beside("name", [name for name, _ in listed])
    rows = [
        {
            "name": name,
            "alone": 100.0 * max(float(found.shares.first[place[name]]), 0.0),
            "total": 100.0 * share,
            "low": 100.0 * max(float(bounds[0, place[name]]), 0.0),
            "high": 100.0 * float(bounds[1, place[name]]),
        }
        for name, share in listed
    ]
    x: Any = alt.X("total:Q", scale=alt.Scale(domainMin=0.0)).axis(
        title="share of the variance of the least margin, %"
    )
    chart: Any = alt.Chart(inline(rows))
    layers = [
        chart.mark_bar(height=16, color=COLOURS[0], opacity=0.75).encode(
            y=y,
            x=x,
            tooltip=["name:N", alt.Tooltip("total:Q", format=".1f"), alt.Tooltip("alone:Q", format=".1f")],
        ),
        chart.mark_rule(strokeWidth=2, color=MARK).encode(y=y, x="low:Q", x2="high:Q"),
        *names,
    ]
    whole = alt.layer(*layers).properties(width=WIDTH, height=ROW * len(rows))
    notes = [
        words.headline(found, allowed),
        "Bars: share with all it acts together with; lines: bounds at 95 %. What is not shown adds less.",
    ]
    return framed_of(alt.vconcat(whole), "what makes the margin scatter", notes, found.build, ())
