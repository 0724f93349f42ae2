"""Strength, stiffness, expansion and density of lugs, plates, hubs and bushes."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from bladehold.tables.lookup import find, keyed
from bladehold.tables.provenance import Provenance
from bladehold.tables.reader import GIGA, MEGA, MICRO, Line, read_table


@dataclass(frozen=True)
class Material:
    """One material in one form.

    kind: "metal", "laminate" or "plastic"; form - what the figures belong to. Stresses and modulus in
    Pa, expansion in 1/K, density in kg/m3. None stands for a figure not known; a provenance is None
    exactly when its whole group is.
    Groups: strength (tensile and shear); bearing_2d and bearing_1_5d (bearing at e/D 2.0 and 1.5,
    metals and plastics); laminate (bearing on a plain pin, under a finger-tight and a tightened screw,
    shear-out, interlaminar shear, hole_factor = net-section strength at a hole over tensile_ultimate);
    modulus; expansion in the plane and through the thickness; pressure (permissible surface pressure
    under a head or nut); through (modulus and compression strength through the thickness, in metals those of
    the plane); density.
    """

    name: str
    kind: str
    form: str
    tensile_ultimate: float
    tensile_yield: float | None
    shear_ultimate: float | None
    strength_provenance: Provenance
    bearing_ultimate_2d: float | None
    bearing_yield_2d: float | None
    bearing_2d_provenance: Provenance | None
    bearing_ultimate_1_5d: float | None
    bearing_yield_1_5d: float | None
    bearing_1_5d_provenance: Provenance | None
    bearing_pin: float | None
    bearing_finger_tight: float | None
    bearing_clamped: float | None
    shear_out: float | None
    interlaminar_shear: float | None
    hole_factor: float | None
    laminate_provenance: Provenance | None
    modulus: float
    modulus_provenance: Provenance
    expansion_in_plane: float
    expansion_thickness: float
    expansion_provenance: Provenance
    surface_pressure: float | None
    pressure_provenance: Provenance | None
    through_modulus: float
    through_compression: float
    through_provenance: Provenance
    density: float
    density_provenance: Provenance
    note: str


_REQUIRED = (
    "name",
    "kind",
    "form",
    "tensile_ultimate_MPa",
    "strength_source",
    "strength_mark",
    "modulus_GPa",
    "modulus_source",
    "modulus_mark",
    "expansion_in_plane_ppm_per_K",
    "expansion_thickness_ppm_per_K",
    "expansion_source",
    "expansion_mark",
    "through_modulus_GPa",
    "through_compression_MPa",
    "through_source",
    "through_mark",
    "density_kg_m3",
    "density_source",
    "density_mark",
)
_BEARING_2D = ("bearing_ultimate_2D_MPa", "bearing_yield_2D_MPa")
_BEARING_1_5D = ("bearing_ultimate_1_5D_MPa", "bearing_yield_1_5D_MPa")
_LAMINATE = (
    "bearing_pin_MPa",
    "bearing_finger_tight_MPa",
    "bearing_clamped_MPa",
    "shear_out_MPa",
    "interlaminar_shear_MPa",
)
_OPTIONAL = (
    "tensile_yield_MPa",
    "shear_ultimate_MPa",
    *_BEARING_2D,
    "bearing_2D_source",
    "bearing_2D_mark",
    *_BEARING_1_5D,
    "bearing_1_5D_source",
    "bearing_1_5D_mark",
    *_LAMINATE,
    "hole_factor",
    "laminate_source",
    "laminate_mark",
    "surface_pressure_MPa",
    "pressure_source",
    "pressure_mark",
    "note",
)


def _material(line: Line) -> Material:
    ultimate_2d, yield_2d = (line.optional_number(column, MEGA) for column in _BEARING_2D)
    ultimate_1_5d, yield_1_5d = (line.optional_number(column, MEGA) for column in _BEARING_1_5D)
    pin, finger_tight, clamped, shear_out, interlaminar = (
        line.optional_number(column, MEGA) for column in _LAMINATE
    )
    hole_factor = line.optional_number("hole_factor")
    pressure = line.optional_number("surface_pressure_MPa", MEGA)
    return Material(
        name=line.text("name"),
        kind=line.text("kind"),
        form=line.text("form"),
        tensile_ultimate=line.number("tensile_ultimate_MPa", MEGA),
        tensile_yield=line.optional_number("tensile_yield_MPa", MEGA),
        shear_ultimate=line.optional_number("shear_ultimate_MPa", MEGA),
        strength_provenance=line.provenance("strength"),
        bearing_ultimate_2d=ultimate_2d,
        bearing_yield_2d=yield_2d,
        bearing_2d_provenance=line.optional_provenance("bearing_2D", ultimate_2d, yield_2d),
        bearing_ultimate_1_5d=ultimate_1_5d,
        bearing_yield_1_5d=yield_1_5d,
        bearing_1_5d_provenance=line.optional_provenance("bearing_1_5D", ultimate_1_5d, yield_1_5d),
        bearing_pin=pin,
        bearing_finger_tight=finger_tight,
        bearing_clamped=clamped,
        shear_out=shear_out,
        interlaminar_shear=interlaminar,
        hole_factor=hole_factor,
        laminate_provenance=line.optional_provenance(
            "laminate", pin, finger_tight, clamped, shear_out, interlaminar, hole_factor
        ),
        modulus=line.number("modulus_GPa", GIGA),
        modulus_provenance=line.provenance("modulus"),
        expansion_in_plane=line.number("expansion_in_plane_ppm_per_K", MICRO),
        expansion_thickness=line.number("expansion_thickness_ppm_per_K", MICRO),
        expansion_provenance=line.provenance("expansion"),
        surface_pressure=pressure,
        pressure_provenance=line.optional_provenance("pressure", pressure),
        through_modulus=line.number("through_modulus_GPa", GIGA),
        through_compression=line.number("through_compression_MPa", MEGA),
        through_provenance=line.provenance("through"),
        density=line.number("density_kg_m3"),
        density_provenance=line.provenance("density"),
        note=line.text("note"),
    )


@cache
def _materials() -> dict[str, Material]:
    lines = read_table("materials.csv", _REQUIRED, _OPTIONAL)
    return keyed((line.text("name"), _material(line)) for line in lines)


def material_names() -> tuple[str, ...]:
    """Return the names of the materials in table order: metals, laminates, plastics."""
    return tuple(_materials())


def material(name: str) -> Material:
    """Return the material called `name`, such as "7075-T6"; raise UnknownName for any other.

    >>> material("7075-T6").expansion_thickness
    2.34e-05
    """
    return find("material", name, _materials())
