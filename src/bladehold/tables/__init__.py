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
from bladehold.tables.fatigue import (
    FatigueCurve,
    ScrewFatigue,
    ThreadFatigue,
    fatigue_curves,
    fatigue_materials,
    screw_fatigue,
    screw_fatigue_families,
    thread_fatigue,
    thread_fatigue_names,
)
from bladehold.tables.lookup import UnknownName, nearest_name
from bladehold.tables.materials import Material, material, material_names
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
    "Factor",
    "FatigueCurve",
    "Head",
    "Lubrication",
    "Material",
    "Nut",
    "PropertyClass",
    "Provenance",
    "ScrewFatigue",
    "TableError",
    "Thread",
    "ThreadFatigue",
    "Tightening",
    "UnknownName",
    "Washer",
    "basic_profile",
    "bearing_area",
    "blade_material",
    "blade_material_names",
    "clearance_fits",
    "clearance_hole",
    "factor",
    "factor_names",
    "fatigue_curves",
    "fatigue_materials",
    "governing_special_factor",
    "head",
    "head_kinds",
    "lubrication",
    "lubrication_names",
    "material",
    "material_names",
    "nearest_name",
    "nut",
    "nut_kinds",
    "property_class",
    "property_class_names",
    "provenances",
    "screw_fatigue",
    "screw_fatigue_families",
    "thread",
    "thread_fatigue",
    "thread_fatigue_names",
    "thread_names",
    "tightening",
    "tightening_factor",
    "tightening_names",
    "washer",
]
