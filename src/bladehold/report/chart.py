"""The range chart: present and needed pivot screws of a line of propellers, as SVG, PNG or HTML."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from bladehold.study.range_chart import RangeRow, row_as_dict
from bladehold.study.words import CAUTIONS, INVENTED
from bladehold.tables import thread_names

if TYPE_CHECKING:
    import altair

FORMATS = ("html", "svg", "png")

_INK, _MUTED = "#1f2d3a", "#5b6b7a"
_PRESENT_FAILS, _PRESENT_HOLDS = "#b3402a", "#2f6f4f"
_NEEDED = ("#1f4e79", "#7a5195", "#8a6d1d", "#3b7d8c")


def range_chart(rows: Sequence[RangeRow], classes: Sequence[str], *, invented: bool) -> altair.LayerChart:
    """Return the chart: size of propeller across, screw size up; what is fitted, what is needed."""
    import altair as alt

    data = [point for row in rows for point in _points(row, classes)]
    links = [link for row in rows for link in _links(row, classes)]
    order = [name for name in thread_names() if any(point["screw"] == name for point in data)]
    across = alt.X("diameter_in:Q", title="propeller diameter, inch", scale=alt.Scale(zero=False, padding=24))
    up = alt.Y("screw:N", sort=order[::-1], title="pivot screw", axis=alt.Axis(grid=True))
    kinds = ["fitted, fails", "fitted, holds", *(f"needed in {name}" for name in classes)]
    colours = [_PRESENT_FAILS, _PRESENT_HOLDS, *_NEEDED[: len(classes)]]
    shapes = ["cross", "circle", "square", "diamond", "triangle-up", "triangle-down"][: len(kinds)]
    key = alt.Legend(title=None, orient="bottom", columns=3, labelLimit=300)
    points = (
        alt.Chart(_inline(data))
        .mark_point(size=150, filled=True, opacity=1)
        .encode(
            x=across,
            y=up,
            color=alt.Color("kind:N", scale=alt.Scale(domain=kinds, range=colours), legend=key),
            shape=alt.Shape("kind:N", scale=alt.Scale(domain=kinds, range=shapes), legend=key),
            tooltip=[
                "name:N",
                "kind:N",
                "screw:N",
                "margin:N",
                "used:N",
                "claimed:N",
                "holds:N",
                "assumed:N",
            ],
        )
    )
    rules = (
        alt.Chart(_inline(links))
        .mark_line(strokeWidth=2, color=_MUTED, opacity=0.6)
        .encode(x=across, y=up, detail="name:N")
    )
    labels = (
        alt.Chart(_inline(_labels(rows, classes, order)))
        .mark_text(dy=-14, fontSize=11, color=_INK)
        .encode(x=across, y=up, text="name:N")
    )
    subtitle = [
        "At the thrust each is used at; unknown measures scaled from the base sheet.",
        *_footnotes(invented),
    ]
    title = alt.TitleParams(
        "The pivot screw each propeller needs", subtitle=subtitle, anchor="start", subtitleColor=_MUTED
    )
    chart = alt.layer(rules, points, labels).properties(width=640, height=340, title=title)
    styled: altair.LayerChart = chart.configure_view(stroke="#c8d0d8").configure_axis(
        labelFontSize=12, titleFontSize=12
    )
    return styled


def _inline(values: list[dict[str, Any]]) -> Any:
    """Return rows as chart data; the charting library leaves this constructor untyped."""
    import altair as alt

    return alt.Data(values=values)  # type: ignore[no-untyped-call]


def _footnotes(invented: bool) -> list[str]:
    return [*([INVENTED] if invented else []), CAUTIONS[0]]


def _points(row: RangeRow, classes: Sequence[str]) -> list[dict[str, Any]]:
    plain = row_as_dict(row)
    fails = row.present_margin is None or row.present_margin < 0
    common = {
        "name": row.name,
        "diameter_in": plain["diameter_in"],
        "margin": "does not fit"
        if row.present_margin is None
        else f"{row.present_margin:+.2f} with {row.present_screw}",
        "used": f"{plain['used_thrust_kgf']} kgf used",
        "claimed": f"{plain['claimed_thrust_kgf']} kgf claimed",
        "holds": f"{plain['held_thrust_kgf']} kgf held by {row.present_screw}",
        "assumed": f"scaled: {plain['assumed'] or 'nothing'}",
    }
    points = [{**common, "screw": row.present_screw, "kind": "fitted, fails" if fails else "fitted, holds"}]
    needed = ((name, row.needed[name]) for name in classes)
    return points + [{**common, "screw": size, "kind": f"needed in {name}"} for name, size in needed if size]


def _links(row: RangeRow, classes: Sequence[str]) -> list[dict[str, Any]]:
    """The line from the fitted screw to the largest needed one."""
    sizes = [row.needed[name] for name in classes if row.needed[name]]
    place = row.diameter / 0.0254
    return [{"name": row.name, "diameter_in": place, "screw": size} for size in (row.present_screw, *sizes)]


def _labels(rows: Sequence[RangeRow], classes: Sequence[str], order: Sequence[str]) -> list[dict[str, Any]]:
    """The name of each propeller above its topmost point."""
    labels = []
    for row in rows:
        sizes = [row.present_screw, *(size for size in row.needed.values() if size)]
        top = max((size for size in sizes if size in order), key=order.index)
        labels.append({"name": row.name, "diameter_in": row.diameter / 0.0254, "screw": top})
    return labels


def render(chart: altair.LayerChart, kind: str) -> bytes:
    """Return the chart as a file of one of FORMATS; the HTML works without a network."""
    if kind == "html":
        return chart.to_html(inline=True).encode()
    import vl_convert

    if kind == "svg":
        return str(vl_convert.vegalite_to_svg(chart.to_json())).encode()
    return bytes(vl_convert.vegalite_to_png(chart.to_json(), scale=2))
