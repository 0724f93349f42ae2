"""A scanned blade as text to paste into a build sheet."""

from __future__ import annotations

import math

from bladehold.quantity import printable, shown
from bladehold.rotor.scan import BladeScan


def station_text(scan: BladeScan, name: str, section: str | None = None) -> str:
    """Return the station tables of a sheet as TOML, headed by what else the scan says as comments.

    Arguments: scan; name - of the file; section - blade section to write into every station.
    """
    head = [
        f"Measured from {name}, {scan.faces} faces.",
        f"Volume {1e6 * scan.volume:.2f} cm^3; if it is of one density, the blade balances "
        f"{1e3 * scan.balance_point:.1f} mm outboard of the pivot.",
        f"It turns {scan.turning}, seen from above against the thrust.",
        "The section's own shape is not read: name the one that comes nearest, or leave it to be assumed.",
        *(f"To doubt: {text}" for text in scan.breaches),
    ]
    lines = [f"# {printable(line)}" for line in head]
    for row, area in zip(scan.rows(), scan.area, strict=True):
        lines += [
            "",
            "[[propeller.station]]".ljust(32) + f"# area {1e6 * area:.1f} mm^2",
            f"at = {row['at']:.4f}",
            f'chord = "{1e3 * row["chord"]:.2f} mm"',
            f'twist = "{math.degrees(row["twist"]):.2f} deg"',
            f'thickness = "{1e3 * row["thickness"]:.2f} mm"',
        ]
        if section is not None:
            lines.append(f"section = {shown(section)}")
    return "\n".join(lines) + "\n"
