"""What a sheet brings itself: strengths and materials like the tables' rows, a polar from its file."""

from __future__ import annotations

from pathlib import Path

from bladehold.rotor import Polar, read_polar
from bladehold.sheet.flying import OwnClass, OwnMaterial
from bladehold.sheet.problem import Problem, SheetError
from bladehold.sheet.sheet import Sheet
from bladehold.tables import Material, PropertyClass, Provenance, material, property_class

# Softer beds bend the pivot screw more, so a modulus that is not given is taken at the soft end of its kind.
_SOFT = {"metal": 68e9, "laminate": 20e9, "plastic": 3e9}
_STEEL_DENSITY = 7850.0  # kg/m3, of a screw of the sheet's own class, which says no density
_UNKNOWN = Provenance("not given in the sheet", "memory")


def class_named(sheet: Sheet, name: str) -> tuple[PropertyClass, float | None]:
    """Return the property class of that name and its shear strength (Pa, None: by rule).

    The sheet's own entries win over the tables'.
    """
    own = (sheet.classes or {}).get(name)
    if own is None:
        return property_class(name), None
    return _own_class(name, own), own.shear.si if own.shear else None


def material_named(sheet: Sheet, name: str) -> Material:
    """Return the material of that name; the sheet's own entries win over the tables'."""
    own = (sheet.materials or {}).get(name)
    return material(name) if own is None else _own_material(name, own)


def own_polar(name: str, folder: Path, aspect_ratio: float) -> Polar:
    """Return the polar of the sheet's own file.

    Arguments: name - of the file, as in the sheet; folder - in which it is looked for; aspect_ratio - radius
    over chord of the blade. Errors: SheetError naming the file and its fault.
    """
    path = folder / name
    try:
        return read_polar(path, aspect_ratio=aspect_ratio)
    except OSError as error:
        message = f"cannot be read: {error.strerror or error}"
    except ValueError as error:
        message = str(error).removeprefix(f"{path.name}: ").removeprefix(f"{path.name}, ")
    raise SheetError([Problem(str(path), None, "propeller.polar", message)])


def _own_class(name: str, own: OwnClass) -> PropertyClass:
    given = Provenance(own.source, "user")
    return PropertyClass(
        name=name,
        family="given in the sheet",
        tensile_strength=own.ultimate.si,
        yield_strength=own.yield_strength.si,
        yield_kind="Rp0.2",
        proof_stress=None,
        elongation=None,
        largest_diameter=None,
        strength_provenance=given,
        modulus=own.modulus.si if own.modulus else 207e9,
        modulus_provenance=given if own.modulus else _UNKNOWN,
        expansion=own.expansion.si if own.expansion else 11.7e-6,
        expansion_provenance=given if own.expansion else _UNKNOWN,
        density=_STEEL_DENSITY,
        density_provenance=_UNKNOWN,
        note="",
    )


def _own_material(name: str, own: OwnMaterial) -> Material:
    """Return a table row made of the user's figures; what they left out stays unknown or neutral."""
    given = Provenance(own.source, "user")
    metal = own.kind != "laminate"
    bearing_yield = own.bearing_yield.si if own.bearing_yield else None
    bearing = own.bearing_ultimate.si
    through = _through_thickness(own, given)
    return Material(
        name=name,
        kind=own.kind,
        form="given in the sheet",
        tensile_ultimate=own.ultimate.si,
        tensile_yield=own.yield_strength.si if own.yield_strength else None,
        shear_ultimate=own.shear.si if metal else None,
        strength_provenance=given,
        bearing_ultimate_2d=bearing if metal else None,
        bearing_yield_2d=bearing_yield if metal else None,
        bearing_2d_provenance=given if metal else None,
        bearing_ultimate_1_5d=None,
        bearing_yield_1_5d=None,
        bearing_1_5d_provenance=None,
        bearing_pin=None if metal else bearing,
        bearing_finger_tight=None if metal else bearing,
        bearing_clamped=None if metal else bearing,
        shear_out=None if metal else own.shear.si,
        interlaminar_shear=None,
        hole_factor=None if metal else (own.hole_factor.si if own.hole_factor else 0.5),
        laminate_provenance=None if metal else given,
        modulus=own.modulus.si if own.modulus else _SOFT[own.kind],
        modulus_provenance=given if own.modulus else _UNKNOWN,
        expansion_in_plane=own.expansion.si if own.expansion else 0.0,
        expansion_thickness=own.expansion.si if own.expansion else 0.0,
        expansion_provenance=given if own.expansion else _UNKNOWN,
        surface_pressure=own.pressure.si if own.pressure else None,
        pressure_provenance=given if own.pressure else None,
        through_modulus=through[0],
        through_compression=through[1],
        through_provenance=through[2],
        density=own.density.si if own.density else 2700.0,
        density_provenance=given if own.density else _UNKNOWN,
        note="",
    )


def _through_thickness(own: OwnMaterial, given: Provenance) -> tuple[float, float, Provenance]:
    """Modulus and compression strength (Pa) through the thickness: a laminate's are those of listed cloth."""
    if own.kind == "laminate":
        cloth = material("carbon-woven")
        return cloth.through_modulus, min(cloth.through_compression, own.ultimate.si), _UNKNOWN
    modulus = own.modulus.si if own.modulus else _SOFT[own.kind]
    strength = own.yield_strength.si if own.yield_strength else own.ultimate.si
    return modulus, strength, given if own.modulus else _UNKNOWN
