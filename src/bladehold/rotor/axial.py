"""A rotor in axial flow: loads along the blade, thrust, torque, power, and what to doubt."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.rotor.geometry import BladeGeometry
from bladehold.rotor.momentum import TINY, Elements, LossModel, balance, turning
from bladehold.rotor.polar import CONFIDENCE_RANGE, Polar, PolarCheck
from bladehold.rotor.sections import blade_polar
from bladehold.rotor.span import span_weights
from bladehold.rotor.wake import FASTEST_SHARE, descent_state
from bladehold.validity import Range

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]

BRAKING_LIMIT = 0.4
BRAKING_RANGE = Range(
    "share of the axial speed taken out by a braking blade element",
    None,
    BRAKING_LIMIT,
    "",
    "turbulent or recirculating flow through the disc, where momentum theory does not hold",
    "Glauert, ARC R&M 1026 (1926)",
)
SWIRL_LIMIT = 0.5
SWIRL_RANGE = Range(
    "swirl as a share of the blade's speed",
    None,
    SWIRL_LIMIT,
    "",
    "too little air passes to carry the drag away as swirl; torque is underestimated",
    "own limit on the momentum balance",
)
NEGLIGIBLE_SHARE = 0.02  # of the load of a blade; ranges left by elements that carry less are not told
NO_STATE = "{count} of {total} blade elements have no rotor state; their loads are taken without induction"


@dataclass(frozen=True, eq=False)
class AxialSolution:
    """A rotor in axial flow. [...] are the conditions, S the stations of the geometry.

    geometry, blades - the rotor; rotation_speed (rad/s), axial_velocity (m/s), density (kg/m^3) -
    [...]; normal_load, tangential_load - N/m per blade, with the thrust and against the turning,
    [..., S]; inflow_angle, alpha - rad, [..., S]; reynolds, mach - of the section in the undisturbed
    stream, [..., S]; induced_velocity - down through the disc, m/s, swirl_velocity - with the
    turning, m/s, [..., S]; thrust (N), torque (N*m), power (W), tip_mach - of the rotor, [...];
    unbracketed - no rotor state, loads without induction, [..., S]; outside_polar - beyond the section
    tables, [..., S]; turbulent - braking beyond BRAKING_RANGE, [..., S]; vortex_ring - descent in that
    or in the turbulent-wake state, [...]; breaches - one sentence for each range left by the rotor or
    by elements that carry more than 2 % of the load.
    """

    geometry: BladeGeometry
    blades: int
    rotation_speed: FloatArray
    axial_velocity: FloatArray
    density: FloatArray
    normal_load: FloatArray
    tangential_load: FloatArray
    inflow_angle: FloatArray
    alpha: FloatArray
    reynolds: FloatArray
    mach: FloatArray
    induced_velocity: FloatArray
    swirl_velocity: FloatArray
    thrust: FloatArray
    torque: FloatArray
    power: FloatArray
    tip_mach: FloatArray
    unbracketed: BoolArray
    outside_polar: BoolArray
    turbulent: BoolArray
    vortex_ring: BoolArray
    breaches: tuple[str, ...]


def checked(name: str, value: ArrayLike, *, zero: bool = False, negative: bool = False) -> FloatArray:
    """The argument as an array; ValueError with its name unless positive, or what else is allowed."""
    array = np.asarray(value, dtype=float)
    low = not negative and bool(np.any(array < 0.0) or (not zero and np.any(array == 0.0)))
    if low or not np.all(np.isfinite(array)):
        wanted = "finite" if negative else "finite and at least 0" if zero else "finite and positive"
        raise ValueError(f"{name} must be {wanted}, got {array.ravel()[:3]}")
    return array


def solve_axial(
    geometry: BladeGeometry,
    blades: int,
    rotation_speed: ArrayLike,
    axial_velocity: ArrayLike,
    *,
    density: ArrayLike,
    viscosity: ArrayLike,
    speed_of_sound: ArrayLike,
    polar: Polar | None = None,
    losses: LossModel | None = None,
    downwash: ArrayLike = 0.0,
    near: AxialSolution | None = None,
) -> AxialSolution:
    """A rotor in axial flow, by the blade-element momentum theory of `bladehold.rotor.momentum`.

    Arguments: geometry - of one blade; blades - their number; rotation_speed - Omega, rad/s, at
    least 0; axial_velocity - V, m/s, climb speed along the axis, negative in descent; density -
    kg/m^3; viscosity - Pa*s; speed_of_sound - m/s; these broadcast to the conditions [...]. polar - of
    the blade's section, default the shipped sections the geometry names; losses - which loss factors
    act, default both; downwash - of other rotors at the stations, added to V there, m/s, broadcasts to
    [..., S]; near - solution of the same blade in the same number of similar conditions, which saves
    time.
    Returns an AxialSolution. Raises ValueError naming the argument that cannot be.
    Validity: VORTEX_RING_RANGE, WINDMILL_RANGE, BRAKING_RANGE, SWIRL_RANGE and the ranges of the polar;
    those left are in `breaches`.
    """
    if blades < 1:
        raise ValueError(f"blades {blades} must be at least 1")
    omega, climb, rho, viscous, sound = np.broadcast_arrays(
        checked("rotation_speed", rotation_speed, zero=True),
        checked("axial_velocity", axial_velocity, negative=True),
        checked("density", density),
        checked("viscosity", viscosity),
        checked("speed_of_sound", speed_of_sound),
    )
    section = blade_polar(geometry) if polar is None else polar
    blade_speed = omega[..., np.newaxis] * geometry.r
    along = climb[..., np.newaxis] + checked("downwash", downwash, negative=True)
    stream = np.hypot(blade_speed, along)
    reynolds = (rho / viscous)[..., np.newaxis] * stream * geometry.chord
    mach = stream / sound[..., np.newaxis]
    beta = np.arctan2(along, blade_speed)

    if near is not None and near.inflow_angle.shape != beta.shape:
        raise ValueError(f"near has the shape {near.inflow_angle.shape}, these conditions {beta.shape}")
    elements = blade_elements(geometry, blades, beta, section, reynolds, mach, losses or LossModel())
    delta, unbracketed = turning(elements, None if near is None else (near.inflow_angle - beta).ravel())
    state = balance(elements, delta)
    shape = stream.shape
    phi = beta + delta.reshape(shape)
    sine, cosine = np.sin(phi), np.cos(phi)
    relative = stream * state.slowing.reshape(shape)
    # sigma = B c / (2 pi r), so that rho/2 W^2 c cl = (pi r rho W^2 / B) sigma cl
    scale = np.pi / blades * geometry.r * rho[..., np.newaxis] * relative**2
    lift, drag = scale * state.lift.reshape(shape), scale * state.drag.reshape(shape)
    normal, tangential = lift * cosine - drag * sine, lift * sine + drag * cosine

    weights = span_weights(geometry)
    torque = blades * (tangential @ (weights * geometry.r))
    induced, swirl = relative * sine - along, blade_speed - relative * cosine
    braking = -induced / np.where(np.abs(along) > TINY, along, np.inf)
    turbulent = (braking > BRAKING_LIMIT) & (braking < FASTEST_SHARE)
    thrust = np.asarray(blades * (normal @ weights))
    descent = descent_state(thrust, climb, 0.0, rho, geometry.radius)
    check = section.check(reynolds, mach, geometry.twist - phi)
    unbracketed = unbracketed.reshape(shape)
    return AxialSolution(
        geometry=geometry,
        blades=blades,
        rotation_speed=omega,
        axial_velocity=climb,
        density=rho,
        normal_load=normal,
        tangential_load=tangential,
        inflow_angle=phi,
        alpha=geometry.twist - phi,
        reynolds=reynolds,
        mach=mach,
        induced_velocity=induced,
        swirl_velocity=swirl,
        thrust=thrust,
        torque=np.asarray(torque),
        power=np.asarray(torque * omega),
        tip_mach=np.hypot(omega * geometry.radius, climb) / sound,
        unbracketed=unbracketed,
        outside_polar=check.beyond_reynolds | check.beyond_mach,
        turbulent=turbulent,
        vortex_ring=descent.vortex_ring | descent.turbulent_wake,
        breaches=descent.breaches()
        + element_breaches(
            check,
            load=np.hypot(normal, tangential) * weights,
            unbracketed=unbracketed,
            reynolds=reynolds,
            mach=mach,
            braking=np.where(turbulent, braking, 0.0),
            swirl=swirl / np.maximum(blade_speed, TINY),
        ),
    )


def annulus_constants(
    geometry: BladeGeometry, blades: int, losses: LossModel
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Solidity B c / (2 pi r) and the arguments of the tip and the hub loss, infinite where off; [S]."""
    r, hub = geometry.r, geometry.hub_radius
    off = np.full(r.shape, np.inf)
    tip_loss = 0.5 * blades * (geometry.radius - r) / r if losses.tip else off
    hub_loss = 0.5 * blades * (r - hub) / max(hub, TINY) if losses.hub else off
    return blades * geometry.chord / (2.0 * np.pi * r), tip_loss, hub_loss


def blade_elements(
    geometry: BladeGeometry,
    blades: int,
    beta: FloatArray,
    section: Polar,
    reynolds: FloatArray,
    mach: FloatArray,
    losses: LossModel,
    edge: FloatArray | None = None,
) -> Elements:
    """All elements of all conditions in one row."""
    solidity, tip, hub = annulus_constants(geometry, blades, losses)
    solidity, twist, tip, hub = (
        np.broadcast_to(values, beta.shape).ravel() for values in (solidity, geometry.twist, tip, hub)
    )
    flat = beta.ravel()
    return Elements(
        solidity=solidity,
        twist=twist,
        beta=flat,
        sine=np.sin(flat),
        cosine=np.cos(flat),
        tip=tip,
        hub=hub,
        section=section.at(reynolds, mach).subset(np.arange(flat.size)),
        edge=None if edge is None else edge.ravel(),
    )


def element_breaches(
    check: PolarCheck,
    *,
    load: FloatArray,
    unbracketed: BoolArray,
    reynolds: FloatArray,
    mach: FloatArray,
    braking: FloatArray,
    swirl: FloatArray,
    without_state: str = NO_STATE,
) -> tuple[str, ...]:
    """One sentence for each range left by elements that matter; all [..., S], load in N.

    without_state - the sentence on those without a state, with places for their count and the total.
    """
    share = load / np.maximum(load.sum(axis=-1, keepdims=True), TINY)

    def told(bounds: Range, value: FloatArray, outside: BoolArray) -> str | None:
        matters = np.sum(share * outside, axis=-1, keepdims=True) > NEGLIGIBLE_SHARE
        found = value[outside & matters]
        return bounds.breach(found) if found.size else None

    loaded = load.sum(axis=-1) > 0.0
    trust = np.where(loaded, np.sum(share * check.confidence, axis=-1), 1.0)
    sentences = [
        without_state.format(count=int(unbracketed.sum()), total=unbracketed.size)
        if unbracketed.any()
        else None,
        told(BRAKING_RANGE, braking, braking > BRAKING_LIMIT),
        told(SWIRL_RANGE, swirl, swirl > SWIRL_LIMIT),
        told(check.reynolds_range, reynolds, check.beyond_reynolds),
        told(check.mach_range, mach, check.beyond_mach),
        CONFIDENCE_RANGE.breach(trust),
    ]
    return tuple(sentence for sentence in sentences if sentence)
