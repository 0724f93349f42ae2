"""Charts of one rotor: coefficients over speed, loads along a blade, loads over the disc in flight."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from bladehold.report.disc import DiscLoads, disc_rows, furniture
from bladehold.report.render import GRID, INK, MUTED
from bladehold.report.rotor import assumed_sentences, calibration_sentence, left_out_sentences
from bladehold.sheet import Build
from bladehold.study.forward import ForwardFlight
from bladehold.study.performance import Performance
from bladehold.study.words import CAUTIONS, INVENTED, kgf, rpm

if TYPE_CHECKING:
    import altair

FloatArray = NDArray[np.float64]

_LINE, _MARK, _OUTSIDE, _SECOND = "#1f4e79", "#1f2d3a", "#b3402a", "#a5761c"
_WIDTH, _LETTERS = 480, 88  # pixels of a panel; letters of one line above it
_TITLE_SIZE, _TITLE_SHARE = 17, 0.62  # of the title: pixels of its letters, and of _LETTERS that fit a line
_DISC, _DISC_LETTERS = 420, 74  # pixels, the square the disc stands in
_ROOM = 46  # of them around the disc, for what is written beside it
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
        base: Any = alt.Chart(_inline(rows)).encode(x=x, y=y)
        mark: Any = alt.Chart(_inline([{"rpm": used}])).mark_rule(color=_MARK, strokeDash=[4, 3])
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
        *_left(found.solution.breaches),
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
        line: Any = alt.Chart(_inline(ends)).mark_area(
            line={"color": colour}, color=colour, opacity=0.18, interpolate="linear"
        )
        points: Any = alt.Chart(_inline(rows)).mark_point(filled=True, size=34, opacity=1, color=colour)
        rule: Any = alt.Chart(_inline([{"mm": 1e3 * pivot}])).mark_rule(color=_MARK, strokeDash=[4, 3])
        layers = [rule.encode(x=x), line.encode(x=x, y=y), points.encode(x=x, y=y, tooltip=tips)]
        if measured:
            ticks: Any = alt.Chart(_inline(measured)).mark_tick(color=_OUTSIDE, thickness=2, size=12)
            layers.append(ticks.encode(x=x, y=alt.value(174)))
        panels.append(alt.layer(*layers).properties(width=_WIDTH, height=180))
    notes = [
        f"One blade in hover at {kgf(build.flying.used_thrust)} kgf and "
        f"{rpm(float(hover.rotation_speed)):.0f} rpm; dots: stations of the model, dashed: the pivot.",
        *(["Red ticks: measured stations."] if measured else []),
        calibration_sentence(build),
        *assumed_sentences(build),
        *_left(hover.breaches),
    ]
    return _stacked(panels, f"{build.name}: loads along a blade", notes, build)


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
        base: Any = alt.Chart(_inline(rows)).mark_arc(strokeWidth=0.7)
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
    drawn: altair.VConcatChart = _titled(
        alt.vconcat(*panels), title, [*notes, _caution(invented)], _DISC_LETTERS
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
        *_left(solution.breaches),
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
    lines: Any = alt.Chart(_inline(found.lines)).mark_line(color=INK, strokeWidth=1.5)
    heads: Any = alt.Chart(_inline(found.heads)).mark_point(
        shape="triangle-up", filled=True, size=90, opacity=1, color=INK
    )
    words: Any = alt.Chart(_inline(found.words)).mark_text(color=INK, fontSize=12)
    return [
        lines.encode(x=x, y=y, detail="line:N", order="step:Q"),
        heads.encode(x=x, y=y, angle=alt.Angle("angle:Q", scale=None)),
        words.encode(x=x, y=y, text="text:N"),
    ]


def _stacked(panels: list[Any], title: str, notes: list[str], build: Build) -> altair.VConcatChart:
    import altair as alt

    stacked: altair.VConcatChart = _titled(
        alt.vconcat(*panels, spacing=12), title, [*notes, _caution(build.invented)], _LETTERS
    )
    return stacked


def _left(breaches: Sequence[str]) -> list[str]:
    """A note for every range the model has left."""
    return [f"! Range left: {text}" for text in breaches]


def _titled(chart: Any, title: str, notes: Sequence[str], letters: int) -> Any:
    """The chart under its title and notes, broken into lines; letters - of one line of the notes."""
    import textwrap

    import altair as alt

    heading = alt.TitleParams(
        textwrap.wrap(title, round(_TITLE_SHARE * letters)),
        subtitle=[line for note in notes for line in textwrap.wrap(note, letters)],
        anchor="start",
        color=INK,
        fontSize=_TITLE_SIZE,
        subtitleColor=MUTED,
        subtitleFontSize=12,
        subtitlePadding=6,
        offset=14,
    )
    return (
        chart.properties(title=heading, padding=16)
        .configure_view(stroke=GRID)
        .configure_axis(labelFontSize=12, titleFontSize=12, labelColor=INK, titleColor=INK, gridColor=GRID)
        .configure_legend(labelFontSize=12, labelColor=INK, titleColor=INK)
    )


def _caution(invented: bool) -> str:
    return " ".join([*([INVENTED] if invented else []), CAUTIONS[0]])


def _inline(values: list[dict[str, Any]]) -> Any:
    """Return rows as chart data; the charting library leaves this constructor untyped."""
    import altair as alt

    return alt.Data(values=values)  # type: ignore[no-untyped-call]
