"""Heads, nuts, washers and clearance holes by thread size, and the area they bear on."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from math import pi

from bladehold.tables.lookup import find, keyed, of_size
from bladehold.tables.provenance import Provenance
from bladehold.tables.reader import MILLI, Line, read_table
from bladehold.tables.shapes import Real


@dataclass(frozen=True)
class Head:
    """Screw head, all in m.

    width - diameter of a socket head, width across flats of a hexagon; key - size of the wrench;
    height - k; bearing_diameter - least outer diameter dw of the bearing face; underhead_diameter -
    largest diameter da of the fillet under the head, below which the face does not bear.
    """

    size: str
    kind: str
    standard: str
    width: float
    key: float
    height: float
    bearing_diameter: float
    underhead_diameter: float
    provenance: Provenance


@dataclass(frozen=True)
class Nut:
    """Hexagon nut, all in m.

    width - across flats; height - largest overall height; thread_height - least height of the thread;
    bearing_diameter - least outer diameter dw of the bearing face; chamfer_diameter - largest diameter
    da of the thread chamfer, below which the face does not bear; note - what the user must know.
    """

    size: str
    kind: str
    standard: str
    width: float
    height: float
    thread_height: float
    bearing_diameter: float
    chamfer_diameter: float
    provenance: Provenance
    note: str


@dataclass(frozen=True)
class Washer:
    """Plain washer: inner and outer diameter and thickness, nominal, in m."""

    size: str
    standard: str
    inner_diameter: float
    outer_diameter: float
    thickness: float
    provenance: Provenance


@dataclass(frozen=True)
class ClearanceHole:
    """Clearance hole of one fit ("fine", "medium" or "coarse"), diameter in m."""

    size: str
    fit: str
    diameter: float
    provenance: Provenance


def bearing_area(bearing_diameter: Real, hole_diameter: Real) -> Real:
    """Return the area (m2) on which a round face bears around a hole.

    Formula: A = pi/4 (dw^2 - dh^2).
    Arguments: bearing_diameter - outer diameter dw of the face (m); hole_diameter - dh, the larger of
    the hole and of the fillet or chamfer inside the face (m); floats or arrays that broadcast.
    Returns the area, zero or negative where the hole is as wide as the face: nothing bears there.
    Source: VDI 2230, surface pressure under the head.

    >>> round(bearing_area(6.53e-3, 4.5e-3) * 1e6, 2)
    17.59
    """
    return pi / 4 * (bearing_diameter**2 - hole_diameter**2)


_HEAD = ("size", "kind", "standard", "width_mm", "key_mm", "height_mm")
_HEAD_FACE = ("bearing_diameter_mm", "underhead_diameter_mm")


def _head(line: Line) -> Head:
    return Head(
        size=line.text("size"),
        kind=line.text("kind"),
        standard=line.text("standard"),
        width=line.number("width_mm", MILLI),
        key=line.number("key_mm", MILLI),
        height=line.number("height_mm", MILLI),
        bearing_diameter=line.number("bearing_diameter_mm", MILLI),
        underhead_diameter=line.number("underhead_diameter_mm", MILLI),
        provenance=line.provenance(),
    )


@cache
def _heads() -> dict[tuple[str, str], Head]:
    lines = read_table("heads.csv", (*_HEAD, *_HEAD_FACE, "source", "mark"))
    return keyed(((line.text("size"), line.text("kind")), _head(line)) for line in lines)


_NUT = ("size", "kind", "standard", "width_mm", "height_mm", "thread_height_mm")
_NUT_FACE = ("bearing_diameter_mm", "chamfer_diameter_mm")


def _nut(line: Line) -> Nut:
    return Nut(
        size=line.text("size"),
        kind=line.text("kind"),
        standard=line.text("standard"),
        width=line.number("width_mm", MILLI),
        height=line.number("height_mm", MILLI),
        thread_height=line.number("thread_height_mm", MILLI),
        bearing_diameter=line.number("bearing_diameter_mm", MILLI),
        chamfer_diameter=line.number("chamfer_diameter_mm", MILLI),
        provenance=line.provenance(),
        note=line.text("note"),
    )


@cache
def _nuts() -> dict[tuple[str, str], Nut]:
    lines = read_table("nuts.csv", (*_NUT, *_NUT_FACE, "source", "mark"), ("note",))
    return keyed(((line.text("size"), line.text("kind")), _nut(line)) for line in lines)


_WASHER = ("size", "standard", "inner_diameter_mm", "outer_diameter_mm", "thickness_mm")


def _washer(line: Line) -> Washer:
    return Washer(
        size=line.text("size"),
        standard=line.text("standard"),
        inner_diameter=line.number("inner_diameter_mm", MILLI),
        outer_diameter=line.number("outer_diameter_mm", MILLI),
        thickness=line.number("thickness_mm", MILLI),
        provenance=line.provenance(),
    )


@cache
def _washers() -> dict[str, Washer]:
    lines = read_table("washers.csv", (*_WASHER, "source", "mark"))
    return keyed((line.text("size"), _washer(line)) for line in lines)


_FITS = ("fine", "medium", "coarse")


def _hole(line: Line, fit: str) -> ClearanceHole:
    return ClearanceHole(line.text("size"), fit, line.number(f"{fit}_mm", MILLI), line.provenance())


@cache
def _holes() -> dict[tuple[str, str], ClearanceHole]:
    lines = read_table("clearance_holes.csv", ("size", *(f"{fit}_mm" for fit in _FITS), "source", "mark"))
    return keyed(((line.text("size"), fit), _hole(line, fit)) for line in lines for fit in _FITS)


def head_kinds() -> tuple[str, ...]:
    """Return the kinds of head: "socket" (ISO 4762) and "hexagon" (ISO 4014)."""
    return tuple(dict.fromkeys(kind for _, kind in _heads()))


def head(size: str, kind: str) -> Head:
    """Return the head of a screw of thread `size`; raise UnknownName for an unknown size or kind.

    >>> head("M4", "socket").bearing_diameter
    0.00653
    """
    return of_size("head", size, kind, _heads())


def nut_kinds() -> tuple[str, ...]:
    """Return the kinds of nut: "hexagon" (ISO 4032), "thin" (ISO 4035) and "locking" (ISO 7040)."""
    return tuple(dict.fromkeys(kind for _, kind in _nuts()))


def nut(size: str, kind: str) -> Nut:
    """Return the nut for thread `size`; raise UnknownName for an unknown kind or a size it is not made in.

    >>> nut("M5", "hexagon").height
    0.0047
    """
    return of_size("nut", size, kind, _nuts())


def washer(size: str) -> Washer:
    """Return the plain washer ISO 7089 for thread `size`; raise UnknownName for an unknown size.

    >>> washer("M5").outer_diameter
    0.01
    """
    return find("washer size", size, _washers())


def clearance_fits() -> tuple[str, ...]:
    """Return the fits of ISO 273, tightest first."""
    return _FITS


def clearance_hole(size: str, fit: str) -> ClearanceHole:
    """Return the clearance hole ISO 273 for thread `size`; raise UnknownName for an unknown size or fit.

    >>> clearance_hole("M4", "medium").diameter
    0.0045
    """
    return of_size("clearance hole", size, fit, _holes())
