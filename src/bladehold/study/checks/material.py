"""Strengths of lug and plate materials as the checks ask for them, with what is missing made up openly."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bladehold.joint.pin import shear_strength_from_tensile
from bladehold.tables import Material, Provenance


@dataclass(frozen=True)
class Strength:
    """One strength (Pa), where it comes from, and what had to be made up (None: nothing)."""

    value: float
    provenance: Provenance
    remark: str | None = None


def tension(material: Material, *, at_yield: bool) -> Strength:
    """Tensile strength or yield; a laminate or plastic without a yield point uses its ultimate strength."""
    if at_yield and material.tensile_yield is not None:
        return Strength(material.tensile_yield, material.strength_provenance)
    return Strength(material.tensile_ultimate, material.strength_provenance)


def hole_factor(material: Material) -> float:
    """Strength of a net section beside a hole over the plain strength: 1 for ductile metals."""
    return 1.0 if material.hole_factor is None else material.hole_factor


def shear(material: Material) -> Strength:
    """Shear strength: shear-out strength of a laminate, else shear strength, else tensile / sqrt(3)."""
    if material.shear_out is not None and material.laminate_provenance is not None:
        return Strength(material.shear_out, material.laminate_provenance)
    if material.shear_ultimate is not None:
        return Strength(material.shear_ultimate, material.strength_provenance)
    made_up = float(shear_strength_from_tensile(material.tensile_ultimate))
    remark = f"no shear strength known for {material.name}: tensile strength / sqrt(3) is used"
    return Strength(made_up, material.strength_provenance, remark)


def thread_shear(material: Material) -> Strength:
    """Shear strength of a thread cut across a part: between a laminate's plies where that is known."""
    if material.interlaminar_shear is not None and material.laminate_provenance is not None:
        return Strength(material.interlaminar_shear, material.laminate_provenance)
    found = shear(material)
    if material.kind != "laminate":
        return found
    remark = f"no interlaminar shear strength known for {material.name}: its shear-out strength is used"
    return Strength(found.value, found.provenance, found.remark or remark)


def permissible_pressure(material: Material) -> Strength:
    """Pressure that a face bears without setting; yield or pin bearing strength where it is not known."""
    if material.surface_pressure is not None and material.pressure_provenance is not None:
        return Strength(material.surface_pressure, material.pressure_provenance)
    fallback = material.tensile_yield or material.bearing_pin or material.tensile_ultimate
    remark = f"no permissible pressure known for {material.name}: its yield or pin bearing strength is used"
    return Strength(fallback, material.strength_provenance, remark)


def bearing(material: Material, edge_ratio: float, *, at_yield: bool) -> Strength:
    """Bearing strength for an edge distance ratio e/D.

    Metal: between the figures for e/D 1.5 and 2.0 by straight line, never above the latter; below 1.5,
    or where only one figure is known, scaled down with e/D. Laminate: plain-pin strength, because a
    folding pivot does not clamp. Where the yield figure is unknown the ultimate one is scaled by the
    tensile ratio. Source: MIL-HDBK-5J, 1.4.7 (bearing at e/D 1.5 and 2.0); scaling is the safe side.
    """
    if material.bearing_pin is not None and material.laminate_provenance is not None:
        return Strength(material.bearing_pin, material.laminate_provenance)
    at_2, at_1_5, remark = _bearing_figures(material, at_yield=at_yield)
    provenance = material.bearing_2d_provenance or material.strength_provenance
    if at_1_5 is None:
        return Strength(at_2 * min(edge_ratio, 2.0) / 2.0, provenance, remark)
    if edge_ratio < 1.5:
        return Strength(at_1_5 * edge_ratio / 1.5, material.bearing_1_5d_provenance or provenance, remark)
    return Strength(float(np.interp(edge_ratio, [1.5, 2.0], [at_1_5, at_2])), provenance, remark)


def _bearing_figures(material: Material, *, at_yield: bool) -> tuple[float, float | None, str | None]:
    """Bearing figures at e/D 2.0 and 1.5, and a remark where the yield figure had to be made up."""
    ultimate = material.bearing_ultimate_2d or 1.5 * material.tensile_ultimate
    if not at_yield:
        return ultimate, material.bearing_ultimate_1_5d, None
    if material.bearing_yield_2d is not None:
        return material.bearing_yield_2d, material.bearing_yield_1_5d, None
    ratio = (material.tensile_yield or material.tensile_ultimate) / material.tensile_ultimate
    scaled_1_5 = None if material.bearing_ultimate_1_5d is None else ratio * material.bearing_ultimate_1_5d
    remark = f"no bearing yield known for {material.name}: bearing strength times yield over tensile strength"
    return ratio * ultimate, scaled_1_5, remark if ratio < 1.0 else None
