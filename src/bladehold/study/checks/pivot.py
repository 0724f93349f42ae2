"""Checks of the pivot screw: shear, bending, tension, all together, head, thread."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from bladehold.joint import head as seat
from bladehold.joint import pin
from bladehold.joint.bedding import BEDDING_LENGTH
from bladehold.joint.interaction import CRITERIA, load_multiplier
from bladehold.joint.strip import THREAD_STRENGTH_RATIO, strength_ratio, strip_forces
from bladehold.joint.thread import (
    external_strip_area_simple,
    internal_strip_area_simple,
    stripping_force,
)
from bladehold.joint.tightening import assembly_preload
from bladehold.sheet.build import Screw
from bladehold.study.checks import material
from bladehold.study.clamp import bearing_diameter
from bladehold.study.facts import locking_fact
from bladehold.study.record import Outcome
from bladehold.study.situation import (
    Situation,
    preload_limits,
    shear_ultimate,
    shear_yield,
)
from bladehold.tables import Head, Nut, Provenance, head, nut, property_class, washer

# A nut carries no mark in the sheet: a full one is taken as soft as a class 8 nut at the most, a thin one as
# an unmarked screw (its own classes 04 and 05 are that weak).
_NUT_CLASS = {"thin": "unmarked"}
_TAPPED_WIDTH = 1.9  # of what is around a tapped thread over its diameter: enough not to widen
_TIGHTENING_FRICTION = 0.12  # the column of the VDI 2230 tables that fits plain and lightly oiled screws


def shear_at_yield(now: Situation) -> Outcome:
    """Shear stress of one of the two planes against shear yield; none while friction holds the lug."""
    return _shear(now, now.pull_at_yield, now.at_yield, shear_yield(now.build.pivot), "Fsy")


def shear_at_rupture(now: Situation) -> Outcome:
    """Shear stress of one of the two planes against shear strength."""
    pull = now.loads.root.in_plane
    return _shear(now, pull, now.at_rupture, shear_ultimate(now.build.pivot), "Fsu")


def _shear(now: Situation, pull: np.ndarray, factor: np.ndarray, strength: float, symbol: str) -> Outcome:
    screw = now.build.pivot
    force = pin.double_shear_force(pull)
    return Outcome(
        demand=force,
        capacity=pin.shear_capacity(screw.shear_diameter, strength),
        factor=factor,
        unit="N",
        inputs=(
            ("P, in-plane pull of the blade", now.loads.root.in_plane, "N"),
            ("held by friction between lug and plates", now.grip, "N"),
            ("d, diameter in the shear plane", screw.shear_diameter, "m"),
            (symbol, strength, "Pa"),
        ),
        strengths=(screw.strength.strength_provenance,),
    )


def bending_at_yield(now: Situation) -> Outcome:
    """Elastic bending stress in the screw against tensile yield."""
    screw, moment = now.build.pivot, now.pin_moment_of(now.pull_at_yield)
    return Outcome(
        demand=pin.bending_stress(moment, screw.shear_diameter),
        capacity=screw.strength.yield_strength,
        factor=now.at_yield,
        unit="Pa",
        inputs=(*_bending_inputs(now), ("Fty", screw.strength.yield_strength, "Pa")),
        strengths=_bending_provenance(now),
        breaches=(_bedding_breach(now),),
        formula=f"32 M/(pi d^3) <= Fty, {BENDING_TEXTS[now.policy.pin_bending][0]}",
        source=BENDING_TEXTS[now.policy.pin_bending][1],
    )


def bending_at_rupture(now: Situation) -> Outcome:
    """Bending moment in the screw against its fully plastic moment at tensile strength."""
    screw = now.build.pivot
    return Outcome(
        demand=now.pin_moment,
        capacity=pin.plastic_moment(screw.shear_diameter, screw.strength.tensile_strength),
        factor=now.at_rupture,
        unit="N*m",
        inputs=(*_bending_inputs(now), ("Ftu", screw.strength.tensile_strength, "Pa")),
        strengths=_bending_provenance(now),
        breaches=(_bedding_breach(now),),
        formula=f"M <= (4/3) Ftu (d/2)^3, {BENDING_TEXTS[now.policy.pin_bending][0]}",
        source=f"{BENDING_TEXTS[now.policy.pin_bending][1]}; NASA-STD-5020B (2021) eq. 70-75",
    )


BENDING_TEXTS = {
    "bedded": (
        "M of a pin on elastic beds in lug and plates",
        "beam on elastic foundation (Hetenyi 1946), bed after Tate and Rosenfeld, NACA TN 1051 (1946)",
    ),
    "air-force": ("M = (P/2)(t1/2 + t2/4 + g)", "AFFDL-TR-69-42 ch. 9, without peaking"),
    "knuckle": ("M = (P/2)(t1/3 + t2/4 + g)", "Bhandari, Design of Machine Elements, Ex. 4.5"),
}


def _bedding_breach(now: Situation) -> str | None:
    return None if now.bedded is None else BEDDING_LENGTH.breach(now.bedded.length_ratio)


def _bending_provenance(now: Situation) -> tuple[Provenance, ...]:
    """Strength of the screw, and the moduli where the bedded pin uses them."""
    strength, hub = now.build.pivot.strength, now.build.hub
    found = [strength.strength_provenance]
    if now.policy.pin_bending == "bedded":
        found += [
            strength.modulus_provenance,
            hub.plate_material.modulus_provenance,
            hub.lug_material.modulus_provenance,
        ]
    return tuple(found)


def _bending_inputs(now: Situation) -> tuple[tuple[str, ArrayLike, str], ...]:
    hub = now.build.hub
    return (
        ("P, in-plane pull of the blade", now.loads.root.in_plane, "N"),
        ("t1, one plate", hub.plate_thickness, "m"),
        ("t2, lug", hub.lug_thickness, "m"),
        ("g, gap on each side", hub.gap, "m"),
        ("M, greatest bending moment in the screw", now.pin_moment, "N*m"),
        ("M with even pressure, the handbook's bound", now.even_pin_moment, "N*m"),
        ("d, diameter that bends", now.build.pivot.shear_diameter, "m"),
    )


def tension_at_yield(now: Situation) -> Outcome:
    """Screw tension from flap moment and lift, with preload, against yield of the stress area."""
    screw = now.build.pivot
    tension = now.share(lambda state: state.screw_tension, at_yield=True)
    return _tension(now, tension, screw.strength.yield_strength, now.at_yield, "Fty")


def tension_at_rupture(now: Situation) -> Outcome:
    """Screw tension from flap moment and lift, without preload, against the strength of the stress area."""
    screw = now.build.pivot
    tension = now.share(lambda state: state.screw_tension, at_yield=False)
    return _tension(now, tension, screw.strength.tensile_strength, now.at_rupture, "Ftu")


def tightening(now: Situation) -> Outcome | None:
    """Largest preload of tightening against 90 % of yield with torsion; None without a torque."""
    return tightened(now, now.build.pivot)


def tightened(now: Situation, screw: Screw) -> Outcome | None:
    """Tightening of one screw, as `tightening`; the same in every condition."""
    if screw.tightening.torque <= 0.0:
        return None
    thread, strength = screw.thread, screw.strength
    most = preload_limits(screw.tightening, screw).maximum
    allowed = assembly_preload(
        strength.yield_strength,
        thread.profile.pitch_diameter,
        thread.profile.root_diameter,
        thread.pitch,
        _TIGHTENING_FRICTION,
    )
    return Outcome(
        demand=np.full(now.loads.flight.shape, most),
        capacity=allowed,
        factor=np.ones(now.loads.flight.shape),
        unit="N",
        inputs=(
            ("torque", screw.tightening.torque, "N*m"),
            ("K, lowest nut factor", screw.tightening.nut_factor_low, ""),
            ("Gamma, scatter", screw.tightening.scatter_up, ""),
            ("Fty", strength.yield_strength, "Pa"),
        ),
        strengths=(strength.strength_provenance,),
    )


def _tension(
    now: Situation, tension: np.ndarray, strength: float, factor: np.ndarray, symbol: str
) -> Outcome:
    screw = now.build.pivot
    area = screw.thread.profile.stress_area
    return Outcome(
        demand=tension,
        capacity=area * strength,
        factor=factor,
        unit="N",
        inputs=(*_tension_inputs(now), ("As, stress area", area, "m^2"), (symbol, strength, "Pa")),
        strengths=(screw.strength.strength_provenance,),
        breaches=(now.contact_breach, loosening(now)),
    )


def _tension_inputs(now: Situation) -> tuple[tuple[str, ArrayLike, str], ...]:
    root = now.loads.root
    return (
        ("M, flap moment at the pivot", root.flap_peak, "N*m"),
        ("L, lift of one blade", root.lift, "N"),
        ("a, half the contact length", now.build.hub.half_contact, "m"),
        ("Pmax, largest preload", now.pivot_preload.maximum, "N"),
    )


def together_at_yield(now: Situation) -> Outcome:
    """First yield of the extreme fibre under tension with preload, bending and shear."""
    screw, factor = now.build.pivot, now.at_yield
    strength = screw.strength.yield_strength
    pull = now.pull_at_yield
    shear = factor * _plane_stress(now, pull) / shear_yield(screw)
    bending = factor * pin.bending_stress(now.pin_moment_of(pull), screw.shear_diameter) / strength
    tension = now.yield_state.screw_tension / (screw.thread.profile.stress_area * strength)
    return _together(now, "extreme-fibre", factor, shear, tension, bending)


def together_at_rupture(now: Situation) -> Outcome:
    """Rupture under tension without preload, plastic bending and shear, by the form for that section."""
    screw, factor = now.build.pivot, now.at_rupture
    strength = screw.strength.tensile_strength
    shear = factor * _plane_stress(now, now.loads.root.in_plane) / shear_ultimate(screw)
    bending = factor * now.pin_moment / pin.plastic_moment(screw.shear_diameter, strength)
    pulled = now.share(lambda state: state.screw_tension, at_yield=False)
    tension = factor * pulled / (screw.thread.profile.stress_area * strength)
    return _together(now, f"5020b-{screw.shear_plane}-plastic", factor, shear, tension, bending)


def _plane_stress(now: Situation, pull: np.ndarray) -> np.ndarray:
    return pin.double_shear_force(pull) / pin.shear_area(now.build.pivot.shear_diameter)


def _together(
    now: Situation, name: str, factor: np.ndarray, shear: np.ndarray, tension: np.ndarray, bending: np.ndarray
) -> Outcome:
    """Margin as the multiple of the factored loads at which the criterion reaches 1, less one."""
    criterion = CRITERIA[name]
    multiplier = load_multiplier(criterion, shear, tension, bending)
    with np.errstate(divide="ignore"):
        used = np.where(factor > 0.0, 1.0 / (multiplier * np.where(factor > 0.0, factor, 1.0)), 0.0)
    return Outcome(
        demand=used,
        capacity=1.0,
        factor=factor,
        unit="",
        inputs=(
            ("S, shear over strength, factored", shear, ""),
            ("T, tension over strength, factored", tension, ""),
            ("B, bending over strength, factored", bending, ""),
        ),
        strengths=_bending_provenance(now),
        breaches=(_bedding_breach(now),),
        formula=_criterion_text(
            criterion.shear_exponent, criterion.tension_exponent, criterion.bending_apart
        ),
        source=f"{criterion.source}; {criterion.applies}",
    )


def _criterion_text(shear: float, tension: float, apart: bool) -> str:
    form = f"S^{shear:g} + T^{tension:g} + B" if apart else f"S^{shear:g} + (T + B)^{tension:g}"
    return f"{form} = 1 when all loads grow together"


def head_pressure(now: Situation) -> Outcome:
    """Pressure of the screw head on the hub plate at the largest screw force."""
    screw = now.build.pivot
    face = head(screw.thread.name, screw.head)
    return _pressure(now, face, max(face.underhead_diameter, now.build.hub.plate_hole))


def nut_pressure(now: Situation) -> Outcome | None:
    """Pressure of the nut on the other plate; None where no nut bears on it."""
    screw = now.build.pivot
    if screw.nut in {"tapped", "circlip", "none"}:
        return None
    face = nut(screw.thread.name, screw.nut)
    return _pressure(now, face, max(face.chamfer_diameter, now.build.hub.plate_hole))


def _pressure(now: Situation, face: Head | Nut, hole: float) -> Outcome:
    screw, plate = now.build.pivot, now.build.hub.plate_material
    outer = bearing_diameter(screw, face.bearing_diameter)
    if screw.washers:
        hole = max(washer(screw.thread.name).inner_diameter, now.build.hub.plate_hole)
    tension = now.share(lambda state: state.screw_tension, at_yield=True)
    allowed = material.permissible_pressure(plate)
    nothing_bears = outer <= hole
    area = 1e-12 if nothing_bears else float(seat.bearing_area(outer, hole))
    return Outcome(
        demand=seat.surface_pressure(tension, area),
        capacity=0.0 if nothing_bears else allowed.value,
        factor=now.at_yield,
        unit="Pa",
        inputs=(
            ("F, largest screw force", tension, "N"),
            ("dw, outer diameter that bears", outer, "m"),
            ("dh, hole", hole, "m"),
            (f"permissible pressure of {plate.name}", allowed.value, "Pa"),
        ),
        strengths=(allowed.provenance,),
        breaches=(
            allowed.remark,
            "the hole is as wide as the face that should bear on it: a washer is needed"
            if nothing_bears
            else None,
        ),
    )


def circlip_hold(now: Situation) -> Outcome | None:
    """Tension of the pin against what its circlip carries; None without a circlip."""
    rated = now.build.pivot.circlip_load
    if rated is None:
        return None
    tension = now.share(lambda state: state.screw_tension, at_yield=False)
    inputs = (("T, pin tension", tension, "N"), ("load of the circlip, by its maker", rated, "N"))
    return Outcome(tension, rated, now.at_rupture, "N", inputs)


def thread_stripping(now: Situation) -> Outcome | None:
    """Tension against stripping of screw or nut thread, whichever is weaker; None with a circlip."""
    screw = now.build.pivot
    tension = now.share(lambda state: state.screw_tension, at_yield=False)
    if screw.circlip_load is not None:
        return None
    if screw.engagement <= 0.0:
        lost = "no nut and no tapped thread: nothing carries the tension from the flap moment"
        return Outcome(tension, 0.0, now.at_rupture, "N", (("engaged length", 0.0, "m"),), breaches=(lost,))
    if screw.nut == "tapped" and now.build.hub.plate_material.kind != "metal":
        return _tapped_in_soft_plate(now, tension)
    softer = property_class(_NUT_CLASS.get(screw.nut, "8.8"))
    inner_strength = min(screw.strength.tensile_strength, softer.tensile_strength)
    strengths, across = [screw.strength.strength_provenance], _TAPPED_WIDTH
    if screw.nut == "tapped":
        plate = now.build.hub.plate_material
        inner_strength = plate.tensile_ultimate
        strengths.append(plate.strength_provenance)
    else:
        across = nut(screw.thread.name, screw.nut).width / screw.thread.nominal_diameter
    outer_area = external_strip_area_simple(screw.engagement, screw.thread.profile.minor_diameter)
    inner_area = internal_strip_area_simple(screw.engagement, screw.thread.nominal_diameter)
    found = strip_forces(outer_area, inner_area, screw.strength.tensile_strength, inner_strength, across)
    ratio = strength_ratio(inner_strength, inner_area, screw.strength.tensile_strength, outer_area)
    return Outcome(
        demand=tension,
        capacity=found.least,
        factor=now.at_rupture,
        unit="N",
        inputs=(
            ("T, screw tension", tension, "N"),
            ("Le, engaged length", screw.engagement, "m"),
            ("Rm of the screw", screw.strength.tensile_strength, "Pa"),
            ("Rm of the nut or tapped plate", inner_strength, "Pa"),
            ("s/d, width of the nut", across, ""),
        ),
        strengths=tuple(strengths),
        breaches=(THREAD_STRENGTH_RATIO.breach(ratio),),
    )


def _tapped_in_soft_plate(now: Situation, tension: np.ndarray) -> Outcome:
    """Stripping of a thread cut in laminate or plastic by plain shear: it is no metal nut."""
    screw, plate = now.build.pivot, now.build.hub.plate_material
    laminate = plate.kind == "laminate"
    symbol = "Fis" if laminate else "Fsu,plate"
    held = material.thread_shear(plate)
    outer_area = external_strip_area_simple(screw.engagement, screw.thread.profile.minor_diameter)
    inner_area = internal_strip_area_simple(screw.engagement, screw.thread.nominal_diameter)
    return Outcome(
        demand=tension,
        capacity=np.minimum(
            stripping_force(outer_area, shear_ultimate(screw)), stripping_force(inner_area, held.value)
        ),
        factor=now.at_rupture,
        unit="N",
        inputs=(
            ("T, screw tension", tension, "N"),
            ("Le, engaged length", screw.engagement, "m"),
            ("Fsu of the screw", shear_ultimate(screw), "Pa"),
            (f"{symbol}, shear strength of the tapped plate", held.value, "Pa"),
        ),
        strengths=(screw.strength.strength_provenance, held.provenance),
        breaches=(
            "threads cut in a laminate are no fastening: use a nut or a metal insert" if laminate else None,
            held.remark,
        ),
        formula=f"T <= min(5/8 pi Le D1 Fsu, 3/4 pi Le d {symbol})",
        source="NASA-TM-106943 (1995) eq. 63, 76",
    )


def loosening(now: Situation) -> str | None:
    """What to say where the pivot screw's locking does not count under its loads; None where it does."""
    found = locking_fact(now)
    return None if found.good else f"locking does not count: {found.finding}"
