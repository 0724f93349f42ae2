"""The retention joint as plain data: rows for tables and CSV, one dictionary for JSON."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

import numpy as np

from bladehold.joint.contact import ClevisState
from bladehold.report.data import answer
from bladehold.report.joint_words import headline, reasons, remarks, sentences
from bladehold.study import JointAnswer
from bladehold.study.failsafe import Loss
from bladehold.study.joint import POINTS
from bladehold.study.life import MemberLife
from bladehold.study.situation import greatest_pressure, inboard_moment, plate_moment
from bladehold.study.tightness import Tightness, Way


def state_rows(state: ClevisState, moment: Any) -> list[dict[str, Any]]:
    """Return a row per flap moment (N*m) of what the parts of a clevis feel."""
    opening = np.maximum(state.upper_opening, state.lower_opening)
    columns = {
        "flap_moment_Nm": np.asarray(moment, dtype=float),
        "screw_tension_N": state.screw_tension,
        "tie_force_N": state.tie_force,
        "face_pressure_Pa": greatest_pressure(state),
        "face_opening_m": opening,
        "plate_moment_at_hole_Nm": plate_moment(state),
        "plate_moment_inboard_Nm": inboard_moment(state),
    }
    rows = [{name: float(values[at]) for name, values in columns.items()} for at in range(opening.size)]
    return [{**row, "solved": bool(solved)} for row, solved in zip(rows, state.converged, strict=True)]


def point_rows(found: JointAnswer) -> list[dict[str, Any]]:
    """Return a row per point and preload: the greatest, and none."""
    points = found.curve.points
    return [
        {"point": name, "preload": preload, **row}
        for preload, state in (("greatest", points.tight), ("none", points.loose))
        for name, row in zip(POINTS, state_rows(state, points.moment), strict=True)
    ]


def joint_csv_rows(found: JointAnswer) -> list[dict[str, Any]]:
    """Return a row per flap moment of the curve and preload."""
    curve = found.curve
    return [
        {"preload": preload, **row}
        for preload, state in (("greatest", curve.tight), ("none", curve.loose))
        for row in state_rows(state, curve.moment)
    ]


def tightness_data(tight: Tightness) -> dict[str, Any]:
    """Return how tight the pivot may be as plain data."""
    set_at = None
    if tight.moment_least is not None:
        series = (tight.preload_least, tight.preload_greatest, tight.moment_least, tight.moment_greatest)
        names = ("preload_least_N", "preload_greatest_N", "moment_least_Nm", "moment_greatest_Nm")
        columns = {name: values for name, values in zip(names, series, strict=True) if values is not None}
        set_at = [
            {"temperature_K": kelvin, **{name: values[at] for name, values in columns.items()}}
            for at, kelvin in enumerate(tight.temperatures)
        ]
    return {
        "verdict": tight.verdict,
        "least_moment_Nm": tight.least_moment,
        "bounds": [
            {"name": one.name, "moment_Nm": one.moment, "possible": one.possible} for one in tight.bounds
        ],
        "governing": tight.governing,
        "straightens_at_rad_s": tight.straightens_at,
        "temperatures_K": list(tight.temperatures),
        "with_the_torque_of_the_sheet": set_at,
        "measured_Nm": tight.measured,
        "measured_serves": tight.measured_serves,
        "ways": [way_row(way) for way in tight.ways],
        "best_by_torque": tight.best_by_torque.name,
        "best_by_pull": tight.best_by_pull.name,
    }


def way_row(way: Way) -> dict[str, Any]:
    """Return one construction's windows as a row."""
    return {
        "name": way.name,
        "carried_by": way.carried_by,
        "preload_per_kelvin_N": way.gain,
        "creep_share": way.creep,
        "torque_least_Nm": way.torque_least,
        "torque_greatest_Nm": way.torque_greatest,
        "torque_width": way.torque_width,
        "torque_serves": way.torque_width >= 1.0,
        "pull_least_N": way.pull_least,
        "pull_greatest_N": way.pull_greatest,
        "pull_width": way.pull_width,
        "pull_serves": way.pull_width >= 1.0,
        "least_at_K": way.least_at,
        "greatest_at_K": way.greatest_at,
        "by_strength": way.by_strength,
    }


def life_row(life: MemberLife) -> dict[str, Any]:
    """Return one life as a row; hours are None where nothing is damaged and where it is not checked."""
    return {
        "part": life.part,
        "mode": life.mode,
        "checked": life.hours is not None,
        "life_h": life.hours,
        "case": life.case,
        "case_share": life.case_share,
        "load_multiplier": life.multiplier,
        "scatter": life.scatter,
        "beyond_tests": life.beyond,
        "method": life.method,
        "sources": list(life.sources),
        "unconfirmed": list(life.unconfirmed),
        "breaches": list(life.breaches),
    }


def loss_row(loss: Loss) -> dict[str, Any]:
    """Return one lost member as a row, with the margins that are left."""
    return {
        "member": loss.member,
        "how": loss.how,
        "in_hover": loss.in_hover,
        "in_all_flight": loss.in_all_flight,
        "why": loss.why,
        "advice": loss.advice,
        "opening_m": loss.opening,
        "wobble_rad": loss.wobble,
        "remaining": [asdict(one) for one in loss.remaining],
    }


def joint_data(found: JointAnswer) -> dict[str, Any]:
    """Return everything that `joint` says as plain data."""
    build, stack, curve = found.build, found.stack, found.curve
    return answer(
        build,
        {
            "holds": found.holds,
            "sentence": headline(found),
            "sentences": sentences(found),
            "reasons": reasons(found),
            "verdict_of_checks": found.assessment.verdict,
            "margin_of_checks": found.assessment.margin,
            "service_life_h": found.service_hours,
            "clamped": {
                "carried_by": stack.carried_by,
                "material": stack.material.name,
                "grip_m": stack.grip,
                "screw_stiffness_N_per_m": stack.screw_stiffness,
                "joint_stiffness_N_per_m": stack.joint_stiffness,
                "load_factor": stack.load_factor,
                "preload_per_kelvin_N": stack.gain,
                "preload_least_N": curve.preload_least,
                "preload_greatest_N": curve.preload_greatest,
            },
            "flap_stiffness_Nm_per_rad": found.stiffness,
            "first_gap_Nm": curve.first_gap,
            "first_gap_at_least_preload_Nm": curve.first_gap_least,
            "gapes_from_Nm": curve.opens_at,
            "greatest_flap_moment_Nm": curve.limit,
            "hardest_condition": curve.hardest,
            "clevis": point_rows(found),
            "curve": joint_csv_rows(found),
            "can_be_set": found.can_be_set,
            "set_right": found.set_right,
            "tightness": None if found.tightness is None else tightness_data(found.tightness),
            "lives": [life_row(life) for life in found.lives],
            "losses": [loss_row(loss) for loss in found.losses],
            "facts": [asdict(fact) for fact in found.facts],
            "breaches": remarks(found),
            "assumptions": [asdict(item) for item in build.assumptions],
            "notes": list(build.notes),
        },
    )
