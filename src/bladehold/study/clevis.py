"""The clevis of a build for the contact model: faces, plates, screw, ties and what holds the roots."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.joint.contact import ClevisState, rotational_stiffness, solve_clevis
from bladehold.joint.contact_model import (
    ClevisModel,
    clevis_model,
    foundation_modulus,
    plate_bending_stiffness,
    plate_shear_stiffness,
)
from bladehold.joint.stiffness import axial_stiffness
from bladehold.sheet.build import Build, Ties
from bladehold.study.clamp import pivot_stack, pressed_rings
from bladehold.tables import Material, clearance_hole

FloatArray = NDArray[np.float64]

GONE = 1.0
"""Stiffness, N/m, of a screw that is not there any more: next to nothing beside any plate."""
_POISSON = 0.33  # for the shear modulus of a lug; its share of the bending is small
_CLEAR = 1.02  # a tie row lies at least this far beyond the end of the contact
_LEVER = 0.75  # of the tip radius, where a blade's lift acts: common practice, no source


@dataclass(frozen=True)
class Held:
    """What holds the plates in one state of the hub: whether the pivot screw clamps; ties left of one blade;
    whether ties and pivot screw are tightened as the sheet says (else no preload is in the ties).
    """

    pivot: bool = True
    ties: int | None = None
    tightened: bool = True


@dataclass(frozen=True, eq=False)
class Cases:
    """Loads of one clevis, broadcast together: flap moment, N*m; lift; preload of the pivot screw and of one
    tie, N.
    """

    flap: ArrayLike
    lift: ArrayLike
    preload: ArrayLike
    tie_preload: ArrayLike


AS_BUILT = Held()
WITHOUT_PRELOAD = Held(tightened=False)


def clevis_of(
    build: Build, held: Held = AS_BUILT, tie_preload: ArrayLike = 0.0, *, rigid_lug: bool = False
) -> ClevisModel:
    """Return the contact model of a build's clevis.

    The plates' roots are at the mounting screws where these hold the upper plate too, else at the rotor axis:
    there nothing is counted on to hold the upper plate up or level, for what swings once per turn is opposite
    on the blade opposite; a hub core between the plates carries it down.
    Heads press through half the plate at 45 degrees. A lug bends, unless its bush carries the plates.
    Arguments: build; held - what is left of it; tie_preload - of one tie, N, any shape; rigid_lug - for a
    blade whose own beam starts at the pivot. Source: own arrangement, as held against finite elements.
    """
    hub, a = build.hub, build.hub.half_contact
    proud = build.hub.bush_carries and hub.bush_material is not None
    middle = hub.bush_material if proud and hub.bush_material is not None else hub.lug_material
    height = hub.bush_length if proud else hub.lug_thickness
    plate = hub.plate_material
    bending = plate_bending_stiffness(plate.modulus, hub.plate_width, hub.plate_thickness)
    head = float(pressed_rings(build).min()) + hub.plate_thickness
    root, count = root_distance(build), build.ties.count if held.ties is None else held.ties
    row = tie_row(build)
    tied = row is not None and count > 0
    core = plate.through_modulus * hub.plate_width * build.mounting.bolt_circle / 2 / height
    return clevis_model(
        half_length=a,
        contact_width=2.0 * a if proud else hub.lug_width,
        foundation=foundation_modulus(
            middle.through_modulus, height, plate.through_modulus, hub.plate_thickness
        ),
        screw_stiffness=pivot_stack(build).screw_stiffness if held.pivot else GONE,
        upper_bending=bending,
        lower_bending=bending,
        lug_bending=None if proud or rigid_lug else _lug_bending(build),
        lug_shear=None if proud or rigid_lug else _lug_shear(build),
        root_distance=root,
        hole_diameter=min(hub.lug_hole if proud else max(hub.lug_hole, hub.plate_hole), 1.8 * a),
        head_diameter=min(head, 1.9 * a),
        contact=build.policy.contact,
        gap=max(hub.gap - (height - hub.lug_thickness) / 2, 0.0),
        upper_root="clamped" if hub.upper_plate_bolted else "free",
        core_stiffness=core,
        tie_distance=row,
        tie_stiffness=count * _tie_stiffness(build, build.ties) if tied else 0.0,
        tie_preload=count * np.asarray(tie_preload) if tied and held.tightened else 0.0,
        spacer_stiffness=count * _spacer_stiffness(build, hub.spacer_material) if tied else 0.0,
    )


def solved_together(build: Build, held: Held, *groups: Cases) -> tuple[ClevisState, ...]:
    """State of each group of cases, found in one solution, which costs little more than that of one group.

    Arguments: build; held - what is left of it; groups - of cases. Returns one state each, shaped as
    its cases.
    """
    wide = [np.broadcast_arrays(one.flap, one.lift, one.preload, one.tie_preload) for one in groups]
    flap, lift, preload, tie = (
        np.concatenate([values.ravel() for values in row]) for row in zip(*wide, strict=True)
    )
    state = solve_clevis(clevis_of(build, held, tie if tie.any() else 0.0), flap, lift, preload)
    ends = np.cumsum([row[0].size for row in wide])

    def part(values: NDArray[Any], at: int) -> NDArray[Any]:
        shape = wide[at][0].shape
        return values[ends[at] - wide[at][0].size : ends[at]].reshape(shape)

    return tuple(
        ClevisState(**{name: part(values, at) for name, values in vars(state).items()})
        for at in range(len(groups))
    )


def faces_clamp(build: Build, preload: ArrayLike, tie_preload: ArrayLike = 0.0) -> FloatArray:
    """Return the force (N) on the faces of a pivot at rest: preload less what bends the plates.

    Arguments: build; preload - of the pivot screw, N, any shape; tie_preload - of one tie, N, any shape.
    Where the
    contact model does not come to rest nothing is counted on.
    """
    state = solve_clevis(clevis_of(build, AS_BUILT, tie_preload), 0.0, 0.0, preload)
    return np.where(state.converged, state.clamp, 0.0)


def root_distance(build: Build) -> float:
    """From the pivot inboard to where the plates are held, m; beyond the contact and the ties in any case."""
    hub = build.hub
    held = hub.pivot_radius - (build.mounting.bolt_circle / 2 if hub.upper_plate_bolted else 0.0)
    return max(held, _CLEAR**3 * build.hub.half_contact)


def tie_row(build: Build) -> float | None:
    """From the pivot inboard to the ties, m, clear of the contact; None where they hold nothing.

    Ties inboard of mounting screws that clamp both plates hold what is held already.
    """
    ties = build.ties
    if ties.screw is None or ties.count == 0:
        return None
    row = max(ties.distance, _CLEAR * build.hub.half_contact)
    return row if row < root_distance(build) else None


def tie_holes(build: Build) -> float:
    """Return the width (m) that the holes of the ties take from a plate: medium fit, in one row across it.

    A fifth of the plate's width is left at least.
    """
    ties = build.ties
    if ties.screw is None:
        return 0.0
    hole = clearance_hole(ties.screw.thread.name, "medium").diameter
    return min(ties.count * hole, 0.8 * build.hub.plate_width)


def joint_stiffness(build: Build) -> float:
    """Return the stiffness of clevis and plates against the flap moment, N*m/rad.

    As measured; else slope of the contact model at the flap moment that lift alone makes in hover,
    without any preload: the soft end. Play that lift takes up once does not count, the blade swings about it.
    """
    if build.hub.flap_stiffness is not None:
        return build.hub.flap_stiffness
    lift = build.flying.used_thrust / build.propeller.blades
    moment = lift * max(
        _LEVER * build.propeller.diameter / 2 - build.hub.pivot_radius, build.hub.half_contact
    )
    found = rotational_stiffness(clevis_of(build, WITHOUT_PRELOAD, rigid_lug=True), moment, lift, 0.0)
    return float(found.tangent)


def _lug_bending(build: Build) -> float:
    """Bending stiffness of the lug as a beam, N*m^2."""
    hub = build.hub
    return float(plate_bending_stiffness(hub.lug_material.modulus, hub.lug_width, hub.lug_thickness))


def _lug_shear(build: Build) -> float:
    """Shear stiffness of the lug as a beam, N: of metal by Poisson's ratio, of a laminate its resin's."""
    hub, material = build.hub, build.hub.lug_material
    loosely = material.through_modulus if material.kind == "laminate" else material.modulus
    return float(plate_shear_stiffness(loosely / (2.0 * (1.0 + _POISSON)), hub.lug_width, hub.lug_thickness))


def _tie_stiffness(build: Build, ties: Ties) -> float:
    """Of one tie along itself, N/m: threaded through both plates and its spacer."""
    assert ties.screw is not None  # asked only where there are ties
    length = build.hub.lug_thickness + 2.0 * build.hub.plate_thickness
    return float(axial_stiffness(ties.screw.thread.profile.stress_area, length, ties.screw.strength.modulus))


def _spacer_stiffness(build: Build, material: Material | None) -> float:
    """Of the sleeve round one tie, N/m."""
    ties, hub = build.ties, build.hub
    assert ties.screw is not None and material is not None  # a build with ties has both
    bore = ties.screw.thread.nominal_diameter
    area = np.pi / 4 * max(hub.spacer_diameter**2 - bore**2, 0.1 * bore**2)
    return float(axial_stiffness(area, hub.lug_thickness + 2.0 * hub.gap, material.through_modulus))
