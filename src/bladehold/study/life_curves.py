"""Which stress-life curve a part of a build is held against, and what is borrowed or missing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Generic, TypeAlias, TypeVar

import numpy as np

from bladehold.joint.bearing_line import BearingLine
from bladehold.joint.fatigue import thread_endurance_rolled_before
from bladehold.joint.load_multiplier import ThreadLine
from bladehold.joint.stress_life import HandbookCurve, ReversedLine, steel_line
from bladehold.sheet.build import Screw
from bladehold.tables import Material, Provenance, fatigue_curves, fatigue_materials, screw_fatigue

THREAD_METHOD = "vdi-rolled-before"
"""Of the screws: nobody says when threads were rolled, and rolling after heat treatment is the better."""
BORROWED = {"7075-T7351": "7050-T7451"}
"""Alloy without a curve, and the one whose curve it takes: the nearest alloy of the same kind of temper."""
FAMILIES = {"S235": "steel", "C45": "steel", "17-4PH": "stainless", "Ti-6Al-4V": "titanium"}
"""Metals of lugs and plates that take the line of a family of screw metals over their own strength."""
_AREA_UNDER_95 = 0.808  # sqrt(width x thickness) times this is the effective diameter of a bent bar
_ROUND = 0.37  # of a round bar that does not turn, as `steel_line` counts it

_THREAD = Provenance("VDI 2230 Part 1, 5.5.3, as quoted by several public implementations", "secondary")
_LAMINATE = Provenance(
    "Akay and Kong Ah Mun, Composites 26 (1995) 451, abstract: woven aramid/epoxy, taken for every laminate",
    "secondary",
)

Curve_co = TypeVar("Curve_co", bound=ThreadLine | HandbookCurve | ReversedLine | BearingLine, covariant=True)


@dataclass(frozen=True, eq=False)
class Chosen(Generic[Curve_co]):
    """A curve, where it comes from, and what must be said about it."""

    curve: Curve_co
    provenances: tuple[Provenance, ...]
    remarks: tuple[str, ...] = ()


Metal: TypeAlias = Chosen[HandbookCurve] | Chosen[ReversedLine]


def thread_curve(screw: Screw) -> Chosen[ThreadLine]:
    """Return the thread's endurance, by size alone."""
    endurance = thread_endurance_rolled_before(screw.thread.nominal_diameter)
    return Chosen(ThreadLine(endurance, THREAD_METHOD), (_THREAD,))


def shank_curve(screw: Screw) -> Chosen[ReversedLine]:
    """Return the reversed line of a machined shank of the screw's family."""
    row = screw_fatigue(screw.strength.family)
    line = _reversed(row.family, screw.strength.tensile_strength, screw.shear_diameter)
    return Chosen(line, (row.provenance, screw.strength.strength_provenance))


def metal_curve(material: Material, notch: float, width: float, thickness: float) -> Metal | None:
    """Return the curve of a plate or lug, or None where there is none.

    Arguments: material; notch - Kt of the part: of several curves the sharpest that is not above it is
    taken, else the mildest; width, thickness - m, for the size of steels.
    """
    name = BORROWED.get(material.name, material.name)
    if name in fatigue_materials():
        rows = fatigue_curves(name)
        row = max((r for r in rows if r.notch <= notch), key=lambda r: r.notch, default=rows[0])
        curve = HandbookCurve(
            row.intercept, row.slope, row.ratio_exponent, row.offset, row.notch, row.largest_cycles
        )
        remark = f"no fatigue curve known for {material.name}: that of {name} is used"
        return Chosen(curve, (row.provenance,), (remark,) if name != material.name else ())
    if name not in FAMILIES:
        return None
    family = screw_fatigue(FAMILIES[name])
    round_bar = _AREA_UNDER_95 / _ROUND * float(np.sqrt(width * thickness))
    line = _reversed(family.family, material.tensile_ultimate, round_bar)
    remark = f"no fatigue curve known for {name}: the line of {family.family} screws over its own strength"
    return Chosen(line, (family.provenance, material.strength_provenance), (remark,))


def laminate_curve(strength: float, provenance: Provenance) -> Chosen[BearingLine]:
    """Return the bearing line of a laminate over its static bearing strength (Pa), dry."""
    return Chosen(BearingLine(strength), (_LAMINATE, provenance))


def _reversed(family: str, tensile_strength: float, diameter: float) -> ReversedLine:
    row = screw_fatigue(family)
    return steel_line(
        tensile_strength,
        diameter,
        ratio=row.endurance_ratio,
        greatest=row.greatest_endurance,
        knee=row.knee_cycles,
        endless=row.endless,
    )
