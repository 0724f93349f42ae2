"""Checks of tie screws and mounting screws, and of a clamped (not folding) root's grip."""

from __future__ import annotations

import numpy as np

from bladehold.joint import friction, pattern, pin
from bladehold.joint.interaction import CRITERIA, load_multiplier
from bladehold.joint.thread import external_strip_area_simple, internal_strip_area_simple, stripping_force
from bladehold.sheet.build import Screw
from bladehold.study.checks import material
from bladehold.study.checks.pivot import tightened
from bladehold.study.clamp import mounting_seat
from bladehold.study.clevis import tie_row
from bladehold.study.record import FloatArray, Outcome
from bladehold.study.situation import Situation, preload_limits, shear_ultimate

_EMBEDS = 0.1  # share of the least preload from which its loss by embedding is told


def tie_tension_at_yield(now: Situation) -> Outcome | None:
    """Tension of a tie screw against yield; None without ties."""
    return _tie(now, now.at_yield, at_yield=True)


def tie_tension_at_rupture(now: Situation) -> Outcome | None:
    """Tension of a tie screw against rupture; None without ties."""
    return _tie(now, now.at_rupture, at_yield=False)


def _tie(now: Situation, factor: FloatArray, *, at_yield: bool) -> Outcome | None:
    ties = now.build.ties
    if ties.screw is None:
        return None
    force = now.share(lambda state: state.tie_force, at_yield=at_yield) / ties.count
    strength = ties.screw.strength
    stress = strength.yield_strength if at_yield else strength.tensile_strength
    return Outcome(
        demand=force,
        capacity=ties.screw.thread.profile.stress_area * stress,
        factor=factor * now.loads.flight,
        unit="N",
        inputs=(
            ("M, flap moment at the pivot", now.loads.root.flap_peak, "N*m"),
            ("L, lift of one blade", now.loads.root.lift, "N"),
            ("b, pivot to tie screws", ties.distance, "m"),
            ("greatest preload of one", now.tie_preload if at_yield else 0.0, "N"),
            ("n, ties of one blade", ties.count, ""),
            ("Fty" if at_yield else "Ftu", stress, "Pa"),
        ),
        strengths=(strength.strength_provenance,),
        breaches=(
            "the ties lie inboard of the mounting screws, which hold both plates there: they carry nothing"
            if tie_row(now.build) is None
            else None,
        ),
    )


def tie_tightening(now: Situation) -> Outcome | None:
    """Largest preload of tightening the ties against 90 % of yield with torsion; None without a torque."""
    return None if now.build.ties.screw is None else tightened(now, now.build.ties.screw)


def mounting_tension_at_yield(now: Situation) -> Outcome:
    """Tension of the hardest pulled mounting screw against yield; its own tightening is a check apart."""
    strength = now.build.mounting.screw.strength.yield_strength
    return _mounting_tension(now, _mounting_force(now), now.at_yield, strength, "Fty")


def mounting_tightening(now: Situation) -> Outcome | None:
    """Largest preload of tightening against 90 % of yield with torsion; None without a torque."""
    return tightened(now, now.build.mounting.screw)


def mounting_tension_at_rupture(now: Situation) -> Outcome:
    """Tension of the hardest pulled mounting screw, without preload, against rupture."""
    strength = now.build.mounting.screw.strength.tensile_strength
    return _mounting_tension(now, _mounting_force(now), now.at_rupture, strength, "Ftu")


def _mounting_force(now: Situation) -> FloatArray:
    """Greatest tension of a mounting screw: both shares on one."""
    even, moment = mounting_shares(now)
    return even + moment


def mounting_shares(now: Situation) -> tuple[FloatArray, FloatArray]:
    """Tension (N) of one mounting screw by thrust, shared evenly, and by the hub moment on the bolt circle.

    With two screws only the line through them resists, at worst along the moment axis with no arm but
    the circle's radius: each then takes M / (2 R) when they lie across it.
    """
    mounting, loads = now.build.mounting, now.loads
    radius = mounting.bolt_circle / 2
    even = np.abs(loads.thrust) / mounting.count
    if mounting.count < 3:
        return even, np.abs(loads.hub_moment) / (2 * radius)
    return even, np.abs(pattern.circle_peak_force(loads.hub_moment, radius, mounting.count))


def _mounting_tension(
    now: Situation, force: FloatArray, factor: FloatArray, strength: float, symbol: str
) -> Outcome:
    screw = now.build.mounting.screw
    return Outcome(
        demand=force,
        capacity=screw.thread.profile.stress_area * strength,
        factor=factor,
        unit="N",
        inputs=(*_mounting_inputs(now), (symbol, strength, "Pa")),
        strengths=(screw.strength.strength_provenance,),
        breaches=(_two_screws(now),),
    )


def _mounting_inputs(now: Situation) -> tuple[tuple[str, FloatArray | float, str], ...]:
    mounting, loads = now.build.mounting, now.loads
    return (
        ("T, rotor thrust", loads.thrust, "N"),
        ("Mh, hub moment", loads.hub_moment, "N*m"),
        ("Q, rotor torque", loads.torque, "N*m"),
        ("R, bolt circle radius", mounting.bolt_circle / 2, "m"),
        ("N, screws", float(mounting.count), ""),
    )


def _two_screws(now: Situation) -> str | None:
    return "two mounting screws leave one axis unheld" if now.build.mounting.count < 3 else None


def mounting_together_at_rupture(now: Situation) -> Outcome:
    """Mounting screw under tension with the rotor torque in shear, friction not counted."""
    mounting = now.build.mounting
    screw, factor = mounting.screw, now.at_rupture
    shear_force = pattern.torque_shear_force(
        np.abs(now.loads.torque), mounting.count, mounting.bolt_circle / 2
    )
    shear = factor * shear_force / pin.shear_capacity(screw.shear_diameter, shear_ultimate(screw))
    area = screw.thread.profile.stress_area
    tension = factor * _mounting_force(now) / (area * screw.strength.tensile_strength)
    multiplier = load_multiplier(CRITERIA["5020b-thread"], shear, tension)
    with np.errstate(divide="ignore"):
        used = np.where(factor > 0.0, 1.0 / (multiplier * np.where(factor > 0.0, factor, 1.0)), 0.0)
    return Outcome(
        demand=used,
        capacity=1.0,
        factor=factor,
        unit="",
        inputs=(
            *_mounting_inputs(now),
            ("S, shear over strength, factored", shear, ""),
            ("T, tension over strength, factored", tension, ""),
        ),
        strengths=(screw.strength.strength_provenance,),
        breaches=(_two_screws(now),),
    )


def mounting_grip(now: Situation) -> Outcome | None:
    """Rotor torque held by friction under the hub at limit load; None where no torque is given."""
    mounting = now.build.mounting
    if mounting.screw.tightening.torque <= 0.0:
        return None
    fresh = preload_limits(mounting.screw.tightening, mounting.screw)
    seat = mounting_seat(now.build)
    least = seat.limits(fresh, now.build, again=True).minimum
    embedded = seat.embedded / float(fresh.minimum) if fresh.minimum > 0.0 else 0.0
    kept = np.maximum(mounting.count * least - np.abs(now.loads.thrust), 0.0) / mounting.count
    mu, radius = now.policy.grip_friction, mounting.bolt_circle / 2
    return Outcome(
        demand=np.abs(now.loads.torque),
        capacity=pattern.grip_torque(mu, kept, mounting.count, radius),
        factor=now.at_yield * now.loads.flight,
        unit="N*m",
        inputs=(
            ("Q, rotor torque", now.loads.torque, "N*m"),
            ("Pmin, least preload of one screw", least, "N"),
            ("T, rotor thrust", now.loads.thrust, "N"),
            ("mu", mu, ""),
            ("R, bolt circle radius", radius, "m"),
        ),
        breaches=(
            f"embedding may take {min(embedded, 1.0):.0%} of the least preload of the mounting screws: they "
            "are taken as tightened again after the first flights"
            if embedded > _EMBEDS
            else None,
        ),
    )


def mounting_thread(now: Situation) -> Outcome:
    """Tension against stripping of the screw's thread or the motor bell's, whichever is weaker."""
    mounting = now.build.mounting
    screw = mounting.screw
    bell = material.thread_shear(mounting.into_material)
    outer = stripping_force(_outer_area(screw), shear_ultimate(screw))
    inner_area = internal_strip_area_simple(screw.engagement, screw.thread.nominal_diameter)
    return Outcome(
        demand=_mounting_force(now),
        capacity=np.minimum(outer, stripping_force(inner_area, bell.value)),
        factor=now.at_rupture,
        unit="N",
        inputs=(
            *_mounting_inputs(now),
            ("Le, engaged length", screw.engagement, "m"),
            ("Fsu of the bell", bell.value, "Pa"),
            ("Fsu of the screw", shear_ultimate(screw), "Pa"),
        ),
        strengths=(screw.strength.strength_provenance, bell.provenance),
        breaches=(bell.remark,),
    )


def _outer_area(screw: Screw) -> FloatArray:
    return external_strip_area_simple(screw.engagement, screw.thread.profile.minor_diameter)


def root_grip(now: Situation) -> Outcome | None:
    """Lag moment of a blade that must not turn, held by the clamped faces; None for a folding blade."""
    hub = now.build.hub
    if now.build.propeller.folding:
        return None
    clamp = now.least_clamp
    radius = friction.effective_radius_uniform_wear(hub.lug_hole / 2, now.build.hub.contact_diameter / 2)
    return Outcome(
        demand=now.loads.root.lag_moment,
        capacity=friction.friction_moment(now.policy.grip_friction, clamp, radius, 2),
        factor=now.at_yield * now.loads.flight,
        unit="N*m",
        inputs=(
            ("Mlag, drag moment about the root screw", now.loads.root.lag_moment, "N*m"),
            ("F, least force on the faces", clamp, "N"),
            ("mu", now.policy.grip_friction, ""),
            ("R, effective friction radius", radius, "m"),
        ),
    )
