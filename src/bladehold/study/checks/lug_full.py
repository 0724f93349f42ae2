"""Lug and plates beyond simple forms: oblique load on metal eyes, pressure of plates on lug or bush."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from bladehold.joint import laminate_lug, lug, lug_curves
from bladehold.study.checks import material
from bladehold.study.checks.eye import Eye, lug_eye, plate_eye
from bladehold.study.record import FloatArray, Outcome
from bladehold.study.situation import Situation
from bladehold.tables import LugMaterial, Provenance, lug_material
from bladehold.tables import lug_curves as figure
from bladehold.validity import Range

# A material of the user's own is on no curve: the low curve of the listed alloys that are not on it either.
_OWN = LugMaterial("", 4.0, 0.0, Provenance("alloy not on the curves: a low curve taken", "memory"))


@dataclass(frozen=True)
class _Loaded:
    """An eye under pull along it and force across it (N)."""

    axial: FloatArray
    transverse: FloatArray
    sizes: Eye


def _lug(now: Situation) -> _Loaded:
    """The lug, or the lug around its bush."""
    return _Loaded(now.loads.root.in_plane, _across(now), lug_eye(now.build))


def _plate(now: Situation) -> _Loaded:
    """One plate's eye: half of everything."""
    return _Loaded(now.loads.root.in_plane / 2, _across(now) / 2, plate_eye(now.build))


def _depth(eye: Eye) -> float:
    """Average depth of the eye's sides under transverse load, m."""
    return float(lug_curves.average_depth(eye.width, eye.hole, eye.edge))


def _ranges(eye: Eye) -> tuple[str | None, ...]:
    """What of the eye's proportions lies off the curves, or below what the trade wants."""
    limits: tuple[tuple[Range, float], ...] = (
        (lug_curves.CURVE_EDGE_DISTANCE, eye.edge / eye.hole),
        (lug_curves.CURVE_WIDTH, eye.width / eye.hole),
        (lug_curves.CURVE_SLENDERNESS, eye.hole / eye.thickness),
        (lug_curves.CURVE_AREA_RATIO, _depth(eye) / eye.hole),
    )
    return tuple(limit.breach(value) for limit, value in limits)


def _across(now: Situation) -> FloatArray:
    """Force across the eye: the blade's drag, never less than a tenth of the pull.

    A folding blade turns until its pull points along it, so that drag then lies in the pull; it is counted
    across all the same, for a blade that sticks.
    """
    return np.asarray(lug.transverse_load(now.loads.root.in_plane, now.loads.root.drag))


@dataclass(frozen=True)
class _Loads:
    """Least loads (N) that the curves allow along and across, the factors behind them, and their sources."""

    along: float
    across: float
    bearing: float
    net: float
    side: float
    provenances: tuple[Provenance, ...]


@lru_cache(maxsize=256)
def _capacities(eye: Eye, *, at_yield: bool) -> _Loads:
    """Lower bounds of the curves times the eye's strength along and across."""
    metal = lug_material(eye.material.name) or _OWN
    strength = material.tension(eye.material, at_yield=at_yield)
    kind = " yield" if at_yield else ""
    shear, tension = figure(f"shear-bearing{kind}"), figure("net tension")
    side = figure(f"transverse{kind}")
    # The yield figure's parameter is t/D, the rupture figure's D/t.
    slenderness = eye.thickness / eye.hole if at_yield else eye.hole / eye.thickness
    bearing = lug_curves.lower_bound(
        lug_curves.family_factor(
            eye.edge / eye.hole, slenderness, shear.parameters, shear.points, shear.factors
        ),
        lug_curves.SHEAR_BEARING_READING_ERROR,
    )
    row, net_source = tension.row(metal.net_tension)
    width = min(eye.width, tension.points[-1] * eye.hole)
    net = lug_curves.lower_bound(lug_curves.curve_factor(width / eye.hole, tension.points, row))
    across_row, side_source = side.row(0.0 if at_yield else metal.transverse)
    across = lug_curves.lower_bound(lug_curves.curve_factor(_depth(eye) / eye.hole, side.points, across_row))
    wall = material.bearing(
        eye.material, 2.0, at_yield=at_yield
    )  # more than this the hole's wall never bears
    by_bearing = np.minimum(
        lug.bearing_capacity(eye.pin, eye.thickness, strength.value, bearing),
        lug.bearing_capacity(eye.pin, eye.thickness, wall.value),
    )
    by_tension = lug.net_tension_capacity(width, eye.hole, eye.thickness, strength.value, net)
    return _Loads(
        along=float(np.minimum(by_bearing, by_tension)),
        across=float(lug.bearing_capacity(eye.pin, eye.thickness, strength.value, across)),
        bearing=float(bearing),
        net=float(net),
        side=float(across),
        provenances=(
            strength.provenance,
            wall.provenance,
            shear.provenances[0],
            net_source,
            side_source,
            metal.provenance,
        ),
    )


def _oblique(eye: _Loaded, factor: FloatArray, *, at_yield: bool) -> Outcome | None:
    """Share of the eye's strength used along and across together; None for what is not metal."""
    sizes = eye.sizes
    if sizes.material.kind != "metal":
        return None
    allowed = _capacities(sizes, at_yield=at_yield)
    along, across = eye.axial / allowed.along, eye.transverse / allowed.across
    return Outcome(
        demand=1.0 / np.asarray(lug.oblique_multiplier(along, across)),
        capacity=1.0,
        factor=factor,
        unit="",
        inputs=(
            ("P, pull along", eye.axial, "N"),
            ("Ptr, force across, a tenth of P at least", eye.transverse, "N"),
            ("P' along, least of bearing and net section", allowed.along, "N"),
            ("P'tr across", allowed.across, "N"),
            ("Kbr, less reading error", allowed.bearing, ""),
            ("Kt, less reading error", allowed.net, ""),
            ("Ktr, less reading error", allowed.side, ""),
            ("w, width", sizes.width, "m"),
            ("e, hole centre to edge", sizes.edge, "m"),
            ("D, hole", sizes.hole, "m"),
            ("t, thickness", sizes.thickness, "m"),
        ),
        strengths=allowed.provenances,
        breaches=_ranges(sizes),
    )


def lug_oblique_at_yield(now: Situation) -> Outcome | None:
    """Metal lug under pull and side force at yield; None for other materials."""
    return _oblique(_lug(now), now.at_yield, at_yield=True)


def lug_oblique(now: Situation) -> Outcome | None:
    """Metal lug under pull and side force at rupture; None for other materials."""
    return _oblique(_lug(now), now.at_rupture, at_yield=False)


def plate_oblique_at_yield(now: Situation) -> Outcome | None:
    """Eye of one metal hub plate under half the pull and side force at yield; None for other materials."""
    return _oblique(_plate(now), now.at_yield, at_yield=True)


def plate_oblique(now: Situation) -> Outcome | None:
    """Eye of one metal hub plate under half the pull and side force at rupture; None for other materials."""
    return _oblique(_plate(now), now.at_rupture, at_yield=False)


def lug_ekvall(now: Situation) -> Outcome | None:
    """Metal lug under its side force by Ekvall, 99 % of lugs with 95 % confidence.

    None outside the tests behind it (hole of 6.35 mm at least) and for other materials.
    """
    eye = _lug(now)
    sizes = eye.sizes
    tested = (
        (lug.EKVALL_WIDTH, sizes.width / sizes.hole),
        (lug.EKVALL_HOLE, sizes.hole),
        (lug.EKVALL_SLENDERNESS, sizes.hole / sizes.thickness),
    )
    if sizes.material.kind != "metal" or any(limit.breach(value) for limit, value in tested):
        return None
    strength = material.tension(sizes.material, at_yield=False)
    mean = float(lug.ekvall_transverse_factor(sizes.width / sizes.hole))
    factor = lug.EKVALL_FACTOR_99_95 * mean
    return Outcome(
        demand=eye.transverse,
        capacity=lug.bearing_capacity(sizes.pin, sizes.thickness, strength.value, factor),
        factor=now.at_rupture,
        unit="N",
        inputs=(
            ("Ptr, force across, a tenth of P at least", eye.transverse, "N"),
            ("K_BR of the mean lug", mean, ""),
            ("share that 99 % of lugs reach", lug.EKVALL_FACTOR_99_95, ""),
            ("W/D", sizes.width / sizes.hole, ""),
            ("D, hole", sizes.hole, "m"),
            ("t, thickness", sizes.thickness, "m"),
            ("Ftu", strength.value, "Pa"),
        ),
        strengths=(strength.provenance,),
    )


def lug_delamination(now: Situation) -> Outcome | None:
    """Peak pressure of the plates on a laminate lug against crushing and against shear between its plies.

    None for other materials, and where a bush stands proud, so that the plates press on it alone. First
    damage counts as rupture, so the centrifugal proof counts too.
    """
    laminate = now.build.hub.lug_material
    if laminate.kind != "laminate" or now.build.hub.bush_carries:
        return None
    pressure = now.edge_pressure
    crushing, sheared = laminate.through_compression, laminate.interlaminar_shear
    strengths, remark = [laminate.through_provenance], None
    if sheared is None:
        allowed = crushing
        remark = f"no interlaminar shear strength known for {laminate.name}: crushing alone is looked at"
    else:
        allowed = float(laminate_lug.permissible_edge_pressure(crushing, sheared))
        if laminate.laminate_provenance is not None:
            strengths.append(laminate.laminate_provenance)
    hub = now.build.hub
    return Outcome(
        demand=pressure,
        capacity=allowed,
        factor=np.where(now.loads.flight > 0, now.at_rupture, 1.0),
        unit="Pa",
        inputs=(
            ("p, pressure at the end of the contact", pressure, "Pa"),
            ("Fc, compression strength through the thickness", crushing, "Pa"),
            *((("Fis, interlaminar shear strength", sheared, "Pa"),) if sheared is not None else ()),
            ("shear between plies over p", laminate_lug.EDGE_SHEAR_SHARE, ""),
        ),
        strengths=tuple(strengths),
        breaches=(
            remark,
            lug.LAMINATE_EDGE_DISTANCE.breach(hub.lug_edge_distance / hub.lug_cut),
            lug.LAMINATE_WIDTH.breach(hub.lug_width / hub.lug_cut),
            laminate_lug.LAMINATE_SLENDERNESS.breach(hub.lug_cut / hub.lug_thickness),
        ),
    )


def plate_under_bush(now: Situation) -> Outcome | None:
    """Peak pressure of a bush's end on the plates; None unless the bush stands proud of the lug."""
    if not now.build.hub.bush_carries:
        return None
    hub, pressure = now.build.hub, now.edge_pressure
    allowed = material.permissible_pressure(hub.plate_material)
    return Outcome(
        demand=pressure,
        capacity=allowed.value,
        factor=now.at_yield,
        unit="Pa",
        inputs=(
            ("p, pressure at the edge of the bush", pressure, "Pa"),
            ("D, outer diameter of the bush", now.build.hub.contact_diameter, "m"),
            (f"permissible pressure of {hub.plate_material.name}", allowed.value, "Pa"),
        ),
        strengths=(allowed.provenance,),
        breaches=(allowed.remark, now.contact_breach),
    )
