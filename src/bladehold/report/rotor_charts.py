"""Charts of one rotor in hover: coefficients over speed, loads along a blade."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from bladehold.report.chart_frame import caution, inline, ranges_left, titled
from bladehold.report.rotor import assumed_sentences, calibration_sentence, left_out_sentences
from bladehold.sheet import Build
from bladehold.study.performance import Performance
from bladehold.study.words import kgf, rpm

if TYPE_CHECKING:
    import altair

_LINE, _MARK, _OUTSIDE, _SECOND = "#1f4e79", "#1f2d3a", "#b3402a", "#a5761c"
_WIDTH, LETTERS = 480, 94  # pixels of a panel; letters of one line above it
_COEFFICIENTS = (
    ("thrust_coefficient", "CT"),
    ("power_coefficient", "CP"),
    ("figure_of_merit", "figure of merit"),
)
_CONVENTION = "CT = T/(ρ n^2 D^4), CP = P/(ρ n^3 D^5), propeller convention; hover."
_INSIDE_RANGES, _LEFT_RANGES = "inside its ranges", "outside its ranges"


def performance_chart(found: Performance, build: Build) -> altair.VConcatChart:
    """Return CT, CP and figure of merit over speed; the speed of the thrust used is marked.

    Arguments: found - at as many speeds as the lines shall have points; build.
    """
    import altair as alt

    speed = [rpm(float(value)) for value in found.solution.rotation_speed]
    used = rpm(float(found.hover.rotation_speed))
    state = [_LEFT_RANGES if row else _INSIDE_RANGES for row in found.breaches]
    across = alt.X("rpm:Q", scale=alt.Scale(domain=[0.98 * speed[0], 1.02 * speed[-1]], nice=False))
    states = [_INSIDE_RANGES, _LEFT_RANGES]
    legend = alt.Legend(title="model", orient="bottom") if _LEFT_RANGES in state else None
    colour = alt.Color("state:N", scale=alt.Scale(domain=states, range=[_LINE, _OUTSIDE]), legend=legend)
    shape = alt.Shape("state:N", scale=alt.Scale(domain=states, range=["circle", "cross"]), legend=legend)
    panels = []
    for name, title in _COEFFICIENTS:
        values = getattr(found, name)
        rows = [
            {"rpm": x, "value": float(y), "state": s} for x, y, s in zip(speed, values, state, strict=True)
        ]
        last = name == _COEFFICIENTS[-1][0]
        x = across.axis(format="d", title="speed, rpm" if last else None, labels=last, tickCount=8)
        # from zero: coefficients that hardly change shall look so
        y = alt.Y("value:Q", title=title, scale=alt.Scale(zero=True, nice=True), axis=alt.Axis(tickCount=4))
        tips = [
            alt.Tooltip("rpm:Q", format=".0f", title="speed, rpm"),
            alt.Tooltip("value:Q", format=".4f", title=title),
            alt.Tooltip("state:N", title="model"),
        ]
        base: Any = alt.Chart(inline(rows)).encode(x=x, y=y)
        mark: Any = alt.Chart(inline([{"rpm": used}])).mark_rule(color=_MARK, strokeDash=[4, 3])
        rule = mark.encode(x=x)
        line = base.mark_line(color=_LINE)
        points = base.mark_point(filled=True, size=40, opacity=1).encode(
            color=colour, shape=shape, tooltip=tips
        )
        panels.append(alt.layer(rule, line, points).properties(width=_WIDTH, height=130))
    notes = [
        _CONVENTION,
        f"Dashed: {used:.0f} rpm, at which the rotor gives the {kgf(build.flying.used_thrust)} kgf used.",
        calibration_sentence(build),
        *assumed_sentences(build),
        *ranges_left(found.solution.breaches),
        *left_out_sentences(found),
    ]
    return _stacked(panels, f"{build.name}: the rotor over its speeds", notes, build)


def loading_chart(found: Performance, build: Build) -> altair.VConcatChart:
    """Return thrust and drag per metre of one blade in hover at the thrust used, with every station marked.

    Arguments: found; build. Drag is the load in the plane of turning, against the turning.
    """
    import altair as alt

    hover = found.hover
    radius, pivot, tip = hover.geometry.r, build.hub.pivot_radius, build.propeller.diameter / 2
    across = alt.X("mm:Q", scale=alt.Scale(domain=[0.0, 1e3 * tip], nice=False))
    measured = [{"mm": 1e3 * station.radius} for station in build.propeller.stations]
    panels = []
    loads = (("thrust, N/m", hover.normal_load, _LINE), ("drag, N/m", hover.tangential_load, _SECOND))
    for place, (title, load, colour) in enumerate(loads):
        rows = [
            {"mm": 1e3 * float(r), "load": float(v), "share": float(r / tip)}
            for r, v in zip(radius, load, strict=True)
        ]
        ends = [{"mm": 1e3 * pivot, "load": 0.0}, *rows, {"mm": 1e3 * tip, "load": 0.0}]
        last = place == len(loads) - 1
        x = across.axis(title="radius, mm" if last else None, labels=last, tickCount=8)
        y = alt.Y("load:Q", title=title, axis=alt.Axis(tickCount=5))
        tips = [
            alt.Tooltip("mm:Q", format=".0f", title="radius, mm"),
            alt.Tooltip("share:Q", format=".2f", title="r/R"),
            alt.Tooltip("load:Q", format=".3g", title=title),
        ]
        line: Any = alt.Chart(inline(ends)).mark_area(
            line={"color": colour}, color=colour, opacity=0.18, interpolate="linear"
        )
        points: Any = alt.Chart(inline(rows)).mark_point(filled=True, size=34, opacity=1, color=colour)
        rule: Any = alt.Chart(inline([{"mm": 1e3 * pivot}])).mark_rule(color=_MARK, strokeDash=[4, 3])
        layers = [rule.encode(x=x), line.encode(x=x, y=y), points.encode(x=x, y=y, tooltip=tips)]
        if measured:
            ticks: Any = alt.Chart(inline(measured)).mark_tick(color=_OUTSIDE, thickness=2, size=12)
            layers.append(ticks.encode(x=x, y=alt.value(174)))
        panels.append(alt.layer(*layers).properties(width=_WIDTH, height=180))
    notes = [
        f"One blade in hover at {kgf(build.flying.used_thrust)} kgf, "
        f"{rpm(float(hover.rotation_speed)):.0f} rpm; dots: stations of the model; dashed: the pivot.",
        *(["Red ticks: measured stations."] if measured else []),
        calibration_sentence(build),
        *assumed_sentences(build),
        *ranges_left(hover.breaches),
    ]
    return _stacked(panels, f"{build.name}: loads along a blade", notes, build)


def _stacked(panels: list[Any], title: str, notes: list[str], build: Build) -> altair.VConcatChart:
    import altair as alt

    stacked: altair.VConcatChart = titled(
        alt.vconcat(*panels, spacing=12), title, [*notes, caution(build.invented)], LETTERS
    )
    return stacked
