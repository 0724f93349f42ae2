"""Charts of the aircraft: envelope map, thrust of every rotor, endurance, the usual flight, what wears the
parts.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from bladehold.air import GRAVITY
from bladehold.report import aircraft as aircraft_words
from bladehold.report import drive as drive_words
from bladehold.report import life as life_words
from bladehold.report.aircraft import SHOWN, kind_rows
from bladehold.report.chart_frame import COLOURS, MARK, ROW, beside, inline, panel_title
from bladehold.report.drive import ZERO, history_rows
from bladehold.report.joint_charts import WIDTH, framed_of
from bladehold.report.joint_words import hours
from bladehold.report.render import MUTED, PALE
from bladehold.report.terminal import state_of
from bladehold.sheet import Build
from bladehold.study import AircraftAnswer, DriveAnswer, EnvelopeMap, LifeAnswer

if TYPE_CHECKING:
    import altair

STATES = {
    "fails": ("does not hold", "#e9b9ad"),
    "little": ("holds, little left", "#f2dfb3"),
    "holds": ("holds", "#cfe0c8"),
}
_CELL_WIDTH, _CELL_HEIGHT = 86, 44
_PLAN = 230  # pixels of one plan of the rotors
_LETTER = 5.3  # pixels of a letter of the segments' names
_SHOWN_MARGIN = 9.99  # above which a margin is told as more than that
GROUPS = {
    "turns": COLOURS[0],
    "within turns": "#7fa3c7",
    "start and stop": MUTED,
    "manoeuvres": COLOURS[1],
    "gusts": COLOURS[3],
    "throttle": COLOURS[2],
    "own cases": "#7a4f8f",
}


def _verdict(headline: str, build: Build) -> str:
    """A headline without the name of the build, which stands above the chart."""
    text = headline.removeprefix(f"{build.name}: ")
    return f"{text[:1].upper()}{text[1:]}"


def map_chart(found: EnvelopeMap, build: Build) -> altair.VConcatChart:
    """Return the smallest margin over speed and load factor, with the part that governs in every field."""
    import altair as alt

    rows = [
        _field(found, build, at, to) for at in range(found.speed.size) for to in range(found.load_factor.size)
    ]
    speeds = [f"{value:.3g}" for value in found.speed]
    factors = [f"{value:.3g}" for value in found.load_factor[::-1]]
    x: Any = alt.X("speed:N", sort=speeds, axis=alt.Axis(title="air speed, m/s", labelAngle=0))
    y: Any = alt.Y("factor:N", sort=factors, axis=alt.Axis(title="load factor: lift over weight"))
    names = [words for words, _ in STATES.values()]
    shade: Any = alt.Color(
        "state:N",
        scale=alt.Scale(domain=names, range=[colour for _, colour in STATES.values()]),
        legend=alt.Legend(title="smallest margin of strength", orient="bottom", symbolStrokeColor=MUTED),
    )
    base: Any = alt.Chart(inline(rows)).encode(x=x, y=y)
    tips = [
        alt.Tooltip("speed:N", title="air speed, m/s"),
        alt.Tooltip("factor:N", title="load factor"),
        alt.Tooltip("said:N", title="margin"),
        alt.Tooltip("part:N", title="part that governs"),
    ]
    layers = [
        base.mark_rect(stroke="#ffffff", strokeWidth=2).encode(color=shade, tooltip=tips),
        base.mark_text(dy=-7, fontSize=13, color=MARK).encode(text="said:N"),
        base.mark_text(dy=9, fontSize=10, color=MARK).encode(text="part:N"),
    ]
    own = [row for row in rows if row["own"]]
    if own:
        frame: Any = alt.Chart(inline(own)).encode(x=x, y=y)
        layers.append(frame.mark_rect(fillOpacity=0.0, stroke=MARK, strokeWidth=2.5))
    chart = alt.layer(*layers).properties(width=_CELL_WIDTH * len(speeds), height=_CELL_HEIGHT * len(factors))
    speed, factor = found.asked
    notes = [
        "Level flight at every speed, pulled up to every load factor while turning at the pitch rate of "
        "the sheet; "
        "the worse of the warm and the cold air; the rotor that works hardest.",
        f"The sheet flies to {speed:g} m/s and a load factor of {factor:g} (framed). The centrifugal proof "
        "and gusts are not in the map.",
        *(["! The rotor gives no more thrust: the map ends below the load factor wanted."] * found.shortened),
    ]
    return framed_of(alt.vconcat(chart), "margin over speed and load factor", notes, build, ())


def _field(found: EnvelopeMap, build: Build, at: int, to: int) -> dict[str, Any]:
    margin = float(found.margin[at, to])
    state, _ = STATES[state_of(margin, build.policy.marginal)]
    return {
        "own": bool(np.allclose((found.speed[at], found.load_factor[to]), found.asked)),
        "speed": f"{found.speed[at]:.3g}",
        "factor": f"{found.load_factor[to]:.3g}",
        "margin": margin,
        "said": f"{margin:+.2f}" if margin <= _SHOWN_MARGIN else f"> {_SHOWN_MARGIN:.0f}",
        "part": found.part[at][to],
        "state": state,
    }


def rotor_chart(found: AircraftAnswer) -> altair.VConcatChart:
    """Return the rotors seen from above with their thrust and speed in four kinds of flight, warm air."""
    import altair as alt

    frame = found.trims[0].frame
    if frame is None:
        raise ValueError(
            "the rotors of this aircraft do not balance by their speeds: there is no plan to draw"
        )
    rows = {row["kind"]: row for row in kind_rows(found) if row["air"] == found.air[0].label}
    kinds = [name for name in SHOWN if name in rows]
    every = [value for name in kinds for value in rows[name]["thrusts_N"]]
    reach = 1.45 * float(np.abs(frame.position[:, :2]).max()) + 1e-9
    disc = (found.build.propeller.diameter / (2.0 * reach) * _PLAN) ** 2
    low, high = min(every) / GRAVITY, max(every) / GRAVITY
    shade: Any = alt.Color(
        "thrust:Q",
        scale=alt.Scale(domain=[low, max(high, 1.001 * low)], range=["#f4f7fa", "#9dbbd6"]),
        legend=alt.Legend(title="thrust, kgf", orient="bottom", gradientLength=200),
    )
    panels = []
    for name in kinds:
        points = _plan(found, rows[name])
        scale = alt.Scale(domain=[-reach, reach], nice=False)
        base: Any = alt.Chart(inline(points)).encode(
            x=alt.X("right:Q", scale=scale, axis=None), y=alt.Y("ahead:Q", scale=scale, axis=None)
        )
        ahead: Any = alt.Chart(inline([{"right": 0.0, "ahead": 0.93 * reach, "said": "ahead ↑"}]))
        place: dict[str, Any] = {"x": alt.X("right:Q", scale=scale), "y": alt.Y("ahead:Q", scale=scale)}
        layers = [
            base.mark_point(filled=True, size=disc, stroke=MUTED, strokeWidth=1, opacity=1).encode(
                color=shade, tooltip=["rotor:N", "thrust:Q", "speed:Q"]
            ),
            base.mark_text(dy=-6, fontSize=13, color=MARK).encode(text="kgf:N"),
            base.mark_text(dy=9, fontSize=11, color=MARK).encode(text="rpm:N"),
            ahead.mark_text(fontSize=11, color=MUTED).encode(text="said:N", **place),
        ]
        panels.append(alt.layer(*layers).properties(width=_PLAN, height=_PLAN, title=panel_title(name)))
    grid = [alt.hconcat(*panels[start : start + 2]) for start in range(0, len(panels), 2)]
    notes = [
        _verdict(aircraft_words.headline(found), found.build),
        "Seen from above, discs to scale; thrust in kgf, speed in rpm. Of a coaxial pair the upper "
        "rotor is drawn.",
    ]
    return framed_of(
        alt.vconcat(*grid), "thrust of every rotor", notes, found.build, found.assessment.loads.breaches
    )


def _plan(found: AircraftAnswer, row: dict[str, Any]) -> list[dict[str, Any]]:
    frame = found.trims[0].frame
    assert frame is not None
    return [
        {
            "rotor": name,
            "right": float(frame.position[at, 1]),
            "ahead": float(frame.position[at, 0]),
            "thrust": row["thrusts_N"][at] / GRAVITY,
            "speed": row["speeds_rpm"][at],
            "kgf": f"{row['thrusts_N'][at] / GRAVITY:.2f}",
            "rpm": f"{row['speeds_rpm'][at]:.0f}",
        }
        for at, name in enumerate(frame.names)
        if frame.level[at] < 2
    ]


def endurance_chart(found: DriveAnswer) -> altair.VConcatChart:
    """Return the endurance in hover over the mass of the aircraft."""
    import altair as alt

    rows = [
        {"mass": float(mass), "minutes": float(time) / 60.0}
        for mass, time in zip(found.mass, found.endurance, strict=True)
        if time > 0.0
    ]
    x: Any = alt.X(
        "mass:Q", scale=alt.Scale(domain=[float(found.mass[0]), float(found.mass[-1])], nice=False)
    )
    x = x.axis(title="mass of the aircraft, kg")
    longest = max((row["minutes"] for row in rows), default=1.0)
    y: Any = alt.Y("minutes:Q", scale=alt.Scale(domain=[0.0, 1.1 * longest])).axis(title="hover, min")
    base: Any = alt.Chart(inline(rows)).encode(x=x, y=y)
    now = {"mass": found.build.aircraft.mass, "minutes": found.hover_endurance / 60.0}
    here: Any = alt.Chart(inline([{**now, "said": f"{now['mass']:g} kg, {now['minutes']:.1f} min"}]))
    layers = [
        base.mark_line(color=COLOURS[0], strokeWidth=2),
        base.mark_point(color=COLOURS[0], filled=True, size=30, opacity=1).encode(
            tooltip=[alt.Tooltip("mass:Q", format=".1f"), alt.Tooltip("minutes:Q", format=".1f")]
        ),
        here.mark_point(color=COLOURS[1], filled=True, size=110, shape="diamond", opacity=1).encode(x=x, y=y),
        here.mark_text(color=MARK, align="left", dx=9, dy=-9, fontSize=12).encode(x=x, y=y, text="said:N"),
    ]
    lightest, greatest = float(found.mass[0]), float(found.mass[-1])
    heaviest = max((row["mass"] for row in rows), default=lightest)
    if heaviest < greatest:
        end: Any = alt.Chart(inline([{"mass": heaviest, "said": "heavier: not within the limits"}]))
        # On the side where there is room for the words.
        left = heaviest > 0.5 * (lightest + greatest)
        side: dict[str, Any] = {"align": "right" if left else "left", "dx": -5 if left else 5}
        layers += [
            end.mark_rule(color=MUTED, strokeDash=[4, 3]).encode(x=x),
            end.mark_text(color=MUTED, fontSize=12, **side).encode(x=x, y=alt.value(12), text="said:N"),
        ]
    chart = alt.layer(*layers).properties(width=WIDTH, height=280)
    assert found.build.drive is not None
    notes = [
        _verdict(drive_words.headline(found), found.build),
        "Hover alone, still air, warm; battery from full to its reserve of "
        f"{100 * found.build.drive.battery.reserve:.0f} %, or "
        "to its least voltage. Thrust grows with the mass; the battery stays.",
    ]
    return framed_of(alt.vconcat(chart), "endurance over mass", notes, found.build, found.breaches)


def flight_chart(found: DriveAnswer) -> altair.VConcatChart:
    """Return charge, voltage and the hottest winding over the usual flight, segment by segment."""
    import altair as alt

    flight = found.mission.flight
    end = float(min(flight.ends, flight.time[-1])) / 60.0
    if not end > 0.0:
        raise ValueError(f"there is no flight to draw: {drive_words.headline(found)}")
    rows = [{**row, "minutes": row["time_s"] / 60.0} for row in history_rows(found)]
    rows = [row for row in rows if row["minutes"] <= end]
    for row in rows:
        row["charge_pc"], row["winding_C"] = 100.0 * row["charge"], row["winding_K"] - ZERO
    x: Any = alt.X("minutes:Q", scale=alt.Scale(domain=[0.0, end], nice=False))
    drive = found.build.drive
    assert drive is not None
    panels = [
        _course(rows, x, "charge_pc", "charge, %", 100.0 * drive.battery.reserve, "reserve"),
        _course(rows, x, "voltage_V", "battery, V", drive.battery.cutoff_voltage, "least"),
        _course(
            rows, x, "winding_C", "winding, °C", drive.motor.temperature_limit - ZERO, "greatest", last=True
        ),
    ]
    edges = _edges(found, end)
    marks: Any = alt.Chart(inline(edges))
    rule = marks.mark_rule(color=PALE).encode(x=x)
    name = marks.mark_text(align="left", dx=3, fontSize=10, color=MUTED, lineBreak="|").encode(
        x=x, y=alt.value(9), text="segment:N"
    )
    whole = alt.vconcat(
        *(alt.layer(rule, *([name] if at == 0 else []), *panel) for at, panel in enumerate(panels))
    )
    shaped = [one.properties(width=WIDTH, height=130 if at else 150) for at, one in enumerate(whole.vconcat)]
    notes = [
        _verdict(drive_words.headline(found), found.build),
        f"Warm air, battery full at the start; {found.mission.distance / 1000.0:.2g} km over ground.",
    ]
    return framed_of(alt.vconcat(*shaped), "the usual flight", notes, found.build, found.breaches)


def _edges(found: DriveAnswer, end: float) -> list[dict[str, Any]]:
    """Where the segments begin, min, up to the end of the chart, with their names broken into lines.

    Manoeuvres stand together; what is too short for its name goes without.
    """
    mission = found.mission
    lasting = mission.share * found.build.flying.flight_time / 60.0
    together: list[tuple[str, float, float]] = []
    for name, start, brief, long in zip(
        mission.names, np.cumsum(lasting) - lasting, mission.brief, lasting, strict=True
    ):
        said = "manoeu- vres" if brief else name
        if brief and together and together[-1][0] == said:
            together[-1] = (said, together[-1][1], together[-1][2] + float(long))
        else:
            together.append((said, float(start), float(long)))

    def fits(name: str, long: float) -> bool:
        return _LETTER * max(map(len, name.split())) < long / end * WIDTH

    return [
        {"minutes": start, "segment": name.replace(" ", "|") * fits(name, min(long, end - start))}
        for name, start, long in together
        if start < end
    ]


def _course(
    rows: list[dict[str, Any]], x: Any, key: str, title: str, bound: float, word: str, *, last: bool = False
) -> list[Any]:
    """Layers of one quantity over the flight, with the bound that must not be passed."""
    import altair as alt

    values = [row[key] for row in rows]
    low, high = min([*values, bound]), max([*values, bound])
    room, headroom = 0.08 * max(high - low, 1.0), 2.5 if key != "charge_pc" else 7.0
    y: Any = alt.Y(f"{key}:Q", scale=alt.Scale(domain=[low - room, high + headroom * room], nice=False)).axis(
        title=title
    )
    line: Any = alt.Chart(inline(rows))
    rule: Any = alt.Chart(inline([{key: bound, "said": f"{word} {bound:.3g}"}]))
    axis = x.axis(title="time, min" if last else None, labels=last)
    return [
        line.mark_line(color=COLOURS[0], interpolate="step-after" if key == "voltage_V" else "linear").encode(
            x=axis, y=y
        ),
        rule.mark_rule(color=COLOURS[1], strokeDash=[5, 3]).encode(y=y),
        # On the left, where all begins far from its bound.
        rule.mark_text(color=COLOURS[1], align="left", dy=-6, dx=4, fontSize=11).encode(
            x=alt.value(0), y=y, text="said:N"
        ),
    ]


def wear_chart(found: LifeAnswer) -> altair.VConcatChart:
    """Return for every part which cycles do its damage, with its life beside."""
    import altair as alt

    lives = [life for life in found.lives if life.hours is not None]
    order = [f"{life.part}: {life.mode}" for life in lives]
    y, names = beside("name", order)
    rows, said = [], []
    for life, name in zip(lives, order, strict=True):
        start = 0.0
        for group, share in life.groups:
            if share > 0.0:
                rows.append(
                    {
                        "name": name,
                        "group": group,
                        "share": 100 * share,
                        "from": start,
                        "to": start + 100 * share,
                    }
                )
                start += 100 * share
        past = " *" if life.beyond else ""
        words = f"{hours(life)}{past}"
        said.append({"name": name, "said": words, "inside": start <= 0.0})
    present = [group for group in GROUPS if any(row["group"] == group for row in rows)]
    shade: Any = alt.Color(
        "group:N",
        scale=alt.Scale(domain=present, range=[GROUPS[group] for group in present]),
        legend=alt.Legend(title="cycles", orient="bottom", columns=4),
    )
    x: Any = alt.X("from:Q", scale=alt.Scale(domain=[0.0, 100.0])).axis(title="share of the damage, %")
    bars: Any = alt.Chart(inline(rows)) if rows else None
    text: Any = alt.Chart(inline(said))
    layers: list[Any] = []
    if bars is not None:
        layers.append(
            bars.mark_bar(height=18, stroke="#ffffff").encode(
                y=y,
                x=x,
                x2="to:Q",
                color=shade,
                tooltip=["name:N", "group:N", alt.Tooltip("share:Q", format=".1f", title="share, %")],
            )
        )
    layers += [
        text.mark_text(align="left", dx=6, fontSize=12, color=MARK).encode(
            y=y, x=alt.value(350), text="said:N"
        ),
        *names,
    ]
    chart = alt.layer(*layers).properties(width=350, height=ROW * len(order))
    notes = [
        _verdict(life_words.headline(found), found.build),
        *life_words.sentences(found)[:2],
        "Beside the bars: life, scatter taken off; no bar where nothing is damaged.",
        *(["* read past the end of the tests."] * any(life.beyond for life in lives)),
    ]
    whole = framed_of(alt.vconcat(chart), "what wears the parts", notes, found.build, found.loads.breaches)
    return whole.properties(padding={"left": 16, "top": 16, "bottom": 16, "right": 70})
