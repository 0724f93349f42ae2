"""Stress-life curves of metals and fatigue strengths of screws."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from bladehold.tables.lookup import find, keyed
from bladehold.tables.provenance import Provenance
from bladehold.tables.reader import MEGA, Line, read_table

_KSI = 6894757.293168361  # one thousand pounds per square inch, Pa


@dataclass(frozen=True)
class FatigueCurve:
    """One fitted curve log10 N = A1 + A2 log10(Smax (1 - R)^A3 - A4), stresses in ksi.

    material - as in the table of materials; notch - Kt of the specimens, 1 for plain ones; form; intercept -
    A1; slope - A2; ratio_exponent - A3; offset - A4, here in Pa; largest_cycles - to which the curve is used;
    note - what the user must know. Curves are those of the middle of the tests.
    """

    material: str
    notch: float
    form: str
    intercept: float
    slope: float
    ratio_exponent: float
    offset: float
    largest_cycles: float
    provenance: Provenance
    note: str


@dataclass(frozen=True)
class ScrewFatigue:
    """Fatigue of the metal of screws of one family, polished specimens, fully reversed.

    family - as in the table of property classes; endurance_ratio - over the tensile strength, with
    greatest_endurance, Pa, as its cap; knee_cycles - where it is reached; endless - whether smaller
    amplitudes do nothing; note.
    """

    family: str
    endurance_ratio: float
    greatest_endurance: float
    knee_cycles: float
    endless: bool
    provenance: Provenance
    note: str


@dataclass(frozen=True)
class ThreadFatigue:
    """Endurance of rolled threads of one property class, fully corrected (Shigley's method), Pa."""

    name: str
    endurance: float
    provenance: Provenance


_CURVE = ("material", "notch", "form", "intercept", "slope", "ratio_exponent", "offset_ksi", "largest_cycles")


def _curve(line: Line) -> FatigueCurve:
    return FatigueCurve(
        material=line.text("material"),
        notch=line.number("notch"),
        form=line.text("form"),
        intercept=line.number("intercept"),
        slope=line.number("slope"),
        ratio_exponent=line.number("ratio_exponent"),
        offset=line.number("offset_ksi") * _KSI,
        largest_cycles=line.number("largest_cycles"),
        provenance=line.provenance(),
        note=line.text("note"),
    )


@cache
def _curves() -> dict[str, tuple[FatigueCurve, ...]]:
    lines = read_table("fatigue.csv", (*_CURVE, "source", "mark"), ("note",))
    found = [_curve(line) for line in lines]
    keyed(((curve.material, curve.notch), curve) for curve in found)  # refuses one given twice
    names = dict.fromkeys(curve.material for curve in found)
    return {
        name: tuple(sorted((curve for curve in found if curve.material == name), key=lambda c: c.notch))
        for name in names
    }


_SCREW = ("family", "endurance_ratio", "greatest_endurance_MPa", "knee_cycles", "endless")


def _screw(line: Line) -> ScrewFatigue:
    endless = line.text("endless")
    if endless not in {"yes", "no"}:
        raise line.fault(f"endless is {endless!r}, not yes or no")
    return ScrewFatigue(
        family=line.text("family"),
        endurance_ratio=line.number("endurance_ratio"),
        greatest_endurance=line.number("greatest_endurance_MPa", MEGA),
        knee_cycles=line.number("knee_cycles"),
        endless=endless == "yes",
        provenance=line.provenance(),
        note=line.text("note"),
    )


@cache
def _screws() -> dict[str, ScrewFatigue]:
    lines = read_table("screw_fatigue.csv", (*_SCREW, "source", "mark"), ("note",))
    return keyed((line.text("family"), _screw(line)) for line in lines)


@cache
def _threads() -> dict[str, ThreadFatigue]:
    lines = read_table("thread_fatigue.csv", ("name", "endurance_MPa", "source", "mark"))
    return keyed(
        (
            line.text("name"),
            ThreadFatigue(line.text("name"), line.number("endurance_MPa", MEGA), line.provenance()),
        )
        for line in lines
    )


def fatigue_materials() -> tuple[str, ...]:
    """Return the names of the metals that have a stress-life curve, in table order."""
    return tuple(_curves())


def fatigue_curves(material: str) -> tuple[FatigueCurve, ...]:
    """Return the curves of a metal, mildest notch first; raise UnknownName where there is none.

    >>> [curve.notch for curve in fatigue_curves("2024-T3")]
    [1.0, 2.0, 4.0]
    """
    return find("fatigue curve", material, _curves())


def screw_fatigue_families() -> tuple[str, ...]:
    """Return the families of screw metals in table order."""
    return tuple(_screws())


def screw_fatigue(family: str) -> ScrewFatigue:
    """Return the fatigue strength of a family of screws, such as "steel"; raise UnknownName for any other.

    >>> screw_fatigue("steel").endless
    True
    """
    return find("screw family", family, _screws())


def thread_fatigue_names() -> tuple[str, ...]:
    """Return the property classes whose thread endurance is tabled."""
    return tuple(_threads())


def thread_fatigue(name: str) -> ThreadFatigue:
    """Return the thread endurance of a property class, such as "8.8"; raise UnknownName for any other.

    >>> thread_fatigue("8.8").endurance
    129000000.0
    """
    return find("thread endurance", name, _threads())
