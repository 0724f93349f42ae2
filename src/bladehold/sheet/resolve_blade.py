"""What a blade is built of and how it folds, complete: gaps of the sheet filled in the open."""

from __future__ import annotations

from bladehold.quantity import to_si
from bladehold.sheet import build as b
from bladehold.sheet.hardware import Propeller
from bladehold.sheet.ledger import COMMON, Ledger
from bladehold.tables import BladeMaterial, blade_material

# Of each way of building: the material of the section or of its skin, and of what is inside.
_MATERIALS = {
    "solid-laminate": ("carbon-0-90", None),
    "foam-core": ("carbon-0-90", "foam-pvc-80"),
    "hollow": ("carbon-0-90", None),
    "wood": ("beech", None),
    "moulded": ("PA66-GF30", None),
}
_SKINNED = ("foam-core", "hollow")
_SKIN, _DAMPING, _STOP = 0.5e-3, 0.01, to_si(90.0, "angle", "deg")


def resolve_structure(given: Propeller, ledger: Ledger) -> b.Structure:
    """Return how the blade is built, with every assumption on the ledger."""
    layup = ledger.choice(given.layup, "propeller.layup", "solid-laminate", COMMON)
    skin, core = _MATERIALS[layup]
    skin = ledger.choice(given.blade_material, "propeller.blade_material", skin, COMMON)
    wall, inside = None, None
    if layup in _SKINNED:
        wall = ledger.millimetres(given.skin_thickness, "propeller.skin_thickness", _SKIN, COMMON)
    if layup == "foam-core":
        inside = _material(ledger.choice(given.core_material, "propeller.core_material", core, COMMON))
    return b.Structure(
        layup=layup,
        skin=blade_material(skin),
        core=inside,
        skin_thickness=wall,
        lug_angle=ledger.si(
            given.lug_angle, "propeller.lug_angle", 0.0, "0 deg", "the lug lies flat between the plates"
        ),
        damping=ledger.si(given.structural_damping, "propeller.structural_damping", _DAMPING, "0.01", COMMON),
        tip_mass=given.tip_mass.si if given.tip_mass else 0.0,
        tip_thickness=given.tip_thickness.si if given.tip_thickness else None,
        pivot_friction=given.pivot_friction.si if given.pivot_friction else None,
        leading_stop=given.leading_stop.si if given.leading_stop else _STOP,
        trailing_stop=given.trailing_stop.si if given.trailing_stop else _STOP,
    )


def _material(name: str | None) -> BladeMaterial | None:
    return None if name is None else blade_material(name)
