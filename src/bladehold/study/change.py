"""A build with one thing changed: another pivot screw, thicker plates, washers and the like."""

from __future__ import annotations

from dataclasses import replace

from bladehold.sheet.build import Build, Hub, Screw, Ties, Tightening
from bladehold.tables import Material, PropertyClass, UnknownName, material, nut, property_class, thread

_ROUNDING = 1e-9  # m


class MisfitError(ValueError):
    """A change that the parts have no room for; the message says which part."""


def with_pivot_screw(build: Build, size: str, strength: PropertyClass) -> Build:
    """Return the build with another pivot screw, drilled and bushed to suit.

    Clearance in lug and plates and the wall of a bush stay as they are; the plain shank of a shoulder screw
    keeps its excess over the thread. Torques grow with the thread diameter: the clamping
    force stays, because it is set by how the blade should turn.
    Errors: MisfitError when the new hole leaves nothing of lug or plate.
    """
    old, hub = build.pivot, build.hub
    row = thread(size)
    grown = row.nominal_diameter - old.thread.nominal_diameter
    shear = row.profile.root_diameter if old.shear_plane == "thread" else old.shear_diameter + grown
    kind, engagement = _nut_for(old, size)
    screw = replace(
        old,
        thread=row,
        strength=strength,
        shear_ultimate=old.shear_ultimate if strength is old.strength else None,
        shear_diameter=shear,
        nut=kind,
        engagement=engagement,
        tightening=_same_clamp(old.tightening, row.nominal_diameter / old.thread.nominal_diameter),
    )
    return replace(build, pivot=screw, hub=_redrilled(hub, grown))


def _nut_for(screw: Screw, size: str) -> tuple[str, float]:
    """Kind and engaged length of the same nut in another size; a full nut where the kind is not made."""
    if screw.nut in {"tapped", "circlip", "none"}:
        return screw.nut, screw.engagement
    engaged = screw.engagement / nut(screw.thread.name, screw.nut).thread_height
    try:
        return screw.nut, engaged * nut(size, screw.nut).thread_height
    except UnknownName:
        return "hexagon", engaged * nut(size, "hexagon").thread_height


def _same_clamp(tightening: Tightening, ratio: float) -> Tightening:
    """Return the tightening that gives the same clamping force in a screw ratio times as thick."""
    return replace(
        tightening,
        torque=tightening.torque * ratio,
        prevailing_torque=tightening.prevailing_torque * ratio,
    )


def _redrilled(hub: Hub, grown: float) -> Hub:
    """Return the hub with every pivot hole, and the bush, grown by the same amount (m)."""
    new = replace(
        hub,
        lug_hole=hub.lug_hole + grown,
        plate_hole=hub.plate_hole + grown,
        bush_diameter=None if hub.bush_diameter is None else hub.bush_diameter + grown,
    )
    if new.lug_cut >= 0.9 * new.lug_width or new.lug_cut / 2 >= 0.9 * new.lug_edge_distance:
        raise MisfitError(f"a {1e3 * new.lug_cut:.3g} mm hole leaves nothing of the lug")
    if new.plate_hole >= 0.9 * new.plate_width or new.plate_hole / 2 >= 0.9 * new.plate_edge_distance:
        raise MisfitError(f"a {1e3 * new.plate_hole:.3g} mm hole leaves nothing of the plates")
    if new.contact_length <= max(new.lug_hole, new.plate_hole):
        raise MisfitError(
            f"a {1e3 * max(new.lug_hole, new.plate_hole):.3g} mm hole leaves nothing to bear on"
        )
    return new


def no_hole_shrinks(before: Build, after: Build) -> None:
    """Refuse a change that wants a smaller hole in a lug or plates that stay the same parts.

    Arguments: before - as the parts are drilled now; after - as wanted. Plates and lugs of another thickness
    or material are new parts and are drilled as wanted.
    Errors: MisfitError naming what is drilled too wide.
    """
    old, new = before.hub, after.hub
    same_lug = (old.lug_thickness, old.lug_material) == (new.lug_thickness, new.lug_material)
    same_plates = (old.plate_thickness, old.plate_material) == (new.plate_thickness, new.plate_material)
    wide = []
    if same_plates and new.plate_hole < old.plate_hole - _ROUNDING:
        wide.append("plates")
    if same_lug and new.lug_cut < old.lug_cut - _ROUNDING:
        wide.append("lug")
    if wide:
        raise MisfitError(
            f"the holes of {' and '.join(wide)} are drilled for {before.pivot.thread.name} and cannot shrink"
        )


def with_plain_shank(build: Build) -> Build:
    """Return the build with a plain shank of the thread's diameter in the shear planes."""
    screw = build.pivot
    return replace(
        build, pivot=replace(screw, shear_plane="shank", shear_diameter=screw.thread.nominal_diameter)
    )


def with_washers(build: Build) -> Build:
    """Return the build with washers under head and nut of the pivot screw."""
    return replace(build, pivot=replace(build.pivot, washers=True))


def with_plates(build: Build, thickness: float) -> Build:
    """Return the build with both plates of another thickness (m), and a pivot screw as long as that needs."""
    hub = replace(build.hub, plate_thickness=thickness)
    return replace(build, hub=hub, pivot=replace(build.pivot, length=None))


def with_lug(build: Build, thickness: float) -> Build:
    """Return the build with a lug of another thickness (m); a bush follows it, spacers and screw too."""
    hub = build.hub
    follows = replace(
        hub, lug_thickness=thickness, bush_length=hub.bush_length + thickness - hub.lug_thickness
    )
    return replace(build, hub=follows, pivot=replace(build.pivot, length=None))


def with_bush(build: Build, wall: float, material: Material) -> Build:
    """Return the build with a bush in every lug: wall (m) about the pivot screw's hole, as long as the lug is
    thick.

    Errors: MisfitError when it leaves nothing of the lug.
    """
    hub = build.hub
    bushed = replace(
        hub,
        bush_diameter=hub.lug_hole + 2.0 * wall,
        bush_material=material,
        bush_length=hub.lug_thickness,
    )
    return replace(build, hub=_redrilled(bushed, 0.0))


def without_bush(build: Build) -> Build:
    """Return the build with the pivot screw bearing on the lug itself.

    Errors: MisfitError where a bush was: its hole in the lug cannot shrink.
    """
    if build.hub.bush_diameter is not None:
        raise MisfitError(
            f"the lug is bored {1e3 * build.hub.bush_diameter:.3g} mm for its bush, and holes do not shrink"
        )
    return build


def with_ties(build: Build, count: int, size: str, strength: PropertyClass) -> Build:
    """Return the build with other tie screws, clamped with the force of the present ones.

    Where there are none the new ones stand half a lug's width inboard of the pivot, with spacers of 6061-T6,
    and no clamping is counted on. Spacers are at least twice as wide as the screw.
    """
    old, hub, row = build.ties, build.hub, thread(size)
    screw = replace(
        build.mounting.screw if old.screw is None else old.screw,
        thread=row,
        strength=strength,
        shear_ultimate=None,
        shear_diameter=row.profile.root_diameter,
        engagement=nut(size, "thin").thread_height,
    )
    if old.screw is None:
        tightening = replace(screw.tightening, torque=0.0, prevailing_torque=0.0)
    else:
        ratio = row.nominal_diameter / old.screw.thread.nominal_diameter
        tightening = _same_clamp(old.screw.tightening, ratio)
    spaced = replace(
        hub,
        spacer_material=hub.spacer_material or material("6061-T6"),
        spacer_diameter=max(hub.spacer_diameter, 2.0 * row.nominal_diameter),
    )
    distance = old.distance if old.count else hub.lug_width / 2.0
    return replace(build, hub=spaced, ties=Ties(count, replace(screw, tightening=tightening), distance))


def without_ties(build: Build) -> Build:
    """Return the build without tie screws and their spacers."""
    hub = replace(build.hub, spacer_material=None, spacer_diameter=0.0)
    return replace(build, ties=Ties(0, None, 0.0), hub=hub)


def with_plate_material(build: Build, name: str) -> Build:
    """Return the build with plates of another material of the tables."""
    return replace(build, hub=replace(build.hub, plate_material=material(name)))


def with_lug_material(build: Build, name: str) -> Build:
    """Return the build with lugs of another material of the tables."""
    return replace(build, hub=replace(build.hub, lug_material=material(name)))


def with_wider_lug(build: Build, extra: float) -> Build:
    """Return the build with the lug wider and longer beyond its hole by extra (m)."""
    hub = build.hub
    wider = replace(
        hub,
        lug_width=hub.lug_width + extra,
        lug_edge_distance=hub.lug_edge_distance + extra / 2,
        contact_length=hub.contact_length + extra,
    )
    return replace(build, hub=wider)


def with_mounting_screws(build: Build, size: str, name: str) -> Build:
    """Return the build with other mounting screws; engaged length stays the same number of diameters."""
    mounting = build.mounting
    row = thread(size)
    per_diameter = mounting.screw.engagement / mounting.screw.thread.nominal_diameter
    screw = replace(
        mounting.screw,
        thread=row,
        strength=property_class(name),
        shear_ultimate=None,
        shear_diameter=row.profile.root_diameter,
        engagement=per_diameter * row.nominal_diameter,
    )
    return replace(build, mounting=replace(mounting, screw=screw))


def with_free_length(build: Build) -> Build:
    """Return the build with a pivot screw as long as what it goes through needs."""
    return replace(build, pivot=replace(build.pivot, length=None))
