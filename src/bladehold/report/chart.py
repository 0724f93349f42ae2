"""The range chart: present and needed pivot screws of a line of propellers, as SVG, PNG or HTML.

Two panels share one column per propeller. Above: the screw that is fitted and the screw each property
class would need. Below: the thrust the maker claims, the thrust used, the thrust the fitted screw holds.
"""

from __future__ import annotations

import math
import textwrap
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from bladehold.cautions import CAUTIONS, INVENTED
from bladehold.report.render import GRID, INK, MUTED, PALE
from bladehold.study.range_chart import BAND_NOTE, SCALING, RangeRow, row_as_dict
from bladehold.tables import thread_names

if TYPE_CHECKING:
    import altair

_BAND = "#8a9aa8"
_FAILS, _HOLDS, _USED = "#b3402a", "#2f6f4f", "#1f2d3a"
_NEEDED = ("#1f4e79", "#7a5195", "#a5761c", "#3b8ea5")
_NEEDED_SHAPES = ("square", "diamond", "triangle-up", "triangle-down")
_DASH = "M-1,-0.2L1,-0.2L1,0.2L-1,0.2Z"
_NONE = "none holds"
_NO_MARK = "No mark for “held”: the margin stays above zero at all thrusts tried, or the screw does not fit."
_LETTERS = 120  # of one line of the notes
_SLOT, _LEAST_COLUMN, _BAND_SHARE = 16, 78, 0.87  # pixels per mark and per propeller; band over column
_TIPS = ("name", "what", "screw", "margin", "used", "claimed", "holds", "assumed")


def range_chart(rows: Sequence[RangeRow], classes: Sequence[str], *, invented: bool) -> altair.VConcatChart:
    """Return the chart: a column per propeller, smallest first; screws above, thrusts below.

    Arguments: rows; classes - property classes the rows were sized in; invented - whether the base is.
    """
    import altair as alt

    ordered = sorted((row for row in rows if not row.why), key=lambda row: row.diameter)
    out = [row.name for row in rows if row.why]
    columns = [_column(place, row) for place, row in enumerate(ordered)]
    width = max(_SLOT * (len(classes) + 2), _LEAST_COLUMN)
    subtitle = [
        "Above: pivot screw fitted, and smallest that holds at the thrust used, by property class.",
        "Below: thrust per rotor; “held” is the steady thrust at which the fitted screw's margin is zero.",
        *([_NO_MARK] if any(not math.isfinite(row.held_thrust) for row in ordered) else []),
        *(textwrap.wrap(f"Not computed, and not drawn: {', '.join(out)}.", _LETTERS) if out else []),
        SCALING,
        *textwrap.wrap(BAND_NOTE, _LETTERS),
        " ".join([*([INVENTED] if invented else []), CAUTIONS[0]]),
    ]
    title = alt.TitleParams(
        "The pivot screw each propeller needs",
        subtitle=subtitle,
        anchor="start",
        color=INK,
        fontSize=17,
        subtitleColor=MUTED,
        subtitleFontSize=11,
        subtitlePadding=6,
        offset=14,
    )
    panels = alt.vconcat(
        _screws(ordered, columns, classes, width), _thrusts(ordered, columns, width), spacing=18, title=title
    )
    styled: altair.VConcatChart = (
        panels.resolve_scale(color="independent", shape="independent")
        .configure_view(stroke=None)
        .configure_axis(
            labelFontSize=12,
            titleFontSize=12,
            labelColor=INK,
            titleColor=INK,
            titlePadding=10,
            gridColor=GRID,
            domainColor=PALE,
            tickColor=PALE,
        )
        .configure_legend(labelFontSize=12, labelColor=INK, symbolSize=110, rowPadding=6)
        .properties(padding=16)
    )
    return styled


def _column(place: int, row: RangeRow) -> str:
    """The key of one column: its place, which makes it unique, then the lines of its label."""
    return f"{place}\n{row.name}\n{row.diameter / 0.0254:.3g} in"


def _across(columns: Sequence[str], *, labels: bool) -> Any:
    """The shared axis; only the lower panel is labelled."""
    import altair as alt

    axis = alt.Axis(
        labels=labels,
        ticks=False,
        labelAngle=0,
        labelPadding=8,
        labelExpr=r"slice(split(datum.label, '\n'), 1)",
        title=None,
    )
    return alt.X(
        "column:N", sort=list(columns), axis=axis, scale=alt.Scale(paddingInner=0.15, paddingOuter=0.1)
    )


def _screws(rows: Sequence[RangeRow], columns: Sequence[str], classes: Sequence[str], width: int) -> Any:
    """The upper panel: screws fitted and needed, side by side in each column."""
    import altair as alt

    points = [
        point for row, column in zip(rows, columns, strict=True) for point in _points(row, column, classes)
    ]
    ends = [end or _NONE for row in rows for band in row.band.values() for end in band]
    met = {*(point["screw"] for point in points), *ends}
    sizes = [size for size in (*thread_names(), _NONE) if size in met]
    kinds = {
        "fitted, fails": (_FAILS, "cross"),
        "fitted, holds": (_HOLDS, "circle"),
        **{
            f"needed in {name}": (_NEEDED[k % 4], _NEEDED_SHAPES[(k + k // 4) % 4])
            for k, name in enumerate(classes)
        },
    }
    shown = [kind for kind in kinds if any(point["what"] == kind for point in points)]
    colour, shape = _coding([(kind, *kinds[kind]) for kind in shown])
    marks: Any = (
        alt.Chart(_inline(points))
        .mark_point(size=120, filled=True, opacity=1)
        .encode(
            x=_across(columns, labels=False),
            xOffset=alt.XOffset("slot:N", sort=["fitted", *classes]),
            y=alt.Y(
                "screw:N",
                scale=alt.Scale(domain=sizes[::-1]),
                title="pivot screw",
                axis=alt.Axis(grid=True, ticks=False),
            ),
            color=colour,
            shape=shape,
            tooltip=[f"{name}:N" for name in _TIPS],
        )
    )
    spans = [span for row, column in zip(rows, columns, strict=True) for span in _spans(row, column, classes)]
    ranges: Any = (
        alt.Chart(_inline(spans))
        .mark_rule(strokeWidth=7, strokeCap="round", opacity=0.35)
        .encode(
            x=_across(columns, labels=False),
            xOffset=alt.XOffset("slot:N", sort=["fitted", *classes]),
            y=alt.Y("low:N", scale=alt.Scale(domain=sizes[::-1]), title="pivot screw"),
            y2="high:N",
            color=colour,
        )
    )
    panel = alt.layer(_bands(columns, width, labels=False), ranges, marks)
    return panel.properties(width=width * len(rows), height=34 * max(len(sizes), 3))


def _thrusts(rows: Sequence[RangeRow], columns: Sequence[str], width: int) -> Any:
    """The lower panel: thrust claimed as a bar, thrust used as a tick, thrust held as a mark."""
    import altair as alt

    points = [point for row, column in zip(rows, columns, strict=True) for point in _forces(row, column)]
    kinds = [
        ("claimed by the maker", PALE, "square"),
        ("used", _USED, _DASH),
        ("held, less than used", _FAILS, "cross"),
        ("held", _HOLDS, "circle"),
    ]
    shown = [kind for kind in kinds if any(point["what"] == kind[0] for point in points)]
    colour, shape = _coding(shown)
    across = _across(columns, labels=True)
    up = alt.Y("kgf:Q", title="thrust, kgf", axis=alt.Axis(grid=True, ticks=False, tickCount=6))
    tips = [f"{name}:N" for name in (*_TIPS[:2], *_TIPS[3:])]

    def of(*names: str) -> Any:
        return alt.Chart(_inline([point for point in points if point["what"] in names]))

    bars = of("claimed by the maker").mark_bar(size=34).encode(x=across, y=up, color=colour, tooltip=tips)
    used = (
        of("used")
        .mark_tick(thickness=3, size=48, opacity=1)
        .encode(x=across, y=up, color=colour, tooltip=tips)
    )
    held = (
        of("held, less than used", "held")
        .mark_point(size=120, filled=True, opacity=1)
        .encode(x=across, y=up, color=colour, shape=shape, tooltip=tips)
    )
    panel = alt.layer(_bands(columns, width, labels=True), bars, used, held)
    return panel.properties(width=width * len(rows), height=190)


def _bands(columns: Sequence[str], width: int, *, labels: bool) -> Any:
    """A pale band behind every column, so that the marks of one propeller are seen together."""
    import altair as alt

    chart = alt.Chart(_inline([{"column": column} for column in columns]))
    band = chart.mark_rect(color=_BAND, opacity=0.1, width=_BAND_SHARE * width)
    return band.encode(x=_across(columns, labels=labels))


def _coding(kinds: Sequence[tuple[str, str, str]]) -> tuple[Any, Any]:
    """Colour and shape by what a mark stands for, with one legend for both at the right."""
    import altair as alt

    names = [name for name, _, _ in kinds]
    legend = alt.Legend(title=None, orient="right", labelLimit=300, symbolOpacity=1)
    colour = alt.Color("what:N", scale=alt.Scale(domain=names, range=[c for _, c, _ in kinds]), legend=legend)
    shape = alt.Shape("what:N", scale=alt.Scale(domain=names, range=[s for _, _, s in kinds]), legend=legend)
    return colour, shape


def _inline(values: list[dict[str, Any]]) -> Any:
    """Return rows as chart data; the charting library leaves this constructor untyped."""
    import altair as alt

    return alt.Data(values=values)  # type: ignore[no-untyped-call]


def _common(row: RangeRow, column: str) -> dict[str, Any]:
    """What every mark of a propeller says when pointed at."""
    plain = row_as_dict(row)
    fits = row.present_margin is not None
    held = plain["held_thrust_kgf"] if fits else 0
    return {
        "column": column,
        "name": f"{row.name}, {plain['diameter_in']:g} in",
        "margin": f"{row.present_margin:+.2f} with {row.present_screw}" if fits else "does not fit",
        "used": f"{plain['used_thrust_kgf']} kgf used",
        "claimed": f"{plain['claimed_thrust_kgf']} kgf claimed",
        "holds": "no limit found" if held is None else f"{held} kgf held by {row.present_screw}",
        "assumed": f"scaled: {plain['assumed'] or 'nothing'}",
    }


def _points(row: RangeRow, column: str, classes: Sequence[str]) -> list[dict[str, Any]]:
    """The marks of the upper panel: the fitted screw, and for each class the smallest that holds."""
    common = _common(row, column)
    fitted = {
        **common,
        "slot": "fitted",
        "screw": row.present_screw,
        "what": "fitted, holds" if row.holds else "fitted, fails",
    }
    needed = [
        {**common, "slot": name, "screw": row.needed[name] or _NONE, "what": f"needed in {name}"}
        for name in classes
    ]
    return [fitted, *needed]


def _spans(row: RangeRow, column: str, classes: Sequence[str]) -> list[dict[str, Any]]:
    """The bands of the upper panel: from the favourable to the pessimistic end of what was scaled."""
    return [
        {
            "column": column,
            "slot": name,
            "low": row.band[name][0] or _NONE,
            "high": row.band[name][1] or _NONE,
            "what": f"needed in {name}",
        }
        for name in classes
    ]


def _forces(row: RangeRow, column: str) -> list[dict[str, Any]]:
    """The marks of the lower panel; a thrust that is not known has none."""
    common, plain = _common(row, column), row_as_dict(row)
    held = plain["held_thrust_kgf"]
    short = held is not None and row.held_thrust < row.used_thrust
    marks = [("claimed by the maker", plain["claimed_thrust_kgf"]), ("used", plain["used_thrust_kgf"])]
    if held is not None:
        marks.append(("held, less than used" if short else "held", held))
    return [{**common, "what": what, "kgf": value} for what, value in marks]
