"""A scanned blade: text to paste into a build sheet, and plain data."""

from __future__ import annotations

import math
from typing import Any

from bladehold.cautions import cautions
from bladehold.quantity import printable, shown
from bladehold.rotor import BladeScan


def scan_sentences(scan: BladeScan, name: str) -> list[str]:
    """Return what a scan says beside its sections: size, balance, sense, doubts; name - of the file."""
    beyond = 1e3 * (scan.pivot_radius - scan.root_end)
    return [
        f"Measured from {name}, {scan.faces} faces.",
        f"Volume {1e6 * scan.volume:.2f} cm^3; if it is of one density, the blade balances "
        f"{1e3 * scan.balance_point:.1f} mm outboard of the pivot.",
        f"With the tip at {1e3 * scan.radius:.1f} mm the root ends {abs(beyond):.1f} mm "
        f"{'inboard' if beyond >= 0.0 else 'outboard'} of the pivot: compare with the blade in hand.",
        f"It turns {scan.turning}, seen from above against the thrust.",
        "The section's own shape is not read: name the one that comes nearest, or leave it to be assumed.",
        *doubt_sentences(scan),
    ]


def doubt_sentences(scan: BladeScan) -> list[str]:
    """Return what should not be believed before it is looked at."""
    return [f"! To doubt: {text}" for text in scan.breaches]


def scan_rows(scan: BladeScan, section: str | None = None) -> list[dict[str, Any]]:
    """Return a row per section cut; section - name of a blade section to write into every row."""
    named = {} if section is None else {"section": section}
    return [
        {
            "at": row["at"],
            "radius_m": float(radius),
            "chord_m": row["chord"],
            "twist_deg": math.degrees(row["twist"]),
            "thickness_m": row["thickness"],
            "area_m2": float(area),
            **named,
        }
        for row, radius, area in zip(scan.rows(), scan.r, scan.area, strict=True)
    ]


def scan_csv_rows(scan: BladeScan, section: str | None = None) -> list[dict[str, Any]]:
    """Return the rows with the doubts, which concern the whole scan, as one text in each."""
    return [{**row, "breaches": "; ".join(scan.breaches)} for row in scan_rows(scan, section)]


def scan_data(scan: BladeScan, name: str, section: str | None = None) -> dict[str, Any]:
    """Return all of a scan as plain data; arguments as for `station_text`."""
    span = zip(scan.span_r, scan.span_area, strict=True)
    return {
        "file": name,
        "faces": scan.faces,
        "tip_radius_m": scan.radius,
        "pivot_radius_m": scan.pivot_radius,
        "root_end_m": scan.root_end,
        "volume_m3": scan.volume,
        "balance_point_m": scan.balance_point,
        "turning": scan.turning,
        "stations": scan_rows(scan, section),
        "area_over_span": [{"radius_m": float(r), "area_m2": float(area)} for r, area in span],
        "breaches": list(scan.breaches),
        "cautions": cautions(invented=False),
    }


def station_text(scan: BladeScan, name: str, section: str | None = None) -> str:
    """Return the station tables of a sheet as TOML; what else the scan says and the cautions are comments.

    Arguments: scan; name - of the file; section - blade section to write into every station.
    """
    lines = [f"# {printable(line)}" for line in scan_sentences(scan, name)]
    for row in scan_rows(scan, section):
        lines += [
            "",
            "[[propeller.station]]".ljust(32) + f"# area {1e6 * row['area_m2']:.1f} mm^2",
            f"at = {row['at']:.4f}",
            f'chord = "{1e3 * row["chord_m"]:.2f} mm"',
            f'twist = "{row["twist_deg"]:.2f} deg"',
            f'thickness = "{1e3 * row["thickness_m"]:.2f} mm"',
        ]
        if section is not None:
            lines.append(f"section = {shown(section)}")
    return "\n".join([*lines, "", *(f"# {line}" for line in cautions(invented=False))]) + "\n"
