"""The chart of an unbalanced rotor on its arm: force, stress and shaking over the speed, modes marked."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

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
from bladehold.study.arm import AXES, ArmAnswer, thresholds
from bladehold.study.words import rpm

if TYPE_CHECKING:
    import altair

WIDTH, HEIGHT, LETTERS = 560, 150, 104  # pixels of a panel; letters of one line above it
_G_MM = 1e6  # g mm in a kg m
_DECADES = 4  # of the axis of a logarithmic panel, below its greatest value


def arm_chart(found: ArmAnswer) -> altair.VConcatChart:
    """Return force that turns, stress at the clamp and published measure at the controller over the speed.

    Where a mode meets 1 per turn or the passing of the blades in the running range, an upright is drawn and
    named in the first panel.
    """
    import altair as alt

    speed = [rpm(float(value)) for value in found.speed]
    x = alt.X("rpm:Q", scale=alt.Scale(domain=[speed[0], speed[-1]], nice=False))
    stress = found.stress
    low, high = thresholds()
    panels = [
        _panel(x, speed, {"force": found.force}, "force, N", "Force that turns with the rotor"),
        _panel(
            x,
            speed,
            {
                "amplitude": stress.amplitude / 1e6,
                "steady, of thrust and weight": stress.mean / 1e6,
            },
            "stress, MPa",
            "Stress of the arm at its clamp",
            {"allowed, steady and amplitude together": stress.strength / stress.factor / 1e6},
        ),
        _panel(
            x,
            speed,
            dict(zip(AXES, found.measure, strict=True)),
            "measure, m/s²",
            "Vibration at the flight controller, by the published filters",
            {"acceptable below": low.value, "trouble above": high.value},
            last=True,
        ),
    ]
    drawn = [
        alt.layer(*panel, *_uprights(found, x, named=place == 0)).properties(
            width=WIDTH, height=HEIGHT, title=panel_title(title)
        )
        for place, (panel, title) in enumerate(panels)
    ]
    whole = alt.vconcat(*drawn, spacing=16).resolve_scale(color="independent", strokeDash="independent")
    chart: altair.VConcatChart = titled(whole, _title(found), _notes(found), LETTERS)
    return chart


def _title(found: ArmAnswer) -> str:
    return f"{found.build.name}: an unbalance of {_G_MM * found.unbalance:.4g} g mm on its arm"


def _notes(found: ArmAnswer) -> list[str]:
    build, worst, hover = found.build, found.worst, found.hover
    modes = ", ".join(f"{name} {hertz:.1f} Hz" for name, hertz in found.frequencies.items())
    margin = float(found.stress.margin[worst])
    keys = [
        item.key for item in build.loss_assumptions if item.key.startswith(("arm.", "flight_controller."))
    ]
    low, high = thresholds()
    return [
        f"First modes: {modes}. Smallest margin at the clamp {margin:+.2f}, at "
        f"{rpm(float(found.speed[worst])):.0f} rpm; in hover {float(found.stress.margin[hover]):+.2f}.",
        f"In hover the controller feels {float(found.measure[:, hover].max()):.3g} m/s²: "
        f"{found.feels(hover)} ({low.value:g} and {high.value:g} m/s², {low.provenance.source}).",
        "Steady speeds: a rotor that only passes through a peak shakes less. Dashed upright: hover.",
        *(f"{text[0].upper()}{text[1:]}." for text in found.stress.remarks),
        *(f"Unconfirmed: {source}." for source in found.stress.unconfirmed),
        *([f"Assumed: {', '.join(keys)}."] if keys else []),
        *ranges_left(found.breaches),
        caution(build.invented),
    ]


def _panel(
    x: Any,
    speed: list[float],
    series: dict[str, Any],
    unit: str,
    title: str,
    levels: dict[str, float] | None = None,
    *,
    last: bool = False,
) -> tuple[list[Any], str]:
    """Lines over the speed, logarithmic, and level lines with their words; and the title."""
    import altair as alt

    names = list(series)
    top = max(float(np.max(values)) for values in (*series.values(), *(levels or {}).values()))
    bottom = top * 10.0**-_DECADES
    decades = [ten for power in range(-9, 10) if bottom <= (ten := 10.0**power) <= 1.6 * top]
    scale = alt.Scale(type="log", domain=[bottom, 1.6 * top], nice=False)
    y = alt.Y("value:Q", title=unit, scale=scale).axis(values=decades, format="~g")
    rows = [
        {"name": name, "rpm": round(at, 1), "value": float(f"{value:.4g}")}
        for name, values in series.items()
        for at, value in zip(speed, values, strict=True)
    ]
    tips = [
        alt.Tooltip("name:N", title="what"),
        alt.Tooltip("rpm:Q", format=".0f", title="speed, rpm"),
        alt.Tooltip("value:Q", format=".3g", title=unit),
    ]
    base: Any = alt.Chart(inline(rows))
    across = x.axis(format="d", title="speed, rpm" if last else None, labels=last, tickCount=8)
    if len(names) > 1:
        look = looks("name:N", names, COLOURS[: len(names)], legend="", area=True, columns=len(names))
        line = base.mark_line(clip=True).encode(
            x=across, y=y, color=look["color"], strokeDash=look["dash"], tooltip=tips
        )
    else:
        line = base.mark_line(clip=True, color=COLOURS[0]).encode(x=across, y=y, tooltip=tips)
    marks: list[Any] = [line]
    if levels:
        middle = (speed[0] + speed[-1]) / 2.0
        for place, (word, value) in enumerate(levels.items()):
            level = inline([{"word": word, "rpm": middle, "value": value}])
            rule: Any = alt.Chart(level).mark_rule(color=MUTED, strokeDash=[2, 3])
            # The lower of two is named below itself, the upper above.
            down = 9 if place + 1 < len(levels) else -8
            text: Any = alt.Chart(level).mark_text(dy=down, color=MARK, fontSize=11)
            marks += [rule.encode(y=y), text.encode(x=x, y=y, text="word:N")]
    return marks, title


def _uprights(found: ArmAnswer, x: Any, *, named: bool) -> list[Any]:
    """Uprights where modes are met in the running range, and at hover; named - with their words."""
    import altair as alt

    rows = [
        {"rpm": rpm(one.speed), "word": f"{one.mode}, {one.order} per turn"}
        for one in found.meetings
        if one.inside
    ]
    hover = [{"rpm": rpm(float(found.speed[found.hover]))}]
    dashed: Any = alt.Chart(inline(hover)).mark_rule(color=MARK, strokeDash=[5, 4])
    marks = [dashed.encode(x=x)]
    if rows:
        lines: Any = alt.Chart(inline(rows)).mark_rule(color=COLOURS[1], strokeWidth=1)
        marks.append(lines.encode(x=x))
    if rows and named:
        # Words of uprights that stand close together are written below each other.
        for place, row in enumerate(rows):
            words: Any = alt.Chart(inline([row])).mark_text(align="left", dx=5, color=COLOURS[1], fontSize=11)
            marks.append(words.encode(x=x, y=alt.value(HEIGHT - 10 - 14 * place), text="word:N"))
    return marks
