"""Strength, stiffness, expansion and density of screws by property class."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from bladehold.tables.lookup import find, keyed
from bladehold.tables.provenance import Provenance
from bladehold.tables.reader import GIGA, MEGA, MICRO, MILLI, Line, read_table


@dataclass(frozen=True)
class PropertyClass:
    """Minimum strengths of one property class, and elasticity, expansion and density of its material.

    family: "steel", "stainless", "titanium" or "unknown". tensile_strength Rm, yield_strength
    (ReL, Rp0.2 or Rpf as yield_kind says) and proof_stress Sp in Pa; elongation as a fraction;
    largest_diameter (m) up to which the figures hold, None where the table sets none; modulus in Pa;
    expansion in 1/K; density in kg/m3; note - what the user must know. None stands for a figure the source
    does not give. Shear strengths are not stored: they follow from the tensile strength by the method
    chosen.
    """

    name: str
    family: str
    tensile_strength: float
    yield_strength: float
    yield_kind: str
    proof_stress: float | None
    elongation: float | None
    largest_diameter: float | None
    strength_provenance: Provenance
    modulus: float
    modulus_provenance: Provenance
    expansion: float
    expansion_provenance: Provenance
    density: float
    density_provenance: Provenance
    note: str


_REQUIRED = (
    "name",
    "family",
    "tensile_strength_MPa",
    "yield_strength_MPa",
    "yield_kind",
    "strength_source",
    "strength_mark",
    "modulus_GPa",
    "modulus_source",
    "modulus_mark",
    "expansion_ppm_per_K",
    "expansion_source",
    "expansion_mark",
    "density_kg_m3",
    "density_source",
    "density_mark",
)
_OPTIONAL = ("proof_stress_MPa", "elongation_percent", "largest_diameter_mm", "note")


def _property_class(line: Line) -> PropertyClass:
    return PropertyClass(
        name=line.text("name"),
        family=line.text("family"),
        tensile_strength=line.number("tensile_strength_MPa", MEGA),
        yield_strength=line.number("yield_strength_MPa", MEGA),
        yield_kind=line.text("yield_kind"),
        proof_stress=line.optional_number("proof_stress_MPa", MEGA),
        elongation=line.optional_number("elongation_percent", -2),
        largest_diameter=line.optional_number("largest_diameter_mm", MILLI),
        strength_provenance=line.provenance("strength"),
        modulus=line.number("modulus_GPa", GIGA),
        modulus_provenance=line.provenance("modulus"),
        expansion=line.number("expansion_ppm_per_K", MICRO),
        expansion_provenance=line.provenance("expansion"),
        density=line.number("density_kg_m3"),
        density_provenance=line.provenance("density"),
        note=line.text("note"),
    )


@cache
def _classes() -> dict[str, PropertyClass]:
    lines = read_table("property_classes.csv", _REQUIRED, _OPTIONAL)
    return keyed((line.text("name"), _property_class(line)) for line in lines)


def property_class_names() -> tuple[str, ...]:
    """Return the names of the property classes in table order; "unmarked" is the last."""
    return tuple(_classes())


def property_class(name: str) -> PropertyClass:
    """Return the property class called `name`, such as "8.8" or "A2-70"; raise UnknownName for any other.

    "unmarked" is the pessimistic envelope for a screw whose head carries no grade.

    >>> property_class("8.8").proof_stress
    580000000.0
    """
    return find("property class", name, _classes())
