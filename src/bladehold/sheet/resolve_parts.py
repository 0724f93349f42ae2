"""Filling the gaps of the hub and the screws."""

from __future__ import annotations

from typing import Any

from bladehold.quantity import Quantity
from bladehold.sheet import build as b
from bladehold.sheet.ledger import COMMON, SAFE_SIDE, Ledger
from bladehold.sheet.own import class_named, material_named
from bladehold.sheet.sheet import Sheet
from bladehold.tables import Lubrication, clearance_hole, lubrication, nut, thread, washer

_UNMARKED = "unmarked"


def resolve_hub(sheet: Sheet, ledger: Ledger) -> b.Hub:
    """Return the hub with its gaps filled: round lug end, drilled holes, weakest common materials."""
    hub, length = sheet.hub, ledger.millimetres
    hole = drilled_hole(sheet)
    drilled = "ISO 273 medium hole for the pivot screw"
    width = hub.lug_width.si
    plate_width = length(hub.plate_width, "hub.plate_width", width, "as wide as the lug")
    lug_name = ledger.choice(
        hub.lug_material, "hub.lug_material", "carbon-0-90", "weakest common lug laminate"
    )
    plate_name = ledger.choice(
        hub.plate_material, "hub.plate_material", "6061-T6", "weakest common plate alloy"
    )
    return b.Hub(
        pivot_radius=hub.pivot_radius.si,
        plate_thickness=hub.plate_thickness.si,
        plate_material=material_named(sheet, plate_name),
        plate_width=plate_width,
        plate_edge_distance=length(
            hub.plate_edge_distance,
            "hub.plate_edge_distance",
            plate_width / 2,
            "plate end round about the hole",
        ),
        plate_hole=length(hub.plate_hole, "hub.plate_hole", hole, drilled),
        lug_thickness=hub.lug_thickness.si,
        lug_width=width,
        lug_edge_distance=length(hub.lug_edge_distance, "hub.lug_edge_distance", width / 2, "lug end round"),
        lug_hole=length(hub.lug_hole, "hub.lug_hole", hole, drilled),
        lug_material=material_named(sheet, lug_name),
        bush_diameter=hub.bush_diameter.si if hub.bush_diameter else None,
        bush_material=material_named(sheet, hub.bush_material) if hub.bush_material else None,
        bush_length=hub.bush_length.si if hub.bush_length else hub.lug_thickness.si,
        contact_length=length(
            hub.contact_length,
            "hub.contact_length",
            width,
            "lug bears on the plates over a length equal to its width",
        ),
        flap_stiffness=hub.flap_stiffness.si if hub.flap_stiffness else None,
        gap=length(hub.gap, "hub.gap", 1e-4, f"clearance of a pivot that turns freely: {COMMON}"),
        upper_plate_bolted=ledger.choice(
            hub.upper_plate_bolted, "hub.upper_plate_bolted", False, "not given: held by the pivots and ties"
        ),
        inspectable=hub.inspectable,
        **_spacers(sheet, ledger),
    )


def _spacers(sheet: Sheet, ledger: Ledger) -> dict[str, Any]:
    """Material and outside diameter (m) of the spacers that the ties go through; None, 0 without ties."""
    ties, hub = sheet.tie_screws, sheet.hub
    if ties is None or ties.count == 0 or ties.thread is None:
        return {"spacer_material": None, "spacer_diameter": 0.0}
    name = ledger.choice(hub.spacer_material, "hub.spacer_material", "6061-T6", COMMON)
    wide = 2.0 * thread(ties.thread).nominal_diameter
    diameter = ledger.millimetres(
        hub.spacer_diameter, "hub.spacer_diameter", wide, f"twice the tie screw's: {COMMON}"
    )
    return {"spacer_material": material_named(sheet, name), "spacer_diameter": diameter}


def drilled_hole(sheet: Sheet) -> float:
    """Diameter of the hole a pivot screw is given when none is stated."""
    screw = sheet.pivot_screw
    medium = clearance_hole(screw.thread, "medium").diameter
    return max(medium, screw.shank_diameter.si) if screw.shank_diameter else medium


def resolve_screws(sheet: Sheet, hub: b.Hub, ledger: Ledger) -> tuple[b.Screw, b.Ties, b.Mounting]:
    """Return pivot screw, tie screws and mounting screws with their gaps filled."""
    return _pivot(sheet, ledger), _ties(sheet, hub, ledger), _mounting(sheet, ledger)


def _pivot(sheet: Sheet, ledger: Ledger) -> b.Screw:
    given = sheet.pivot_screw
    name = ledger.choice(
        given.property_class, "pivot_screw.class", _UNMARKED, "no mark known: weakest common screw"
    )
    strength, shear = class_named(sheet, name)
    plane = ledger.choice(given.shear_plane, "pivot_screw.shear_plane", "thread", SAFE_SIDE)
    row = thread(given.thread)
    shank = given.shank_diameter.si if given.shank_diameter else row.nominal_diameter
    nut_kind = ledger.choice(given.nut, "pivot_screw.nut", "thin", SAFE_SIDE)
    why = "not given: nothing but the nut is counted on"
    runs_on = "prevailing-torque" if nut_kind == "locking" else "none"
    washers = ledger.choice(given.washers, "pivot_screw.washers", False, SAFE_SIDE)
    return b.Screw(
        thread=row,
        strength=strength,
        shear_ultimate=shear,
        shear_plane=plane,
        shear_diameter=row.profile.root_diameter if plane == "thread" else shank,
        head=ledger.choice(given.head, "pivot_screw.head", "hexagon", f"{SAFE_SIDE}; smallest bearing face"),
        nut=nut_kind,
        engagement=_pivot_engagement(sheet, nut_kind, washers),
        washers=washers,
        locking=ledger.choice(given.locking, "pivot_screw.locking", runs_on, why),
        circlip_load=given.circlip_load.si if given.circlip_load else None,
        spring_rate=given.spring_washer_rate.si if given.spring_washer_rate else float("inf"),
        reachable=given.reachable,
        length=given.length.si if given.length else None,
        tightening=_tightening(
            "pivot_screw", given.torque, given.prevailing_torque, given.lubrication, ledger
        ),
    )


def _pivot_engagement(sheet: Sheet, kind: str, washers: bool) -> float:
    """Length of engaged thread (m): as stated, else of the nut, as far as the screw reaches into it."""
    given = sheet.pivot_screw
    if given.engagement is not None:
        return given.engagement.si
    if kind in {"tapped", "circlip", "none"}:
        return 0.0
    whole = nut(given.thread, kind).thread_height
    return whole if given.length is None else min(whole, max(given.length.si - grip(sheet, washers), 0.0))


def grip(sheet: Sheet, washers: bool) -> float:
    """Length (m) between head and nut of the pivot screw: plates, lug or longer bush, gaps, washers."""
    hub = sheet.hub
    between = hub.lug_thickness.si + 2.0 * (hub.gap.si if hub.gap else 0.0)
    if hub.bush_length:
        between = max(between, hub.bush_length.si)
    rings = 2.0 * washer(sheet.pivot_screw.thread).thickness if washers else 0.0
    return 2.0 * hub.plate_thickness.si + between + rings


def _tightening(
    key: str, torque: Quantity | None, prevailing: Quantity | None, state: str | None, ledger: Ledger
) -> b.Tightening:
    if torque is None:
        why = "not given: no clamping is counted on, and what tightening adds to screw and plates is not seen"
        ledger.assumptions.append(b.Assumption(f"{key}.torque", "0 N*m", why))
        return b.Tightening(0.0, 0.0, 0.2, 0.2, 0.0, 0.0, "no torque given")
    slippery = dry = lubrication(state) if state else None
    if slippery is None or dry is None:
        why = "unknown: largest preload from the slipperiest state, least from the driest"
        ledger.assumptions.append(b.Assumption(f"{key}.lubrication", "lubricated to dry", why))
        slippery, dry = lubrication("lubricated"), lubrication("dry")
    return b.Tightening(
        torque=torque.si,
        prevailing_torque=prevailing.si if prevailing else 0.0,
        nut_factor_low=_middle_nut_factor(slippery, "lubricated"),
        nut_factor_high=_middle_nut_factor(dry, "dry"),
        scatter_up=slippery.preload_scatter,
        scatter_down=dry.preload_scatter,
        source=dry.scatter_provenance.source,
    )


def _middle_nut_factor(state: Lubrication, otherwise: str) -> float:
    """Middle of a state's nut factors (the scatter covers its range); of another state where it has none."""
    row = state if state.nut_factor_low is not None else lubrication(otherwise)
    return ((row.nut_factor_low or 0.0) + (row.nut_factor_high or 0.0)) / 2


def _plain_screw(
    sheet: Sheet,
    key: str,
    size: str,
    name: str | None,
    engagement: float,
    tightening: b.Tightening,
    ledger: Ledger,
) -> b.Screw:
    """Return a tie or mounting screw: threads in the shear plane, socket head, no washer."""
    row = thread(size)
    chosen = ledger.choice(name, f"{key}.class", _UNMARKED, "no mark known: weakest common screw")
    strength, shear = class_named(sheet, chosen)
    return b.Screw(
        thread=row,
        strength=strength,
        shear_ultimate=shear,
        shear_plane="thread",
        shear_diameter=row.profile.root_diameter,
        head="socket",
        nut="tapped",
        engagement=engagement,
        washers=False,
        tightening=tightening,
    )


def _ties(sheet: Sheet, hub: b.Hub, ledger: Ledger) -> b.Ties:
    given = sheet.tie_screws
    if given is None or given.count == 0 or given.thread is None:
        if given is None:
            why = "no table [tie_screws]: nothing else holds the plates together beside the pivot"
            ledger.assumptions.append(b.Assumption("tie_screws.count", "0", why))
        return b.Ties(0, None, 0.0)
    tightening = _tightening("tie_screws", given.torque, None, given.lubrication, ledger)
    engagement = nut(given.thread, "thin").thread_height
    screw = _plain_screw(
        sheet, "tie_screws", given.thread, given.property_class, engagement, tightening, ledger
    )
    distance = ledger.millimetres(
        given.distance,
        "tie_screws.distance",
        sheet.hub.lug_width.si / 2,
        "as near to the pivot as the lug allows",
    )
    if distance < hub.half_contact:
        ledger.notes.append(
            "ties stand beside the contact of lug and plates: they are taken just beyond its end"
        )
    return b.Ties(given.count, screw, distance)


def _mounting(sheet: Sheet, ledger: Ledger) -> b.Mounting:
    given = sheet.mounting_screws
    tightening = _tightening("mounting_screws", given.torque, None, given.lubrication, ledger)
    size = thread(given.thread)
    engagement = ledger.millimetres(
        given.engagement,
        "mounting_screws.engagement",
        size.nominal_diameter,
        f"one thread diameter: {COMMON}",
    )
    into = ledger.choice(
        given.into_material, "mounting_screws.into_material", "6061-T6", f"bell alloy: {COMMON}"
    )
    screw = _plain_screw(
        sheet, "mounting_screws", given.thread, given.property_class, engagement, tightening, ledger
    )
    return b.Mounting(given.count, screw, given.bolt_circle.si, material_named(sheet, into))
