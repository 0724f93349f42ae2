"""Stiffness and density of what blades are made of, along the span."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from bladehold.tables.lookup import find, keyed
from bladehold.tables.provenance import Provenance
from bladehold.tables.reader import GIGA, Line, read_table


@dataclass(frozen=True)
class BladeMaterial:
    """One material as it lies in a blade.

    kind: "laminate", "foam", "wood", "plastic" or "metal"; form - what the figures belong to; modulus -
    along the span, Pa; shear_modulus - in planes along the span, Pa; density - kg/m3; note - what the user
    must know.
    """

    name: str
    kind: str
    form: str
    modulus: float
    modulus_provenance: Provenance
    shear_modulus: float
    shear_provenance: Provenance
    density: float
    density_provenance: Provenance
    note: str


_REQUIRED = (
    "name",
    "kind",
    "form",
    "modulus_GPa",
    "modulus_source",
    "modulus_mark",
    "shear_modulus_GPa",
    "shear_source",
    "shear_mark",
    "density_kg_m3",
    "density_source",
    "density_mark",
)


def _blade_material(line: Line) -> BladeMaterial:
    return BladeMaterial(
        name=line.text("name"),
        kind=line.text("kind"),
        form=line.text("form"),
        modulus=line.number("modulus_GPa", GIGA),
        modulus_provenance=line.provenance("modulus"),
        shear_modulus=line.number("shear_modulus_GPa", GIGA),
        shear_provenance=line.provenance("shear"),
        density=line.number("density_kg_m3"),
        density_provenance=line.provenance("density"),
        note=line.text("note"),
    )


@cache
def _blade_materials() -> dict[str, BladeMaterial]:
    lines = read_table("blade_materials.csv", _REQUIRED, ("note",))
    return keyed((line.text("name"), _blade_material(line)) for line in lines)


def blade_material_names() -> tuple[str, ...]:
    """Return the names of the blade materials in table order."""
    return tuple(_blade_materials())


def blade_material(name: str) -> BladeMaterial:
    """Return the blade material called `name`, such as "carbon-0-90"; raise UnknownName for any other.

    >>> blade_material("balsa").modulus
    3400000000.0
    """
    return find("blade material", name, _blade_materials())
