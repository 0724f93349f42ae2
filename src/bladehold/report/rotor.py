"""A rotor over its speeds as people meet it: sentences, a table, plain data."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from rich.console import Console
from rich.table import Table
from rich.text import Text

from bladehold.air import GRAVITY
from bladehold.report.data import answer
from bladehold.report.terminal import show_cautions
from bladehold.rotor import FASTEST_TIP_MACH
from bladehold.sheet import Build
from bladehold.study.performance import Performance, calibrated
from bladehold.study.words import kgf, rpm

# What shapes the rotor, by its key in the sheet, in the words of table and pictures.
SHAPING = {
    "propeller.widest_chord": "widest chord",
    "propeller.widest_at": "place of the widest chord",
    "propeller.tip_chord": "tip chord",
    "propeller.root_thickness": "root thickness",
    "propeller.section": "section",
}


def rotor_sentences(found: Performance, build: Build) -> list[str]:
    """Return what stands behind the table: rotor, section, air, calibration, measured speed."""
    hover, air = found.hover, found.air
    sentences = [
        f"Rotor: {build.propeller.blades} blades, {build.propeller.diameter / 0.0254:.3g} in, section "
        f"{', '.join(hover.geometry.sections)}; air {float(air.density):.3f} kg/m³; hover.",
        f"{kgf(build.flying.used_thrust)} kgf need {rpm(float(hover.rotation_speed)):.0f} rpm, "
        f"{float(hover.torque):.3g} N·m and {float(hover.power):.0f} W at the shaft.",
        calibration_sentence(build),
        *assumed_sentences(build),
    ]
    if found.measured_over_model is not None:
        sentences.append(
            f"The speed measured at that thrust is {found.measured_over_model - 1:+.1%} off this one."
        )
    return [*sentences, *left_out_sentences(found)]


def left_out_sentences(found: Performance) -> list[str]:
    """Return whether the table or chart ends early, and why."""
    if not found.left_out:
        return []
    return [f"Faster speeds are left out: the blade tip would pass Mach {FASTEST_TIP_MACH:g}."]


def calibration_sentence(build: Build) -> str:
    """Return whether a bench run stands behind the rotor, and what it taught."""
    if not calibrated(build):
        return (
            "Not calibrated: thrust at a given speed may be 10 % off, more with a guessed section; "
            "a run on a stand fits it."
        )
    fit = build.propeller.correction
    return (
        f"Calibrated on a stand run: pitch {math.degrees(fit.pitch_offset):+.2f} deg, "
        f"chord x {fit.chord_scale:.3f}, section drag x {fit.profile_drag_factor:.2f}, "
        f"lift exponent {fit.lift_exponent:+.2f}; "
        f"thrust within {build.propeller.thrust_uncertainty:.1%} (standard deviation)."
    )


def assumed_shape(build: Build) -> list[str]:
    """Return what nobody gave of all that shapes the rotor, in words."""
    assumed = {item.key for item in build.assumptions}
    return [name for key, name in SHAPING.items() if key in assumed]


def assumed_sentences(build: Build) -> list[str]:
    """Return which measures behind the rotor were assumed, if any."""
    listed = assumed_shape(build)
    return [f"Assumed, not given: {', '.join(listed)}; `show` says how."] if listed else []


def rotor_rows(found: Performance) -> list[dict[str, Any]]:
    """Return a row per speed; coefficients in the propeller convention."""
    solution = found.solution
    return [
        {
            "speed_rpm": rpm(float(solution.rotation_speed[row])),
            "thrust_N": float(solution.thrust[row]),
            "thrust_kgf": float(solution.thrust[row]) / GRAVITY,
            "torque_Nm": float(solution.torque[row]),
            "power_W": float(solution.power[row]),
            "tip_mach": float(solution.tip_mach[row]),
            "thrust_coefficient": float(found.thrust_coefficient[row]),
            "power_coefficient": float(found.power_coefficient[row]),
            "figure_of_merit": float(found.figure_of_merit[row]),
            "thrust_per_power_g_per_W": float(found.thrust_per_power[row]),
            "breaches": list(found.breaches[row]),
        }
        for row in range(solution.thrust.size)
    ]


def rotor_csv_rows(found: Performance) -> list[dict[str, Any]]:
    """Return the rows with the ranges left as one text."""
    return [{**row, "breaches": "; ".join(row["breaches"])} for row in rotor_rows(found)]


def rotor_data(found: Performance, build: Build) -> dict[str, Any]:
    """Return the performance as plain data."""
    return answer(
        build,
        {
            "blades": build.propeller.blades,
            "diameter_m": build.propeller.diameter,
            "sections": list(found.hover.geometry.sections),
            "density_kg_m3": float(found.air.density),
            "convention": "propeller: CT = T/(rho n^2 D^4), CP = P/(rho n^3 D^5)",
            "calibrated": calibrated(build),
            "assumed": assumed_shape(build),
            "used_thrust_N": build.flying.used_thrust,
            "used_speed_rpm": rpm(float(found.hover.rotation_speed)),
            "used_torque_Nm": float(found.hover.torque),
            "used_power_W": float(found.hover.power),
            "used_breaches": list(found.hover.breaches),
            "measured_over_model_speed": found.measured_over_model,
            "speeds_left_out": found.left_out,
            "breaches": list(found.solution.breaches),
            "rows": rotor_rows(found),
        },
    )


def show_rotor(console: Console, found: Performance, build: Build) -> None:
    """Print the sentences, the table and the ranges that were left."""
    console.print(Text(f"{build.name}: the rotor in hover", style="bold"))
    for sentence in rotor_sentences(found, build):
        console.print(Text(sentence))
    console.print()
    console.print(_table(found))
    if found.solution.breaches:
        console.print(
            Text("! ranges left at the speeds marked, each where it is left furthest:", style="yellow")
        )
        for text in found.solution.breaches:
            console.print(Text(f" - {text}"))
    show_cautions(console, invented=build.invented)


def _table(found: Performance) -> Table:
    title = "Over speed; > the thrust used; CT, CP in the propeller convention"
    table = Table(title=title, title_justify="left", padding=(0, 1))
    titles = ("", "rpm", "thrust\nkgf", "torque\nN·m", "shaft\nW", "tip\nMach", "CT", "CP", "FM", "g/W")
    for name in titles:
        table.add_column(name, justify="right" if name else "left")
    used = int(np.argmin(np.abs(found.solution.rotation_speed - found.hover.rotation_speed)))
    for place, row in enumerate(rotor_rows(found)):
        table.add_row(
            (">" if place == used else " ") + ("!" if row["breaches"] else ""),
            f"{row['speed_rpm']:.0f}",
            f"{row['thrust_kgf']:.2f}",
            f"{row['torque_Nm']:.3f}",
            f"{row['power_W']:.0f}",
            f"{row['tip_mach']:.2f}",
            f"{row['thrust_coefficient']:.4f}",
            f"{row['power_coefficient']:.4f}",
            f"{row['figure_of_merit']:.2f}",
            f"{row['thrust_per_power_g_per_W']:.1f}",
            style="bold" if place == used else "",
        )
    return table
