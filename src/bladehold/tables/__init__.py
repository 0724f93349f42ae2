"""Published tables: threads, fasteners, strengths, materials, tightening and policy, each with its source."""

from bladehold.tables.assembly import (
    Lubrication,
    Tightening,
    lubrication,
    lubrication_names,
    tightening,
    tightening_factor,
    tightening_names,
)
from bladehold.tables.blade_materials import BladeMaterial, blade_material, blade_material_names
from bladehold.tables.fasteners import (
    ClearanceHole,
    Head,
    Nut,
    Washer,
    bearing_area,
    clearance_fits,
    clearance_hole,
    head,
    head_kinds,
    nut,
    nut_kinds,
    washer,
)
from bladehold.tables.lookup import UnknownName, nearest_name
from bladehold.tables.loosening import (
    Embedding,
    Locking,
    Relaxation,
    embedding,
    locking,
    locking_names,
    relaxation,
    relaxation_names,
)
from bladehold.tables.lugs import LugCurves, LugMaterial, lug_curves, lug_figures, lug_material
from bladehold.tables.materials import Material, material, material_names
from bladehold.tables.nut_styles import Engagement, NutStyle, engagements, nut_style, nut_style_names
from bladehold.tables.policy import Factor, factor, factor_names, governing_special_factor
from bladehold.tables.provenance import MARKS, Provenance, provenances
from bladehold.tables.reader import TableError
from bladehold.tables.strength import PropertyClass, property_class, property_class_names
from bladehold.tables.threads import BasicProfile, Thread, basic_profile, thread, thread_names

__all__ = [
    "MARKS",
    "BasicProfile",
    "BladeMaterial",
    "ClearanceHole",
    "Embedding",
    "Engagement",
    "Factor",
    "Head",
    "Locking",
    "Lubrication",
    "LugCurves",
    "LugMaterial",
    "Material",
    "Nut",
    "NutStyle",
    "PropertyClass",
    "Provenance",
    "Relaxation",
    "TableError",
    "Thread",
    "Tightening",
    "UnknownName",
    "Washer",
    "basic_profile",
    "bearing_area",
    "blade_material",
    "blade_material_names",
    "clearance_fits",
    "clearance_hole",
    "embedding",
    "engagements",
    "factor",
    "factor_names",
    "governing_special_factor",
    "head",
    "head_kinds",
    "locking",
    "locking_names",
    "lubrication",
    "lubrication_names",
    "lug_curves",
    "lug_figures",
    "lug_material",
    "material",
    "material_names",
    "nearest_name",
    "nut",
    "nut_kinds",
    "nut_style",
    "nut_style_names",
    "property_class",
    "property_class_names",
    "provenances",
    "relaxation",
    "relaxation_names",
    "thread",
    "thread_names",
    "tightening",
    "tightening_factor",
    "tightening_names",
    "washer",
]
