"""From conditions to loads: rotor speed for the thrust, air loads on a blade, loads at its pivot."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.air import air_at
from bladehold.blade import (
    LAG_RANGE,
    AirLoads,
    BladeBody,
    RootLoads,
    centrifugal_force,
    proof_flap_moment,
    rigid_root_loads,
)
from bladehold.rotor import (
    ADVANCE_RANGE,
    AxialSolution,
    BladeGeometry,
    Harmonics,
    Polar,
    blade_from_measures,
    blade_from_table,
    blade_moments,
    blade_polar,
    blade_shears,
    edgewise_inflow,
    excess_over_mean,
    flap_moment_harmonics,
    linear_twist_fit,
    root_shear_harmonics,
    rotor_thrust_coefficient,
    section_catalogue,
    section_polar,
    solve_for_thrust,
)
from bladehold.rotor.correction import corrected_geometry, corrected_polar
from bladehold.sheet.build import Build
from bladehold.study.conditions import Conditions, conditions_of
from bladehold.validity import Range

FloatArray = NDArray[np.float64]

PROOF = "centrifugal proof"

SHARE_RANGE = Range(
    "once-per-turn share of the flap moment",
    0.0,
    2.0,
    "",
    "the closed form has almost no mean load left to divide by; the share is held at its end",
    "own limit",
)


@dataclass(frozen=True)
class Loads:
    """Loads of all conditions, last axis C + 1: the flight conditions, then the centrifugal proof.

    thrust N, speed rad/s, torque N*m of one rotor; root - loads at one blade's pivot; hub_moment -
    largest moment of the whole rotor on its mounting, N*m; flight - 1 for flight
    conditions and 0 for the proof; breaches - ranges left on the way.
    """

    names: tuple[str, ...]
    thrust: FloatArray
    speed: FloatArray
    torque: FloatArray
    root: RootLoads
    hub_moment: FloatArray
    flight: FloatArray
    breaches: tuple[str, ...]


_SIGMAS = 1.645  # 95 % of rotors turn slower than this at the thrust they are asked for

MEASURED_RANGE = Range(
    "measured over computed speed at the thrust used",
    0.75,
    1.35,
    "",
    "the blade described is not the blade that was measured, or the speed is of another thrust or air",
    "own limit",
)


def geometry_of(build: Build) -> BladeGeometry:
    """Return the blade's aerodynamic shape as described; the blade proper begins at the pivot."""
    propeller = build.propeller
    radius, start = propeller.diameter / 2, build.hub.pivot_radius
    if propeller.stations:
        stations = propeller.stations
        return blade_from_table(
            radius=radius,
            hub_radius=start,
            r=[s.radius for s in stations],
            chord=[s.chord for s in stations],
            twist=[s.twist for s in stations],
            thickness=[s.thickness for s in stations],
            sections=tuple(s.section for s in stations),
        )
    return blade_from_measures(
        diameter=propeller.diameter,
        hub_radius=start,
        geometric_pitch=propeller.pitch,
        widest_chord=propeller.widest_chord,
        widest_fraction=propeller.widest_at,
        tip_chord=propeller.tip_chord,
        thickness_ratio=section_catalogue()[propeller.section].thickness_ratio,
        section=propeller.section,
        root_thickness=propeller.root_thickness,
    )


def blade_of(build: Build) -> tuple[BladeGeometry, Polar]:
    """Return shape and polar of the blade with what a bench run taught about them."""
    geometry, correction = geometry_of(build), build.propeller.correction
    return corrected_geometry(geometry, correction), corrected_polar(blade_polar(geometry), correction)


def body_of(build: Build) -> BladeBody:
    """Return the blade's body. Play in the clevis is not counted as relief: clamping may take it up."""
    propeller, hub = build.propeller, build.hub
    return BladeBody(
        mass=propeller.blade_mass,
        pivot_radius=hub.pivot_radius,
        balance_point=propeller.balance_point,
        folding=propeller.folding,
        upward_angle=propeller.precone,
        standing_frequency=propeller.tap_frequency,
    )


def loads_of(build: Build, thrust_scale: ArrayLike = 1.0) -> Loads:
    """Return the loads of every condition, with the thrusts used multiplied by thrust_scale [...].

    Arguments: build; thrust_scale - any shape, becomes the leading axes. Returns Loads [..., C + 1].
    Errors: ValueError from the rotor when a thrust cannot be reached, naming the condition's thrust.
    """
    conditions = conditions_of(build, thrust_scale)
    geometry, polar = blade_of(build)
    air = conditions.air
    solution = solve_for_thrust(
        geometry,
        build.propeller.blades,
        conditions.thrust,
        conditions.axial_speed,
        density=air.density,
        viscosity=air.viscosity,
        speed_of_sound=air.speed_of_sound,
        polar=polar,
    )
    flap_share, lift_share, breaches = _cyclic_shares(conditions, geometry, solution)
    measured, speed_breach = _measured_over_model(build, geometry, polar)
    pivot = build.hub.pivot_radius
    shears, moments = blade_shears(solution, pivot), blade_moments(solution, pivot)
    flying = AirLoads(
        shears.normal, shears.tangential, moments.flap, moments.lead_lag, flap_share, lift_share
    )
    # At a given thrust an error of thrust coefficient is one of speed squared; the pessimistic end is faster.
    doubt = 1.0 + _SIGMAS * build.propeller.thrust_uncertainty
    speed = solution.rotation_speed * measured * np.sqrt(doubt)
    return _with_proof(build, conditions.names, solution, speed, flying, (*breaches, speed_breach))


def _cyclic_shares(
    conditions: Conditions, geometry: BladeGeometry, solution: AxialSolution
) -> tuple[FloatArray, FloatArray, tuple[str | None, ...]]:
    """Flap moment and lift, amplitude over mean: the user's own share, else the edgewise closed form."""
    edge, axial = conditions.edge_speed, conditions.axial_speed
    tip_speed = solution.rotation_speed * geometry.radius
    advance = edge / tip_speed
    thrust_coefficient = rotor_thrust_coefficient(
        np.maximum(solution.thrust, 0.0), solution.density, solution.rotation_speed, geometry.radius
    )
    inflow = edgewise_inflow(thrust_coefficient, advance, np.arctan2(axial, edge))
    root_pitch, twist = linear_twist_fit(geometry, _zero_lift_angle(geometry))
    flap = _share(flap_moment_harmonics(advance, root_pitch, twist, inflow))
    lift = _share(root_shear_harmonics(advance, root_pitch, twist, inflow))
    forward, given = edge > 0.0, np.isfinite(conditions.own_share)
    flap = np.where(given, conditions.own_share, np.where(forward, flap, 0.0))
    lift = np.where(given, conditions.own_share, np.where(forward, lift, 0.0))
    computed = np.where(given, 0.0, flap)
    return flap, lift, (ADVANCE_RANGE.breach(np.where(given, 0.0, advance)), SHARE_RANGE.breach(computed))


def _share(load: Harmonics) -> FloatArray:
    """Peak above the mean over the mean, held at the end of SHARE_RANGE where the mean comes near zero."""
    largest = SHARE_RANGE.high or 1.0
    safe = np.where(load.mean > 0.0, load.mean, np.inf)
    share = np.where(load.mean > 0.0, excess_over_mean(load) / safe, np.inf)
    return np.asarray(np.minimum(share, 1.0001 * largest), dtype=float)


def _zero_lift_angle(geometry: BladeGeometry) -> float:
    """Angle (rad) of no lift of the blade's section at three quarters of the radius, Re 200 000."""
    angles = np.radians(np.linspace(-10.0, 5.0, 61))
    place = int(np.argmin(np.abs(geometry.r - 0.75 * geometry.radius)))
    name = geometry.sections[int(np.argmax(geometry.section_weights[place]))]
    lift, _ = section_polar(name).at(np.full(angles.shape, 2e5), np.zeros(angles.shape))(angles)
    rising = int(np.argmax(lift > 0.0))
    if rising == 0:
        return 0.0
    before, after = lift[rising - 1], lift[rising]
    return float(angles[rising - 1] + (angles[1] - angles[0]) * before / (before - after))


def _with_proof(
    build: Build,
    names: tuple[str, ...],
    solution: AxialSolution,
    speed: FloatArray,
    flying: AirLoads,
    breaches: tuple[str | None, ...],
) -> Loads:
    root = rigid_root_loads(body_of(build), flying, speed)
    fastest = _fastest(build, speed)
    amplitude = root.flap_cyclic + build.hub.pivot_radius * np.abs(flying.lift) * flying.lift_share
    blades = build.propeller.blades
    # The once-per-turn moments of three and more blades add to a steady one of half their sum; those of two
    # blades swing between nothing and their full sum twice a turn.
    hub_moment = amplitude * (blades if blades == 2 else blades / 2)
    found = [*solution.breaches, *breaches, LAG_RANGE.breach(np.degrees(root.lag_angle))]
    return Loads(
        names=(*names, PROOF),
        thrust=_append(solution.thrust, 0.0),
        speed=_append(speed, np.nan, fastest),
        torque=_append(solution.torque, 0.0),
        root=_joined(root, *_proof_loads(build, fastest)),
        hub_moment=_append(hub_moment, 0.0),
        flight=np.append(np.ones(len(names)), 0.0),
        breaches=tuple(text for text in found if text),
    )


def _fastest(build: Build, speed: FloatArray) -> FloatArray:
    """Greatest speed of turning [...]: of the conditions, or the stated one where that is greater.

    The stated one is the controller's limit. In a search for a thrust limit it goes with the conditions,
    since whoever limits the thrust limits the speed.
    """
    of_conditions = np.asarray(speed.max(axis=-1), dtype=float)
    stated = build.flying.greatest_speed
    if stated is None:
        return of_conditions
    if speed.ndim == 1:
        return np.asarray(np.maximum(of_conditions, stated), dtype=float)
    at_sheet = loads_of(replace(build, flying=replace(build.flying, greatest_speed=None))).speed.max()
    return of_conditions * max(1.0, stated / float(at_sheet))


def _proof_loads(build: Build, fastest: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Centrifugal proof load and the flap moment it brings with raised blades [...]; 14 CFR 35.35."""
    body, multiple = body_of(build), build.policy.centrifugal_proof
    force = centrifugal_force(body.mass, body.pivot_radius, body.balance_point, fastest)
    return multiple * force, proof_flap_moment(body, fastest, multiple)


def _measured_over_model(build: Build, geometry: BladeGeometry, polar: Polar) -> tuple[float, str | None]:
    """Speed measured at the thrust used over the speed the model needs for it in hover; 1 if not measured."""
    stated = build.flying.used_speed
    if stated is None:
        return 1.0, None
    air = air_at(build.air.altitude, build.air.temperature, build.air.humidity)
    model = solve_for_thrust(
        geometry,
        build.propeller.blades,
        build.flying.used_thrust,
        0.0,
        density=air.density,
        viscosity=air.viscosity,
        speed_of_sound=air.speed_of_sound,
        polar=polar,
    )
    ratio = stated / float(model.rotation_speed)
    return ratio, MEASURED_RANGE.breach(ratio)


def _append(values: FloatArray, filler: float, last: FloatArray | None = None) -> FloatArray:
    """Add one more condition at the end of the last axis."""
    end = np.full(values.shape[:-1], filler) if last is None else last
    return np.concatenate([values, end[..., np.newaxis]], axis=-1)


def _joined(flying: RootLoads, proof: FloatArray, flap: FloatArray) -> RootLoads:
    """Flight conditions followed by the proof, which pulls outward and presses raised blades down."""
    shape = flying.flap_peak.shape
    fields = {
        name: _append(np.broadcast_to(np.asarray(value, dtype=float), shape), 0.0)
        for name, value in vars(flying).items()
    }
    for name in ("centrifugal", "in_plane"):
        fields[name] = _append(np.broadcast_to(vars(flying)[name], shape), 0.0, proof)
    for name in ("flap_mean", "flap_peak"):
        fields[name] = _append(np.broadcast_to(vars(flying)[name], shape), 0.0, flap)
    return RootLoads(**fields)
