"""Charts of the moving blade: flap moment round the turn, frequencies, mode shapes, rest angles."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from bladehold.report.blade import flap_sentence, folding_sentences, layup_sentence
from bladehold.report.blade_data import band_rows, crossing_rows, kind_of, mode_rows
from bladehold.report.chart_frame import (
    COLOURS,
    MARK,
    caution,
    inline,
    looks,
    panel_title,
    ranges_left,
    titled,
)
from bladehold.report.render import MUTED
from bladehold.report.rotor import assumed_sentences, calibration_sentence
from bladehold.sheet import Build
from bladehold.study import BladeAnswer
from bladehold.study.blade_motion import azimuths
from bladehold.study.words import rpm

if TYPE_CHECKING:
    import altair

_LINE, _OUTSIDE, _, _SECOND = COLOURS
_WIDEST_SHOWN = 20.0  # deg, of the rest angles
_AZIMUTH = "Azimuth 0: the blade points to the rear; 90: it is on the side that moves forward."
WIDTH, LETTERS = 480, 94  # pixels of a panel; letters of one line above it
ABOVE = 1.15  # the frequency axis ends so much above the highest order at the fastest speed
NAMED = 0.96
FLAP_SHAPES = 3


def drawn_conditions(found: BladeAnswer, build: Build) -> list[int]:
    """Places of the conditions that the turn is drawn for, each in the air that brings most flap moment."""
    forward = build.flying.top_speed > 0.0
    kinds = ("top speed", "manoeuvre at top speed") if forward else ("hover", "pull-up in hover")
    peak = np.abs(found.motion.elastic.flap_moment).max(axis=-1)
    names = found.motion.names
    alike = [[at for at, name in enumerate(names) if name.rpartition(", ")[0] == kind] for kind in kinds]
    return [max(places, key=lambda at: peak[at]) for places in alike]


def turn_chart(found: BladeAnswer, build: Build) -> altair.VConcatChart:
    """Return the flap moment at the pivot over azimuth, elastic against rigid, a panel for each condition."""
    import altair as alt

    motion = found.motion
    degrees = [*np.degrees(azimuths()).tolist(), 360.0]
    places = drawn_conditions(found, build)
    names = ["elastic blade", "rigid blade"]
    look = looks("blade:N", names, COLOURS[:2], legend="flap moment of")
    x = alt.X("azimuth:Q", scale=alt.Scale(domain=[0, 360], nice=False))
    y = alt.Y("moment:Q", title="flap moment, N·m", scale=alt.Scale(zero=True), axis=alt.Axis(tickCount=5))
    tips = [
        alt.Tooltip("blade:N", title="blade"),
        alt.Tooltip("azimuth:Q", format=".0f", title="azimuth, deg"),
        alt.Tooltip("moment:Q", format=".2f", title="flap moment, N·m"),
    ]
    panels: list[Any] = []
    for place in places:
        last = place == places[-1]
        rows = [
            {"blade": name, "azimuth": psi, "moment": float(value)}
            for name, series in zip(names, (motion.elastic.flap_moment, motion.rigid.flap), strict=True)
            for psi, value in zip(degrees, [*series[place], series[place, 0]], strict=True)
        ]
        across = x.axis(
            values=[0, 90, 180, 270, 360], labels=last, title="azimuth, deg" if last else None, grid=True
        )
        base: Any = alt.Chart(inline(rows)).encode(x=across, y=y, color=look["color"])
        layers = [
            base.mark_line().encode(strokeDash=look["dash"]),
            base.mark_point(filled=True, size=26, opacity=1).encode(shape=look["shape"], tooltip=tips),
        ]
        name = f"{motion.names[place]}, {rpm(float(motion.speed[place])):.0f} rpm"
        panels.append(alt.layer(*layers).properties(width=WIDTH, height=170, title=panel_title(name)))
    notes = [
        f"H{flap_sentence(found)[1:]}",
        f"{_AZIMUTH} The rigid blade does not bend and stands in the same air.",
        calibration_sentence(build),
    ]
    whole = alt.vconcat(*panels, spacing=14).resolve_scale(y="shared")
    return _framed(whole, f"{build.name}: flap moment round the turn", notes, found, build)


def frequency_chart(found: BladeAnswer, build: Build) -> altair.VConcatChart:
    """Return the Campbell diagram: modes and orders over speed, running range shaded, crossings marked."""
    import altair as alt

    campbell = found.motion.campbell
    speed = [rpm(float(value)) for value in campbell.speed]
    low, high = (rpm(end) for end in campbell.running)
    top = ABOVE * int(campbell.orders[-1]) * high / 60.0
    x = alt.X("rpm:Q", scale=alt.Scale(domain=[0.0, speed[-1]], nice=False)).axis(
        format="d", title="speed, rpm", tickCount=8, grid=False
    )
    y = alt.Y("Hz:Q", title="frequency, Hz", scale=alt.Scale(domain=[0.0, top], nice=False)).axis(grid=False)
    left_out = [
        mode for mode in range(campbell.frequency.shape[1]) if campbell.frequency[:, mode].min() > top
    ]
    modes = _mode_lines(found, speed, left_out)
    kinds = ["flap", "lag"]
    look = looks("kind:N", kinds, [_LINE, _SECOND], legend="mode")
    tips = [
        alt.Tooltip("name:N", title="mode"),
        alt.Tooltip("rpm:Q", format=".0f", title="speed, rpm"),
        alt.Tooltip("Hz:Q", format=".1f", title="frequency, Hz"),
    ]
    ends: list[dict[str, Any]] = [
        {"order": f"{order}P", "rpm": at, "Hz": order * at / 60.0}
        for order in map(int, campbell.orders)
        for at in (0.0, min(speed[-1], top * 60.0 / order))
    ]
    shade: Any = alt.Chart(inline([{"rpm": low, "to": high}])).mark_rect(color=MUTED, opacity=0.13)
    orders: Any = alt.Chart(inline(ends)).mark_line(color=MUTED, strokeWidth=1)
    # A line that leaves by the top is named a little below it.
    named = [
        {**end, "rpm": end["rpm"] * NAMED, "Hz": NAMED * top} if end["Hz"] >= top else end for end in ends
    ]
    words = [
        _text([end for end in named[1::2] if (end["Hz"] == NAMED * top) is inside], align, dx)
        for inside, align, dx in ((False, "left", 5), (True, "right", -6))
    ]
    places = [row for row in modes if row["rpm"] == _nearest(speed, 0.88 * high) and row["Hz"] <= top]
    mode_words: Any = alt.Chart(inline(places)).mark_text(dy=-14, color=MARK, fontSize=12)
    lines: Any = alt.Chart(inline(modes)).mark_line(clip=True)
    dots: Any = alt.Chart(inline(modes)).mark_point(filled=True, size=22, opacity=1, clip=True)
    layers = [
        shade.encode(x=x, x2="to:Q"),
        orders.encode(x=x, y=y, detail="order:N"),
        *(text.encode(x=x, y=y, text="order:N") for text in words),
        lines.encode(x=x, y=y, detail="run:N", color=look["color"], strokeDash=look["dash"]),
        dots.encode(x=x, y=y, color=look["color"], shape=look["shape"], tooltip=tips),
        *([mode_words.encode(x=x, y=y, text="name:N")] if places else []),
        *_crossing_layers(found, x, y),
    ]
    chart = alt.layer(*layers).properties(width=WIDTH, height=340)
    names = [f"{row['mode']} ({row['kind']}, {row['in_hover_Hz']:.0f} Hz)" for row in mode_rows(found)]
    notes = [
        f"Shaded: running range, {low:.0f} to {high:.0f} rpm. Grey lines: whole multiples of the speed.",
        *campbell.warnings(),
        *(
            [f"Not drawn, far above: mode {', '.join(names[mode] for mode in left_out)} in hover."]
            if left_out
            else []
        ),
        layup_sentence(found, build),
    ]
    return _framed(alt.vconcat(chart), f"{build.name}: frequencies over speed", notes, found, build)


def _mode_lines(found: BladeAnswer, speed: list[float], left_out: list[int]) -> list[dict[str, Any]]:
    """Rows of the modes drawn; a mode that changes its kind on the way goes on as another run."""
    motion = found.motion
    rows: list[dict[str, Any]] = []
    for mode in range(motion.campbell.frequency.shape[1]):
        if mode in left_out:
            continue
        run, before = 0, None
        for at, (turns, hertz) in enumerate(zip(speed, motion.campbell.frequency[:, mode], strict=True)):
            kind = kind_of(flap=bool(motion.modes.flap_energy[at, mode] > 0.5))
            row = {"name": f"mode {mode + 1}, {kind}", "kind": kind, "rpm": turns, "Hz": float(hertz)}
            if before is not None and before != kind:
                run += 1
            rows.append({**row, "run": f"{mode + 1}.{run}"})
            before = kind
    return rows


def _crossing_layers(found: BladeAnswer, x: Any, y: Any) -> list[Any]:
    """Marks of the crossings: filled and named inside the running range, hollow outside it."""
    import altair as alt

    top = y.to_dict()["scale"]["domain"][1]
    met = [
        {
            "rpm": row["speed_rpm"],
            "Hz": row["frequency_Hz"],
            "meets": f"mode {row['mode']} ({row['kind']}) meets {row['order']}P",
            "inside": row["inside"],
        }
        for row in crossing_rows(found)
        if row["frequency_Hz"] <= top
    ]
    tips = [
        alt.Tooltip("meets:N", title="crossing"),
        alt.Tooltip("rpm:Q", format=".0f", title="speed, rpm"),
        alt.Tooltip("Hz:Q", format=".1f", title="frequency, Hz"),
    ]
    layers = []
    for inside in (True, False):
        rows = [row for row in met if row["inside"] is inside]
        if rows:
            marks: Any = alt.Chart(inline(rows)).mark_point(
                shape="diamond", size=130, color=_OUTSIDE, filled=inside, opacity=1, strokeWidth=2
            )
            layers.append(marks.encode(x=x, y=y, tooltip=tips))
    return layers


def shape_chart(found: BladeAnswer, build: Build) -> altair.VConcatChart:
    """Return the first flap modes and the first lag mode along the span at the speed of hover."""
    import altair as alt

    modes = found.standing_and_hovering
    pivot = found.motion.model.matrices.beam.pivot_radius
    listed = mode_rows(found)
    chosen = [row for row in listed if row["kind"] == "flap" and row["number_of_kind"] <= FLAP_SHAPES]
    lag = [row for row in listed if row["kind"] == "lag" and row["number_of_kind"] == 1]
    rows, names = [], []
    for row in (*chosen, *lag):
        name = f"{row['kind']} {row['number_of_kind']}: {row['in_hover_Hz']:.0f} Hz"
        names.append(f"{name}, {row['in_hover_per_turn']:.2f} per turn")
        shape = (modes.flap if row["kind"] == "flap" else modes.lag)[1, row["mode"] - 1]
        rows += [
            {"mode": names[-1], "mm": 1e3 * float(pivot + at), "deflection": float(value)}
            for at, value in zip(modes.nodes, shape, strict=True)
        ]
    look = looks("mode:N", names, [*COLOURS[: len(chosen)], *COLOURS[3 : 3 + len(lag)]], legend="mode")
    across = alt.X("mm:Q", scale=alt.Scale(domain=[0.0, 500 * build.propeller.diameter], nice=False))
    base: Any = alt.Chart(inline(rows)).encode(
        x=across.axis(title="radius, mm", tickCount=8),
        y=alt.Y("deflection:Q", title="deflection, largest 1", axis=alt.Axis(tickCount=6)),
        color=look["color"],
    )
    tips = [
        alt.Tooltip("mode:N", title="mode"),
        alt.Tooltip("mm:Q", format=".0f", title="radius, mm"),
        alt.Tooltip("deflection:Q", format=".2f", title="deflection"),
    ]
    rule: Any = alt.Chart(inline([{"mm": 1e3 * pivot}])).mark_rule(color=MARK, strokeDash=[4, 3])
    layers = [
        rule.encode(x=across),
        base.mark_line().encode(strokeDash=look["dash"]),
        base.mark_point(filled=True, size=40, opacity=1).encode(shape=look["shape"], tooltip=tips),
    ]
    chart = alt.layer(*layers).properties(width=WIDTH, height=280)
    notes = [
        f"At the speed of hover, {rpm(float(modes.speed[1])):.0f} rpm. Flap modes: deflection up; lag "
        "mode: in the plane, against the turning. Dashed upright: the pivot.",
        *([] if lag else ["No lag mode is among those computed."]),
        layup_sentence(found, build),
    ]
    return _framed(alt.vconcat(chart), f"{build.name}: mode shapes", notes, found, build)


def folding_chart(found: BladeAnswer, build: Build) -> altair.VConcatChart:
    """Return the rest angles of a folding blade over speed, for the least and the greatest friction.

    Errors: ValueError where the blades do not fold.
    """
    import altair as alt

    folds = found.folding
    if folds is None:
        raise ValueError("the blades do not fold: they have no rest angles")
    names = {"least": "least friction", "greatest": "greatest friction"}
    rows = [{**row, "friction": names[row["friction"]]} for row in band_rows(folds)]
    look = looks(
        "friction:N", list(names.values()), [_LINE, _SECOND], legend="may rest between, with", area=True
    )
    domain = [rpm(float(folds.speed[0])), rpm(float(folds.speed[-1]))]
    x = alt.X("speed_rpm:Q", scale=alt.Scale(domain=domain, nice=False)).axis(
        format="d", title="speed, rpm", tickCount=8
    )
    # At a crawl a blade rests anywhere; what matters is near straight.
    y = alt.Y(
        "leading_deg:Q",
        title="lag angle, deg (ahead < 0 < behind)",
        scale=alt.Scale(domain=[-_WIDEST_SHOWN, _WIDEST_SHOWN]),
    ).axis(tickCount=8)
    tips = [
        alt.Tooltip("friction:N", title="friction"),
        alt.Tooltip("speed_rpm:Q", format=".0f", title="speed, rpm"),
        alt.Tooltip("leading_deg:Q", format=".1f", title="from, deg"),
        alt.Tooltip("trailing_deg:Q", format=".1f", title="to, deg"),
    ]
    base: Any = alt.Chart(inline(rows)).encode(x=x, color=look["color"])
    rule: Any = alt.Chart(inline([{"speed_rpm": rpm(folds.hover)}])).mark_rule(color=MARK, strokeDash=[4, 3])
    layers = [
        base.mark_area(opacity=0.2, clip=True).encode(y=y, y2="trailing_deg:Q", tooltip=tips),
        *(
            base.mark_line(clip=True).encode(y=alt.Y(f"{edge}:Q"), strokeDash=look["dash"])
            for edge in ("leading_deg", "trailing_deg")
        ),
        rule.encode(x=x),
    ]
    chart = alt.layer(*layers).properties(width=WIDTH, height=300)
    notes = [
        f"Dashed upright: hover, {rpm(folds.hover):.0f} rpm. A blade stays anywhere in its band; blades at "
        "unlike angles unbalance the rotor.",
        *folding_sentences(found),
    ]
    return _framed(alt.vconcat(chart), f"{build.name}: where the folding blades rest", notes, found, build)


def _nearest(values: list[float], wanted: float) -> float:
    return min(values, key=lambda value: abs(value - wanted))


def _text(rows: list[dict[str, Any]], align: str, dx: int) -> Any:
    import altair as alt

    chart: Any = alt.Chart(inline(rows))
    return chart.mark_text(align=align, dx=dx, color=MARK, fontSize=12)


def _framed(
    chart: Any, title: str, notes: list[str], found: BladeAnswer, build: Build
) -> altair.VConcatChart:
    """The chart under title and notes, with what was assumed, the ranges left and the cautions."""
    lines = [
        *notes,
        *assumed_sentences(build),
        *assumed_of_blade(build),
        *ranges_left(found.breaches),
        caution(build.invented),
    ]
    framed: altair.VConcatChart = titled(chart, title, lines, LETTERS)
    return framed


def assumed_of_blade(build: Build) -> list[str]:
    """Return which inputs behind the moving blade were assumed, if any."""
    keys = [item.key.rpartition(".")[2].replace("_", " ") for item in build.blade_assumptions]
    return [f"Assumed of the moving blade: {', '.join(keys)}."] if keys else []
