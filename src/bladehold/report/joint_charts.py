"""Charts of the retention joint: forces over the flap moment, life by part, and what frames them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

from bladehold.report.chart_frame import (
    BESIDE,
    COLOURS,
    MARK,
    ROW,
    beside,
    caution,
    inline,
    looks,
    panel_title,
    ranges_left,
    titled,
)
from bladehold.report.joint_data import joint_csv_rows
from bladehold.report.joint_words import (
    NO_DAMAGE,
    NOT_CHECKED,
    gap_sentence,
    hours,
    life_remarks,
    life_sentence,
    stiffness_sentence,
)
from bladehold.report.render import MUTED
from bladehold.report.rotor import assumed_sentences
from bladehold.sheet import Build
from bladehold.study import JointAnswer, LifeAnswer
from bladehold.study.joint import POINTS
from bladehold.study.life import MemberLife
from bladehold.study.words import span

if TYPE_CHECKING:
    import altair

WIDTH, LETTERS = 480, 94  # pixels of a panel; letters of one line above it
LONGEST = 1e3  # service lives that the axis of lives reaches
SHORTEST = 1e-3
PRELOADS = {"greatest": "with the greatest preload", "none": "without preload"}
_LINE, _BAD, _GOOD, _SECOND = COLOURS


def tension_chart(found: JointAnswer) -> altair.VConcatChart:
    """Return forces, face pressure and opening over the flap moment, loose and tight."""
    import altair as alt

    rows = joint_csv_rows(found)
    tied = found.build.ties.screw is not None
    x = alt.X("flap:Q", scale=alt.Scale(domain=[0.0, float(found.curve.moment[-1])], nice=False))
    members = {"screw_tension_N": "pivot screw", **({"tie_force_N": "ties of one blade"} if tied else {})}
    forces = [
        {"flap": row["flap_moment_Nm"], "value": row[key], "line": f"{name}, {PRELOADS[row['preload']]}"}
        for key, name in members.items()
        for row in rows
    ]
    faces = {
        "face_pressure_Pa": ("greatest pressure on a face, MPa", 1e-6),
        "face_opening_m": ("widest gap at a face's end, mm", 1e3),
    }
    names = [f"{name}, {preload}" for name in members.values() for preload in PRELOADS.values()]
    look = looks("line:N", names, COLOURS[: len(names)], legend="force")
    above = alt.vconcat(_marks(found, x), _over_moment(found, forces, look, ("force, N", 230), x), spacing=6)
    pair = looks("line:N", list(PRELOADS.values()), [_LINE, _BAD], legend="faces")
    panels: list[Any] = []
    for place, (key, (title, scale)) in enumerate(faces.items()):
        values = [
            {"flap": row["flap_moment_Nm"], "value": scale * row[key], "line": PRELOADS[row["preload"]]}
            for row in rows
        ]
        panels.append(_over_moment(found, values, pair, (title, 130), x, last=place == 1))
    whole = alt.vconcat(above, alt.vconcat(*panels, spacing=12), spacing=12).resolve_scale(
        color="independent", strokeDash="independent", shape="independent"
    )
    unsolved = sum(not row["solved"] for row in rows)
    said = [f"! The contact model did not come to rest at {unsolved} of the points."] if unsolved else []
    notes = [gap_sentence(found), stiffness_sentence(found), _REACH, *said]
    return framed(whole, "forces in the clevis", notes, found)


_REACH = (
    "Lift goes with the flap moment as in the hardest condition; the axis ends at rupture, the greatest flap "
    "moment of flight times its factor."
)


def _marked(found: JointAnswer) -> list[dict[str, Any]]:
    """The flap moments that are named above the panels, lowest first."""
    curve = found.curve
    marked = list(zip(curve.points.moment[1:3].tolist(), POINTS[1:3], strict=True))
    if 0.0 < curve.first_gap < curve.moment[-1]:
        marked.append((curve.first_gap, "stiff plates first gape"))
    # Each name is right of its line: in this order no line crosses a name.
    return [
        {"flap": moment, "name": f"{name}, {moment:.2f} N·m", "row": at}
        for at, (moment, name) in enumerate(sorted(marked))
    ]


def _marks(found: JointAnswer, x: Any) -> Any:
    """A strip above the panels with the name of each upright line, a row for each."""
    import altair as alt

    rows = _marked(found)
    deep = len(rows)
    y = alt.Y("row:Q", scale=alt.Scale(domain=[deep - 0.4, -0.6], nice=False), axis=None)
    across = x.axis(labels=False, ticks=False, title=None, grid=False, domain=False)
    base: Any = alt.Chart(inline([{**row, "low": deep - 0.4} for row in rows])).encode(x=across, y=y)
    return alt.layer(
        base.mark_rule(color=MARK, strokeDash=[4, 3]).encode(y2="low:Q"),
        base.mark_text(align="left", dx=5, color=MARK, fontSize=12).encode(text="name:N"),
    ).properties(width=WIDTH, height=18 * deep, view=alt.ViewConfig(stroke=None))


def _over_moment(
    found: JointAnswer,
    rows: list[dict[str, Any]],
    look: dict[str, Any],
    size: tuple[str, int],
    x: Any,
    *,
    last: bool = False,
) -> Any:
    """One panel over the flap moment; size - title of its axis, height."""
    import altair as alt

    title, height = size
    across = x.axis(labels=last, title="flap moment, N·m" if last else None, tickCount=8)
    y = alt.Y("value:Q", title=title.rpartition(", ")[2], scale=alt.Scale(zero=True)).axis(
        tickCount=5, format="d" if title.endswith(" N") else ".3~f"
    )
    tips = [
        alt.Tooltip("line:N", title="line"),
        alt.Tooltip("flap:Q", format=".2f", title="flap moment, N·m"),
        alt.Tooltip("value:Q", format=".0f" if title.endswith(" N") else ".3f", title=title),
    ]
    base: Any = alt.Chart(inline(rows)).encode(x=across, y=y, color=look["color"])
    sparse: Any = alt.Chart(inline(_every(rows, 10))).encode(x=across, y=y, color=look["color"])
    rule: Any = alt.Chart(inline(_marked(found))).mark_rule(color=MARK, strokeDash=[4, 3])
    return alt.layer(
        rule.encode(x=across),
        base.mark_line().encode(strokeDash=look["dash"]),
        sparse.mark_point(filled=True, size=40, opacity=1).encode(shape=look["shape"], tooltip=tips),
    ).properties(width=WIDTH, height=height, title=panel_title(title))


def _every(rows: list[dict[str, Any]], step: int) -> list[dict[str, Any]]:
    """Every so manieth row of each line."""
    lines = dict.fromkeys(row["line"] for row in rows)
    return [row for line in lines for row in [one for one in rows if one["line"] == line][::step]]


def life_chart(found: JointAnswer | LifeAnswer, verdict: str) -> altair.VConcatChart:
    """Return the life of each part on an axis of decades, with the service life marked, under a verdict."""
    import altair as alt

    wanted = found.service_hours
    real = [one.hours for one in found.lives if one.hours is not None and 0.0 < one.hours < LONGEST * wanted]
    low = max(min([*real, wanted]) / 12.0, SHORTEST * wanted)
    domain = [low, LONGEST * wanted]
    rows = [_life_row(life, wanted, domain) for life in found.lives]
    order = [row["name"] for row in rows]
    x = alt.X("hours:Q", scale=alt.Scale(type="log", domain=domain, nice=False)).axis(
        title="hours of flight, scatter taken off", values=_decades(*domain), labelExpr=_SPACED
    )
    y, names = beside("name", order)
    kinds = [kind for kind in LIVES if any(row["kind"] == kind for row in rows)]
    shapes = {SHORT: "triangle-left", LASTS: "circle", ENDLESS: "triangle-right", OPEN: "cross"}
    colours = {SHORT: _BAD, LASTS: _LINE, ENDLESS: _GOOD, OPEN: MUTED}
    key = alt.Legend(title="life", orient="bottom", columns=2, labelLimit=0)
    look = {
        "color": alt.Color(
            "kind:N", scale=alt.Scale(domain=kinds, range=[colours[k] for k in kinds]), legend=key
        ),
        "shape": alt.Shape(
            "kind:N", scale=alt.Scale(domain=kinds, range=[shapes[k] for k in kinds]), legend=key
        ),
    }
    base: Any = alt.Chart(inline(rows)).encode(y=y)
    service: Any = alt.Chart(inline([{"hours": wanted, "said": f"wanted, {span(wanted)}"}]))
    tips = [alt.Tooltip("name:N", title="part"), alt.Tooltip("said:N", title="life")]
    stems = [row for row in rows if row["kind"] != OPEN]
    stem: Any = alt.Chart(inline(stems)).mark_rule(strokeWidth=2)
    words: list[Any] = []
    for side, (align, dx, dy) in _SIDES.items():
        some = [row for row in rows if row["side"] == side]
        written: Any = alt.Chart(inline(some))
        mark = written.mark_text(align=align, dx=dx, dy=dy, color=MARK, fontSize=12)
        words += [mark.encode(x=x, y=y, text="said:N")] if some else []
    layers = [
        service.mark_rule(color=MARK, strokeDash=[4, 3]).encode(x=x),
        service.mark_text(align="left", dx=4, dy=-7, baseline="bottom", color=MARK, fontSize=12).encode(
            x=x, y=alt.value(4), text="said:N"
        ),
        stem.encode(y=y, x=x, x2="from:Q", color=look["color"]),
        base.mark_point(filled=True, size=110, opacity=1).encode(x=x, tooltip=tips, **look),
        *words,
        *names,
    ]
    chart = alt.layer(*layers).properties(width=BESIDE, height=ROW * len(order))
    left = [f"! {text}" for text in life_remarks(found)]
    past = ["* read past the end of the tests."] if any(life.beyond for life in found.lives) else []
    notes = [
        _capital(verdict.removeprefix(f"{found.build.name}: ")),
        life_sentence(found),
        *past,
        "Turns, manoeuvres, gusts, throttle steps, start and stop of every flight: Miner's rule sums them.",
        *left,
    ]
    return framed(alt.vconcat(chart), "life by part", notes, found)


SHORT, LASTS = "ends before the service life", "lasts the service life"
ENDLESS, OPEN = f"{NO_DAMAGE}, or beyond the axis", NOT_CHECKED
_ROOM = 0.2  # of the axis, for the figure of a life
LIVES = (SHORT, LASTS, ENDLESS, OPEN)
_SIDES = {
    "before": ("right", -9, 0),
    "after": ("left", 9, 0),
    "on its stem": ("left", 8, -9),
    "above": ("right", -6, -9),
}
_SPACED = "replace(format(datum.value, ',.12~g'), /,/g, ' ')"


def _capital(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}"


def _life_row(life: MemberLife, wanted: float, domain: list[float]) -> dict[str, Any]:
    """Where a life stands on the axis; one that leaves it stands at the end it leaves by, with its figure."""
    low, high = domain
    row: dict[str, Any] = {
        "name": f"{life.part}: {life.mode}",
        "said": f"{hours(life)}{' *' if life.beyond else ''}",
        "from": wanted,
    }
    if life.hours is None:
        return {**row, "hours": low * (high / low) ** 0.03, "kind": OPEN, "side": "after"}
    if life.hours >= high:
        return {**row, "hours": high, "kind": ENDLESS, "side": "above"}
    kind = SHORT if life.hours < wanted else LASTS
    place = max(life.hours, low)
    along = math.log(place / low) / math.log(high / low)
    if kind == SHORT:
        side = "before" if along > _ROOM else "on its stem"
    else:
        side = "after" if along < 1.0 - _ROOM else "above"
    return {**row, "hours": place, "kind": kind, "side": side}


def _decades(low: float, high: float) -> list[float]:
    return [10.0**e for e in range(-9, 12) if low <= 10.0**e <= high]


def framed(
    chart: Any, title: str, notes: Iterable[str], found: JointAnswer | LifeAnswer
) -> altair.VConcatChart:
    """The chart under title and notes, with what was assumed, the ranges left and the cautions."""
    return framed_of(chart, title, notes, found.build, found.assessment.loads.breaches)


def framed_of(
    chart: Any, title: str, notes: Iterable[str], build: Build, breaches: Sequence[str]
) -> altair.VConcatChart:
    """The same for any answer: build and the ranges left."""
    lines = [*notes, *assumed_sentences(build), *ranges_left(breaches), caution(build.invented)]
    whole: altair.VConcatChart = titled(chart, f"{build.name}: {title}", lines, LETTERS)
    return whole
