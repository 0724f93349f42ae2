"""ISO metric screw threads: the basic profile and the coarse series."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from math import pi, sqrt
from typing import Any, Generic

from bladehold.tables.lookup import find, keyed
from bladehold.tables.provenance import Provenance
from bladehold.tables.reader import MILLI, Line, read_table
from bladehold.tables.shapes import Real


@dataclass(frozen=True)
class BasicProfile(Generic[Real]):
    """Diameters (m) and areas (m2) of the basic profile of an ISO metric thread.

    pitch_diameter is d2, minor_diameter is D1 of the internal thread, root_diameter is d3 of the
    external thread, stress_area is As, root_area is A3, lead_tangent is tan of the lead angle at d2.
    """

    pitch_diameter: Real
    minor_diameter: Real
    root_diameter: Real
    stress_area: Real
    root_area: Real
    lead_tangent: Real


def basic_profile(nominal_diameter: Real, pitch: Real) -> BasicProfile[Real]:
    """Return the basic profile of a single-start ISO metric thread.

    Formula: H = sqrt(3)/2 P; d2 = d - 3/4 H; D1 = d - 5/4 H; d3 = d - 17/12 H;
    As = pi/4 ((d2 + d3)/2)^2; A3 = pi/4 d3^2; tan(lead) = P/(pi d2).
    Arguments: nominal_diameter - d (m); pitch - P (m); floats or arrays that broadcast.
    Returns a BasicProfile of the broadcast shape.
    Raises ValueError when a pitch is not positive or leaves no core (d3 <= 0).
    Validity: nominal dimensions, no tolerance, M1.6 to M39 for the stress area of ISO 898-1; not for
    inch threads, whose stress area is pi/4 (d - 0.9743 P)^2.
    Source: ISO 68-1 and ISO 724 (diameters), EN ISO 898-1:2013 (stress area).

    >>> profile = basic_profile(0.010, 0.0015)  # M10: 58.0 mm2 printed
    >>> round(profile.stress_area * 1e6, 1)
    58.0
    """
    triangle_height = sqrt(3) / 2 * pitch
    pitch_diameter = nominal_diameter - 0.75 * triangle_height
    root_diameter = nominal_diameter - 17 / 12 * triangle_height
    if not (_everywhere(pitch > 0) and _everywhere(root_diameter > 0)):
        raise ValueError("a thread needs a positive pitch and a nominal diameter above 1.2269 pitches")
    return BasicProfile(
        pitch_diameter=pitch_diameter,
        minor_diameter=nominal_diameter - 1.25 * triangle_height,
        root_diameter=root_diameter,
        stress_area=pi / 4 * ((pitch_diameter + root_diameter) / 2) ** 2,
        root_area=pi / 4 * root_diameter**2,
        lead_tangent=pitch / (pi * pitch_diameter),
    )


def _everywhere(condition: Any) -> bool:
    """True when a comparison of floats, or of arrays in every element, holds."""
    return bool(condition.all() if hasattr(condition, "all") else condition)


@dataclass(frozen=True)
class Thread:
    """One thread of the coarse series: nominal diameter and pitch (m), and its basic profile."""

    name: str
    nominal_diameter: float
    pitch: float
    profile: BasicProfile[float]
    provenance: Provenance


@cache
def _threads() -> dict[str, Thread]:
    columns = ("name", "nominal_diameter_mm", "pitch_mm", "source", "mark")
    return keyed((line.text("name"), _thread(line)) for line in read_table("threads.csv", columns))


def _thread(line: Line) -> Thread:
    diameter, pitch = line.number("nominal_diameter_mm", MILLI), line.number("pitch_mm", MILLI)
    return Thread(line.text("name"), diameter, pitch, basic_profile(diameter, pitch), line.provenance())


def thread_names() -> tuple[str, ...]:
    """Return the names of the threads in the table, smallest first."""
    return tuple(_threads())


def thread(name: str) -> Thread:
    """Return the coarse thread called `name`, such as "M4"; raise UnknownName for any other.

    >>> thread("M4").pitch
    0.0007
    """
    return find("thread", name, _threads())
