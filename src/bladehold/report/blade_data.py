"""The moving blade as plain data: rows for tables and CSV, one dictionary for JSON."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import asdict, fields
from typing import Any

import numpy as np

from bladehold.blade import Crossing, LoadCase, RootComponents
from bladehold.report.data import answer
from bladehold.sheet import Build
from bladehold.study import BladeAnswer
from bladehold.study.blade_folding import Folding
from bladehold.study.blade_motion import azimuths, departure
from bladehold.study.words import rpm

UNITS = {
    "centrifugal": "N",
    "normal_shear": "N",
    "in_plane_shear": "N",
    "flap": "Nm",
    "lag": "Nm",
    "feathering": "Nm",
}


def condition_rows(found: BladeAnswer) -> list[dict[str, Any]]:
    """Return a row per flight condition: mean and greatest departure from it, elastic and rigid."""
    motion = found.motion
    rows: list[dict[str, Any]] = [
        {"name": name, "speed_rpm": rpm(float(speed))}
        for name, speed in zip(motion.names, motion.speed, strict=True)
    ]
    for kind, history in (("elastic", motion.components), ("rigid", motion.rigid)):
        for component, (mean, swing) in departure(history).items():
            unit = UNITS[component]
            for row, middle, apart in zip(rows, mean, swing, strict=True):
                row[f"{component}_{kind}_mean_{unit}"] = float(middle)
                row[f"{component}_{kind}_swing_{unit}"] = float(apart)
    return rows


def case_rows(found: BladeAnswer) -> list[dict[str, Any]]:
    """Return a row per load case: times per flight, furthest value and range of every component."""
    return [_case_row(case) for case in found.cases]


def _case_row(case: LoadCase) -> dict[str, Any]:
    row: dict[str, Any] = {"name": case.name, "times_per_flight": float(case.repeats)}
    peak, span = case.peak, case.span
    for field in fields(RootComponents):
        row[f"{field.name}_peak_{UNITS[field.name]}"] = float(getattr(peak, field.name))
        row[f"{field.name}_range_{UNITS[field.name]}"] = float(getattr(span, field.name))
    return {**row, "basis": case.basis}


def blade_csv_rows(found: BladeAnswer) -> list[dict[str, Any]]:
    """Return a row per load case, those of conditions with speed, means and swings; empty for events."""
    conditions = {row["name"]: row for row in condition_rows(found)}
    empty = dict.fromkeys(next(iter(conditions.values())))
    return [{**conditions.get(row["name"], empty), **row} for row in case_rows(found)]


def mode_rows(found: BladeAnswer) -> list[dict[str, Any]]:
    """Return a row per mode at hover speed, with the frequency of its like at rest (None: beyond those kept).

    Modes are told apart by kind: the second flap mode at rest belongs to the second flap mode in hover,
    wherever lag modes come between.
    """
    modes = found.standing_and_hovering
    turns = float(modes.speed[1]) / (2.0 * math.pi)
    flap = modes.flap_energy > 0.5
    rows = []
    for mode in range(modes.frequency.shape[1]):
        kind = bool(flap[1, mode])
        number = int((flap[1, : mode + 1] == kind).sum())
        alike = np.flatnonzero(flap[0] == kind)
        at_rest = float(modes.frequency[0, alike[number - 1]]) if number <= alike.size else None
        hertz = float(modes.frequency[1, mode])
        rows.append(
            {
                "mode": mode + 1,
                "kind": kind_of(flap=kind),
                "number_of_kind": number,
                "at_rest_Hz": at_rest,
                "in_hover_Hz": hertz,
                "in_hover_per_turn": hertz / turns,
            }
        )
    return rows


def crossing_rows(found: BladeAnswer) -> list[dict[str, Any]]:
    """Return a row per crossing of a mode with an order, by speed."""
    return [_crossing_row(one) for one in found.motion.campbell.crossings]


def _crossing_row(one: Crossing) -> dict[str, Any]:
    return {
        "mode": one.mode,
        "kind": kind_of(flap=one.flap),
        "order": one.order,
        "speed_rpm": rpm(one.speed),
        "frequency_Hz": one.frequency,
        "inside": one.inside,
        "distance": one.distance,
    }


def kind_of(*, flap: bool) -> str:
    """Return the kind of a mode in a word."""
    return "flap" if flap else "lag"


def folding_data(folds: Folding) -> dict[str, Any]:
    """Return how the blades fold as plain data; pairs are for the least and the greatest friction."""
    rest, start = folds.hover_band, folds.start
    return {
        "friction_measured": folds.measured,
        "hover_rpm": rpm(folds.hover),
        "friction_allowed_Nm": folds.friction_allowed,
        "straight_within_deg": math.degrees(folds.straight_angle),
        "angle_allowed_deg": math.degrees(folds.tolerance),
        "grade_wanted_mm_s": 1e3 * folds.grade_wanted,
        "friction": [
            {
                "end": end,
                "clamp_friction_Nm": float(folds.blade.clamp_friction[at]),
                "friction_in_hover_Nm": float(folds.blade.friction_moment(folds.hover)[at]),
                "hover_leading_deg": math.degrees(rest.leading[at]),
                "hover_without_friction_deg": math.degrees(rest.without_friction[at]),
                "hover_trailing_deg": math.degrees(rest.trailing[at]),
                "straightens_at_rpm": rpm(float(folds.straightens_at[at])),
                "unbalance_g_mm": 1e6 * float(folds.unbalance[at]),
                "unbalance_force_N": float(folds.force[at]),
                "balance_grade_mm_s": 1e3 * float(folds.grade[at]),
                "straightened": bool(start.straightened[at]),
                "straightened_after_s": float(start.settled_time[at]),
                "overshoot_deg": math.degrees(start.overshoot[at]),
                "end_angle_deg": math.degrees(start.end_angle[at]),
                "stop_energy_J": float(start.stop_energy[at]),
            }
            for at, end in enumerate(("least", "greatest"))
        ],
        "band": list(band_rows(folds)),
        "breaches": list(folds.breaches),
    }


def band_rows(folds: Folding) -> Iterator[dict[str, Any]]:
    """Yield a row per speed and end of friction: the angles between which a blade can rest."""
    for row, speed in enumerate(folds.speed):
        for at, end in enumerate(("least", "greatest")):
            yield {
                "speed_rpm": rpm(float(speed)),
                "friction": end,
                "leading_deg": math.degrees(folds.band.leading[row, at]),
                "trailing_deg": math.degrees(folds.band.trailing[row, at]),
            }


def blade_data(found: BladeAnswer, build: Build) -> dict[str, Any]:
    """Return everything that `blade` says as plain data."""
    motion, built = found.motion, build.propeller.structure
    campbell, model = motion.campbell, motion.model
    return answer(
        build,
        {
            "layup": built.layup,
            "skin": built.skin.name,
            "core": built.core.name if built.core else None,
            "skin_thickness_m": built.skin_thickness,
            "weighed_over_layup_mass": model.spread.scale,
            "density_taper": model.spread.taper,
            "tap_test_stiffness_factor": model.stiffness_factor,
            "hardest_condition": motion.names[found.hardest],
            "conditions": condition_rows(found),
            "turn": _turn_data(found),
            "modes": mode_rows(found),
            "campbell": {
                "running_rpm": [rpm(end) for end in campbell.running],
                "orders": [int(order) for order in campbell.orders],
                "speed_rpm": [rpm(float(speed)) for speed in campbell.speed],
                "frequency_Hz": campbell.frequency.tolist(),
                "crossings": crossing_rows(found),
                "warnings": list(campbell.warnings()),
            },
            "cases": case_rows(found),
            "folding": folding_data(found.folding) if found.folding else None,
            "breaches": list(found.breaches),
            "assumptions": [asdict(item) for item in (*build.assumptions, *build.blade_assumptions)],
            "notes": list(build.notes),
        },
    )


def _turn_data(found: BladeAnswer) -> dict[str, Any]:
    """Flap moment over azimuth, elastic and rigid, of every condition."""
    motion = found.motion
    return {
        "azimuth_deg": np.degrees(azimuths()).tolist(),
        "flap": [
            {
                "condition": name,
                "elastic_Nm": motion.elastic.flap_moment[at].tolist(),
                "rigid_Nm": motion.rigid.flap[at].tolist(),
            }
            for at, name in enumerate(motion.names)
        ],
    }
