"""How tight the pivot may be, drawn: friction over temperature, and the torque each construction allows."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from bladehold.report.chart_frame import BESIDE, COLOURS, MARK, ROW, beside, inline, looks, panel_title
from bladehold.report.joint_charts import framed
from bladehold.report.joint_words import (
    KELVIN,
    celsius,
    crew_sentence,
    setting_sentence,
    tightness_sentence,
)
from bladehold.report.render import MUTED
from bladehold.study import JointAnswer
from bladehold.study.tightness import Bound, Tightness, Way

if TYPE_CHECKING:
    import altair

_LINE, _BAD, _GOOD, _SECOND = COLOURS
STEPS = 42  # of the temperature along the band


def tightness_chart(found: JointAnswer) -> altair.VConcatChart:
    """Return the friction moment over temperature against its bounds, and the torque windows below.

    Errors: ValueError where no tightness is asked for.
    """
    import altair as alt

    tight = found.tightness
    if tight is None:
        raise ValueError("the blades do not fold or nothing clamps the pivot: there is no tightness to draw")
    panels = [_moments(tight), _windows(tight)]
    notes = [
        tightness_sentence(found),
        *([text] if (text := setting_sentence(found)) else []),
        crew_sentence(found),
        *_shown(tight, found),
        f"Windows: of a torque set at {celsius(tight.temperatures[1])} that serves at all temperatures for a "
        "year; by season, of the season with the narrowest.",
    ]
    whole = alt.vconcat(*panels, spacing=24).resolve_scale(
        color="independent", strokeDash="independent", shape="independent"
    )
    return framed(whole, "how tight the pivot may be", notes, found)


def _shown(tight: Tightness, found: JointAnswer) -> list[str]:
    """What the band and the cross are."""
    torque = found.build.pivot.tightening.torque
    return [
        *([f"Shaded: what the torque of the sheet, {torque:.3g} N·m, gives."] if tight.moment_least else []),
        *([f"Cross: friction as measured, {tight.measured:.3g} N·m."] if tight.measured is not None else []),
    ]


def _moments(tight: Tightness) -> Any:
    """Friction moment over temperature; from zero on, so neither the small bounds nor the large are lost."""
    import altair as alt

    ends = [kelvin - KELVIN for kelvin in tight.temperatures]
    x = alt.X("at:Q", scale=alt.Scale(domain=[ends[0], ends[2]], nice=False)).axis(
        title="temperature, °C", tickCount=8
    )
    # A log axis has no place for a bound of zero.
    scale = alt.Scale(type="symlog", constant=tight.least_moment / 3.0, domain=[0.0, _top(tight)], nice=False)
    values = [0.0, *(m * 10.0**e for e in range(-4, 3) for m in (1.0, 2.0, 5.0))]
    shown = [v for v in values if v == 0.0 or tight.least_moment / 6.0 <= v <= _top(tight)]
    y = alt.Y("moment:Q", scale=scale, title="friction moment, N·m").axis(values=shown, format="~g")
    lines = [
        ("least: no flopping", tight.least_moment),
        *((_bound(tight, b), b.moment) for b in tight.bounds),
    ]
    rows: list[dict[str, Any]] = [
        {"at": at, "moment": value, "line": f"{name}, {value:.3g} N·m"}
        for name, value in lines
        for at in (ends[0], (ends[0] + ends[2]) / 2, ends[2])
    ]
    names = list(dict.fromkeys(row["line"] for row in rows))
    look = looks("line:N", names, [_GOOD, _BAD, _SECOND, _LINE][: len(names)], legend="bounds", columns=1)
    base: Any = alt.Chart(inline(rows)).encode(x=x, y=y, color=look["color"])
    layers: list[Any] = [
        base.mark_line(strokeWidth=2).encode(strokeDash=look["dash"]),
        base.mark_point(filled=True, size=40, opacity=1, clip=False).encode(shape=look["shape"]),
    ]
    if tight.moment_least is not None and tight.moment_greatest is not None:
        along = [ends[0] + (ends[2] - ends[0]) * k / STEPS for k in range(STEPS + 1)]
        edges = (between(along, ends, values) for values in (tight.moment_least, tight.moment_greatest))
        band = [{"at": at, "moment": low, "high": high} for at, low, high in zip(along, *edges, strict=True)]
        area: Any = alt.Chart(inline(band)).mark_area(
            color=MUTED, opacity=0.22, line={"color": MUTED, "strokeWidth": 1}
        )
        layers.insert(0, area.encode(x=x, y=y, y2="high:Q"))
    if tight.measured is not None:
        point: Any = alt.Chart(inline([{"at": ends[1], "moment": tight.measured}])).mark_point(
            shape="cross", size=120, color=MARK, filled=True, opacity=1
        )
        layers.append(point.encode(x=x, y=y))
    title = panel_title("Friction moment over temperature")
    return alt.layer(*layers).properties(width=BESIDE, height=270, title=title)


def between(along: Sequence[float], ends: Sequence[float], values: Sequence[float]) -> list[float]:
    """Return friction moments at temperatures along the band, from those at its three ends.

    They are straight in the temperature, but where no preload is left: there the slope of the other side goes
    on down to zero.
    """
    cold, middle, warm = values
    slopes = [
        (middle - cold) / (ends[1] - ends[0]) if ends[1] > ends[0] else None,
        (warm - middle) / (ends[2] - ends[1]) if ends[2] > ends[1] else None,
    ]
    for side, end in enumerate((cold, warm)):
        if end <= 0.0 < values[2 - 2 * side] and slopes[1 - side] is not None:
            slopes[side] = slopes[1 - side]
    return [max(middle + (slopes[0 if at < ends[1] else 1] or 0.0) * (at - ends[1]), 0.0) for at in along]


def _top(tight: Tightness) -> float:
    highest = max(
        tight.least_moment, *(bound.moment for bound in tight.bounds), *(tight.moment_greatest or ())
    )
    return 1.3 * max(highest, tight.measured or 0.0)


def _bound(tight: Tightness, bound: Bound) -> str:
    if bound.name == tight.governing:
        return f"most, in force: {bound.name}"
    return f"{'most' if bound.possible else 'no tightness gives it'}: {bound.name}"


def _windows(tight: Tightness) -> Any:
    """Bars of the torque windows; where there is none, the two ends that miss each other."""
    import altair as alt

    best = tight.best_by_torque
    drawn = [way for way in tight.ways if way.torque_greatest > 0.0 and math.isfinite(way.torque_least)]
    rows: list[dict[str, Any]] = [
        {
            "way": way.name,
            "low": min(way.torque_least, way.torque_greatest),
            "high": max(way.torque_least, way.torque_greatest),
            "kind": _kind(way, best),
            "said": _said(way),
        }
        for way in drawn
    ]
    rows += [
        {"way": way.name, "low": None, "high": None, "kind": MISSES, "said": "no torque"}
        for way in tight.ways
        if way not in drawn
    ]
    order = [way.name for way in tight.ways]
    ends = [row[key] for row in rows for key in ("low", "high") if row[key] is not None] or [0.1, 1.0]
    # Room to the right for the figures.
    domain = [0.8 * min(ends), max(ends) * (max(ends) / min(ends)) ** 0.55]
    x = alt.X("low:Q", scale=alt.Scale(type="log", domain=domain, nice=False)).axis(
        title="torque at the wrench, N·m", values=_ticks(*domain), format="~g"
    )
    y, names = beside("way", order)
    kinds = [kind for kind in (BEST, SERVES, MISSES) if any(row["kind"] == kind for row in rows)]
    colours = {BEST: _LINE, SERVES: "#8fb0cf", MISSES: "#ffffff"}
    strokes = {BEST: _LINE, SERVES: _LINE, MISSES: _BAD}
    dashes: dict[str, list[int]] = {BEST: [1, 0], SERVES: [1, 0], MISSES: [4, 3]}
    key = alt.Legend(title="window", orient="bottom", columns=1, labelLimit=0, symbolStrokeWidth=1.5)

    def by_kind(looks_of: dict[str, Any]) -> Any:
        return alt.Scale(domain=kinds, range=[looks_of[kind] for kind in kinds])

    base: Any = alt.Chart(inline(rows)).encode(y=y)
    bars = base.mark_bar(height=16, strokeWidth=1.5).encode(
        x=x,
        x2="high:Q",
        fill=alt.Fill("kind:N", scale=by_kind(colours), legend=key),
        stroke=alt.Stroke("kind:N", scale=by_kind(strokes), legend=key),
        strokeDash=alt.StrokeDash("kind:N", scale=by_kind(dashes), legend=None),
        tooltip=[alt.Tooltip("way:N", title="construction"), alt.Tooltip("said:N", title="window")],
    )
    words = base.mark_text(align="left", dx=6, color=MARK, fontSize=12).encode(
        x=alt.X("high:Q").scale(type="log", domain=domain, nice=False), text="said:N"
    )
    layered = alt.layer(bars, words, *names)
    title = panel_title("Torque that serves, by construction")
    return layered.properties(width=BESIDE, height=ROW * len(order), title=title)


BEST, SERVES = "a torque serves, widest window", "a torque serves"
MISSES = "none serves: the least (right end) is above the greatest (left end)"


def _kind(way: Way, best: Way) -> str:
    if way.torque_width < 1.0:
        return MISSES
    return BEST if way is best else SERVES


def _said(way: Way) -> str:
    if way.torque_width < 1.0:
        return "none"
    return f"{way.torque_least:.2f} to {way.torque_greatest:.2f}"


def _ticks(low: float, high: float) -> list[float]:
    steps = (m * 10.0**e for e in range(-6, 7) for m in (1.0, 2.0, 5.0))
    return [value for value in steps if low <= value <= high]
