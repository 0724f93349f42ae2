"""A rotor with wind across its axis, at any tilt: loads round the turn, and what arrives at the hub."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.rotor.axial import BRAKING_LIMIT, checked, element_breaches
from bladehold.rotor.blocks import Flow, Found, Rotor, solve_all, started
from bladehold.rotor.geometry import BladeGeometry
from bladehold.rotor.momentum import TINY, LossModel
from bladehold.rotor.polar import Polar, PolarCheck
from bladehold.rotor.sections import blade_polar
from bladehold.rotor.skew import DREES, SkewModel
from bladehold.rotor.span import span_weights
from bladehold.rotor.wake import FASTEST_SHARE, descent_state, through_flow
from bladehold.validity import Range

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]

DEFAULT_AZIMUTHS = 36
LARGEST = 1e6  # advance ratio shown for a rotor that stands still

TILTED_ADVANCE_RANGE = Range(
    "advance ratio",
    0.0,
    0.35,
    "",
    "flow along the span, unsteady lift and the wake's own unevenness, left out here, are no longer small",
    "own limit on Johnson, Helicopter Theory (1980), chapter 5",
)
WITHOUT_BALANCE = "{count} of {total} blade elements belong to annuli whose momentum could not be balanced"


@dataclass(frozen=True, eq=False)
class TiltedSolution:
    """A rotor at any tilt. [...] are the conditions, A the azimuths, S the stations of the geometry.

    geometry, blades - the rotor; spin - 1 turning counter-clockwise seen from above, -1 clockwise;
    azimuth - psi, rad, [A], zero where the blade points down the wind, growing with the turning;
    rotation_speed (rad/s), axial_velocity, edge_velocity (m/s), density (kg/m^3) - [...].
    Of one blade, [..., A, S]: normal_load, tangential_load - N/m, with the thrust and against the
    turning; alpha - rad; reynolds, mach - of the section in the undisturbed stream; outside_polar -
    beyond the section tables; reverse_flow - air meets the trailing edge.
    Of the annuli, [..., S]: induced_velocity - mean over the turn, down through the disc, swirl_velocity -
    with the turning, m/s; turbulent - braking beyond BRAKING_RANGE; unbalanced - momentum not met.
    Of the rotor, [...]: thrust - N; torque - N*m; power - W; drag_force - down the wind, side_force - to
    the right of one who looks into the wind, N; pitching_moment - wind side up, rolling_moment -
    right side down, N*m, about the hub; skew_cosine, skew_sine - kx, ky of the inflow; advance_ratio;
    tip_mach - of the advancing tip; reverse_share - of the swept area in reverse flow; stalled_share - of
    the retreating blades beyond the angle of greatest lift, for information; vortex_ring - descent in
    that or in the turbulent-wake state. breaches - one sentence for each range left by the rotor or by
    elements that carry more than 2 % of the load.
    """

    geometry: BladeGeometry
    blades: int
    spin: int
    azimuth: FloatArray
    rotation_speed: FloatArray
    axial_velocity: FloatArray
    edge_velocity: FloatArray
    density: FloatArray
    normal_load: FloatArray
    tangential_load: FloatArray
    alpha: FloatArray
    reynolds: FloatArray
    mach: FloatArray
    outside_polar: BoolArray
    reverse_flow: BoolArray
    induced_velocity: FloatArray
    swirl_velocity: FloatArray
    turbulent: BoolArray
    unbalanced: BoolArray
    thrust: FloatArray
    torque: FloatArray
    power: FloatArray
    drag_force: FloatArray
    side_force: FloatArray
    pitching_moment: FloatArray
    rolling_moment: FloatArray
    skew_cosine: FloatArray
    skew_sine: FloatArray
    advance_ratio: FloatArray
    tip_mach: FloatArray
    reverse_share: FloatArray
    stalled_share: FloatArray
    vortex_ring: BoolArray
    breaches: tuple[str, ...]


def solve_tilted(
    geometry: BladeGeometry,
    blades: int,
    rotation_speed: ArrayLike,
    axial_velocity: ArrayLike,
    edge_velocity: ArrayLike,
    *,
    density: ArrayLike,
    viscosity: ArrayLike,
    speed_of_sound: ArrayLike,
    polar: Polar | None = None,
    losses: LossModel | None = None,
    skew: SkewModel = DREES,
    inflow_ratio: ArrayLike | None = None,
    azimuths: int = DEFAULT_AZIMUTHS,
    spin: int = 1,
    near: TiltedSolution | None = None,
) -> TiltedSolution:
    """A rotor with wind across its axis, by the theory of `bladehold.rotor.azimuth`; blades do not flap.

    Without wind across the axis the outcome is that of `solve_axial`.
    Arguments: geometry - of one blade; blades - their number; rotation_speed - Omega, rad/s, at
    least 0; axial_velocity - V, m/s, of the stream down through the disc, climb positive; edge_velocity -
    E, m/s, of the stream across the axis, at least 0; density - kg/m^3; viscosity - Pa*s;
    speed_of_sound - m/s; these broadcast to the conditions [...]. polar - of the blade's section,
    default the shipped sections the geometry names; losses - which loss factors act, default both;
    skew - law of the uneven inflow; inflow_ratio - prescribes (V + v) / (Omega R), even over the disc and
    without swirl, in place of the momentum balance; azimuths - A, at least 6; spin - 1 turning
    counter-clockwise seen from above, -1 clockwise; near - solution of the same blade in the same
    number of similar conditions, at any azimuths, which saves time.
    Returns a TiltedSolution. Raises ValueError naming the argument that cannot be.
    Validity: TILTED_ADVANCE_RANGE, VORTEX_RING_RANGE, WINDMILL_RANGE, BRAKING_RANGE, SWIRL_RANGE and the
    ranges of the polar; those left are in `breaches`.
    """
    section = blade_polar(geometry) if polar is None else polar
    rotor = Rotor(geometry, blades, section, losses or LossModel(), skew, azimuths, spin)
    prescribed = np.nan if inflow_ratio is None else checked("inflow_ratio", inflow_ratio, negative=True)
    conditions = np.broadcast_arrays(
        checked("rotation_speed", rotation_speed, zero=True),
        checked("axial_velocity", axial_velocity, negative=True),
        checked("edge_velocity", edge_velocity, zero=True),
        checked("density", density),
        checked("viscosity", viscosity),
        checked("speed_of_sound", speed_of_sound),
        prescribed,
    )
    shape = conditions[0].shape
    annuli = (*shape, geometry.r.size)
    if near is not None and near.induced_velocity.shape != annuli:
        raise ValueError(f"near has the shape {near.induced_velocity.shape}, these conditions {annuli}")
    flow = Flow(*(values.reshape(-1, 1) for values in conditions))
    start = None
    if near is not None:
        start = started(flow, near.rotation_speed, near.induced_velocity, near.swirl_velocity)
    return summary(rotor, flow, solve_all(rotor, flow, start), shape)


def summary(rotor: Rotor, flow: Flow, found: Found, shape: tuple[int, ...]) -> TiltedSolution:
    """What the elements add up to, and what to doubt."""
    geometry, blades, spin = rotor.geometry, rotor.blades, rotor.spin
    omega, axial, edge = flow.rotation_speed[:, 0], flow.axial[:, 0], flow.edge[:, 0]
    weights = span_weights(geometry)
    sums = hub_sums(geometry, blades, spin, rotor.azimuth, found.normal, found.tangential)
    descent = descent_state(sums["thrust"], axial, edge, flow.density[:, 0], geometry.radius)
    tip_speed = omega * geometry.radius
    advance = np.where(edge > 0.0, edge / np.maximum(tip_speed, TINY), 0.0)
    advance = np.minimum(advance, LARGEST)
    turbulent, braking = _turbulent(flow, found)
    check = rotor.polar.check(found.reynolds, found.mach, found.alpha)
    reverse = found.in_plane < 0.0
    area = geometry.r * weights / np.sum(geometry.r * weights)
    breaches = (
        TILTED_ADVANCE_RANGE.breach(advance),
        *descent.breaches(),
        *_element_breaches(flow, found, check, geometry, braking),
    )

    def shaped(values: NDArray[Any]) -> NDArray[Any]:
        return values.reshape((*shape, *values.shape[1:]))

    return TiltedSolution(
        geometry=geometry,
        blades=blades,
        spin=spin,
        azimuth=rotor.azimuth,
        rotation_speed=shaped(omega),
        axial_velocity=shaped(axial),
        edge_velocity=shaped(edge),
        density=shaped(flow.density[:, 0]),
        normal_load=shaped(found.normal),
        tangential_load=shaped(found.tangential),
        alpha=shaped(found.alpha),
        reynolds=shaped(found.reynolds),
        mach=shaped(found.mach),
        outside_polar=shaped(check.beyond_reynolds | check.beyond_mach),
        reverse_flow=shaped(reverse),
        induced_velocity=shaped(found.induced),
        swirl_velocity=shaped(found.swirl),
        turbulent=shaped(turbulent),
        unbalanced=shaped(found.unbalanced),
        power=shaped(sums["torque"] * omega),
        **{name: shaped(values) for name, values in sums.items()},
        skew_cosine=shaped(found.kx),
        skew_sine=shaped(found.ky),
        advance_ratio=shaped(advance),
        tip_mach=shaped(np.hypot(tip_speed + edge, axial) / flow.sound[:, 0]),
        reverse_share=shaped(reverse.mean(axis=1) @ area),
        stalled_share=shaped(_stalled_share(rotor, found, weights)),
        vortex_ring=shaped(descent.vortex_ring | descent.turbulent_wake),
        breaches=tuple(sentence for sentence in breaches if sentence),
    )


def hub_sums(
    geometry: BladeGeometry,
    blades: int,
    spin: int,
    azimuth: FloatArray,
    normal: FloatArray,
    tangential: FloatArray,
) -> dict[str, FloatArray]:
    """What the loads on the blades add up to at the hub, by field of `TiltedSolution`, [...].

    Arguments: geometry - of one blade; blades - their number; spin - 1 or -1; azimuth - rad, [A]; normal,
    tangential - loads, N/m, [..., A, S].
    Source: own, sums over span and azimuths; e.g. Johnson, Helicopter Theory (1980), chapter 5.
    """
    weights = span_weights(geometry)
    both = np.stack([weights, weights * geometry.r], axis=-1)
    lift, moment = np.moveaxis(normal @ both, -1, 0)
    pull, twisting = np.moveaxis(tangential @ both, -1, 0)
    sine, cosine = np.sin(azimuth), np.cos(azimuth)
    return {
        "thrust": blades * lift.mean(axis=-1),
        "torque": blades * twisting.mean(axis=-1),
        "drag_force": blades * (pull @ sine) / sine.size,
        "side_force": -spin * blades * (pull @ cosine) / sine.size,
        "pitching_moment": -blades * (moment @ cosine) / sine.size,
        "rolling_moment": -spin * blades * (moment @ sine) / sine.size,
    }


def _turbulent(flow: Flow, found: Found) -> tuple[BoolArray, FloatArray]:
    """Annuli [C, S] that brake beyond BRAKING_RANGE without wind enough to carry their wake away."""
    still = np.abs(flow.axial) <= TINY
    braking = -found.induced / np.where(still, np.inf, flow.axial)
    hover_square = np.abs(found.induced) * through_flow(found.induced, flow.axial, flow.edge)
    held = 1.5 * flow.edge**2 < hover_square  # as wide as the region of the fit for descent
    turbulent = (braking > BRAKING_LIMIT) & (braking < FASTEST_SHARE) & held
    return turbulent, np.where(turbulent, braking, 0.0)


def _element_breaches(
    flow: Flow, found: Found, check: PolarCheck, geometry: BladeGeometry, braking: FloatArray
) -> tuple[str, ...]:
    """Sentences on the ranges left by elements that matter."""
    count, turns, stations = found.normal.shape
    blade_speed = flow.rotation_speed * geometry.r

    def flat(values: NDArray[Any]) -> NDArray[Any]:
        return np.broadcast_to(
            values if values.ndim == 3 else values[:, np.newaxis], (count, turns, stations)
        ).reshape(count, -1)

    return element_breaches(
        PolarCheck(
            flat(check.beyond_reynolds),
            flat(check.beyond_mach),
            flat(check.confidence),
            check.reynolds_range,
            check.mach_range,
        ),
        load=flat(np.hypot(found.normal, found.tangential) * span_weights(geometry)),
        unbracketed=flat(found.unbalanced),
        reynolds=flat(found.reynolds),
        mach=flat(found.mach),
        braking=flat(braking),
        swirl=flat(found.swirl / np.maximum(blade_speed, TINY)),
        without_state=WITHOUT_BALANCE,
    )


def _stalled_share(rotor: Rotor, found: Found, weights: FloatArray) -> FloatArray:
    """Share [C] of the retreating blades' span that meets the air beyond the angle of greatest lift.

    That angle is sought up to 30 degrees, at each station's mean Reynolds and Mach number.
    """
    angles = np.radians(np.arange(31.0))[:, np.newaxis]
    every = (angles.size, rotor.geometry.r.size)
    reynolds, mach = (
        np.broadcast_to(numbers.mean(axis=(0, 1)), every) for numbers in (found.reynolds, found.mach)
    )
    lift, _ = rotor.polar.at(reynolds, mach)(np.broadcast_to(angles, every))
    stall = angles[np.argmax(lift, axis=0), 0]
    retreating = np.sin(rotor.azimuth) < -TINY
    beyond = (found.alpha[:, retreating] > stall) & (found.in_plane[:, retreating] > 0.0)
    return np.asarray(beyond.mean(axis=1) @ (weights / weights.sum()))
