"""What a blade looks like: chord, twist, thickness and section along the radius."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]

DEFAULT_STATIONS = 30

# Own choice: with 70.5 mm at 0.33 R and 24 mm at the tip it follows the chords of the 28-inch blade of the
# University of Stavanger (2020) within 3 %.
PLANFORM_EXPONENT = 1.5


@dataclass(frozen=True, eq=False)
class BladeGeometry:
    """One blade, described at stations between hub and tip.

    radius - of the tip, m; hub_radius - where the aerodynamic blade begins, m; r - [S] radii of the
    stations, m, increasing, strictly between the two; chord - [S], m; twist - [S], angle of the chord
    line to the plane of turning, rad; thickness - [S], greatest thickness of the section, m;
    sections - names of the sections used; section_weights - [S, number of sections], the share of
    each at each station, rows summing to 1.
    Raises ValueError naming the field that cannot be.
    """

    radius: float
    hub_radius: float
    r: FloatArray
    chord: FloatArray
    twist: FloatArray
    thickness: FloatArray
    sections: tuple[str, ...]
    section_weights: FloatArray

    def __post_init__(self) -> None:
        """Refuse what no blade can be."""
        if not 0.0 <= self.hub_radius < self.radius:
            raise ValueError(
                f"hub_radius {self.hub_radius:g} m must lie between 0 and radius {self.radius:g} m"
            )
        ends = self.r.size == 0 or self.r[0] <= self.hub_radius or self.r[-1] >= self.radius
        if ends or np.any(np.diff(self.r) <= 0.0):
            raise ValueError("r must increase, strictly between hub_radius and radius")
        for name in ("chord", "twist", "thickness"):
            values = getattr(self, name)
            if values.shape != self.r.shape or not np.all(np.isfinite(values)):
                raise ValueError(f"{name} must hold one finite value for each of the {self.r.size} radii")
            if name != "twist" and np.any(values <= 0.0):
                raise ValueError(f"{name} must be positive")
        if self.section_weights.shape != (self.r.size, len(self.sections)) or np.any(
            self.section_weights < 0.0
        ):
            raise ValueError("section_weights must hold one share for each station and section")
        if np.max(np.abs(self.section_weights.sum(axis=-1) - 1.0)) > 1e-9:
            raise ValueError("section_weights must sum to 1 at each station")


def station_radii(hub_radius: float, radius: float, count: int = DEFAULT_STATIONS) -> FloatArray:
    """Radii (m) [count] of blade stations, closer together towards hub and tip.

    r = middle - half cos(pi (i + 1/2) / count), i = 0 .. count - 1: loads fall to zero at both ends,
    most steeply at the tip, and need the stations there. Source: Chebyshev points of the first kind.

    >>> station_radii(0.0, 1.0, 2).round(4).tolist()
    [0.1464, 0.8536]
    """
    steps = np.cos(np.pi * (np.arange(count) + 0.5) / count)
    return np.asarray(0.5 * (radius + hub_radius) - 0.5 * (radius - hub_radius) * steps, dtype=float)


def blade_from_table(
    *,
    radius: float,
    hub_radius: float,
    r: ArrayLike,
    chord: ArrayLike,
    twist: ArrayLike,
    thickness: ArrayLike,
    sections: tuple[str, ...],
    stations: ArrayLike | None = None,
) -> BladeGeometry:
    """Blade from a measured table, read linearly between its rows and held constant beyond its ends.

    Arguments: radius, hub_radius - m; r, chord, thickness - [N], m; twist - [N], rad; sections - one
    name for the whole blade or [N] names, one for each row, blended linearly between rows; stations -
    radii (m) at which the blade is wanted, default `station_radii`.
    Give rows near hub and tip: a chord held constant to the tip makes the tip too wide.
    """
    rows = np.asarray(r, dtype=float)
    if rows.ndim != 1 or rows.size == 0 or np.any(np.diff(rows) <= 0.0):
        raise ValueError("r must be a list of increasing radii")
    wanted = station_radii(hub_radius, radius) if stations is None else np.asarray(stations, dtype=float)
    columns = {"chord": chord, "twist": twist, "thickness": thickness}
    for name, column in columns.items():
        if np.shape(column) != rows.shape:
            raise ValueError(f"{name} must hold one value for each of the {rows.size} radii")
    if len(sections) not in (1, rows.size):
        raise ValueError(f"sections must be one name or one for each of the {rows.size} radii")
    names = tuple(dict.fromkeys(sections))
    by_row = sections if len(sections) == rows.size else sections * rows.size
    shares = [np.interp(wanted, rows, [float(row == name) for row in by_row]) for name in names]
    return BladeGeometry(
        radius=radius,
        hub_radius=hub_radius,
        r=wanted,
        sections=names,
        section_weights=np.stack(shares, axis=-1),
        **{
            name: np.interp(wanted, rows, np.asarray(column, dtype=float)) for name, column in columns.items()
        },
    )


def pitch_twist(r: ArrayLike, geometric_pitch: float) -> FloatArray:
    """Twist (rad) of a blade of constant geometric pitch: theta = atan(p / (2 pi r)).

    Arguments: r - radius, m, any shape; geometric_pitch - p, advance per turn without slip, m.
    Source: definition of geometric pitch, e.g. Glauert, Airplane Propellers, in Durand, Aerodynamic
    Theory IV (1935).

    >>> round(float(np.degrees(pitch_twist(0.75 * 0.33, 0.22))), 2)
    8.05
    """
    return np.arctan2(geometric_pitch, 2.0 * np.pi * np.asarray(r, dtype=float))


def planform_chord(
    r: ArrayLike,
    *,
    radius: float,
    hub_radius: float,
    widest_chord: float,
    widest_radius: float,
    tip_chord: float,
    root_chord: float,
) -> FloatArray:
    """Chord (m) of a blade known by its chords at hub, widest place and tip.

    c = c_end + (c_widest - c_end) (1 - s^1.5), s the way from the widest place to the tip or to the
    hub, c_end the chord there: smooth at the widest place, nowhere below the end chords, tapering
    almost straight towards them as moulded blades do. Own law; see PLANFORM_EXPONENT.
    Arguments: r - m, any shape, between hub_radius and radius; the others m.

    >>> planform_chord([0.03, 0.1, 0.3], radius=0.3, hub_radius=0.03, widest_chord=0.06,
    ...     widest_radius=0.1, tip_chord=0.02, root_chord=0.04).tolist()
    [0.04, 0.06, 0.02]
    """
    at = np.asarray(r, dtype=float)
    outboard = (at - widest_radius) / (radius - widest_radius)
    inboard = (widest_radius - at) / (widest_radius - hub_radius)
    end = np.where(outboard > 0.0, tip_chord, root_chord)
    way = np.clip(np.maximum(outboard, inboard), 0.0, 1.0)
    return np.asarray(end + (widest_chord - end) * (1.0 - way**PLANFORM_EXPONENT), dtype=float)


def blade_from_measures(
    *,
    diameter: float,
    hub_radius: float,
    geometric_pitch: float,
    widest_chord: float,
    widest_fraction: float,
    tip_chord: float,
    thickness_ratio: float,
    section: str,
    root_chord: float | None = None,
    root_thickness: float | None = None,
    stations: ArrayLike | None = None,
) -> BladeGeometry:
    """Blade from the few measures a ruler gives.

    Twist from `pitch_twist`, chord from `planform_chord`. Thickness is `thickness_ratio` times chord
    from the widest place outwards; inwards it grows with (1 + cos) / 2 of the way to `root_thickness`
    at the hub. Own law, smooth at both ends.
    Arguments: diameter, hub_radius, geometric_pitch, widest_chord, tip_chord, root_chord,
    root_thickness - m; widest_fraction - r/R of the widest chord; thickness_ratio - of the section,
    thickness over chord; section - its name; stations - radii, m, default `station_radii`. Without
    root_chord half the widest chord is assumed, without root_thickness the section's own.
    Raises ValueError naming the measure that cannot be.
    """
    radius = 0.5 * diameter
    widest_radius = widest_fraction * radius
    if not hub_radius < widest_radius < radius:
        raise ValueError(f"widest_fraction {widest_fraction:g} must put the widest chord between hub and tip")
    if geometric_pitch <= 0.0:
        raise ValueError(f"geometric_pitch {geometric_pitch:g} m must be positive")
    inner_chord = 0.5 * widest_chord if root_chord is None else root_chord
    if not (0.0 < tip_chord <= widest_chord and 0.0 < inner_chord <= widest_chord):
        raise ValueError("tip_chord and root_chord must be positive and at most widest_chord")
    r = station_radii(hub_radius, radius) if stations is None else np.asarray(stations, dtype=float)
    chord = planform_chord(
        r,
        radius=radius,
        hub_radius=hub_radius,
        widest_chord=widest_chord,
        widest_radius=widest_radius,
        tip_chord=tip_chord,
        root_chord=inner_chord,
    )
    thickness = thickness_ratio * chord
    if root_thickness is not None:
        way = np.clip((r - hub_radius) / (widest_radius - hub_radius), 0.0, 1.0)
        share = 0.5 * (1.0 + np.cos(np.pi * way))
        thickness = share * root_thickness + (1.0 - share) * thickness
    return BladeGeometry(
        radius=radius,
        hub_radius=hub_radius,
        r=r,
        chord=chord,
        twist=pitch_twist(r, geometric_pitch),
        thickness=thickness,
        sections=(section,),
        section_weights=np.ones((r.size, 1)),
    )
