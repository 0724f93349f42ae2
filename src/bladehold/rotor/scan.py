"""A blade from a scan: a closed mesh cut into sections that a build sheet can take.

The mesh has no unit and no rotor; who reads it states the unit, the axis of the hub, the tip radius and the
radius of the pivot. Sections are cut flat and square to the span, as one would measure them with a caliper.
The tip of the mesh is put at the tip radius, so that it does not matter where the scanner had its origin.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.quantity import to_si
from bladehold.quantity.kinds import KINDS
from bladehold.rotor.geometry import BladeGeometry, blade_from_table
from bladehold.rotor.mesh import ScanError, library, scaled_mesh
from bladehold.rotor.outline import ChordLine, chord_line, outline_moments
from bladehold.validity import Range

FloatArray = NDArray[np.float64]

HUB_AXES = {
    sign + name: tuple((-1.0 if sign == "-" else 1.0) * float(name == other) for other in "xyz")
    for sign in ("", "-")
    for name in "xyz"
}
FEWEST_STATIONS, DEFAULT_STATIONS, MOST_STATIONS = 3, 12, 200
SPAN_CUTS = 80  # for the distribution of area from the root end to the tip
LAST_STATION = 0.98  # of the tip radius; further out lies the rounding of the tip
ROOT_SHARE = 0.1  # of the way from pivot to tip, taken up by the lug and its neck
SLENDER = 9.0  # least ratio of the second moments along and across a blade: three times as long as wide
LEAST_LEAN = 0.02  # of half the length, between its middle and the centre of volume, which lies rootwards
LEAST_FULLNESS = 0.01  # of the chord, between its middle and the centre of area, which lies towards the nose
NUDGE = 1e-7  # of the length, by which a cut dodges the mesh's own points
TIP_TOLERANCE = 0.03  # of the tip radius, between that stated and that found from the pivot

STEEPEST = np.radians(45.0)  # mean twist; more, and the axis along the thrust is another one

ROOT_REACH_RANGE = Range(
    "way from pivot to root end over that from pivot to tip",
    0.0,
    0.15,
    "",
    "a lug is shorter, so pivot radius or diameter may be wrong, or the mesh holds more than the blade",
    "own limit",
)
SLICED_VOLUME_RANGE = Range(
    "volume of the slices over volume of the mesh",
    0.99,
    1.01,
    "",
    "the area changes along the span faster than the cuts follow; look for spikes and plates",
    "own limit",
)


@dataclass(frozen=True, eq=False)
class BladeScan:
    """A blade measured from a mesh of its surface.

    radius - of the tip, pivot_radius - m, as stated; root_end - radius at which the mesh begins, m; r, chord,
    thickness - m, twist - rad, area - m^2, [S], of the sections; span_r (m), span_area (m^2) - [N], area
    from the root end to the tip; volume - m^3; balance_point - of a blade of one density, outboard of the
    pivot, m; turning - "clockwise" or "counterclockwise", seen against the thrust from above; faces - of the
    mesh; breaches - what to doubt.
    """

    radius: float
    pivot_radius: float
    root_end: float
    r: FloatArray
    chord: FloatArray
    twist: FloatArray
    thickness: FloatArray
    area: FloatArray
    span_r: FloatArray
    span_area: FloatArray
    volume: float
    balance_point: float
    turning: str
    faces: int
    breaches: tuple[str, ...]

    def rows(self) -> list[dict[str, float]]:
        """The sections as rows of the sheet's station table: at (share of the radius), then m and rad."""
        columns = (self.r / self.radius, self.chord, self.twist, self.thickness)
        names = ("at", "chord", "twist", "thickness")
        return [dict(zip(names, map(float, row), strict=True)) for row in zip(*columns, strict=True)]

    def geometry(self, section: str, stations: ArrayLike | None = None) -> BladeGeometry:
        """The blade for the rotor; section - name of its section, stations - radii (m), as for a table."""
        return blade_from_table(
            radius=self.radius,
            hub_radius=self.pivot_radius,
            r=self.r,
            chord=self.chord,
            twist=self.twist,
            thickness=self.thickness,
            sections=(section,),
            stations=stations,
        )


def scan_blade(
    path: str | Path,
    *,
    unit: str,
    radius: float,
    pivot_radius: float,
    hub_axis: str = "z",
    pivot_point: ArrayLike | None = None,
    stations: ArrayLike | int = DEFAULT_STATIONS,
) -> BladeScan:
    """A blade's sections, volume and balance point from a closed mesh of its surface.

    The span runs square to the hub axis: along the long principal axis of the volume, or, with
    pivot_point, from there to the balance point, which is how a free blade stands when it turns. The chord
    line is that of `bladehold.rotor.outline`, twist its angle to the plane of turning, positive where the
    leading edge stands higher along the thrust. The leading edge is the one with more area behind it.
    Arguments: path - STL, PLY, OBJ or OFF file of one blade with its root; unit - of its numbers, such as
    "mm"; radius, pivot_radius - of tip and pivot, m; hub_axis - the mesh's axis along the thrust, one of
    HUB_AXES; pivot_point - [3] a point on the pivot's axis, in numbers of the mesh; stations - [S] their
    radii as shares of radius, or how many in even steps from the neck of the root to LAST_STATION.
    Returns BladeScan. Raises ScanError for a mesh, ValueError for an argument, OSError for a file that
    cannot be read. Validity: SLICED_VOLUME_RANGE, ROOT_REACH_RANGE. Source: definitions of chord, twist and
    centre of volume.
    """
    places = _radii(stations, radius, pivot_radius)
    mesh, scale = scaled_mesh(Path(path), unit)
    point = None if pivot_point is None else scale * np.asarray(pivot_point, dtype=float)
    frame = _frame(mesh, hub_axis, point)
    along = (mesh.vertices - mesh.center_mass) @ frame[2]
    low, high = float(along.min()), float(along.max())
    _fits(high - low, unit, scale, radius=radius, pivot_radius=pivot_radius)
    centre = radius - high  # radius of the centre of volume, the tip being at the tip radius
    if point is not None:
        centre = pivot_radius + float((mesh.center_mass - point) @ frame[2])
        _tip_fits(centre + high, radius)
    outlines = [_cut(mesh, frame, along, r - centre, high - low) for r in places]
    lines = [chord_line(pieces) for pieces in outlines]
    area = np.array([outline_moments(pieces)[0] for pieces in outlines])
    ahead = _leading_side(lines, area)
    twist = ahead * np.array([line.angle for line in lines])
    mean_twist = float(twist @ area / area.sum())
    if abs(mean_twist) > STEEPEST:
        raise ScanError(
            f"the chords stand {np.degrees(abs(mean_twist)):.0f} deg to the plane of turning, steeper than "
            f"any propeller's: is the thrust along another axis than {hub_axis}?"
        )
    if mean_twist < 0.0:
        other = hub_axis[1:] if hub_axis.startswith("-") else f"-{hub_axis}"
        raise ScanError(f"the leading edge stands lower than the trailing edge: is the thrust along {other}?")
    steps = low + (high - low) * (np.arange(SPAN_CUTS) + 0.5) / SPAN_CUTS
    spanwise = np.array([outline_moments(_cut(mesh, frame, along, s, high - low))[0] for s in steps])
    sliced = float(spanwise.mean() * (high - low) / mesh.volume)
    root_end = centre + low
    reach = (pivot_radius - root_end) / (radius - pivot_radius)
    doubts = (SLICED_VOLUME_RANGE.breach(sliced), ROOT_REACH_RANGE.breach(reach))
    return BladeScan(
        radius=radius,
        pivot_radius=pivot_radius,
        root_end=root_end,
        r=places,
        chord=np.array([line.chord for line in lines]),
        twist=twist,
        thickness=np.array([line.thickness for line in lines]),
        area=area,
        span_r=centre + steps,
        span_area=spanwise,
        volume=float(mesh.volume),
        balance_point=centre - pivot_radius,
        turning="counterclockwise" if ahead > 0.0 else "clockwise",
        faces=len(mesh.faces),
        breaches=tuple(text for text in doubts if text),
    )


def _radii(stations: ArrayLike | int, radius: float, pivot_radius: float) -> FloatArray:
    """Radii (m) of the stations, or a refusal."""
    if not 0.0 < pivot_radius < radius:
        raise ValueError(f"pivot_radius {pivot_radius:g} m must lie between 0 and radius {radius:g} m")
    count = stations if isinstance(stations, int) else np.size(stations)
    if not FEWEST_STATIONS <= count <= MOST_STATIONS:
        raise ValueError(
            f"{count} stations are asked for: {FEWEST_STATIONS} to {MOST_STATIONS} are needed, as the "
            "blade's shape is read between them"
        )
    if isinstance(stations, int):
        neck = pivot_radius + ROOT_SHARE * (radius - pivot_radius)
        return np.linspace(neck, LAST_STATION * radius, stations)
    places = np.ravel(np.asarray(stations, dtype=float)) * radius
    if not (np.all(np.diff(places) > 0.0) and pivot_radius < places[0] and places[-1] < radius):
        raise ValueError("stations must increase, from outboard of the pivot to inboard of the tip")
    return places


def _frame(mesh: Any, hub_axis: str, pivot_point: FloatArray | None) -> FloatArray:
    """Unit vectors [3, 3]: across the blade, along the thrust, along the span towards the tip."""
    if hub_axis not in HUB_AXES:
        raise ValueError(f"hub_axis {hub_axis!r} must be one of {', '.join(HUB_AXES)}")
    thrust = np.array(HUB_AXES[hub_axis])
    inertia = np.asarray(mesh.moment_inertia)
    spread = 0.5 * np.trace(inertia) * np.eye(3) - inertia  # second moments of volume about its centre
    flat = np.eye(3) - np.outer(thrust, thrust)
    values, vectors = np.linalg.eigh(flat @ spread @ flat)
    if thrust @ spread @ thrust > values[2]:
        raise ScanError(
            f"the mesh is longest along {hub_axis}, which should be the hub axis: state the right one"
        )
    if values[2] < SLENDER * values[1]:
        raise ScanError("the mesh is not long and narrow: keep one blade, without hub and other blades")
    span = vectors[:, 2]
    if pivot_point is not None:
        arm = flat @ (np.asarray(mesh.center_mass) - pivot_point)
        reach = float(np.linalg.norm(arm))
        if not 0.0 < reach < np.inf:
            raise ScanError("the pivot must be a place beside the centre of the blade's volume")
        span = arm / reach
    else:
        along = (mesh.vertices - mesh.center_mass) @ span
        lean = float((along.max() + along.min()) / (along.max() - along.min()))
        if abs(lean) < LEAST_LEAN:
            raise ScanError("root and tip cannot be told apart by their volume: give the place of the pivot")
        span = span if lean > 0.0 else -span
    return np.stack([np.cross(thrust, span), thrust, span])


def _fits(length: float, unit: str, scale: float, *, radius: float, pivot_radius: float) -> None:
    """Refuse a blade that does not reach from the tip to its pivot, or reaches past the rotor's axis."""
    least = radius - pivot_radius
    if least <= length <= radius:
        return
    other = [
        name
        for name in KINDS["length"].units
        if name != unit and least <= length / scale * to_si(1.0, "length", name) <= radius
    ]
    hint = f"; in {' or '.join(other)} it would fit" if other else ""
    raise ScanError(
        f"the mesh is {1e3 * length:.4g} mm long when its unit is {unit}, but from pivot to tip the blade "
        f"measures {1e3 * least:.4g} mm, to the rotor's axis {1e3 * radius:.4g} mm{hint}. It must be one "
        "blade with its whole root; else look at unit, diameter and pivot radius"
    )


def _tip_fits(found: float, radius: float) -> None:
    """Refuse a pivot from which the tip does not come out at the tip radius."""
    if abs(found - radius) > TIP_TOLERANCE * radius:
        raise ScanError(
            f"from the pivot the tip comes out at a radius of {1e3 * found:.4g} mm, but half the diameter is "
            f"{1e3 * radius:.4g} mm: look at the place of the pivot, the pivot radius and the diameter"
        )


def _cut(mesh: Any, frame: FloatArray, along: FloatArray, place: float, length: float) -> FloatArray:
    """The outline [M, 2, 2] of the section at a place (m) along the span from the centre of volume.

    Pieces run with the material on their left: along span x outward normal of their face.
    """
    heights = along - place
    while np.min(np.abs(heights)) < 1e-3 * NUDGE * length:
        place += NUDGE * length
        heights = along - place
    origin = mesh.center_mass + place * frame[2]
    pieces, faces = library().intersections.mesh_plane(
        mesh, frame[2], origin, return_faces=True, cached_dots=heights
    )
    if len(pieces) == 0:
        raise ScanError(f"there is no section {1e3 * (along.max() - place):.3g} mm inboard of the mesh's tip")
    corners = np.asarray(mesh.triangles)[faces]  # a file's own normals need not agree with its faces
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    forward = np.cross(frame[2], normals)
    against = np.einsum("mi,mi->m", pieces[:, 1] - pieces[:, 0], forward) < 0.0
    pieces = np.where(against[:, np.newaxis, np.newaxis], pieces[:, ::-1], pieces)
    return np.asarray((pieces - origin) @ frame[:2].T)


def _leading_side(lines: list[ChordLine], area: FloatArray) -> float:
    """1 where the leading edge lies along the first axis of the sections, -1 where it lies against it."""
    lead = float(np.array([line.fullness for line in lines]) @ area / area.sum())
    if abs(lead) < LEAST_FULLNESS:
        raise ScanError("the sections are as full in front as behind: which edge leads cannot be told")
    return 1.0 if lead > 0.0 else -1.0
