"""A polar of the user's own: measured or computed columns, carried on to the whole circle."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.rotor.polar import ANY_REYNOLDS, TabulatedPolar, tabulated_polar
from bladehold.rotor.slices import TABLE_POINTS
from bladehold.validity import Range

FloatArray = NDArray[np.float64]

SPAN_DEG = (-4.0, 8.0)  # columns must reach at least this far
LAST_JOIN_DEG = 80.0  # the stalled curves join here at the latest, as their formula ends at 90 degrees

USER_MACH_RANGE = Range(
    "section Mach number",
    0.0,
    0.3,
    "",
    "the section's own columns are taken as incompressible; real lift and drag are larger",
    "usual limit of incompressible flow",
)

ASPECT_RATIO_RANGE = Range(
    "aspect ratio",
    1.0,
    50.0,
    "",
    "drag of the plate at 90 degrees is held at 2.01",
    "Viterna and Corrigan, NASA CP-2230 (1982)",
)


def viterna(
    alpha: ArrayLike, stall_alpha: float, stall_cl: float, stall_cd: float, aspect_ratio: float
) -> tuple[FloatArray, FloatArray]:
    """Lift and drag of a stalled section between the stall angle and 90 degrees.

    cl = A1 sin(2 alpha) + A2 cos^2(alpha) / sin(alpha),  cd = B1 sin^2(alpha) + B2 cos(alpha)
    B1 = 1.11 + 0.018 AR (2.01 above AR = 50), A1 = B1 / 2,
    A2 = (cl_s - B1 sin(a_s) cos(a_s)) sin(a_s) / cos^2(a_s), B2 = (cd_s - B1 sin^2(a_s)) / cos(a_s)

    Arguments: alpha - rad, any shape; stall_alpha - a_s, rad, where the curves join; stall_cl,
    stall_cd - there; aspect_ratio - AR, radius over chord. Validity: ASPECT_RATIO_RANGE.
    Returns cl, cd. Source: Viterna and Corrigan, Fixed pitch rotor performance of large horizontal
    axis wind turbines, NASA CP-2230 (1982).

    >>> cl, cd = viterna(np.radians([15.0, 90.0]), np.radians(15.0), 1.2, 0.05, 10.0)
    >>> cl.round(3).tolist(), cd.round(3).tolist()
    ([1.2, 0.0], [0.05, 1.29])
    """
    angle = np.asarray(alpha, dtype=float)
    sine, cosine = np.sin(stall_alpha), np.cos(stall_alpha)
    plate = min(1.11 + 0.018 * aspect_ratio, 2.01)
    a2 = (stall_cl - plate * sine * cosine) * sine / cosine**2
    b2 = (stall_cd - plate * sine**2) / cosine
    cl = 0.5 * plate * np.sin(2.0 * angle) + a2 * np.cos(angle) ** 2 / np.sin(angle)
    return cl, np.asarray(plate * np.sin(angle) ** 2 + b2 * np.cos(angle), dtype=float)


def whole_circle(
    alpha_deg: ArrayLike, cl: ArrayLike, cd: ArrayLike, aspect_ratio: float
) -> tuple[FloatArray, FloatArray]:
    """Columns of a polar on one value per degree from -180 degrees, [360] each.

    Within the columns linear interpolation. Beyond them `viterna` from the last point up to 90 degrees,
    from the first down to -90 (signs turned); backwards flow as the mirror image with 0.7 of the
    lift, and straight lines from there to no lift and the least drag at 180 degrees. Drag is nowhere
    let below the least of the columns.
    Arguments: alpha_deg - degrees, increasing, at least over SPAN_DEG; cl, cd - same length;
    aspect_ratio - radius over chord. Raises ValueError naming the column that cannot be.
    Source: the 0.7 is the wind-energy custom, not in the paper (mark: memory).
    """
    alpha, lift, drag = (np.asarray(column, dtype=float) for column in (alpha_deg, cl, cd))
    if (
        alpha.ndim != 1
        or alpha.shape != lift.shape
        or alpha.shape != drag.shape
        or np.any(np.diff(alpha) <= 0.0)
    ):
        raise ValueError("alpha_deg must increase and have one cl and one cd each")
    if alpha[0] > SPAN_DEG[0] or alpha[-1] < SPAN_DEG[1]:
        raise ValueError(f"alpha_deg must reach from {SPAN_DEG[0]:g} to {SPAN_DEG[1]:g} degrees at least")
    if np.any(drag <= 0.0):
        raise ValueError("cd must be positive")
    grid = np.arange(TABLE_POINTS) - 180.0
    up, down = min(alpha[-1], LAST_JOIN_DEG), max(alpha[0], -LAST_JOIN_DEG)
    cl_up, cd_up, cl_down, cd_down = (np.interp(at, alpha, of) for at in (up, down) for of in (lift, drag))
    lift_up, drag_up = _stalled(np.abs(grid), up, cl_up, cd_up, drag.min(), aspect_ratio)
    lift_down, drag_down = _stalled(np.abs(grid), -down, -cl_down, cd_down, drag.min(), aspect_ratio)
    inside = (grid >= alpha[0]) & (grid <= alpha[-1])
    all_lift = np.where(inside, np.interp(grid, alpha, lift), np.where(grid > 0.0, lift_up, -lift_down))
    all_drag = np.where(inside, np.interp(grid, alpha, drag), np.where(grid > 0.0, drag_up, drag_down))
    return all_lift, np.maximum(all_drag, drag.min())


def _stalled(
    degrees: FloatArray, stall: float, cl: float, cd: float, least_drag: float, aspect_ratio: float
) -> tuple[FloatArray, FloatArray]:
    """Lift and drag on 0..180 degrees of a section that stalls at `stall` degrees."""
    folded = np.where(degrees > 90.0, 180.0 - degrees, degrees)
    lift, drag = viterna(np.radians(np.maximum(folded, stall)), np.radians(stall), cl, cd, aspect_ratio)
    share = np.minimum(folded / stall, 1.0)
    lift, drag = lift * share, least_drag + (drag - least_drag) * share
    return np.where(degrees > 90.0, -0.7 * lift, lift), drag


def polar_from_columns(
    name: str,
    alpha_deg: ArrayLike,
    cl: ArrayLike,
    cd: ArrayLike,
    *,
    reynolds: ArrayLike | None = None,
    aspect_ratio: float = 10.0,
) -> TabulatedPolar:
    """Polar from columns, extended to the whole circle by `whole_circle`.

    Arguments: name - for messages; alpha_deg - degrees; cl, cd; reynolds - one value for each row, rows of
    equal Reynolds number making one curve; None: one curve for all Reynolds numbers; aspect_ratio -
    radius over chord, for the stalled range. All columns [N], in any order of Reynolds number.
    The values are taken as incompressible and the polar reports Mach numbers above 0.3.
    Raises ValueError naming the column that cannot be.
    """
    angle, lift, drag = (np.asarray(column, dtype=float) for column in (alpha_deg, cl, cd))
    numbers = np.ones(angle.shape) if reynolds is None else np.asarray(reynolds, dtype=float)
    if numbers.shape != angle.shape:
        raise ValueError("reynolds must hold one value for each row")
    curves = np.unique(numbers)
    tables = [
        whole_circle(angle[rows], lift[rows], drag[rows], aspect_ratio) for rows in numbers == curves[:, None]
    ]
    return tabulated_polar(
        name,
        np.stack([table[0] for table in tables])[:, np.newaxis, :],
        np.stack([table[1] for table in tables])[:, np.newaxis, :],
        reynolds=curves,
        mach=[0.0],
        confidence=np.ones((curves.size, TABLE_POINTS)),
        reynolds_range=ANY_REYNOLDS if reynolds is None else None,
        mach_range=USER_MACH_RANGE,
    )


def _number(text: str | None, place: str) -> float:
    """The finite number a field holds; ValueError naming its place otherwise."""
    import math

    try:
        value = float(text or "")
    except ValueError:
        value = math.nan
    if not math.isfinite(value):
        raise ValueError(f"{place} is not a number")
    return value


def read_polar(path: str | Path, *, aspect_ratio: float = 10.0) -> TabulatedPolar:
    """Polar from a CSV file with the columns alpha_deg, cl, cd and, if need be, reynolds.

    Arguments: path - of the file, whose stem names the polar; aspect_ratio - radius over chord.
    Raises ValueError naming the file and the missing column or the line that holds no number.
    """
    import csv

    file = Path(path)
    columns: dict[str, list[float]] = {"alpha_deg": [], "cl": [], "cd": [], "reynolds": []}
    with file.open(encoding="utf-8-sig", newline="") as stream:
        reader = csv.DictReader(stream)
        given = [name for name in columns if name in (reader.fieldnames or [])]
        missing = [name for name in ("alpha_deg", "cl", "cd") if name not in given]
        if missing:
            raise ValueError(f"{file.name}: column {missing[0]} is missing")
        for row in reader:
            for name in given:
                columns[name].append(_number(row[name], f"{file.name}, line {reader.line_num}: {name}"))
    return polar_from_columns(
        file.stem,
        columns["alpha_deg"],
        columns["cl"],
        columns["cd"],
        reynolds=columns["reynolds"] if "reynolds" in given else None,
        aspect_ratio=aspect_ratio,
    )
