"""Checks of blade lug, bush and hub plates: net section, shear-out, bearing."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bladehold.joint import lug as form
from bladehold.study.checks import material
from bladehold.study.checks.eye import Eye, lug_eye, pin_diameter, plate_eye
from bladehold.study.clevis import tie_holes
from bladehold.study.record import FloatArray, Outcome
from bladehold.study.situation import Situation, inboard_moment, lug_moment, plate_moment
from bladehold.tables import Material
from bladehold.validity import Range


@dataclass(frozen=True)
class _Eye(Eye):
    """A part with a hole under the pull of its pin and a flatwise moment at the hole."""

    pull: FloatArray
    moment: FloatArray

    def ranges(self) -> tuple[str | None, ...]:
        """What of the eye's proportions lies outside the simple forms."""
        checks: list[tuple[Range, float]]
        if self.material.kind == "laminate":
            checks = [
                (form.LAMINATE_EDGE_DISTANCE, self.edge / self.hole),
                (form.LAMINATE_WIDTH, self.width / self.hole),
            ]
        else:
            checks = [(form.METAL_EDGE_DISTANCE, self.edge / self.hole)]
        return tuple(limit.breach(value) for limit, value in checks)


def _lug(now: Situation, *, at_yield: bool = False) -> _Eye:
    """The lug."""
    moment = now.share(lug_moment, at_yield=at_yield or _brittle(now.build.hub.lug_material))
    return _Eye(**vars(lug_eye(now.build)), pull=now.loads.root.in_plane, moment=moment)


def _plate(now: Situation, *, at_yield: bool = False) -> _Eye:
    """One plate: half the pull."""
    moment = now.share(plate_moment, at_yield=at_yield or _brittle(now.build.hub.plate_material))
    return _Eye(**vars(plate_eye(now.build)), pull=now.loads.root.in_plane / 2, moment=moment)


def _brittle(found: Material) -> bool:
    """Whether a material breaks without yielding, so that what preload bends counts at rupture too."""
    return found.tensile_yield is None


def _net_section(eye: _Eye, factor: FloatArray, *, at_yield: bool) -> Outcome:
    strength = material.tension(eye.material, at_yield=at_yield)
    share = material.hole_factor(eye.material)
    stress = form.net_section_stress(eye.pull, eye.moment, eye.width, eye.hole, eye.thickness)
    strengths = [strength.provenance]
    if eye.material.hole_factor is not None and eye.material.laminate_provenance is not None:
        strengths.append(eye.material.laminate_provenance)
    return Outcome(
        demand=stress,
        capacity=share * strength.value,
        factor=factor,
        unit="Pa",
        inputs=(
            ("P, pull", eye.pull, "N"),
            ("M, flatwise moment at the hole", eye.moment, "N*m"),
            ("w, width", eye.width, "m"),
            ("D, hole", eye.hole, "m"),
            ("t, thickness", eye.thickness, "m"),
            ("F, tensile strength", strength.value, "Pa"),
            ("k, hole factor", share, ""),
        ),
        strengths=tuple(strengths),
        breaches=(strength.remark, *eye.ranges()),
    )


def _shear_out(eye: _Eye, factor: FloatArray) -> Outcome:
    strength = material.shear(eye.material)
    return Outcome(
        demand=eye.pull,
        capacity=form.shear_out_capacity(eye.thickness, eye.edge, eye.hole, strength.value),
        factor=factor,
        unit="N",
        inputs=(
            ("P, pull", eye.pull, "N"),
            ("t, thickness", eye.thickness, "m"),
            ("e, hole centre to edge", eye.edge, "m"),
            ("D, hole", eye.hole, "m"),
            ("Fsu", strength.value, "Pa"),
        ),
        strengths=(strength.provenance,),
        breaches=(strength.remark, *eye.ranges()),
    )


def _bearing(eye: _Eye, factor: FloatArray, *, at_yield: bool, threads: bool) -> Outcome:
    strength = material.bearing(eye.material, eye.edge / eye.hole, at_yield=at_yield)
    thread_remark = None
    if threads and eye.material.kind == "laminate":
        thread_remark = "threads bear on the laminate and cut it: use a bush or a plain shank"
    return Outcome(
        demand=eye.pull,
        capacity=form.bearing_capacity(eye.pin, eye.thickness, strength.value),
        factor=factor,
        unit="N",
        inputs=(
            ("P, pull", eye.pull, "N"),
            ("D, what bears", eye.pin, "m"),
            ("t, thickness", eye.thickness, "m"),
            ("e/D", eye.edge / eye.hole, ""),
            ("Fbr", strength.value, "Pa"),
        ),
        strengths=(strength.provenance,),
        breaches=(strength.remark, thread_remark, *eye.ranges()),
    )


def _threads_bear(now: Situation) -> bool:
    return now.build.pivot.shear_plane == "thread"


def lug_net_section_at_yield(now: Situation) -> Outcome | None:
    """Net section beside the lug's hole at yield; None where the material has no yield point."""
    if now.build.hub.lug_material.tensile_yield is None:
        return None
    return _net_section(_lug(now, at_yield=True), now.at_yield, at_yield=True)


def lug_net_section(now: Situation) -> Outcome:
    """Net section beside the lug's hole at rupture."""
    return _net_section(_lug(now), _proof_too(now, _lug(now)), at_yield=False)


def lug_shear_out(now: Situation) -> Outcome:
    """Pin pushed out through the lug's end at rupture."""
    return _shear_out(_lug(now), _proof_too(now, _lug(now)))


def lug_bearing_at_yield(now: Situation) -> Outcome | None:
    """Hole drawn oval at yield; None for laminates, whose first crushing counts as rupture."""
    if now.build.hub.lug_material.kind == "laminate":
        return None
    return _bearing(_lug(now), now.at_yield, at_yield=True, threads=_threads_bear(now))


def lug_first_crushing(now: Situation) -> Outcome | None:
    """Pressure peak of the bent screw at the faces of a laminate lug against its pin bearing strength.

    None for metal, which yields there without harm, with a bush, and where a handbook lever is used that
    spreads the pressure evenly.
    """
    hub = now.build.hub
    if hub.lug_material.kind != "laminate" or hub.bush_diameter is not None or now.bedded is None:
        return None
    eye = _lug(now)
    strength = material.bearing(eye.material, eye.edge / eye.hole, at_yield=True)
    average = eye.pull / (eye.pin * eye.thickness)
    return Outcome(
        demand=average * now.bedded.lug_peak,
        capacity=strength.value,
        factor=np.where(now.loads.flight > 0, now.at_yield, 1.0),
        unit="Pa",
        inputs=(
            ("P, pull", eye.pull, "N"),
            ("d, screw", eye.pin, "m"),
            ("t, lug", eye.thickness, "m"),
            ("peak over average pressure", now.bedded.lug_peak, ""),
            ("Fbr", strength.value, "Pa"),
        ),
        strengths=(strength.provenance, eye.material.modulus_provenance),
    )


def lug_bearing(now: Situation) -> Outcome:
    """Hole crushed at rupture."""
    threads = _threads_bear(now) and now.build.hub.bush_diameter is None
    return _bearing(_lug(now), _proof_too(now, _lug(now)), at_yield=False, threads=threads)


def bush_bearing(now: Situation) -> Outcome | None:
    """Screw on the inside of the bush at yield; None without a bush."""
    hub, screw = now.build.hub, now.build.pivot
    if hub.bush_material is None or hub.bush_diameter is None:
        return None
    eye = _Eye(
        pull=now.loads.root.in_plane,
        moment=np.zeros_like(now.loads.root.in_plane),
        material=hub.bush_material,
        width=hub.bush_diameter,
        edge=hub.lug_edge_distance,
        hole=hub.lug_hole,
        thickness=hub.lug_thickness,
        pin=pin_diameter(screw),
    )
    return _bearing(eye, now.at_yield, at_yield=True, threads=False)


def _proof_too(now: Situation, eye: _Eye) -> FloatArray:
    """Rupture factor, and 1 for the centrifugal proof where the part has no yield point of its own."""
    if eye.material.tensile_yield is not None and eye.material.kind == "metal":
        return now.at_rupture
    return np.where(now.loads.flight > 0, now.at_rupture, 1.0)


def plate_net_section_at_yield(now: Situation) -> Outcome | None:
    """Net section beside the plate's hole at yield."""
    if now.build.hub.plate_material.tensile_yield is None:
        return None
    return _net_section(_plate(now, at_yield=True), now.at_yield, at_yield=True)


def plate_net_section(now: Situation) -> Outcome:
    """Net section beside the plate's hole at rupture."""
    return _net_section(_plate(now), _proof_too(now, _plate(now)), at_yield=False)


def plate_inboard_at_yield(now: Situation) -> Outcome | None:
    """Plate bent between contact and root, at yield."""
    if now.build.hub.plate_material.tensile_yield is None:
        return None
    return _inboard(now, now.at_yield, at_yield=True)


def plate_inboard(now: Situation) -> Outcome:
    """Plate bent between contact and root, at rupture."""
    return _inboard(now, _proof_too(now, _plate(now)), at_yield=False)


def _inboard(now: Situation, factor: FloatArray, *, at_yield: bool) -> Outcome:
    """Pull and bending in the plate inboard of the lug: half the pull, the greatest moment up to the root.

    Holes of ties that stand in one row across the plate are taken off its width.
    """
    build, hub = now.build, now.build.hub
    lost = tie_holes(build)
    strength = material.tension(hub.plate_material, at_yield=at_yield)
    moment = now.share(inboard_moment, at_yield=at_yield or _brittle(hub.plate_material))
    share = material.hole_factor(hub.plate_material) if lost > 0.0 else 1.0
    area = (hub.plate_width - lost) * hub.plate_thickness
    stress = now.loads.root.in_plane / 2 / area + 6.0 * moment / (area * hub.plate_thickness)
    return Outcome(
        demand=stress,
        capacity=share * strength.value,
        factor=factor,
        unit="Pa",
        inputs=(
            ("P/2, pull of one plate", now.loads.root.in_plane / 2, "N"),
            ("M, greatest moment between lug and root", moment, "N*m"),
            ("w, width", hub.plate_width, "m"),
            ("holes of the ties", lost, "m"),
            ("t, thickness", hub.plate_thickness, "m"),
            ("F, tensile strength", strength.value, "Pa"),
            ("k, hole factor", share, ""),
        ),
        strengths=(strength.provenance,),
        breaches=(strength.remark, now.contact_breach),
    )


def plate_tear_out(now: Situation) -> Outcome:
    """Screw torn out through the plate's outboard edge at rupture."""
    return _shear_out(_plate(now), _proof_too(now, _plate(now)))


def plate_bearing_at_yield(now: Situation) -> Outcome | None:
    """Plate hole drawn oval at yield."""
    if now.build.hub.plate_material.kind == "laminate":
        return None
    return _bearing(_plate(now), now.at_yield, at_yield=True, threads=_threads_bear(now))


def plate_bearing(now: Situation) -> Outcome:
    """Plate hole crushed at rupture."""
    return _bearing(_plate(now), _proof_too(now, _plate(now)), at_yield=False, threads=_threads_bear(now))
