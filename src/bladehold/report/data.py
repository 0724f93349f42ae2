"""The same results as plain data: one dictionary for JSON, rows for CSV."""

from __future__ import annotations

import csv
import io
import json
import math
from collections.abc import Iterable, Mapping
from dataclasses import asdict
from typing import Any

from bladehold.air import GRAVITY
from bladehold.cautions import cautions
from bladehold.sheet import Build
from bladehold.study.advise import Advices
from bladehold.study.assess import Assessment
from bladehold.study.flight_limit import FlightLimits
from bladehold.study.limit import Limit
from bladehold.study.loads import Loads
from bladehold.study.size import Sizing
from bladehold.study.words import rpm, verdict_sentence


def assessment_data(found: Assessment, advices: Advices, limit: Limit, sizing: Sizing) -> dict[str, Any]:
    """Return everything `check` says as plain data."""
    return {
        "name": found.build.name,
        "verdict": found.verdict,
        "sentence": verdict_sentence(found),
        "holds": found.holds,
        "margin": found.margin,
        "flight_margin": found.flight_margin,
        "governing": found.governing.key,
        "reservations": list(found.reservations),
        "advice": asdict(advices),
        "limit": limit_data(limit),
        "size": sizing_data(sizing),
        "checks": found.table(),
        "loads": load_rows(found.loads),
        "assumptions": [asdict(item) for item in found.build.assumptions],
        "notes": list(found.build.notes),
        "breaches": list(found.breaches),
        "cautions": cautions(invented=found.build.invented),
    }


def answer(build: Build, found: dict[str, Any]) -> dict[str, Any]:
    """Return an answer about one build as it stands alone: with the build's name and the cautions."""
    return {"name": build.name, **found, "cautions": cautions(invented=build.invented)}


def limit_data(limit: Limit) -> dict[str, Any]:
    """Return the limits as plain data, thrusts in N and kgf, speed in rpm."""
    return {
        "used_thrust_N": limit.used_thrust,
        "claimed_thrust_N": limit.claimed_thrust,
        "share_of_claim": limit.share_of_claim,
        "parts": [
            {
                "part": part.part,
                "thrust_N": part.thrust,
                "thrust_kgf": part.thrust / GRAVITY,
                "peak_thrust_N": part.peak_thrust,
                "speed_rpm": rpm(part.speed),
            }
            for part in limit.parts
        ],
    }


def flight_limit_data(found: FlightLimits) -> dict[str, Any]:
    """Return how fast and hard it may be flown as plain data; a limit is None where nothing looked at breaks
    it, 0 where the part does not hold even at the least.
    """

    def plain(value: float) -> float | None:
        return value if math.isfinite(value) else None

    return {
        "asked": {"speed_m_s": found.asked[0], "load_factor": found.asked[1]},
        "looked_at": {"speed_m_s": found.greatest[0], "load_factor": found.greatest[1]},
        "parts": [
            {
                "part": part.part,
                "level_speed_m_s": plain(part.speed),
                "load_factor": plain(part.load_factor),
            }
            for part in found.parts
        ],
    }


def sizing_data(sizing: Sizing) -> dict[str, Any]:
    """Return the candidates as plain data, and the smallest that holds."""
    smallest = sizing.smallest
    return {
        "smallest": None if smallest is None else asdict(smallest),
        "candidates": [{**asdict(candidate), "holds": candidate.holds} for candidate in sizing.candidates],
        "untouched": {"margin": sizing.rest[0], "check": sizing.rest[1]},
    }


def load_rows(loads: Loads) -> list[dict[str, Any]]:
    """Return the loads of every condition as rows, SI but for the speed in rpm."""
    root = loads.root
    return [
        {
            "condition": name,
            "thrust_N": loads.thrust[place],
            "speed_rpm": rpm(loads.speed[place]),
            "torque_Nm": loads.torque[place],
            "centrifugal_N": root.centrifugal[place],
            "lift_N": root.lift[place],
            "drag_N": root.drag[place],
            "flap_mean_Nm": root.flap_mean[place],
            "flap_cyclic_Nm": root.flap_cyclic[place],
            "lag_moment_Nm": root.lag_moment[place],
            "lag_angle_deg": math.degrees(root.lag_angle[place]),
            "hub_moment_Nm": loads.hub_moment[place],
        }
        for place, name in enumerate(loads.names)
    ]


def check_rows(found: Assessment) -> list[dict[str, Any]]:
    """Return the checks as flat rows for CSV."""
    rows = []
    for check in found.checks:
        row = check.as_dict()
        row["inputs"] = "; ".join(f"{i.name} = {i.value:.6g} {i.unit}".strip() for i in check.inputs)
        row["unconfirmed"] = "; ".join(check.unconfirmed)
        row["breaches"] = "; ".join(check.breaches)
        rows.append(row)
    return rows


def as_json(data: object) -> str:
    """Return data as JSON text; what is infinite or undefined becomes null."""
    return json.dumps(_plain(data), indent=2, ensure_ascii=False, allow_nan=False)


def _plain(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {str(key): _plain(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(item) for item in value]
    if isinstance(value, bool | str | int) or value is None:
        return value
    number = float(value)
    return number if math.isfinite(number) else None


def as_csv(rows: Iterable[Mapping[str, Any]]) -> str:
    """Return rows as CSV text with a header line; what is unknown is an empty cell."""
    listed = [_plain(dict(row)) for row in rows]
    out = io.StringIO()
    writer = csv.DictWriter(out, fieldnames=list(listed[0]) if listed else [], lineterminator="\n")
    writer.writeheader()
    writer.writerows(listed)
    return out.getvalue()
