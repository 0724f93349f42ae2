"""The moving blade as people meet it: a headline, four tables, and what stands behind them."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np
from rich.console import Console
from rich.table import Table
from rich.text import Text

from bladehold.blade import BalanceError
from bladehold.report.blade_data import case_rows, condition_rows, crossing_rows, folding_data, mode_rows
from bladehold.report.plain_table import number_table, show_table
from bladehold.report.rotor import calibration_sentence
from bladehold.report.terminal import show_assumptions, show_cautions, show_notes
from bladehold.sheet import Build
from bladehold.study import BladeAnswer
from bladehold.study.words import rpm


def balance_sentence(error: BalanceError) -> str:
    """Return in words that mass and balance point do not go together; both places in mm."""
    return (
        f"{1e3 * error.measured:.1f} mm does not go with the blade's chord and thickness, which put it at "
        f"{1e3 * error.from_sections:.1f} mm; even a density that changes along the span by "
        f"{error.greatest_taper:.0%} brings it no nearer than {1e3 * error.nearest:.1f} mm. Measure it again "
        "from the pivot, or the chords"
    )


def headline(found: BladeAnswer, build: Build) -> str:
    """Return how many resonances lie in the running range, and where the flap moment is highest."""
    campbell = found.motion.campbell
    inside = sum(one.inside for one in campbell.crossings)
    low, high = (rpm(end) for end in campbell.running)
    return (
        f"{build.name}: {inside or 'no'} crossing{'' if inside == 1 else 's'} of a frequency with an order "
        f"inside the running range ({low:.0f} to {high:.0f} rpm); {flap_sentence(found)}"
    )


def flap_sentence(found: BladeAnswer) -> str:
    """Return the highest flap moment at the pivot, where it comes, and what a rigid blade has there."""
    motion, at = found.motion, found.hardest
    elastic, rigid = (
        float(np.abs(values[at]).max()) for values in (motion.elastic.flap_moment, motion.rigid.flap)
    )
    event = max(found.events, key=lambda case: abs(float(case.peak.flap)))
    beyond = abs(float(event.peak.flap))
    more = f"; the event {event.name} reaches {beyond:.2f}" if beyond > elastic else ""
    return f"highest flap moment {elastic:.2f} N·m in {motion.names[at]} (rigid blade {rigid:.2f}){more}."


def layup_sentence(found: BladeAnswer, build: Build) -> str:
    """Return how the blade is built, and what scale and tap test say to that."""
    built, model = build.propeller.structure, found.motion.model
    skin = f", skin {1e3 * built.skin_thickness:.2g} mm" if built.skin_thickness is not None else ""
    text = (
        f"Lay-up {built.layup}{skin}; the blade weighs {model.spread.scale:.2f} times what that would weigh"
    )
    if model.stiffness_factor is None:
        return f"{text}; stiffness from the lay-up, no tap test."
    return f"{text}; its stiffness by the tap test is {model.stiffness_factor:.2f} times that of the lay-up."


def crossing_distance(distance: float, *, inside: bool) -> str:
    """Return where a crossing lies to the running range, in words."""
    if inside:
        return "inside"
    return f"{abs(distance):.0%} {'below' if distance < 0.0 else 'above'}"


def folding_sentences(found: BladeAnswer) -> list[str]:
    """Return where friction comes from, what would be allowed, and plainly whether the blades come out."""
    folds = found.folding
    if folds is None:
        return []
    data = folding_data(folds)
    source = "measured" if folds.measured else "from the least and greatest preload of the pivot screw"
    sentences = [
        f"Friction {source}; the pin's own friction counts in the greatest. "
        f"For G {data['grade_wanted_mm_s']:g} the blades may differ by ±{data['angle_allowed_deg']:.2g} deg: "
        f"friction up to {data['friction_allowed_Nm']:.2g} N·m."
    ]
    stuck = [row for row in data["friction"] if not row["straightened"]]
    if stuck:
        which = "any friction in that range" if len(stuck) == 2 else f"the {stuck[0]['end']} friction"
        rows = " and ".join(f"{row['end_angle_deg']:.1f}" for row in stuck)
        need = stuck[0]["straightens_at_rpm"]
        near = f"within {data['straight_within_deg']:.3g} deg of where it would rest without friction"
        how = f"To come {near} takes {need:.0f} rpm" if math.isfinite(need) else f"No speed brings it {near}"
        sentences.append(
            f"! With {which} a folded blade does NOT come out "
            f"straight in hover ({data['hover_rpm']:.0f} rpm): it stays at {rows} deg. {how}."
        )
    return sentences


def show_blade(console: Console, found: BladeAnswer, build: Build) -> None:
    """Print headline, tables, warnings, ranges left, what was assumed, and the cautions."""
    console.print(Text(headline(found, build), style="bold"))
    console.print(Text(layup_sentence(found, build)))
    console.print(Text(calibration_sentence(build)))
    for title, table in (
        _condition_table(found, clamped=not build.propeller.folding),
        _mode_table(found),
        _crossing_table(found),
        _case_table(found),
    ):
        show_table(console, title, table)
    if found.folding is not None:
        show_table(console, "Folding", _folding_table(folding_data(found.folding)))
        for sentence in folding_sentences(found):
            console.print(Text(sentence, style="yellow" if sentence.startswith("!") else ""))
    show_notes(console, "Warnings", found.motion.campbell.warnings())
    show_notes(console, "Ranges left", found.breaches)
    show_notes(console, "Notes on the sheet", build.notes)
    show_assumptions(console, (*build.assumptions, *build.blade_assumptions))
    show_cautions(console, invented=build.invented)


def _condition_table(found: BladeAnswer, *, clamped: bool) -> tuple[str, Table]:
    lag = ("lag\nN·m",) if clamped else ()
    flap = ("flap N·m\nelastic", "flap N·m\nrigid")
    table = number_table("condition", "speed\nrpm", "pull\nN", *flap, "shear\nN", *lag, "feath.\nN·m")
    for row in condition_rows(found):
        table.add_row(
            row["name"],
            f"{row['speed_rpm']:.0f}",
            f"{row['centrifugal_elastic_mean_N']:.0f}",
            f"{row['flap_elastic_mean_Nm']:.2f} ± {row['flap_elastic_swing_Nm']:.2f}",
            f"{row['flap_rigid_mean_Nm']:.2f} ± {row['flap_rigid_swing_Nm']:.2f}",
            _swung(row, "normal_shear", "N", 0),
            *([_swung(row, "lag", "Nm", 2)] if clamped else []),
            f"{row['feathering_elastic_mean_Nm']:.2f}",
        )
    return "Loads at the pivot, mean ± swing (pull: centrifugal; feath.: mean feathering)", table


def _swung(row: dict[str, Any], component: str, unit: str, digits: int) -> str:
    mean, swing = (row[f"{component}_elastic_{part}_{unit}"] for part in ("mean", "swing"))
    return f"{mean:.{digits}f} ± {swing:.{digits}f}"


def _mode_table(found: BladeAnswer) -> tuple[str, Table]:
    table = number_table("mode", "at rest\nHz", "in hover\nHz", "per turn\nin hover")
    for row in mode_rows(found):
        table.add_row(
            f"{row['mode']}  {row['kind']} {row['number_of_kind']}",
            "-" if row["at_rest_Hz"] is None else f"{row['at_rest_Hz']:.1f}",
            f"{row['in_hover_Hz']:.1f}",
            f"{row['in_hover_per_turn']:.2f}",
        )
    return "Natural frequencies, in their order in hover", table


def _crossing_table(found: BladeAnswer) -> tuple[str, Table]:
    low, high = (rpm(end) for end in found.motion.campbell.running)
    title = f"Where frequencies meet orders; running range {low:.0f} to {high:.0f} rpm"
    table = number_table("mode", "order", "speed\nrpm", "Hz", "running range")
    for row in crossing_rows(found):
        table.add_row(
            f"{row['mode']}  {row['kind']}",
            f"{row['order']}P",
            f"{row['speed_rpm']:.0f}",
            f"{row['frequency_Hz']:.0f}",
            crossing_distance(row["distance"], inside=row["inside"]),
            style="bold" if row["inside"] else "",
        )
    return title, table


def _case_table(found: BladeAnswer) -> tuple[str, Table]:
    table = number_table(
        "load case", "times per\nflight", "flap\nN·m", "range", "lag\nN·m", "range", "shear\nN", "range"
    )
    for row in case_rows(found):
        times = row["times_per_flight"]
        table.add_row(
            row["name"],
            f"{times:.0f}" if times else "not counted",
            f"{_zero(row['flap_peak_Nm']):.2f}",
            f"{row['flap_range_Nm']:.2f}",
            f"{_zero(row['lag_peak_Nm']):.2f}",
            f"{row['lag_range_Nm']:.2f}",
            f"{row['normal_shear_peak_N']:.0f}",
            f"{row['normal_shear_range_N']:.0f}",
        )
    return "Load cases: furthest value and range", table


def _zero(value: float) -> float:
    """The value, without the sign of one that is shown as zero."""
    return value if abs(value) >= 0.005 else 0.0


def _folding_table(data: dict[str, Any]) -> Table:
    rows = data["friction"]
    table = number_table("", "least friction", "greatest friction")
    lines: dict[str, Callable[[dict[str, Any]], str]] = {
        "friction at rest, N·m": lambda row: f"{row['clamp_friction_Nm']:.3g}",
        "friction in hover, N·m": lambda row: f"{row['friction_in_hover_Nm']:.3g}",
        "may rest in hover at, deg": lambda row: (
            f"{row['hover_leading_deg']:.1f} to {row['hover_trailing_deg']:.1f}"
        ),
        f"straight to {data['straight_within_deg']:.3g} deg from, rpm": lambda row: _finite(
            row["straightens_at_rpm"], ".0f", "never"
        ),
        "worst unbalance in hover, g·mm": lambda row: f"{row['unbalance_g_mm']:.0f}",
        "its force, N": lambda row: f"{row['unbalance_force_N']:.1f}",
        "balance grade, G": lambda row: f"{row['balance_grade_mm_s']:.0f}",
        "start from folded: straight after, s": lambda row: _finite(
            row["straightened_after_s"], ".2f", "does not"
        ),
        "overshoot, deg": lambda row: f"{row['overshoot_deg']:.1f}",
        "energy into the stop, J": lambda row: f"{row['stop_energy_J']:.3f}",
    }
    for name, told in lines.items():
        table.add_row(name, *(told(row) for row in rows))
    return table


def _finite(value: float, form: str, otherwise: str) -> str:
    return format(value, form) if math.isfinite(value) else otherwise
