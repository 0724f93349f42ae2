"""A calibration as people meet it: rows measured against model, what was left out, and the chart."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import numpy as np
from rich.console import Console
from rich.table import Table
from rich.text import Text

from bladehold.air import GRAVITY
from bladehold.cautions import CAUTIONS, INVENTED
from bladehold.report.data import answer
from bladehold.report.render import GRID, INK, MUTED
from bladehold.report.terminal import show_cautions
from bladehold.sheet import Build
from bladehold.study.calibrate import Calibration
from bladehold.study.words import rpm

if TYPE_CHECKING:
    import altair

_MEASURED, _MODEL, _BEFORE = "#b3402a", "#1f4e79", "#8a9aa8"


def summary(found: Calibration) -> list[str]:
    """Return in sentences the four numbers with their spread, and how well the fit meets the run."""
    spread = np.sqrt(np.diag(found.covariance))
    fit = found.correction
    sentences = [
        f"Pitch {math.degrees(fit.pitch_offset):+.2f} ± {math.degrees(spread[0]):.2f} deg, "
        f"chord x {fit.chord_scale:.3f} ± {spread[1]:.3f}, "
        f"section drag x {fit.profile_drag_factor:.2f} ± {spread[2]:.2f}, "
        f"section lift x (Re/100 000)^({fit.lift_exponent:.2f} ± {spread[3]:.2f}) up to Re 200 000.",
        f"Thrust is met to {found.thrust_uncertainty:.1%} (standard deviation), before the fit it was "
        f"{np.mean(found.uncalibrated_thrust / found.run.thrust) - 1:+.1%} off on average.",
    ]
    if found.torque_uncertainty is not None:
        sentences.append(f"Torque is met to {found.torque_uncertainty:.1%}.")
    return sentences


def calibration_data(found: Calibration, build: Build) -> dict[str, Any]:
    """Return the calibration as plain data."""
    fit = found.correction
    return answer(
        build,
        {
            "pitch_offset_deg": math.degrees(fit.pitch_offset),
            "chord_scale": fit.chord_scale,
            "profile_drag_factor": fit.profile_drag_factor,
            "lift_exponent": fit.lift_exponent,
            "covariance": found.covariance.tolist(),
            "thrust_uncertainty": found.thrust_uncertainty,
            "torque_uncertainty": found.torque_uncertainty,
            "slips": [vars(slip) for slip in found.slips],
            "points": _points(found),
        },
    )


def _points(found: Calibration) -> list[dict[str, Any]]:
    run = found.run
    return [
        {
            "line": int(run.line[row]),
            "speed_rpm": rpm(run.speed[row]),
            "thrust_N": run.thrust[row],
            "model_thrust_N": found.thrust[row],
            "uncalibrated_thrust_N": found.uncalibrated_thrust[row],
            "thrust_residual": found.thrust[row] / run.thrust[row] - 1.0,
            "torque_Nm": run.torque[row],
            "model_torque_Nm": found.torque[row],
        }
        for row in range(run.speed.size)
    ]


def show_calibration(console: Console, found: Calibration, build: Build) -> None:
    """Print the fit, the rows and what was suspicious."""
    console.print(Text(f"{build.name}, calibrated on {found.run.name}", style="bold"))
    for sentence in summary(found):
        console.print(Text(sentence))
    table = Table(title="Measured and model", title_justify="left", padding=(0, 1))
    for title in ("line", "speed\nrpm", "thrust\nkgf", "model\nkgf", "off", "torque\nN·m", "model\nN·m"):
        table.add_column(title, justify="right")
    for point in _points(found):
        measured = point["torque_Nm"]
        table.add_row(
            str(point["line"]),
            f"{point['speed_rpm']:.0f}",
            f"{point['thrust_N'] / GRAVITY:.3f}",
            f"{point['model_thrust_N'] / GRAVITY:.3f}",
            f"{point['thrust_residual']:+.1%}",
            f"{measured:.3f}" if math.isfinite(measured) else "",
            f"{point['model_torque_Nm']:.3f}",
        )
    console.print(table)
    if found.slips:
        console.print(Text("Suspicious rows", style="bold"))
    for slip in found.slips:
        kept = "left out" if slip.left_out else "kept"
        console.print(Text(f" - line {slip.line}: {slip.reason} ({kept})"))
    show_cautions(console, invented=build.invented)


def calibration_chart(found: Calibration, name: str, *, invented: bool) -> altair.VConcatChart:
    """Return the chart: thrust over speed measured and modelled above, residuals below."""
    import altair as alt

    points = _points(found)
    rows = [
        {"rpm": p["speed_rpm"], "thrust": p[key] / GRAVITY, "what": what}
        for p in points
        for key, what in (
            ("thrust_N", "measured"),
            ("model_thrust_N", "model, calibrated"),
            ("uncalibrated_thrust_N", "model before"),
        )
    ]
    names = ["measured", "model, calibrated", "model before"]
    colour = alt.Color(
        "what:N",
        scale=alt.Scale(domain=names, range=[_MEASURED, _MODEL, _BEFORE]),
        legend=alt.Legend(title=None, orient="right"),
    )
    speeds = [point["speed_rpm"] for point in points]
    room = 0.06 * (max(speeds) - min(speeds) + 1.0)
    ends = alt.Scale(domain=[min(speeds) - room, max(speeds) + room], nice=False, padding=0)
    across = alt.X("rpm:Q", title="speed, rpm", scale=ends, axis=alt.Axis(format="d"))
    base = alt.Chart({"values": rows}).encode(
        x=across,
        y=alt.Y("thrust:Q", title="thrust, kgf"),
        color=colour,
        tooltip=["what:N", alt.Tooltip("rpm:Q", format=".0f"), alt.Tooltip("thrust:Q", format=".3f")],
    )
    lines = base.transform_filter("datum.what != 'measured'").mark_line()
    marks = base.transform_filter("datum.what == 'measured'").mark_point(size=70, filled=True, opacity=1)
    rest = [{"rpm": p["speed_rpm"], "off": 100 * p["thrust_residual"]} for p in points]
    residuals = (
        alt.Chart({"values": rest})
        .mark_bar(color=_MODEL, width=8)
        .encode(x=across, y=alt.Y("off:Q", title="model less measured, %"))
        .properties(width=560, height=110)
    )
    notes = [*summary(found), " ".join([*([INVENTED] if invented else []), CAUTIONS[0]])]
    title = alt.TitleParams(
        f"{name}: rotor calibrated on {found.run.name}",
        subtitle=notes,
        anchor="start",
        color=INK,
        subtitleColor=MUTED,
        offset=12,
    )
    upper = (lines + marks).properties(width=560, height=260)
    chart: altair.VConcatChart = alt.vconcat(upper, residuals, title=title, padding=16).configure_view(
        stroke=GRID
    )
    return chart
